"""What can be counted of plain English, over README, the help topics and every `--help`.

It is a help, no more: reading is what counts. Sentences stay short, and turns that a printer
stumbles over do not come back. The limits are this project's own.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import pytest

import benchapp
from benchapp.commands.front_page import front_page
from benchapp.commands.parser import make_parser
from benchapp.commands.syntax_tree import command_syntax
from benchapp.help.page import Example, Items, Paragraph, Table
from benchapp.help.topics import INDEX, TOPICS, help_page

README = Path(__file__).parents[2] / "README.md"
#: Words of a sentence at most; a few are let through, as a list of things can be longer.
MOST = 18
LONGEST = 22
MEDIAN = 12
#: Turns for which plain English has a plain word.
MANNERED = re.compile(
    r"\b(?:stands?|stood|standing|lies|lain|bears?|borne|anew|afresh|whom|wherefore|thereof|"
    r"trod|trodden|beforehand|hardly|(?<!there )(?:is|are) no (?!longer\b)[a-z]+|"
    r"(?:is|was|are|were) (?:said|told)|"
    r"(?:is|be|was) taken back|(?:is|are|be) to be had|the one that is there|not yet late|"
    r"so long after|otherwise said|said otherwise|past the day)\b", re.IGNORECASE)


def sentences(text: str) -> list[str]:
    """The sentences of a text; code counts as one word, and a colon ends one too."""
    text = re.sub(r"`[^`]*`", "code", text)
    text = re.sub(r"\[([^]]*)\]\([^)]*\)", r"\1", text)
    return [x for x in re.split(r"(?<=[.!?:;])\s+", text) if x.strip()]


def prose_of(name: str) -> list[str]:
    """The paragraphs and lists of a topic."""
    found = [help_page(name).summary]
    for block in help_page(name).blocks:
        if isinstance(block, Paragraph):
            found.append(block.text)
        elif isinstance(block, Items):
            found += block.texts
    return found


def rows_of(name: str) -> list[str]:
    """The words of a topic's tables and of its examples, files of the program among them."""
    found: list[str] = []
    for block in help_page(name).blocks:
        # The words of formats are of the reports that write them.
        if isinstance(block, Table) and name != "formats":
            found += [words for _, words in block.rows]
        elif isinstance(block, Example):
            found += block.lines
    return found


def readme_prose() -> list[str]:
    """README's paragraphs and steps, beside code, tables and pictures."""
    text = re.sub(r"```.*?```", "", README.read_text(encoding="utf-8"), flags=re.DOTALL)
    paragraphs = [x for x in text.split("\n\n") if "|--" not in x and not x.startswith("![")]
    return [item.replace("\n", " ") for x in paragraphs for item in re.split(r"\n(?=\d\. |- )", x)]


def help_texts() -> Iterator[tuple[str, str]]:
    """What every command and option says of itself."""
    for one in command_syntax(make_parser()):
        yield " ".join(one.path), one.help
        for option in one.options:
            yield " ".join([*one.path, *option.flags]), option.help


@pytest.mark.parametrize("name", ["README", INDEX, *TOPICS])
def test_sentences_are_short(name: str) -> None:
    """Half have at most 12 words, nearly all at most 18, none more than 22."""
    prose = readme_prose() if name == "README" else prose_of(name)
    counted = sorted((len(x.split()), x) for text in prose for x in sentences(text))
    assert median(n for n, _ in counted) <= MEDIAN
    long = [x for n, x in counted if n > MOST]
    assert len(long) <= len(counted) // 20, long
    assert counted[-1][0] <= LONGEST, counted[-1]


@pytest.mark.parametrize("name", ["README", INDEX, *TOPICS])
def test_no_mannered_turns(name: str) -> None:
    """None of the listed ones."""
    texts = readme_prose() if name == "README" else [*prose_of(name), *rows_of(name)]
    found = [(m[0], x) for text in texts for x in sentences(text) for m in MANNERED.finditer(x)]
    assert found == []


def test_every_help_text_is_short_and_plain() -> None:
    """What a command or an option says: each part at most 18 words, and none of the turns."""
    helps = [*help_texts(), ("front page", front_page())]
    for where, text in helps:
        assert [m[0] for m in MANNERED.finditer(text)] == [], (where, text)
        if where != "front page":
            assert max((len(x.split()) for x in sentences(text)), default=0) <= MOST, where


