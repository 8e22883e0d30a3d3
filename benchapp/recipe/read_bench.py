"""What lies ready at the bench: paper, ink, press, register, places."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final, Literal, cast

from benchapp.quantities import (
    Percentage,
    QuantityError,
    Turns,
    join_words,
    quote_text,
    read_duration,
    read_grammage,
    read_length,
    read_mass,
    read_number,
    read_percentage,
    read_size,
    read_turns,
)
from benchapp.recipe.fields import Fields, Ledger, count_reader, nearest_word
from benchapp.recipe.model import Damp, Ink, Paper, Plate, Press
from benchapp.recipe.nodes import Items, Map, Node, Scalar

#: The word a step takes its first paper by, whatever that is called.
SHEET: Final = "sheet"
_METHODS: Final = ("soak", "pack", "spray", "dip")
_INK_KEYS: Final = ("name", "charge", "covers", "parts")
_PRESS_KEYS: Final = ("pitch", "zero", "more is")


def read_papers(top: Fields, ledger: Ledger) -> tuple[Paper, ...]:
    """`paper:`, or several under `papers:`; the first is the one impressions are counted by."""
    one, several = top.take("paper"), top.take("papers")
    if one is not None and several is not None:
        ledger.add(several, "paper and papers are both written",
                   "put all of it under papers:", "papers")
    papers: list[Paper] = []
    if one is not None:
        papers.append(_paper(Fields(one, "paper", ledger, "weight: 300 g/m2"), SHEET))
    if several is not None:
        papers.extend(_named_papers(several, ledger))
    return tuple(papers)


def _named_papers(node: Node, ledger: Ledger) -> Iterator[Paper]:
    """A map of names to papers, or a list of papers that each have a `key` or `name`."""
    seen: set[str] = set()
    items: list[tuple[str | None, Node]]
    if isinstance(node, Map):
        items = [(p.key.text, p.value) for p in node.pairs]
    elif isinstance(node, Items):
        items = [(None, n) for n in node.nodes]
    else:
        ledger.add(node, "papers is neither names with papers nor a list",
                   "write papers: {sheet: {…}, chine: {…}}", "papers")
        return
    for number, (name, value) in enumerate(items, 1):
        fields = Fields(value, f"paper {name or number}", ledger, "{weight: 300 g/m2}")
        paper = _paper(fields, name)
        if not paper.key:
            ledger.add(value, f"paper {number} has no name", "write name: chine", "papers")
        elif paper.key in seen or (number > 1 and paper.key == SHEET):
            ledger.add(value, f"the name {paper.key} already means another paper",
                       "give each a name of its own; sheet is always the first", "papers")
        seen.add(paper.key)
        yield paper


def _paper(fields: Fields, key: str | None) -> Paper:
    own_key = fields.text("key", "chine") if key is None else None
    name = fields.text("name", "cotton, internally sized")
    paper = Paper(
        key=key or own_key or name or "",
        name=name,
        weight=fields.read("weight", read_grammage, "300 g/m2"),
        sheet=fields.read("sheet", read_size, "560 x 760 mm"),
        piece=fields.read("piece", read_size, "280 x 380 mm"),
        grain=cast("Literal['long', 'short'] | None", fields.choice("grain", ("long", "short"))),
        damp=_damp(fields),
    )
    fields.finish()
    return paper


def _damp(paper: Fields) -> Damp | None:
    node = paper.take("damp")
    if node is None:
        return None
    fields = Fields(node, "damp", paper.ledger, "{method: soak, soak: 30 min}")
    fields.need("method", f"write method: {join_words(_METHODS, 'or')}")
    method = fields.choice("method", _METHODS) or "soak"
    damp = Damp(
        method=cast("Literal['soak', 'pack', 'spray', 'dip']", method),
        soak=fields.read("soak", read_duration, "30 min"),
        rest=fields.read("rest", read_duration, "15 min"),
        keeps=fields.read("keeps", read_duration, "48 h"),
        pack=fields.count("pack", "6", "sheets"),
        handling=fields.read("handling", read_duration, "3 min"),
    )
    fields.finish()
    return damp


def read_inks(top: Fields, plates: tuple[Plate, ...], ledger: Ledger) -> tuple[Ink, ...]:
    """`ink:` as one map, a list in the order they go on, or either for each plate."""
    node = top.take("ink")
    if node is None:
        return ()
    inks: list[Ink] = []
    for plate, value in _by_plate(node, "ink", _INK_KEYS, plates, ledger):
        of = f"ink of {plate}" if plate else "ink"
        several = value.nodes if isinstance(value, Items) else (value,)
        if not several:
            ledger.add(value, f"{of} is empty", "write such as {charge: 9 g}")
        inks.extend(_ink(Fields(v, of, ledger, "{charge: 9 g}"), plate) for v in several)
    return tuple(inks)


def _ink(fields: Fields, plate: str | None) -> Ink:
    ink = Ink(plate, fields.text("name", "bone black"), fields.read("charge", read_mass, "9 g"),
              fields.read("covers", _share, "40 %"), _parts(fields))
    fields.finish()
    return ink


def _share(text: str) -> Percentage:
    share = read_percentage(text)
    if not 0 < share.fraction <= 1:
        raise QuantityError(f"{text} is not a part of a plate",
                            "write more than 0 % and at most 100 %")
    return share


def _parts(fields: Fields) -> tuple[tuple[str, Fraction], ...]:
    node = fields.take("parts")
    if node is None:
        return ()
    parts = Fields(node, "parts", fields.ledger, "{bone black: 10, plate oil: 0.5}")
    read = ((k.text, parts.read_in(v, k.text, _part, "10")) for k, v in parts.rest())
    return tuple((name, amount) for name, amount in read if amount is not None)


def _part(text: str) -> Fraction:
    amount = read_number(text)
    if amount <= 0:
        raise QuantityError(f"{quote_text(text)} is too small", "write a number above 0")
    return amount


def read_presses(top: Fields, plates: tuple[Plate, ...], ledger: Ledger) -> tuple[Press, ...]:
    """`press:` as one map, or one for each plate."""
    node = top.take("press")
    if node is None:
        return ()
    return tuple(
        _press(Fields(value, f"press for {plate}" if plate else "press", ledger,
                      "handle side: 3.25 turns"), plate)
        for plate, value in _by_plate(node, "press", _PRESS_KEYS, plates, ledger)
    )


def _press(fields: Fields, plate: str | None) -> Press:
    pitch = fields.read("pitch", read_length, "2 mm")
    zero = fields.text("zero", "roller on the bare bed")
    more_is = fields.choice("more is", ("tighter", "looser"))
    sides = [(key.text, _side(fields, key, value)) for key, value in fields.rest()]
    return Press(plate, pitch, tuple((k, t) for k, t in sides if t is not None), zero, more_is)


def _side(fields: Fields, key: Scalar, value: Node) -> Turns | None:
    """A screw by the printer's own name, unless it is a misspelt field."""
    turns_said = isinstance(value, Scalar) and "turn" in value.text
    if nearest_word(key.text, fields.known) and not turns_said:
        fields.unknown(key)
        return None
    return fields.read_in(value, key.text, read_turns, "3.25 turns")


