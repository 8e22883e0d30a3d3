"""What the printer says at the Bench with clean hands: one key, and a question where one is needed.

Each word of the registry has its way here. Whatever is said goes through the
hands gate; what would be refused is said before anything is asked.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from benchapp.quantities import QuantityError, read_duration
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.coming_talk import ask_left_to, ask_next, ask_skip
from benchapp.screens.mute_talk import ask_mute
from benchapp.screens.pick import step_keys
from benchapp.screens.reading_talk import GRADE, ask_reading
from benchapp.screens.set_talk import ask_set
from benchapp.screens.sheet_talk import FOR_WORDS
from benchapp.screens.spoiled_talk import ask_spoiled
from benchapp.screens.tag_pick import TagPick
from benchapp.screens.talk import Talk
from benchapp.session import actions as a
from benchapp.session.annotate import in_hand, noted_sheet, tagged_sheet, try_words
from benchapp.session.counting import state_in_force
from benchapp.session.next_steps import next_pack_size
from benchapp.session.state import FORS, Impression
from benchapp.session.tags import tag_menu, used_tags
from benchapp.session.values import OWN_GRADE
from benchapp.views.availability import earlier_steps, later_steps, sheet_moves

_MINUTE: Final = 60_000
_EXTEND: Final = (1, 2, 5, 10, 15)


class BenchTalk(Talk):
    """The part of the Bench that asks."""

    # -- how it is said ----------------------------------------------------------------------

    def say_word(self, word: str) -> None:
        """Do what a word of the registry means, asking first where it takes something."""
        direct = a.spec_of(word).makes
        if direct is not None:
            self.do(direct)
        else:
            _ASKED[word](self)

    def _sheet(self) -> tuple[Impression | None, str]:
        """The sheet spoken of, and what it is called."""
        meant = tagged_sheet(self.s)
        if meant is None or meant.mark is None:
            return meant, "the sheet in hand" if meant is None else f"the {try_words(meant)}"
        return meant, meant.mark

    # -- of a sheet ----------------------------------------------------------------------------

    def ask_tag(self) -> None:
        """A closed word, put on or taken off."""
        meant, name = self._sheet()
        if meant is None:
            self.message(SafeText("No sheet is in hand yet"), wrong=True)
            return

        def take(tag: str | None) -> None:
            if tag is not None:
                self.do(a.Tag(tag, meant.ordinal, off=tag in meant.tags))

        used = used_tags(self.desk.workshop.room.journal, self.s)
        self.app.push_screen(
            TagPick(sanitize(name), tag_menu(self.s.recipe), used, meant.tags), take)

    def ask_note(self) -> None:
        """Free text from its first key; the arrows bring the recipe's sentences."""
        meant = noted_sheet(self.s)
        name = "the session" if meant is None else meant.mark or (
            "the impression in hand" if meant.ended is None else f"the {try_words(meant)}")
        # Filed where the line says, whatever is pulled while it stands open.
        note = (lambda text: a.Note(text, to="session")) if meant is None else (
            lambda text: a.Note(text, meant.ordinal))
        of = "" if meant is None else meant.ordinal
        self.ask(f"Note on {name}", note, phrases=self.s.recipe.phrases,
                 draft=f"note {self.s.id} {of}")

    def grade(self, value: str) -> bool:
        """The grade of this step, by its number; whether it was written."""
        step = self.s.shape.by_id[self.s.hand.step] if self.s.hand is not None else None
        graded = [(r.name, r.unit) for r in self.s.recipe.readings
                  if GRADE.fullmatch(r.unit or "")
                  and (r.at is None or step is None or r.at == step.do)]
        name, unit = graded[0] if graded else (OWN_GRADE.name, OWN_GRADE.unit)
        return self.do(a.TakeReading(name, value, unit))

    def copy_last(self) -> None:
        """Judge, tag and grade the sheet in hand as the one before it."""
        held = in_hand(self.s)
        before = [i for i in self.s.impressions
                  if held is not None and i.number is not None and held.number is not None
                  and i.number < held.number]
        if held is None or not before:
            self.message(SafeText("There is no sheet before it"), wrong=True)
            return
        last = max(before, key=lambda i: i.number or 0)
        said: list[a.Action] = []
        if last.verdict is not None and last.verdict != held.verdict:
            said.append(a.Judge(last.verdict, held.ordinal))
        said += [a.Tag(t, held.ordinal) for t in last.tags if t not in held.tags]
        said += [a.TakeReading(r.name, r.value, r.unit, held.ordinal) for r in last.readings
                 if GRADE.fullmatch(r.unit or "")]
        if not said:
            self.message(sanitize(f"{last.mark} has nothing that {held.mark} has not"))
            return
        done = [self.do(action) for action in said]
        if all(done):
            self.message(sanitize(f"{held.mark} as {last.mark}: verdict, tags and grade"))

    def ask_for(self) -> None:
        """What the pull is for."""
        def take(purpose: str) -> None:
            if purpose != "SP":
                self.do(a.SayFor(purpose))
                return
            self.ask("Which state", lambda text: a.SayFor("SP", text or None),
                      about="such as II; empty: the state in force",
                      value=state_in_force(self.s) or "", empty=True)

        if self.could(a.SayFor("edition")):
            self.pick("This pull is for", [(FOR_WORDS[x], x) for x in FORS], take)

    # -- of steps and clocks --------------------------------------------------------------------

    def ask_here(self) -> None:
        """I am here: a later step."""
        steps = later_steps(self.desk.workshop.room, self.s, self.desk.now())
        self.pick("I am here: what was passed is done, its time not taken",
                   [(x.do, x.id) for x in steps], lambda step: self.do(a.Here(step)),
                   none="No later step can be reached now",
                   keys=step_keys(self.s.recipe, [x.id for x in steps]))

    def ask_redo(self) -> None:
        """An earlier step again."""
        steps = earlier_steps(self.desk.workshop.room, self.s, self.desk.now())
        self.pick("Do again, and what follows it", [(x.do, x.id) for x in steps],
                   lambda step: self.do(a.Redo(step)), none="No earlier step can be done again",
                   keys=step_keys(self.s.recipe, [x.id for x in steps]))

    def ask_extend(self) -> None:
        """How much more a wait gets."""
        if self.could(a.Extend(_MINUTE)):
            answers: list[tuple[str, int | None]] = [(f"{n} min", n * _MINUTE) for n in _EXTEND]
            self.pick("More time", [*answers, ("Another time …", None)], self._extend)

    def _extend(self, ms: int | None) -> None:
        if ms is not None:
            self.do(a.Extend(ms))
        else:
            self.ask("How much more", lambda text: a.Extend(read_duration(text).ms),
                      about="such as 90 s or 12 min", check=_wrong_time)

    def ask_time(self) -> None:
        """A clock on the spot."""
        def start(text: str) -> a.Action:
            ms, name = split_time(text) or (0, "")
            return a.StartClock(ms, name or "clock")

        if self.could(a.StartClock(_MINUTE, "x")):
            self.ask("A clock: how long, and what for", start, about="such as 5 min varnish",
                      check=lambda text: None if split_time(text) else _wrong_time(text))

    # -- of paper and numbers ---------------------------------------------------------------------

    def ask_damped(self) -> None:
        """How many sheets went in."""
        if self.could(a.DampPack()):
            room = self.desk.workshop.room
            size = next_pack_size(room, self.s, room.t_at(self.desk.now())).sheets
            self.ask("Sheets that went in", lambda text: a.DampPack(
                int(text) if text else None), about="empty: not counted",
                value="" if size is None else str(size), check=_wrong_count, empty=True)

    def ask_sheet(self) -> None:
        """What became of one damp sheet."""
        words = {"out": "out of its pack", "back": "back in its pack", "sprayed": "sprayed",
                 "dried": "dried unprinted"}
        moves = sheet_moves(self.desk.workshop.room, self.s, self.desk.now())
        self.pick("One sheet", [(words[m.what] + self.ends_early(m), m) for m in moves], self.do,
                   none="No damp sheet is out of the water",
                   keys=[str(1 + [*words].index(m.what)) for m in moves])

    def ask_wanted(self) -> None:
        """How many counting impressions."""
        now = self.s.wanted
        if self.could(a.SetWanted(1)):
            self.ask("Wanted: how many counting impressions", lambda text: a.SetWanted(
                int(text) if text else None), about="empty: until enough",
                value="" if now is None else str(now), check=_wrong_count, empty=True)

    # -- of the workshop ---------------------------------------------------------------------------

    def ask_helper(self) -> None:
        """Who joins; or the helper leaves."""
        if self.desk.workshop.room.helper is not None:
            self.do(a.Helper(joins=False))
        else:
            self.ask("A clean-handed helper joins: who", lambda name: a.Helper(
                joins=True, name=name or None), about="may stay empty", empty=True)

    def ask_left_off(self) -> None:
        """A sentence for when the printer comes back."""
        if self.could(a.LeftOff("x")):
            self.ask("Where you left off", a.LeftOff,
                      about="read first when you come back", value=self.s.left_off or "")

    def ask_reworked(self) -> None:
        """Which plate, which state, what was done."""
        def rework(plate: str) -> None:
            self.ask(f"{plate}: its state, and what was done", lambda text: a.ReworkPlate(
                plate, *_state_and_what(text)), about="such as II: burnished the sky")

        plates = [(p.name, p.name) for p in self.s.recipe.plates]
        if len(plates) == 1:
            rework(plates[0][0])
        else:
            self.pick("Which plate was reworked", plates, rework)

    def ask_switch(self) -> None:
        """Which session comes to the Bench."""
        self.one_of_others("To the Bench", lambda to: self.do(a.SwitchSession(to)))



