"""Decide, append, fold: the one way by which what was decided becomes part of the book."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass

from benchapp.book import Book
from benchapp.clock import Clock
from benchapp.decision import Decision, Refusal
from benchapp.events.entry import Entry, Moment


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of an action.

    Attributes:
        entries: Its entries, on disk.
        refusal: Why it was not done; None: it was, or could be.
        warnings: What to know of it, though it is done.
    """

    entries: tuple[Entry, ...] = ()
    refusal: Refusal | None = None
    warnings: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether it was done, or could be."""
        return self.refusal is None


class Service(ABC):
    """A book at work: what is folded from it goes on with every action."""

    def __init__(self, book: Book, clock: Clock) -> None:
        self.book = book
        self.clock = clock

    @abstractmethod
    def fold(self, entries: tuple[Entry, ...]) -> None:
        """Take in entries that are in the book now."""

    def carry_out(self, decided: Decision, now: Moment, word: str) -> Outcome:
        """Write what was decided, all of it or nothing, and only then fold it.

        Args:
            decided: Drafts, or why not.
            now: When it was done.
            word: The word of the action.

        Raises:
            BookError: It cannot be written.
            Unwritable: A text no book can hold.
        """
        if isinstance(decided, Refusal):
            return Outcome(refusal=decided)
        entries = self.book.append(decided, now, word) if decided else ()
        self.fold(entries)
        return Outcome(entries)
