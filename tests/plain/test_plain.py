"""The plain lines: a whole day by words, and what each word does or refuses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from benchapp import plain
from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.files import keep_breaks
from benchapp.recipe.reader import read_recipe
from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.service.sessions import SessionService
from benchapp.session.actions import REGISTRY
from tests.plain.plain_day import Printer, same

RECIPES = Path(__file__).parents[2] / "recipes"
SHIPPED = sorted(p.stem for p in RECIPES.glob("*.yaml"))
MIN = 60_000


def text_of(name: str) -> str:
    return (RECIPES / f"{name}.yaml").read_text(encoding="utf-8")


class Typed:
    """Lines from a list, one a minute; each output is kept beside the line that caused it."""

    def __init__(self, clock: FakeClock, lines: Iterable[str], pace_ms: int = 0) -> None:
        self.clock, self.lines, self.pace_ms = clock, iter(lines), pace_ms
        self.answers: list[list[str]] = [[]]

    def take(self) -> str | None:
        self.clock.advance(self.pace_ms)
        self.answers.append([])
        return next(self.lines, None)

    def give(self, text: str) -> None:
        self.answers[-1].append(text)


class Bench:
    """A book in memory, worked by lines."""

    def __init__(self, recipe: str = "three-steps") -> None:
        self.clock = FakeClock()
        self.book = Book.in_memory()
        self.recipe = recipe
        self.workshop = SessionService(self.book, self.clock)

    def run(self, *lines: str, wanted: int | None = None, pace_ms: int = 0) -> list[list[str]]:
        """Open a session; the answers to each line, the first those of the opening."""
        typed = Typed(self.clock, lines, pace_ms)
        assert plain.run_plain(self.workshop, typed, self.recipe, text_of(self.recipe), wanted) == 0
        return typed.answers

    def resume(self, *lines: str) -> list[list[str]]:
        """Come back in a new program."""
        self.workshop = SessionService(self.book, self.clock)
        row = next(r for r in reversed(self.book.sessions()) if not r.closed)
        typed = Typed(self.clock, lines)
        assert plain.resume_plain(self.workshop, typed, row.id) == 0
        return typed.answers

    def back(self, place: int = -1) -> dict:
        """The session read back from the book."""
        return json_values(review_session(self.book.entries(), self.book.sessions()[place].id))


# -- whole days ---------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "pace_ms"), [
    pytest.param(name, pace_ms, marks=() if pace_ms or name == "three-steps" else pytest.mark.full)
    for name in SHIPPED for pace_ms in (0, 97_000)])
def test_a_whole_day_is_in_the_book_as_it_was_done(name: str, pace_ms: int) -> None:
    """Every sheet, verdict, tag, note, reading, fact, pull and time is what the printer did."""
    bench = Bench(name)
    printer = Printer(bench.workshop, bench.clock, pace_ms)
    assert plain.run_plain(bench.workshop, printer, name, text_of(name), 4, printer) == 0
    found = bench.back()
    assert found["state"] == "closed", printer.output[-3:]
    same(found, printer.record)
    at = {i["mark"]: i["pulled_at"] for i in found["impressions"]}
    assert at == printer.record.pulled_at
    timed = {(x["step"], x["started_at"], x["finished_at"]) for x in found["steps"]
             if x["hands"] != "free" and x["taken"] and x["how"] != "not said"}
    assert timed
    assert timed <= set(printer.record.times)
    assert bench.book.verify() == []


@pytest.mark.parametrize("name", [
    name if name in ("three-steps", "weigh-house") else pytest.param(name, marks=pytest.mark.full)
    for name in SHIPPED])
def test_empty_lines_alone_bring_a_day_to_its_end(name: str) -> None:
    """Empty lines go past waits and looks, answer facts with not said, and close."""
    bench = Bench(name)
    answers = bench.run(*[""] * 400, wanted=3)
    assert answers[-1][-1].startswith("2026-05-03 closed · pulled ")
    assert all(answers), "every line has an answer"
    found = bench.back()
    assert found["state"] == "closed"
    assert found["counting"] == 3
    assert {i["verdict"] for i in found["impressions"]} == {None}
    assert {m["fact"] for m in found["musts"]} == {None}
    assert {m["asked"] for m in found["musts"]} == {1}


# -- the course of it ------------------------------------------------------------------------


def test_the_first_line_says_that_the_session_is_open() -> None:
    """Name, print, artist, marks and what is wanted, on the first line."""
    answers = Bench("weigh-house").run(wanted=10)
    assert answers[0][0] == (
        "2026-05-03 open · The Weigh House, Idony Threlwick · marks D · wanted 10")
    assert answers[0][1].startswith("Now: Sheets into the water: 6 · clean")
    assert answers[-1] == [
        "2026-05-03 stays open · go on with: benchapp resume 2026-05-03 --plain"]


def test_each_notice_about_the_book_is_a_line_said_once() -> None:
    """What comes to it later is said alone."""
    bench = Bench()
    bench.book.mind("The disk is slow.")
    bench.book.mind("The disk is far away.")
    said = [line for answer in bench.run("note a", "note b") for line in answer]
    assert said.count("The disk is slow.") == said.count("The disk is far away.") == 1


def test_time_passes_before_each_line_and_before_the_end() -> None:
    """A wait that is over says so before the line is taken; the end of input lets time pass too."""
    bench = Bench("three-steps")
    answers = bench.run("time 5 min varnish", "status", pace_ms=3 * MIN)
    assert answers[1] == ["Clock: 5 min varnish"]
    assert "Clock: varnish, 2:00 left" in answers[2]
    assert answers[3][0] == "* 10:08 Calling: varnish"


def test_a_clock_without_a_name_is_called_clock() -> None:
    """As on the screen: its call and its count say what runs."""
    answers = Bench("three-steps").run("time 5 min", "status", pace_ms=3 * MIN)
    assert answers[1] == ["Clock: 5 min clock"]
    assert "Clock: clock, 2:00 left" in answers[2]
    assert answers[3][0] == "* 10:08 Calling: clock"


def test_where_the_sheets_alone_are_waited_for_it_is_said_then_and_on_coming_back() -> None:
    """Nothing is under way but paper in the water, and then paper at rest."""
    bench = Bench("weigh-house")
    answers = bench.run(*[""] * 12)
    assert answers[9] == ["Wipe: 0 s", "Now: Wash and dry hands · usual 1.5 min"]
    assert answers[10] == ["Wash and dry hands: 0 s", "Wait: 6 sheets in the water",
                           "Next: Sheets out of the water (25 min early)"]
    resting = ["Wait: 6 sheets resting",
               "Next: Lay and pull (the sheet has rested 0 s of 20 min)"]
    assert answers[12][1:4] == ["Sheets out of the water: 0 s", *resting]
    assert bench.resume()[0][1:3] == resting


def test_a_pull_without_paper_asks_for_its_sheet_and_an_empty_line_goes_past() -> None:
    """Said from the beginning; answered by number or words, else it is not known."""
    bench = Bench("weigh-house")
    answers = bench.run("skip later", *[""] * 10, "2", *[""] * 7, "status")
    none = "Mind: There is no damp sheet for the next pull: damp some before you ink"
    assert answers[1][-1] == none
    assert "say which: 1 a damp sheet of no pack / 2 a dry sheet" in answers[10][1]
    assert answers[11][0] == "Pulled D1 for warm-up (by rule)"
    assert answers[12] == ["There is no word 2 here; help lists them all"]
    assert any(x.endswith("no damp sheet") for x in answers[5])
    assert "Paper: no damp sheet" in answers[-2]
    bench = Bench("weigh-house")
    answers = bench.run("skip later", *[""] * 9, "a dry", "")
    assert answers[11][0] == "Sheet for this pull: a dry sheet"
    assert answers[12][0] == "Pulled D1 for warm-up (by rule)"
    assert [i["sheet_damp"] for i in bench.back()["impressions"]] == [False]


def test_quit_and_the_end_of_input_leave_the_session_open() -> None:
    """Both end with 0 and say how to go on; what comes after quit is not taken."""
    bench = Bench()
    answers = bench.run("", "quit", "")
    assert len(answers) == 3
    assert "stays open" in answers[-1][-1]
    answers = bench.resume("status")
    assert answers[0][0].startswith("2026-05-03 open · Pear on a Sill")
    assert answers[0][1].startswith("Now: Ink and wipe · inky")
    assert bench.back()["state"] == "open"


def test_a_tread_answers_must_with_not_said_and_a_number_or_words_answer_it() -> None:
    """Number, words, an unambiguous beginning, and a number that is none."""
    lines = ["9", "never on", "", "", "", "", "2", "nonsense", "spread"]
    bench = Bench()
    answers = bench.run(*[""] * 13, *lines, wanted=1)
    said = [x for answer in answers for x in answer]
    assert "9 is not one of the answers; say 1 turned off, 2 left on, 3 never on today" in said
    assert "Hot plate off: never on today" in said
    found = {m["step"]: m["fact"] for m in bench.back()["musts"]}
    assert found == {"Hot plate off": "never on today", "Left-over damp sheets": "dried",
                     "Rags, scrim, paper and gloves": "spread singly clear of walls"}


def test_facts_of_yesterday_are_asked_first_and_stand_in_nobodys_way() -> None:
    """They come right after the first line, and are answered by must and their number."""
    bench = Bench()
    bench.run(*[""] * 200, wanted=1)
    assert bench.back()["state"] == "closed"
    bench.clock.advance(24 * 60 * MIN)
    bench.workshop = SessionService(bench.book, bench.clock)
    answers = bench.run("must 3 spread", "must 1 1", "must 2 rubbish", "", "must", "must 9 1")
    assert answers[0][0].startswith("2026-05-04 open")
    assert [x.split(" · ")[1:4] for x in answers[0][1:4]] == [
        ["must 1", "2026-05-03", "Hot plate off: which? 1 turned off, 2 left on, 3 never on today"],
        ["must 2", "2026-05-03", "Left-over damp sheets: which? 1 wrapped, 2 dried, 3 none"],
        ["must 3", "2026-05-03", "Rags, scrim, paper and gloves: which? 1 in a lidded metal can "
         "outdoors, 2 spread singly clear of walls, 3 out of the building"]]
    assert answers[1] == [
        "2026-05-03: Rags, scrim, paper and gloves: spread singly clear of walls"]
    assert answers[2] == ["2026-05-03: Hot plate off: turned off"]
    assert answers[3] == ["rubbish is not one of the answers; say 1 wrapped, 2 dried, 3 none"]
    assert answers[4][-2].startswith("Now: Ink and wipe")
    facts = {m["step"]: m["fact"] for m in bench.back(0)["musts"]}
    assert facts == {"Hot plate off": "turned off", "Left-over damp sheets": None,
                     "Rags, scrim, paper and gloves": "spread singly clear of walls"}


def test_run_says_which_sessions_are_open() -> None:
    """A new one is opened all the same; hands stay inky, so it begins with the wash."""
    bench = Bench()
    bench.run("")
    answers = bench.run("switch", "switch 2026-05-03b")
    assert answers[0][0].startswith("2026-05-03b open · Pear on a Sill")
    assert answers[0][1:3] == ["2026-05-03: Ink and wipe: laid aside",
                               "Now: Wash and dry hands · usual 1.5 min"]
    assert "Also open: 2026-05-03 · benchapp resume 2026-05-03" in answers[0]
    assert answers[1][-2].startswith("Now: Ink and wipe")
    assert answers[2][-1].startswith("Now: Wash and dry hands")


# -- words ------------------------------------------------------------------------------------

PULLED = ["", "", "", ""]  # screws, ink, wash, pull: D1 is in hand at the lift


def test_every_word_of_the_registry_is_heard_and_in_the_help() -> None:
    """No word of the registry is unknown, and help lists each."""
    bench = Bench()
    words = [spec.word for spec in REGISTRY]
    answers = bench.run(*words, "help")
    for word, answer in zip(words, answers[1:], strict=False):
        assert answer, word
        assert not any("There is no word" in x for x in answer), word
    helped = answers[len(words) + 1]
    assert all(any(x.startswith(w) for x in helped) for w in (*words, "status", "must"))


def test_a_pack_and_a_clock_of_no_session_call_in_the_lines_too() -> None:
    """Said when time has passed, in the status, answered by a line, out by its word."""
    bench = Bench()
    assert bench.workshop.damp_pack(read_recipe(text_of("weigh-house")), 6).ok
    assert bench.workshop.start_timer("varnish", 20 * MIN).ok
    _, early, later, heard, out, back, _ = bench.run(
        "status", "status", "answer", "out", "back", pace_ms=13 * MIN)
    assert not [x for x in early if "Calling" in x]
    assert {"* 10:20 Calling: varnish", "* 10:25 Calling: 6 sheets in the water"} <= set(later)
    assert [x for x in later if x.startswith("Calling: ") and x.endswith("ago")] == [
        "Calling: 6 sheets in the water, 1 min ago", "Calling: varnish, 6 min ago"]
    assert "Answered: 6 sheets in the water" in heard
    assert any(x.startswith("6 sheets out of the water") for x in out)
    assert "Undone: out" in back
    assert "answer" in {e.word for e in bench.book.entries() if e.kind == "answered"}


def test_an_unknown_word_does_nothing_and_names_the_nearest() -> None:
    """Nothing is written; the line says what is near."""
    bench = Bench()
    answers = bench.run(*PULLED, "kep", "kepe D1", "statsu")
    assert answers[5] == [
        "There is no word kep here; nearest: keep, skip, help; help lists them all"]
    assert "keep" in answers[6][0]
    assert "status" in answers[7][0]
    assert bench.back()["impressions"][0]["verdict"] is None


@pytest.mark.parametrize("line", [
    "note \x1b[31mred", "note a\u202eb", "set a: b\x07", "note \ud800", "note " + "x" * 5000])
def test_what_would_act_on_a_terminal_is_not_taken(line: str) -> None:
    """A control, a direction mark, half a character or an endless line is refused with a line."""
    bench = Bench()
    before = len(bench.book.entries())
    answers = bench.run(line)
    assert answers[1][0].startswith("benchapp cannot use this line: ")
    assert bench.back()["notes"] == []
    assert len(bench.book.entries()) > before


def test_sheets_are_named_by_mark_or_number() -> None:
    """A mark in any spelling, a number, or a mark given by the printer."""
    bench = Bench()
    bench.run(*PULLED, "", "", "", "", "keep d1", "doubtful 2", "note D01 laid askew",
              "note 2 drops of oil", "mark D1 x9", "tag X9 too wet", "keep D7", "keep 9",
              "note session note of the day", "not judged 2", "look again X9")
    one, two = bench.back()["impressions"]
    assert (one["verdict"], one["notes"], one["mark"], one["tags"], one["look_again"]) == (
        "keep", ["laid askew"], "X9", ["too wet"], True)
    assert (two["verdict"], two["notes"]) == (None, ["2 drops of oil"])
    assert bench.back()["notes"] == ["note of the day"]


def test_a_figure_that_cannot_be_read_is_refused_with_what_to_write() -> None:
    """A setting, a reading, a weighing: each in the words of the one reader of quantities."""
    bench = Bench("weigh-house")
    said = [a[0] for a in bench.run(
        "set left side: 3,25 turns", "set left side: 3.25", "set room: 19", "reading room 19,5",
        "reading ink used 84", "set ink tin: bone black, new")][1:7]
    assert said == [
        'left side: 3.25 turns',
        'left side: "3.25" has no unit; write 3.25 turns (units: turns)',
        'room: "19" has no unit; write 19 °C or 19 °F',
        'room of the day: 19.5 °C',
        '"84" has no unit; write 84 g (units: g, kg, oz or lb)',
        "ink tin: bone black, new"]


def test_a_note_keeps_every_sign_of_its_line() -> None:
    """Digits first, a colon, a mark no sheet has, blanks within: all of it is the note."""
    bench = Bench()
    texts = ("1 drop more oil", "ink: stiff", "Z9 is what the box said", "a  b: c; d", "?")
    bench.run(*PULLED, *(f"note {text}" for text in texts), "note D1: torn: left")
    assert bench.back()["impressions"][0]["notes"] == [*texts, "torn: left"]


def test_a_sheet_of_an_earlier_session_is_named_by_its_mark() -> None:
    """Verdicts come for days after; a mark of the book is not given twice."""
    bench = Bench()
    bench.run(*[""] * 200, wanted=1)
    bench.workshop = SessionService(bench.book, bench.clock)
    answers = bench.run(*PULLED, "doubtful D2", "note D1 dried well", "mark D3", "mark E2")
    assert answers[5] == ["2026-05-03: D2: doubtful"]
    assert answers[7] == ["D3 is on a sheet of 2026-05-03; a mark is used once in the book"]
    assert bench.back(0)["impressions"][1]["verdict"] == "doubtful"
    assert bench.back(0)["impressions"][0]["notes"] == ["dried well"]
    assert bench.back()["impressions"][0]["mark"] == "E2"


def test_a_tag_is_a_closed_word() -> None:
    """By its beginning, without its hyphen, and refused with the nearest where there is none."""
    bench = Bench()
    answers = bench.run(*PULLED, "tag over wiped", "tag sal", "tag slty", "untag lint")
    assert bench.back()["impressions"][0]["tags"] == ["over-wiped", "salty"]
    assert answers[7][0].startswith("There is no tag slty; nearest: salty")
    assert "lint" in answers[8][0]


def test_part_of_a_tag_is_asked_about_and_not_guessed() -> None:
    """`creased` is a crease of something else on a print without chine; written out it is taken."""
    bench = Bench()
    answers = bench.run(*PULLED, "tag creased", "tag warm", "tag chine creased")
    assert answers[5] == ["There is no tag creased; nearest: crease, blanket crease, crevé"]
    assert "ink warm" in answers[6][0]
    assert bench.back()["impressions"][0]["tags"] == ["chine creased"]
    with_chine = Bench("pane-moth")
    assert "chine creased" in with_chine.run(*PULLED, "tag D1 creased")[5][0]


def test_steps_are_named_by_number_or_words() -> None:
    """Redo, here and next take a step's number in its part, its words or their beginning."""
    bench = Bench("weigh-house")
    answers = bench.run("next the room", "", "here mix", "status", "redo 1", "next tear")
    assert answers[1][-1].startswith("Now: The room")
    assert any("Blankets and both screws: done, time not taken" in x for x in answers[3])
    assert answers[6][-1].startswith("Now: Wash and dry hands")


