"""Every disk is full: the screens say so with each answer, and `q` asks before it leaves."""

from __future__ import annotations

from pathlib import Path

from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from tests.book.samples import Faults, writing
from tests.plain.test_unsaved import fill
from tests.screens.days import opened, run, screens, small


def test_q_asks_while_entries_are_only_in_memory(tmp_path: Path) -> None:
    """A tread says it is not on disk; escape stays, so does a tread; its key leaves."""
    faults = Faults()
    shop = SessionService(writing(tmp_path / "book.db", faults), FakeClock())
    opened(shop, small())

    async def work() -> None:
        async with screens(shop, "bench") as here:
            fill(faults)
            await here.press("space")
            await here.shows("Wash and dry hands · usual 1.5 min · not on disk yet",
                             "entries are in memory only")
            await here.press("ctrl+c")
            await here.shows("Hands are inky: wash first. Not everything is on disk yet.")
            await here.press("space", "ctrl+c")
            await here.shows("Ctrl+Q asks before it leaves. Not everything is on disk yet.")
            await here.press("ctrl+q")
            await here.shows("entries are not on disk yet. Leave all the same?")
            await here.press("space", "enter")
            assert not here.app._exit
            await here.press("escape", "ctrl+q")
            await here.shows("Leave all the same?")
            await here.press("2")
            assert here.app._exit
            faults.clear()

    run(work())
    shop.book.close()
