"""What was found about tearing, as an answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from benchapp.quantities import Percentage, items_text
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.tearing.drawing import draw_layout
from benchapp.reckon.tearing.layout import Layout, Piece
from benchapp.reckon.tearing.ways import Asked, Way
from benchapp.reckon.tearing.words import fold_steps, size_text, tear_steps

_HOW = {
    "fold": "folding in halves",
    "rows": "straight rows and columns",
    "best": "the cleverest tears",
}


def tear_answer(asked: Asked, ways: Sequence[Way], origins: Mapping[str, Origin]) -> Answer:
    """The answer, the plainest way first and what each further one gains."""
    best = ways[-1]
    return Answer(
        sentence=_sentence(asked, ways),
        figures={
            "pieces": best.pieces,
            "sheets": best.sheets,
            "sizes": [_size(asked, best, kind) for kind in range(len(asked.sizes))],
            "tears": best.tears,
            "waste_mm2": _waste(asked, best),
            "waste_percent": _share(asked, best),
            "exact": best.exact,
            "sheets_at_least": best.least,
            "first": ways[0].kind,
            "ways": [_figures(asked, way) for way in ways],
        },
        inputs=_inputs(asked, origins),
        notes=_notes(asked, ways),
        formula="edge-to-edge tears; most pieces, then fewest tears"
        if len(asked.sizes) == 1
        else ("edge-to-edge tears; fewest sheets" if asked.wanted else "edge-to-edge tears; "
              "least waste, then fewest tears"),
        source="Gilmore & Gomory 1965; Christofides & Whitlock 1977",
        body=_body(asked, ways),
    )  # fmt: skip


def _sentence(asked: Asked, ways: Sequence[Way]) -> str:
    first, *further = ways
    text = _opening(asked, first)
    for plainer, way in zip(ways, further, strict=False):
        if asked.wanted:
            saved = plainer.sheets - way.sheets
            text += f"; {_how(asked, way)} take {items_text(way.sheets, 'sheet')}, {saved} fewer"
        else:
            gained = way.pieces - plainer.pieces
            text += f"; {_how(asked, way)} give {way.pieces}, {gained} more, "
            text += f"with {_tears(asked, way)}"
    return text


def _opening(asked: Asked, way: Way) -> str:
    got = " and ".join(f"{way.count(kind)} of {each}" for kind, each in enumerate(asked.pieces))
    if len(asked.pieces) == 1 and way.folds is not None:
        got = f"{way.pieces} of {size_text(way.folds.shape.width, way.folds.shape.height)}"
    how = f" by {_HOW[way.kind]}" if way.kind != "best" else ""
    if asked.wanted:
        return f"{items_text(way.sheets, 'sheet')}{how}: {got}, with {_tears(asked, way)}"
    return f"A sheet of {asked.sheet} gives {got}{how}, with {_tears(asked, way)}"


def _tears(asked: Asked, way: Way) -> str:
    return items_text(way.tears, "cut" if asked.thin else "tear")


def _how(asked: Asked, way: Way) -> str:
    return _HOW[way.kind].replace("tears", "cuts") if asked.thin else _HOW[way.kind]


def _size(asked: Asked, way: Way, kind: int) -> dict[str, Any]:
    found = {"size_mm": asked.pieces[kind], "pieces": way.count(kind)}
    return {**found, "wanted": asked.wanted[kind]} if asked.wanted else found


def _sheet_area(asked: Asked) -> int:
    margin = 2 * asked.frame.edge
    return (asked.frame.width + margin) * (asked.frame.height + margin)


def _waste(asked: Asked, way: Way) -> Fraction:
    """What no piece is made of, edges torn off included, in mm2."""
    used = sum(
        many * sum(p.rect.width * p.rect.height for p in laid.pieces) for many, laid in way.layouts
    )
    return Fraction(way.sheets * _sheet_area(asked) - used, 100)


def _share(asked: Asked, way: Way) -> Fraction:
    whole = Fraction(way.sheets * _sheet_area(asked), 100)
    return Fraction(round(_waste(asked, way) / whole * 1000), 10)


def _figures(asked: Asked, way: Way) -> dict[str, Any]:
    return {
        "way": way.kind,
        "pieces": way.pieces,
        "sheets": way.sheets,
        "tears": way.tears,
        "waste_mm2": _waste(asked, way),
        "waste_percent": _share(asked, way),
        "layouts": [
            {
                "sheets": many,
                "pieces": [_piece(p) for p in laid.pieces],
                "steps": _steps(asked, way, laid),
                "drawing": draw_layout(laid),
            }
            for many, laid in way.layouts
        ],
    }


def _piece(piece: Piece) -> dict[str, Any]:
    rect = piece.rect
    place = {"x_mm": rect.x, "y_mm": rect.y, "width_mm": rect.width, "height_mm": rect.height}
    return {
        "size": piece.kind,
        **{name: Fraction(tenths, 10) for name, tenths in place.items()},
        "turned": piece.turned,
        "deckles": sum(rect.deckled),
    }


def _steps(asked: Asked, way: Way, laid: Layout) -> list[str]:
    return fold_steps(way.folds, laid.frame) if way.folds else tear_steps(laid, cut=asked.thin)


def _inputs(asked: Asked, origins: Mapping[str, Origin]) -> tuple[Input, ...]:
    def of(name: str, otherwise: Origin = Origin.GIVEN) -> Origin:
        return origins.get(name, otherwise)

    found = [Input("sheet", asked.sheet, "", of("sheet"))]
    found += [
        Input("piece", each, f"(wanted: {asked.wanted[k]})" if asked.wanted else "", of("piece"))
        for k, each in enumerate(asked.pieces)
    ]
    turn = of("grain", Origin.CHOSEN if asked.turn else Origin.GIVEN)
    found.append(Input("grain", "free, pieces may turn" if asked.turn else "fixed", "", turn))
    if asked.deckles:
        kept = Input("deckled edges each piece keeps", asked.deckles, "", of("deckles"))
        edges = "all edges" if asked.deckled == "all" else f"the {asked.deckled} edges"
        found += [kept, Input("deckle on", edges, "", of("deckled"))]
    if asked.edge.mm:
        found.append(Input("torn off each edge", asked.edge, "", of("edge")))
    if asked.tolerance.mm:
        found.append(Input("tolerance of a torn edge", asked.tolerance, "", of("tolerance")))
    return tuple(found)


def _notes(asked: Asked, ways: Sequence[Way]) -> tuple[str, ...]:
    best, found = ways[-1], []
    if asked.thin:
        found.append("Cut thin paper with a new blade along a steel rule (common practice)")
    waste = Percentage(_share(asked, best) / 100)
    if waste.fraction:
        found.append(f"Waste {waste} of the paper")
    larger = [way.folds for way in ways if way.folds]
    if larger and (larger[0].shape.width, larger[0].shape.height) not in (
        asked.sizes[0], asked.sizes[0][::-1]
    ):  # fmt: skip
        shape = larger[0].shape
        found.append(f"Folded pieces are larger than asked: {size_text(shape.width, shape.height)}")
    if asked.tolerance.mm and best.kind != "fold":
        taken = sorted({(s.width, s.height) for s in asked.shapes})
        found.append(f"With the tolerance a piece takes {_or(size_text(*each) for each in taken)}")
    if not best.exact and asked.wanted:
        found.append(f"Not every way was tried; fewer than {best.least} cannot be enough")
    elif not best.exact:
        more = f"; more than {best.most} are not possible" if best.most else ""
        found.append(f"Not every way was tried, so this may not be the best{more}")
    spare = [
        f"{over} of {each}"
        for k, each in enumerate(asked.pieces)
        if asked.wanted and (over := best.count(k) - asked.wanted[k]) > 0
    ]
    if spare:
        found.append(f"Left over: {' and '.join(spare)}")
    return tuple(found)


def _or(words: Any) -> str:
    return " or ".join(words)


def _body(asked: Asked, ways: Sequence[Way]) -> tuple[str, ...]:
    found: list[str] = []
    for way in ways:
        for many, laid in way.layouts:
            how = _how(asked, way)
            title = f"{how[0].upper()}{how[1:]}: {items_text(len(laid.pieces), 'piece')} a sheet"
            found += ["", f"{title}, {items_text(many, 'sheet')}" if asked.wanted else title]
            found += [f"  {line}" for line in _steps(asked, way, laid)]
            picture = draw_layout(laid) or ["(too many pieces to draw)"]
            found += ["", *(f"  {line}".rstrip() for line in picture)]
    if len(asked.pieces) > 1:
        letters = (f"{chr(ord('a') + k)} {each}" for k, each in enumerate(asked.pieces))
        found += ["", f"  {', '.join(letters)}"]
    return tuple(found[1:])
