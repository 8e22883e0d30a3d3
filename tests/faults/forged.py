"""Entries that no book wrote, with places and digests that hold."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any, Final

from benchapp.events.entry import Entry, Moment, entry_digest
from benchapp.events.kinds import KINDS, Kind
from benchapp.events.streams import stream_family

HOUR_MS: Final = 3_600_000
#: Values a field may hold by its kind and yet never held in any book; and those no field may hold.
STRANGE: Final[tuple[Any, ...]] = (
    None, True, False, 0, 1, 2, 3, 4, 5, 7, 40, 9_998, 9_999, 10**6, 10**9, 2**31, 2**53, -1, -40,
    253_370_764_800_000, 3_162_240_000_000, 1.5, 1e300, "", " ", "0", "3", "key", "tone", "wash",
    "each.1", "each.2", "each.3", "each.4", "before.1", "after.1", "damp.in", "damp.out", "keep",
    "spoiled", "doubtful", "edition", "SP", "TP", "WP", "AP", "BAT", "HC", "numbered", "warm-up",
    "ghost", "cancellation proof", "done", "left", "dropped", "skipped", "not said", "cut short",
    "passed", "progressive", "spoiled before the pull", "spoiled before the last pull", "inky",
    "clean", "free", "rule", "printer", "took", "away", "forgot", "dried", "none", "wrapped",
    "gallery", "given", "sold", "boards", "drawer", "framed", "lost", "limited", "varied", "open",
    "plate cancelled", "clash settled", "salty", "4", "18 °C", "1970-01-01", "9999-12-31",
    "2026-05-03", "2024-02-29", "not known", "screws", "\u202e", "\x1b[2J", "=1+1", "</td>",
    "a\nb", "紙" * 40, "x" * 5_000, "other:1", "other:999999", "#3", "#", "@", "·", "@other.1",
    [], [""], ["key"], ["key", "key", "tone"], ["other:1"], [1], [None], [[]], {}, {"a": 1},
    {"AP": {"cap": 4, "inside": True}}, {"AP": {"cap": 0, "inside": False}}, {"note": "x"},
    {"kind": "AP", "number": 2, "of": None}, {"kind": "numbered", "number": 1, "of": 9_999},
    {"kind": "numbered", "number": None, "of": None},
    [{"do": "", "after_ms": None, "every_ms": None, "for_ms": None}],
    [{"do": "x", "after_ms": 1, "every_ms": 1, "for_ms": 3_162_240_000_000}],
    [{"do": "x", "after_ms": 1, "every_ms": HOUR_MS, "for_ms": None}],
)
_OUTER: Final = ("id", "stream", "action", "word", "kind", "at", "body")
#: Moments as clocks tell them that were set, stood still, or belong to another machine.
_CLOCKS: Final[tuple[Callable[[Moment, random.Random], Moment], ...]] = (
    lambda m, dice: replace(m, wall_ms=dice.choice((0, 1, 253_370_764_800_000, m.wall_ms + 1))),
    lambda m, dice: replace(m, wall_ms=m.wall_ms + dice.randint(-48, 48) * HOUR_MS),
    lambda m, dice: replace(m, offset_min=dice.choice((-1_439, -61, 0, 1, 345, 1_439))),
    lambda m, dice: replace(m, boot_ns=dice.choice((0, -1, -2**62, 2**62, m.boot_ns * 2))),
    lambda m, dice: replace(m, mono_ns=dice.choice((0, -1, -2**62, 2**62, m.mono_ns * 2))),
    lambda m, dice: replace(m, boot_id=dice.choice(("", "boot-1", "boot-2", "\u202e", "x" * 99))),
)


def chained(entries: Iterable[Entry]) -> list[Entry]:
    """The entries with places and digests that hold: only what they say is strange."""
    heads: dict[str, tuple[int, str]] = {}
    out = []
    for e in entries:
        position, before = heads.get(e.stream, (0, ""))
        bare = replace(e, position=position + 1)
        try:
            new = replace(bare, sha256=entry_digest(before, bare))
        except (TypeError, ValueError):  # no JSON: no file could hold it
            new = bare
        heads[e.stream] = (new.position, new.sha256)
        out.append(new)
    return out


class Forger:
    """Makes files out of the entries of a sound one; a seed is a file."""

    def __init__(self, sound: Sequence[Entry]) -> None:
        self._sound = tuple(sound)
        by_name: dict[str, list[Any]] = {}
        for e in sound:
            for name, value in e.body.items():
                known = by_name.setdefault(name, [])
                if value not in known:
                    known.append(value)
        #: Every value the sound file has, of a field of that name or of any.
        self._by_name = by_name
        self._any = [v for known in by_name.values() for v in known]

    def forge(self, seed: int) -> list[Entry]:
        """The file of that seed."""
        dice = random.Random(seed)
        entries = list(self._sound)
        for _ in range(dice.choice((1, 1, 1, 2, 2, 3, 5))):
            way = dice.choices((self._field, self._new, self._outer, self._clocks, self._order),
                               (4, 5, 1, 2, 2))[0]
            way(entries, dice)
            if not entries:
                break
        return chained(entries)

    # -- what can be done to them; each changes the list ---------------------------------------

    def _field(self, entries: list[Entry], dice: random.Random) -> None:
        """A field says something else: mostly what it may say."""
        at = dice.randrange(len(entries))
        e = entries[at]
        kind = KINDS.get((stream_family(e.stream), e.kind))
        if kind is None or not e.body:
            return
        name = dice.choice(sorted(e.body))
        entries[at] = replace(e, body={**e.body, name: self._value(kind, name, dice)})

    def _new(self, entries: list[Entry], dice: random.Random) -> None:
        """An entry of any kind, in a stream that is there or in a new one, at any place."""
        kind = dice.choice(tuple(KINDS.values()))
        of = [e for e in entries if stream_family(e.stream) == kind.stream]
        model = dice.choice(of or entries)
        stream = model.stream if of and dice.random() < .9 else dice.choice((
            f"{kind.stream}/new@other", f"{kind.stream}/new@other.1", f"{kind.stream}/new@third",
            f"{model.stream}@third", f"{kind.stream}/", f"{model.stream}/private"))
        names = (*kind.fields, *(x for x in kind.optional if dice.random() < .5))
        body = {name: self._value(kind, name, dice) for name in names}
        number = 1 + max((int(e.id.rpartition(":")[2]) for e in entries
                          if e.id.rpartition(":")[2].isdecimal()), default=0)
        origin = stream.rpartition("@")[2] if stream.endswith("@third") else "other"
        at = dice.choice((dice.randint(0, len(entries)), len(entries)))
        entries.insert(at, replace(model, id=f"{origin}:{number}", stream=stream, kind=kind.name,
                                   body=body, word=dice.choice((kind.name, model.word))))

    def _value(self, kind: Kind, name: str, dice: random.Random) -> Any:
        """A value for a field: three times in ten any, else one that its rule allows."""
        fits = kind.rules[name].fits if name in kind.rules else (lambda _: True)
        if dice.random() < .3:
            return dice.choice(STRANGE)
        pool = dice.choice((self._by_name.get(name, STRANGE), self._any, STRANGE, STRANGE))
        allowed = [v for v in pool if fits(v)] or [v for v in STRANGE if fits(v)]
        return dice.choice(allowed or STRANGE)

    def _outer(self, entries: list[Entry], dice: random.Random) -> None:
        """What stands round a body is another entry's."""
        at, other = dice.randrange(len(entries)), dice.choice(entries)
        name = dice.choice(_OUTER)
        entries[at] = replace(entries[at], **{name: getattr(other, name)})

    def _clocks(self, entries: list[Entry], dice: random.Random) -> None:
        """One entry, or all from one on, have other clocks."""
        at, change = dice.randrange(len(entries)), dice.choice(_CLOCKS)
        end = dice.choice((at + 1, len(entries)))
        entries[at:end] = [replace(e, at=change(e.at, dice)) for e in entries[at:end]]

    def _order(self, entries: list[Entry], dice: random.Random) -> None:
        """Entries lost, moved, written twice, or a tail cut off."""
        at = dice.randrange(len(entries))
        match dice.randrange(4):
            case 0:
                del entries[at]
            case 1:
                entries.insert(dice.randint(0, len(entries) - 1), entries.pop(at))
            case 2:
                last = max(int(e.id.rpartition(":")[2]) for e in entries)
                entries.append(replace(entries[at], id=f"other:{last + 1}"))
            case _:
                del entries[at + 1:]
