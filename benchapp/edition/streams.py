"""Where the entries of prints and stacks lie, and which of them stay at home.

Each book writes streams of its own, so that two books can be brought together
without either one's chain of entries being broken. The printer's own words about
people lie in a stream apart, which is left out whole when a copy leaves.
"""

from __future__ import annotations

from typing import Final

#: The end of the name of a stream that leaves the book only when that is asked for.
PRIVATE: Final = "/private"


def print_id(title: str, artist: str, key: str | None = None) -> str:
    """What a print is called in the book: its key, else title and artist.

    Two spellings that differ in spaces or capitals alone are one print.
    """
    words = key if key is not None else f"{title} · {artist}"
    return " ".join(words.split()).casefold()


def print_stream(print_: str, origin: str) -> str:
    """The stream in which the book `origin` writes about a print."""
    return f"print/{print_}@{origin}"


def private_stream(print_: str, origin: str) -> str:
    """The stream of the printer's own words about where sheets of a print are."""
    return print_stream(print_, origin) + PRIVATE


def stack_stream(stack: str, origin: str | None = None) -> str:
    """The stream in which the book `origin` writes about a stack; None: the book that began it.

    Its id bears the origin of that book; any other writes in a stream of its own.
    """
    began = stack.partition("@")[2].partition(".")[0]
    return f"stack/{stack}" if origin in (None, began) else f"stack/{stack}@{origin}"


def is_private(stream: str) -> bool:
    """Whether a stream stays at home unless it is asked for."""
    return stream.endswith(PRIVATE)
