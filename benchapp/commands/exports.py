"""The commands that bring things out of the book into files, and back in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from benchapp import files
from benchapp.book import Book
from benchapp.book.errors import SessionUnreadable
from benchapp.book.merge import Merged, Unfit
from benchapp.book.past import check_readable, packs_of
from benchapp.book.read import SessionRow
from benchapp.commands.desk import (
    Arguments,
    Refused,
    WrongUse,
    book_path,
    read_book,
    say,
    say_json,
    session_row,
    warn,
    write_book,
)
from benchapp.edition.streams import is_private
from benchapp.journal import Entry, family
from benchapp.papers import export_csv, jsonl
from benchapp.papers.html import review_page
from benchapp.papers.reading import read_back


def export(arguments: Arguments) -> int:
    """Write the book, or some of its sessions, into a new file."""
    named = arguments.csv or arguments.jsonl or arguments.html
    with read_book(arguments) as book:
        rows = _chosen(book, arguments.sessions)
        if arguments.csv:
            data = _csv(book, rows, arguments)
        elif arguments.jsonl:
            data = jsonl.lines(_entries(book, rows, arguments))
        else:
            data = iter([review_page([read_back(book, row) for row in _readable(rows)])])
        write_out(named, data, arguments)
        left = 0 if arguments.html else _private(book, rows, arguments)
    count = "1 session" if len(rows) == 1 else f"{len(rows)} sessions"
    say(f"Written: {named} ({count})", *_stayed_home(left))
    return 0


def _private(book: Book, rows: Iterable[SessionRow], arguments: Arguments) -> int:
    """How many private entries are not in the file that was written."""
    whole = arguments.jsonl or (arguments.csv and arguments.table == "entries")
    if arguments.private or arguments.sessions or not whole:
        return 0
    return sum(1 for e in book.each(None) if is_private(e.stream))


def _stayed_home(left: int) -> list[str]:
    if not left:
        return []
    what = "1 private entry" if left == 1 else f"{left} private entries"
    return [f"{what} stayed at home: who has the sheets, and your notes on them; --private takes "
            f"{'it' if left == 1 else 'them'} along"]


def write_out(named: str, data: str | Iterable[str], arguments: Arguments) -> None:
    """Write a file that leaves the studio: whole, never through a link, never over another.

    Args:
        named: The file, as it was typed.
        data: All of it, or its parts.
        arguments: Name the book, and say `force` to write over a file that is there.

    Raises:
        Refused: There is one of that name, and --force was not said; or the book, a recipe,
            the preferences or a backup has that name, whatever was said.
    """
    path = Path(named).expanduser()
    kept = files.what_is_kept(path, book_path(arguments))
    if kept is not None:
        raise Refused(f"{named} is {kept}, so nothing was written. Choose another name.")
    if arguments.force:
        files.write_over(path, data)
        return
    try:
        files.write_new(path, data)
    except files.AlreadyThere as error:
        raise Refused(f"{error.message}, or write over it with --force") from None


def _chosen(book: Book, names: list[str]) -> list[SessionRow]:
    if not names:
        return book.sessions()
    return list({row.stream: row for row in (session_row(book, n) for n in names)}.values())


def _reviews(book: Book, rows: Iterable[SessionRow]) -> Iterator[dict[str, Any]]:
    """Each session read back with the packs its sheets came from, one after the other."""
    for row in _readable(rows):
        yield read_back(book, row, earlier=False)


def _readable(rows: Iterable[SessionRow]) -> Iterator[SessionRow]:
    """Those that can be read back; what is left out is said on stderr."""
    for row in rows:
        try:
            check_readable(row)
        except SessionUnreadable as error:
            warn(f"Left out: {error}")
            continue
        yield row


def _csv(book: Book, rows: list[SessionRow], arguments: Arguments) -> Iterator[str]:
    match arguments.table:
        case "entries":
            entries = _entries(book, rows, arguments)
            return export_csv.table(export_csv.ENTRIES, export_csv.entry_rows(entries))
        case "readings":
            found = (x for r in _reviews(book, rows) for x in export_csv.reading_rows(r))
            return export_csv.table(export_csv.READINGS, found)
        case _:
            found = (x for r in _reviews(book, rows) for x in export_csv.impression_rows(r))
            return export_csv.table(export_csv.IMPRESSIONS, found)


def _entries(book: Book, rows: list[SessionRow], arguments: Arguments) -> Iterator[Entry]:
    """The entries that leave, in the book's order; whole streams, so that their chains hold."""
    wanted = None
    if arguments.sessions:
        wanted = {stream for row in rows for stream in (*book.streams_of(row.id),
                                                        *packs_of(book, row.id))}
    for entry in book.each(wanted):
        if arguments.private or not is_private(entry.stream):
            yield entry


