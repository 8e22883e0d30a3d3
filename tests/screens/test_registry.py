"""Every screen of the registry, over a book whose texts are out to do harm."""

from __future__ import annotations

import pytest

from benchapp.events.entry import Draft
from benchapp.recipe.reader import read_recipe
from benchapp.safe_text import character_fault
from benchapp.screens.opening import Opening
from benchapp.screens.registry import MAIN, SCREENS
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.edition_links import recipe_print_id
from tests.screens.contrast import LEAST, contrast
from tests.screens.days import Screens, closed, opened, printed, run, screens, workshop
from tests.screens.support import colour_pairs, strips, until

MARKUP = "[/b] [@click=app.quit]out[/] sheet [A]"
#: What doors of ours refuse, and an old or foreign book may hold all the same.
HOSTILE = (f"{MARKUP} \x1b[2J\x1b]52;c;QUJD\x07 \x9b31m \u202eback\u2066 \r\n\t\u2028 "
           + "long " * 80)
#: Screens that are shown about one session.
SHOWN_THERE = ("impressions", "round", "review", "search", "boards", "edition", "where", "sort",
               "stock")
OF_A_SESSION = ("impressions", "round", "review", "beside", "beside days", "plate life", "sort")
RECIPE = f"""\
recipe: 1
print: {{title: "{MARKUP}", artist: "{MARKUP}"}}
plates: [{{name: "{MARKUP}", metal: copper, size: 100 x 140 mm}}]
paper: {{name: "{MARKUP}", damp: {{method: soak, soak: 5 min, pack: 4}}}}
press: {{pitch: 2 mm, "{MARKUP}": 3 turns}}
each:
  - {{do: "{MARKUP}", hands: inky, time: 50 min, care: "{MARKUP}", lines: ["{MARKUP}"]}}
  - {{do: Pull, hands: clean, pulls: "{MARKUP}"}}
  - {{do: Lift, hands: clean, asks: [verdict, tags, note]}}
after:
  - {{do: "Rags {MARKUP}", hands: clean, must: ["{MARKUP}", in the can]}}
tags: {{"{MARKUP}": ["{MARKUP}"]}}
phrases: ["{MARKUP}"]
"""


def hostile_book() -> tuple[SessionService, str]:
    """A workshop whose book holds hostile texts wherever there is text; gives a closed session."""
    shop, clock = workshop()
    first = opened(shop, RECIPE)
    printed(shop, clock, 2)
    stream = f"session/{first}"
    texts = (
        Draft(stream, "noted", {"impression": 1, "text": HOSTILE}),
        Draft(stream, "noted", {"impression": None, "text": HOSTILE}),
        Draft(stream, "tagged", {"impression": 1, "tag": HOSTILE}),
        Draft(stream, "tagged", {"impression": 2, "tag": HOSTILE}),
        Draft(stream, "read", {"impression": 1, "name": HOSTILE, "value": "1", "unit": HOSTILE}),
        Draft(stream, "marked", {"impression": 2, "mark": HOSTILE}),
        Draft(stream, "setting changed", {"name": HOSTILE, "value": HOSTILE}),
        Draft(stream, "reworked", {"plate": MARKUP, "state": HOSTILE, "what": HOSTILE}),
        Draft(stream, "left off", {"text": HOSTILE}),
        Draft(stream, "helper joined", {"name": HOSTILE}),
        Draft("pack/x", "put in", {"pack": "x", "paper": HOSTILE, "sheets": 3, "method": "soak",
                                   "soak_ms": None, "rest_ms": None, "keeps_ms": 1, "by": None}),
    )
    shop.book.append(texts, shop.now(), "note")
    shop.book.append(editions_of(first), shop.now(), "number")
    shop.load()
    closed(shop, clock, facts=False)
    shop.book.append([Draft("session/2026-05-01@other", "opened", {
        "session": HOSTILE, "letters": HOSTILE, "print": HOSTILE, "artist": HOSTILE,
        "recipe": HOSTILE, "recipe_text": RECIPE, "recipe_sha256": "", "wanted": None})],
        shop.now(), "run")
    shop.load()
    clock.advance(24 * 60 * 60_000)
    second = opened(shop, RECIPE)
    printed(shop, clock, 1)
    shop.do(a.Helper(True, "Ottoline"))
    shop.book.append((
        Draft(f"session/{second}", "noted", {"impression": 1, "text": HOSTILE}),
        Draft(f"session/{second}", "tagged", {"impression": 1, "tag": HOSTILE}),
        Draft(f"session/{second}", "timed", {"clock": "clock 1", "name": HOSTILE, "ms": 1}),
    ), shop.now(), "note")
    shop.load()
    clock.advance(60_000)
    return shop, first


