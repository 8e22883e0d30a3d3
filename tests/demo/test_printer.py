"""The simulated printer: what it did is what the book holds, whatever day it has."""

from __future__ import annotations

import random

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.demo.day import HelpIn, SimulatedDay, SimulatedRework
from benchapp.demo.printer import Printer, PrinterError
from benchapp.files import read_text, shipped_recipes
from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.fold import replay_entries

NAMES = sorted(shipped_recipes())
#: A day on which all that can happen does.
EVENTFUL = SimulatedDay(
    wanted=5, enough_at=8, ghosts=frozenset({2}), redoes=frozenset({3}), spoils=frozenset({4}),
    takes_back=frozenset({5}), forgets=frozenset({1}), away=frozenset({2}), lunch_at=4,
    extends=True, clock=(5, "etchant"), helper=HelpIn("Maudie Pell", 3, 5),
    progressives=frozenset({6}), looks_again=frozenset({3}), one_more=6,
    settings={"room": "18 °C"}, changes=((2, "ink tin", "tin 2"),), says={3: "A good impression."},
    reworks=(SimulatedRework(2, "III", "burnished"),), left_off="All done but the sky.")


def printer(seed: int, day: SimulatedDay) -> Printer:
    """A printer at a new book that touches no disk."""
    clock = FakeClock()
    return Printer(SessionService(Book.in_memory(), clock), clock, random.Random(seed), day)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("seed", [1, 2])
def test_an_eventful_day_closes(name, seed):
    """On every shipped recipe the day comes to its end, and every line of it holds."""
    p = printer(seed, EVENTFUL)
    session = p.print_day(name, read_text(shipped_recipes()[name]))
    book = p.workshop.book
    assert book.verify() == []
    room = p.workshop.room
    assert replay_entries(room.journal, bench=room.bench, origin=room.origin) == room
    found = json_values(review_session(book.entries(), session))
    assert found["state"] == "closed"
    assert all(m["fact"] is not None for m in found["musts"])
    assert len(found["tries"]) == 1
    assert found["corrections"]


@pytest.mark.parametrize("name", NAMES)
def test_what_was_said_is_what_the_book_holds(name):
    """Each verdict, tag, note and reading that the printer gave is read back, and no other."""
    p = printer(3, SimulatedDay(wanted=3))
    session = p.print_day(name, read_text(shipped_recipes()[name]))
    sheets = json_values(review_session(p.workshop.book.entries(), session))["impressions"]
    said = [action for _, action in p.said]
    assert [i["verdict"] for i in sheets] == [x.verdict for x in said if isinstance(x, a.Judge)]
    assert [t for i in sheets for t in i["tags"]] == [x.tag for x in said if isinstance(x, a.Tag)]
    assert [n for i in sheets for n in i["notes"]] == [
        x.text for x in said if isinstance(x, a.Note)]
    lift_names = {r["name"] for i in sheets for r in i["readings"]}
    assert [str(r["value"]) for i in sheets for r in i["readings"]] == [
        str(_number(x.value)) for x in said
        if isinstance(x, a.TakeReading) and x.name in lift_names]


def _number(text: str) -> int | float:
    return int(text) if text.isdigit() else float(text)


def test_one_tread_a_step():
    """On a plain day every step of the hands is ended by one tread or one fact."""
    p = printer(4, SimulatedDay(wanted=2))
    session = p.print_day("three-steps", read_text(shipped_recipes()["three-steps"]))
    steps = json_values(review_session(p.workshop.book.entries(), session))["steps"]
    ended = [s for s in steps if s["hands"] != "free" and s["how"] == "done"]
    treads = [x for _, x in p.said if isinstance(x, (a.GoOn, a.Must))]
    assert len(treads) == len(ended)


def test_hands_are_never_clean_without_a_wash():
    """No clean step of the printer alone begins while hands are inky: a wash lies between."""
    p = printer(5, SimulatedDay(wanted=4))
    session = p.print_day("weigh-house", read_text(shipped_recipes()["weigh-house"]))
    inky = False
    for step in json_values(review_session(p.workshop.book.entries(), session))["steps"]:
        if step["id"] == "wash":
            inky = False
        elif step["hands"] == "inky":
            inky = True
        elif step["hands"] == "clean":
            assert not inky, step["step"]


def test_a_session_left_open_is_come_back_to():
    """Left at the second lift, gone on with the next day, and closed with all its sheets."""
    clock = FakeClock()
    book = Book.in_memory()
    day = SimulatedDay(wanted=3, leaves_at=2, left_off="Two are drying.")
    p = Printer(SessionService(book, clock), clock, random.Random(6), day)
    session = p.print_day("three-steps", read_text(shipped_recipes()["three-steps"]))
    assert p.left
    clock.reboot(15 * 3_600_000)
    back = Printer(SessionService(book, clock), clock, random.Random(7), SimulatedDay())
    back.come_back(session)
    back.work()
    found = json_values(review_session(book.entries(), session))
    assert found["state"] == "closed"
    assert found["counting"] == 3
    assert "continued" in {j["what"] for j in found["jumps"]}


def test_a_printer_that_is_refused_says_so():
    """What the workshop turns away is an error with the workshop's words, not passed over."""
    p = printer(8, SimulatedDay())
    with pytest.raises(PrinterError, match="No session is on the Bench"):
        p.do(a.GoOn())
    with pytest.raises(PrinterError, match="not damped"):
        p.damp_for_tomorrow(read_text(shipped_recipes()["three-steps"]), 4)
    with pytest.raises(PrinterError, match="no session nowhere"):
        p.come_back("nowhere")
