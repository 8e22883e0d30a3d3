"""Is this an entry the book can hold? Asked of a whole action before any of it is written."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

from benchapp.book.errors import Unwritable
from benchapp.events.entry import Draft, Moment
from benchapp.events.kinds import KINDS
from benchapp.events.streams import SAID, is_said, stream_family

#: SQLite's integers end here, and so do those of many JSON readers.
_LARGEST: Final = 2**63 - 1


def check_drafts(drafts: Sequence[Draft], at: Moment, word: str) -> tuple[Draft, ...]:
    """The drafts with their bodies as plain JSON values, just as they will be read back.

    Raises:
        Unwritable: A kind or a field the registry does not have, one missing, or a
            value that would not come back as it went in. The message names it.
    """
    _text(word, "the action's word")
    if not word:
        raise Unwritable("the action's word is empty")
    _text(at.boot_id, "boot_id")
    for name in ("wall_ms", "offset_min", "boot_ns", "mono_ns"):
        _integer(getattr(at, name), name)
    return tuple(_draft(draft) for draft in drafts)


def _draft(draft: Draft) -> Draft:
    _text(draft.stream, "the stream")
    head, slash, name = draft.stream.partition("/")
    if not (head and slash and name):
        raise Unwritable(f"the stream {draft.stream!r} is not of the form family/name")
    kind = KINDS.get((stream_family(draft.stream), draft.kind))
    if kind is None:
        raise Unwritable(
            f"no kind {draft.kind!r} is registered for {stream_family(draft.stream)!r}")
    if is_said(draft.stream) and (
            draft.kind not in SAID[stream_family(draft.stream)] or draft.stream.count("@") > 2):
        raise Unwritable(f"{draft.kind}: is not for {draft.stream} to say; only the book that "
                         f"began the {stream_family(draft.stream)} writes it")
    if missing := set(kind.fields) - set(draft.body):
        raise Unwritable(f"{draft.kind}: missing {', '.join(sorted(missing))}")
    if extra := set(draft.body) - {*kind.fields, *kind.optional}:
        raise Unwritable(f"{draft.kind}: not registered: {', '.join(sorted(map(repr, extra)))}")
    body = {name: _plain(value, f"{draft.kind}: {name}") for name, value in draft.body.items()}
    return Draft(draft.stream, draft.kind, body)


def _plain(value: object, where: str) -> object:
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, str):
        return _text(value, where)
    if isinstance(value, int):
        return _integer(value, where)
    if isinstance(value, float):
        return _number(value, where)
    if isinstance(value, Mapping):
        return {_key(key, where): _plain(item, f"{where}.{key}") for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(item, f"{where}[{i}]") for i, item in enumerate(value)]
    raise Unwritable(f"{where}: {type(value).__name__} is not a JSON value")


def _key(key: object, where: str) -> str:
    if not isinstance(key, str):
        raise Unwritable(f"{where}: the key {key!r} is not text")
    return _text(key, f"{where}, a key")


def _text(text: str, where: str) -> str:
    if "\0" in text:
        raise Unwritable(f"{where}: the text holds a NUL character; take it out")
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise Unwritable(
            f"{where}: the character at place {error.start + 1} is half a character (a lone "
            "surrogate); take it out or type it again"
        ) from error
    # Plain text also where a caller has a kind of text of its own, such as an enumeration.
    return str.__str__(text)


def _integer(number: int, where: str) -> int:
    if not -_LARGEST - 1 <= number <= _LARGEST:
        raise Unwritable(f"{where}: {number} is too large; the largest number kept is {_LARGEST}")
    return int(number)


def _number(number: float, where: str) -> float:
    if not math.isfinite(number):
        raise Unwritable(f"{where}: {number} is not a number that can be kept")
    return number
