"""A monkey that types into every line of every screen: the book holds what stood there.

Letters, digits, colons, quotes, accents, emoji, markup and pastes. When enter is pressed either
the line refuses and stays open with its text, or the book has exactly that text where it
belongs, and nothing else. The full tier types more than two thousand lines.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import settings as hypothesis
from textual import events
from textual.widgets import Input

from benchapp import settings
from benchapp.edition import actions as acts
from benchapp.quantities import read_duration
from benchapp.recipe.reader import read_recipe
from benchapp.screens.opening import Opening
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.actions.clocks import split_time
from benchapp.session.marks import read_mark
from tests.screens.days import Screens, opened, run, screens, shipped, small, workshop
from tests.screens.support import until
from tests.screens.test_editions import PEAR, dried
from tests.session.support import PULL, SETTLE, SOAK, WIPE, recipe

#: Lines of each place that is tried in the quick tier; in the full one together more than 2,000.
QUICK, FULL = 1, 2_400
SCREWS = ["{do: Screws, hands: clean}", "{do: Blankets, hands: clean}"]
LIFT = "{do: Lift, hands: clean, time: 3 min, asks: [verdict, note]}"
READ = "readings:\n  - {name: film, unit: g}\nphrases: [two drops of oil]\n"
PIECES = (
    *"abcxyzABCZ", *"0123456789", " ", " ", ":", ":", ";", ",", ".", "'", '"', "“", "é", "ß", "ø",
    "å", "ñ", "ő", "中", "🖨", "👍🏽", "[/b]", "[@click=app.quit]x[/]", "[red]", "\\[", "{}", "%s",
    "=", "+", "-", "/", "@", "#", "<b>", "&amp;", "$HOME", "`", "~", "min", "turns", "K7", "1/5",
    "12",
)
PASTES = ("pasted words", "[/b] “pasted”: 12 g", "one\ntwo", "a\x1b[31mred", "tab\there",
          "🖨 " * 300)


@dataclass(frozen=True)
class Place:
    """A line that is typed on.

    Attributes:
        name: What the test is called by.
        open: Keys that open it; words with a blank stand for the key of that answer in a menu.
        wrote: Whether the entries that came, kind and body, are what such a text means.
        made: The workshop it is typed in, and how the screens are opened over it.
        likely: Texts this line takes.
        behind: Keys that finish what the line began.
        after: Keys that write what the line took, where a screen keeps it until then.
        undo: Keys that make it possible again.
        few: Whether each text needs a studio of its own: then fewer are typed.
    """

    name: str
    open: tuple[str, ...]
    wrote: Callable[[list[tuple[str, dict[str, Any]]], str], bool]
    made: Callable[[], tuple[SessionService, dict[str, Any]]]
    likely: tuple[str, ...] = ()
    behind: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    undo: tuple[str, ...] = ()
    few: bool = False


# -- what is written -------------------------------------------------------------------------


def field(kind: str, name: str, means: Callable[[str], Any] = str, *also: str,
          ) -> Callable[[list[tuple[str, dict[str, Any]]], str], bool]:
    """One entry of that kind whose field is what the text means; of others only these kinds."""
    def wrote(entries: list[tuple[str, dict[str, Any]]], text: str) -> bool:
        of = [body for k, body in entries if k == kind]
        return (len(of) == 1 and of[0].get(name) == means(text)
                and all(k == kind or k in also for k, _ in entries))

    return wrote


def nothing(entries: list[tuple[str, dict[str, Any]]], text: str) -> bool:
    """No entry: the line asks for what is only looked up."""
    return entries == []


def number(text: str) -> int | None:
    """A count, or nothing said."""
    return int(text) if text else None


def clock(entries: list[tuple[str, dict[str, Any]]], text: str) -> bool:
    """A clock of so long, by that name."""
    ms, name = split_time(text) or (0, "")
    return [(k, b["ms"], b["name"]) for k, b in entries] == [("timed", ms, name or "clock")]


def reworked(entries: list[tuple[str, dict[str, Any]]], text: str) -> bool:
    """State and what was done, told apart by the first colon; not a letter more or less."""
    state, _, what = text.partition(":")
    return [(k, b["state"] or "", b["what"] or "") for k, b in entries] == [
        ("reworked", state.strip(), what.strip())]


def state(entries: list[tuple[str, dict[str, Any]]], text: str) -> bool:
    """A state proof of that state; of the one in force, as its line says, where none is typed."""
    said = [(k, b["for"], b["state"]) for k, b in entries]
    return len(said) == 1 and said[0][:2] == ("for said", "SP") and text in ("", said[0][2])


def handed(entries: list[tuple[str, dict[str, Any]]], text: str) -> bool:
    """Out of the studio, to whom in the printer's own words, or not said."""
    said = [str(x) for _, body in entries for x in _texts(body)]
    return bool(entries) and (not text or text in said)


