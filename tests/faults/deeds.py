"""The commands that write, each with the studio it needs and what it promises when it is done."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.files import write_new
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.settings import STARTER
from tests.book.test_corpus import CORPUS, restored
from tests.book.write_corpus import DAY
from tests.faults.warm import Warm
from tests.faults.wholeness import Home
from tests.session.support import LIFT, MIN, PULL, WIPE, recipe

#: A recipe of the printer's own, and what a day wiped slower than it says does to it.
SLOW = recipe(each=(WIPE, PULL, LIFT), extra="wash: 1.5 min   # soap, then the towel\n")
#: A book of the corpus with the first layout.
OLDEST = next(file for file in CORPUS if file.name.startswith("063f410"))


@dataclass(frozen=True, slots=True)
class Deed:
    """One command that writes.

    Attributes:
        name: What it is called in a test.
        argv: Its words; `HOME` in one is the home it is called in.
        said: What is typed.
        says: What it prints when it is done: from then on `done` must be true.
        make: Makes the home it is called in.
        done: Whether a home has what was promised; given the home before too.
        again: How it may end when it is called again after it was cut off.
        restores: Whether it may put an older book in the place.
        less: A warning with which it does no more than lose nothing, and what is done then.
    """

    name: str
    argv: tuple[str, ...]
    says: str
    make: Callable[[Warm, Path], None]
    done: Callable[[Home, Home], bool]
    said: str = ""
    again: frozenset[int] = field(default=frozenset({0}))
    restores: bool = False
    less: tuple[str, Callable[[Home, Home], bool]] | None = None

    def words(self, home: Path) -> list[str]:
        """Its words for a home."""
        return [word.replace("HOME", str(home)) for word in self.argv]

    def promises(self, warned: str | None) -> Callable[[Home, Home], bool]:
        """What must be done, by what it warned of; None: it was killed before it could."""
        if self.less and (warned is None or self.less[0] in warned):
            return self.less[1]
        return self.done


# -- studios --------------------------------------------------------------------------------


def _nothing(warm: Warm, home: Path) -> None:
    """A home in which nothing was done yet."""


def printed(warm: Warm, home: Path) -> None:
    """A studio with a day that is over, and one that taught the recipe `slack-water`."""
    write_new(home / "recipes" / "slack-water.yaml", SLOW)
    clock = FakeClock()
    with Book.open(home / "studio.book", write=True, create=True, state=home / "state") as book:
        shop = SessionService(book, clock)
        shop.open_session("slack-water", SLOW, None)
        for _ in range(5):
            for minutes in (15, 1.5, 4, 3):
                clock.advance(round(minutes * MIN))
                shop.tick()
                shop.do(a.GoOn())
    ended = warm.call(home, "run", "weigh-house", "--plain", "--wanted", "2", said=DAY)
    assert " closed · pulled 3" in ended.lines[-1], ended
    assert warm.call(home, "edition", "Slack Water", "--size", "10", "--yes").code == 0
    write_new(home / "preferences.yaml", STARTER)


def _still_open(warm: Warm, home: Path) -> None:
    """A day that is left open when its last sheet is inked."""
    ended = warm.call(home, "run", "three-steps", "--plain", "--wanted", "2", said="\n" * 24)
    assert " stays open · " in ended.lines[-1], ended


def _of_old_layout(warm: Warm, home: Path) -> None:
    restored(OLDEST, home / "studio.book")


def _backed_up(warm: Warm, home: Path) -> None:
    """A studio that went on after its backup."""
    printed(warm, home)
    assert warm.call(home, "book", "backup", home / "kept.book").code == 0
    assert warm.call(home, "damp", "weigh-house", "--sheets", "3").code == 0


def _guest(warm: Warm, home: Path) -> None:
    """A studio, and the file of another one's book."""
    printed(warm, home)
    other = home.with_name(home.name + "-other")
    other.mkdir()
    assert warm.call(other, "run", "ferry-lamp", "--plain", "--wanted", "1", said=DAY).code == 0
    assert warm.call(other, "export", "--jsonl", home / "guest.jsonl").code == 0
    assert warm.call(other, "book", "backup", home / "guest.book").code == 0