def test_times_plates_readings_and_settings_are_read_from_words() -> None:
    """Each in the form its help line shows; what is missing is asked for."""
    bench = Bench("ferry-lamp")
    answers = bench.run("time 1 h 30 min second ground", "state tone II",
                        "reworked key III: burnished", "reworked key scraped",
                        "set room: 18.5 °C", "set nonsense", "extend",
                        "wanted 3", "wanted none", "wanted x", "helper Maud", "helper leaves",
                        "reading humidity 61 %", "time", "mute", "sheet",
                        "reworked key IV sky scraped", "reworked key I scraped it")
    said = [a[0] for a in answers]
    assert said[1] == "Clock: 1 h 30 min second ground"
    assert said[2:5] == ["Plate tone is in state II", "Plate key is in state III: burnished",
                         "Plate key: scraped"]
    assert said[5] == "room: 18.5 °C"
    assert "set handle side" in said[6]
    assert said[7].startswith("How long?")
    assert said[8] == "Wanted 3"
    assert said[9] == "Wanted: until you say enough"
    assert "wanted 6" in said[10]
    assert said[11] == "Maud is in, with clean hands"
    assert said[12] == "The helper has left"
    assert said[16].startswith("What happened to the sheet?")
    found = bench.back()
    assert [(x["plate"], x["state"], x["what"]) for x in found["reworked"]] == [
        ("tone", "II", None), ("key", "III", "burnished"), ("key", None, "scraped"),
        ("key", "IV", "sky scraped"), ("key", None, "I scraped it")]
    assert {"name": "humidity", "value": "61 %", "since": 1, "of_day": True} in found["settings"]