def raised_texts() -> Iterator[tuple[str, str]]:
    """The texts that commands raise as errors, read off their sources."""
    folder = Path(benchapp.__file__).parent
    for path in (*folder.glob("commands/*.py"), folder / "cli.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Raise):
                yield from ((path.name, one.value) for one in ast.walk(node)
                            if isinstance(one, ast.Constant) and isinstance(one.value, str))


def test_errors_of_commands_have_none_of_the_turns() -> None:
    """`X is no count` is `X is not a count`."""
    found = [(name, text) for name, text in raised_texts()
             if re.search(r"^ (?:is|are) no ", text) or MANNERED.search(text)]
    assert found == []


#: Rooms whose texts a printer reads or hears: refusals, messages, questions, warnings, calls.
SPEAKING = ("book", "calls", "copies", "drying", "edition", "events", "files", "history",
            "plain", "quantities", "recipe", "reckon", "reports", "service", "session",
            "settings.py", "views")
#: What is no prose: queries, style sheets, and the formulas under a question of `reckon`.
_NO_PROSE = re.compile(
    r"\b(?:SELECT|PRAGMA|INSERT|UPDATE|DELETE|CREATE|DROP|BEGIN|AND|WHERE)\b|:root\{|^formula  ",
    re.MULTILINE)


def spoken_texts(room: str) -> Iterator[tuple[str, str]]:
    """Every text of a room with a space in it, where it is; a value in it counts as one word."""
    folder = Path(benchapp.__file__).parent
    found = folder / room
    for path in sorted(found.rglob("*.py")) if found.is_dir() else [found]:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        skipped = {id(x.value) for x in ast.walk(tree) if isinstance(x, ast.Expr)}
        for node in ast.walk(tree):
            if id(node) in skipped:
                continue
            if isinstance(node, ast.JoinedStr):
                skipped |= {id(x) for x in node.values}
                text = "".join(str(x.value) if isinstance(x, ast.Constant) else "X"
                               for x in node.values)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                text = node.value
            else:
                continue
            if " " in text.strip() and not _NO_PROSE.search(text):
                for part in text.split("\n\n") if "\n# " in text else [text]:
                    remarks = [x for x in part.split("\n") if x.startswith("# ")]
                    yield (f"{path.relative_to(folder)}:{node.lineno}",
                           "\n".join(remarks) if "\n# " in text else part)


@pytest.mark.parametrize("room", SPEAKING)
def test_what_a_room_says_is_short_and_plain(room: str) -> None:
    """No sentence has more than 22 words, few more than 18, and none has one of the turns."""
    counted = [(len(x.split()), where, x) for where, text in spoken_texts(room)
               for x in sentences(text)]
    assert counted
    found = [(m[0], where, x) for _, where, x in counted
             for m in [*MANNERED.finditer(x), *re.finditer(r"^X? ?(?:is|are) no (?!longer\b)", x)]]
    assert found == []
    long = [(n, where, x) for n, where, x in counted if n > MOST]
    assert len(long) <= len(counted) // 50, long
    assert max(n for n, _, _ in counted) <= LONGEST, max(counted)


@pytest.mark.parametrize(("text", "turn"), [
    ("It cannot be trodden past.", "trodden"), ("X is no word here.", "is no word"),
    ("What stands there counts.", "stands"), ("To whom it went.", "whom"),
    ("Limits are said beforehand.", "are said")])
def test_the_turns_are_found(text: str, turn: str) -> None:
    """So that the check can fail."""
    found = MANNERED.search(text)
    assert found is not None
    assert found[0] == turn


#: On screens also: a press is of the pedal, and `undo` is the word for taking back.
ON_SCREENS = re.compile(r"\b(?:takes? (?:it |that )?back|be taken back|treads?)\b", re.IGNORECASE)
#: The names of a pedal and of a preference that the program itself reads; no printer sees them.
INSIDE = frozenset({"tread", "tread keys", "take back", "take back keys", "treads"})


def shown_texts(room: str) -> Iterator[tuple[str, str]]:
    """The texts a room writes into its sources, beside docstrings and style sheets.

    What is put into a text while it runs counts as one word.
    """
    for path in sorted((Path(benchapp.__file__).parent / room).rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.JoinedStr):
                told |= {id(x) for x in node.values}
                told |= {id(x) for part in node.values if isinstance(part, ast.FormattedValue)
                         and part.format_spec is not None for x in ast.walk(part.format_spec)}
                text = "".join(x.value if isinstance(x, ast.Constant) else "X"
                               for x in node.values if not isinstance(x, ast.Constant)
                               or isinstance(x.value, str))
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                text = node.value
            else:
                continue
            if id(node) not in told and "{ " not in text and "\n#" not in text:
                yield f"{path.name}:{node.lineno}", text


@pytest.mark.parametrize("room", ["screens", "commands"])
def test_texts_of_a_room_are_short_and_plain(room: str) -> None:
    """Nearly every sentence has at most 18 words, none more than 22, and none of the turns."""
    texts = [(where, text) for where, text in shown_texts(room) if text not in INSIDE]
    assert len(texts) > 500
    for turns in (MANNERED, *((ON_SCREENS,) if room == "screens" else ())):
        found = [(m[0], where, text) for where, text in texts for m in turns.finditer(text)]
        assert found == []
    counted = [(len(x.split()), where, x) for where, text in texts for part in text.split("\n")
               for x in sentences(part)]
    long = [x for x in counted if x[0] > MOST]
    assert len(long) <= len(counted) // 500, long
    assert max(n for n, _, _ in counted) <= LONGEST, long
