"""What a plate has given and will give, and what a day cannot give: said before it is begun."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.planning.plate_wear import Given, wear_of, wear_sentences
from benchapp.recipe.reader import read_recipe
from benchapp.service.sessions import SessionService
from tests.screens.days import closed, opened, printed, small

DRYPOINT = small("Thorn").replace("size: 100 x 140 mm}", "size: 100 x 140 mm, "
                                  "techniques: [drypoint]LIFE}")


def drypoint(life: str = "", edition: str = "") -> str:
    """A drypoint on copper, with the life and the edition it says."""
    text = DRYPOINT.replace("LIFE", f", life: {life} impressions" if life else "")
    return text.replace("Threlwick}", f"Threlwick, edition: {edition}}}") if edition else text


def wear(text: str, impressions: int, pulls: int) -> str:
    """What is said of its plate before so many pulls."""
    recipe = read_recipe(text)
    (one,) = wear_of(recipe, {"key": Given(impressions, True)}, pulls)
    return ". ".join(wear_sentences(one))


def test_a_drypoint_near_its_end_says_what_to_look_for_and_asks_about_steel() -> None:
    """20-30 on copper (Lalanne, A Treatise on Etching, ss.99): from the 20th it is spoken of."""
    assert "It nears its end" not in wear(drypoint(), 15, 4)
    said = wear(drypoint(), 15, 5)
    for words in ("The plate key has given 15, and 5 more make 20",
                  "drypoint on copper gives 20-30 (published: Lalanne ss.99)", "It nears its end",
                  "lose their velvet", "Ask a workshop that steel-faces", "rusts"):
        assert words in said
    assert "more than it is good for" not in wear(drypoint(), 15, 15)
    assert "more than it is good for" in wear(drypoint(), 15, 16)


def test_the_recipes_own_life_comes_before_the_usual_figure() -> None:
    """A plate of life 100 is spoken of from 80: four fifths are this program's choice."""
    assert "It nears its end" not in wear(drypoint("100"), 70, 9)
    assert "It nears its end" in wear(drypoint("100"), 70, 10)


def test_a_metal_without_a_figure_of_its_own_says_whose_it_is() -> None:
    """Published for copper is said so on zinc; a hard ground has none at all."""
    zinc = wear(drypoint().replace("metal: copper", "metal: zinc"), 3, 2)
    assert "drypoint on copper gives 20-30 (published: Lalanne ss.99; no figure known for zinc)" \
        in zinc
    hard = wear(drypoint().replace("[drypoint]", "[hard-ground line]"), 900, 90)
    assert hard.endswith("hard-ground line on copper: no figure known")


def test_a_faced_plate_is_not_asked_about_and_shows_its_copper() -> None:
    """1,000-4,000 (Lalanne ss.99); red through the steel means: strip and face it again."""
    faced = wear(drypoint().replace("[drypoint]", "[line, steel-faced]"), 990, 10)
    assert "1,000-4,000" in faced
    assert "red through the steel" in faced
    assert "Ask a workshop" not in faced


@given(st.integers(0, 300), st.integers(0, 300), st.integers(1, 300))
def test_more_pulls_never_make_a_plate_fresher(given_: int, pulls: int, life: int) -> None:
    """What is near its end, or past it, stays so after one more."""
    recipe = read_recipe(drypoint(str(life)))
    (now,) = wear_of(recipe, {"key": Given(given_)}, pulls)
    (later,) = wear_of(recipe, {"key": Given(given_)}, pulls + 1)
    assert later.near >= now.near
    assert later.past >= now.past


# -- in a book -----------------------------------------------------------------------------------


@pytest.fixture
def thorn(home: Path) -> Path:
    """A home with an edition of twelve in drypoint, of which three were pulled."""
    text = drypoint(edition="12").replace("press:", "paper: {piece: 90 x 300 mm}\npress:")
    (home / "recipes").mkdir(parents=True)
    (home / "recipes" / "thorn.yaml").write_text(text, encoding="utf-8")
    clock = FakeClock()
    with Book.open(home / "studio.book", write=True, create=True, state=home) as book:
        shop = SessionService(book, clock)
        opened(shop, text)
        printed(shop, clock, 2)
        closed(shop, clock)
    return home


def run(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a command says, on one line."""
    assert main(list(words)) == 0
    return " ".join(capsys.readouterr().out.split())


PREPARE = ("prepare", "thorn", "--wanted", "40")
PLAN = ("plan", "thorn", "--wanted", "40", "--each-takes", "20 min", "--from", "09:00")


@pytest.mark.parametrize("words", [PREPARE, PLAN], ids=("prepare", "plan"))
def test_forty_of_an_edition_of_twelve_is_said_at_once(
        thorn: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]) -> None:
    """So is a drypoint that would give more than it is good for, and paper too small for it."""
    told = run(capsys, *words)
    assert "left of the edition of 12" in told
    assert "The plate key has given 3 in this book" in told
    assert "more than it is good for" in told
    assert "is larger than the piece" in told


def test_check_counts_what_the_book_knows(
        thorn: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the figure for such plates and whose it is; in JSON as values."""
    assert "The plate key has given 3 in this book: drypoint on copper gives 20-30 (published" \
        in run(capsys, "check", "thorn")
    main(["check", "thorn", "--json"])
    (plate,) = json.loads(capsys.readouterr().out)["plates"]
    assert (plate["given"], plate["usual"], plate["life"]) == (3, [20, 30], None)


@pytest.mark.parametrize("words", [PREPARE, PLAN, ("check", "thorn")],
                         ids=("prepare", "plan", "check"))
def test_a_cancelled_plate_is_said_wherever_a_day_on_it_is_asked_for(
        thorn: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]) -> None:
    """Scored through: only the cancellation proof is left."""
    assert main(["cancel-plate", "--print", "Thorn", "--how", "scored", "--yes"]) == 0
    capsys.readouterr()
    assert "The plate of Thorn is cancelled (scored" in run(capsys, *words)


def test_by_lines_it_is_said_once_before_the_first_pull(
        thorn: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """What the set-up card has on the screens; the lines after it say nothing of it."""
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 6))
    assert main(["run", "thorn", "--plain", "--wanted", "40"]) == 0
    told = capsys.readouterr().out
    assert told.count("Mind: You want 40, but 11 are left of the edition of 12\n") == 1
    assert told.count("lose their velvet") == 1
