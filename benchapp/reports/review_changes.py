"""What was changed between two pulls and what was seen then: as it happened, not as proof.

Beside each change stand the tags of the sheets just before it and of those after: what was
there and has not been since, what has been only since.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from benchapp.history.drift import drift_answers, drift_readings
from benchapp.quantities import join_words
from benchapp.reports.reading_drift import ReadingDrift, read_drift
from benchapp.session.state import Impression, Session

#: Sheets before a change that are looked at.
_BEFORE: Final = 3


@dataclass(frozen=True, slots=True)
class SettingChange:
    """A setting or a plate changed after the first pull, with what was seen."""

    what: Annotated[str | None, "the setting, or the plate that was reworked"]
    was: Annotated[str | None, "the value before; null for a plate"]
    now: Annotated[str, "the value since, or what was done to the plate"]
    after: Annotated[int, "the number of the last impression before the change"]
    not_since: Annotated[Mapping[str, tuple[int, ...]],
                         "tags seen before and not since, each with its impressions"]
    only_since: Annotated[Mapping[str, tuple[int, ...]],
                          "tags seen only since, each with its impressions"]
    sentence: Annotated[str, "the same in words"]


def setting_changes(s: Session) -> list[SettingChange]:
    """Each change of a setting or a plate after the first pull, with what was seen."""
    sheets = sorted((i for i in s.impressions if i.pulled), key=lambda i: i.number or 0)
    return [_seen(what, was, now, after, sheets) for what, was, now, after in _made(s, sheets)]


def _made(s: Session,
          sheets: Sequence[Impression]) -> Iterator[tuple[str | None, str | None, str, int]]:
    """(what, was, now, the last number before it), in the order made."""
    now: dict[str, str] = {}
    found: list[tuple[str | None, str | None, str, int]] = []
    for x in s.settings:
        was, now[x.name] = now.get(x.name), x.value
        if was != x.value and x.since > 1:
            found.append((x.name, was, x.value, x.since - 1))
    for plate, state, what, at in s.reworks:
        done = [i.number or 0 for i in sheets
                if any(p.at is not None and p.at.wall_ms <= at.wall_ms for p in i.pulls)]
        if done:
            words = " ".join(filter(None, (f"state {state}" if state else "", what)))
            found.append((plate, None, words or "reworked", max(done)))
    yield from sorted(found, key=lambda change: change[3])


def _seen(what: str | None, was: str | None, now: str, after: int,
          sheets: Sequence[Impression]) -> SettingChange:
    before = [i for i in sheets if (i.number or 0) <= after][-_BEFORE:]
    since = [i for i in sheets if (i.number or 0) > after]
    earlier = [i for i in sheets if (i.number or 0) <= after]
    gone = {t: n for t in _tags(before) if _telling(n := _where(t, before), after)
            and since and not _where(t, since)}
    came = {t: n for t in _tags(since)
            if _telling(n := _where(t, since), after + 1) and not _where(t, earlier)}
    return SettingChange(what, was, now, after, gone, came,
                         _sentence(what, was, now, after, gone, came))


def _telling(numbers: Sequence[int], beside: int) -> bool:
    """A tag is told with a change where it was on the sheet beside it, or on more than one."""
    return beside in numbers or len(numbers) > 1


def _tags(sheets: Sequence[Impression]) -> list[str]:
    return list(dict.fromkeys(t for i in sheets for t in i.tags))


def _where(tag: str, sheets: Sequence[Impression]) -> tuple[int, ...]:
    return tuple(i.number or 0 for i in sheets if tag in i.tags)


def _sentence(what: str | None, was: str | None, now: str, after: int,
              gone: Mapping[str, Sequence[int]], came: Mapping[str, Sequence[int]]) -> str:
    parts = [f"{what} {f'{was} → ' if was else ''}{now} after {after}"]
    parts += [f"{tag} in {join_words(map(str, where))}, not since" for tag, where in gone.items()]
    parts += [f"{tag} in {join_words(map(str, where))}, not before" for tag, where in came.items()]
    return "; ".join(parts)


# -- drift --------------------------------------------------------------------------------------


def reading_drifts(s: Session, made: Sequence[SettingChange]) -> list[ReadingDrift]:
    """How each reading moves over the session's sheets; none where no two are to be alike.

    Args:
        s: The session, folded.
        made: Its changes: no limits are drawn over one.
    """
    changed = [x.after for x in made]
    return [read_drift(answer, drift_readings(s, str(answer.figures["name"])), changed)
            for answer in drift_answers(s)]
