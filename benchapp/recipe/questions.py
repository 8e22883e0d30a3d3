"""What a new recipe is asked, on the command line and on the Studio's form: one list for both."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from benchapp.quantities import QuantityError, read_duration, read_grammage, read_size
from benchapp.recipe.document import scan_document
from benchapp.recipe.fields import Fields, Ledger, count_reader
from benchapp.recipe.nodes import Items, Map, Node, Scalar, find_node
from benchapp.recipe.placing import Path
from benchapp.recipe.read_bench import read_presses
from benchapp.recipe.read_print import read_metal
from benchapp.recipe.read_rest import TAKES, read_takes
from benchapp.safe_text import why_refused


@dataclass(frozen=True, slots=True)
class RecipeQuestion:
    """One question.

    Attributes:
        key: The answer's name.
        path: Where the answer is in a recipe.
        label: A word or two for it, as a form has them.
        ask: The question.
        how: How to answer it, with an example.
        reader: Takes an answer or raises QuantityError with what is wrong.
        needed: What to say where the answer is missing; empty: a recipe can do without.
        several: Whether commas part the answer into several.
    """

    key: str
    path: Path
    label: str
    ask: str
    how: str
    reader: Callable[[str], object]
    needed: str = ""
    several: bool = False

    def check(self, answer: str) -> str | None:
        """What is wrong with an answer and how to mend it, or None. Empty is always right."""
        answer = answer.strip()
        if not answer:
            return None
        wrong = why_refused(answer)
        if wrong:
            return wrong
        try:
            self.reader(answer)
        except QuantityError as error:
            return str(error)
        return None


def split_words(text: str) -> tuple[str, ...]:
    """`hard-ground line, aquatint` as two texts; one that is there twice counts once."""
    found = {part.casefold(): part for one in reversed(text.split(",")) if (part := one.strip())}
    return tuple(reversed(found.values()))


def _words(text: str) -> str:
    return text


def _several(text: str) -> tuple[str, ...]:
    if not split_words(text):
        raise QuantityError("there is nothing between the commas", "write such as aquatint")
    return split_words(text)


QUESTIONS: Final[tuple[RecipeQuestion, ...]] = (
    RecipeQuestion("title", ("print", "title"), "Title", "What is the print called?", "its title",
                   _words, "The print needs a title"),
    RecipeQuestion("artist", ("print", "artist"), "Artist", "Who made the plate?",
                   "the artist's name", _words, "Who made the plate?"),
    RecipeQuestion("edition", ("print", "edition"), "Edition", "How many in the edition?",
                   "a number such as 30; empty if it is not decided",
                   count_reader("30", "impressions")),
    RecipeQuestion("metal", ("plates", 1, "metal"), "Metal", "What is the plate made of?",
                   "copper, zinc, …", read_metal, "What is the plate made of?"),
    RecipeQuestion("size", ("plates", 1, "size"), "Plate size", "How large is the plate?",
                   "width x height on the bed, such as 198 x 148 mm", read_size,
                   "How large is the plate? Such as 198 x 148 mm"),
    RecipeQuestion("technique", ("plates", 1, "techniques"), "Techniques", "How was it made?",
                   "hard-ground line, aquatint, drypoint, … with commas between", _several,
                   several=True),
    RecipeQuestion("paper", ("paper", "name"), "Paper", "What paper do you print on?",
                   "its name or kind", _words),
    RecipeQuestion("weight", ("paper", "weight"), "Weight", "How heavy is the paper?",
                   "such as 300 g/m2", read_grammage),
    RecipeQuestion("piece", ("paper", "piece"), "Piece", "How large is the piece you print on?",
                   "width x height on the bed, such as 280 x 380 mm", read_size),
    RecipeQuestion("soak", ("paper", "damp", "soak"), "Soak", "How long does it lie in water?",
                   "such as 30 min; empty if you do not soak the paper", read_duration),
    RecipeQuestion("takes", (TAKES,), "One print", "How long does one print take you?",
                   "a guess will do, such as 40 min; the day is planned by it", read_takes),
)


def _press(text: str) -> None:
    node = scan_document(f"press: {{{text}}}").root
    ledger = Ledger()
    values = node.get("press") if isinstance(node, Map) else None
    if not isinstance(values, Map) or not isinstance(node, Map) or len(node.pairs) != 1 or (
            any(p.value.empty for p in values.pairs if isinstance(p.value, Scalar))):
        raise QuantityError("each figure of the press needs its name",
                            "write such as pitch: 2 mm, handle side: 3.25 turns")
    read_presses(Fields(node, "", ledger), (), ledger)
    if ledger.problems:
        raise QuantityError(ledger.problems[0].wrong, ledger.problems[0].mend)


#: Asked on the form alone, where last time's can be taken over.
PRESS: Final = RecipeQuestion(
    "press", ("press",), "Press", "How is the press set?",
    "such as pitch: 2 mm, handle side: 3.25 turns", _press)

_BY_KEY: Final = {question.key: question for question in (*QUESTIONS, PRESS)}
#: In the order of the form.
FORM: Final = tuple(_BY_KEY[key] for key in (
    "title", "artist", "metal", "size", "technique", "paper", "weight", "piece", "soak", "press",
    "edition", "takes"))


def find_faults(answers: Mapping[str, str]) -> dict[str, str]:
    """What keeps a recipe of these answers from running, by the key of the question."""
    faults = {}
    for question in FORM:
        answer = answers.get(question.key, "").strip()
        wrong = question.check(answer) if answer else question.needed
        if wrong:
            faults[question.key] = wrong
    return faults


def shown_answers(text: str) -> dict[str, str]:
    """What a recipe's text says to each question, as it is written there; else no entry.

    The text may be wrong, or no recipe at all: what cannot be found is not shown.
    """
    root = scan_document(text).root
    shown = {}
    for question in FORM:
        node = find_node(root, *place_of(question, root))
        if isinstance(node, Map):
            words = [f"{p.key.text}: {p.value.text}" for p in node.pairs
                     if isinstance(p.value, Scalar)]
        else:
            nodes = node.nodes if isinstance(node, Items) else (node,)
            words = [" ".join(n.text.split()) for n in nodes if isinstance(n, Scalar)]
        if (said := ", ".join(filter(None, words))):
            shown[question.key] = said
    return shown


def place_of(question: RecipeQuestion, root: Node | None) -> Path:
    """Where the answer is in a text; of several papers the first is meant."""
    if question.path[0] != "paper" or not isinstance(root, Map):
        return question.path
    several = root.get("papers")
    if isinstance(several, Map) and several.pairs:
        return ("papers", several.pairs[0].key.text, *question.path[1:])
    return ("papers", 1, *question.path[1:]) if isinstance(several, Items) else question.path


def known_answers(text: str) -> dict[str, str]:
    """What a recipe printed before offers the next one: all but what makes it its own print.

    An answer that no form could give, such as one of a press set for each plate, is left out.
    """
    shown = shown_answers(text)
    return {q.key: shown[q.key] for q in FORM if q.key in shown and q.key not in _OWN
            and q.check(shown[q.key]) is None}


#: What a new print does not take over.
_OWN: Final = frozenset({"title", "edition", "size", "technique", "takes"})
