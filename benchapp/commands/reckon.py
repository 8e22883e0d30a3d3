"""The command that answers one question of the day's arithmetic, from figures or from a recipe."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from importlib import import_module
from typing import Any, Final

from benchapp.book.queries import sessions_of
from benchapp.commands.context import (
    WHY_SAID,
    Arguments,
    WrongUse,
    read_book,
    recipe_text,
    say,
    say_json,
    warn,
)
from benchapp.history.stats import Learnt, learn_stats
from benchapp.recipe.hazards import BY_KEY, MAGNESIA
from benchapp.recipe.model import Recipe
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.answer import Answer
from benchapp.reckon.errors import ReckonError

#: Where each question is answered; its module is imported only when it is asked.
_ASKED: Final = {
    "tear": "reckon_paper", "sheets": "reckon_paper", "damp": "reckon_paper",
    "soak": "reckon_paper", "ink": "reckon_bench", "press": "reckon_bench",
    "weight": "reckon_bench", "bite": "reckon_plate", "strip": "reckon_plate",
    "strength": "reckon_plate",
}


@dataclass(frozen=True, slots=True)
class ToldAnswer:
    """One answer, of what, and what follows from it.

    Attributes:
        more: Further answers by the name they have in JSON.
        figures: Numbers beside the answer's own, in JSON.
    """

    answer: Answer
    of: str = ""
    more: Mapping[str, Answer] = field(default_factory=dict)
    figures: Mapping[str, Any] = field(default_factory=dict)


def answer_question(arguments: Arguments) -> int:
    """Answer the question asked; 2 where a figure of it will not do."""
    answer: Callable[[Arguments], list[ToldAnswer]] = getattr(
        import_module(f"benchapp.commands.{_ASKED[arguments.what]}"), f"answer_{arguments.what}")
    try:
        told = answer(arguments)
    except ReckonError as error:
        raise WrongUse(str(error)) from None
    cautions = _cautions(arguments.what, told)
    if arguments.json:
        said = {"cautions": cautions} if cautions else {}
        say_json("reckon/1", {**answers_document(told), **said})
    else:
        say(*answers_text(told, why=arguments.why), *(f"! {caution}" for caution in cautions))
    return 0


def _cautions(what: str, told: Iterable[ToldAnswer]) -> list[str]:
    """One line of what hurts where the answer is put to use: at the press, the bath, over ink."""
    if what == "press":
        return [BY_KEY["nip"].full]
    if _ASKED[what] == "reckon_plate":
        return [BY_KEY["etchant"].full]
    if what != "ink":
        return []
    inputs = [given.name for each in told for answer in (each.answer, *each.more.values())
              for given in answer.inputs]
    return [MAGNESIA if any("magnesi" in name.lower() for name in inputs) else BY_KEY["dust"].full]


def answers_document(told: Iterable[ToldAnswer]) -> dict[str, Any]:
    """The first answer; those of further inks, papers or plates under `others`."""
    first, *others = [_one(each) for each in told]
    return {**first, "others": others} if others else first


def _one(told: ToldAnswer) -> dict[str, Any]:
    of = {"of": told.of} if told.of else {}
    more = {name: answer.json() for name, answer in told.more.items()}
    return {**told.answer.json(), **of, **told.figures, **more}


def answers_text(told: Iterable[ToldAnswer], *, why: bool) -> list[str]:
    """Each answer with what follows from it, under the name of what it is about.

    Args:
        told: The answers.
        why: With every figure they rest on; else it is said how to see them.
    """
    lines: list[str] = []
    for each in told:
        lines += [""] if lines else []
        first, *rest = each.answer.lines(why=why)
        lines += [f"{each.of}: {first}" if each.of else first, *rest]
        for answer in each.more.values():
            lines += answer.lines(why=why)
    return lines if why else [*lines, WHY_SAID]


def of_recipe(arguments: Arguments) -> tuple[Recipe, Learnt]:
    """The recipe named, and what the sessions of its print taught.

    Raises:
        FileProblem: There is no such recipe.
        Refused: It has problems.
        BookError: The book cannot be read.
    """
    _, recipe_as_written = recipe_text(arguments.recipe)
    recipe = read_recipe(recipe_as_written)
    with read_book(arguments) as book:
        learnt = learn_stats(sessions_of(book, recipe.print))
    for doubt in learnt.doubts:
        warn(f"left out: {doubt}")
    return recipe, learnt


def require_options(arguments: Arguments, *flags: str) -> None:
    """Go on only where all these options were given.

    Raises:
        WrongUse: One is missing; the message names all that are.
    """
    missing = [flag for flag in flags if getattr(arguments, option_dest(flag)) in (None, [])]
    if missing:
        raise WrongUse(f"benchapp reckon {arguments.what} needs {' and '.join(missing)}; "
                       f"benchapp reckon {arguments.what} --help says how")


def refuse_options(arguments: Arguments, beside: str, *flags: str) -> None:
    """Go on only where none of these options was given: they would be overheard.

    Raises:
        WrongUse: One was given beside what `beside` names.
    """
    given = [flag for flag in flags
             if getattr(arguments, option_dest(flag)) not in (None, [], False)]
    if given:
        raise WrongUse(f"{' and '.join(given)} cannot be used with {beside}: leave one of them out")


def option_dest(flag: str) -> str:
    """The name an option's value has among the arguments."""
    return flag.lstrip("-").replace("-", "_")
