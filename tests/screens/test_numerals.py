"""The numerals on a screen: what they paint, when, and in which colours."""

from __future__ import annotations

import asyncio

from textual.app import App, ComposeResult

from benchapp.screens.glyphs import glyph_rows
from benchapp.screens.widgets.numerals import Numerals
from tests.screens.support import screen_text, strips, until


class Watched(Numerals):
    """Numerals that count how often they are painted anew."""

    painted = 0

    def refresh(self, *regions, repaint=True, layout=False, recompose=False):
        """Count what is asked for."""
        if repaint:
            self.painted += 1
        return super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)


class Counter(App[None]):
    """A screen with one count."""

    CSS = "Screen { background: #101010; color: #fff0d0; layout: horizontal; }"

    def compose(self) -> ComposeResult:
        """The count alone."""
        yield Watched("9:05", room_for="00:00")


def test_numerals_stand_at_the_right_of_their_room() -> None:
    """A shorter text keeps the width of the widest and ends where that ends."""

    async def run() -> None:
        app = Counter()
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            wide = len(glyph_rows("00:00", 5)[0])
            expected = "\n".join(row.rjust(wide).rstrip() for row in glyph_rows("9:05", 5))
            assert screen_text(app) == expected
            assert app.query_one(Numerals).size == (wide, 5)

    asyncio.run(run())


def test_the_same_text_is_not_painted_again() -> None:
    """Setting what already stands there asks for no repaint; another text does."""

    async def run() -> None:
        app = Counter()
        async with app.run_test(size=(80, 24)) as pilot:
            count = app.query_one(Watched)
            await pilot.pause()
            before = count.painted
            count.set("9:05")
            assert count.painted == before
            count.set("9:06")
            assert count.painted == before + 1
            await until(pilot, lambda: glyph_rows("9:06", 5)[2].rstrip() in screen_text(app))
            assert count.text == "9:06"

    asyncio.run(run())


def test_a_larger_height_takes_its_room() -> None:
    """Scaling redraws the count with the rows of the new height."""

    async def run() -> None:
        app = Counter()
        async with app.run_test(size=(120, 40)) as pilot:
            app.query_one(Numerals).scale(14)
            await until(pilot, lambda: app.query_one(Numerals).size.height == 14)
            await until(pilot, lambda: glyph_rows("9:05", 14)[0].rstrip() in screen_text(app))

    asyncio.run(run())


def test_full_blocks_are_painted_on_their_own_colour() -> None:
    """Foreground and ground of a full block are one; of half blocks they differ."""

    async def run() -> None:
        app = Counter()
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            full, half = set(), set()
            for strip in strips(app)[:5]:
                for text, style, _ in strip:
                    if text.strip():
                        same = style.color == style.bgcolor
                        (full if text.strip("█") == "" else half).add(same)
            assert (full, half) == ({True}, {False})

    asyncio.run(run())
