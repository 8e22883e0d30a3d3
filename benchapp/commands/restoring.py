"""The commands that restore a backup, and take another copy of the book in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.book import Book, BookDamaged
from benchapp.book.copies import backups_near
from benchapp.book.merge import Merged, Unfit
from benchapp.book.restore import Restore, prepare_restore
from benchapp.book.spill import entries_left
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    as_typed,
    book_path,
    refuse_taken,
    say,
    warn,
    write_book,
)
from benchapp.commands.exports import left_out_lines, say_taken_in, taken_in_sessions
from benchapp.commands.photo_copies import restore_photos
from benchapp.commands.resolve import ask_line, can_ask
from benchapp.copies.mirrored import mirrored_near
from benchapp.events.entry import Entry
from benchapp.events.moments import local_time
from benchapp.safe_text import sanitize

#: So many entries are listed one by one; of more, how many there are.
_FEW: Final = 40


def restore_book(arguments: Arguments) -> int:
    """Put a backup in the book's place, or into a new file; the old book is kept."""
    path = book_path(arguments).expanduser().absolute()
    if arguments.file is None:
        return _list_backups(path)
    file = Path(arguments.file).expanduser().absolute()
    new = Path(arguments.into).expanduser().absolute() if arguments.into else None
    if new is not None:
        refuse_taken(new, path)
    with prepare_restore(path, file, state=files.state_folder(),
                         copies=[files.backups_folder(path)],
                         mirrors=mirrored_near([path, file]), keep=new is not None) as ready:
        if ready.notice:
            warn(ready.notice)
        _tell_what_is_only_there(ready, every=arguments.list)
        if ready.further:
            most = max(ready.further, key=lambda file: ready.further[file])
            warn(f"Another copy goes further than {file}: {most} has "
                 f"{_count(ready.further[most])} more.")
        _tell_what_is_only_told(ready, every=arguments.list)
        if new is not None:
            ready.put_into(new)
            say(f"Restored: {new}, {_count(ready.entries)}. The book {path} is as it was.",
                f"To use it: benchapp --book {as_typed(new)}")
            restore_photos(file, new)
            _tell_how_to_go_on(ready, path, new)
            return 0
        if ready.old and not arguments.yes:
            _ask(ready)
        aside = ready.put_in_place(f"{local_time(SystemClock().now()):%Y-%m-%d-%H%M}")
    say(f"Restored: {path}, {_count(ready.entries)}, from {file}.")
    if aside is not None:
        say(f"The old book is kept: {aside}")
    restore_photos(file, path)
    _tell_how_to_go_on(ready, aside, path)
    return 0


def _list_backups(path: Path) -> int:
    """Say which copies there are to bring back; 1 where there is none."""
    found = backups_near(path, [files.backups_folder(path)])
    folder = files.mirrors_folder(path)
    mirror = [f"The text mirror may go further: benchapp book rebuild --from {as_typed(folder)} "
              "--into NEW"] if folder.is_dir() else []
    if not found:
        raise Refused("\n".join((
            f"There is no backup in {path.parent} or {files.backups_folder(path)}. "
            "Name one elsewhere: benchapp book restore FILE", *mirror)))
    say("Copies of a book, the newest first. To restore one: benchapp book restore FILE",
        *(f"  {as_typed(one.file)}  {_count(one.entries)}, the last of "
          f"{local_time(one.last.at):%Y-%m-%d %H:%M}{'' if one.sound else ', damaged'}"
          for one in found), *mirror)
    return 0


def _tell_what_is_only_there(ready: Restore, *, every: bool) -> None:
    if not ready.old and not ready.only_old:
        return
    if ready.unread:
        many = "It cannot be read." if ready.unread < 0 else (
            f"At least {ready.unread} of its entries cannot be read.")
        warn(f"The book {ready.path} is damaged. {many}")
    if not ready.only_old:
        say("All that can be read in the old book is in the backup too.")
        return
    say(f"{_count(len(ready.only_old))} only in the old book, not in the backup:",
        *_listed(ready.only_old, every=every))


def _tell_what_is_only_told(ready: Restore, *, every: bool) -> None:
    """Say what only text mirrors hold."""
    for place, entries in ready.mirrored.items():
        what = "text mirror" if place.is_dir() else "file put aside in the text mirror"
        say(f"{_count(len(entries))} only in the {what} {place}, in no copy of the book:",
            *_listed(entries, every=every))
        if place.is_dir():
            say("benchapp book rebuild can bring them back.")


