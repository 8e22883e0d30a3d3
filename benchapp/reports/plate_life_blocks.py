"""A plate's life as blocks: a sentence, its days, what grew, its readings. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.reports.blocks import (
    Block,
    Items,
    Medium,
    Photo,
    Said,
    Section,
    Sentence,
    Table,
    Title,
    join_said,
    list_section,
    photo_section,
)
from benchapp.reports.html import render_page
from benchapp.reports.plate_life import VERDICTS, LifeDay, PlateLife
from benchapp.reports.plate_life_text import (
    day_lines,
    grown_words,
    kept_words,
    life_sentence,
    tags_words,
)
from benchapp.reports.reading_blocks import reading_blocks
from benchapp.reports.render_text import render_text


@dataclass(frozen=True, slots=True)
class PlatePhotos:
    """The pictures of a plate: of its sheets in the order pulled, and of its states."""

    sheets: tuple[Photo, ...] = ()
    states: tuple[Photo, ...] = ()


_NONE: Final = PlatePhotos()
_HEADS: Final = ("session", "numbers", "state", *VERDICTS, "not judged", "tags")


def life_blocks(x: PlateLife, medium: Medium, photos: PlatePhotos = _NONE) -> Iterator[Block]:
    """A plate's life: on a page its days are a table, and every part has its name."""
    page = medium == "page"
    said = [life_sentence(x)]
    if x.days:
        said += [f"Of all: {kept_words(x.verdicts)}", *(d.sentence for d in x.drift)]
    sentences = tuple(Sentence(Said(s)) for s in said)
    yield from (Section(f"Plate {x.plate}", sentences),) if page else sentences
    yield photo_section("Its states", photos.states)
    yield photo_section("Its sheets", photos.sheets, small=True)
    if not x.days:
        return
    yield Section("Its days", (_days(x.days) if page else Items(
        tuple(line for d in x.days for line in day_lines(d))),))
    yield list_section("Tags that grew (counted, no proof)", grown_words(x))
    for d in x.drift:
        name = d.name if page else f"{d.name[:1].upper()}{d.name[1:]}, impression by impression"
        yield Section(name, reading_blocks(d, sentence=False, aligned=True))


def _days(days: Sequence[LifeDay]) -> Table:
    return Table(_HEADS, tuple((
        Said(d.session), f"{d.from_} to {d.to}", Said(d.state or ""),
        *(str(n) for _, n in d.verdicts.counts()),
        join_said((tags_words(d.tags, len(d.tags)),
                   *(f"reworked: {r.what or 'how is not said'}" for r in d.reworked))))
        for d in days), frozenset({3, 4, 5, 6}), frozenset({0, 1, 2}))


def life_text(x: PlateLife, *, charts: str | None = None) -> list[str]:
    """A life as lines for a terminal; `charts`: `dots` or `plain`, draw the readings too."""
    return render_text(life_blocks(x, "text"), charts)


def life_page(lives: Sequence[PlateLife], photos: Mapping[str, PlatePhotos] | None = None) -> str:
    """The plates of a print, one after the other, as one page; pictures by the plate's name."""
    if not lives:
        return render_page("No plate", ())
    head = Title(Said(lives[0].print), Said(lives[0].artist))
    return render_page(f"{lives[0].print}: its plates",
                       (head, *(block for x in lives for block in life_blocks(
                           x, "page", (photos or {}).get(x.plate, _NONE)))))
