"""The commands about recipes: write a new one, say what is wrong with one."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Mapping
from typing import Final

from benchapp import files
from benchapp.book import BookError
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    problems_text,
    read_book,
    recipe_bytes,
    recipe_text,
    say,
    say_json,
    session_row,
    warn,
)
from benchapp.planning.plate_wear import PlateWear, given_by_plates, wear_of, wear_sentences
from benchapp.recipe.model import Recipe
from benchapp.recipe.problems import Problem, RecipeError
from benchapp.recipe.questions import QUESTIONS, RecipeQuestion, shown_answers
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.treads import treads_per_impression, treads_words
from benchapp.recipe.warnings import recipe_warnings
from benchapp.recipe.writer import new_text, recipe_like
from benchapp.reports.checklist import plate_wear_json
from benchapp.safe_text import why_refused
from benchapp.service.editions import EditionService
from benchapp.session.cancelling import cancelled_for, only_proof_words

#: Typed for an answer that is to stay empty although one is shown.
_EMPTY: Final = "-"
_NAME: Final = re.compile(r"[\w][\w .-]{0,60}")


def new_recipe(arguments: Arguments) -> int:
    """Write NAME.yaml among the printer's recipes, from at most eleven answers."""
    name = _name(arguments.name)
    path = files.recipes_folder() / f"{name}.yaml"
    if os.path.lexists(path):
        raise Refused(f"{path} is there already; choose another name, or change it in an editor")
    model = _model(arguments)
    if model is not None:
        say("Made after another recipe. The title has to be a new one.")
    shown = {} if model is None else shown_answers(model)
    shown.pop("title", None)  # two prints of one title would be taken for one edition
    answers = _ask(shown)
    text = new_text(answers) if model is None else recipe_like(model, answers)
    try:
        files.write_new(path, text)
    except files.FileProblem as error:
        say("The recipe could not be written. Copy it from here:", "", *text.split("\n"))
        if isinstance(error, files.AlreadyThere):
            raise Refused(error.message) from None
        raise
    say(f"Written: {path}")
    _say_what_is_left(name, str(path), text)
    return 0


def _name(said: str) -> str:
    name = said.removesuffix(".yaml")
    if why_refused(name) or not _NAME.fullmatch(name) or name.endswith((" ", ".")):
        raise WrongUse(f"{said} cannot be the name of a recipe; write letters, digits and hyphens, "
                       f"such as {files.file_slug(name)}")
    if files.is_device(name):
        raise WrongUse(f"{said} is the name of a device on Windows, so no recipe can be called "
                       f"that; write another, such as {files.file_slug(name)}")
    return name


def _model(arguments: Arguments) -> str | None:
    """The text the new recipe is made after, or None."""
    if arguments.like is not None:
        return recipe_text(arguments.like)[1]
    if arguments.from_ is None:
        return None
    with read_book(arguments) as book:
        return session_row(book, arguments.from_).opening.recipe_text


def _ask(shown: Mapping[str, str]) -> dict[str, str]:
    """The answers, until all are given or the input ends; `shown` is kept by an empty line."""
    say(f"{len(QUESTIONS)} questions. " + (
        "Press ENTER to keep what is in [ ], or type - to leave it empty." if shown
        else "Press ENTER to leave an answer empty."))
    answers: dict[str, str] = {}
    for number, question in enumerate(QUESTIONS, 1):
        answer = _answer(number, question, shown.get(question.key, ""))
        if answer is None:
            break
        answers[question.key] = answer
    return answers


def _answer(number: int, question: RecipeQuestion, shown: str) -> str | None:
    """A right answer to one question; None if the input has ended."""
    asked_again = False
    kept = f" [{shown}]" if shown else ""
    while True:
        say(f"{number} {question.ask} ({question.how}){kept}")
        sys.stdout.flush()
        line = sys.stdin.readline()
        if not line:
            return None
        typed = line.strip()
        answer = "" if typed == _EMPTY else typed or shown
        if not answer and question.needed and not asked_again:
            asked_again = True
            say("A recipe needs this before it can run. Type it now, or press ENTER again to "
                "write it in the file later.")
            continue
        wrong = None if answer == shown else question.check(answer)
        if wrong is None:
            return answer
        say(wrong)


def _say_what_is_left(name: str, path: str, text: str) -> None:
    try:
        read_recipe(text)
    except RecipeError as error:
        say("Before it can be run, write in your editor:", *(p.at(path) for p in error.problems))
        return
    say(f"Run it with: benchapp run {name}")


def check_recipe(arguments: Arguments) -> int:
    """Say what is wrong with a recipe, and where; 1 where it cannot be run."""
    path, data = recipe_bytes(arguments.recipe)
    try:
        recipe = read_recipe(data)
    except RecipeError as error:
        if arguments.json:
            say_json("check/1", _document(str(path), error.problems, ()))
        else:
            say(*problems_text(str(path), error).split("\n"))
        return 1
    warnings = recipe_warnings(recipe)
    gone, wears = _from_book(arguments, recipe)
    if arguments.json:
        say_json("check/1", {**_document(str(path), (), warnings), **_treads(recipe),
                             "cancelled": gone, "plates": [plate_wear_json(x) for x in wears]})
        return 0
    say(*(f"{path}:{w.line}:{w.column}: warning: {w.wrong}; {w.mend}" for w in warnings))
    say(*(f"{path}: {said}" for said in ((() if gone is None else (gone,)) + tuple(
        ". ".join(wear_sentences(x)) for x in wears))))
    say(f"{path}: {treads_words(treads_per_impression(recipe))}, the washes between counted")
    count = len(warnings)
    say(f"{path}: {recipe.print.title} can be run; "
        + ("no warning" if not count else "1 warning" if count == 1 else f"{count} warnings"))
    return 0


def _from_book(arguments: Arguments,
               recipe: Recipe) -> tuple[str | None, tuple[PlateWear, ...]]:
    """What the book says of the plates: whether they are cancelled, and what each has given."""
    try:
        with read_book(arguments) as book:
            register = EditionService(book, SystemClock()).register
    except BookError as error:  # a recipe can be checked all the same
        warn(str(error))
        return None, ()
    gone = cancelled_for(register, recipe)
    return (None if gone is None else only_proof_words(recipe.print.title, gone),
            wear_of(recipe, given_by_plates(register, recipe), 0))


def _treads(recipe: Recipe) -> dict[str, object]:
    """What the foot does: so many treads in so many impressions, both whole."""
    count = treads_per_impression(recipe)
    return {"treads": {"count": count.numerator, "impressions": count.denominator}}


def _document(file: str, problems: tuple[Problem, ...],
              warnings: tuple[Problem, ...]) -> dict[str, object]:
    return {"file": file, "ok": not problems, "problems": [_one(p) for p in problems],
            "warnings": [_one(p) for p in warnings]}


def _one(problem: Problem) -> dict[str, object]:
    return {"line": problem.line, "column": problem.column, "wrong": problem.wrong,
            "mend": problem.mend}