def _texts(value: Any) -> list[str]:
    if isinstance(value, dict):
        return [x for v in value.values() for x in _texts(v)]
    if isinstance(value, list | tuple):
        return [x for v in value for x in _texts(v)]
    return [value] if isinstance(value, str) else []


# -- where it is typed -----------------------------------------------------------------------


def bench(text: str, sheets: int | None = None) -> Callable[
        [], tuple[SessionService, dict[str, Any]]]:
    """A session on the Bench; with `sheets` so many are pulled, the last is looked at."""
    def made() -> tuple[SessionService, dict[str, Any]]:
        shop, time = workshop()
        opened(shop, text)
        while sheets and len([i for i in shop.room.session.impressions if i.pulled]) < sheets:
            time.advance(240_000)
            assert shop.do(a.GoOn()).ok
        return shop, {"start": "bench"}

    return made


def closed_day(over: str, *, numbered: bool = False, **about: Any) -> Callable[
        [], tuple[SessionService, dict[str, Any]]]:
    """A day that is over, with a screen about it."""
    def made() -> tuple[SessionService, dict[str, Any]]:
        shop, session = dried()
        if numbered:
            assert shop.editions.do(acts.GiveNumbers(PEAR, ((f"{session}#3", 1),))).ok
        there = {"session": session} if over in ("impressions", "round", "sort", "beside") else {}
        return shop, {"over": over, "asking": False, **there, **about}

    return made


def studio(**about: Any) -> Callable[[], tuple[SessionService, dict[str, Any]]]:
    """The Studio with nothing in it but the shelf."""
    return lambda: (workshop()[0], {"start": "studio", "asking": False, **about})


def card() -> tuple[SessionService, dict[str, Any]]:
    """The set-up card of a day that is not open yet."""
    return workshop()[0], {"start": "set-up", "asking": False,
                           "opening": Opening("print", small())}


def planned() -> tuple[SessionService, dict[str, Any]]:
    """The Plan of a shipped day."""
    text = shipped("weigh-house")
    return workshop()[0], {"over": "plan", "recipe": read_recipe(text), "called": "weigh-house",
                           "text": text, "wanted": 2}


def prepared() -> tuple[SessionService, dict[str, Any]]:
    """The day of an open session prepared."""
    return bench(shipped("weigh-house"))()[0], {"start": "bench", "over": "prepare"}


READY = bench(recipe(before=SCREWS, extra=READ))
LIFTED = bench(recipe(each=[WIPE, PULL, LIFT], extra=READ), sheets=1)
WAITING = bench(recipe(before=[SETTLE, *SCREWS]))
COUNTS = ("3", "12", "0", "007", "9999", "10000", "3.5", "٣")

