"""The command that damps paper for tomorrow, without a session."""

from __future__ import annotations

from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    read_book,
    recipe_text,
    say,
    write_book,
)
from benchapp.decision import Refusal
from benchapp.events.moments import local_time
from benchapp.quantities import items_text, minutes_text
from benchapp.recipe.reader import read_recipe
from benchapp.service.sessions import SessionService
from benchapp.session import damping
from benchapp.session.fold import replay_entries
from benchapp.views.messages import describe_change
from benchapp.views.studio import PackView, studio_view


def start_damping(arguments: Arguments) -> int:
    """Damp a pack of a recipe's paper now; without a recipe list the packs there are."""
    if arguments.recipe is None:
        if arguments.sheets is not None:
            raise WrongUse("Name the recipe: benchapp damp RECIPE --sheets N")
        return _list(arguments)
    _, text = recipe_text(arguments.recipe)
    recipe = read_recipe(text)
    tried = damping.damp_pack(recipe, "damped", arguments.sheets)
    if isinstance(tried, Refusal):  # before a book is made for nothing
        raise Refused(str(tried))
    with write_book(arguments) as book:
        workshop = SessionService(book, SystemClock())
        before = workshop.room
        outcome = workshop.damp_pack(recipe, arguments.sheets)
        if outcome.refusal is not None:
            raise Refused(str(outcome.refusal))
        said = describe_change(before, workshop.room, outcome.entries)
    say(*said, "It is counted as damp paper in whatever session prints on this paper next.")
    return 0


def _list(arguments: Arguments) -> int:
    with read_book(arguments) as book:
        room = replay_entries(book.entries(streams=book.streams("pack")))
    packs = studio_view(room, SystemClock().now()).in_water
    say(*map(_pack, packs) if packs else ("No paper is damp",))
    return 0


def _pack(pack: PackView) -> str:
    sheets = "sheets not counted" if pack.sheets is None else items_text(pack.sheets, "sheet")
    since = local_time(pack.since).strftime("%Y-%m-%d %H:%M")
    over = "" if pack.ready_ms is None else (
        f" · {minutes_text(pack.ready_ms)} to go" if pack.ready_ms > 0 else " · time is up"
        if pack.where == "in the water" else "")
    old = " · look; if it smells musty, throw the paper away" if pack.too_old else ""
    return f"{pack.paper} · {sheets} · {pack.where} since {since}{over}{old}"