def _listed(entries: Sequence[Entry], *, every: bool) -> list[str]:
    """Each entry on a line; of many, how many there are of each day and session or print."""
    if every or len(entries) <= _FEW:
        return [_line(entry) for entry in entries]
    counts = Counter((f"{local_time(entry.at):%Y-%m-%d}", entry.stream) for entry in entries)
    return [*(f"  {day}  {stream}  {_count(count)}" for (day, stream), count in counts.items()),
            "To list each of them, add --list."]


def _line(entry: Entry) -> str:
    """An entry of a list: when, where, what."""
    said = [getattr(entry.event, name, None) for name in ("mark", "text", "name", "value")]
    what = " ".join(str(x) for x in said if isinstance(x, (str, int)))
    return f"  {local_time(entry.at):%Y-%m-%d %H:%M}  {entry.stream}  {entry.kind}  {what}".rstrip()


def _ask(ready: Restore) -> None:
    warn(f"Put the backup {ready.file} in the place of the book? The book there is kept under "
         "another name.")
    if not can_ask():
        raise WrongUse("There is no terminal to ask on; add --yes to restore it")
    if ask_line("Write yes to restore it: ").casefold() != "yes":
        raise Refused("Nothing was changed")


def _tell_how_to_go_on(ready: Restore, other: Path | None, restored: Path) -> None:
    into = "" if restored == files.book_file() else f"--book {as_typed(restored)} "
    if ready.only_old and other is not None:
        say(f"To add what only the other book has: benchapp {into}book merge {as_typed(other)}")
    for folder in filter(Path.is_dir, ready.mirrored):
        new = as_typed(restored.with_name(f"{folder.stem}-rebuilt.book"))
        say("To add what only the text mirror has: "
            f"benchapp book rebuild --from {as_typed(folder)} --into {new}, then: "
            f"benchapp {into}book merge {new}")
    if ready.unread:
        say("Nobody knows what the unreadable part of the damaged book has: benchapp may give its "
            "sheet marks again.")
    if ready.still_open:
        say(f"Open when the backup was made: {', '.join(ready.still_open)}. The other copy may "
            "have gone on with it. Here you can read and judge it, and open a new session.")


def merge_copy(arguments: Arguments) -> int:
    """Take in the entries of another copy of the book: those this one does not have, or none.

    Of a damaged copy, what is whole.
    """
    path = Path(arguments.other).expanduser().absolute()
    mine = book_path(arguments).expanduser().absolute()
    if not path.exists():
        raise WrongUse(f"{sanitize(arguments.other)}: no such file")
    if mine.exists() and path.samefile(mine):
        raise WrongUse(f"{path} is the book itself; name another one")
    with Book.open(path, write=False) as other, write_book(arguments) as book:
        if other.notice:
            warn(other.notice)
        entries, unread, ends = other.readable()
        entries += _waiting(other, path, entries)
        if unread or other.verify():
            told = book.merge_whole(entries, ends)
        else:
            told = _merged(book, entries, path)
        sessions = taken_in_sessions(book, told)
        origin = book.origin
    if unread:
        warn(f"{path} is damaged: at least {_count(unread)} cannot be read.")
    say_taken_in(told, sessions, origin)
    if told.left_out:
        say("Left out, because it is not whole:", *left_out_lines(told),
            "What can be read of it stays in the other copy: "
            f"benchapp --book {as_typed(path)} sessions")
    return 0


def _waiting(other: Book, path: Path, entries: Sequence[Entry]) -> list[Entry]:
    """The entries that wait beside another book; a damaged one may not know its own name."""
    try:
        origins = {other.origin}
    except BookDamaged:
        origins = {entry.id.rpartition(":")[0] for entry in entries}
    return [entry for origin in sorted(origins)
            for entry in entries_left(origin, path, files.state_folder())]


def _merged(book: Book, entries: Sequence[Entry], path: Path) -> Merged:
    try:
        return book.merge(entries)
    except Unfit as wrong:
        raise Refused(f"{path}: {_which(entries, wrong)}. Nothing was imported.") from None


def _which(entries: Sequence[Entry], wrong: Unfit) -> str:
    entry = entries[wrong.place - 1]
    return f"entry {entry.id} ({entry.stream}, {entry.kind}): {wrong.why}"


def _count(n: int) -> str:
    return "1 entry" if n == 1 else f"{n} entries"
