"""Names of streams: their families, and what one book says of a stream of another. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from benchapp.events.kinds import KINDS


def stream_family(stream: str) -> str:
    """The family of a stream: `session/2026-05-03` belongs to `session`."""
    return stream.partition("/")[0]


#: The kinds in which a book tells of a sheet that was pulled in a session of another book, and
#: of a stack that another book began.
SAID: Final[Mapping[str, frozenset[str]]] = MappingProxyType({
    "session": frozenset({"judged", "tagged", "untagged", "noted", "marked to look again", "read",
                          "marked", "for said"}),
    "stack": frozenset(name for stream, name in KINDS if stream == "stack") - {"begun"},
})


def said_stream(session: str, origin: str) -> str:
    """The stream in which the book `origin` writes about a session that another book opened.

    A stream has one writer, or two books could never be brought together again.
    """
    return f"session/{session}@{origin}"


def told_of(stream: str) -> str:
    """The stream a stream tells of: `session/2026-05-03@a@b` of `session/2026-05-03@a`.

    Any other stream tells of itself.
    """
    head, slash, name = stream.partition("/")
    if head not in SAID or name.count("@") < 2:
        return stream
    day, _, rest = name.partition("@")
    return f"{head}{slash}{day}@{rest.partition('@')[0]}"


def is_said(stream: str) -> bool:
    """Whether a stream is what one book says of a session, or a stack, of another."""
    return told_of(stream) != stream