def test_a_pull_can_be_said_for_something_and_an_impression_can_stay_as_it_is() -> None:
    """For with a state, ghost, and end after the first of two plates."""
    bench = Bench("ferry-lamp")
    lines = [""] * 40
    answers = bench.run(*lines)
    place = next(i for i, a in enumerate(answers) if any("Pulled D1" in x for x in a))
    bench = Bench("ferry-lamp")
    bench.run(*lines[:place], "for SP IV", "end", "ghost")
    one = bench.back()["impressions"][0]
    assert (one["for"], one["state"], one["for_by"], one["ended"]) == (
        "SP", "IV", "printer", "progressive")
    assert len(one["pulls"]) == 1


def test_what_is_said_after_a_spoiled_try_is_about_that_try() -> None:
    """Note, tag and look again; `lost` is its sheet, and any other word after it does nothing."""
    bench = Bench("weigh-house")
    words = ("spoiled creased", "spoiled", "note creased at the tray", "tag crease", "look again")

    def day() -> Iterator[str]:
        for ordinal, said in ((1, words), (2, ("spoiled lost", "spoiled lost"))):
            while not ((s := bench.workshop.room.session) and (imp := s.impression(ordinal))
                       and imp.sheets):
                yield ""
            yield from said

    typed = Typed(bench.clock, day())
    assert plain.run_plain(bench.workshop, typed, "weigh-house", text_of("weigh-house"), 3) == 0
    given_up = "This try is spoiled before its pull: it gets no number"
    place = next(i for i, said in enumerate(typed.answers) if given_up in said)
    said = typed.answers[place - 1:]
    assert said[0] == ["No sheet has the mark creased; nothing was done"]
    assert "Sheet back in its pack; 5 sheets there" in said[1]
    assert said[2:5] == [["Note on the spoiled try: creased at the tray"],
                         ["The spoiled try: crease"], ["The spoiled try: look again"]]
    assert f"{given_up}; its sheet is lost" in said[-3]
    assert said[-2] == ["This try has no damp sheet yet; write spoiled alone"]
    first, second = bench.back()["tries"]
    assert (first["notes"], first["tags"], first["look_again"], first["sheet"]) == (
        ["creased at the tray"], ["crease"], True, "back")
    assert (second["notes"], second["sheet"]) == ([], "lost")


