"""Days in a book for the tests of editions: a short recipe printed by empty lines."""

from __future__ import annotations

from benchapp import plain
from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from tests.plain.test_plain import Typed, text_of

DAY_MS = 86_400_000
PEAR = "pear on a sill · idony threlwick"


def pear(edition: str = "edition: 5, proofs: {AP: 1}", drying: str = "") -> str:
    """The shortest shipped recipe, with that edition and those changes under the boards."""
    text = text_of("three-steps").replace(
        "artist: Idony Threlwick}", f"artist: Idony Threlwick, {edition}}}" if edition
        else "artist: Idony Threlwick}")
    return text if not drying else text.partition("\ndrying:")[0] + f"\ndrying:\n{drying}\n"


class Studio:
    """A book in memory or in a file, with days printed in it."""

    def __init__(self, book: Book | None = None) -> None:
        self.clock = FakeClock()
        self.book = book or Book.in_memory()
        self.workshop = SessionService(self.book, self.clock)

    def day(self, text: str | None = None, wanted: int = 3, *, recipe: str = "three-steps",
            ) -> str:
        """A whole day: two warm-ups and `wanted` sheets that count; the session's id."""
        typed = Typed(self.clock, [""] * 400, 60_000)
        assert plain.run_plain(self.workshop, typed, recipe, text or pear(), wanted) == 0
        row = self.book.sessions()[-1]
        assert row.closed
        self.clock.advance(DAY_MS)
        return row.id

    @property
    def editions(self) -> EditionService:
        """Its editions, read anew."""
        return EditionService(self.book, self.clock)
