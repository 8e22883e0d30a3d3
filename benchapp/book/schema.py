"""How the book is laid out, and the numbered steps by which it got there.

A step is never changed once it has shipped; a new layout is a new step. Each runs
in one transaction and is recorded in the table `migrations`.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

#: Stands in the file's header, so that no other SQLite file is taken for a book.
#: The letters "etch".
APPLICATION_ID: Final = 0x65746368


@dataclass(frozen=True, slots=True)
class Migration:
    """One step of the layout: its number, its name and its statements."""

    number: int
    name: str
    statements: tuple[str, ...]


_FIRST: Final = Migration(
    1,
    "entries, append-only",
    (
        """CREATE TABLE migrations (
            number INTEGER PRIMARY KEY,
            name TEXT NOT NULL
        ) STRICT""",
        """CREATE TABLE meta (
            key TEXT PRIMARY KEY,
            value TEXT NOT NULL
        ) STRICT""",
        """CREATE TABLE entries (
            sequence INTEGER PRIMARY KEY,
            id TEXT NOT NULL UNIQUE,
            stream TEXT NOT NULL,
            position INTEGER NOT NULL,
            action TEXT NOT NULL,
            word TEXT NOT NULL,
            kind TEXT NOT NULL,
            wall_ms INTEGER NOT NULL,
            offset_min INTEGER NOT NULL,
            boot_ns INTEGER NOT NULL,
            boot_id TEXT NOT NULL,
            mono_ns INTEGER NOT NULL,
            body TEXT NOT NULL,
            sha256 TEXT NOT NULL,
            UNIQUE (stream, position)
        ) STRICT""",
        # The few entries that say which sessions there are and which are closed: the list of
        # sessions reads these alone, however long the journal has grown.
        """CREATE INDEX entries_of_opening ON entries (stream, position)
            WHERE kind IN ('opened', 'closed', 'taken back')""",
        """CREATE TRIGGER entries_never_change BEFORE UPDATE ON entries BEGIN
            SELECT RAISE(ABORT, 'an entry is never changed');
        END""",
        """CREATE TRIGGER entries_never_go BEFORE DELETE ON entries BEGIN
            SELECT RAISE(ABORT, 'an entry is never deleted');
        END""",
        # Also holds against INSERT OR REPLACE, which deletes without asking the trigger above.
        """CREATE TRIGGER entries_go_on BEFORE INSERT ON entries
        WHEN NEW.sequence <= (SELECT coalesce(max(sequence), 0) FROM entries)
            OR NEW.position <> 1 + (SELECT coalesce(max(position), 0) FROM entries
                                    WHERE stream = NEW.stream)
            OR EXISTS (SELECT 1 FROM entries WHERE id = NEW.id)
        BEGIN
            SELECT RAISE(ABORT, 'an entry comes after all others and without a gap');
        END""",
        """CREATE TRIGGER origin_never_changes BEFORE UPDATE ON meta WHEN OLD.key = 'origin' BEGIN
            SELECT RAISE(ABORT, 'the origin of a book never changes');
        END""",
        """CREATE TRIGGER origin_never_goes BEFORE DELETE ON meta WHEN OLD.key = 'origin' BEGIN
            SELECT RAISE(ABORT, 'the origin of a book never goes');
        END""",
    ),
)

#: The few entries that say which sessions there are and which are closed. A question must have
#: the very condition of an index, or it is not used.
OPENING: Final = "kind IN ('opened', 'closed', 'taken back')"

#: The kinds whose words were searched at first.
_WORDED_ONCE: Final = (
    "kind IN ('noted', 'tagged', 'untagged', 'marked', 'setting changed', 'reworked', "
    "'left off', 'pulled')"
)

#: The kinds whose words were searched after that.
_WORDED_TWICE: Final = (
    "(kind IN ('noted', 'tagged', 'untagged', 'judged', 'marked', 'setting changed', 'reworked', "
    "'left off', 'pulled') OR kind = 'read' AND instr(body, '\"impression\":null') > 0)"
)

_SECOND: Final = Migration(
    2,
    "an index of what has words",
    (
        # It holds the words themselves: a search reads this alone, a fifth of the book. With
        # 100,000 impressions 35 ms a word; the whole book took 300 (a table of words apart
        # answers in one, and would have to be kept in step at every tread).
        f"""CREATE INDEX entries_of_words ON entries (kind, stream, position, action, body)
            WHERE {_WORDED_ONCE}""",
    ),
)

_THIRD: Final = Migration(
    3,
    "what streams came to, and verdicts among the words",
    (
        # Nothing rests on it: see `derived`.
        """CREATE TABLE derived (
            stream TEXT PRIMARY KEY,
            sha256 TEXT NOT NULL,
            told TEXT NOT NULL
        ) STRICT""",
        "DROP INDEX entries_of_words",
        f"""CREATE INDEX entries_of_words ON entries (kind, stream, position, action, body)
            WHERE {_WORDED_TWICE}""",
    ),
)

_FOURTH: Final = Migration(
    4,
    "every word folded, in a table apart",
    (
        # Filled by `worded`, which folds what SQLite cannot. Nothing rests on it.
        """CREATE TABLE words (
            day TEXT NOT NULL,
            sequence INTEGER NOT NULL,
            part TEXT NOT NULL,
            sheet TEXT NOT NULL,
            text TEXT NOT NULL,
            PRIMARY KEY (day, sequence, part)
        ) WITHOUT ROWID, STRICT""",
        "DROP INDEX entries_of_words",
    ),
)

#: Every step there is, in order.
MIGRATIONS: Final = (_FIRST, _SECOND, _THIRD, _FOURTH)


def version_of(connection: sqlite3.Connection) -> int:
    """The number of the last step this file has been through, 0 for none."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def latest_step(migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """The number of the last step this program knows."""
    return migrations[-1].number


def migrate(
    connection: sqlite3.Connection, origin: str, migrations: Sequence[Migration] = MIGRATIONS
) -> None:
    """Take the file through the steps it has not seen; `origin` names it if it is new.

    A new file becomes a book in one transaction, so a start that was cut off leaves
    either nothing in it or all of it.
    """
    for step in migrations:
        if step.number > version_of(connection):
            _run(connection, step, origin)


def _run(connection: sqlite3.Connection, step: Migration, origin: str) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        for statement in step.statements:
            connection.execute(statement)
        if step.number == 1:
            connection.execute("INSERT INTO meta VALUES ('origin', ?)", (origin,))
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID:d}")
        connection.execute("INSERT INTO migrations VALUES (?, ?)", (step.number, step.name))
        connection.execute(f"PRAGMA user_version = {step.number:d}")
        connection.execute("COMMIT")
    except sqlite3.Error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