def test_a_line_is_printed_only_when_its_entry_is_on_disk(tmp_path: Path) -> None:
    """Whatever was said by a line is found by a second reader of the file at that moment."""
    path = tmp_path / "studio.book"
    clock = FakeClock()
    seen: list[tuple[str, int]] = []
    with Book.open(path, write=True, create=True, state=tmp_path) as book:

        class Watching(Typed):
            def give(self, text: str) -> None:
                with Book.reading(path) as other:
                    seen.append((text, other.last_sequence()))
                super().give(text)

        typed = Watching(clock, [*PULLED, "keep", "note fine"])
        plain.run_plain(SessionService(book, clock), typed, "three-steps", text_of("three-steps"),
                        None)
        kinds = [e.kind for e in book.entries()]
    for start, kind in (("2026-05-03 open", "opened"), ("Pulled D1", "pulled"),
                        ("D1: keep", "judged"), ("Note on D1", "noted")):
        there = next(n for text, n in seen if text.startswith(start))
        assert kind in kinds[:there], start


def test_a_session_of_another_book_is_not_gone_on_with(tmp_path: Path) -> None:
    """It says so instead."""
    bench = Bench()
    with pytest.raises(plain.CannotBegin, match="not open"):
        plain.resume_plain(bench.workshop, Typed(bench.clock, []), "2026-05-03@elsewhere")


