"""`benchapp plan`: the worked day, what it says in words and as JSON, and what it turns away."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.files import book_file
from benchapp.planning import what_if
from benchapp.planning.build import bench_tries
from benchapp.safe_text import cell_width
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.planning.plans import UNLIMITED, WORKED

MIN = 60_000
DAY = ("--on", "2026-05-03", "--from", "09:30", "--until", "17:00")
#: Minutes by step, all over the recipe's; where no hands are at work it warms, then is wiped.
SLOW = {"before.1": 25, "each.1": 13, "wash": 1, "each.4": 5, "each.5": 4, "each.6": 3}
LUNCH = ("--break", "13:00 45 min")


@pytest.fixture(autouse=True)
def bench_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Search as briefly as on the Bench: what a command says is held here, not how long it looks.

    `tests/planning/test_search.py` holds that the longer search finds more.
    """
    monkeypatch.setattr(what_if, "search_tries", bench_tries)


@pytest.fixture
def worked(tmp_path: Path) -> str:
    """The worked day's recipe as a file."""
    path = tmp_path / "slack-water.yaml"
    path.write_text(WORKED, encoding="utf-8")
    return str(path)


def told(capsys, *words: str) -> dict:
    """The JSON document of one plan."""
    assert main(["plan", *words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def lines(capsys, *words: str) -> list[str]:
    """The text of one plan."""
    assert main(["plan", *words]) == 0
    return capsys.readouterr().out.splitlines()


def refused(capsys, *words: str) -> str:
    """What a call that is wrongly used is told."""
    assert main(["plan", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


@pytest.mark.parametrize(("more", "fits", "finish"), [
    (LUNCH, 10, "16:47"), (("--break", "13:05 45 min"), 11, "16:52"),
    ((*LUNCH, "--hands", "2"), 10, "16:47"),
], ids=["lunch at one", "lunch 5 min later", "two pairs of hands"])
def test_the_worked_day_through_the_command(worked, capsys, more, fits, finish):
    """Ends proved by CP-SAT: minute 437 for 10; 442 for 11 with lunch later; a helper wins none."""
    found = told(capsys, worked, *DAY, *more)
    assert (found["fits"], found["finish"], found["broken"]) == (fits, finish, [])
    assert (found["minutes_each"], found["bottleneck"]) == (32.0, "plate")
    assert found["packs"] == []


def test_without_the_limits_eleven_fit(tmp_path, capsys):
    """Minute 440, with a print lying on the plate through lunch (CP-SAT)."""
    path = tmp_path / "free.yaml"
    path.write_text(UNLIMITED, encoding="utf-8")
    found = told(capsys, str(path), *DAY, *LUNCH)
    assert (found["fits"], found["finish"]) == (11, "16:50")


def test_the_first_line_is_the_plain_one(worked, capsys):
    """How many, how surely, and when one more would end: 469 minutes after 09:30."""
    found = lines(capsys, worked, *DAY, *LUNCH)
    assert found[0] == ("Count on 6; 8 is about an even chance. A 9th would end at 17:19. "
                        "Warm-ups: 2.")
    assert "A second pair of hands gains nothing: the plate is the bottleneck." in "\n".join(found)
    assert any("no day of this print yet" in line for line in found)


def test_chances_fall_and_count_pulls(worked, capsys):
    """Chances are by number of pulls, in steps of 5 in a hundred, never rising with the number."""
    found = told(capsys, worked, *DAY, *LUNCH)["chances"]
    assert {"1", "10", "11", "12"} <= set(found)
    given = [found[n] for n in sorted(found, key=int)]
    assert given == sorted(given, reverse=True)
    assert all(0 <= p <= 1 and round(p * 100) % 5 == 0 for p in given)


def test_wanted_takes_two_warm_ups_more(worked, capsys):
    """Eight that count are ten pulls, whose plan ends 16:47 (CP-SAT); a window is not needed."""
    found = told(capsys, worked, "--wanted", "8", "--from", "09:30", *LUNCH)
    assert (found["pulls"], found["wanted"], found["finish"]) == (10, 8, "16:47")
    assert (found["fits"], found["chances"]) == (None, {})
    first = lines(capsys, worked, "--wanted", "8", "--from", "09:30", *LUNCH)[0]
    assert first == "8 with 2 warm-ups more by 16:47."


def test_wanted_beyond_the_window_says_what_ends_in_it(worked, capsys):
    """Far more than fit are planned all the same, with their chance and what fits."""
    found = told(capsys, worked, *DAY, *LUNCH, "--wanted", "14")
    assert (found["fits"], found["pulls"]) == (10, 16)
    assert found["chances"]["16"] == 0
    assert found["finish"] > "17:00"
    first = lines(capsys, worked, *DAY, *LUNCH, "--wanted", "14")[0]
    assert first == (f"14 with 2 warm-ups more by {found['finish']}: hardly to be had. "
                     "With 1 spoiled, by 20:31. By 17:00 count on 6; 8 is about an even "
                     "chance.")


BARE = WORKED.replace("hands: inky, time: 10 min", "hands: inky").replace(
    "hands: inky, time: 12 min", "hands: inky")


@pytest.fixture
def bare(tmp_path: Path) -> str:
    """The worked day without the times of Ink and Wipe."""
    path = tmp_path / "bare.yaml"
    path.write_text(BARE, encoding="utf-8")
    return str(path)


def test_without_times_there_is_no_plan_but_a_question(bare, capsys):
    """Without a terminal it ends with 2, and names the steps and the option."""
    assert refused(capsys, bare, *DAY) == (
        "No time is known for Ink and Wipe. Say how long one print takes: "
        '--each-takes "40 min"\n')
    assert refused(capsys, bare, *DAY, "--each-takes", "10 min") == (
        "--each-takes: the steps with a time take 12 min a print already; write a longer time\n")


def test_a_guess_is_gone_on_with_and_marked(bare, worked, capsys):
    """34 min a print are the worked day's; text and JSON say that it is a guess."""
    found = told(capsys, bare, *DAY, *LUNCH, "--each-takes", "34 min")
    assert (found["fits"], found["finish"]) == (10, "16:47")
    assert found["guess"] == {"one_print_minutes": 34.0, "steps": ["Ink", "Wipe"]}
    assert found["unknown"] == []
    text = lines(capsys, bare, *DAY, *LUNCH, "--each-takes", "34 min")
    assert text[0].endswith("A 9th would end at 17:19. Warm-ups: 2. By a guess: 34 min a print.")
    assert "  A guess: one print takes 34 min. Steps without a time: Ink and Wipe" in text
    assert told(capsys, worked, *DAY)["guess"] is None


def test_steps_of_the_day_without_a_time_are_not_counted_and_that_is_said(bare, tmp_path, capsys):
    """No guess tells of setting up and cleaning: the first line says what is left out."""
    path = tmp_path / "barer.yaml"
    path.write_text(BARE.replace("hands: clean, time: 20 min", "hands: clean"), encoding="utf-8")
    found = told(capsys, str(path), *DAY, *LUNCH, "--each-takes", "34 min")
    assert found["unknown"] == ["Set-up"]
    assert found["sentence"].endswith(
        " 1 step has no time and is not counted. By a guess: 34 min a print.")
    assert "  No time is known for Set-up: planned as taking no time" in lines(
        capsys, str(path), *DAY, *LUNCH, "--each-takes", "34 min")


def test_a_guess_that_is_not_needed_changes_nothing(worked, capsys):
    """Every step has a time: the plan is the recipe's, and that is said."""
    assert main(["plan", worked, *DAY, *LUNCH, "--each-takes", "2 h"]) == 0
    out, err = capsys.readouterr()
    assert "A 9th would end at 17:19. Warm-ups: 2.\n" in out
    assert err == "--each-takes is not used: every step of a print has a time.\n"


def test_on_a_terminal_it_asks_until_it_can_go_on(bare, capsys, monkeypatch):
    """Beside the output, so that JSON stays one document; nothing said ends with 2."""
    answers = iter(["soon\n", "5 min\n", "34 min\n", "\n"])

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

        def readline(self, *_: object) -> str:
            return next(answers)

    monkeypatch.setattr("sys.stdin", Terminal())
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    assert main(["plan", bare, *DAY, *LUNCH, "--json"]) == 0
    out, err = capsys.readouterr()
    assert json.loads(out)["guess"]["one_print_minutes"] == 34.0
    assert err.splitlines()[:2] == [
        "No time is known for Ink and Wipe.",
        "How long does one print take you? A guess will do, such as 40 min."]
    assert err.count("How long does one print take you?") == 3
    assert "the steps with a time take 12 min a print already" in err
    assert refused(capsys, bare, *DAY).endswith(
        'Nothing is planned. Say how long one print takes: --each-takes "40 min"\n')


def test_no_more_is_counted_on_than_the_edition_or_the_plate_has(tmp_path, capsys):
    """An edition of 3 takes five pulls with the warm-ups; a plate good for 2 gives two."""
    small = WORKED.replace("artist: Wren Halloran}", "artist: Wren Halloran, edition: 3}")
    path = tmp_path / "small.yaml"
    path.write_text(small, encoding="utf-8")
    found = told(capsys, str(path), *DAY, *LUNCH)
    assert found["sentence"] == ("Count on 3: 3 are left of the edition of 3, and 2 pulls that do "
                                 "not count.")
    assert (found["fits"], found["count_on"], found["hope_for"]) == (10, 5, 5)
    assert found["at_most"]["pulls"] == 5
    assert max(s["impression"] or 0 for s in found["steps"]) == 5
    path.write_text(small.replace("148 mm}", "148 mm, life: 2 impressions}"), encoding="utf-8")
    assert told(capsys, str(path), *DAY, *LUNCH)["sentence"] == (
        "Count on none: the plate key is good for 2 impressions. Warm-ups: 2.")
    wanted = lines(capsys, str(path), *DAY, *LUNCH, "--wanted", "3")
    assert ("  5 pulls are too many: the plate key is good for 2 impressions"
            in wanted)


def test_sheets_printed_before_are_taken_off_the_edition(tmp_path, capsys):
    """Two days ago two of three counted: one is left, and nothing once that is pulled."""
    text = WORKED.replace("artist: Wren Halloran}", "artist: Wren Halloran, edition: 3}")
    path = tmp_path / "small.yaml"
    path.write_text(text, encoding="utf-8")
    with Book.open(book_file(), write=True, create=True) as book:
        shop = SessionService(book, FakeClock())
        assert shop.open_session("small", text, wanted=2).ok
        for _ in range(200):
            if shop.room.session is None or shop.room.session.closed is not None:
                break
            shop.clock.advance(5 * MIN)  # type: ignore[attr-defined]
            shop.tick()
            shop.do(a.GoOn())
    found = told(capsys, str(path), *DAY, *LUNCH)
    assert found["sentence"].startswith("Count on 1: 1 is left of the edition of 3, ")


def test_a_window_too_short_for_one(worked, capsys):
    """None fits: that is said, and when the first would end (20 + 34 + 20 min)."""
    found = told(capsys, worked, "--from", "09:30", "--until", "10:00")
    assert (found["fits"], found["finish"]) == (0, "10:44")
    assert lines(capsys, worked, "--from", "09:30", "--until", "10:00")[0] == (
        "None fits. A 1st would end at 10:44.")


def test_a_day_that_runs_past_midnight_says_so(worked, capsys):
    """The first pull begun at 23:00 is over 74 minutes later, on another day."""
    day = ("--on", "2026-05-03", "--from", "23:00", "--until", "24:00")
    found = told(capsys, worked, *day)
    assert (found["finish"], found["ends_on"]) == ("00:14", "2026-05-04")
    assert "  It runs on past midnight: all over on 2026-05-04 at 00:14" in lines(
        capsys, worked, *day)


def test_packs_are_a_list_to_set_alarms_by(capsys):
    """Each pack goes in, comes out after its soak, and holds at most the recipe's six sheets."""
    day = ("weigh-house", "--on", "2026-05-03", "--from", "08:30", "--until", "17:00", *LUNCH)
    found = told(capsys, *day)
    assert found["packs"]
    assert found["fits"] == sum(p["sheets"] for p in found["packs"])
    assert all(p["in"] < p["out"] < p["ready"] and p["sheets"] <= 6 for p in found["packs"])
    text = lines(capsys, *day)
    for n, pack in enumerate(found["packs"], 1):
        assert f"  {pack['in']}  Pack {n} in: {pack['sheets']} sheets ({pack['why']})" in text
        assert f"  {pack['out']}  Pack {n} out" in text


def test_paper_damped_the_evening_before_is_used(capsys):
    """A pack that lies damp gives its sheets: fewer go in that day."""
    day = ("weigh-house", "--on", "tomorrow", "--from", "08:30", "--until", "12:00")
    before = told(capsys, *day)
    assert main(["damp", "weigh-house", "--sheets", "6"]) == 0
    capsys.readouterr()
    after = told(capsys, *day)
    assert before["packs"][0]["in"] is not None
    assert after["packs"][0]["in"] is None
    assert after["packs"][0]["sheets"] == 6
    assert after["fits"] >= before["fits"]


def test_a_taken_press_makes_nothing_sooner(worked, capsys):
    """Nothing is pulled while others have the press, and the day ends no sooner."""
    free = told(capsys, worked, *DAY, *LUNCH)
    found = told(capsys, worked, *DAY, *LUNCH, "--taken", "press 11:00 1 h",
                 "--taken", "press 11:30 30 min")
    assert found["fits"] <= free["fits"]
    pulls = [s for s in found["steps"] if s["do"] == "Pull"]
    assert pulls
    assert all(s["until"] <= "11:00" or s["from"] >= "12:00" for s in pulls)


@pytest.mark.parametrize("columns", [80, 120])
def test_the_drawing_fits_the_columns(worked, capsys, monkeypatch, columns):
    """No line of the drawing is wider; each impression's number stands in the plate's row."""
    monkeypatch.setenv("COLUMNS", str(columns))
    found = lines(capsys, worked, *DAY, *LUNCH)
    assert max(map(cell_width, found)) <= columns
    at = next(i for i, line in enumerate(found) if line.startswith("Hands "))
    drawn = found[at - 1:]
    assert max(map(cell_width, drawn)) <= columns
    assert re.search(r"\b10:00\b.*\b16:00\b", drawn[0])
    plate = next(line for line in drawn if line.startswith("Plate "))
    assert re.findall(r"[0-9]+", plate) == [str(n) for n in range(1, 11)]


def test_days_of_the_print_teach_the_plan(worked, capsys):
    """A day slower than the recipe makes a slower plan; what is behind the times is said."""
    clock = FakeClock()
    with Book.open(book_file(), write=True, create=True) as book:
        shop = SessionService(book, clock)
        shop.open_session("slack-water", WORKED, None)
        for _ in range(30):
            session = shop.room.session
            step = session and session.hand and session.hand.step
            clock.advance(SLOW.get(step, 19) * MIN)
            shop.tick()
            shop.do(a.GoOn())
    today = told(capsys, worked, *DAY, *LUNCH)
    assert today["rests_on"].endswith("steps of today")
    later = told(capsys, worked, "--on", "2026-05-04", *DAY[2:], *LUNCH)
    assert later["rests_on"] == "from 1 day of this print"
    assert later["minutes_each"] > 32


@pytest.mark.parametrize(("words", "said"), [
    ((), "--until 17:00"),
    (("--until", "25:00"), "--until: \"25:00\" is not a time of day"),
    (("--from", "12:00", "--until", "09:00"), "--from 09:30 --until 17:00"),
    (("--until", "17:00", "--break", "13:00"), '"13:00 45 min"'),
    (("--until", "17:00", "--break", "13:00 a while"), "--break"),
    (("--from", "09:30", "--until", "17:00", "--taken", "attic 11:00 1 h"),
     "there is no place attic"),
    (("--until", "17:00", "--taken", "press for ever"), '"press 11:00 1 h"'),
    (("--until", "17:00", "--on", "someday"), '--on: "someday" is not a day'),
    (("--until", "17:00", "--wanted", "0"), "--wanted"),
    (("--wanted", "100000"), "too many for a day"),
    (("--until", "17:00", "--hands", "3"), "1, 2"),
])
def test_what_is_no_day_is_turned_away(worked, capsys, words, said):
    """The message names the option and what to write instead."""
    assert said in refused(capsys, worked, *words)


def test_packs_as_a_calendar(capsys):
    """Begin, every pack in, out and ready, and the end, at the plan's times of the wall."""
    day = ("weigh-house", "--on", "2026-05-03", "--from", "08:30", "--until", "17:00", *LUNCH)
    packs = told(capsys, *day)["packs"]
    assert main(["plan", *day, "--ics"]) == 0
    text = capsys.readouterr().out
    assert text.startswith("BEGIN:VCALENDAR\r\n")
    starts = re.findall(r"^DTSTART:20260503T(\d\d)(\d\d)\d\d\r$", text, re.MULTILINE)
    assert starts[0] == ("08", "30")
    for pack in packs:
        assert tuple(pack["in"].split(":")) in starts
        assert tuple(pack["due_out"].split(":")) in starts
    assert len(starts) == 2 + 3 * len(packs)
    uids = re.findall(r"^UID:(.*)\r$", text, re.MULTILINE)
    assert len(set(uids)) == len(starts)
    assert main(["plan", *day, "--ics", "--json"]) == 2


def test_planned_again_the_calendar_changes_its_events(worked, capsys):
    """Another end of the same print's day is the same event."""
    found = []
    for start in ("09:30", "10:00"):
        assert main(["plan", worked, "--wanted", "2", "--from", start, "--ics"]) == 0
        found.append(re.findall(r"^UID:(.*)\r$", capsys.readouterr().out, re.MULTILINE))
    assert found[0] == found[1]
    assert len(found[0]) == 2


def test_the_evening_before_damps_the_first_pack(capsys):
    """Six sheets that lie ready at nine: the first pull comes sooner, no pack goes in for it."""
    day = ("weigh-house", "--on", "2026-05-03", "--from", "09:00", "--until", "17:00", *LUNCH)
    plain, found = told(capsys, *day), told(capsys, *day, "--evening")
    assert found["evening"]["damp"] == 6
    assert found["evening"]["without"] == {"fits": plain["fits"], "finish": plain["finish"]}
    assert found["packs"][0]["in"] is None
    assert [next(s["from"] for s in x["steps"] if s["do"] == "Lay and pull")
            for x in (found, plain)] == sorted(
        next(s["from"] for s in x["steps"] if s["do"] == "Lay and pull") for x in (found, plain))
    text = "\n".join(lines(capsys, *day, "--evening"))
    assert "The evening before\n  Damp 6 sheets of mould-made cotton" in text
    assert "Damped only that morning" in text
    assert "To set up\n  09:00  The room, 2 min\n" in text
    assert "  left side: 3.25 turns\n" in text


def test_the_evening_before_where_nothing_is_to_be_damped(worked, capsys):
    """Paper that is ready as it is, or lies damp already."""
    found = told(capsys, worked, *DAY, *LUNCH, "--evening")
    assert (found["evening"]["damp"], found["fits"]) == (None, 10)
    assert main(["damp", "weigh-house", "--sheets", "6"]) == 0
    capsys.readouterr()
    text = "\n".join(lines(capsys, "weigh-house", "--on", "tomorrow", "--until", "17:00",
                           "--evening"))
    assert "Nothing to damp: there is damp paper already" in text


def test_the_evening_stands_in_the_calendar(capsys):
    """At six the evening before; the list to set up by stands in the day's first event."""
    assert main(["plan", "weigh-house", "--on", "2036-05-03", "--from", "09:00", "--until",
                 "12:00", "--evening", "--ics"]) == 0
    text = capsys.readouterr().out.replace("\r\n ", "")
    first, second = text.split("BEGIN:VEVENT")[1:3]
    assert "DTSTART:20360502T180000" in first
    assert re.search(r"SUMMARY:Damp \d+ sheets? of mould-made", first)
    assert "DTSTART:20360503T090000" in second
    assert "09:00  The room" in second


def test_the_headline_counts_what_counts_and_names_the_warm_ups(worked, capsys):
    """Two pulls that are warm-ups are no prints; JSON counts pulls, and has the others beside."""
    two = told(capsys, worked, "--on", "2026-05-03", "--from", "09:30", "--until", "11:20")
    assert two["fits"] == 2
    assert two["sentence"] == "None that counts fits. A 1st would end at 11:48. Warm-ups: 2."
    day = told(capsys, worked, *DAY, *LUNCH)
    assert (day["fits"], day["counting"]["fits"], day["not_counting"]) == (10, 8, 2)
    assert day["counting"]["count_on"] == day["count_on"] - 2
    assert day["counting"]["chances"]["8"] == day["chances"]["10"]
    proofs = Path(worked).read_text(encoding="utf-8") + "proofing: {for: TP}\n"
    Path(worked).write_text(proofs, encoding="utf-8")
    assert told(capsys, worked, *DAY, *LUNCH)["counting"]["fits"] == 10
