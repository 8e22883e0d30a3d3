"""What a day hands on: its sheets to the register, its list of changes to the boards. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.drying.dryness import DryStep
from benchapp.edition import actions as acts
from benchapp.edition.state import Cap, Sheet
from benchapp.edition.streams import print_id
from benchapp.recipe.model import Recipe
from benchapp.session.state import Impression, Session


def sheet_id(session: str, ordinal: int) -> str:
    """What names a sheet in every copy of the book: its session's id, and which one it is."""
    return f"{session}#{ordinal}"


def of_sheet(sheet: str) -> tuple[str, int] | None:
    """The session's id and the ordinal behind a sheet's id; None: no session pulled it."""
    session, sign, ordinal = sheet.rpartition("#")
    if not sign or not (ordinal.isascii() and ordinal.isdigit()):
        return None
    return session, int(ordinal)


def recipe_print_id(recipe: Recipe) -> str:
    """The id of the print a recipe is for."""
    known = recipe.print
    return print_id(known.title, known.artist, known.key)


def session_sheets(s: Session) -> tuple[Sheet, ...]:
    """Every sheet pulled in a session, as the register knows it, in pulling order."""
    pulled = sorted((i for i in s.impressions if i.pulled), key=lambda i: i.number or 0)
    return tuple(_sheet(s, i) for i in pulled)


def _sheet(s: Session, i: Impression) -> Sheet:
    first = i.pulled_at
    return Sheet(
        sheet_id(s.id, i.ordinal), i.mark or "", s.name, recipe_print_id(s.recipe),
        i.purpose or "edition", i.state, i.verdict, None if first is None else first.wall_ms,
        tuple(plate for pull in i.pulls for plate in pull.plates))


Packed = list[list[object]]


def pack_sheets(sheets: Iterable[Sheet]) -> Packed:
    """Sheets as plain values, without what their session and print say already."""
    return [[s.id.rpartition("#")[2], s.mark, s.purpose, s.state, s.verdict, s.pulled_ms,
             list(s.plates)] for s in sheets]


def unpack_sheets(said: object, id_: str, name: str, print_: str) -> tuple[Sheet, ...] | None:
    """The sheets that were packed; None: these are no such values.

    Args:
        said: What was kept.
        id_: The session's id.
        name: What it is called.
        print_: The print it was for.
    """
    if not isinstance(said, list):
        return None
    out = []
    for x in said:
        match x:
            case [str(n), str(mark), str(purpose), str() | None as state, str() | None as verdict,
                  int() | None as pulled, list(plates)]:
                out.append(Sheet(f"{id_}#{n}", mark, name, print_, purpose, state, verdict, pulled,
                                 tuple(map(str, plates))))
            case _:
                return None
    return tuple(out)


def declared_by(recipe: Recipe) -> acts.Declare | None:
    """What a recipe says of the size of its edition; None: nothing."""
    known = recipe.print
    if known.edition is None:
        return None
    return acts.Declare(
        recipe_print_id(recipe), known.title, known.artist, known.edition,
        "varied" if recipe.varied else "limited",
        {k: Cap(c.cap, c.inside) for k, c in known.proofs.items()}, by="recipe")


def said_packed(recipe: Recipe) -> list[object]:
    """What a recipe says of its edition as plain values; empty: nothing."""
    said = declared_by(recipe)
    return [] if said is None else [said.title, said.artist, said.size, said.form,
                                    {k: [c.cap, c.inside] for k, c in said.caps.items()}]


def said_unpacked(said: object, print_: str) -> tuple[acts.Declare | None, ...]:
    """The same as it was, alone in a tuple; an empty one: these are no such values."""
    match said:
        case []:
            return (None,)
        case [str(title), str(artist), int(size), "limited" | "varied" as form, dict(caps)]:
            known = {str(k): Cap(*c) for k, c in caps.items() if _is_cap(c)}
            if len(known) < len(caps):
                return ()
            return (acts.Declare(print_, title, artist, size, form, known, by="recipe"),)
    return ()


def _is_cap(said: object) -> bool:
    return isinstance(said, list) and [type(x) for x in said] == [int, bool]


def drying_of(recipe: Recipe) -> tuple[DryStep, ...]:
    """The changes a recipe wants for its prints under the boards."""
    return tuple(DryStep(
        d.do, None if d.after is None else d.after.ms, None if d.every is None else d.every.ms,
        None if d.for_ is None else d.for_.ms) for d in recipe.drying)