def test_status_promises_by_the_pace_of_earlier_days() -> None:
    """After a day whose inking took 14 min for 10, three are promised later than by the recipe."""
    first, second = Bench(), Bench()
    second.run(*[""] * 30, wanted=1, pace_ms=14 * MIN)
    assert second.back()["state"] == "closed"
    second.clock.advance(first.clock.now().wall_ms + 24 * 60 * MIN
                         - second.clock.now().wall_ms)
    promised = [next(x for x in bench.run("status", wanted=3)[1] if x.startswith("3 by "))
                for bench in (first, second)]
    assert promised[0] < promised[1]


def test_status_counts_on_the_break_the_day_was_planned_with() -> None:
    """An hour at eleven moves what is promised by an hour; it cuts no step, so by a little more."""
    bench = Bench()
    answers = bench.run("status", wanted=8)
    keep_breaks(bench.book.sessions()[0].id, ((11 * 60, 3600),))
    before, after = (next(x.split()[2] for x in said if x.startswith("8 by "))
                     for said in (answers[1], bench.resume("status")[1]))
    minutes = [int(x[:2]) * 60 + int(x[3:5]) for x in (before, after)]
    assert 60 <= minutes[1] - minutes[0] < 75


def test_a_grade_is_always_about_a_sheet() -> None:
    """Refused before the first pull; with the next sheet in hand it is the one pulled last."""
    bench = Bench()
    pulled: list[str] = []

    class Graded(Typed):
        """Grade in the first inking, at the lift, and in the second inking."""

        def take(self) -> str | None:
            line = super().take()
            s = bench.workshop.room.session
            if line is None or s is None or s.hand is None:
                return None
            pulled[:] = [i.mark or "" for i in s.impressions if i.pulled]
            return line

    lines = Graded(bench.clock, ["reading grade 3", *[""] * 4, "reading grade 7",
                                 "reading grade 4", "reading Grade 5", "quit"])
    assert plain.run_plain(bench.workshop, lines, "three-steps", text_of("three-steps"), 4) == 0
    said = [x for answer in lines.answers for x in answer]
    assert ("No sheet has been pulled yet; pull one first, or name a sheet by its mark"
            in lines.answers[1])
    assert pulled, said
    assert "7 is not a grade 1-5; write a whole grade 1-5" in said
    assert [x for x in said if " grade: " in x] == [
        f"{pulled[0]} grade: 4", f"{pulled[0]} grade: 5"]
    assert bench.back()["settings"] == []
    assert bench.back()["impressions"][0]["readings"][-1] == {
        "name": "grade", "value": 5, "unit": "grade 1-5"}


