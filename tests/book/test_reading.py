"""The questions asked of a book: streams, entries since, sessions, the heartbeat."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

from benchapp.book import Book
from tests.book.samples import (
    DAY,
    Faults,
    closed,
    disk_full,
    draft,
    moment,
    note,
    opened,
    raw,
    sheet_out,
    taken_back,
    writing,
)


def test_entries_of_some_streams_since(path: Path) -> None:
    """Entries come in the order they happened, of the streams and after the place asked for."""
    with writing(path) as book:
        book.append([note("1"), sheet_out(1), sheet_out(2), note("4"), sheet_out(1)], moment(), "x")

        def sequences(streams: list[str] | None = None, since: int | None = None) -> list[int]:
            return [int(entry.id.split(":")[1]) for entry in book.entries(streams, since)]

        assert sequences() == [1, 2, 3, 4, 5]
        assert sequences([DAY, "pack/1"]) == [1, 2, 4, 5]
        assert sequences(["pack/1", "pack/1", "pack/none"]) == [2, 5]
        assert sequences(["pack/1"], since=2) == [5]
        assert sequences(since=3) == [4, 5]
        assert sequences([]) == []


def test_streams_of_a_family(path: Path) -> None:
    """Names come sorted, and a family is not another that begins alike."""
    with writing(path) as book:
        book.append([sheet_out(2), opened("2026-05-04"), sheet_out(10), opened()], moment(), "x")
        assert book.streams("pack") == ["pack/10", "pack/2"]
        assert book.streams("session") == [DAY, "session/2026-05-04"]
        assert book.streams("pac") == []
        assert book.stream("pack/99") == ()


def test_sessions_in_the_order_they_opened(path: Path) -> None:
    """The list is by opening, and says what was worked on last."""
    with writing(path) as book:
        for name in ("2026-05-03", "2026-05-01", "2026-05-02"):
            book.append([opened(name)], moment(), "open")
        book.append([note("late"), sheet_out()], moment(9), "note")
        rows = book.sessions()
    assert [row.name for row in rows] == ["2026-05-03", "2026-05-01", "2026-05-02"]
    assert [row.last_sequence for row in rows] == [4, 2, 3]
    assert rows[0].opened.body["print"] == "Slack Water"
    assert not any(row.closed for row in rows)


def test_closed_and_taken_back(path: Path) -> None:
    """A closing counts unless its action was taken back; a later one counts again."""
    def is_closed() -> bool:
        return book.sessions()[0].closed

    with writing(path) as book:
        book.append([opened()], moment(), "open")
        other, = book.append([note("a")], moment(), "note")
        closing, _ = book.append([note("rags done"), closed()], moment(), "go on")
        assert is_closed()
        book.append([taken_back(other.action)], moment(), "back")
        assert is_closed()
        book.append([taken_back(closing.action)], moment(), "back")
        assert not is_closed()
        book.append([closed()], moment(), "go on")
        assert is_closed()
    with Book.reading(path) as book:
        assert is_closed()


def test_a_discarded_session_is_out_of_the_list(path: Path) -> None:
    """Names and letters still go by it; it is back when that was taken back."""
    def shown() -> list[tuple[str, bool]]:
        assert [row.discarded for row in book.all_sessions()] == [
            row.name not in [x.name for x in book.sessions()] for row in book.all_sessions()]
        return [(row.name, row.closed) for row in book.sessions()]

    with writing(path) as book:
        book.append([opened()], moment(), "open")
        book.append([opened("2026-05-04")], moment(), "open")
        gone, = book.append([closed()], moment(), "discard")
        book.append([closed("2026-05-04")], moment(), "close")
        assert shown() == [("2026-05-04", True)]
        assert len(book.all_sessions()) == 2
        book.append([taken_back("x:99")], moment(), "back")
        assert shown() == [("2026-05-04", True)]
        book.append([taken_back(gone.action)], moment(), "back")
        assert shown() == [("2026-05-03", False), ("2026-05-04", True)]


def test_a_pack_is_no_session(path: Path) -> None:
    """What other families take back or open is not in the list."""
    with writing(path) as book:
        book.append([draft("pack/1", "taken back", action="x:1"), note("lost")], moment(), "x")
        assert book.sessions() == []


def test_what_waits_is_read_like_the_rest(path: Path) -> None:
    """While the disk refuses, the open book answers as if all were in the file."""
    faults = Faults()
    with writing(path, faults) as book:
        book.append([opened(), sheet_out(1)], moment(), "open")
        faults.plan("commit", disk_full)
        book.append([opened("2026-05-03b"), sheet_out(3), closed()], moment(), "open")
        assert [(row.name, row.closed, row.last_sequence) for row in book.sessions()] == [
            ("2026-05-03", True, 5), ("2026-05-03b", False, 3)]
        assert book.streams("pack") == ["pack/1", "pack/3"]
        assert len(book.stream(DAY)) == 2
        assert [entry.kind for entry in book.entries([DAY], since=1)] == ["closed"]
        assert (len(book.entries()), book.last_sequence()) == (5, 5)
        faults.clear()


def test_heartbeat_once_a_minute(path: Path) -> None:
    """It is written at most every 60 s of the boot clock, and at once after a new start."""
    with writing(path) as book:
        assert book.last_heartbeat() is None
        assert [book.heartbeat(moment(s)) for s in (0, 1, 59, 60, 61, 119, 120)] == [
            True, False, False, True, False, False, True]
        assert book.last_heartbeat() == moment(120)
        assert book.entries() == ()
    with writing(path) as book:
        assert not book.heartbeat(moment(121))
        assert book.heartbeat(moment(1, boot="boot-b"))
    with Book.reading(path) as book:
        assert book.last_heartbeat() == moment(1, boot="boot-b")


def test_heartbeat_ignores_the_wall(path: Path) -> None:
    """A wall clock put back or forward does not stop or hurry it."""
    with writing(path) as book:
        assert book.heartbeat(moment(0))
        assert not book.heartbeat(moment(10, wall_ms=0))
        assert book.heartbeat(moment(60, wall_ms=0))


def test_a_heartbeat_the_disk_refuses_is_no_error(path: Path) -> None:
    """The next one follows, and the book can be written in meanwhile."""
    with writing(path) as book:
        with closing(raw(path)) as other:
            other.execute("CREATE TRIGGER full BEFORE INSERT ON meta WHEN NEW.key = 'heartbeat' "
                          "BEGIN SELECT RAISE(FAIL, 'full'); END")
            assert not book.heartbeat(moment(0))
            book.append([note("a")], moment(), "note")
            other.execute("DROP TRIGGER full")
        assert book.heartbeat(moment(1))