# -- in again -------------------------------------------------------------------------------


def take_in(arguments: Arguments) -> int:
    """Take in the entries of an exported file: those the book does not have, or none."""
    path = Path(arguments.file).expanduser()
    found = jsonl.Lines(())
    try:
        _look(path)
        with path.open("rb") as raw, write_book(arguments) as book:
            found = jsonl.Lines(_lines(raw))
            seen = _Seen()
            told = book.merge(seen.passing(found))
            sessions = sessions_in(book, told)
            origin = book.origin
    except jsonl.NotOurs as wrong:
        raise Refused(f"{path}:{wrong.line}:1: {wrong.why}. Nothing was taken in.") from None
    except Unfit as wrong:
        raise Refused(f"{path}:{found.number}:1: {wrong.why}. Nothing was taken in.") from None
    except OSError as error:
        raise files.FileProblem(f"{path}: cannot be read ({error.strerror})") from None
    if arguments.json:
        say_json({"added": told.added, "known": told.known, "sessions": sessions,
                  "private": seen.private, "not_in_file": seen.missing})
        return 0
    say_taken_in(told, sessions, origin, *seen.stayed_home())
    return 0


def sessions_in(book: Book, told: Merged) -> list[str]:
    """What the sessions are called that something was taken in of."""
    names = {r.stream: r.name for r in book.all_sessions()}
    return [names[s] for s in told.sessions if s in names]


def say_taken_in(told: Merged, sessions: Sequence[str], origin: str, *besides: str) -> None:
    """Say what was taken in.

    Args:
        told: What taking in did.
        sessions: What the sessions in it are called.
        origin: The name of the book it was taken into.
        besides: What else is to be known.
    """
    say(f"{told.added} entries taken in, {told.known} were there already.", *besides)
    if any(not s.endswith(f"@{origin}") for s in told.sessions if family(s) == "session"):
        say(f"Sessions: {', '.join(sessions)}. Another book opened them: here they can be read.")


class _Seen:
    """What passes on its way into the book, counted: what the file says nothing of stayed at home.

    Attributes:
        private: The private entries in the file.
        prints: Those about editions.
    """

    def __init__(self) -> None:
        self.private = self.prints = 0
        self._numbers: dict[str, tuple[int, int, int]] = {}

    def passing(self, entries: Iterable[Entry]) -> Iterator[Entry]:
        """The entries as they are."""
        for entry in entries:
            self.private += is_private(entry.stream)
            self.prints += family(entry.stream) == "print"
            origin, _, number = entry.id.rpartition(":")
            if number.isascii() and number.isdigit():
                n = int(number)
                first, last, count = self._numbers.get(origin, (n, n, 0))
                self._numbers[origin] = min(first, n), max(last, n), count + 1
            yield entry

    @property
    def missing(self) -> int:
        """Entries of the books in the file that are not in it, between the first and the last."""
        return sum(max(0, last - first + 1 - count)
                   for first, last, count in self._numbers.values())

    def stayed_home(self) -> list[str]:
        """What to know of private entries, where the file is about editions and has none."""
        if self.private or not self.prints:
            return []
        n = self.missing
        left = "" if not n else " At least 1 is left out." if n == 1 else (
            f" At least {n} are left out.")
        return [f"No private entries are in this file (who has the sheets, your notes).{left} "
                "benchapp export --jsonl FILE --private takes them along."]


def _look(path: Path) -> None:
    """Hold that it is a file that begins with an entry, before a book is made for it.

    Raises:
        WrongUse: It is none.
        NotOurs: It begins with something else.
    """
    if not path.exists():
        raise WrongUse(f"{path}: no such file")
    if not path.is_file():
        raise WrongUse(f"{path}: is not a regular file; name one that benchapp export --jsonl "
                       "wrote")
    with path.open("rb") as raw:
        if next(jsonl.read_lines(_lines(raw)), None) is None:
            raise WrongUse(f"{path}: holds no entry")


def _lines(raw: Any) -> Iterator[bytes]:
    """Lines of a file, none longer than an entry can be (and one byte)."""
    while line := raw.readline(jsonl.LONGEST + 1):
        yield line
