"""The keys by the hands that may press them, the words, and what the tags mean."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.page_base import PageBase, PageHead
from benchapp.screens.widgets.keys import KeyLine, key_words
from benchapp.screens.widgets.rows import Row, Rows, fit_cells, titled_rows, wrap_rows
from benchapp.session.actions import REGISTRY, ActionSpec
from benchapp.session.tags import GLOSSES, TRADE

_GATE = (
    "The switch is a pedal or one of a few keys. One press is one tread, and a tread is one "
    "step. After a press it has to be still for a moment before the next one counts, so that a "
    "foot resting on it, or a key held down, does nothing more.",
    "A tread that ends a step long before its low time is a slip: the next one within a few "
    "seconds takes it back. Later, or where the step had taken its time, it simply goes on. A "
    "press within two seconds after a wait ended by itself was meant for the wait: it changes "
    "nothing. While the screen says NOT LISTENING, and after the machine slept, the first tread "
    "only shows that it is heard.",
    "While a line to type on is open, no step turns your hands inky by itself. A pedal that types "
    "nothing goes on all the same. A line left alone for 10 s is put away as a draft by the next "
    "press of a pedal that types; open it again and the draft is back.",
    "F2 is the far view, to be read from the press, and back; with inky hands too. "
    "F3 plans what is left of the day.",
    "F6 answers what calls, on every screen: sheets out of the water, a wait that ended, a clock "
    "heard. What is open stays open.",
    "While your hands are inky only what stands under “With inky hands” is taken: nothing to "
    "answer, nothing that could hurt. The program asks for the wash; verdict, tags and notes "
    "wait until it is done. With a clean-handed helper in, all keys work.",
)
_RECORD = (
    "What you do not say is not written down: a sheet stays not judged, a time not taken.",
    "Nothing is edited. “Back” takes the last action back, and the book keeps that it was so.",
    "By rule: the first two pulls of a day, and the first after a pause of 15 min, are warm-ups "
    "until you say otherwise.",
)
_EVERYWHERE = (
    ("esc", "back"),
    ("?", "these pages"),
    ("F4", "search"),
    ("F7", "the keys at the foot that did not fit"),
    ("page up", "a page up; page down: a page down"),
    ("delete", "what can't be undone: put away, taken down, destroyed; it asks first"),
)
_STUDIO = (
    ("enter", "what the line is there for: print, go on, sheets out, read"),
    ("← → tab", "to the other side"),
    ("d", "damp paper for tomorrow, that of the recipe chosen"),
    ("p", "prepare its day: tear, damp, mix, press, for so many wanted"),
    ("l", "plan its day: how many fit, how surely, when packs go in; what if, by key"),
    ("m", "from the afternoon on: tomorrow planned, with what to damp this evening"),
    ("o delete", "a pack: its sheets are out of the water; what is left is put away"),
    ("i  v  r", "a session: its sheets; read back; the round of those not judged"),
    ("h", "the plate's life: everything it gave, day by day (in a review and the editions too)"),
    ("y  e", "say what earlier days left unsaid; the can was emptied"),
    ("c", "a clock: its name and its time; it calls on every screen, and delete stops it"),
    ("k  n", "check the recipe chosen; how to write a new one"),
    ("F4", "search every note, tag, setting, print and date, while you type"),
    ("s", "preferences, and learning what your pedal sends"),
    ("q", "leave; it asks first if anything is not on disk yet"),
)
_SHEETS = (
    ("k d s 0", "keep, doubtful, spoiled, not judged after all"),
    ("t  n  g", "tag, note, reading"),
    ("f  M  l", "what it was pulled for, the mark on it, look again"),
)
_REVIEW = (
    ("&", "a review: beside another session; a sheet of a list: beside another one"),
    ("← → 1 2", "side by side: another sheet or session; which column"),
    ("w  o", "side by side: the sheet with a mark; only what differs"),
    ("c", "charts in dots, or in ASCII where a terminal has no dots"),
)
_MOUSE = (
    "The wheel scrolls lists and texts. A click chooses a line, a double click takes it, as enter "
    "does. On the Bench, and while your hands are inky, the mouse does nothing.",
    "To select text of the screen, hold Shift while you drag (in most terminals; Option or Fn in "
    "some on a Mac). With mouse: off in the preferences the terminal keeps the mouse to itself.",
)
_DRY = (
    ("E  N", "sorting: the next number of the edition; a number you say"),
    ("A  B  P", "AP, BAT, another proof"),
    ("backspace", "take it back, before it is signed"),
    ("S", "sign what is numbered; it asks first"),
    ("C", "correct what the book says of the sheet; c in the editions and where sheets are"),
    ("c  x", "under boards: the change was made; it is left as it is, with the reason"),
    ("w  t", "the weight on the boards; sort the sheets"),
)
_CARE = (
    "Cautions in recipes are reminders. Labels, safety data sheets, local codes and licensed "
    "people come first: with acid, solvent, rosin dust, the hot plate, the roller, and rags "
    "with oil on them.",
)


class HelpScreen(PageBase):
    """A text to scroll through."""

    CSS = "HelpScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("question_mark", "back", "back", show=False),
    ]

    def compose(self) -> ComposeResult:
        """The text."""
        yield PageHead()
        yield KeyLine((("↑ ↓ page home end", "move"), ("escape", "back")))
        yield Rows()

    def on_mount(self) -> None:
        """Keys go to the text."""
        self.query_one(Rows).focus()
        self.follow()

    def follow(self) -> None:
        """Say how much of it is seen."""
        if self.query("Rows") and self.query("PageHead"):
            self.query_one(PageHead).set(SafeText("Help"),
                                         sanitize(self.query_one(Rows).place_words))

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        treads = self.desk.settings.treads
        self.query_one(Rows).set_rows(help_rows(treads, self.size.width - 4))
        self.call_after_refresh(self.follow)


def help_rows(treads: tuple[str, ...], across: int = 76) -> list[Row]:
    """The help as lines.

    Args:
        treads: The keys that are the switch.
        across: Cells a line has.
    """
    said = [key_words(k) for k in treads if not _is_f(k)]
    far = [k.upper() for k in treads if _is_f(k)]
    switch = ", ".join([*said, *([f"{far[0]} … {far[-1]}"] if len(far) > 1 else far)])

    def paras(*texts: str) -> list[Row]:
        return [row for text in texts for row in wrap_rows(text, across)]

    def keys(known: Iterable[tuple[str, str]]) -> list[Row]:
        return [row for key, words in known for row in titled_rows(
            ((fit_cells(sanitize(key), 10), "mark"),), words, across, "text")]

    def actions(specs: Iterable[ActionSpec]) -> list[Row]:
        return [row for spec in specs for row in _action(spec, across)]

    return [
        _head("The switch"), *paras(f"Keys that are the switch: {switch}.", *_GATE),
        *_part("With inky hands", actions(x for x in REGISTRY if x.inky)),
        *_part("With clean hands, at the bench",
               actions(x for x in REGISTRY if not x.inky and x.key is not None)),
        *_part("On every screen", keys(_EVERYWHERE)),
        *_part("In the Studio", keys(_STUDIO)),
        *_part("Sheets of a session, the round", keys(_SHEETS)),
        *_part("In a review, and side by side", keys(_REVIEW)),
        *_part("Sorting, and under boards", keys(_DRY)),
        *_part("By word only (with --plain)",
               actions(x for x in REGISTRY if not x.inky and x.key is None)),
        *_part("The mouse", paras(*_MOUSE)),
        *_part("What is written down", paras(*_RECORD)),
        *_part("Tags", [row for key, (group, words) in TRADE.items() for row in titled_rows(
            ((fit_cells(sanitize(f"{key} {group}"), 12), "wash"),),
            ", ".join(f"{k} {tag}" for k, tag in words.items()), across, "text")]),
        *_part("What the less familiar ones mean", [
            row for tag, meaning in GLOSSES.items()
            for row in titled_rows(((fit_cells(sanitize(tag), 18), "strong"),), meaning, across,
                                   "text")]),
        *_part("Care", paras(*_CARE)),
    ]


def _is_f(key: str) -> bool:
    return key.startswith("f") and key[1:].isdigit() and int(key[1:]) > 12


def _head(text: str) -> Row:
    return Row(((sanitize(text), "strong"),), heading=True)


def _part(name: str, rows: list[Row]) -> list[Row]:
    return [Row(), _head(name), *rows]


def _action(spec: ActionSpec, across: int) -> list[Row]:
    key = "switch" if spec.word in ("go on", "resume") else key_words(spec.key or "")
    return titled_rows(((fit_cells(sanitize(key), 10), "mark"),
                        (fit_cells(sanitize(spec.word), 13), "strong")),
                       spec.help, across, "text")