def test_a_number_in_words_gets_one_piece_of_advice() -> None:
    """What to write, once: as the line takes it."""
    said = Bench().run("wanted two", "damped 2.5", "quit")
    assert said[1] == ['"two" is not a whole number; write: wanted 6']
    assert said[2] == ['"2.5" is not a whole number; write: damped 6']


def test_a_step_that_comes_is_skipped_or_put_later_by_its_name() -> None:
    """From the look before it; a reason with a colon of its own is a reason."""
    bench = Bench("signal-box")
    printed = bench.run(*[""] * 10, "skip next: last proof", "skip sky: too dark to read", "quit")
    said = [line for answers in printed for line in answers]
    assert "Clean the plate and rework: will be skipped, last proof" in said
    assert "Lift and look: skipped, sky: too dark to read" in said
    assert "Clean the plate and rework: skipped, last proof" in said
    assert not any(line.startswith("Now: Clean the plate") for line in said)
    changed = Bench("signal-box")
    printed = changed.run(*[""] * 10, "skip Rework: tired", "skip not Rework", "", "quit")
    said = [line for answers in printed for line in answers]
    assert "Clean the plate and rework: not skipped after all" in said
    assert any(line.startswith("Now: Clean the plate") for line in said)
    early = Bench("signal-box")
    printed = early.run(*[""] * 7, "skip Rework: tired", "skip next: tired", "quit")
    said = [line for answers in printed for line in answers]
    assert "Clean the plate and rework cannot be skipped now; for the one in hand write: skip WHY" \
        in said
    assert "The next step cannot be skipped now; for the one in hand write: skip WHY" in said
    assert "skipped" not in {x["how"] for x in early.back()["steps"]}
    other = Bench("three-steps")
    printed = other.run(*[""] * 4, "next then wash", "left to : Ink", "quit")
    assert [line for answers in printed for line in answers][-3:-1] == [
        "There is no such step now; go on, or write next and a step", "No other session is open"]
