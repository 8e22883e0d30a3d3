"""Pictures of a day, matched with its sheets."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta, timezone

from benchapp.pictures.matching import SheetMoment, guess_shift, propose_sheets
from benchapp.pictures.taken import TakenTime

SUMMER = timezone(timedelta(hours=1))
START = datetime(2026, 5, 3, 10, 0, tzinfo=SUMMER)


def a_day(seed: int) -> tuple[list[SheetMoment], list[tuple[str, datetime]]]:
    """Sheets pulled every half an hour or so, each photographed soon; a round in the evening."""
    chance = random.Random(seed)
    at, moments, shots = START, [], []
    for n in range(1, 10):
        at += timedelta(minutes=chance.uniform(22, 44))
        moments.append(SheetMoment(at, f"K{n}", "pulled"))
        shots.append((f"K{n}", at + timedelta(minutes=chance.uniform(.5, 9))))
    at += timedelta(minutes=45)
    for n in range(1, 10):
        at += timedelta(minutes=chance.uniform(2, 6))
        moments.append(SheetMoment(at, f"K{n}", "looked at"))
        shots.append((f"K{n}", at + timedelta(seconds=chance.uniform(5, 90))))
    return moments, shots


def as_camera(shots: list[tuple[str, datetime]], off: timedelta) -> list[TakenTime]:
    return [TakenTime((at + off).replace(tzinfo=None, microsecond=0), "camera")
            for _, at in shots]


def test_a_camera_that_is_right_gives_the_sheet() -> None:
    moments, shots = a_day(1)
    found = propose_sheets(as_camera(shots, timedelta(0)), moments, shift=timedelta(0))
    assert [p.moment and p.moment.sheet for p in found] == [sheet for sheet, _ in shots]
    assert sum(p.sure for p in found) >= 14


def test_a_camera_an_hour_off_is_all_right_or_asked() -> None:
    for seed in range(30):
        moments, shots = a_day(seed)
        for hours in (-1, 1):
            times = as_camera(shots, timedelta(hours=hours))
            # before anybody has said that its clock is right, nothing is sure
            assert not any(p.sure for p in propose_sheets(times, moments))
            shift = guess_shift(times, moments)
            assert shift == timedelta(hours=-hours), seed
            found = propose_sheets(times, moments, shift=shift)
            wrong = [(p, sheet) for p, (sheet, _) in zip(found, shots, strict=True)
                     if p.sure and p.moment is not None and p.moment.sheet != sheet]
            assert wrong == []


def test_a_time_with_its_zone_needs_no_clock() -> None:
    moments, shots = a_day(3)
    times = [TakenTime(at.astimezone(UTC), "camera") for _, at in shots]
    found = propose_sheets(times, moments)
    assert [p.moment and p.moment.sheet for p in found] == [sheet for sheet, _ in shots]
    assert any(p.sure for p in found)
    assert guess_shift(times, moments) == timedelta(0)


def test_what_only_the_file_says_is_never_sure() -> None:
    moments = [SheetMoment(START, "K1", "pulled")]
    after = TakenTime(START + timedelta(minutes=1), "file")
    found = propose_sheets([after], moments, shift=timedelta(0))[0]
    assert found.moment == moments[0]
    assert not found.sure


def test_nothing_near_it_gives_no_sheet() -> None:
    moments = [SheetMoment(START, "K1", "pulled")]
    times = [TakenTime(START - timedelta(minutes=1), "camera"),
             TakenTime(START + timedelta(hours=7), "camera"),
             TakenTime(datetime.fromisoformat("9999-12-31T23:59:00"), "camera")]
    found = propose_sheets(times, moments, shift=timedelta(hours=3))
    assert [p.moment for p in found] == [None, None, None]
    assert propose_sheets(times[:1], []) == found[:1]


def test_two_sheets_in_one_minute_are_asked_about() -> None:
    moments = [SheetMoment(START, "K1", "looked at"),
               SheetMoment(START + timedelta(seconds=80), "K2", "looked at")]
    at = TakenTime(START + timedelta(seconds=60), "camera")
    found = propose_sheets([at], moments, shift=timedelta(0))[0]
    assert found.moment == moments[0]
    assert not found.sure
