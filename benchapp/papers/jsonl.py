"""Everything there is, one entry a line: JSON lines that another book can take in again.

A line is one JSON object with the entry's fields by name and its clocks under `at`, in one
spelling (sorted keys, no spaces), UTF-8, ended by LF. Nothing is left out and nothing added, so
that the digests still hold.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict, fields
from typing import Any, Final

from benchapp.journal import Entry, Moment, canonical

#: No entry is longer: a recipe of 256 KiB with every character escaped, and its frame.
LONGEST: Final = 2 * 1024 * 1024
_TEXTS: Final = ("id", "stream", "action", "word", "kind", "sha256")
_NUMBERS: Final = ("wall_ms", "offset_min", "boot_ns", "mono_ns")
_FIELDS: Final = {f.name for f in fields(Entry)}
_CLOCKS: Final = {f.name for f in fields(Moment)}


class NotOurs(ValueError):  # noqa: N818 - what is told a printer
    """A line that is no entry. `line` counts from 1."""

    def __init__(self, line: int, why: str) -> None:
        super().__init__(f"{line}:1: {why}")
        self.line = line
        self.why = why


def lines(entries: Iterable[Entry]) -> Iterator[str]:
    """Each entry as a line, with its end."""
    for entry in entries:
        yield canonical({**asdict(entry), "body": dict(entry.body)}) + "\n"


def read_lines(raw: Iterable[bytes]) -> Iterator[Entry]:
    """The entries of such lines, in order; empty lines are passed by.

    Args:
        raw: Lines as a file opened for bytes gives them.

    Raises:
        NotOurs: A line is no entry, with its number.
    """
    for number, line in enumerate(raw, 1):
        if len(line) > LONGEST:
            raise NotOurs(number, "is longer than any entry")
        if line.strip():
            yield _entry(number, line)


def _entry(number: int, line: bytes) -> Entry:
    try:
        found = json.loads(line.decode("utf-8-sig" if number == 1 else "utf-8"),
                           parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise NotOurs(number, "is no JSON; give a file that benchapp export --jsonl wrote"
                      ) from None
    if not isinstance(found, dict) or found.keys() != _FIELDS:
        raise NotOurs(number, "is no entry of a book; give a file that benchapp export --jsonl "
                              "wrote")
    at = found["at"]
    if not (_are(found, _TEXTS, str) and _are(found, ("position",), int)
            and isinstance(found["body"], dict) and isinstance(at, dict)
            and at.keys() == _CLOCKS and _are(at, _NUMBERS, int) and _are(at, ("boot_id",), str)):
        raise NotOurs(number, "has a field that is not of its kind")
    return Entry(**{**found, "at": Moment(**at)})


def _are(found: dict[str, Any], names: Iterable[str], kind: type) -> bool:
    return all(type(found[name]) is kind for name in names)


def _no_number(word: str) -> None:
    raise ValueError(word)