# -- what is promised -----------------------------------------------------------------------


def _has_more(now: Home, before: Home) -> bool:
    return len(now.books["studio.book"]) > len(before.books.get("studio.book", {}))


def _has_guest(now: Home, before: Home) -> bool:
    return before.entries.items() <= now.books["studio.book"].items()


def _has_text(at: str) -> Callable[[Home, Home], bool]:
    return lambda now, before: at in now.texts and now.texts[at] != before.texts.get(at)


def _is_taught(now: Home, before: Home) -> bool:
    at = "recipes/slack-water.yaml"
    return now.texts[at] != before.texts[at] and now.texts[f"{at}.before"] == before.texts[at]


def _copied(at: str) -> Callable[[Home, Home], bool]:
    return lambda now, before: now.books.get(at) == before.books["studio.book"]


def _is_restored(now: Home, before: Home) -> bool:
    kept = now.books["kept.book"]
    return now.books["studio.book"] == kept and any(
        "-before-" in at and book == before.books["studio.book"] for at, book in now.books.items())


def _restored_beside(now: Home, before: Home) -> bool:
    return now.books.get("new.book") == before.books["kept.book"]


def _migrated(now: Home, before: Home) -> bool:
    return _has_more(now, before) and any(
        at.startswith("backups/") and book == before.books["studio.book"]
        for at, book in now.books.items())


_ONCE = frozenset({0, 1})

DEEDS = (
    Deed("day", ("run", "three-steps", "--plain", "--wanted", "1"), " stays open · ", _nothing,
         _has_more, said="\n" * 5),
    Deed("close", ("resume", "--plain"), " closed · ", _still_open, _has_more,
         said="\n1\n" * 60, again=_ONCE),
    Deed("damp", ("damp", "weigh-house", "--sheets", "4"), "in the water", printed, _has_more),
    Deed("number", ("number", "2026-05-03:4", "7", "--yes"), "7", printed, _has_more, again=_ONCE),
    Deed("migrate", ("damp", "weigh-house", "--sheets", "4"), "in the water", _of_old_layout,
         _migrated, less=("No backup was made", _has_more)),
    Deed("export as lines", ("export", "--jsonl", "HOME/out.jsonl"), "Written: ", printed,
         _has_text("out.jsonl"), again=_ONCE),
    Deed("export over a table", ("export", "--csv", "HOME/guest.jsonl", "--force"), "Written: ",
         _guest, _has_text("guest.jsonl")),
    Deed("export as a page", ("export", "--html", "HOME/out.html"), "Written: ", printed,
         _has_text("out.html"), again=_ONCE),
    Deed("import", ("import", "HOME/guest.jsonl"), "entries", _guest, _has_guest),
    Deed("merge", ("book", "merge", "HOME/guest.book"), "entries", _guest, _has_guest),
    Deed("learn", ("learn", "slack-water", "--apply"), "Changed: ", printed, _is_taught),
    Deed("new recipe", ("new", "slack-tide", "--like", "three-steps"), "Written: ", _nothing,
         _has_text("recipes/slack-tide.yaml"), said="Slack Tide\n" + "\n" * 12, again=_ONCE),
    Deed("first preference", ("calls", "--sound", "soft"), "Kept: ", _nothing,
         _has_text("preferences.yaml")),
    Deed("preference", ("calls", "--sound", "soft"), "Kept: ", printed,
         _has_text("preferences.yaml")),
    Deed("backup", ("book", "backup", "HOME/out.book"), "is backed up: ", printed,
         _copied("out.book"), again=_ONCE),
    Deed("restore", ("book", "restore", "HOME/kept.book", "--yes"), "Restored: ", _backed_up,
         _is_restored, restores=True),
    Deed("restore beside", ("book", "restore", "HOME/kept.book", "--into", "HOME/new.book"),
         "Restored: ", _backed_up, _restored_beside, again=_ONCE),
    Deed("rebuild", ("book", "rebuild", "--from", "HOME/mirrors/studio.book", "--into",
                     "HOME/out.book"), "Rebuilt: ", printed, _copied("out.book"), again=_ONCE),
)