PLACES = (
    Place("note", ("n",), field("noted", "text"), READY),
    Place("note of a sheet", ("n",), field("noted", "text"), LIFTED),
    Place("left off", ("full_stop",), field("left off", "text"), READY),
    Place("helper", ("j",), field("helper joined", "name", lambda x: x or None), READY,
          undo=("j",)),
    Place("skip", ("x",), field("step finished", "why", str, "step started"), READY,
          undo=("backspace",)),
    Place("wanted", ("b",), field("wanted set", "wanted", number), READY, COUNTS),
    Place("clock", ("c",), clock, READY, ("5 min varnish", "90 s", "1 h 5 min a: b", "5", "0 s x")),
    Place("name of a setting", ("e", "0"), field("setting changed", "name"), READY,
          behind=("x", "enter")),
    Place("setting", ("e", "0", "r", "a", "c", "k", "enter"),
          field("setting changed", "value"), READY),
    Place("reading", ("g", "1"), field("read", "value"), LIFTED,
          ("8.4", "8,4", "84 g", "12")),
    Place("rework", ("w",), reworked, READY, ("II", "II: burnished the sky", ": a: b")),
    Place("state", ("f", "4"), state, LIFTED, ("II",)),
    Place("more time", ("plus", "Another time …"),
          field("step extended", "by_ms", lambda x: read_duration(x).ms, "called", "due"), WAITING,
          ("90 s", "12 min", "1:30", "0 s", "2 h")),
    Place("damped", ("a",), field("put in", "sheets", number, "step finished", "step started"),
          bench(recipe(before=SCREWS, damp=SOAK)), COUNTS, few=True),
    Place("set-up", ("2",), field("setting changed", "value", str, "opened", "step started",
                                  "impression begun"), card, ("3 felts",), after=("space",),
          few=True),
    Place("wanted on the card", ("w",), field("wanted set", "wanted", number, "opened",
                                              "step started", "impression begun"),
          card, COUNTS, after=("space",), few=True),
    Place("note on a list", ("n",), field("noted", "text"), closed_day("impressions")),
    Place("mark on a list", ("M",), field("marked", "mark", lambda x: read_mark(x) or x),
          closed_day("impressions"), ("K7", "k7", "D1", "QQ12")),
    Place("note on the round", ("n",), field("noted", "text"), closed_day("round")),
    Place("sheets in the Studio", ("d",), field("put in", "sheets", number),
          studio(), COUNTS),
    Place("prepare", ("b",), nothing, prepared, COUNTS),
    Place("plan wanted", ("w",), nothing, planned, COUNTS),
    Place("plan until", ("u",), nothing, planned, ("17:00", "9")),
    Place("sheet beside", ("w",), nothing, closed_day("beside"), ("D1", "D2", "K7")),
    Place("where is", ("w",), nothing, closed_day("where", numbered=True), ("1", "D3", "BAT")),
    Place("sold", ("s",), handed, closed_day("where", numbered=True), few=True),
    Place("given", ("v",), handed, closed_day("where", numbered=True), few=True),
    Place("destroyed", ("delete",), handed, closed_day("where", numbered=True), few=True),
    Place("number by hand", ("N",), field("number given", "number", int), closed_day(
        "sort", numbered=True), ("4", "5", "0", "99"), few=True),
    Place("destroyed at sorting", ("delete",), handed, closed_day("sort", numbered=True), few=True),
    Place("boards left", ("x",), handed, closed_day("boards"), few=True),
    Place("weight", ("w",), lambda entries, text: len(entries) == 1, closed_day("boards"),
          ("12 kg", "500 g", "0 g", "12")),
)


# -- typing ----------------------------------------------------------------------------------


def line_of(place: Place, rng: random.Random) -> list[tuple[str, bool]]:
    """Pieces of a line, each typed or pasted."""
    if place.likely and rng.random() < .3:
        return [(sign, False) for sign in rng.choice(place.likely)]
    pieces = [(rng.choice(PIECES), False) for _ in range(rng.randint(0, 14))]
    if rng.random() < .2:
        pieces.insert(rng.randint(0, len(pieces)), (rng.choice(PASTES), True))
    return pieces


async def typed(here: Screens, pieces: list[tuple[str, bool]]) -> str:
    """Type and paste into the open line; what stands there then."""
    for text, pasted in pieces:
        if pasted:
            here.app.post_message(events.Paste(text))
        else:
            for sign in text:
                here.app.post_message(events.Key(
                    "space" if sign == " " else sign, sign))
    await drained(here)
    return here.app.screen.query_one(Input).value


async def drained(here: Screens) -> None:
    """Until every key posted so far went through the app and the line, however busy it is."""
    ask, through = here.app.screen, []
    line = ask.query_one(Input)
    # Behind the keys in the app's queue, then behind them in the line's, then in the screen's;
    # and once more, as what a key makes the line send comes behind the first round.
    for round_ in (1, 2):
        here.app.call_later(line.call_later, ask.call_later, through.append, round_)
        await until(here.pilot, lambda last=round_: last in through or here.app.screen is not ask,
                    tries=3_000, what="all keys gone through")
    await here.pilot.pause()


