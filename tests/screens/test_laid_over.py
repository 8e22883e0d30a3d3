"""A screen laid over another goes away once, however many keys were typed ahead."""

from __future__ import annotations

import asyncio

from textual.app import App

from benchapp.screens.laid_over import LaidOver


class _Host(App[None]):
    """Three screens deep, as ours is under a card: the framework's own, a main one, the card."""


class _Card(LaidOver[str]):
    """Anything put away by a key."""


async def _dismissed_twice() -> tuple[int, list[str | None]]:
    app, results = _Host(), list[str | None]()
    async with app.run_test() as pilot:
        await app.push_screen(LaidOver[None]())
        card = _Card()
        await app.push_screen(card, results.append)
        card.dismiss("once")
        card.dismiss("twice")
        await pilot.pause()
        return len(app.screen_stack), results


def test_the_second_dismissal_finds_it_gone():
    """Neither the screen under it nor the app is taken away, and the result comes once."""
    assert asyncio.run(_dismissed_twice()) == (2, ["once"])
