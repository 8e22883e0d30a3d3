"""A day prepared, as plain values and as a checklist to take to the table."""

from __future__ import annotations

from typing import Any, Final

from benchapp.planning.checklist import WHATS, ChecklistItem, Prepared
from benchapp.planning.plate_wear import PlateWear, wear_sentences
from benchapp.reckon.answer import Answer, json_value

_HEADS: Final = {"tear": "Tear", "sheets": "Sheets", "packs": "Packs", "ink": "Ink",
                 "press": "Press"}
_BOX: Final = "[ ]"


def prepare_json(prepared: Prepared) -> dict[str, Any]:
    """The day as JSON values.

    Each of `tear`, `sheets`, `packs`, `ink` and `press` is one document with its sentence; the
    recipe's own numbers stand under `recipe`, further papers, inks or plates under `others`.
    """
    recipe = prepared.recipe
    found: dict[str, Any] = {
        "print": recipe.print.title, "artist": recipe.print.artist, "wanted": prepared.wanted}
    for what in WHATS:
        first, *others = [_one(p) for p in prepared.parts if p.what == what]
        found[what] = {**first, "others": others}
    return {**found, "left_out": list(prepared.doubts), "warnings": list(prepared.warnings),
            "plates": [plate_wear_json(x) for x in prepared.plates]}


def plate_wear_json(x: PlateWear) -> dict[str, Any]:
    """What a plate has given and will give, as JSON values."""
    return {"name": x.plate.name, "given": x.given.impressions,
            "before_known": x.given.before, "more": x.more, "life": x.plate.life,
            "usual": None if x.usual is None else [x.usual.low, x.usual.most],
            "near_end": x.near, "sentences": list(wear_sentences(x))}


def _one(part: ChecklistItem) -> dict[str, Any]:
    answer = {} if part.answer is None else part.answer.json()
    stock = {} if part.stock is None else {"stock": {
        "name": part.stock.name, "unit": part.stock.unit, "have": json_value(part.stock.have),
        "needs": part.stock.needs, "short": part.stock.short}}
    return {**answer, **stock, "sentence": part.sentence, "of": part.of or None,
            **json_value(part.figures), **{name: more.json() for name, more in part.more.items()},
            "recipe": json_value(part.own)}


def prepare_text(prepared: Prepared, *, why: bool) -> list[str]:
    """The day as a checklist; texts are the printer's own, not yet made visible.

    Args:
        prepared: The day.
        why: With every figure it rests on.
    """
    recipe = prepared.recipe
    lines = [f"{recipe.print.title}, {recipe.print.artist}: prepare {prepared.sheets} "
             f"{'sheet' if prepared.sheets == 1 else 'sheets'} for {prepared.wanted} wanted", "",
             *(f"! {warning}" for warning in prepared.warnings),
             *([""] if prepared.warnings else [])]
    for part in prepared.parts:
        lines += [f"{_BOX} {item_title(part)}: {part.sentence}",
                  *(f"    {line}" for line in item_details(part))]
    for x in prepared.plates:
        first, *more = wear_sentences(x)
        lines += [f"{_BOX} Plate: {first}", *(f"    {line}" for line in more)]
    for title, under in sources_and_cautions(prepared, why=why):
        lines += ["", title, *(f"  {line}" for line in under)]
    return lines + [f"  left out: {doubt}" for doubt in prepared.doubts]


def item_title(part: ChecklistItem) -> str:
    """What a part is called, with the paper, ink or plate meant."""
    return f"{_HEADS[part.what]} ({part.of})" if part.of else _HEADS[part.what]


def item_details(part: ChecklistItem) -> list[str]:
    """What stands under a part's sentence: what follows from it, and the recipe's own number."""
    lines = [] if part.stock is None else [part.stock.words]
    lines += _tears(part.answer) if part.what == "tear" and part.answer is not None else []
    if part.what == "packs" and part.answer is not None:
        lines.append(part.answer.sentence)
    for more in part.more.values():
        lines.append(more.sentence)
    if part.own_words:
        lines.append(part.own_words if part.what == "sheets" else f"the recipe: {part.own_words}")
    return lines


def _tears(answer: Answer) -> list[str]:
    """The tears of the plainest way, one sheet after the other."""
    plainest = answer.figures["ways"][0]
    many = len(plainest["layouts"]) > 1
    lines = []
    for laid in plainest["layouts"]:
        lines += [f"{laid['sheets']} of them"] if many else []
        lines += laid["steps"]
    return lines


def sources_and_cautions(prepared: Prepared, *, why: bool) -> list[tuple[str, list[str]]]:
    """What is to be known, and where asked for every figure with its source; each said once.

    Args:
        prepared: The day.
        why: With the figures.

    Returns:
        A title and its lines; none that is empty.
    """
    answers = [answer for part in prepared.parts for answer in (part.answer, *part.more.values())
               if answer is not None]
    notes = list(dict.fromkeys(note for answer in answers for note in answer.notes))
    figures = list(dict.fromkeys(x.line() for answer in answers for x in answer.inputs))
    parts = (("To know", notes), ("What it rests on", figures if why else []))
    return [(title, lines) for title, lines in parts if lines]
