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

#: (technique, metal, longest life, how it is said, source). The first that fits is used.
_LIVES: Final[tuple[tuple[str, str, int, str, str], ...]] = (
    (r"steel", r"", 4000, "a steel-faced plate gives 1,000-4,000", "published: Lalanne ss.99"),
    (r"", r"steel[- ]faced", 4000, "a steel-faced plate gives 1,000-4,000",
     "published: Lalanne ss.99"),
    (r"dry ?point", r"alumin|plast|acryl|card", 15,
     "drypoint on soft metal or plastic gives 5-15", "common practice"),
    (r"dry ?point", r"", 30, "drypoint on copper gives 20-30", "published: Lalanne ss.99"),
    (r"aquatint", r"copper", 200, "aquatint on copper gives 50-200", "common practice"),
    (r"soft[- ]ground", r"", 300, "soft ground gives 200-300", "published: Lalanne ss.99"),
)

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
        if plate.life is None:
            continue
        path: Path = ("plates", number, "life")
        usual = _usual_life(plate)
        if usual is not None and plate.life > usual[0]:
            yield (path, f"a life of {plate.life} impressions is long: {usual[1]} ({usual[2]})",
                   f"write {usual[0]} or less until the plate has shown more")
        edition = recipe.print.edition
        if edition is not None and edition > plate.life:
            yield (path, f"an edition of {edition} is more than the life of the plate "
                   f"{plate.name}, {plate.life} (common practice: about twice the edition is "
                   "pulled)", "write a smaller edition, or ask a plater early about steel facing, "
                   "before the burr goes")


def _facing(recipe: Recipe) -> Found:
    for number, plate in enumerate(recipe.plates, 1):
        if "zinc" in plate.metal.lower() and _FACED.search(" ".join(plate.techniques)):
            yield (("plates", number, "techniques"), f"the plate {plate.name} is zinc: it needs "
                   "copper first, a plater's job, and a faced plate rusts (common practice)",
                   "ask the plater before it is faced, and keep it dry and waxed")


def _usual_life(plate: Plate) -> tuple[int, str, str] | None:
    techniques, metal = " ".join(plate.techniques).lower(), plate.metal.lower()
    for technique, on, most, said, source in _LIVES:
        if re.search(technique, techniques) and re.search(on, metal):
            return most, said, source
    return None


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
    across, along = _room(paper, plate)
    if across >= 0 and along >= 0:
        if min(across, along) < MARGIN_MM * 2:
            yield (path, f"the plate {plate.name} leaves under {MARGIN_MM} mm of paper at an edge "
                   "(common practice: enough to hold it by)", "tear a larger piece")
    elif fits_within(plate.size, piece):
        yield (path, f"the plate {plate.name}, {plate.size}, lies the other way than the piece, "
               f"{piece} (arithmetic: width first, as both lie on the bed)",
               "turn one of the two sizes")
    else:
        yield (path, f"the plate {plate.name}, {plate.size}, is larger than the piece, "
               f"{piece}: no plate mark shows (common practice: margins all round)",
               "tear a larger piece")


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
                       f"{number_text(round(amount * 100 / total, 1))} % of {name} is much "
                       f"(common practice: at most {most} % by mass)", "take less of it")


_RULES: Final[tuple[Callable[[Recipe], Found], ...]] = (
    _damp, _edition, _life, _facing, _plate_on_paper, _ink,
)
