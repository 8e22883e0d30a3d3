"""The command of the stock: what there is, what was used, what is left and what to order."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    read_book,
    say,
    say_json,
    write_book,
)
from benchapp.commands.resolve import accept_answer
from benchapp.quantities import QuantityError
from benchapp.recipe.model import Recipe
from benchapp.reports.stock import ThingReport, history_lines, stock_lines, stock_report
from benchapp.screens.shelf import shelf_recipes
from benchapp.service.stock import StockService
from benchapp.stock.actions import Action, CorrectCount, Count, Mistaken, MixBatch
from benchapp.stock.names import item_key, matching_names, nearest_names
from benchapp.stock.parse import read_amount, read_parts, split_amount

#: The answer to "what was it?" where it never was.
_NONE: Final = "none"


def run_stock_command(arguments: Arguments) -> int:
    """Do what the word after `stock` says; without one, list it."""
    if arguments.word in _ACTIONS:
        with write_book(arguments) as book:
            stock = StockService(book, SystemClock(), _recipes())
            action = _ACTIONS[arguments.word](stock, arguments)
            accept_answer(stock.do(action))
            _show(stock, arguments, action.item)
        return 0
    with read_book(arguments) as book:
        stock = StockService(book, SystemClock(), _recipes())
        if arguments.word == "history":
            item = _meant(stock.stock.names(), " ".join(arguments.words))
            if arguments.json:
                _show(stock, arguments, item)
            else:
                say(item, *(f"  {x}" for x in history_lines(stock.stock, item)))
        else:
            _show(stock, arguments)
    return 0


def _recipes() -> list[Recipe]:
    return [x.recipe for x in shelf_recipes() if x.recipe is not None]


def _show(stock: StockService, arguments: Arguments, item: str | None = None) -> None:
    found = [x for x in stock.left() if item is None or item_key(x.item) == item_key(item)]
    if arguments.json:
        say_json(ThingReport.FORMAT, stock_report(found))
    else:
        say(*(stock_lines(found) or [
            "Nothing has been counted yet. Count a paper: benchapp stock count NAME 40 sheets"]))


def _count(stock: StockService, arguments: Arguments) -> Action:
    name, said = split_amount(" ".join(arguments.words))
    if not said:
        raise WrongUse(f"How much of {name}? Write such as: benchapp stock count NAME 40 sheets")
    amount, unit = _amount(said)
    return Count(_thing(stock, name, new=arguments.new), amount, unit, arguments.lot, arguments.on)


def _correct(stock: StockService, arguments: Arguments) -> Action:
    if arguments.why is None:
        raise WrongUse("Say what was wrong: --why WORDS")
    *name, last = arguments.words
    if last.casefold() == _NONE and name:
        return Mistaken(_meant(stock.stock.names(), " ".join(name)), arguments.why, arguments.lot)
    said, amount = split_amount(" ".join(arguments.words))
    if not amount:
        raise WrongUse(f"What was the count of {said}? Write it, or none if you never counted it")
    figure, unit = _amount(amount)
    return CorrectCount(_meant(stock.stock.names(), said), figure, unit, arguments.why,
                        arguments.lot)


def _mix(stock: StockService, arguments: Arguments) -> Action:
    try:
        said = read_parts(arguments.parts)
    except QuantityError as error:
        raise WrongUse(str(error)) from None
    parts = [(_thing(stock, name, new=arguments.new), mg) for name, mg in said]
    return MixBatch(arguments.batch, tuple(parts), arguments.note, arguments.on)


_ACTIONS: Final[dict[str, Callable[[StockService, Arguments], Action]]] = {
    "count": _count, "correct": _correct, "mix": _mix}


def _amount(said: str) -> tuple[int, str]:
    try:
        return read_amount(said)
    except QuantityError as error:
        raise WrongUse(str(error)) from None


def _thing(stock: StockService, said: str, *, new: bool) -> str:
    """What is counted: known from the stock or from recipes, or a new thing that is meant so."""
    known = stock.known_names()
    if new:
        return next((x for x in known if item_key(x) == item_key(said)), said)
    return _meant(known, said, "\nIf it is a new thing, add --new.")


def _meant(known: Iterable[str], said: str, or_else: str = "") -> str:
    """The one thing that is meant by a name.

    Raises:
        WrongUse: None is called so, or several may be meant.
        Refused: There is none at all.
    """
    names = list(known)
    found = matching_names(said, names)
    if len(found) == 1:
        return found[0]
    if found:
        raise WrongUse(f"{said} may be several things: {'; '.join(found)}. Write more of its name")
    if not names:
        raise Refused(f"Nothing has been counted yet{or_else}")
    near = nearest_names(said, names)
    offer = f"did you mean {' or '.join(near)}?" if near else "list what there is: benchapp stock"
    raise WrongUse(f"Nothing is called {said}; {offer}{or_else}")
