"""The commands that bring things out of the book into files, and back in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from benchapp import files
from benchapp.book import Book
from benchapp.book.errors import BookDamaged, BookError, SessionUnreadable
from benchapp.book.merge import Merged, Unfit
from benchapp.book.queries import check_readable, packs_of
from benchapp.book.read import SessionRow
from benchapp.book.salvage import AsWritten
from benchapp.book.spill import entries_left
from benchapp.book.verify import is_chained
from benchapp.commands.context import (
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
from benchapp.commands.photo_copies import export_photos, refuse_folder
from benchapp.commands.pipes import as_file, is_stream, say_written, write_stream
from benchapp.edition.streams import is_private
from benchapp.events.entry import Entry
from benchapp.events.streams import stream_family
from benchapp.reports import export_csv, jsonl
from benchapp.reports.reading import read_back
from benchapp.reports.review import Review
from benchapp.reports.review_blocks import review_page

#: What a damaged book ends a command with, as an error of the book does.
_DAMAGED: Final = 3


def export_book(arguments: Arguments) -> int:
    """Write the book, or some of its sessions, into a new file; of a damaged book what is whole."""
    named = arguments.csv or arguments.jsonl or arguments.html
    to = Path(named).expanduser().absolute()
    if arguments.photos:
        if is_stream(named):
            raise WrongUse("--photos makes a folder beside the file: name a file")
        refuse_folder(to)
    with read_book(arguments) as book:
        leaving = _Leaving(book, arguments)
        if arguments.csv:
            data = _csv(leaving, book, arguments)
        elif arguments.jsonl:
            data = leaving.lines()
        else:
            data = iter([review_page([read_back(book, row) for row in leaving.readable()])])
        write_out(named, data, arguments)
        if arguments.photos:
            export_photos(book, book_path(arguments).expanduser().absolute(), to,
                          {row.id for row in leaving.rows} if arguments.sessions else None)
    n = len(leaving.rows)
    count = "1 session" if n == 1 else f"{n} sessions"
    say_written(named, f"Written: {named} ({count})", *_stayed_home(leaving.private))
    if not leaving.left_out:
        return 0
    warn(f"The book {book_path(arguments)} is damaged. Not in the file:",
         *(f"  {x}" for x in leaving.left_out),
         *(["Streams that are not whole are left out when the file is imported."]
           if arguments.jsonl else []),
         "To restore a backup: benchapp book restore FILE")
    return _DAMAGED


class _Leaving:
    """What leaves the book, and what had to stay in it.

    Attributes:
        rows: The sessions.
        private: Private entries that were asked to stay.
        left_out: What is damaged, a line each.
    """

    def __init__(self, book: Book, arguments: Arguments) -> None:
        self.private = 0
        self.left_out: list[str] = []
        self._book = book
        self._arguments = arguments
        self.rows = _chosen(book, arguments.sessions, self.left_out)

    def lines(self) -> Iterator[str]:
        """The entries as lines; of a damaged book one more, with what is not whole."""
        found = self._book.as_written(self._wanted())
        yield from jsonl.entry_lines(self._passing(found))
        self._note(found)
        if not found.whole:
            yield jsonl.not_whole(found.ends)

    def entries(self) -> Iterator[Entry]:
        """The entries that leave, in the book's order; whole streams, so that chains hold."""
        found = self._book.as_written(self._wanted())
        yield from self._passing(found)
        self._note(found)

    def readable(self) -> Iterator[SessionRow]:
        """The sessions that can be read back."""
        for row in self.rows:
            try:
                check_readable(row)
            except SessionUnreadable as error:
                warn(f"Left out: {error}")
                continue
            if self._is_whole(row):
                yield row
            else:
                self.left_out.append(f"session {row.name}")

    def _is_whole(self, row: SessionRow) -> bool:
        streams = {*self._book.streams_of(row.id), *packs_of(self._book, row.id)}
        try:
            return is_chained(self._book.entries(streams=streams))
        except BookDamaged:
            return False

    def _wanted(self) -> set[str] | None:
        if not self._arguments.sessions:
            return None
        return {stream for row in self.rows for stream in (
            *self._book.streams_of(row.id), *packs_of(self._book, row.id))}

    def _passing(self, found: AsWritten) -> Iterator[Entry]:
        """Those that may leave; after them what waits beside a book that could not be written."""
        for entry in found:
            if self._may_leave(entry):
                yield entry
        if not self._arguments.sessions:
            yield from filter(self._may_leave, waiting_beside(
                self._book, book_path(self._arguments).expanduser().absolute()))

    def _may_leave(self, entry: Entry) -> bool:
        if self._arguments.private or not is_private(entry.stream):
            return True
        self.private += not self._arguments.sessions
        return False

    def _note(self, found: AsWritten) -> None:
        if found.unread:
            self.left_out.append("1 entry cannot be read" if found.unread == 1 else
                                 f"at least {found.unread} entries cannot be read")
        self.left_out += [f"{x}: is not what was written" for x in found.wrong]
        self.left_out += [f"{x}: not all of it" for x in sorted(found.ends)]


