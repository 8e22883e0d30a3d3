"""What the parts of a recipe have to do with one another.

A check that rests on a value nobody could read stays silent: the printer mends
that value first, and is not told that something else is wrong because of it.
"""

from __future__ import annotations

from benchapp.quantities import Size, join_words, quote_text
from benchapp.recipe.fields import Ledger, nearest_word
from benchapp.recipe.model import Paper, Recipe, Step
from benchapp.recipe.nodes import Node, find_node
from benchapp.recipe.order import place_capacities
from benchapp.recipe.read_bench import SHEET
from benchapp.recipe.step_checks import check_step


class _Where:
    """Finds the node a problem belongs to, and notes it there."""

    def __init__(self, root: Node, ledger: Ledger) -> None:
        self._root = root
        self._ledger = ledger

    def knows(self, *keys: str) -> bool:
        """True where every value of these keys could be read."""
        return not self._ledger.unsure.intersection(keys)

    def note(self, step: Step, key: str, wrong: str, mend: str) -> None:
        number = int(step.id.partition(".")[2])
        node = find_node(self._root, step.section, number, key) \
            or find_node(self._root, step.section, number)
        self._ledger.add(node, wrong, mend)

    def note_at(self, path: tuple[str | int, ...], wrong: str, mend: str) -> None:
        self._ledger.add(find_node(self._root, *path), wrong, mend)


def check_contradictions(recipe: Recipe, root: Node, ledger: Ledger) -> None:
    """Notes every contradiction in a recipe as read; parts that failed are at their defaults."""
    where = _Where(root, ledger)
    for step in recipe.steps:
        check_step(step, where.note)
        _names(recipe, step, where)
    for section in (recipe.before, recipe.each, recipe.after):
        if section and section[0].within is not None:
            where.note(section[0], "within", "within: there is no step before this one",
                       "take it out, or move the step")
    if recipe.each and where.knows("each"):
        _impression(recipe, where)
        _sheets(recipe, where)
    _readings(recipe, where)
    _sizes(recipe, where)
    _proofs(recipe, where)


def _names(recipe: Recipe, step: Step, where: _Where) -> None:
    """Plates, papers and places are called by names that exist."""
    plates = [plate.name for plate in recipe.plates]
    if where.knows("plates", "name"):
        for key, names in (("plate", filter(None, [step.plate])), ("pulls", step.pulls)):
            for name in names:
                _known(step, key, name, plates, "no plate is called", where)
    papers = [SHEET, *(paper.key for paper in recipe.papers)]
    if where.knows("papers"):
        for name in step.uses:
            _known(step, "uses", name, papers, "no paper is called", where)
    if step.at is not None and where.knows("places"):
        _known(step, "at", step.at, list(place_capacities(recipe)), "there is no place called",
               where)


def _known(step: Step, key: str, name: str, names: list[str], wrong: str, where: _Where) -> None:
    if name in names:
        return
    meant = nearest_word(name, names)
    mend = f"write {meant or join_words(list(dict.fromkeys(names)), 'or')}"
    if key == "at":
        mend += f", or name it under places: {{{name}: 1}}"
    where.note(step, key, f"{key}: {wrong} {quote_text(name)}", mend)


def _impression(recipe: Recipe, where: _Where) -> None:
    """An impression is inked, pulled from every plate, and looked at."""
    if where.knows("hands") and not any(step.hands == "inky" for step in recipe.each):
        where.note_at(("each",), "no step of each has inky hands",
                      "write hands: inky where you ink")
    if where.knows("asks") and not any(step.asks for step in recipe.each):
        where.note_at(("each",), "no step of each asks anything",
                      "write asks: [verdict, tags, note] on the step where you look")
    pulled = {name for step in recipe.each for name in step.pulls}
    misnamed = any(recipe.plate(name) is None for name in pulled)
    if misnamed or not where.knows("pulls", "plates", "name"):
        return
    for number, plate in enumerate(recipe.plates, 1):
        if plate.name not in pulled:
            where.note_at(("plates", number), f"no step of each pulls the plate {plate.name}",
                          f"write pulls: {plate.name} on the step where it goes through the press")


def _sheets(recipe: Recipe, where: _Where) -> None:
    """One sheet is taken for an impression, before or at its first pull."""
    if not where.knows("uses", "papers", "pulls"):
        return
    first = recipe.paper.key if recipe.paper else SHEET
    taking = [step for step in recipe.each if {SHEET, first} & set(step.uses)]
    for step in taking[1:]:
        where.note(step, "uses", "uses: this impression has its sheet already",
                   f"take it out here or at {quote_text(taking[0].do)}: "
                   "all its pulls are on one sheet")
    pulls = [step for step in recipe.each if step.pulls]
    if taking and pulls and recipe.each.index(taking[0]) > recipe.each.index(pulls[0]):
        where.note(taking[0], "uses", "uses: the sheet is taken after the first pull",
                   f"write it at {quote_text(pulls[0].do)} or before")
    for step in taking[:1]:
        if step.optional or step.every:
            where.note(step, "uses", "uses: a step that may be left out takes the sheet",
                       "take the sheet in a step that is done every time")


def _readings(recipe: Recipe, where: _Where) -> None:
    """A reading is taken at one step, of an impression or of the day."""
    if not where.knows("do", "before", "each", "after"):
        return
    names = [step.do for step in recipe.steps]
    for number, reading in enumerate(recipe.readings, 1):
        path = ("readings", number, "at")
        if reading.at is None:
            continue
        if reading.at not in names:
            meant = nearest_word(reading.at, names)
            where.note_at(path, f"at: no step does {quote_text(reading.at)}",
                          f"write {meant or join_words(list(dict.fromkeys(names))[:6], 'or')}")
        elif names.count(reading.at) > 1:
            where.note_at(path, f"at: several steps do {quote_text(reading.at)}",
                          "give the step a do: of its own")


def _sizes(recipe: Recipe, where: _Where) -> None:
    """A piece can be torn from its sheet."""
    for number, paper in enumerate(recipe.papers, 1):
        if paper.sheet and paper.piece and not fits_within(paper.piece, paper.sheet):
            where.note_at((*paper_path(where._root, paper, number), "piece"),
                          f"piece: {paper.piece} is larger than the sheet, {paper.sheet}",
                          "write a piece that can be torn from it")


def fits_within(inner: Size, outer: Size) -> bool:
    """Whether one size lies within another, turned if need be."""
    a, b = sorted((inner.width.mm, inner.height.mm)), sorted((outer.width.mm, outer.height.mm))
    return a[0] <= b[0] and a[1] <= b[1]


def paper_path(root: Node, paper: Paper, number: int) -> tuple[str | int, ...]:
    """Where a paper stands in the text: `paper`, by name or by number under `papers`."""
    if find_node(root, "paper") is not None:
        return ("paper",)
    return ("papers", paper.key) if find_node(root, "papers", paper.key) else ("papers", number)


def _proofs(recipe: Recipe, where: _Where) -> None:
    """Proofs counted inside the edition fit into it."""
    edition = recipe.print.edition
    inside = sum(cap.cap for cap in recipe.print.proofs.values() if cap.inside)
    if edition is not None and inside > edition:
        where.note_at(("print", "proofs"),
                      f"proofs: {inside} inside the edition are more than its {edition}",
                      "write fewer, or inside: false")
