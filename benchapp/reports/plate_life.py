"""One plate's whole life: its days in order, and how its readings went over all its sheets.

Impressions are counted over the days, from those it gave before the book where that is known.
Pure: folded sessions of one print in, a report out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final

from benchapp.events.moments import iso_text
from benchapp.history.drift import GRADE_LIMIT, are_sheets_alike, drift_readings
from benchapp.reckon.shares import wilson_interval
from benchapp.reckon.trend import Point, reading_trend
from benchapp.reports.json_form import Key, Time
from benchapp.reports.reading_drift import GRADES, ReadingDrift, read_drift
from benchapp.session.state import NOT_COUNTED, Impression, Session

VERDICTS: Final = ("keep", "doubtful", "spoiled")


@dataclass(frozen=True, slots=True)
class Verdicts:
    """How many sheets have each verdict; the share kept is of those judged."""

    keep: Annotated[int, "sheets to keep"]
    doubtful: Annotated[int, "doubtful sheets"]
    spoiled: Annotated[int, "spoiled sheets"]
    not_judged: Annotated[int, Key("not judged"), "sheets nobody judged"]
    kept_share: Annotated[float | None, "kept of those judged, 0 to 1; null: none judged"]
    kept_low: Annotated[float | None, "the low end of its 95 % interval"]
    kept_high: Annotated[float | None, "the high end of its 95 % interval"]

    @property
    def judged(self) -> int:
        """Sheets that have a verdict."""
        return self.keep + self.doubtful + self.spoiled

    def counts(self) -> tuple[tuple[str, int], ...]:
        """Each verdict with its sheets, those not judged last."""
        return (("keep", self.keep), ("doubtful", self.doubtful), ("spoiled", self.spoiled),
                ("not judged", self.not_judged))


@dataclass(frozen=True, slots=True)
class LifeRework:
    """What was done to the plate."""

    what: Annotated[str | None, "what was done"]
    state: Annotated[str | None, "its state since"]
    at: Annotated[Time, "when"]


@dataclass(frozen=True, slots=True)
class LifeDay:
    """One session in a plate's life."""

    session: Annotated[str, "its name"]
    opened_at: Annotated[Time, "when it was opened"]
    from_: Annotated[int, "its first impression, counted over the plate's life"]
    to: Annotated[int, "its last impression"]
    pulled: Annotated[int, "impressions pulled"]
    verdicts: Annotated[Verdicts, "the verdicts on them"]
    tags: Annotated[Mapping[str, int], "on how many sheets each tag is, the commonest first"]
    state: Annotated[str | None, "the plate's state"]
    reworked: Annotated[tuple[LifeRework, ...], "what was done to the plate"]


@dataclass(frozen=True, slots=True)
class GrownTag:
    """A tag on more sheets of the later half of a life than of the earlier."""

    tag: Annotated[str, "the tag"]
    earlier: Annotated[int, "sheets of the earlier half with it"]
    later: Annotated[int, "sheets of the later half with it"]


@dataclass(frozen=True, slots=True)
class PlateLife:
    """A plate's whole life."""

    FORMAT: ClassVar = "life/1"

    print: Annotated[str, "the title of the print"]
    artist: Annotated[str, "whose print it is"]
    plate: Annotated[str, "the plate's name"]
    before: Annotated[int, "impressions it gave before this book"]
    impressions: Annotated[int, "impressions in all"]
    days: Annotated[tuple[LifeDay, ...], "its sessions, in order"]
    expected: Annotated[int | None, "how many impressions the recipe expects of it"]
    verdicts: Annotated[Verdicts, "the verdicts on all its sheets"]
    grown: Annotated[tuple[GrownTag, ...], "tags that grew, most grown first"]
    drift: Annotated[tuple[ReadingDrift, ...], "how each reading goes over its life"]


def plate_life(sessions: Sequence[Session], plate: str, before: int = 0, *, title: str = "",
               artist: str = "") -> PlateLife:
    """A plate's life.

    Args:
        sessions: Of one print, folded, in the order opened.
        plate: Its name.
        before: Impressions it gave before the book.
        title: The title of the print.
        artist: Whose it is.
    """
    own = [(s, sheets) for s in sessions if (sheets := _of(s, plate))]
    days, at = [], before
    for s, sheets in own:
        days.append(_day(s, sheets, at, plate))
        at += len(sheets)
    meant = own[-1][0].recipe.plate(plate) if own else None
    return PlateLife(
        title, artist, plate, before, at, tuple(days), None if meant is None else meant.life,
        _verdicts([i for _, sheets in own for i in sheets]),
        tuple(_grown([i for _, x in own for i in x])),
        tuple(_drifts(own, plate, before)))


