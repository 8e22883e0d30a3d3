"""Damp paper by the printer's word: a pack in, its sheets out, one sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, cast

from benchapp.decision import Refusal
from benchapp.edition import packs as damp
from benchapp.events.pack import (
    PackEvent,
    PackSheetBack,
    PackSheetDried,
    PackSheetOut,
    PackSheetSprayed,
)
from benchapp.session.actions.asking import (
    AskContext,
    ChoiceQuestion,
    LineQuestion,
    Reply,
    check_count,
)
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine, choose_word
from benchapp.session.actions.typed_names import read_number
from benchapp.session.auto_steps import draft_auto_steps
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT
from benchapp.session.context import SessionContext, wrong_count
from benchapp.session.next_steps import next_pack_size, pack_id
from benchapp.session.paper import draft_take_out, put_in
from benchapp.session.state import TaskKey

__all__ = ["DampPack", "MoveSheet", "SheetsOut"]

Move = Literal["out", "back", "sprayed", "dried"]
#: What can become of one sheet, in words; its key is its place here.
_MOVES: Final[dict[Move, str]] = {
    "out": "out of its pack", "back": "back in its pack", "sprayed": "sprayed",
    "dried": "dried unprinted"}


@dataclass(frozen=True, slots=True)
class DampPack(Action):
    """A pack went in now, of so many sheets; None: not counted."""

    sheets: int | None = None


@dataclass(frozen=True, slots=True)
class SheetsOut(Action):
    """The sheets are out of the water now: of the pack named, or the oldest there."""

    pack: str | None = None


@dataclass(frozen=True, slots=True)
class MoveSheet(Action):
    """A sheet out of its pack, back in it, sprayed, or dried unprinted."""

    what: Move
    pack: str | None = None


def _then_settle(page: SessionContext, refusal: Refusal | None) -> Refusal | None:
    if refusal is None:
        draft_auto_steps(page)
    return refusal


def _say_damped(page: SessionContext, action: DampPack) -> Refusal | None:
    wrong = wrong_count(action.sheets, "sheets", "write: damped 6")
    if wrong is not None:
        return wrong
    return _then_settle(page, _put_pack_in(page, action.sheets))


def _say_out(page: SessionContext, action: SheetsOut) -> Refusal | None:
    return _then_settle(page, _take_sheets_out(page, action))


def _move_sheet(page: SessionContext, action: MoveSheet) -> Refusal | None:
    return _then_settle(page, _one_sheet(page, action))


def _put_pack_in(page: SessionContext, sheets: int | None) -> Refusal | None:
    """The printer says that a pack went in now."""
    if page.s.shape.paper_name is None:
        return Refusal("This recipe does not damp its paper", "use the sheets as they are")
    hand = page.s.hand
    key = hand if hand is not None and hand.step == DAMP_IN else TaskKey(DAMP_IN,
                                                                         pack=pack_id(page.s))
    count = sheets if sheets is not None else next_pack_size(page.state, page.s, page.t).sheets
    put_in(page, str(key.pack), count)
    page.finish(key, "done" if key == hand else "passed")
    return None


def _take_sheets_out(page: SessionContext, action: SheetsOut) -> Refusal | None:
    """The printer says that the sheets of a pack are out now."""
    water = damp.in_water(page.state.packs, page.t)
    pack = next((p for p in water if action.pack in (None, p.id)), None)
    if pack is None:
        return Refusal("No pack is in the water", "say damped when one goes in")
    key = TaskKey(DAMP_OUT, pack=pack.id)
    draft_take_out(page, pack.id)
    page.finish(key, "done" if page.s.running(key) else "passed")
    return None


def _one_sheet(page: SessionContext, action: MoveSheet) -> Refusal | None:
    """The printer says what became of one sheet."""
    packs = damp.of_paper(page.state.packs, page.s.shape.paper_name or "", page.t)
    if action.what == "out":
        fits = [p for p in packs if p.where(page.t) in ("ready", "resting")]
        refusal = Refusal("No pack is out of the water", "say out when the sheets are")
    else:
        name = page.s.shape.paper_name
        fits = [p for p in page.state.packs.values() if p.open and p.paper == name]
        refusal = Refusal("No sheet is out of its pack", "say sheet out when you take one")
    pack = next((p for p in fits if action.pack in (None, p.id)), None)
    if pack is None:
        return refusal
    page.emit_to(f"pack/{pack.id}", _sheet_moved(action, pack.id, page.sid))
    return None


def _sheet_moved(action: MoveSheet, pack: str, by: str) -> PackEvent:
    match action.what:
        case "out":
            return PackSheetOut(pack=pack, by=by, impression=None, lay_open=False)
        case "back":
            return PackSheetBack(pack=pack, by=by)
        case "sprayed":
            return PackSheetSprayed(pack=pack, by=by)
        case "dried":
            return PackSheetDried(pack=pack, by=by)


# -- what the keys ask, and what the words take ---------------------------------------------


def _ask_damped(ask: AskContext) -> Reply:
    """How many sheets went in."""
    size = next_pack_size(ask.room, ask.s, ask.t).sheets
    return ask.why_not(DampPack()) or LineQuestion(
        "Sheets that went in", lambda text: DampPack(int(text) if text else None),
        about="empty: not counted", value="" if size is None else str(size), check=check_count,
        empty=True)


def _ask_sheet(ask: AskContext) -> Reply:
    """What became of one damp sheet."""
    moves = ask.possible([MoveSheet(what) for what in _MOVES])
    return ChoiceQuestion(
        "One sheet", [(_MOVES[m.what] + ask.ends_early(m), m) for m in moves],
        none="No damp sheet is out of the water",
        keys=[str(1 + [*_MOVES].index(m.what)) for m in moves])


def _read_sheet(ears: ParseContext, rest: str) -> ParsedLine:
    if not rest:
        raise NotUnderstood("What happened to the sheet? Write: sheet out, back, sprayed or dried")
    return ParsedLine(MoveSheet(cast(Move, choose_word(rest, (*_MOVES,), "sheet word"))))


SPECS: Final = (
    ActionSpec("damped", (Rule(DampPack, _say_damped),),
               "A pack went in", "[SHEETS]", key="a", use=29,
               tries=lambda room, s, now: [DampPack()], asks=_ask_damped,
               reads=lambda ears, rest: ParsedLine(
                   DampPack(read_number(rest, "damped") if rest else None))),
    ActionSpec("out", (Rule(SheetsOut, _say_out),),
               "The sheets are out of the water", key="u", makes=SheetsOut(),
               use=8, early=": soak cut short"),
    ActionSpec("sheet", (Rule(MoveSheet, _move_sheet),),
               "A sheet: out of its pack, back, sprayed, dried",
               "out|back|sprayed|dried", key="y", use=27,
               tries=lambda room, s, now: map(MoveSheet, _MOVES), asks=_ask_sheet,
               reads=_read_sheet),
)
