"""The studio's one file: what happened, appended and on disk before anyone moves on.

This room writes, reads, checks and copies entries; it knows their shape and nothing
of what they mean. Service, reports, copies and the edges come in here.

The book's own class brings the rooms with it that an append keeps its indexes by. It is
imported when it is first asked for, so that a program that only catches errors begins without.

Decisions, numbered as in DEVELOPERS.md:

2. **The book is committed before the screen moves on.** SQLite, WAL with synchronous FULL: a
   one-row commit takes 0.11-0.23 ms at the median; in simulated power cuts WAL with NORMAL lost
   acknowledged commits and FULL lost none in over 100,000 states. Price: a slow disk is felt.
21. **Words are searched in a covering index** (overturned by 51). With 100,000 impressions and
    two million entries a word that is nowhere takes 65 to 95 ms, a common one 10 to 50, two of
    which one is rare 110 to 150; of every key of six things typed the middle one 53, the
    ninety-fifth of a hundred 182 (28 and 85 in a book of fifty days, beside other work). Sessions
    are read from the newest, so that common words stop early, and the word that was rarest among
    these is looked for first in the rest. Price: parts of words in ASCII are quick, other signs
    are let through and looked at again; grades are not searched, as they would be a third of the
    index.
22. **A stream has one writer.** Import adds a stream where it goes on exactly and refuses one
    that two books continued; an open day of another book is left out of the room, as its clocks
    would write. What is said of another book's day: see 34. Price: what was judged here in
    another book's day cannot be taken back there.
30. **At rest the book is one file.** Live it is WAL with synchronous FULL; at close it is
    checkpointed and switched to a rollback journal, because a reader of a WAL file at rest leaves
    two files beside it. Price: a millisecond at close.
35. **What comes in is asked field by field.** A digest says that a line is as it was written, not
    that a book wrote it, and a number where a text belongs would be found out years later in the
    middle of a list. The type of each field of an event is its rule; import refuses with line,
    field and what it must be. Our own entries are not asked again. Price: a field's type must be
    one that gives a rule (a test says so).
36. **What folding a stream came to is kept beside its last digest.** The list of sessions folded
    ten years to say how many each pulled, and every start folded every pack there ever was. The
    table `derived` says how many a session pulled and counts, and which packs and stacks are
    over; a row counts only while the stream ends as it did, what is missing is folded, and all of
    it may be deleted. It is written when a book that was written in is closed: never in a day's
    way. With ten years the list went from two minutes to 0.25 s, the room from 25 s to 0.5, and
    the Studio's first view takes 1.2 s of work, 0.4 in a book of fifty days. Price: after a kill
    -9 one day is folded once more, and the first close of a book from before takes as long as its
    list once did.
45. **The register reads what days came to, not the days.** To say which sheets there are, 300
    sessions were folded: 14 s before a command about one number. What folding a session gives
    editions is kept beside its last digest, as other such rows are; a day that went on is folded,
    and so is one whose row does not read. 6,000 impressions then take .4 s on a loaded machine,
    most of it the register's own entries. Price: a book is longer in closing after many days were
    merged.
51. **Words are folded in a table beside the entries.** SQLite folds the case of ASCII only, so
    `creve` could not find crevé in an index of bodies. `book/search_index.py` says which texts an
    entry has. Each goes into the table `words`, without accents and case, in the transaction that
    writes the entry (`book/folding.py` decides ß, ø and the Turkish i). Its key begins with the
    session, print or stack, so the newest days are read first. A take-back deletes its rows. An
    older book gets the table when it is opened to write; a reader of such a book makes it in
    memory. With 20,000 impressions and 400,000 entries a word found nowhere takes 25 to 40 ms and
    a number about 150. Of every key of six things typed the median is 42 and the 95th percentile
    145 (beside other work); rare words take longer as the book grows. Price: a row for each text,
    and 5 s once to open so long an older book.
56. **The entry that closes a discarded session tells it.** An index on three kinds says which
    sessions there are, and a fourth kind would be another layout. So `discarded` comes with a
    `closed` in one action whose word is *discard*, and the list of sessions goes by that word.
    `Book.sessions` leaves such a session out. `all_sessions` has it, and names and letters go by
    these. A session is not discarded while its own clock runs or work of another day was left to
    it. Price: whoever asks for sessions must choose which.
71. **A restored book goes on under a new origin if any readable copy goes further.** Put back as
    it was, it gave the same ids and marks again, and the lost day was refused. `book/restore.py`
    looks at the book in the place, what waits beside it, the copies in the folders of both and of
    the backups, and the text mirrors beside both (`copies/mirrored.py`), line by line. If one has
    an entry of the origin that the backup lacks, the restored book gets an origin of its own, and
    the names and letters found are given out no more (`book/taken.py`). That copy can then be
    merged like any other book. If none goes further, it stays the same book and an open session
    goes on. The new book waits under a name of its own until the old one and its log are aside
    (`book/placing.py`); the next start finishes what was cut off. Of a damaged book `merge` takes
    only streams that are whole, for what is missing may have taken back what is there. Price: a
    session that was open in the backup can then only be read and judged.
79. **A book is checked before it is written in, and a damaged one is never written.** A quick
    check comes first after a writer was cut off (its name is still in the lock file) and once a
    day; the full one follows beside the work, in a thread with a connection of its own. Once
    damage was found, the lock file says so, and only a full check that finds none takes it away.
    Of 1,200 damaged files (bit flips, zero pages, cut off, swapped pages) 929 were found at the
    start, 194 beside the work, and 77 say all that the sound one says. Found while a day is open,
    the connection that writes gives way to one that reads, because closing it would bring the log
    into the file. Search words are not compared. An export goes through the rows one by one and
    holds each against its digest (`book/salvage.py`); its last line names the streams that are
    not whole, and import leaves these out. Price: on a disk without a write-ahead log only `book
    check --full` checks in full.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from benchapp.book.errors import (
    BookDamaged,
    BookDisk,
    BookError,
    BookForeign,
    BookLocked,
    BookNewer,
    NoBook,
    Unwritable,
)

if TYPE_CHECKING:
    from benchapp.book.read import SessionRow
    from benchapp.book.store import Book

__all__ = [
    "Book",
    "BookDamaged",
    "BookDisk",
    "BookError",
    "BookForeign",
    "BookLocked",
    "BookNewer",
    "NoBook",
    "SessionRow",
    "Unwritable",
]


def __getattr__(name: str) -> Any:
    if name == "Book":
        from benchapp.book.store import Book

        return Book
    if name == "SessionRow":
        from benchapp.book.read import SessionRow

        return SessionRow
    raise AttributeError(f"module {__name__} has no attribute {name}")