def _of(s: Session, plate: str) -> list[Impression]:
    """The sheets a plate was on, in pulling order."""
    return sorted((i for i in s.impressions
                   if i.number is not None and any(plate in p.plates for p in i.pulls)),
                  key=lambda i: i.number or 0)


def _day(s: Session, sheets: Sequence[Impression], at: int, plate: str) -> LifeDay:
    tags = Counter(t for i in sheets for t in i.tags)
    return LifeDay(
        s.name, iso_text(s.opened), at + 1, at + len(sheets), len(sheets), _verdicts(sheets),
        dict(sorted(tags.items(), key=lambda pair: (-pair[1], pair[0]))), s.states.get(plate),
        tuple(LifeRework(what, state, iso_text(moment))
              for name, state, what, moment in s.reworks if name == plate))


def _verdicts(sheets: Sequence[Impression]) -> Verdicts:
    """How many of each."""
    counts = Counter(i.verdict for i in sheets)
    kept, doubtful, spoiled = (counts[v] for v in VERDICTS)
    judged = kept + doubtful + spoiled
    low, high = wilson_interval(kept, judged) if judged else (None, None)
    return Verdicts(kept, doubtful, spoiled, counts[None], kept / judged if judged else None,
                    low, high)


def _grown(sheets: Sequence[Impression]) -> list[GrownTag]:
    """Tags on at least two sheets more of the later half than of the earlier, most grown first."""
    half = len(sheets) // 2
    early, late = (Counter(t for i in part for t in i.tags)
                   for part in (sheets[:half], sheets[len(sheets) - half :]))
    grown = [(late[t] - early[t], t) for t in late if late[t] - early[t] >= 2]
    return [GrownTag(t, early[t], late[t])
            for _, t in sorted(grown, key=lambda pair: (-pair[0], pair[1]))]


def _named(own: Sequence[tuple[Session, Sequence[Impression]]]) -> dict[str, str | None]:
    """Every reading of editions alike, with its unit as last written."""
    return {r.name: r.unit for s, sheets in own if are_sheets_alike(s) for i in sheets
            for r in i.readings
            if i.purpose not in NOT_COUNTED}


def life_points(own: Sequence[tuple[Session, Sequence[Impression]]], name: str,
                before: int = 0) -> list[Point]:
    """A reading's figures, each at the number its sheet has in the plate's life."""
    found, at = [], before
    for s, sheets in own:
        place = {i.number: at + n for n, i in enumerate(sheets, 1)}
        if are_sheets_alike(s):
            found += [Point(place[p.n], p.value) for p in drift_readings(s, name) if p.n in place]
        at += len(sheets)
    return found


def _drifts(own: Sequence[tuple[Session, Sequence[Impression]]], plate: str,
            before: int) -> list[ReadingDrift]:
    named = _named(own)
    return [_drift(name, unit, own, plate, before, len(named)) for name, unit in named.items()]


def _drift(name: str, unit: str | None, own: Sequence[tuple[Session, Sequence[Impression]]],
           plate: str, before: int, readings: int) -> ReadingDrift:
    found = life_points(own, name, before)
    meant = own[-1][0].recipe.plate(plate)
    answer = reading_trend(name, found, unit=unit or "", where="the plate's life",
                           readings=readings,
                           life=None if meant is None else meant.life,
                           tolerance=GRADE_LIMIT if unit == GRADES else None)
    return read_drift(answer, found, _changed(own, before))


def _changed(own: Sequence[tuple[Session, Sequence[Impression]]], before: int) -> list[int]:
    """The numbers after which a setting became another, or the plate was reworked.

    A setting that one day does not say is taken as unchanged.
    """
    out, at = [], before
    known: dict[str, str] = {}
    for s, sheets in own:
        reworked = [moment.wall_ms for _, _, _, moment in s.reworks]
        for n, i in enumerate(sheets, at + 1):
            now = {x.name: x.value for x in s.settings if x.since <= (i.number or 0)}
            pulled = [p.at.wall_ms for p in i.pulls if p.at is not None]
            done = [ms for ms in reworked if pulled and ms <= pulled[0]]
            if done or any(known.get(k, v) != v for k, v in now.items()):
                out.append(n - 1)
            reworked = [ms for ms in reworked if ms not in done]
            known |= now
        at += len(sheets)
    return out