def _by_plate(node: Node, what: str, own: tuple[str, ...], plates: tuple[Plate, ...],
              ledger: Ledger) -> Iterator[tuple[str | None, Node]]:
    """Each plate's part of `ink:` or `press:`; None is the whole, for all plates."""
    names = [p.name for p in plates]
    if not isinstance(node, Map) or not node.pairs or any(
        (p.key.text in own and p.key.text not in names) or isinstance(p.value, Scalar)
        for p in node.pairs
    ):
        yield None, node
        return
    for pair in node.pairs:
        if pair.key.text in names:
            yield pair.key.text, pair.value
        elif "plates" not in ledger.unsure and "name" not in ledger.unsure:
            meant = nearest_word(pair.key.text, [*names, *own])
            mend = f"write {meant}" if meant else f"write {join_words(names, 'or')}"
            ledger.add(pair.key, f"{what}: no plate is called {quote_text(pair.key.text)}", mend)


def read_register(node: Node, ledger: Ledger) -> tuple[tuple[str, str], ...]:
    """`register:`: the printer's own names and words."""
    fields = Fields(node, "register", ledger, "margins: 40 mm")
    read = ((k.text, fields.text_in(v, k.text, "40 mm")) for k, v in fields.rest())
    return tuple((name, text) for name, text in read if text is not None)


def read_places(node: Node, ledger: Ledger) -> dict[str, int]:
    """`places:`: how many can use a place at once."""
    fields = Fields(node, "places", ledger, "{hot plate: 2, slab: 1}")
    read = {k.text: fields.read_in(v, k.text, count_reader("2"), "1") for k, v in fields.rest()}
    if any(number is None for number in read.values()):
        ledger.unsure.add("places")
    return {name: number or 1 for name, number in read.items()}
