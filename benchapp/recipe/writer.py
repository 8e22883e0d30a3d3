"""A new recipe from a few plain answers, any of which may stay empty."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from benchapp.recipe.document import parse_document, scan_document
from benchapp.recipe.edits import scalar_text
from benchapp.recipe.end_of_day import END_OF_DAY, care_line
from benchapp.recipe.nodes import find_node
from benchapp.recipe.placing import NoPlaceError, drop_at, put_at
from benchapp.recipe.plate_lives import is_drypoint
from benchapp.recipe.questions import (
    FORM,
    QUESTIONS,
    RecipeQuestion,
    place_of,
    shown_answers,
    split_words,
)
from benchapp.recipe.read_rest import TAKES


def new_text(answers: Mapping[str, str]) -> str:
    """A commented recipe from the answers, by the keys of `FORM`.

    What has no answer is empty where a recipe needs it, so that nothing is said
    that nobody said: reading it then names the place. What may be absent is left as
    a comment.

    Raises:
        ValueError: An answer holds a line end, a control or a direction mark.
    """
    said = {q.key: answers.get(q.key, "").strip() for q in FORM}
    return "\n".join((*_HEAD, *_print(said), *_plates(said), *_paper(said), *_takes(said),
                      *_press(said), *_STEPS)) + "\n"


def line_of_answer(text: str, question: RecipeQuestion) -> int:
    """The line of a new recipe that an answer is on, or would be; from 1."""
    node = find_node(scan_document(text).root, *question.path)
    if node is not None:
        return node.line
    key = question.path[-1]
    lines = text.split("\n")
    return next((n for n, line in enumerate(lines, 1) if line.lstrip(" #").startswith(f"{key}:")),
                next((n for n, line in enumerate(lines, 1) if f"{key}:" in line), 1))


def recipe_like(text: str, answers: Mapping[str, str]) -> str:
    """A recipe made after another: its text with the answered values changed.

    The title is emptied where no answer gives one, for two prints of one title would
    be taken for one edition; so is `key`. A question without an answer leaves its value as it
    is, and so does an answer that is the value already; an empty answer takes it out, or leaves
    it empty where a recipe needs it. What the text has no place for becomes a remark at its end.
    Comments and all else stay as they were.

    Raises:
        RecipeError: The text cannot be read as a text.
        ValueError: An answer holds a line end, a control or a direction mark.
    """
    shown = shown_answers(text)
    given = {"title": "", **{key: said.strip() for key, said in answers.items()}}
    left: list[str] = []
    for question in QUESTIONS:
        said = given.get(question.key)
        if said is None or (said == shown.get(question.key, "") and question.key != "title"):
            continue
        try:
            text = _answered(text, question, said)
        except NoPlaceError:
            left.append(f"# {question.label}: {said}    (write it where it belongs)")
    if find_node(parse_document(text).root, "print", "key") is not None:
        text = put_at(text, ("print", "key"), "")
    return "\n".join((text.rstrip(), *left, "")) if left else text


def _answered(text: str, question: RecipeQuestion, said: str) -> str:
    root = parse_document(text).root
    path = place_of(question, root)
    if not said and not question.needed:
        return drop_at(text, path)
    if question.key == "soak" and find_node(root, *path[:-1]) is None:
        text = put_at(text, (*path[:-1], "method"), "soak")
    return put_at(text, path, split_words(said) if question.several else said)


def _line(indent: int, key: str, answer: str, example: str, *, needed: bool = False) -> str:
    """One field: answered, or empty where needed, or as a comment that shows its form."""
    space = " " * indent
    if answer:
        return f"{space}{key}: {scalar_text(answer)}"
    if needed:
        return f"{space}{key}:    # {example}"
    return f"{space}# {key}: {example}"


def _print(said: Mapping[str, str]) -> tuple[str, ...]:
    return (
        "print:",
        _line(2, "title", said["title"], "what the print is called", needed=True),
        _line(2, "artist", said["artist"], "who made the plate", needed=True),
        _line(2, "edition", said["edition"], "30    (write it when it is decided)"),
        "  # proofs: {AP: 2, PP: 1}    (caps beside the edition)",
        "",
    )


def _plates(said: Mapping[str, str]) -> tuple[str, ...]:
    techniques = f"[{', '.join(map(scalar_text, split_words(said['technique'])))}]" if (
        said["technique"]) else ""
    line = f"    techniques: {techniques}" if techniques else "    # techniques: [aquatint]"
    return (
        "plates:                       # in printing order",
        "  - name: key",
        _line(4, "metal", said["metal"], "copper, zinc, …", needed=True),
        _line(4, "size", said["size"], "198 x 148 mm, width by height on the bed",
              needed=True),
        line,
        "    # life: 120 impressions",
        "    # Steel facing is a plater's job: ask early, before the burr goes. Zinc needs copper",
        "    # first; a faced plate rusts (common practice).",
        *_warm_ups(said["technique"]),
        "",
    )


def _warm_ups(technique: str) -> tuple[str, ...]:
    """A drypoint's first pulls are its richest, so none of them is a warm-up (common practice)."""
    if not is_drypoint(split_words(technique)):
        return ()
    return ("warm-ups: 0                   # a drypoint's first pulls are its richest, so all",
            "                              # count (common practice); 2: the first two do not")


