"""What the Studio begins with a clock: a pack that is damped, and a clock without a session."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from benchapp.quantities import QuantityError, point_for_comma, read_duration
from benchapp.recipe.model import Recipe
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask

if TYPE_CHECKING:
    from benchapp.screens.page_base import FollowingPage

_NAME: Final = SafeText("What is the clock for?")
_FOR: Final = SafeText("such as varnish, or blotters; empty: clock")
_HOW_LONG: Final = SafeText("such as 90 s, 12 min or 1 h")
_WHOSE: Final = SafeText("Choose the recipe first, to damp its paper.")
_DAMPED: Final = SafeText("Recorded: you find it under In the water and damp.")


def ask_clock(screen: FollowingPage) -> None:
    """Ask name and time, and start a clock that calls on every screen."""
    def timed(name: str, text: str) -> str | None:
        ms = read_duration(point_for_comma(text)).ms
        refusal = screen.done(lambda: screen.workshop.start_timer(name, ms)).refusal
        screen.again()
        return None if refusal is None else str(refusal)

    def named(name: str | None) -> None:
        if name is not None:
            screen.app.push_screen(
                Ask(sanitize(f"{name or 'clock'}: for how long"), hint=_HOW_LONG, check=_wrong,
                    do=lambda text: timed(name, text)))

    screen.app.push_screen(Ask(_NAME, hint=_FOR, empty=True), named)


def ask_stop(screen: FollowingPage, timer: str) -> None:
    """Stop a clock, asked first: one that is stopped is not there any more."""
    known = screen.workshop.room.timers.get(timer)

    def take(place: int | None) -> None:
        if place is not None:
            screen.attempt(lambda: screen.workshop.end_timer(timer))
            screen.again()

    if known is not None:
        screen.app.push_screen(Pick(sanitize(f"Stop the clock {known.name}?"),
                                    (SafeText("stop it"),),
                                    by_number=True, later="let it run"), take)


def ask_damping(screen: FollowingPage, recipe: Recipe | None) -> None:
    """Ask how many sheets of a recipe's paper go in now, for no session."""
    if recipe is None:
        screen.desk.say(_WHOSE)
        return
    paper = next((p for p in recipe.papers if p.damp is not None), None)
    usual = "" if paper is None or paper.damp is None or paper.damp.pack is None else str(
        paper.damp.pack)

    def do(text: str) -> str | None:
        sheets = int(text) if text else None
        refusal = screen.done(lambda: screen.workshop.damp_pack(recipe, sheets)).refusal
        if refusal is None:
            screen.desk.say(_DAMPED)
        screen.again()
        return None if refusal is None else str(refusal)

    if paper is None:
        screen.attempt(lambda: screen.workshop.damp_pack(recipe, None))
        return
    screen.app.push_screen(Ask(sanitize(f"How many sheets go in now for {recipe.print.title}?"),
                               hint=sanitize(f"{paper.name or 'its paper'}; leave it empty "
                                            "if you did not count"),
                               value=usual, check=_sheets, do=do))


def _wrong(text: str) -> str | None:
    try:
        long_enough = read_duration(point_for_comma(text)).ms > 0
    except QuantityError as error:
        return str(error)
    return None if long_enough else "0 is not a time; write such as 12 min"


def _sheets(text: str) -> str | None:
    if not text or (text.isascii() and text.isdigit() and 0 < int(text) <= 999):
        return None
    return "write a whole number from 1 up, or leave it empty"
