"""A planned day begun: the session opened with the number, the packs and the helper planned."""

from __future__ import annotations

from benchapp.events.moments import local_time
from benchapp.files import keep_breaks, keep_guess
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import DayQuestion
from benchapp.recipe.edits import change_values
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.opening import Opening
from benchapp.screens.page_base import PageBase
from benchapp.screens.pick import Pick
from benchapp.screens.plan_window import asked_pack_size, break_words, counting_of
from benchapp.service.outcome import Outcome
from benchapp.session import actions as a
from benchapp.session.counting import target_count


def begin_session(screen: PageBase, asked: DayQuestion, told: PlannedDay | None, name: str,
                  text: str) -> None:
    """Lay its set-up card over; asked first where another day was planned."""
    desk = screen.desk
    if not name or not text:
        desk.say(SafeText("A day begins in the Studio. Choose the recipe there."),
                 severity="warning")
        return
    on = asked.zero.on
    if on == local_time(desk.now()).date():
        _open(screen, asked, told, name, text)
        return

    def take(place: int | None) -> None:
        if place == 0:
            _open(screen, asked, told, name, text)

    desk.push_screen(Pick(
        sanitize(f"This plan is for {on:%A} {on.day} {on:%B}. Begin now?"),
        (SafeText("begin now, with what was planned"),), by_number=True), take)


def take_over(screen: PageBase, asked: DayQuestion, session: str) -> None:
    """What was planned for a session at work holds for it: the number wanted, and its breaks."""
    desk = screen.desk
    s = desk.workshop.room.sessions.get(session)
    if s is None or s.closed is not None:
        return
    keep_breaks(session, asked.breaks)
    keep_guess(session, asked.each_ms)
    desk.taken_over += 1
    said = [f"break {break_words(x)}" for x in asked.breaks] or ["no break"]
    if asked.wanted is not None and asked.wanted != target_count(s):
        outcome = desk.do(a.SetWanted(asked.wanted), session=session, gated=True)
        screen.tell(outcome)
        if not outcome.ok:
            return
        said.insert(0, f"wanted {asked.wanted}")
    screen.dismiss(None)
    # Said now it would stand on the screen that goes away.
    desk.call_after_refresh(desk.say, sanitize(f"As planned: {', '.join(said)}."))


def _open(screen: PageBase, asked: DayQuestion, told: PlannedDay | None, name: str,
          text: str) -> None:
    desk = screen.desk
    wanted = _wanted(asked, told)
    text, packed = _packed(asked, text)
    refusal = desk.workshop.refuses_to_open(name, text)
    if refusal is not None:
        screen.tell(Outcome(refusal=refusal))
        return
    said = [] if wanted is None else [f"wanted {wanted}"]
    said += [packed] if packed else []
    said += ["the helper is in"] if asked.helper else []
    desk.over("set-up", opening=Opening(
        name, text, wanted, helper=asked.helper, breaks=tuple(asked.breaks), each_ms=asked.each_ms,
        planned=f"As planned: {', '.join(said)}." if said else ""))


def _wanted(asked: DayQuestion, told: PlannedDay | None) -> int | None:
    """The number wanted; where none was said, those that count of the pulls that fit."""
    if asked.wanted is not None or told is None or told.fit is None:
        return asked.wanted
    most = told.fit.fits if told.most is None else min(told.fit.fits, told.most.pulls)
    return counting_of(asked.recipe, most) or None


def _packed(asked: DayQuestion, text: str) -> tuple[str, str]:
    """The recipe's text for this day with the packs planned, and what to say of it."""
    if asked.pack is None or asked.pack == asked_pack_size(DayQuestion(asked.recipe, asked.zero)):
        return text, ""
    size = str(asked.pack)
    papers = len(asked.recipe.papers)
    paths = ["paper.damp.pack", *(f"papers.{n}.damp.pack" for n in range(1, papers + 1))]
    try:
        changed = change_values(text, dict.fromkeys(paths, size))
        kept = read_recipe(changed).paper
    except (RecipeError, ValueError):
        return text, ""
    if kept is None or kept.damp is None or kept.damp.pack != asked.pack:
        return text, f"packs of {size}: say the number when they go in"
    return changed, f"packs of {size}, for this day alone"
