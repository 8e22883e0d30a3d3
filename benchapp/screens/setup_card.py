"""The set-up card: last time's settings, said again by one key, each or none.

It comes before a session is opened and has no focus: a tread passes it, which opens the
session, and what was not said stays not said. Escape opens nothing.
"""

from __future__ import annotations

from typing import ClassVar, Final, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from benchapp.book import BookError
from benchapp.decision import Refusal
from benchapp.planning.plate_wear import cannot_be, given_by_plates, wear_of, wear_sentences
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.laid_over import LaidOver
from benchapp.screens.opening import Opening, open_it
from benchapp.screens.pick import CARD, Pick
from benchapp.screens.standard_held import HeldStandard, find_standard, unlike_words
from benchapp.screens.treading import HearsTread
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Role, Row, Rows, fit_cells
from benchapp.service.blankets import blankets_at
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.actions.asking import ChoiceQuestion
from benchapp.session.blankets import blanket_words, presses
from benchapp.session.counting import target_count, warm_ups
from benchapp.session.state import Session
from benchapp.views.paper import first_pack_words
from benchapp.views.questions import reply_to
from benchapp.views.setup_card import (
    WANTED,
    SetupLine,
    all_the_same,
    last_of_print,
    setup_card,
)

#: The keys of the lines; `a` says all the same, and `w` is the number wanted.
SIGNS: Final = "123456789bcdefghjk"
WANTED_SIGN: Final = "w"
BLANKETS_SIGN: Final = "asterisk"
_FROM: Final = {"said": "said", "last time": "as last time", "recipe": "recipe says",
                "empty": "not said"}
_ROLES: Final[dict[str, Role]] = {"said": "good", "last time": "text", "recipe": "text",
                                  "empty": "quiet"}


#: Rows below which only the values and the keys have room.
_LOW: Final = 16