async def tap(here: Screens, key: str) -> None:
    """A key that opens something or closes it; within a line it only types."""
    before = here.app.screen
    here.app.post_message(events.Key(key, key if len(key) == 1 else None))
    if isinstance(before, Ask) and key not in ("enter", "escape"):
        return
    # What a menu or a line leads to comes a moment after it has gone.
    leads = isinstance(before, Ask | Pick) and key != "escape"

    def done() -> bool:
        now = here.app.screen
        return now is not before and (here.app.focused is not None if isinstance(now, Ask)
                                      else not leads)

    await until(here.pilot, done, what=f"{key} has done something")


async def one(here: Screens, place: Place, pieces: list[tuple[str, bool]]) -> bool:
    """One line to its end; whether something was written."""
    book, ask = here.shop.book, here.app.screen
    assert isinstance(ask, Ask)
    before = book.last_sequence()
    value = await typed(here, pieces)
    assert book.last_sequence() == before, (place.name, pieces)
    here.app.post_message(events.Key("enter", "\r"))
    await drained(here)
    text = value.strip()
    if here.app.screen is ask:
        assert book.last_sequence() == before, (place.name, value)
        assert here.app.screen.query_one(Input).value == value
        await tap(here, "escape")
        assert book.last_sequence() == before, (place.name, value)
        return False
    if place.after and text:
        assert book.last_sequence() == before, (place.name, value)
        await here.press(*place.after)
        await until(here.pilot, lambda: book.last_sequence() > before, what="written")
    if place.behind and isinstance(here.app.screen, Ask):
        await here.press(*place.behind)
    entries = [(e.kind, dict(e.body)) for e in book.entries(since=before)]
    if not entries and (not text or place.wrote is nothing):
        return False
    assert place.wrote(entries, text), (place.name, value, entries)
    return True


def key_of(here: Screens, words: str) -> str:
    """The key that stands before those words in a menu."""
    row = next(x for x in here.text.splitlines() if words in x)
    return row.split(words)[0].split()[-1]


async def into(place: Place, lines: int, seed: int) -> int:
    """So many lines into one place; gives how many were taken."""
    rng, done, taken = random.Random(f"{place.name} {seed}"), 0, 0
    while done < lines:
        shop, about = place.made()
        async with screens(shop, size=(100, 40), **about) as here:
            if place.name == "sheets in the Studio":
                await here.press("right", "end")
            while done < lines:
                for key in place.open:
                    if " " in key:
                        await here.shows(key)
                    await tap(here, key_of(here, key) if " " in key else key)
                assert isinstance(here.app.screen, Ask), (place.name, here.text)
                wrote = await one(here, place, line_of(place, rng))
                done, taken = done + 1, taken + wrote
                if wrote and place.few:
                    break
                if wrote and place.undo:
                    await here.press(*place.undo)
    return taken


def count(place: Place, full: bool) -> int:
    """How many lines are typed into a place."""
    if not full:
        return QUICK
    few = sum(x.few for x in PLACES)
    return 20 if place.few else -(-(FULL - 20 * few) // (len(PLACES) - few))


@pytest.mark.parametrize("place", PLACES[::6], ids=lambda p: p.name)
def test_the_book_holds_what_stood_in_the_line(place: Place) -> None:
    """A cut count: a line in every sixth place."""
    run(_all(place, count(place, full=False)))


@pytest.mark.full
@pytest.mark.parametrize("place", PLACES, ids=lambda p: p.name)
def test_the_book_holds_what_stood_in_two_thousand_lines(place: Place) -> None:
    """Every place many lines; where texts of any kind are taken, most of them were."""
    run(_all(place, count(place, full=True)))


async def _all(place: Place, lines: int) -> None:
    await into(place, lines, seed=hypothesis().max_examples)


def test_the_full_tier_types_more_than_two_thousand_lines() -> None:
    """Counted, so that no place left out goes unseen."""
    assert sum(count(place, full=True) for place in PLACES) >= 2_000


def test_the_preferences_hold_what_stood_in_their_line() -> None:
    """The name of the studio, in the file and not in the book."""
    async def named() -> None:
        async with screens(workshop()[0], over="preferences") as here:
            for pieces in ([("Tollerbank", False)], [("“Øst”: [/b] 7", False)], [("a # b", False)]):
                await here.press("end", "enter")
                value = await typed(here, pieces)
                await here.press("enter")
                assert settings.load_preferences().studio == value.strip()
            assert here.shop.book.last_sequence() == 0

    run(named())
