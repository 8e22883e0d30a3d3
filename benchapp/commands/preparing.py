"""The command that prepares a day: for so many wanted, what to tear, damp, mix and turn."""

from __future__ import annotations

from benchapp.book.queries import sessions_of
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    WHY_SAID,
    Arguments,
    WrongUse,
    read_book,
    recipe_text,
    say,
    say_json,
)
from benchapp.edition.packs import sheets_left
from benchapp.history.stats import learn_stats
from benchapp.planning.checklist import make_checklist as prepared
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.errors import ReckonError
from benchapp.reports.checklist import prepare_json, prepare_text
from benchapp.service.editions import EditionService
from benchapp.service.stock import StockService
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.fold import replay_entries


def show_checklist(arguments: Arguments) -> int:
    """Say what a day for so many wanted asks for; nothing is written."""
    _, text = recipe_text(arguments.recipe)
    recipe = read_recipe(text)
    name = CompiledRecipe(recipe).paper_name
    with read_book(arguments) as book:
        learnt = learn_stats(sessions_of(book, recipe.print))
        register = EditionService(book, SystemClock()).register
        stock = StockService(book, SystemClock(), (recipe,)).left()
        room = replay_entries(book.entries(streams=book.streams("pack")))
    damp = 0 if name is None else sheets_left(
        room.packs, name, room.t_at(SystemClock().now())) or 0
    try:
        found = prepared(recipe, learnt, arguments.wanted, sure=arguments.sure, damp_already=damp,
                         register=register, stock=stock)
    except ReckonError as error:
        raise WrongUse(str(error)) from None
    if arguments.json:
        say_json("prepare/1", prepare_json(found))
    else:
        say(*prepare_text(found, why=arguments.why), *([] if arguments.why else [WHY_SAID]))
    return 0
