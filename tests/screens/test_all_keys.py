"""Every key of every screen: one meaning where sheets are judged, one key for the same thing."""

from __future__ import annotations

from pathlib import Path

import pytest

import benchapp
from benchapp.screens.bench_foot import FAR_KEY, PLAN_KEY
from benchapp.screens.bound_keys import PAGE_KEY
from benchapp.screens.page_base import SEARCH_KEY
from benchapp.screens.registry import SCREENS
from benchapp.screens.widgets.call_bar import ANSWER_KEY
from benchapp.screens.widgets.keys import MORE_KEY, key_words
from benchapp.session.actions import REGISTRY
from benchapp.settings import TREADS
from tests.screens.all_keys import keys_of, list_keys
from tests.screens.bench_support import on_the_bench, run
from tests.screens.days import small

#: Where a sign may be written in the code: each has one meaning.
_SIGNS = {"●◐✕○": {"screens/bench_words.py", "screens/sheet_talk.py", "reports/plate_life_text.py"},
          "□■": {"screens/bench_words.py"}}
#: What can't be undone, by the words of its key.
_NO_WAY_BACK = ("destroy", "taken down", "put away")
#: Where sheets are judged: there a letter has one meaning.
JUDGED = ("bench", "impressions", "round", "sort")
#: The one key of what can't be undone; each such question is asked first. It is no letter.
FINAL = "delete"


def key_table() -> list[str]:
    """The table of all keys, in Markdown: a row a screen, then the lists."""
    rows = [*((name, keys_of(name)) for name in SCREENS), ("every list", list_keys())]
    return ["| screen | keys |", "|---|---|",
            *(f"| {name} | {_cell(keys)} |" for name, keys in rows)]


def _cell(keys: dict[str, str]) -> str:
    """Keys that do the same stand together."""
    by_words: dict[str, list[str]] = {}
    for key, does in keys.items():
        by_words.setdefault(does, []).append(f"`{key_words(key)}`")
    return " · ".join(f"{' '.join(known)} {does}" for does, known in by_words.items())


def test_the_table_of_developers_is_the_code_s() -> None:
    """Between its marks stands what the screens declare."""
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    inside = text.partition("<!-- all keys: kept true by a test -->\n")[2].partition(
        "\n<!-- end of all keys -->")[0]
    assert inside.splitlines() == key_table(), "\n".join(key_table())


def test_the_keys_of_all_screens_are_one_each() -> None:
    """Answering a call, searching, turning the foot, the far view and the plan: no two on one
    key, none of them a pedal's, and no screen has another use for one.
    """
    everywhere = [ANSWER_KEY, SEARCH_KEY, MORE_KEY, PAGE_KEY]
    shared = [*everywhere, FAR_KEY, PLAN_KEY]
    assert len(set(shared)) == len(shared)
    assert not set(shared) & set(TREADS)
    for name in SCREENS:
        words = [does for key, does in keys_of(name).items() if key in everywhere]
        assert set(words) <= {"answer", "search", "more keys", "write page", "write the file"}, name


@pytest.mark.parametrize("name", SCREENS)
def test_every_key_says_what_it_does(name: str) -> None:
    """A key declared without words would be in no table and in no one's memory."""
    assert keys_of(name)
    assert [key for key, does in {**keys_of(name), **list_keys()}.items() if not does.strip()] == []


def test_where_sheets_are_judged_a_letter_has_one_meaning() -> None:
    """The Bench, the round, sorting and the sheets; the Bench keeps the letters it has."""
    meant: dict[str, set[str]] = {}
    for name in JUDGED:
        for key, does in keys_of(name).items():
            if len(key) == 1 or key in ("ampersand", "delete", "backspace"):
                meant.setdefault(key, set()).add({"undo": "back"}.get(does, does))
    # Opening a picture does no harm, and so does the list that the Bench opens by that letter.
    assert meant.pop("o") == {"next", "open its pictures"}
    assert {key: does for key, does in meant.items() if len(does) > 1} == {}
    assert {spec.word for spec in REGISTRY if spec.key} <= set(
        keys_of("bench").values())


@pytest.mark.parametrize("name", SCREENS)
def test_back_help_search_and_page_share_one_key(name: str) -> None:
    """On all screens they are there for; no other key does them."""
    keys = {**list_keys(), **keys_of(name)}
    for words, key in (("back", "escape"), ("help", "question_mark"), ("search", "f4"),
                       ("a page up", "pageup"), ("a page down", "pagedown")):
        by = {k for k, does in keys.items() if does == words}
        if name == "bench" and words == "back":
            by -= {"backspace"}  # the Bench's own word for taking an action back
        if name == "help" and words == "back":
            by -= {"question_mark"}  # what opened it closes it
        if name == "new recipe" and words == "help":
            by -= {"f12"}  # ? is a sign of the text there
        assert by <= {key}, (name, words)


def test_what_cannot_be_undone_is_on_no_letter() -> None:
    """One key for all of it, and that key does nothing harmless anywhere."""
    for name in SCREENS:
        for key, does in keys_of(name).items():
            final = does.startswith(_NO_WAY_BACK)
            assert final == (key == FINAL), (name, key, does)


def test_a_sign_is_written_only_where_its_one_meaning_is() -> None:
    """The circles and the cross are verdicts, the squares are hands: nothing else has them."""
    top = Path(benchapp.__file__).parent
    for signs, known in _SIGNS.items():
        found = {str(path.relative_to(top)) for path in top.rglob("*.py")
                 if set(signs) & set(path.read_text(encoding="utf-8"))}
        assert found == known, signs


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
def test_signs_of_verdicts_stand_with_their_words(size: tuple[int, int]) -> None:
    """On the Bench at every size: words first, and only the signs that are there."""
    async def work() -> None:
        async with on_the_bench(small(), size=size) as here:
            await here.press("space", "space", "space")
            await here.shows("D1○", "not judged ○", "not counted ()", "□ hands clean")
            assert "keep ●" not in here.text
            await here.press("k", "l")
            await here.shows("D1●~", "keep ●", "look again ~")
            assert "not judged ○" not in here.text

    run(work())
