"""Everything there is, one entry a line: JSON lines that another book can take in again.

A line is one JSON object with the entry's fields by name and its clocks under `at`, in one
spelling (sorted keys, no spaces), UTF-8, ended by LF. Nothing is left out and nothing added, so
that the digests still hold.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from typing import Any, Final

from benchapp.events.entry import Entry, Moment, canonical_json

#: No entry is longer: a recipe of 256 KiB with every character escaped, and its frame.
LONGEST: Final = 2 * 1024 * 1024
_TEXTS: Final = ("id", "stream", "action", "word", "kind", "sha256")
_NUMBERS: Final = ("wall_ms", "offset_min", "boot_ns", "mono_ns")
_WHOLE: Final = frozenset({"position", *_NUMBERS})
_NOT_WHOLE: Final = "not whole"
_NOT_WHOLE_BEGINS: Final = b'{"not whole":'
_FIELDS: Final = {f.name for f in fields(Entry)}
_CLOCKS: Final = {f.name for f in fields(Moment)}


class NotOurs(ValueError):  # noqa: N818 - what is told a printer
    """A line that is no entry. `line` counts from 1."""

    def __init__(self, line: int, why: str) -> None:
        super().__init__(f"{line}:1: {why}")
        self.line = line
        self.why = why


def entry_lines(entries: Iterable[Entry]) -> Iterator[str]:
    """Each entry as a line, with its end."""
    for entry in entries:
        told = {name: getattr(entry, name) for name in _FIELDS}
        told["body"] = dict(entry.body)
        told["at"] = {name: getattr(entry.at, name) for name in _CLOCKS}
        yield canonical_json(told) + "\n"


def not_whole(ends: Mapping[str, int]) -> str:
    """The last line of a file that a damaged book gave: which streams are not whole.

    Args:
        ends: Those streams, each with the last position it is known to have had.
    """
    return canonical_json({_NOT_WHOLE: dict(ends)}) + "\n"


def read_not_whole(line: bytes) -> dict[str, int] | None:
    """What such a line says; None: it is none."""
    if not line.startswith(_NOT_WHOLE_BEGINS):
        return None
    try:
        found = json.loads(line)
    except (ValueError, RecursionError):
        return None
    ends = found.get(_NOT_WHOLE) if isinstance(found, dict) and len(found) == 1 else None
    if not isinstance(ends, dict) or not all(type(x) is int for x in ends.values()):
        return None
    return ends


class EntryLines(Iterable[Entry]):
    """The entries of such lines, in order; empty lines are passed by.

    Attributes:
        number: The line the last entry stood on, from 1; 0 before the first.
    """

    def __init__(self, raw: Iterable[bytes]) -> None:
        """Read from lines as a file opened for bytes gives them."""
        self._raw = raw
        self.number = 0

    def __iter__(self) -> Iterator[Entry]:
        """Read them, once.

        Raises:
            NotOurs: A line is no entry, with its number.
        """
        for line in self._raw:
            self.number += 1
            if len(line) > LONGEST:
                raise NotOurs(self.number, "is longer than any entry")
            if line.strip() and read_not_whole(line) is None:
                yield _entry(self.number, line)


def read_lines(raw: Iterable[bytes]) -> Iterator[Entry]:
    """The entries of such lines, in order; empty lines are passed by.

    Raises:
        NotOurs: A line is no entry, with its number.
    """
    return iter(EntryLines(raw))


def _entry(number: int, line: bytes) -> Entry:
    try:
        found = json.loads(line.decode("utf-8-sig" if number == 1 else "utf-8"),
                           parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise NotOurs(number, "is not JSON; give a file that benchapp export --jsonl wrote"
                      ) from None
    if not isinstance(found, dict) or found.keys() != _FIELDS:
        raise NotOurs(number, "is not an entry of a book; give a file that benchapp export --jsonl "
                              "wrote")
    at = found["at"]
    if not isinstance(at, dict) or at.keys() != _CLOCKS:
        raise NotOurs(number, f"at: must hold {', '.join(sorted(_CLOCKS))}")
    _hold(number, found, (*_TEXTS, "position", "body"))
    _hold(number, at, (*_NUMBERS, "boot_id"))
    return Entry(**{**found, "at": Moment(**at)})


def _hold(number: int, found: dict[str, Any], names: Iterable[str]) -> None:
    """Hold that each is of its kind: a bool is no number."""
    for name in names:
        kind, must = (dict, "an object") if name == "body" else (
            (int, "a whole number") if name in _WHOLE else (str, "a text"))
        if type(found[name]) is not kind:
            raise NotOurs(number, f"{name}: must be {must}")


def _no_number(word: str) -> None:
    raise ValueError(word)