def waiting_beside(book: Book, path: Path) -> list[Entry]:
    """The entries kept beside a book that could not be written, or is damaged."""
    try:
        return book.without(entries_left(book.origin, path, files.state_folder()))
    except BookError:
        return []


def _stayed_home(left: int) -> list[str]:
    if not left:
        return []
    what = "1 private entry" if left == 1 else f"{left} private entries"
    return [f"{what} stayed at home: who has the sheets, and your notes on them; --private takes "
            f"{'it' if left == 1 else 'them'} along"]


def write_out(named: str, data: str | Iterable[str], arguments: Arguments) -> None:
    """Write a file that leaves the studio: whole, never through a link, never over another.

    Args:
        named: The file, as it was typed; `-` is the standard output.
        data: All of it, or its parts.
        arguments: Name the book, and say `force` to write over a file that is there.

    Raises:
        Refused: There is one of that name, and --force was not said; or the book, a recipe,
            the preferences or a backup has that name, whatever was said.
    """
    if is_stream(named):
        write_stream(named, data)
        return
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


def _chosen(book: Book, names: list[str], left_out: list[str]) -> list[SessionRow]:
    if names:
        return list({row.stream: row for row in (session_row(book, n) for n in names)}.values())
    try:
        return book.sessions()
    except BookDamaged:
        left_out.append("the list of sessions cannot be read")
        return []


def _reviews(leaving: _Leaving, book: Book) -> Iterator[Review]:
    """Each session read back with the packs its sheets came from, one after the other."""
    for row in leaving.readable():
        yield read_back(book, row, earlier=False)


def _csv(leaving: _Leaving, book: Book, arguments: Arguments) -> Iterator[str]:
    match arguments.table:
        case "entries":
            return export_csv.csv_table(export_csv.ENTRIES,
                                        export_csv.entry_rows(leaving.entries()))
        case "readings":
            found = (x for r in _reviews(leaving, book) for x in export_csv.reading_rows(r))
            return export_csv.csv_table(export_csv.READINGS, found)
        case _:
            found = (x for r in _reviews(leaving, book) for x in export_csv.impression_rows(r))
            return export_csv.csv_table(export_csv.IMPRESSIONS, found)


# -- in again -------------------------------------------------------------------------------


def import_file(arguments: Arguments) -> int:
    """Take in the entries of an exported file: those the book does not have, or none."""
    with as_file(arguments.file) as path:
        return _import(arguments, path)


def _import(arguments: Arguments, path: Path) -> int:
    found = jsonl.EntryLines(())
    try:
        _look(path)
        with path.open("rb") as raw, write_book(arguments) as book:
            found = jsonl.EntryLines(_lines(raw))
            seen = _Seen()
            entries = seen.passing(found)
            ends = _not_whole(path)
            told = book.merge(entries) if ends is None else book.merge_whole([*entries], ends)
            sessions = taken_in_sessions(book, told)
            origin = book.origin
    except jsonl.NotOurs as wrong:
        raise Refused(f"{path}:{wrong.line}:1: {wrong.why}. Nothing was imported.") from None
    except Unfit as wrong:
        raise Refused(f"{path}:{found.number}:1: {wrong.why}. Nothing was imported.") from None
    except OSError as error:
        raise files.system_problem(path, "cannot be read", error) from None
    if arguments.json:
        say_json("import/1", {"added": told.added, "known": told.known, "sessions": sessions,
                  "private": seen.private, "not_in_file": seen.missing,
                  **({"left_out": told.left_out} if told.left_out else {})})
        return 0
    say_taken_in(told, sessions, origin, *seen.stayed_home())
    if told.left_out:
        say("Left out, because it is not whole:", *left_out_lines(told))
    return 0


def left_out_lines(told: Merged) -> list[str]:
    """The streams of a damaged book that were left out, each with why."""
    return [f"  {why}" if stream in why else f"  {stream}: {why}"
            for stream, why in sorted(told.left_out.items())]


def _not_whole(path: Path) -> dict[str, int] | None:
    """What a file says at its end of streams that are not whole; None: its book was sound."""
    with path.open("rb") as raw:
        raw.seek(max(0, path.stat().st_size - jsonl.LONGEST))
        last = [line for line in raw.read().split(b"\n") if line.strip()][-1:]
    return jsonl.read_not_whole(last[0]) if last else None


def taken_in_sessions(book: Book, told: Merged) -> list[str]:
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
    say(f"{told.added} entries imported, {told.known} were there already.", *besides)
    if any(not s.endswith(f"@{origin}") for s in told.sessions if stream_family(s) == "session"):
        say(f"Sessions: {', '.join(sessions)}. Another book opened them: here you can read them.")


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
            self.prints += stream_family(entry.stream) == "print"
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
        return [f"This file has no private entries (who has the sheets, your notes).{left} "
                "To take them along: benchapp export --jsonl FILE --private"]


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
            raise WrongUse(f"{path}: has no entry; name a file that benchapp export --jsonl wrote")


def _lines(raw: Any) -> Iterator[bytes]:
    """Lines of a file, none longer than an entry can be (and one byte)."""
    while line := raw.readline(jsonl.LONGEST + 1):
        yield line
