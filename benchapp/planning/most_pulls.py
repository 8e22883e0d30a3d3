"""The most pulls a day can have: what is left of the edition, and of each plate's life. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from benchapp.edition import figures
from benchapp.edition.numbers import used_up
from benchapp.edition.state import Register
from benchapp.edition.streams import print_id
from benchapp.planning.what_if import Most
from benchapp.recipe.model import Recipe
from benchapp.session.cancelling import cancelled_for, only_proof_words
from benchapp.session.counting import count_impressions, warm_ups
from benchapp.session.state import Session

#: What a sheet of an edition's day is pulled for.
_EDITION = "edition"


def most_of(register: Register, recipe: Recipe, running: Session | None = None) -> Most | None:
    """The most pulls of a day, or None where neither edition nor plate says.

    Warm-ups are not counted against the edition, and sheets that wait for their number are.

    Args:
        register: The editions of the book.
        recipe: What is printed.
        running: The session whose rest of the day is planned; its pulls are of the day.
    """
    printed = recipe.print
    id_ = print_id(printed.title, printed.artist, printed.key)
    gone = cancelled_for(register, recipe)
    if gone is not None:
        done = 0 if running is None else _pulled(running)
        return Most(max(1, done), only_proof_words(printed.title, gone), ended=True)
    found = [*_of_edition(register, id_, recipe, running),
             *_of_plates(register, id_, recipe, running)]
    return min(found, key=lambda x: x.pulls, default=None)


def most_of_edition(register: Register, recipe: Recipe) -> Most | None:
    """What is left of the edition, warm-ups left out; None: nobody said how many there are."""
    printed = recipe.print
    return next(_of_edition(register, print_id(printed.title, printed.artist, printed.key), recipe,
                            None, aside=False), None)


def _of_edition(register: Register, id_: str, recipe: Recipe,
                running: Session | None, *, aside: bool = True) -> Iterator[Most]:
    e = register.edition(id_)
    size = e.size if e.declared is not None else recipe.print.edition
    if size is None or recipe.proofing is not None or e.form == "open":
        return
    today = "" if running is None else running.id
    waiting = sum(
        1 for sheet, pulled, held in figures.edition_sheets(register, id_)
        if pulled is not None and pulled.purpose == _EDITION and pulled.verdict != "spoiled"
        and (held is None or not held.claims) and sheet.rpartition("#")[0] != today)
    left = max(0, size - used_up(e, size) - waiting)
    extra = warm_ups(recipe) if aside else 0
    if running is not None:
        extra = max(extra, _pulled(running) - count_impressions(running))
    if not left:
        ends = "" if e.cut is None else f", cut short at {e.cut.size}"
        yield Most(0, f"nothing is left of the edition of {size}{ends}")
        return
    warm = f", and {extra} pulls that do not count" if extra else ""
    yield Most(left + extra, f"{left} {'is' if left == 1 else 'are'} left of the edition of "
                             f"{size}{warm}", warm_ups_said=bool(warm))


def _of_plates(register: Register, id_: str, recipe: Recipe,
               running: Session | None) -> Iterator[Most]:
    given = {p.name: p.total for p in figures.plate_figures(register, id_)}
    for plate in recipe.plates:
        each = sum(step.pulls.count(plate.name) for step in recipe.each)
        if plate.life is None or not each:
            continue
        left = max(0, plate.life - given.get(plate.name, 0)) // each
        done = 0 if running is None else _pulled(running)
        yield Most(left + done, f"the plate {plate.name} is good for {plate.life} impressions")


def _pulled(s: Session) -> int:
    """Impressions pulled from the plate today."""
    return sum(1 for i in s.impressions if i.pulled and i.counterproof is None)