class SetupCard(HearsTread, LaidOver[None]):
    """Gives nothing: what was said is in the book."""

    DEFAULT_CSS = CARD.format(name="SetupCard") + """
    SetupCard #plates, SetupCard #standard { color: $wash; }
    SetupCard #blankets { color: $quiet; }
    SetupCard Rows { height: auto; max-height: 15; margin: 1 0 0 0; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "all_the_same", "all as shown", show=False),
        *(Binding(sign, f"change('{sign}')", "change a line", show=False) for sign in SIGNS),
        Binding(WANTED_SIGN, f"change('{WANTED_SIGN}')", "wanted", show=False),
        Binding(BLANKETS_SIGN, "blankets", "blankets washed or swapped", show=False),
        Binding("escape", "dismiss", "open nothing", show=False)]
    OTHER_KEYS: ClassVar = (("tread keys", "open the session"),)

    def __init__(self, opening: Opening) -> None:
        """For a session that is about to be opened."""
        super().__init__()
        self._opening = opening
        self._draft: SessionService | None = None
        self._said: dict[str, a.Action] = {}
        self._passed = False
        self._last: Session | None = None
        self._lines: tuple[SetupLine, ...] = ()
        self._standard: HeldStandard | None = None
        self._blankets = ""

    @property
    def desk(self) -> Desk:
        """The app, by what it does for us."""
        return cast("Desk", self.app)

    def compose(self) -> ComposeResult:
        """The lines, each with its key."""
        with Vertical(id="card"):
            yield Para(id="title")
            yield Para(id="about")
            yield Para(id="paper")
            yield Para(id="plates")
            yield Para(id="standard")
            yield Para(id="blankets")
            yield Rows().unfocusable()
            yield KeyLine()

    def on_mount(self) -> None:
        """Look up the last session on this print, once."""
        self._draft = self._opening.draft(self.desk.workshop.clock)
        session = self._draft.room.session
        if session is None:
            self.dismiss(None)
            return
        self._last = self._last_time(session)
        self._standard = find_standard(self.desk, session)
        self._blankets = self._find_blankets(session)
        self.set_focus(None)
        self.follow()

    def _last_time(self, session: Session) -> Session | None:
        """The last session on the same print, in this book or another kept with it."""
        workshop, known = self.desk.workshop, session.recipe.print
        same = [r.id for r in workshop.book.sessions() if r.id != session.id
                and (r.opening.print, r.opening.artist)
                == (known.title, known.artist)]
        past = workshop.past(same[-1:])
        return last_of_print(tuple(past.sessions.values()), session)

    def _find_blankets(self, session: Session) -> str:
        """How many pulls the blankets had, a line a press."""
        try:
            return "\n".join(blanket_words(blankets_at(self.desk.workshop.book, place))
                             for place in presses(session.recipe))
        except BookError as error:
            self.desk.fault = str(error)
            return ""

    def follow(self) -> None:
        """Show what stands there now."""
        session = None if self._draft is None else self._draft.room.session
        if session is None:
            return
        room, now = self.desk.workshop.room, self.desk.now()
        low = self.app.size.height < _LOW
        for para in self.query("#paper").results(Para):  # none while the card goes away
            paper = first_pack_words(room, session, room.t_at(now))
            para.set(sanitize(paper))
            para.display = bool(paper) or not low
        lines = setup_card(session, self._last)
        if lines == self._lines:
            return
        self._lines = lines
        self.query_one("#title", Para).set(sanitize(f"Set-up of {session.recipe.print.title}"))
        about = ("This is the first session on this print. These values are from the recipe."
                 if self._last is None else f"These are the last values of {self._last.name}.")
        self.query_one("#about", Para).set(sanitize(
            f"{about} You need not answer; what you do not say is not recorded."))
        plates, said = self.query_one("#plates", Para), self._beforehand(session)
        plates.set(SafeText("\n".join(map(sanitize, said))))
        # On a low screen the values and the keys come first; prepare and the Studio say it too.
        plates.display = bool(said) and not low
        unlike = unlike_words(
            tuple((x.name, x.value) for x in lines), self._standard)
        beside = self.query_one("#standard", Para)
        beside.set(sanitize(unlike))
        beside.display = bool(unlike) and not low
        under = self.query_one("#blankets", Para)
        under.set(sanitize(self._blankets))
        under.display = bool(self._blankets) and not low
        signs = self._by_sign()
        self.query_one(Rows).styles.margin = (int(not low), 0, 0, 0)
        self.query_one(Rows).set_rows([_row(sign, line) for sign, line in signs.items()])
        self.query_one(KeyLine).set(_key_words([x for x in signs if x != WANTED_SIGN],
                                          WANTED_SIGN in signs))

    def _beforehand(self, session: Session) -> list[str]:
        """What the day cannot give, and what each plate has given and will give: said here once."""
        wanted = target_count(session)
        try:
            register = self.desk.workshop.editions.register
        except BookError as error:
            self.desk.fault = str(error)
            return []
        pulls = 0 if wanted is None else wanted + warm_ups(session.recipe)
        wears = wear_of(session.recipe, given_by_plates(register, session.recipe), pulls)
        return [*(f"! {said}." for said in cannot_be(register, session.recipe, wanted)),
                *(". ".join(wear_sentences(x)) + "." for x in wears if x.tells)]

    def _by_sign(self) -> dict[str, SetupLine]:
        others = [x for x in self._lines if x.name != WANTED]
        wanted = next((x for x in self._lines if x.name == WANTED), None)
        signs = dict(zip(SIGNS, others, strict=False))
        return signs if wanted is None else {**signs, WANTED_SIGN: wanted}

    # -- keys ------------------------------------------------------------------------

    def action_all_the_same(self) -> None:
        """Set what is shown, each with an entry."""
        for setting in all_the_same(self._lines):
            if (wrong := self._do(setting)) is not None:
                self.desk.say(sanitize(wrong), severity="warning")

    def _do(self, action: a.Action) -> str | None:
        """Do it; why not."""
        refusal = None if self._draft is None else self._draft.do(action).refusal
        if refusal is None:  # the last word on each line is the one that is written
            self._said[_line_of(action)] = action
        self.follow()
        return None if refusal is None else str(refusal)

    def take_tread(self) -> None:
        """Open the session, once; where it is refused now, say why and stay."""
        if self._passed:
            return
        try:
            outcome = open_it(self.desk, self._opening, self._said.values())
        except BookError as error:
            self.desk.fault = str(error)
            outcome = Outcome(refusal=Refusal("It was not recorded", "mend the fault shown above"))
        self._passed = outcome.ok
        if outcome.refusal is not None:
            self.desk.say(sanitize(str(outcome.refusal)), severity="warning")

    def action_change(self, sign: str) -> None:
        """Write another value on the line of that sign, where there is one."""
        line = self._by_sign().get(sign)
        if line is not None:
            self._change(line)

    def action_blankets(self) -> None:
        """Say that they were washed or swapped; it is recorded when the session opens."""
        room = None if self._draft is None else self._draft.room
        if room is None or room.session is None:
            return
        asked = reply_to(room, room.session, "blankets", self.desk.now())
        if not isinstance(asked, ChoiceQuestion):
            return

        def take(place: int | None) -> None:
            done = None if place is None else asked.answers[place][1]
            if not isinstance(done, a.SeeToBlankets):
                return
            wrong = self._do(done)
            if wrong is None:
                self._blankets = f"Blankets: {done.how} for today."
                self._lines = ()
                self.follow()
            else:
                self.desk.say(sanitize(wrong), severity="warning")

        self.app.push_screen(Pick(sanitize(asked.title),
                                  [sanitize(words) for words, _ in asked.answers]), take)

    def _change(self, line: SetupLine) -> None:
        def do(text: str) -> str | None:
            return self._do(
                a.SetWanted(int(text)) if line.name == WANTED else a.Set(line.name, text))

        if line.name == WANTED:
            ask = Ask(SafeText("How many counting impressions do you want?"),
                      hint=SafeText("Warm-ups, ghosts and spoiled sheets do not count."),
                      value=line.value, check=_whole, do=do)
        else:
            last = f"Last time: {line.last}" if line.last else "In force from the next pull on."
            ask = Ask(sanitize(line.name), hint=sanitize(last), value=line.value, do=do)
        self.app.push_screen(ask)


def _line_of(action: a.Action) -> str:
    """Which line of the card an action answers: its last answer is the one that is written."""
    match action:
        case a.Set():
            return action.name
        case a.SeeToBlankets():
            return "blankets seen to"
        case _:
            return WANTED


def _key_words(signs: list[str], wanted: bool) -> list[tuple[str, str]]:
    """The keys that do something on this card, and no others."""
    words = [("a", "all as shown")]
    runs = [run for run in (signs[:9], signs[9:]) if run]
    if runs:
        words.append((" ".join(r[0] if len(r) == 1 else f"{r[0]}-{r[-1]}" for r in runs),
                      "change a line"))
    if wanted:
        words.append(("w", "wanted"))
    words.append(("*", "blankets"))
    return [*words, ("space", "open the session"), ("escape", "open nothing")]


def _row(sign: str, x: SetupLine) -> Row:
    name = "wanted" if x.name == WANTED else x.name
    if x.name == WANTED and x.origin == "empty":
        value, origin = "until you say enough", ""
    else:
        value, origin = x.value or "—", _FROM[x.origin]
    if x.last:
        origin = f"{origin}, last time {x.last}"
    return Row(((sanitize(f"{sign}  "), "mark"), (fit_cells(sanitize(name), 18), "strong"),
                (sanitize(value), _ROLES[x.origin])), right=sanitize(origin))


def _whole(text: str) -> str | None:
    if text.isascii() and text.isdigit() and 0 < int(text) <= 9999:
        return None
    return "write a whole number from 1 up"