def editions_of(session: str) -> tuple[Draft, ...]:
    """The print of those sheets, numbered, signed, voided and stacked in hostile words."""
    print_ = recipe_print_id(read_recipe(RECIPE))
    about = {"print": print_, "sheet": f"{session}#1", "mark": HOSTILE, "session": HOSTILE,
             "over": []}
    stream, stack = f"print/{print_}@other", {"stack": "s@other.1"}
    return (
        Draft(stream, "declared", {
            "print": print_, "title": HOSTILE, "artist": HOSTILE, "form": "limited", "size": 5,
            "was": None, "caps": {HOSTILE: {"cap": 1, "inside": False}}, "roman": False,
            "roman_proofs": True, "sibling": None, "relation": HOSTILE, "by": "printer",
            "over": []}),
        Draft(stream, "proof given", {**about, "kind": HOSTILE, "number": 1, "by": HOSTILE}),
        Draft(stream, "number given", {**about, "number": 7}),
        Draft(stream, "number voided", {"print": print_, "number": 2, "sheet": None,
                                        "why": HOSTILE, "over": []}),
        Draft(stream, "plate told", {"print": print_, "plate": HOSTILE, "state": HOSTILE,
                                     "before": None, "over": []}),
        Draft(stream, "handed out", {**about, "place": HOSTILE, "terms": HOSTILE, "day": HOSTILE,
                                     "due": HOSTILE}),
        Draft("stack/s@other.1", "begun", {**stack, "name": HOSTILE, "drying": [
            {"do": HOSTILE, "after_ms": 60_000, "every_ms": None, "for_ms": None}]}),
        Draft("stack/s@other.1", "laid", {**stack, "sheet": "x", "mark": HOSTILE, "over": []}),
        Draft("stock/counted@other", "counted", {
            "item": HOSTILE, "lot": HOSTILE, "unit": "items", "amount": 3, "on": None}),
        Draft("stock/counted@other", "batch mixed", {
            "item": MARKUP, "parts": [{"name": HOSTILE, "mg": None}], "on": None,
            "note": HOSTILE}),
    )


def hold(here: Screens, name: str, size: tuple[int, int]) -> None:
    """What stands there is plain, fits, and can be read."""
    assert here.app.is_running
    for strip in strips(here.app):
        assert strip.cell_length <= size[0], name
        wrong = {sign for sign in strip.text if character_fault(sign) is not None}
        assert wrong == set(), f"{name}: {wrong}"
        for segment in strip:
            assert segment.control is None, name
            link = None if segment.style is None else segment.style.link
            assert not link, name
            assert not (segment.style and segment.style.meta.get("@click")), name
    faint = {text[:40]: pair for pair, text in colour_pairs(here.app).items()
             if any(map(str.isalnum, text)) and contrast(*pair) < LEAST}
    assert faint == {}, name


@pytest.mark.parametrize(("size", "theme"), [
    ((80, 24), "dark"), pytest.param((120, 40), "light", marks=pytest.mark.full)])
def test_every_screen_stands_hostile_texts(size: tuple[int, int], theme: str) -> None:
    """No control, no markup, no link reaches the terminal; all text keeps 7:1; the app lives."""
    every_screen(size, theme)


@pytest.mark.full
@pytest.mark.parametrize(("size", "theme"), [((80, 24), "light"), ((120, 40), "dark"),
                                             ((40, 12), "dark"), ((200, 60), "light")])
def test_every_screen_stands_them_in_other_sizes(size: tuple[int, int], theme: str) -> None:
    """Likewise where the window is another one."""
    every_screen(size, theme)


def every_screen(size: tuple[int, int], theme: str) -> None:
    """Open all of them one after the other."""
    shop, first = hostile_book()

    async def work() -> None:
        async with screens(shop, "bench", size=size, theme=theme) as here:
            seen = set()
            while here.app.screen.is_modal:  # what earlier days left
                hold(here, "asked first", size)
                await here.press("escape")
            hold(here, "bench", size)
            for name in SCREENS:
                if name in MAIN:
                    continue
                about = {"session": first} if name in OF_A_SESSION else {}
                if name == "search":
                    about = {"words": "long"}
                elif name == "set-up":
                    about = {"opening": Opening("print", RECIPE)}
                here.app.over(name, **about)
                await here.pilot.pause()
                if name == "plan":
                    await until(here.pilot, lambda: "planning …" not in here.text, tries=2000)
                hold(here, name, size)
                if name in SHOWN_THERE and size[1] >= 24:
                    assert "␛[2J" in here.text, name
                for key in ("end", "left"):
                    await here.press(key)
                    hold(here, f"{name} {key}", size)
                seen.add(name)
                if here.app.screen.__class__.__name__ == SCREENS[name].cls:
                    await here.press("escape")
            here.app.leave_bench()
            await here.pilot.pause()
            for keys in (("left", "home"), ("down",), ("end",), ("right", "home"), ("n",)):
                await here.press(*keys)
                hold(here, f"studio {keys}", size)
            assert seen | MAIN == set(SCREENS)

    run(work())


def test_what_asks_stands_hostile_texts_too() -> None:
    """The cards over a sheet: its tags, its notes, what it was for, its mark."""
    shop, first = hostile_book()

    async def work() -> None:
        async with screens(shop, over="impressions", session=first) as here:
            while here.app.screen.__class__.__name__ == "Pick":
                await here.press("escape")
            if here.app.screen.__class__.__name__ != "ImpressionsScreen":
                here.app.over("impressions", session=first)
            await here.press("home")
            for key in ("t", "n", "f", "M"):
                await here.press(key)
                assert here.app.screen.is_modal, key
                hold(here, key, (80, 24))
                await here.press("escape")

    run(work())


@pytest.mark.parametrize("name", sorted(SCREENS))
def test_every_screen_says_what_it_is(name: str) -> None:
    """The registry names a class that is there, with a line about itself."""
    made = SCREENS[name].make(
        **({"opening": Opening("print", RECIPE)} if name == "set-up" else {}))
    assert type(made).__name__ == SCREENS[name].cls
    assert (type(made).__doc__ or "").strip()