def _paper(said: Mapping[str, str]) -> tuple[str, ...]:
    keys = ("paper", "weight", "piece", "soak")
    head = "paper:" if any(said[key] for key in keys) else "# paper:"
    lines = [head, _line(2, "name", said["paper"], "cotton, internally sized"),
             _line(2, "weight", said["weight"], "300 g/m2"),
             _line(2, "piece", said["piece"], "280 x 380 mm")]
    if said["soak"]:
        lines += ["  damp:", "    method: soak              # or pack, spray, dip",
                  _line(4, "soak", said["soak"], "30 min"),
                  "    keeps: 48 h               # mould comes (US National Park Service): look,",
                  "                              # if it smells musty, throw the paper away",
                  "    # rest: 15 min",
                  "    # pack: 6                 # sheets in the water at once"]
    else:
        lines.append("  # damp: {method: soak, soak: 30 min, rest: 15 min, keeps: 48 h, pack: 6}")
    return (*lines, "")


def _takes(said: Mapping[str, str]) -> tuple[str, ...]:
    """The guess as it was given; the steps get no time that nobody said."""
    line = _line(0, TAKES, said["takes"], "40 min")
    return (f"{line}    # a guess: plans go by it where steps have no time", "")


def _press(said: Mapping[str, str]) -> tuple[str, ...]:
    ink = "# ink: {charge: 9 g, parts: {bone black: 10, plate oil: 0.5}}"
    if not said["press"]:
        return (ink, "# press: {pitch: 2 mm, handle side: 3.25 turns, far side: 3.25 turns}")
    return (ink, f"press: {{{said['press']}}}")


_HEAD: Final = (
    "# The recipe of one print. A # begins a remark; the program never changes yours.",
    "# Times are low/usual/high, or one figure; leave them out until you know them.",
    "recipe: 1",
    "",
)


#: The changes of boards that a new recipe begins with: common practice.
DRYING_LINES: Final = (
    "  - {do: Change blotters, after: 3 h}",
    "  - {do: Change blotters and tissue, every: 1 day, for: 3 days}",
    "  - {do: Sign if a test tissue stays clean, after: 10 days}",
)
_STEPS: Final = (
    "wash: 1.5 min                 # between inky and clean hands",
    "",
    "before:                       # once a day",
    "  - do: The room",
    "    hands: clean",
    "    lines: [fan running, gloves whole, eye wash run, rag can emptied]",
    "  - do: Blankets and both screws",
    "    hands: clean",
    "    at: press",
    "    # time: 15/25/45 min",
    *care_line("nip"),
    "",
    "each:                         # for every impression; hands are inky, clean or free (a wait)",
    "  # With a hot plate: - {do: Warm the plate, hands: free, at: hot plate, time: 2 min}",
    "  - do: Ink",
    "    hands: inky",
    "    # time: 3/5/8 min",
    *care_line("ink"),
    "  - do: Wipe",
    "    hands: inky",
    "    # time: 8/14/27 min",
    "    lines: [\"scrim, used to clean\", paper, hand, bevels and back]",
    *care_line("ink"),
    "  - do: Lay and pull",
    "    hands: clean",
    "    at: press",
    "    # time: 4/7/12 min",
    "    lines: [blot the sheet, plate on its marks, sheet, tissue, blankets down]",
    "    uses: sheet",
    "    pulls: key",
    *care_line("nip"),
    "  - do: Lift and look",
    "    hands: clean",
    "    # time: 2/4/8 min",
    "    asks: [verdict, tags, note]",
    "    lines:",
    "      - \"mark on the back: soft pencil, lightly, in a corner of the margin\"",
    "      - tissue",
    "      - boards",
    "",
    *END_OF_DAY,
    "drying:",
    *DRYING_LINES,
)
