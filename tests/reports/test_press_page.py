"""The day as a page over the press: what to set up, packs, impressions, chances, room for ticks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from benchapp.cli import main

DAY = ("plan", "weigh-house", "--on", "2036-05-03", "--from", "09:00", "--until", "17:00")


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A day of eight, planned once."""
    path = tmp_path_factory.mktemp("press") / "day.html"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("BENCHAPP_HOME", str(path.parent / "home"))
        assert main([*DAY, "--wanted", "8", "--html", str(path)]) == 0
    return path.read_text("utf-8")


def parts(page: str) -> dict[str, str]:
    """The words under each head."""
    found = re.split(r"<h2[^>]*>", page)[1:]
    return {re.sub(r"<[^>]+>", "", x.partition("</h2>")[0]): re.sub(
        r"<[^>]+>", " ", x.partition("</h2>")[2]) for x in found}


def test_it_has_all_that_is_looked_for_at_the_press(page: str) -> None:
    found = parts(page)
    assert {"To set up", "Settings", "Paper in and out", "How many, and how surely", "At the end",
            "The day by hands", "Impressions"} <= set(found)
    assert "Pack 1 in: 6 sheets" in found["Paper in and out"]
    assert "Mix and temper the ink" in found["To set up"]
    assert re.search(r"5 +about 95 %", found["How many, and how surely"])


def test_there_is_a_tick_for_each_impression(page: str) -> None:
    told = parts(page)["Impressions"]
    numbers = re.findall(r"\b\d+\b", told.partition("begins")[0])
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
    assert told.count("[  ]") == len(numbers) == 10  # two are warm-ups


def test_it_is_landscape_and_needs_no_colour(page: str) -> None:
    style = page.partition("<style>")[2].partition("</style>")[0]
    assert "size:landscape" in style
    assert "font-size:8.5pt;line-height:1.15;color:#000" in style
    assert "<img" not in page


def test_more_than_one_day_is_no_page(capsys: pytest.CaptureFixture[str], home: Path,
                                      tmp_path: Path) -> None:
    path = tmp_path / "days.html"
    assert main(["plan", "weigh-house", "--wanted", "60", "--days", "--html", str(path)]) == 2
    assert "--html writes one day" in capsys.readouterr().err
    assert not path.exists()
