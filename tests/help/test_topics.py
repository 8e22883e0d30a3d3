"""The help topics: nothing is missing from them, and nothing in them is out of date."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.commands.parser import make_parser
from benchapp.commands.table import COMMANDS, GROUPS
from benchapp.files import shipped_recipes
from benchapp.help.page import Example, Table, page_lines, read_page
from benchapp.help.topics import INDEX, TOPICS, help_page, recipe_words, topic_summaries
from benchapp.recipe.fields import Fields
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings
from benchapp.reckon.questions import QUESTIONS
from benchapp.reports.formats import describe_formats
from benchapp.screens.registry import SCREENS
from benchapp.screens.widgets.keys import key_words
from benchapp.session.actions import REGISTRY
from tests.screens.all_keys import keys_of

#: Keys that every screen has: the topic of the Studio names them once.
_EVERYWHERE = {"esc", "?", "F2", "F3", "F4", "F6", "F7", "F8", "F9", "page up", "page down"}
#: Keys a screen says itself when they are asked for, or that move about in it.
_SHOWN_THERE = {"tread keys", "enter", "space", "tab", "↑", "↓", "1-9", "1-9 b-k", "0", "1", "2"}


def text_of(name: str) -> str:
    """A topic as it is printed."""
    return "\n".join(line.text for line in page_lines(help_page(name), 80))


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> dict[str, set[str]]:
    """What the reader of recipes asks for, by the part of the recipe it asks in."""
    found: dict[str, set[str]] = {}
    take = Fields.take

    def noted(self: Fields, key: str) -> object:
        found.setdefault(self.name, set()).add(key)
        return take(self, key)

    monkeypatch.setattr(Fields, "take", noted)
    return found


def test_the_page_of_recipes_has_every_word_of_the_file(asked: dict[str, set[str]]) -> None:
    """Whatever the reader asks for stands in the recipe to copy from, as a key."""
    text = recipe_words()
    read_recipe(text)
    words = set().union(*asked.values())
    assert {"title", "cap", "full", "out of reach", "one print takes", "papers"} <= words
    assert {word for word in words if not re.search(rf"(?<!\w){word}:", text)} == set()
    assert text.rstrip("\n") in "\n".join(help_page("recipes").examples)


def test_the_recipe_to_copy_from_can_be_run_without_a_warning() -> None:
    """It is read as it stands, and `check` has nothing to say about it."""
    recipe = read_recipe(recipe_words())
    assert recipe.print.edition == 30
    assert recipe_warnings(recipe) == ()


def test_every_shipped_recipe_is_named() -> None:
    """With a word about what it shows."""
    rows = {label for block in help_page("recipes").blocks if isinstance(block, Table)
            for label, _ in block.rows}
    assert set(shipped_recipes()) <= rows


@pytest.mark.parametrize("name", list(SCREENS))
def test_the_topic_of_a_screen_names_its_keys(name: str) -> None:
    """What a screen hears is on the page that `?` opens there; the keys of all are said once."""
    if name == "help":
        return
    topic = SCREENS[name].topic
    labels = " ".join(label for block in help_page(topic).blocks if isinstance(block, Table)
                      for label, _ in block.rows)
    page = f"{labels} {text_of(topic)}"
    keys = {key_words(key) for key in keys_of(name)} - _EVERYWHERE - _SHOWN_THERE
    assert {key for key in keys if not re.search(rf"(?<!\w){re.escape(key)}(?!\w)", page)} == set()


def test_the_keys_of_all_screens_are_in_the_topic_of_the_studio() -> None:
    """Each of them."""
    assert {key for key in _EVERYWHERE if key not in text_of("studio")} == set()


def test_words_and_questions_come_from_where_they_are_declared() -> None:
    """Every action with its help on Bench and in the plain lines, every question of `reckon`."""
    bench, plain, reckon = text_of("bench"), text_of("plain"), text_of("reckon")
    for spec in REGISTRY:
        start = " ".join(spec.help.split()[:2])
        assert start in plain, spec.word
        assert spec.key is None or start in bench, spec.word
    assert {name for name in QUESTIONS if f"\n{name} " not in reckon} == set()


def test_every_field_that_leaves_is_in_the_topic_of_formats() -> None:
    """As the reports describe themselves."""
    rows = {label for block in help_page("formats").blocks if isinstance(block, Table)
            for label, _ in block.rows}
    described = describe_formats()
    assert described
    assert {field.name for one in described for field in one.fields} <= rows


def test_every_topic_is_listed_and_every_command_is_in_one_group() -> None:
    """The index has all topics; the front page has all commands once."""
    assert [name for name, _ in topic_summaries()] == list(TOPICS)
    assert {name for name in TOPICS if name not in text_of(INDEX)} == set()
    grouped = [one.name for _, commands in GROUPS for one in commands]
    assert len(grouped) == len(COMMANDS)
    assert list(make_parser().commands) == grouped


@given(st.sampled_from((INDEX, *TOPICS)), st.integers(20, 120))
def test_no_line_is_wider_than_there_is_room(name: str, across: int) -> None:
    """At any width nothing is cut off, and no word is lost from a paragraph."""
    page = help_page(name)
    lines = page_lines(page, across)
    assert max(len(line.text) for line in lines) <= across
    assert "".join("".join(line.text.split()) for line in lines).startswith(
        "".join(page_lines(page, 1000)[0].text.split())[:10])


def test_a_text_is_read_by_its_form() -> None:
    """Headings, paragraphs, lists, tables, examples, and what the program puts in."""
    page = read_page("Title\nSummary.\n\n# Head\none\ntwo\n\n- a\n  b\n- c\n\nk | words\n\n"
                     "    benchapp\n      more\n\n@there\n",
                     {"there": lambda: [Example(("put in",))]})
    assert (page.title, page.summary) == ("Title", "Summary.")
    assert [line.text for line in page_lines(page, 40)] == [
        "Head", "", "one two", "", "- a b", "- c", "", "k  words", "", "    benchapp",
        "      more", "", "    put in"]
    assert page.examples == ("benchapp", "  more", "put in")
    with pytest.raises(KeyError):
        read_page("T\nS\n\n@nowhere\n", {})
    with pytest.raises(KeyError):
        help_page("nowhere")
