"""Text to Recipe: every part read, every problem gathered, all of them told at once."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from benchapp.quantities import quote_text, read_duration
from benchapp.recipe.checks import check_contradictions
from benchapp.recipe.document import scan_document
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.layout import find_text_problems
from benchapp.recipe.model import WASH, Mark, Paper, Print, Recipe, Step
from benchapp.recipe.nodes import Document, Node, walk_nodes
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.read_bench import (
    SHEET,
    read_inks,
    read_papers,
    read_places,
    read_presses,
    read_register,
)
from benchapp.recipe.read_print import read_plates, read_print, read_proofing
from benchapp.recipe.read_rest import (
    TAKES,
    WARM_UPS,
    read_drying,
    read_readings,
    read_tags,
    read_takes,
    read_warm_ups,
)
from benchapp.recipe.read_steps import read_section

#: The version of the file's form that this program reads.
FORM: Final = "1"


def read_recipe(text: str | bytes) -> Recipe:
    """Reads a recipe.

    Args:
        text: The file's text, or its bytes (UTF-8).

    Raises:
        RecipeError: With every problem, each with line, column, what is wrong
            and what to write instead. No other exception leaves.
    """
    document = scan_document(text)
    ledger = Ledger(document.problems)
    recipe = _recipe(document, ledger) if document.whole else None
    _add_text_problems(text, document, ledger)
    if recipe is None or ledger.problems:
        raise RecipeError(ledger.problems)
    return recipe


def _add_text_problems(text: str | bytes, document: Document, ledger: Ledger) -> None:
    """Texts that were cut off or parted; what seems empty because of that is not said too."""
    if not document.whole:
        return
    decoded = text if isinstance(text, str) else text.decode("utf-8")
    for problem, explains in find_text_problems(decoded, document.root):
        if explains:
            ledger.problems = [p for p in ledger.problems
                               if p.line != problem.line or "is empty" not in p.wrong]
        ledger.problems.append(problem)


def _recipe(document: Document, ledger: Ledger) -> Recipe | None:
    if document.root is None:
        ledger.add(None, "there is nothing in this file", f"begin with recipe: {FORM}")
        return None
    top = Fields(document.root, "", ledger)
    if not top.readable:
        ledger.problems.pop()
        ledger.add(None, "this is not a recipe",
                   f"begin with recipe: {FORM}, then print:, plates:, each:")
        return None
    check_form(top, ledger)
    for key, mend in (("print", "write print: {title: …, artist: …}"),
                      ("plates", "write plates: with name, metal and size of each"),
                      ("each", "write each: with the steps of one impression")):
        top.need(key, mend)
    recipe = assemble_recipe(top, ledger, document.root)
    if top.has("each") and not recipe.each and "each" not in ledger.unsure:
        ledger.add(top.node_of("each"), "each has no step", "write the steps of one impression")
    top.finish()
    check_contradictions(recipe, document.root, ledger)
    return recipe


def check_form(top: Fields, ledger: Ledger) -> None:
    """Note a form of recipe that this version does not read."""
    top.need("recipe", f"begin the file with recipe: {FORM}")
    said = top.text("recipe", FORM)
    if said is not None and said != FORM:
        ledger.add(top.node_of("recipe"), "recipe: this version cannot read the form "
                                          f"{quote_text(said)}",
                   f"write {FORM}")


def assemble_recipe(top: Fields, ledger: Ledger, root: Node) -> Recipe:
    """The recipe, with defaults where something could not be read."""
    plates = read_plates(top, ledger)
    print_, register, places = top.take("print"), top.take("register"), top.take("places")
    proofing, tags = top.take("proofing"), top.take("tags")
    wash = top.read("wash", read_duration, "1.5 min")
    papers = read_papers(top, ledger)
    return Recipe(
        print=read_print(print_, ledger) if print_ else Print("", ""),
        plates=plates,
        papers=papers,
        inks=read_inks(top, plates, ledger),
        presses=read_presses(top, plates, ledger),
        register=read_register(register, ledger) if register else (),
        wash=WASH if wash is None else wash,
        places=read_places(places, ledger) if places else {},
        before=read_section(top, "before", ledger),
        each=_by_key(read_section(top, "each", ledger), papers),
        after=read_section(top, "after", ledger),
        drying=read_drying(top, ledger),
        proofing=read_proofing(proofing, ledger) if proofing else None,
        varied=top.flag("varied"),
        tags=read_tags(tags, ledger) if tags else {},
        readings=read_readings(top, ledger),
        takes=top.read(TAKES, read_takes, "40 min"),
        warm_ups=top.read(WARM_UPS, read_warm_ups, "0"),
        phrases=top.texts("phrases", "paper a little wetter"),
        marks=_marks(root),
    )


def _marks(root: Node) -> dict[tuple[str | int, ...], Mark]:
    return {path: (node.line, node.column) for path, node in walk_nodes(root)}


def _by_key(steps: tuple[Step, ...], papers: tuple[Paper, ...]) -> tuple[Step, ...]:
    """The steps with `uses: sheet` written as the key of the first paper."""
    first = papers[0].key if papers else SHEET
    return tuple(
        replace(step, uses=tuple(dict.fromkeys(first if use == SHEET else use
                                               for use in step.uses)))
        for step in steps
    )
