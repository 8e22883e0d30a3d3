"""In what order the words of several books about one session count.

Each book writes in a stream of its own, and whichever takes the other in has the rows in another
order. So the order is read from the streams alone: by the wall clock of whoever wrote, made never
to run backwards inside a stream, the session's own stream first where two are equal; and what is
said of a sheet comes after its pull, whatever the clocks say. The later word stands, in every
book. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from benchapp.events.entry import Entry
from benchapp.events.event import ActionTakenBack
from benchapp.events.impression import ImpressionPulled, SheetEvent
from benchapp.events.streams import is_said, stream_family, told_of

#: When a word counts: how far the clock had come in its stream, the session's own first.
Turn = tuple[int, str, int]


def _is_said(stream: str) -> bool:
    """Whether another book says it of a session; what is said of stacks is no matter of a day."""
    return stream_family(stream) == "session" and is_said(stream)


def order_entries(journal: tuple[Entry, ...]) -> Iterable[Entry]:
    """The entries in the order they count: what other books said put among what it is said of.

    Words about a session that is not among them are left out.
    """
    about = {told_of(e.stream) for e in journal if _is_said(e.stream)}
    return _merged(journal, about) if about else journal


def _merged(journal: tuple[Entry, ...], about: set[str]) -> Iterator[Entry]:
    told = [(turn, e) for turn, e in zip(_turns(journal), journal, strict=True)]
    waiting: dict[str, list[tuple[Turn, Entry]]] = {stream: [] for stream in about}
    left = dict.fromkeys(about, 0)
    for turn, e in told:
        if _is_said(e.stream):
            waiting[told_of(e.stream)].append((turn, e))
        elif e.stream in left:
            left[e.stream] += 1
    for said in waiting.values():
        said.sort(key=lambda x: x[0], reverse=True)
    for turn, e in told:
        if _is_said(e.stream):
            continue
        said = waiting.get(e.stream, [])
        while said and said[-1][0] < turn:
            yield said.pop()[1]
        yield e
        if e.stream in left:
            left[e.stream] -= 1
            while said and not left[e.stream]:
                yield said.pop()[1]


def _turns(journal: tuple[Entry, ...]) -> Iterator[Turn]:
    reached: dict[str, int] = {}
    pulled = _pulls(journal)
    for e in journal:
        at = max(reached.get(e.stream, e.at.wall_ms), e.at.wall_ms)
        if _is_said(e.stream) and isinstance(e.event, SheetEvent):
            at = max(at, pulled.get((told_of(e.stream), e.event.impression), at))
        reached[e.stream] = at
        yield at, e.stream, e.position


def _pulls(journal: tuple[Entry, ...]) -> dict[tuple[str, int | None], int]:
    """How far the clock of a session had come at the first pull of each sheet that counts."""
    void = {event.action for e in journal if isinstance(event := e.event, ActionTakenBack)}
    reached: dict[str, int] = {}
    out: dict[tuple[str, int | None], int] = {}
    for e in journal:
        reached[e.stream] = max(reached.get(e.stream, e.at.wall_ms), e.at.wall_ms)
        if isinstance(e.event, ImpressionPulled) and e.action not in void:
            out.setdefault((e.stream, e.event.impression), reached[e.stream])
    return out


def reach_by_stream(journal: tuple[Entry, ...]) -> dict[str, int]:
    """How far the words of other books reach, by the stream of the session they are about."""
    out: dict[str, int] = {}
    if not any(_is_said(e.stream) for e in journal):
        return out
    for at, stream, _ in _turns(journal):
        if _is_said(stream):
            out[told_of(stream)] = max(out.get(told_of(stream), at), at)
    return out


def comes_last(journal: Iterable[Entry], reached: Mapping[str, int], entry: Entry) -> bool:
    """Whether an entry counts after all those there are, so that nothing need be folded anew."""
    if stream_family(entry.stream) != "session":
        return True
    stream = told_of(entry.stream)
    if stream == entry.stream:
        return entry.at.wall_ms > reached.get(stream, entry.at.wall_ms - 1)
    return all(e.at.wall_ms < entry.at.wall_ms for e in journal if told_of(e.stream) == stream)
