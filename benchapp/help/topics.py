"""The topics by name, and what the program puts into their texts."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files
from typing import Final

from benchapp.help.page import (
    Block,
    Example,
    Heading,
    HelpPage,
    Paragraph,
    Part,
    Table,
    read_page,
)

#: Every topic, in the order the index has them.
TOPICS: Final = ("start", "studio", "recipes", "bench", "pedal", "calls", "plan", "reckon",
                 "stock", "review", "editions", "photos", "drying", "plain", "formats", "files",
                 "safety")
#: The page that lists them.
INDEX: Final = "topics"



def help_page(name: str, treads: Sequence[str] | None = None) -> HelpPage:
    """The page of a topic.

    Args:
        name: One of `TOPICS`, or `INDEX`.
        treads: The keys that are the switch; None: as they are when nothing was changed.

    Raises:
        KeyError: There is no such topic.
    """
    if name not in (*TOPICS, INDEX):
        raise KeyError(name)
    return read_page(_text(f"{name}.txt"), {**_PARTS, "switch keys": lambda: _switch_keys(treads)})


def topic_summaries() -> list[tuple[str, str]]:
    """Every topic with its one sentence."""
    return [(name, _text(f"{name}.txt").split("\n", 2)[1]) for name in TOPICS]


def recipe_words() -> str:
    """A whole recipe with every word that a recipe can have, each explained beside it."""
    return _text("every-word.yaml")


def _text(name: str) -> str:
    return (files("benchapp.help") / "texts" / name).read_text(encoding="utf-8")


# -- what the program knows --------------------------------------------------------------


def _index() -> list[Block]:
    return [Table(tuple(topic_summaries()))]


def _recipe_words() -> list[Block]:
    return [Example(tuple(recipe_words().rstrip("\n").split("\n")))]


def _key_name(key: str) -> str:
    from benchapp.session.actions.spec import KEY_SIGNS

    return KEY_SIGNS.get(key, key)


def _bench_keys() -> list[Block]:
    from benchapp.session.actions import REGISTRY

    def rows(inky: bool) -> tuple[tuple[str, str], ...]:
        return tuple((f"{_key_name(spec.key)}  {spec.word}", spec.help) for spec in REGISTRY
                     if spec.key is not None and spec.inky == inky)

    go_on = next(spec for spec in REGISTRY if spec.word == "go on")
    return [Heading("Keys that work with inky hands"),
            Table((("pedal  go on", go_on.help), *rows(inky=True))),
            Heading("Keys that need clean hands"), Table(rows(inky=False))]


def _plain_words() -> list[Block]:
    from benchapp.session.actions import REGISTRY

    return [Table(tuple((f"{spec.word} {spec.takes}".strip(), spec.help) for spec in REGISTRY))]


def _switch_keys(treads: Sequence[str] | None) -> list[Block]:
    from benchapp.settings import TREADS

    treads = TREADS if treads is None else treads
    far = [key.upper() for key in treads if _is_far(key)]
    near = [_NAMES.get(key, key.upper() if key[:1] == "f" and key[1:].isdigit() else key)
            for key in treads if not _is_far(key)]
    last = [f"{far[0]} to {far[-1]}"] if len(far) > 1 else far
    return [Paragraph(f"Keys that work as the pedal here: {', '.join([*near, *last])}.")]


_NAMES: Final = {"pagedown": "Page Down", "pageup": "Page Up", "right": "right arrow",
                 "space": "space bar", "enter": "Enter"}


def _is_far(key: str) -> bool:
    return key.startswith("f") and key[1:].isdigit() and int(key[1:]) > 12


def _tags() -> list[Block]:
    from benchapp.session.tags import GLOSSES, TRADE

    return [Table(tuple((f"{key}  {group}", ", ".join(f"{k} {tag}" for k, tag in words.items()))
                        for key, (group, words) in TRADE.items())),
            Heading("Tags that may be new to you"), Table(tuple(GLOSSES.items()))]


def _questions() -> list[Block]:
    from benchapp.reckon.questions import QUESTIONS

    return [Table(tuple((name, text.partition("\n\n")[0].replace("\n", " "))
                        for name, text in QUESTIONS.items()))]


def _hazards() -> list[Block]:
    from benchapp.recipe.hazards import HAZARDS

    return [Table(tuple((hazard.name.capitalize(), hazard.full) for hazard in HAZARDS))]


def _preferences() -> list[Block]:
    from benchapp.settings import STARTER

    return [Example(tuple(STARTER.rstrip("\n").split("\n")))]




def _formats() -> list[Block]:
    from benchapp.reports.formats import describe_formats

    out: list[Block] = []
    for one in describe_formats():
        out += [Heading(f"{one.name}, from {one.command}"),
                Table(tuple((field.name, ", ".join(filter(None, (field.kind, field.unit)))
                             + f": {field.meaning}") for field in one.fields))]
    return out


_PARTS: Final[dict[str, Part]] = {
    "topics": _index, "recipe words": _recipe_words, "bench keys": _bench_keys,
    "plain words": _plain_words, "tags": _tags, "questions": _questions, "hazards": _hazards,
    "preferences": _preferences, "formats": _formats,
}
