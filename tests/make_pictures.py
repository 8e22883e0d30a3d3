"""Draws README's pictures anew: python tests/make_pictures.py

Each is the program's own screen over a day worked through the real workshop, at a
terminal's usual size, kept as SVG in `.pictures/`. Fonts are left to the reader's
machine: a picture fetches nothing.
"""

from __future__ import annotations

import asyncio
import random
import re
import sys
import tempfile
from pathlib import Path
from typing import Any

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from benchapp.book import Book  # noqa: E402
from benchapp.clock import FakeClock  # noqa: E402
from benchapp.demo.day import SimulatedDay  # noqa: E402
from benchapp.demo.printer import Printer  # noqa: E402
from benchapp.demo.year import make_year  # noqa: E402
from benchapp.files import read_text, shipped_recipes  # noqa: E402
from benchapp.recipe.reader import read_recipe  # noqa: E402
from benchapp.screens.app import Benchapp  # noqa: E402
from benchapp.service.sessions import SessionService  # noqa: E402
from benchapp.session import actions as a  # noqa: E402

PICTURES = TOP / ".pictures"
SIZE = (96, 30)


def plain_fonts(svg: str) -> str:
    """The picture without fonts from elsewhere."""
    svg = re.sub(r"@font-face\s*\{[^}]*\}", "", svg)
    return re.sub(r"Fira Code", "DejaVu Sans Mono, Menlo, Consolas", svg)


async def draw(name: str, shop: SessionService, start: str, home: Path | None = None, *,
               over: str = "", **about: Any) -> None:
    """Open the screen over the workshop, `over` on top of it, and keep what it shows."""
    app = Benchapp(shop, start=start, home=home)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause(1.0)
        for _ in range(4):  # what earlier days left is asked first; it waits
            if start == "studio":
                await pilot.press("escape")
        if over:
            app.over(over, **about)
        await pilot.pause(0.5)
        if over == "plan":
            await app.workers.wait_for_complete()
            await pilot.pause(0.2)
        PICTURES.mkdir(exist_ok=True)
        (PICTURES / f"{name}.svg").write_text(plain_fonts(app.export_screenshot(title="benchapp")),
                                              encoding="utf-8")


def day(leaves_at: int) -> tuple[SessionService, FakeClock]:
    """A day on The Weigh House, left when so many sheets are pulled."""
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    printer = Printer(shop, clock, random.Random(7), SimulatedDay(wanted=8, leaves_at=leaves_at))
    printer.print_day("weigh-house", read_text(shipped_recipes()["weigh-house"]))
    if shop.room.session is not None and shop.room.session.paused_t is not None:
        shop.do(a.Resume())
    return shop, clock


def on_until(shop: SessionService, clock: FakeClock, do: str) -> None:
    """Tread on until that step is in hand, then let some minutes pass."""
    for _ in range(40):
        session = shop.room.session
        if session is not None and session.hand is not None:
            step = session.recipe.step(session.hand.step)
            if step is not None and step.do == do:
                break
        clock.advance(4 * 60_000)
        shop.tick()
        shop.do(a.GoOn())
    clock.advance(6 * 60_000 + 31_000)
    shop.tick()


def compare(shop: SessionService) -> None:
    """Two sheets of the last day beside the standard."""
    last = shop.book.sessions()[-1]
    asyncio.run(draw("beside", shop, "studio", over="beside", session=last.id))


def main() -> None:
    """Draw them all."""
    shop, clock = day(4)
    on_until(shop, clock, "Wipe")
    asyncio.run(draw("inky", shop, "bench"))
    on_until(shop, clock, "Lift and look")
    shop.do(a.Judge("keep"))
    shop.do(a.Tag("salty"))
    asyncio.run(draw("lift", shop, "bench"))
    early = FakeClock(wall_ms=1_777_791_000_000)  # ten minutes to nine
    text = read_text(shipped_recipes()["weigh-house"])
    asyncio.run(draw("plan", SessionService(Book.in_memory(), early), "studio", over="plan",
                     recipe=read_recipe(text)))
    with tempfile.TemporaryDirectory() as folder:
        now = FakeClock(wall_ms=1_777_820_000_000).now()
        path = make_year(Path(folder), now)
        standing = FakeClock(now.wall_ms, now.offset_min)
        with Book.open(path, write=True) as book:
            shop = SessionService(book, standing)
            asyncio.run(draw("studio", shop, "studio", Path(folder)))
            compare(shop)


if __name__ == "__main__":
    main()
