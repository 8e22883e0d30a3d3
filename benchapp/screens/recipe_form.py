"""A new recipe from a form: one line a question, and under it the file that comes of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import count
from pathlib import Path
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Input

from benchapp import files
from benchapp.recipe.questions import FORM, RecipeQuestion, find_faults
from benchapp.recipe.writer import line_of_answer, new_text
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.page_base import WIDE, PageBase, PageHead
from benchapp.screens.widgets.clean_input import CleanInput
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.screens.widgets.rows import Row, Rows

_KEYS: Final = (("enter", "next, or write the file"), ("↑ ↓", "choose"), ("ctrl+l", "as last time"),
                ("f8", "write the file"), ("f12", "help"), ("escape", "back, answers kept"))
_LONGEST: Final = 200
#: What a draft of an answer is kept under, before its question's key.
_DRAFT: Final = "new recipe: "


class _Answer(CleanInput):
    """One answer."""

    def __init__(self, question: RecipeQuestion, value: str) -> None:
        super().__init__(value, max_length=_LONGEST, id=f"answer-{question.key}",
                         select_on_focus=False)
        self.cursor_blink = False
        self.question = question


class RecipeFormScreen(PageBase):
    """All questions of a new recipe at once, with what is missing beside each."""

    AUTO_FOCUS = "_Answer"
    CSS = """
    RecipeFormScreen #form { height: auto; padding: 0 1; }
    RecipeFormScreen #form Horizontal { height: 1; }
    RecipeFormScreen .label { width: 11; color: $quiet; }
    RecipeFormScreen Input, RecipeFormScreen Input:focus {
        border: none; height: 1; padding: 0 1; margin: 0; background: $surface;
        color: $foreground; width: 3fr;
    }
    RecipeFormScreen Input:focus { background: $panel; }
    RecipeFormScreen .beside { width: 4fr; padding: 0 0 0 1; color: $quiet; }
    RecipeFormScreen .beside.wrong { color: $fault; }
    RecipeFormScreen #about { height: 2; padding: 0 1; color: $wash; }
    RecipeFormScreen Rows { padding: 0 1; height: 1fr; }
    RecipeFormScreen #whole { height: 1fr; }
    RecipeFormScreen.wide #questions { width: 60%; }
    RecipeFormScreen #questions { width: 100%; height: auto; }
    """
    #: It is a sign of the text here.
    NO_KEYS: ClassVar = ("question_mark",)
    BINDINGS: ClassVar[list[BindingType]] = [
        # Before the text has them, so that what is typed ahead goes to the next question.
        Binding("up", "step(-1)", "the question before", show=False, priority=True),
        Binding("down,tab", "step(1)", "the next question", show=False, priority=True),
        Binding("enter", "next", "next, or write the file", show=False, priority=True),
        Binding("ctrl+l", "last_time", "as last time", show=False, priority=True),
        Binding("f8", "write", "write the file", show=False, priority=True),
        Binding("f12", "help", "help", show=False, priority=True),
    ]

    def __init__(self, known: Mapping[str, str] | None = None,
                 written: Callable[[str], None] = lambda name: None) -> None:
        """Ask.

        Args:
            known: What the last recipe offers, by the keys of the questions.
            written: Told the name of the recipe once its file is there.
        """
        super().__init__()
        self._known = dict(known or {})
        self._written = written
        self._tried = False
        self._done = False

    def compose(self) -> ComposeResult:
        """The questions, what is asked, the file."""
        yield PageHead()
        yield KeyLine(_KEYS)
        bench = self.workshop.room.bench
        with Vertical(id="whole"):
            with Vertical(id="questions"):
                with Vertical(id="form"):
                    for question in FORM:
                        kept = self.desk.drafts.take(bench, _DRAFT + question.key) or ""
                        with Horizontal():
                            yield Line(sanitize(question.label), classes="label")
                            yield _Answer(question, kept)
                            yield Line(id=f"beside-{question.key}", classes="beside")
                yield Para(id="about")
            yield Rows().unfocusable()

    def on_mount(self) -> None:
        """What is needed is said from the start."""
        self.query_one(PageHead).set(SafeText("New recipe"))
        self._show()

    def on_resize(self) -> None:
        """The file stands beside the questions where there is room."""
        wide = self.size.width >= WIDE
        self.set_class(wide, "wide")
        self.query_one("#whole").styles.layout = "horizontal" if wide else "vertical"

    # -- showing -------------------------------------------------------------------------------

    @property
    def _answers(self) -> dict[str, str]:
        return {x.question.key: x.value for x in self.query(_Answer)}

    @property
    def _asked(self) -> RecipeQuestion:
        here = self.focused
        return here.question if isinstance(here, _Answer) else FORM[0]

    def on_input_changed(self, event: Input.Changed) -> None:
        """At each key."""
        event.stop()
        self._show()

    def on_descendant_focus(self) -> None:
        """Another question: its words, and its line of the file."""
        self._show()

    def _show(self) -> None:
        if not self.is_mounted or not self.query(Rows):
            return
        asked, answers = self._asked, self._answers
        faults = find_faults(answers)
        for question in FORM:
            beside = self.query_one(f"#beside-{question.key}", Line)
            words, wrong = self._beside(question, answers[question.key].strip(),
                                        faults.get(question.key))
            beside.set(sanitize(words))
            beside.set_class(wrong, "wrong")
        fault = faults.get(asked.key)
        typed = bool(answers[asked.key].strip())
        self.query_one("#about", Para).set(sanitize(
            fault if fault and typed else f"{asked.ask} {_sentence(asked.how)}"))
        # An answer that cannot be read yet is left out of the file.
        text = new_text({key: said for key, said in answers.items() if key not in faults})
        rows = [Row(((sanitize(line), "text"),), id=str(n))
                for n, line in enumerate(text.rstrip().split("\n"), 1)]
        file = self.query_one(Rows)
        file.set_rows(rows)
        file.choose(str(line_of_answer(text, asked)))
        left = sum(1 for q in FORM if q.key in faults)
        self.query_one(PageHead).set(SafeText("New recipe"), sanitize(
            f"{left} to fill in or mend" if left else f"ready: {_free_path(answers).name}"))

    def _beside(self, question: RecipeQuestion, answer: str,
                fault: str | None) -> tuple[str, bool]:
        """What is said beside an answer, and whether it keeps the file from being written."""
        known = self._known.get(question.key)
        if fault and (answer or self._tried):
            return fault, True
        if not answer and known:
            return f"F9: {known}", False
        return fault or "", False

    # -- keys ----------------------------------------------------------------------------------

    def action_step(self, by: int) -> None:
        """Another question."""
        place = FORM.index(self._asked) + by
        if 0 <= place < len(FORM):
            self._go_to(FORM[place])

    def action_next(self) -> None:
        """To the next question, or write."""
        if self._asked is FORM[-1]:
            self.action_write()
        else:
            self.action_step(1)

    def action_last_time(self) -> None:
        """Take what the last recipe says to this question."""
        known = self._known.get(self._asked.key)
        if known is None:
            self.desk.say(SafeText("The last recipe says nothing that fits here."))
            return
        answer = self.query_one(f"#answer-{self._asked.key}", _Answer)
        answer.value = known
        answer.cursor_position = len(known)

    def action_write(self) -> None:
        """Write the file, once what was typed before this key is there."""
        (self.focused or self).call_later(self._write)

    def _write(self) -> None:
        """Write, if nothing is missing; else go where something is."""
        answers = self._answers
        faults = find_faults(answers)
        self._tried = True
        if self._done:
            return
        if faults:
            self._go_to(next(q for q in FORM if q.key in faults))
            self._show()
            return
        path = _free_path(answers)
        try:
            files.write_new(path, new_text(answers))
        except files.FileProblem as error:
            self.desk.say(sanitize(f"Not written; your answers are kept here. {error.message}"),
                          severity="warning")
            return
        self._done = True
        self._written(path.stem)
        self.dismiss(None)

    def action_back(self) -> None:
        """Back; what was typed is there when the form is opened again."""
        bench = self.workshop.room.bench
        for key, said in self._answers.items():
            self.desk.drafts.keep(bench, _DRAFT + key, said)
        super().action_back()

    def _go_to(self, question: RecipeQuestion) -> None:
        self.set_focus(self.query_one(f"#answer-{question.key}", _Answer))


def _free_path(answers: Mapping[str, str]) -> Path:
    """The recipe's file: after its title, with a number where that is taken."""
    slug, folder = files.file_slug(answers.get("title", "")), files.recipes_folder()
    taken = {*files.own_recipes(), *files.shipped_recipes()}
    names = (slug if n == 1 else f"{slug}-{n}" for n in count(1))
    return folder / f"{next(name for name in names if name not in taken)}.yaml"


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith("…") else ".")