_ASKED: Final[dict[str, Callable[[BenchTalk], None]]] = {
    "tag": BenchTalk.ask_tag, "note": BenchTalk.ask_note, "reading": ask_reading,
    "for": BenchTalk.ask_for, "here": BenchTalk.ask_here, "next": ask_next,
    "redo": BenchTalk.ask_redo, "skip": ask_skip, "extend": BenchTalk.ask_extend,
    "time": BenchTalk.ask_time, "set": ask_set, "damped": BenchTalk.ask_damped,
    "sheet": BenchTalk.ask_sheet, "wanted": BenchTalk.ask_wanted, "helper": BenchTalk.ask_helper,
    "left off": BenchTalk.ask_left_off, "reworked": BenchTalk.ask_reworked,
    "mute": ask_mute, "left to": ask_left_to, "switch": BenchTalk.ask_switch,
    "spoiled": ask_spoiled,
}  # fmt: skip


def split_time(text: str) -> tuple[int, str] | None:
    """A time and what is behind it, `5 min varnish`; None where no time comes first."""
    words = text.split()
    for count in range(min(len(words), 6), 0, -1):
        try:
            ms = read_duration(" ".join(words[:count])).ms
        except QuantityError:
            continue
        return (ms, " ".join(words[count:])) if ms > 0 else None
    return None


def _wrong_time(text: str) -> str | None:
    try:
        read_duration(text)
    except QuantityError as error:
        return str(error)
    return None


def _wrong_count(text: str) -> str | None:
    if not text:
        return None
    good = text.isascii() and text.isdigit() and len(text) <= 4 and int(text) > 0
    return None if good else "a whole number from 1 up, or nothing"


def _state_and_what(text: str) -> tuple[str | None, str | None]:
    state, colon, what = text.partition(":")
    return state.strip() or None, (what.strip() or None) if colon else None
