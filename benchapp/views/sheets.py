"""The sheets of a session as a list shows them, and one of them whole. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from benchapp.events.entry import Moment
from benchapp.session.annotate import source_mark
from benchapp.session.counting import does_count
from benchapp.session.names import step_of
from benchapp.session.sheet_asked import of_no_pack_words
from benchapp.session.state import Impression, Session, TaskKey
from benchapp.views.bench import for_text


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One sheet as a row."""

    ordinal: int
    number: int
    mark: str
    purpose: str
    by_rule: bool
    verdict: str | None
    tags: tuple[str, ...]
    readings: tuple[str, ...]
    notes: tuple[str, ...]
    look_again: bool
    ended: str | None
    counts: bool
    packs: tuple[str, ...]
    pulled_at: Moment | None


@dataclass(frozen=True, slots=True)
class PullLine:
    """One pull: what it was, of which plates, when; `at` None: time not taken."""

    do: str
    plates: tuple[str, ...]
    at: Moment | None


@dataclass(frozen=True, slots=True)
class SheetWhole:
    """One sheet with all that is known of it."""

    line: SheetLine
    pulls: tuple[PullLine, ...]
    settings: tuple[tuple[str, str], ...]
    laid: bool


def sheet_lines(s: Session) -> tuple[SheetLine, ...]:
    """The sheets pulled in a session, in the order of their numbers."""
    pulled = sorted((i for i in s.impressions if i.number is not None),
                    key=lambda i: i.number or 0)
    return tuple(_line(s, i) for i in pulled)


def round_order(lines: Iterable[SheetLine]) -> tuple[int, ...]:
    """The ordinals as the evening round takes them: unjudged first, each in pulling order."""
    return tuple(x.ordinal for x in sorted(lines, key=lambda x: (x.verdict is not None, x.number)))


def sheet_whole(s: Session, ordinal: int) -> SheetWhole | None:
    """The sheet of that ordinal with pulls and the settings in force at its first pull."""
    imp = s.impression(ordinal)
    if imp is None or imp.number is None:
        return None
    pulls = tuple(PullLine("" if (st := step_of(s, TaskKey(p.step, ordinal))) is None else st.do,
                           p.plates, p.at) for p in imp.pulls)
    return SheetWhole(_line(s, imp), pulls, _in_force(s, imp.number), imp.laid)


def _in_force(s: Session, number: int) -> tuple[tuple[str, str], ...]:
    """The settings at a pull; `Left side` and `left side` are one, spelled as it was first."""
    found: dict[str, tuple[str, str]] = {}
    for x in s.settings:
        if x.since <= number:
            key = x.name.casefold()
            found[key] = found.get(key, (x.name, ""))[0], x.value
    return tuple(found.values())


def _line(s: Session, i: Impression) -> SheetLine:
    readings = tuple(" ".join(x for x in (r.name, r.value, shown_unit(r.unit)) if x)
                     for r in i.readings)
    return SheetLine(
        i.ordinal, i.number or 0, i.mark or "", for_text(i.purpose or "", i.state),
        i.purpose_by == "rule", i.verdict, i.tags, readings, i.notes, i.look_again, _ended(s, i),
        does_count(s, i), tuple(of_no_pack_words(i.damp) if p is None else _pack_words(p, s.id)
                                for p in i.sheets),
        i.pulled_at)


def _ended(s: Session, i: Impression) -> str | None:
    """How it ended where it stays as it is; a counterproof names the sheet it is of."""
    of = source_mark(s, i)
    return i.ended if of is None else f"of {of}"


def shown_unit(unit: str | None) -> str:
    """A grade needs no unit beside its figure."""
    return "" if unit is None or unit.startswith("grade") else unit


def _pack_words(pack: str, session: str) -> str:
    """What a pack is called here: by its number in this session, else by where it is from."""
    own, _, number = pack.rpartition(".")
    if own == session:
        return f"pack {number}"
    return f"pack {number} of {own.partition('@')[0].removeprefix('damped ')}"
