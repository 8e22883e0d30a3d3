"""What the trade would raise an eyebrow at. Never an error: the printer decides.

Each says where its figure comes from: published, with the source, or common practice.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final

from benchapp.quantities import Duration, Length, QuantityError, number_text, read_length
from benchapp.recipe.checks import fits_within
from benchapp.recipe.model import Paper, Plate, Recipe
from benchapp.recipe.plate_lives import (
    PULLED_FOR_EACH,
    is_drypoint,
    least_impressions,
    passes_of,
    usual_life,
)
from benchapp.recipe.problems import Problem
from benchapp.recipe.warnings_day import DAY_RULES

Path = tuple[str | int, ...]
Found = Iterator[tuple[Path, str, str]]

#: Lalanne, A Treatise on Etching, Koehler's note 24.
PACK_REST: Final = Duration(12 * 3_600_000, "h")
#: US National Park Service, Museum Handbook: mould within 48 h when warm and humid.
KEEPS: Final = Duration(48 * 3_600_000, "h")
#: Tamarind: artist's proofs are 5 or 10 % of the edition.
AP_PERCENT: Final = 10
#: Common practice: printer's proofs are one or two.
PP_MOST: Final = 2
#: Common practice: less than this round the plate leaves nothing to hold.
MARGIN_MM: Final = 10

_FACED: Final = re.compile(r"steel[- ]fac", re.IGNORECASE)

#: Most of an additive, in percent of the ink by mass (common practice).
_ADDITIVES: Final[tuple[tuple[str, int], ...]] = (
    (r"plate oil", 12), (r"magnesi", 10), (r"extender", 60), (r"drier|siccative", 2),
)


def recipe_warnings(recipe: Recipe) -> tuple[Problem, ...]:
    """Every warning about a recipe that reads, in the order of the text."""
    found = []
    for rule in (*_RULES, *DAY_RULES):
        for path, wrong, mend in rule(recipe):
            line, column = _mark(recipe, path)
            found.append(Problem(line, column, wrong, mend))
    return tuple(sorted(set(found)))


def _mark(recipe: Recipe, path: Path) -> tuple[int, int]:
    """Where the path stands, or the nearest thing round it that does."""
    while path and path not in recipe.marks:
        path = path[:-1]
    return recipe.marks.get(path, (1, 1)) if path else (1, 1)


def _paper_path(recipe: Recipe, number: int) -> Path:
    named: Path = ("papers", recipe.papers[number - 1].key)
    if ("paper",) in recipe.marks:
        return ("paper",)
    return named if named in recipe.marks else ("papers", number)


def _damp(recipe: Recipe) -> Found:
    for number, paper in enumerate(recipe.papers, 1):
        damp, path = paper.damp, (*_paper_path(recipe, number), "damp")
        if damp is None:
            continue
        if damp.method == "pack" and damp.rest is not None and damp.rest < PACK_REST:
            yield ((*path, "rest"),
                   f"a pack that rests {damp.rest} is not even (published: at least 12 h, "
                   "better 24; Lalanne, Koehler's note 24)", "write rest: 12 h or more")
        if damp.keeps is not None and damp.keeps > KEEPS:
            yield ((*path, "keeps"),
                   f"damp paper kept {damp.keeps} may grow mould (published: within 48 h when "
                   "warm and humid; US National Park Service)", "write keeps: 48 h or less")


def _edition(recipe: Recipe) -> Found:
    edition, proofs = recipe.print.edition, recipe.print.proofs
    artist = proofs.get("AP")
    if edition is not None and artist is not None:
        most = -(-edition * AP_PERCENT // 100)
        if artist.cap > most:
            yield (("print", "proofs", "AP"),
                   f"{artist.cap} artist's proofs are more than {AP_PERCENT} % of {edition}, "
                   "rounded up (published: 5 or 10 %; Tamarind)", f"write AP: {most} or less")
    printer = proofs.get("PP")
    if printer is not None and printer.cap > PP_MOST:
        yield (("print", "proofs", "PP"),
               f"{printer.cap} printer's proofs are many (common practice: 1 or 2)", "write PP: 2")


def _life(recipe: Recipe) -> Found:
    for number, plate in enumerate(recipe.plates, 1):
        usual = usual_life(plate)
        path: Path = ("plates", number, "life")
        if usual is not None and plate.life is not None and plate.life > usual.most:
            yield (path, f"a life of {plate.life} impressions is long: "
                   f"{usual.words(plate.metal)}",
                   f"write {usual.most} or less until the plate has shown more")
        most = plate.life or (None if usual is None else usual.most)
        asked = None if most is None else _over_life(recipe, plate, most)
        if asked is not None:
            whose = (f"the life of the plate {plate.name}, {most}" if plate.life is not None
                     else f"the plate {plate.name} gives" if usual is None
                     else f"the plate {plate.name} gives: {usual.words(plate.metal)}")
            yield (path if plate.life is not None else ("plates", number), f"{asked} more than "
                   f"{whose} (common practice: about twice the edition is pulled)",
                   "write a smaller edition, or ask a plater early about steel facing, before the "
                   "burr goes")


def _over_life(recipe: Recipe, plate: Plate, most: int) -> str | None:
    """What asks more of a plate than it gives, the plainest first; None: nothing does."""
    edition, passes = recipe.print.edition, max(1, passes_of(recipe, plate.name))
    if edition is None:
        return None
    least = least_impressions(recipe, edition)
    if edition * passes > most:
        return f"an edition of {edition} is"
    if least * passes > most:
        return (f"an edition of {edition} with its proofs and one day's warm-ups comes to "
                f"{least * passes}:")
    if edition * PULLED_FOR_EACH * passes > most:
        return (f"an edition of {edition} with its trials and what is spoiled comes to about "
                f"{edition * PULLED_FOR_EACH * passes}:")
    return None


def _richest_first(recipe: Recipe) -> Found:
    """A drypoint whose first pulls would be taken for warm-ups, though nobody asked for that."""
    if recipe.warm_ups is not None or not recipe.warm_ups_a_day:
        return
    for number, plate in enumerate(recipe.plates, 1):
        if is_drypoint(plate.techniques):
            yield (("plates", number, "techniques"), f"the first {recipe.warm_ups_a_day} pulls of "
                   "a day are warm-ups, but a drypoint's first are its richest (common practice)",
                   f"write warm-ups: 0, or warm-ups: {recipe.warm_ups_a_day} to leave it so")


def _facing(recipe: Recipe) -> Found:
    for number, plate in enumerate(recipe.plates, 1):
        if "zinc" in plate.metal.lower() and _FACED.search(" ".join(plate.techniques)):
            yield (("plates", number, "techniques"), f"the plate {plate.name} is zinc: it needs "
                   "copper first, a plater's job, and a faced plate rusts (common practice)",
                   "ask the plater before it is faced, and keep it dry and waxed")


def _plate_on_paper(recipe: Recipe) -> Found:
    paper = recipe.paper
    if paper is None or paper.piece is None:
        return
    for number, plate in enumerate(recipe.plates, 1):
        yield from _one_on_paper(paper, plate, number)
        yield from _margins_said(recipe, paper, plate)


def _one_on_paper(paper: Paper, plate: Plate, number: int) -> Found:
    piece, path = paper.piece, ("plates", number, "size")
    if piece is None:
        return
    room = min(_room(paper, plate))
    if room >= 0:
        if room < MARGIN_MM * 2:
            yield (path, f"the plate {plate.name} leaves under {MARGIN_MM} mm of paper at an edge "
                   "(common practice: enough to hold it by)", "tear a larger piece")
    elif fits_within(plate.size, piece):
        yield (path, f"the plate {plate.name}, {plate.size}, is turned the other way than "
                     "the piece, "
               f"{piece} (arithmetic: width first, with both on the bed)",
               "turn one of the two sizes")
    else:
        yield (path, f"the plate {plate.name}, {plate.size}, is larger than the piece, "
               f"{piece}: no plate mark shows (common practice: margins all round)",
               "tear a larger piece")


def paper_too_small(recipe: Recipe) -> tuple[str, ...]:
    """A sentence for each plate that does not fit on the paper as the two lie on the bed."""
    paper = recipe.paper
    if paper is None or paper.piece is None:
        return ()
    return tuple(f"{wrong[:1].upper()}{wrong[1:]}; {mend}"
                 for number, plate in enumerate(recipe.plates, 1) if min(_room(paper, plate)) < 0
                 for _, wrong, mend in _one_on_paper(paper, plate, number))


def _room(paper: Paper, plate: Plate) -> tuple[float, float]:
    """Paper beside and above the plate together, in millimetres; below nothing: it does not fit."""
    piece = paper.piece or plate.size
    return (float(piece.width.mm - plate.size.width.mm),
            float(piece.height.mm - plate.size.height.mm))


def _margins_said(recipe: Recipe, paper: Paper, plate: Plate) -> Found:
    margins = _length(dict(recipe.register).get("margins", ""))
    room = min(_room(paper, plate))
    if margins is not None and room >= 2 * MARGIN_MM and 2 * float(margins.mm) > room:
        yield (("register", "margins"),
               f"margins of {margins} on both sides of the plate {plate.name} need more than the "
               f"piece has (arithmetic: {room / 2:g} mm a side)", "write a smaller margin")


def _length(text: str) -> Length | None:
    try:
        return read_length(text)
    except QuantityError:
        return None  # margins in the printer's own words say nothing to reckon with


def _ink(recipe: Recipe) -> Found:
    for ink in recipe.inks:
        total = sum(amount for _, amount in ink.parts)
        path: Path = ("ink", ink.plate, "parts") if ink.plate else ("ink", "parts")
        for name, amount in ink.parts:
            most = next((m for p, m in _ADDITIVES if re.search(p, name.lower())), None)
            if most is not None and amount * 100 > most * total:
                yield ((*path, name),
                       f"{number_text(round(amount * 100 / total, 1))} % of {name} is more "
                       f"than usual (common practice: at most {most} % by mass)", "take less of it")


_RULES: Final[tuple[Callable[[Recipe], Found], ...]] = (
    _damp, _edition, _life, _richest_first, _facing, _plate_on_paper, _ink,
)
