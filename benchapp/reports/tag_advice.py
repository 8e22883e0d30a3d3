"""A tag explained: what this print's days show first, then its usual causes. Pure.

One screen of text. What is usual is common practice and said to be; that something went after a
change is what happened, and no proof.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final

from benchapp.history.tag_history import after_tag, after_words
from benchapp.reports.blocks import Block, Sentence, list_section
from benchapp.session.state import Session
from benchapp.session.tag_causes import CAUSES
from benchapp.session.tags import GLOSSES

_NONE_YET: Final = "No sheet of this print in the book has had it"
_OWN: Final = "It is a word of your own, so no usual causes are known"


@dataclass(frozen=True, slots=True)
class TagTime:
    """One time the tag was given, and the sheet after it."""

    session: Annotated[str, "the session of the sheet that had it"]
    mark: Annotated[str, "that sheet"]
    next_session: Annotated[str | None, "the session of the sheet pulled next; null: none yet"]
    next_mark: Annotated[str | None, "that sheet; null: none yet"]
    changed: Annotated[tuple[str, ...], "what was recorded as changed between the two"]
    went: Annotated[bool | None, "whether the next did not have it; null: nobody looked"]
    sentence: Annotated[str, "the same in words"]


@dataclass(frozen=True, slots=True)
class TagCause:
    """A usual cause, and what to try for it."""

    cause: Annotated[str, "the cause, common practice"]
    try_next: Annotated[str, "what to try next"]


@dataclass(frozen=True, slots=True)
class TagAdvice:
    """A tag explained."""

    FORMAT: ClassVar = "why/1"

    tag: Annotated[str, "the tag"]
    meaning: Annotated[str | None, "what it means, where it is unfamiliar"]
    print: Annotated[str | None, "the title of the print whose days were read"]
    before: Annotated[tuple[TagTime, ...], "the last times it was given, newest first"]
    usual: Annotated[tuple[TagCause, ...], "its usual causes, likeliest first"]


def advise_on_tag(tag: str, sessions: Sequence[Session], title: str | None) -> TagAdvice:
    """What is known of a tag.

    Args:
        tag: The tag.
        sessions: Every session on the print, in the order opened.
        title: The print's; None: there is none yet.
    """
    before = tuple(TagTime(x.session, x.mark, x.next_session, x.next_mark, x.changed, x.went,
                           after_words(x)) for x in after_tag(sessions, tag))
    return TagAdvice(tag, GLOSSES.get(tag), title, before,
                     tuple(TagCause(cause, then) for cause, then in CAUSES.get(tag, ())))


def advice_blocks(x: TagAdvice) -> Iterator[Block]:
    """A tag explained, to be read at the press."""
    yield Sentence(x.tag if x.meaning is None else f"{x.tag}: {x.meaning}")
    yield list_section("This print's own days",
                       [t.sentence for t in x.before] or [_NONE_YET])
    yield list_section("Usual causes, and what to try next (common practice)",
                       [f"{c.cause}: {c.try_next}" for c in x.usual] or [_OWN])
    if x.usual:
        yield Sentence("Change one thing at a time, and look at the next sheet", aside=True)
