"""A planned day begun: the session opened with the number, the packs and the helper planned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchapp.files import keep_breaks, keep_guess
from benchapp.moments import local
from benchapp.papers.plan_asked import Asked
from benchapp.papers.plan_day import DayTold
from benchapp.recipe.edits import change
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read
from benchapp.screens.pick import Pick
from benchapp.screens.plan_window import break_words, counting_of, pack_size
from benchapp.session import actions as a
from benchapp.session.counting import target
from benchapp.shown import Shown, visible

if TYPE_CHECKING:
    from benchapp.screens.plan import PlanScreen


def begin(screen: PlanScreen, asked: Asked, told: DayTold | None, name: str, text: str) -> None:
    """Open the session; asked first where another day was planned."""
    desk = screen.desk
    if not name or not text:
        desk.say(Shown("Begin it in the Studio: choose the recipe there."), severity="warning")
        return
    on = asked.zero.on
    if on == local(desk.now()).date():
        _open(screen, asked, told, name, text)
        return

    def take(place: int | None) -> None:
        if place == 0:
            _open(screen, asked, told, name, text)

    desk.push_screen(Pick(
        visible(f"It is planned for {on:%A} {on.day} {on:%B}. Begin now?"),
        (Shown("begin now, with what was planned"),), by_number=True), take)


def take_over(screen: PlanScreen, asked: Asked, session: str) -> None:
    """What was planned for a session at work holds for it: the number wanted, and its breaks."""
    desk = screen.desk
    s = desk.workshop.room.sessions.get(session)
    if s is None or s.closed is not None:
        return
    keep_breaks(session, asked.breaks)
    keep_guess(session, asked.each_ms)
    desk.taken_over += 1
    said = [f"break {break_words(x)}" for x in asked.breaks] or ["no break"]
    if asked.wanted is not None and asked.wanted != target(s):
        outcome = desk.do(a.Wanted(asked.wanted), session=session, gated=True)
        screen.tell(outcome)
        if not outcome.ok:
            return
        said.insert(0, f"wanted {asked.wanted}")
    screen.dismiss(None)
    # Said now it would stand on the screen that goes away.
    desk.call_after_refresh(desk.say, visible(f"As planned: {', '.join(said)}."))


def _open(screen: PlanScreen, asked: Asked, told: DayTold | None, name: str, text: str) -> None:
    desk = screen.desk
    wanted = _wanted(asked, told)
    text, packed = _packed(asked, text)
    if not screen.attempt(lambda: desk.workshop.open_session(name, text, wanted)).ok:
        return
    opened = desk.workshop.room.session
    if opened is not None and asked.breaks:
        keep_breaks(opened.id, asked.breaks)
    if opened is not None:
        keep_guess(opened.id, asked.each_ms)
    said = [] if wanted is None else [f"wanted {wanted}"]
    said += [packed] if packed else []
    if asked.helper and desk.do(a.Helper(joins=True)).ok:
        said.append("the helper is in")
    desk.go("bench")
    desk.over("set-up")
    if said:
        desk.say(visible(f"As planned: {', '.join(said)}."))


def _wanted(asked: Asked, told: DayTold | None) -> int | None:
    """The number wanted; where none was said, those that count of the pulls that fit."""
    if asked.wanted is not None or told is None or told.fit is None:
        return asked.wanted
    most = told.fit.fits if told.most is None else min(told.fit.fits, told.most.pulls)
    return counting_of(asked.recipe, most) or None


def _packed(asked: Asked, text: str) -> tuple[str, str]:
    """The recipe's text for this day with the packs planned, and what to say of it."""
    if asked.pack is None or asked.pack == pack_size(Asked(asked.recipe, asked.zero)):
        return text, ""
    size = str(asked.pack)
    papers = len(asked.recipe.papers)
    paths = ["paper.damp.pack", *(f"papers.{n}.damp.pack" for n in range(1, papers + 1))]
    try:
        changed = change(text, dict.fromkeys(paths, size))
        kept = read(changed).paper
    except (RecipeError, ValueError):
        return text, ""
    if kept is None or kept.damp is None or kept.damp.pack != asked.pack:
        return text, f"packs of {size}: say the number when they go in"
    return changed, f"packs of {size}, for this day alone"
