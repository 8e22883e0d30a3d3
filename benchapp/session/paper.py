"""Damp paper at the bench: packs in and out, and the sheet an impression takes."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.decision import Refusal
from benchapp.edition import packs as damp
from benchapp.edition.packs import Pack
from benchapp.events.impression import SheetTaken
from benchapp.events.pack import PackOut, PackPutAway, PackPutIn, PackSheetBack, PackSheetOut
from benchapp.recipe.model import Step
from benchapp.session.context import SessionContext
from benchapp.session.next_steps import lacks_paper
from benchapp.session.room_facts import LEFT_OVER, fact_of, paper_of_step
from benchapp.session.sheet_asked import OF_NO_PACK, UNREADY, sheet_answers
from benchapp.session.state import Impression, TaskKey


def put_in(page: SessionContext, pack: str, sheets: int | None) -> None:
    """Draft that a pack went in; where there is no water in it, its sheets are out at once."""
    shape = page.s.shape
    paper = shape.damped
    if paper is None or paper.damp is None or shape.paper_name is None:
        return
    d = paper.damp
    page.emit_to(f"pack/{pack}", PackPutIn(
        pack=pack, paper=shape.paper_name, sheets=sheets, method=d.method,
        soak_ms=None if d.soak is None else d.soak.ms,
        rest_ms=None if d.rest is None else d.rest.ms,
        keeps_ms=None if d.keeps is None else d.keeps.ms, by=page.sid))
    if not d.in_water:
        draft_take_out(page, pack)


def draft_take_out(page: SessionContext, pack: str) -> None:
    """Draft that the sheets of a pack are out of the water."""
    page.emit_to(f"pack/{pack}", PackOut(pack=pack, by=page.sid))


def take_sheet(page: SessionContext, ordinal: int) -> None:
    """Give the impression a sheet: one lying open, else of the oldest ready pack, else none."""
    imp, name = page.s.impression(ordinal), page.s.shape.paper_name
    if imp is None or imp.sheets or name is None:
        return
    packs = damp.of_paper(page.state.packs, name, page.t)
    lying = next((p for p in page.state.packs.values() if p.paper == name and p.open), None)
    pack = lying or next((p for p in packs if p.where(page.t) == "ready"), None)
    if pack is not None:
        take_from(page, ordinal, pack)


def take_from(page: SessionContext, ordinal: int, pack: Pack) -> None:
    """Give the impression a sheet of that pack, first one of it that lies open."""
    page.emit(SheetTaken(impression=ordinal, pack=pack.id))
    page.emit_to(f"pack/{pack.id}", PackSheetOut(
        pack=pack.id, by=page.sid, impression=ordinal, lay_open=bool(pack.open)))


def answer_sheet(page: SessionContext, answer: str) -> Refusal | None:
    """The printer says which sheet the step in hand takes, where no pack is ready."""
    s, key = page.s, page.s.hand
    answers = sheet_answers(page.state, s, page.t)
    if key is None or key.impression is None or answer not in answers:
        facts = ", ".join(f"{i} {fact}" for i, fact in enumerate(answers, 1))
        return Refusal(f"{answer} is not one of the answers", f"say {facts}", answers)
    pack = lacks_paper(page.state, s, key, page.t)
    if answer == UNREADY and pack is not None:
        take_from(page, key.impression, pack)
    else:
        page.emit(SheetTaken(impression=key.impression, pack=None, damp=OF_NO_PACK[answer]))
    return None


def packs_of_try(page: SessionContext, imp: Impression) -> tuple[str, ...]:
    """The packs that the sheet of a try can go back into: those not put away meanwhile."""
    packs = (page.state.packs.get(pack) for pack in imp.sheets if pack is not None)
    return tuple(p.id for p in packs if p is not None and p.away is None)


def give_back(page: SessionContext, ordinal: int, packs: Iterable[str]) -> None:
    """Draft that the sheet of a try given up went back into its pack."""
    for pack in packs:
        page.emit_to(f"pack/{pack}", PackSheetBack(pack=pack, by=page.sid, impression=ordinal))


def put_away(page: SessionContext, step: Step, fact: str) -> None:
    """The left-over sheets of a step's paper, as answered: dried or none left; wrapped ones stay.

    Packs of another open session stay too, where it asks about them itself.
    """
    paper, question = paper_of_step(page.s, step), fact_of(page.s, step)
    if fact == "wrapped" or paper is None or set(step.must) != LEFT_OVER:
        return
    others = {s.id for s in page.state.open_sessions if s.id != page.sid and any(
        fact_of(s, x) == question and not s.done(TaskKey(x.id)) for x in s.recipe.after)}
    for pack in damp.of_paper(page.state.packs, paper, page.t):
        if pack.by not in others:
            page.emit_to(f"pack/{pack.id}", PackPutAway(pack=pack.id, how=fact, by=page.sid))
