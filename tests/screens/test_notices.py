"""Passing messages: they lie over nothing, and are said once."""

from __future__ import annotations

import pytest

from benchapp.calls.awake import NotHeld
from benchapp.calls.players import RecordingPlayer
from benchapp.files import is_first_time, state_folder
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.notices import NoticeBar
from benchapp.screens.sounding import Sounding, boot_ms
from benchapp.screens.widgets.keys import KeyLine
from tests.screens.bench_support import on_the_bench, run
from tests.screens.days import screens, workshop
from tests.screens.support import until
from tests.screens.test_hearing import OPEN_GATE
from tests.session.support import DAY, Bench

LONG = "Something went wrong that takes more than a line to say, " * 3
DARK = ("benchapp could not keep the screen awake (nothing holds it). "
        "Set it to stay on while you print.")


@pytest.mark.parametrize("size", [
    (80, 24), *(pytest.param(size, marks=pytest.mark.full) for size in ((120, 40), (60, 20)))])
@pytest.mark.parametrize("name", ["studio", "help", "boards", "preferences", "plan", "bench"])
def test_a_message_takes_rows_of_its_own_and_leaves_the_keys(name: str, size, home) -> None:
    """Nothing of the screen lies under it: keys, counts and cautions stay."""
    async def work() -> None:
        async with on_the_bench(DAY, size=size) as here:
            if name == "studio":
                here.app.leave_bench()
            elif name != "bench":
                here.app.over(name)
            await here.pilot.pause()
            for text in ("That does nothing here", LONG):
                here.app.say(sanitize(text), severity="warning")
                await until(here.pilot, lambda t=text: t[:40] in here.text)
                await here.pilot.pause()
                bar = next(iter(here.app.screen.query(NoticeBar)), None)
                keys = here.app.screen.query_one(KeyLine).region
                assert keys.bottom == size[1]
                assert bar is not None or name == "bench"  # the Bench has its own line
                for other in here.app.screen.children if bar is not None else ():
                    if other is not bar and other.display:
                        assert not bar.region.overlaps(other.region), other
            here.app.clear_notifications()
            await until(here.pilot, lambda: not list(here.app.screen.query(NoticeBar)))

    run(work())


def test_a_message_said_again_is_one_message_and_goes_by_itself() -> None:
    """Four times the same words stand there once."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop) as here:
            for _ in range(4):
                here.app.say(SafeText("Choose a recipe first"))
            await here.shows("Choose a recipe first")
            assert here.text.count("Choose a recipe first") == 1
            here.app.notify("gone at once", timeout=0.05)
            await until(here.pilot, lambda: "gone at once" not in here.text)
            assert "Choose a recipe first" in here.text
            here.app.notices.drop(SafeText("Choose a recipe first"))
            await until(here.pilot, lambda: "Choose a recipe first" not in here.text)

    run(work())


def test_that_the_screen_may_go_dark_is_said_once_and_not_at_every_start(home) -> None:
    """Kept in the folder of what the program remembers; another reason is said again."""
    b = Bench(DAY)

    def start(why: str) -> list[str]:
        sounding = Sounding(b.clock, OPEN_GATE, lambda s: RecordingPlayer(boot_ms(b.clock)),
                            hold=lambda: NotHeld(why), first_time=is_first_time)
        try:
            found = [r.text for _ in range(3) for r in sounding.follow(b.room, b.now)
                     if hasattr(r, "text")]
        finally:
            sounding.stop()
        return found

    assert start("nothing holds it") == [DARK]
    assert start("nothing holds it") == []
    assert start("code 1") == [DARK.replace("nothing holds it", "code 1")]
    (state_folder() / "told.json").write_text("{not json", encoding="utf-8")
    assert start("code 1") != []
