"""The Bench: the session, read from the press and run by one switch.

Nothing here can have the focus, so every key comes to `on_key`: the keys of the
switch through the quiet gate, the others by the registry of actions and the
hands gate. What is shown is the view's; this screen only places it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Final, Literal

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.css.scalar import Scalar
from textual.widget import Widget

from benchapp.decision import Refusal
from benchapp.files import FileProblem
from benchapp.recipe.problems import RecipeError
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens import bench_words as words
from benchapp.screens.after_menu import AFTER_MS
from benchapp.screens.bench_fit import NARROW, WIDE, stage_widths
from benchapp.screens.bench_foot import FAR_KEY, FOLD_KEY, PLAN_KEY, foot_keys
from benchapp.screens.bench_talk import BenchTalk
from benchapp.screens.far import far_view
from benchapp.screens.hush import Hush
from benchapp.screens.page_base import SEARCH_KEY
from benchapp.screens.promise import Promise
from benchapp.screens.registry import topic_of
from benchapp.screens.standard_held import StandardAtLift
from benchapp.screens.switch_rows import no_pedal
from benchapp.screens.walking import Walking
from benchapp.screens.widgets.band import WashLine
from benchapp.screens.widgets.far_view import FarView
from benchapp.screens.widgets.keys import MORE_KEY, KeyLine
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.screens.widgets.side import Side
from benchapp.session import actions as a
from benchapp.session.coming import back_cleans
from benchapp.session.late_tread import meant_for_wait
from benchapp.session.slip import slipped_task
from benchapp.session.state import StudioState, TaskKey
from benchapp.settings import save_preferences
from benchapp.views.bench import BenchView, bench_view, do_words
from benchapp.views.messages import describe_change

_SHARE: Final = 10
"""One row of so many is for the keys: the rest of them are a key away."""
_LOW: Final = 16
"""Terminal rows below which only what to do, its count and the mark stand beside the keys."""
_TALL: Final = 30
"""Terminal rows from which heads are three rows high and the legend is shown."""
_ANSWERS: Final = {"7": a.Explain("took"), "8": a.Explain("away"), "9": a.Explain("forgot")}
_WHY_INKY: Final = SafeText("Hands are inky: wash first")
_NOT_BEGUN: Final = SafeText("Hands are inky: wash first. Not begun yet? Press backspace")
_NEAR: Final = SafeText("Far view. Press F2 to see the rest")
_FOR_WAIT: Final = SafeText("That press was for the wait, which is over. It changed nothing")
_ALL: Final = SafeText("Everything is shown. F9 shows less")
_LESS: Final = SafeText("Only what you need now is shown. F9 shows all")
_ARROWS: Final = ("up", "down", "left", "right")
_NO_KEY: Final = SafeText("That key does nothing here; ? shows the keys")
_BY_KEY: Final = {spec.key: spec for spec in a.REGISTRY if spec.key is not None}
_PEDALS: Final[dict[str, a.Action]] = {"take back": a.TakeBack(), "look again": a.LookAgain()}
_STRIPS: Final = ("calling", "waiting", "question", "warning", "drift")
_LEFT_TO_RIGHT: Final = ("inky", "first", "across", "second", "clean")
_SIDE_WORDS: Final = {"inky": SafeText("inky side"), "clean": SafeText("clean side")}


class BenchScreen(BenchTalk):
    """The session on the Bench."""

    DEFAULT_CSS = """
    BenchScreen { background: $background; color: $foreground; }
    BenchScreen #head { height: 1; background: $panel; padding: 0 1; }
    BenchScreen #title { text-style: bold; }
    BenchScreen #tally { width: auto; text-style: bold; }
    BenchScreen #stage { height: 1fr; }
    BenchScreen #calling { background: $call; color: $call-text; text-style: bold; padding: 0 1; }
    BenchScreen #waiting { color: $wash; padding: 0 1; }
    BenchScreen #question { color: $count; text-style: bold; padding: 0 1; }
    BenchScreen #warning { color: $fault; padding: 0 1; }
    BenchScreen #next { padding: 0 1; text-style: bold; }
    BenchScreen #offered, BenchScreen #legend, BenchScreen #drift,
    BenchScreen #plan { padding: 0 1; color: $quiet; }
    BenchScreen #sheets { padding: 0 1; color: $mark; }
    BenchScreen #message { padding: 0 1; color: $good; }
    BenchScreen #message.wrong { color: $fault; text-style: bold; }

    BenchScreen #inky { background: $inky; color: $inky-text; }
    BenchScreen #clean { background: $clean; color: $clean-text; }
    BenchScreen #across { background: $background; color: $foreground; }
    BenchScreen Side .quiet { color: $quiet; }
    BenchScreen #across Band { color: $wash; }
    BenchScreen.tall Band { height: 3; }
    BenchScreen.tall #calling { padding: 1 1; }
    """
    AUTO_FOCUS = ""
    #: No click and no wheel does anything here: the press stands beside it.
    IGNORES_MOUSE: ClassVar = True
    #: What it hears beside the words of the registry.
    OTHER_KEYS: ClassVar = (
        ("tread keys", "go on"), ("1-9", "answer the question; why a step was long; a grade"),
        ("equals_sign", "as the last"), ("comma", "sheets"), (FAR_KEY, "far view"),
        (FOLD_KEY, "show all, or less"), (PLAN_KEY, "plan"), (SEARCH_KEY, "search"),
        (MORE_KEY, "more keys"),
        ("escape", "back to the Studio"),
        ("question_mark", "help"))
    SHOWS_CALLS = True

    def __init__(self) -> None:
        """Make the Bench of the session that is on it."""
        super().__init__()
        self._keys_for: tuple[object, ...] = ()
        self._first = True
        self._trodden_ms: float | None = None
        #: When a figure was no answer here: what is typed right behind it is a text begun blindly.
        self._hush = Hush(silence_ms=AFTER_MS)
        self._lines = {name: Line(id=name) for name in (
            "title", "tally", "next", "plan", "offered", "sheets", "message")}
        self._strips_of = {name: Para(id=name) for name in _STRIPS}
        self._sides_of = {"inky": Side("inky", id="inky"), "across": Side("wash", id="across"),
                          "clean": Side("clean", id="clean")}
        self._stage: dict[str, Widget] = {
            **self._sides_of, "first": WashLine(id="first"), "second": WashLine(id="second")}
        self._legend = Para(id="legend")
        self._keys = KeyLine(id="keys", share=_SHARE)
        self._far = FarView(id="far")
        self._walking = Walking()
        self._promise = Promise()
        self._at_lift = StandardAtLift()
        self._far_by_key: bool | None = None
        self._near: tuple[Widget, ...] = ()

    def compose(self) -> ComposeResult:
        """The head, the sides, what comes next, the sheets, what was done, the keys."""
        with Horizontal(id="head") as head:
            yield self._lines["title"]
            yield self._lines["tally"]
        yield from self._strips_of.values()
        with Horizontal(id="stage") as stage:
            yield from (self._stage[name] for name in _LEFT_TO_RIGHT)
        self._near = head, stage, self._lines["sheets"], self._lines["next"], self._keys
        yield self._far
        for name in ("next", "plan", "offered", "sheets"):
            yield self._lines[name]
        yield self._legend
        yield self._lines["message"]
        yield self._keys

    def on_mount(self) -> None:
        """Show how things stand."""
        self.follow()

    def on_resize(self) -> None:
        """More room shows more."""
        self.follow()

    # -- what is shown ----------------------------------------------------------------------

    def follow(self) -> None:
        """Show how things stand now; what has not changed is not painted again."""
        if not self.is_mounted:
            return
        now = self.desk.now()
        shown = bench_view(self.desk.workshop.room, now, self.desk.workshop.taught_now())
        if shown is None:
            return
        self.set_class(self.size.height >= _TALL, "tall")
        walked = self._walking.shown(self.desk)
        promised = self._promise.words(self, shown)
        if self._far_off(shown, walking=walked is not None):
            self._far.set(walked or far_view(shown, words.other_clocks(shown), promised))
        else:
            self._strips(shown, promised)
            self._sides(shown)
            self._foot(shown)
        if self._first:
            self._first = False
            if shown.left_off:
                self.message(sanitize(f"You left off: {shown.left_off}"))

    def _far_off(self, shown: BenchView, *, walking: bool) -> bool:
        """Whether the far view stands: by the key, by itself, for a walk; and make place for it.

        Never where a fact is asked for, the press was set otherwise or the day is done: those are
        read near.
        """
        on = self._far_by_key
        if self.desk.settings.far_view == "by itself":
            inky = shown.hands == "inky" and shown.helper is None
            on = inky if on is None else on
            if on == inky:  # the key holds until the hands turn
                self._far_by_key = None
        otherwise = bool(shown.set_otherwise) and shown.now.side == "clean"
        on = walking or (bool(on) and not (shown.now.must or otherwise or shown.closed))
        _display(self._far, on=on)
        for part in self._near:
            _display(part, on=not on)
        if on:
            for part in (*self._strips_of.values(), self._lines["plan"], self._lines["offered"],
                         self._legend):
                _display(part, on=False)
        return on

    def _turn_far(self) -> None:
        """The key of the far view: to it, and back."""
        self._far_by_key = not self._far.display
        self.message(_NEAR if self._far_by_key else SafeText(""))
        self.follow()

    @property
    def _full(self) -> bool:
        """Whether everything is shown, or what to do and what comes next."""
        return self.desk.settings.bench == "full"

    def _turn_fold(self) -> None:
        """Everything, or less; the choice is kept in the preferences."""
        turned: Literal["short", "full"] = "short" if self._full else "full"
        self.desk.settings = replace(self.desk.settings, bench=turned)
        self._keys_for = ()
        self.message(_ALL if self._full else _LESS)
        try:
            save_preferences({"bench": turned})
        except (FileProblem, RecipeError) as error:  # it holds until the program ends
            self.message(sanitize(str(error)), wrong=True)
        self.follow()

    def _strips(self, shown: BenchView, promised: str) -> None:
        across = self.size.width - 2
        self._line("title", words.bench_title(shown, rehearsal=self.desk.rehearsal))
        self._line("tally", words.tally_line(shown, short=self.size.width < NARROW))
        notices = [x for x in words.notice_lines(shown) if self._full or x[0] != "drift"]
        if unlike := self._at_lift.words(self.desk, shown):
            notices.append(("drift", sanitize(unlike)))
        tall = self.size.height >= _TALL
        for name, para in self._strips_of.items():
            most = 6 if tall else 2
            lines = [row for kind, text in notices if kind == name
                     for row in words.wrap_text(text, across)][:most]
            _display(para, on=bool(lines))
            para.set(SafeText("\n".join(lines)))
        self._line("next", words.coming_line(shown, promised, narrow=self.size.width < NARROW,
                                              rules=self._full))
        low = self.size.height < _LOW
        bare = low or not self._full
        planned = SafeText("") if low else self._promise.line(
            self.desk.workshop.room, shown, across, full=self._full)
        _display(self._lines["plan"], on=bool(planned))
        self._line("plan", planned)
        offered = words.offered_line(shown)
        _display(self._lines["offered"], on=bool(offered) and not low and (
            tall or not shown.calls))
        self._line("offered", offered)
        sheets, legend = words.sheets_and_legend(shown.sheets, across)
        self._line("sheets", sheets)
        self._legend.set(legend)
        _display(self._lines["sheets"], on=not bare)
        _display(self._legend, on=bool(legend) and not bare)

    def _sides(self, shown: BenchView) -> None:
        panel = words.task_panel(shown, last=words.sheet_before(shown))
        # A wash stands on the line between the sides; anything else across covers both.
        waits = panel.where == "across" and (shown.now.side != "wash" or panel.name == words.PAUSED)
        widths = stage_widths(panel.where, self.size.width, covers=waits,
                              aside=bool(words.other_clocks(shown)), paper=bool(shown.paper))
        for name, across in widths.items():
            _give_width(self._stage[name], across)
        aside = "inky" if panel.where == "clean" else "clean"
        for where, side in self._sides_of.items():
            if where == panel.where:
                side.show(panel, shown.now.side if shown.paused_ms is None else "wait")
            elif where in _SIDE_WORDS:
                across, rows = side.content_size.width, side.content_size.height - 3
                name = words.CLOCKS if waits else _SIDE_WORDS[where]
                lines = self._aside(shown, across, rows) if where == aside else []
                side.rest(name if across > 8 else SafeText(""), lines)

    def _aside(self, shown: BenchView, across: int, rows: int) -> list[SafeText]:
        """What stands on the side at rest: paper, other clocks, and the sheets if there is room."""
        lines = words.paper_rows(shown, across)
        lines += words.clock_rows(words.other_clocks(shown), across, rows - len(lines))
        if self._full and self.size.width >= WIDE and shown.sheets:
            lines += [SafeText("")] if lines else []
            lines += words.latest_sheet_lines(shown.sheets, across, rows - len(lines))
        return lines

    def _foot(self, shown: BenchView) -> None:
        workshop = self.desk.workshop
        room, now = workshop.room, self.desk.now()
        state = (len(room.journal), room.bench, room.inky, room.helper, shown.now.side, self.size)
        if state == self._keys_for or room.session is None:
            return
        self._keys_for = state
        self._keys.set(foot_keys(room, shown, now, full=self._full))

    def _line(self, name: str, text: SafeText) -> None:
        self._lines[name].set(text)

    # -- what is done -----------------------------------------------------------------------

    def attempt(self, action: a.Action) -> Refusal | None:
        """Do it through the gate, and show what came of it; why not."""
        before = self.desk.workshop.room
        outcome = self.desk.do(action, gated=True)
        if outcome.refusal is None:
            told = describe_change(before, self.desk.workshop.room, outcome.entries, cares=False)
            self.message(self.desk.done(" · ".join(told)))
        return outcome.refusal

    def message(self, text: SafeText, *, wrong: bool = False) -> None:
        """What the last key did, or why it did nothing."""
        line = self._lines["message"]
        line.set_class(wrong, "wrong")
        line.set(words.in_one_line(text, self.size.width - 2))

    # -- keys ---------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Every key comes here."""
        if event.key in ("ctrl+c", "ctrl+q"):
            return
        event.stop()
        event.prevent_default()
        self.take_key(event)

    def take_key(self, event: events.Key) -> None:
        """One key, also one of a pedal that types nothing while a line is open over it.

        Keys that waited in a queue still come after one that left the Bench: for nobody.
        """
        if self.desk.workshop.room.session is None:
            return
        heard = self.desk.hear(event)
        if heard == "tread":
            self._tread(event.time * 1000)
        elif heard != "too soon":
            self._walking.stop()
        if heard in _PEDALS:
            self.do(_PEDALS[heard])
        elif heard == "another key" and event.key == FAR_KEY:
            self._turn_far()
        elif heard == "another key" and event.key == FOLD_KEY:
            self._turn_fold()
        elif heard == "another key":
            hush, hushed = self._hush.key(event.time * 1000)
            self._hush = hush if event.is_printable else Hush(silence_ms=AFTER_MS)
            if hushed and event.is_printable:
                return
            if not self._key(event.key.lower() if len(event.key) == 1 else event.key) and (
                    self.desk.settings.gate.ms > 0):
                self._hush = self._hush.begun(event.time * 1000)

    def _tread(self, at_ms: float) -> None:
        """A tread, at a moment of the keys' own clock: go on, or take a slip back."""
        session = self.desk.workshop.room.session
        if session is not None and session.closed is not None:
            self._after_closing(session.id, any(
                i.pulled and i.verdict is None for i in session.impressions))
        elif meant_for_wait(self.desk.workshop.room, self.desk.now()):
            self._trodden_ms = None
            self.message(_FOR_WAIT)
        elif (key := self._slipped(at_ms)) is not None and session is not None:
            self._trodden_ms = None
            if self.do(a.TakeBack()):
                room = self.desk.workshop.room
                do = do_words(room, session, key, room.t_at(self.desk.now()))
                self.message(sanitize(f"undone: {do} goes on"))
        else:
            walked, action = self._walking.tread(self.desk)
            self._trodden_ms = at_ms if not walked or isinstance(action, a.GoOn) else None
            if action is not None or not walked:
                self.do(action or a.GoOn())
            self.follow()

    def _slipped(self, at_ms: float) -> TaskKey | None:
        """The step that the last tread ended by a slip of the foot, if this one takes it back.

        By the moments of the presses too: a screen that stood still brings them together.
        """
        within = self.desk.settings.slip_ms
        if not within or self._trodden_ms is None or at_ms - self._trodden_ms > within:
            return None
        return slipped_task(self.desk.workshop.room, self.desk.now(), within)

    def _after_closing(self, session: str, unjudged: bool) -> None:
        self.desk.leave_bench()
        if unjudged:
            self.desk.over("round", session=session)

    def _key(self, key: str) -> bool:
        """Do what a key means now; False for a figure that answers nothing."""
        room = self.desk.workshop.room
        spec = _BY_KEY.get(key)
        if key in _ARROWS:  # one that was learnt is a tread, and never comes here
            self.message(no_pedal(key), wrong=True)
        elif not room.clean and (spec is None or not spec.inky):
            begun = room.session is None or not back_cleans(room, room.session)
            self.message(_WHY_INKY if begun else _NOT_BEGUN, wrong=True)
        elif len(key) == 1 and key.isdigit() and key.isascii():
            return self._number(room, int(key) - 1, key)
        elif spec is not None:
            self.say_word(spec.word)
        else:
            self._elsewhere(key)
        return True

    def _number(self, room: StudioState, place: int, key: str) -> bool:
        """A number answers what is asked: a fact, why it took so long, a grade; or it is none."""
        shown = bench_view(room, self.desk.now())
        if shown is None:
            return False
        if shown.now.must:
            if 0 <= place < len(shown.now.must):
                return self.do(a.Must(shown.now.must[place]))
            self.message(sanitize(f"Answer with 1 to {len(shown.now.must)}"), wrong=True)
        elif shown.question is not None and key in _ANSWERS:
            return self.do(_ANSWERS[key])
        elif shown.now.asks and shown.mark and place >= 0:
            return self.grade(key)
        return False

    def _elsewhere(self, key: str) -> None:
        """Other screens, which need clean hands: treads do not come through them."""
        session = self.desk.workshop.room.session
        if key == "question_mark":
            self.desk.over("help", topic=topic_of(self))
        elif key == "escape":
            self.desk.leave_bench()
        elif key == "comma" and session is not None:
            self.desk.over("impressions", session=session.id)
        elif key == PLAN_KEY:
            self.desk.over("plan")
        elif key == MORE_KEY:
            self._keys.turn()
        elif key == SEARCH_KEY:
            self.desk.over("search")
        elif key == "equals_sign":
            self.copy_last()
        else:
            self.message(_NO_KEY, wrong=True)


def _display(widget: Widget, *, on: bool) -> None:
    if widget.display != on:
        widget.display = on


def _give_width(widget: Widget, across: int | None) -> None:
    """So many cells, what is left over (None), or hidden (0); set only where it changes."""
    _display(widget, on=across != 0)
    wanted = Scalar.parse("1fr") if across is None else Scalar.from_number(across)
    if across != 0 and widget.styles.width != wanted:
        widget.styles.width = wanted
