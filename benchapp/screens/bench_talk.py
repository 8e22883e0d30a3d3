"""What the printer says at the Bench with clean hands: one key, and a question where one is needed.

Each word of the registry declares what it asks. Whatever is said goes through the
hands gate; what would be refused is said before anything is asked.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import cast

from textual.screen import Screen

from benchapp.decision import Refusal
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick
from benchapp.screens.tag_pick import TagPick
from benchapp.screens.widgets.ask import Ask
from benchapp.session import actions as a
from benchapp.session.actions.asking import (
    ChoiceQuestion,
    LineQuestion,
    NameQuestion,
    Reply,
    TagQuestion,
)
from benchapp.session.annotate import in_hand
from benchapp.session.state import Session
from benchapp.session.values import OWN_GRADE, is_grade
from benchapp.views.questions import reply_to


class BenchTalk(Screen[None]):
    """The part of the Bench that asks."""

    @property
    def desk(self) -> Desk:
        """The app, by what it does for us."""
        return cast("Desk", self.app)

    @property
    def s(self) -> Session:
        """The session on the Bench."""
        session = self.desk.workshop.room.session
        if session is None:
            raise LookupError("no session is on the Bench")
        return session

    # -- to be done by the Bench -----------------------------------------------------------

    def attempt(self, action: a.Action) -> Refusal | None:
        """Do it and show what came of it; why not, which is not shown."""
        raise NotImplementedError

    def message(self, words: SafeText, *, wrong: bool = False) -> None:
        """Show a line."""
        raise NotImplementedError

    # -- how it is said ----------------------------------------------------------------------

    def do(self, action: a.Action) -> bool:
        """Do it and show what came of it; whether it was done."""
        refusal = self.attempt(action)
        if refusal is not None:
            self.message(sanitize(f"{refusal}"), wrong=True)
        return refusal is None

    def say_word(self, word: str) -> None:
        """Do what a word of the registry means, asking first where it takes something."""
        self.put(reply_to(self.desk.workshop.room, self.s, word, self.desk.now()))

    def put(self, reply: Reply) -> None:
        """Do an action, say why not, or put a question; an answer is followed the same way."""
        match reply:
            case a.Action():
                self.do(reply)
            case Refusal():
                self.message(sanitize(f"{reply}"), wrong=True)
            case LineQuestion():
                self._put_line(reply)
            case NameQuestion():
                then = reply.then
                self.app.push_screen(
                    Ask(sanitize(reply.title), hint=sanitize(reply.about)),
                    lambda name: self.put(then(name)) if name else None)
            case ChoiceQuestion():
                self._put_choice(reply)
            case TagQuestion():
                means = reply.means
                self.app.push_screen(
                    TagPick(sanitize(reply.sheet), reply.menu, reply.used, reply.on,
                            print_=self.s.recipe.print),
                    lambda tag: None if tag is None else self.put(means(tag)))

    def _put_line(self, asked: LineQuestion) -> None:
        """Have a text typed and do what it means; what is refused stays in its line."""
        def do(text: str) -> str | None:
            means: Callable[[str], a.Action] = (
                asked.choices[line.choice][1] if asked.choices else asked.means)
            refusal = self.attempt(means(text))
            return None if refusal is None else str(refusal)

        line = Ask(sanitize(asked.title), hint=sanitize(asked.about), value=asked.value,
                   check=asked.check, empty=asked.empty, do=do, phrases=asked.phrases,
                   choices=[sanitize(words) for words, _ in asked.choices], draft=asked.draft)
        self.app.push_screen(line)

    def _put_choice(self, asked: ChoiceQuestion) -> None:
        """Have one chosen; where there is none, say so."""
        if not asked.answers:
            self.message(sanitize(asked.none), wrong=True)
            return

        def take(place: int | None) -> None:
            if place is not None:
                reply = asked.answers[place][1]
                self.put(reply() if callable(reply) else reply)

        self.app.push_screen(Pick(sanitize(asked.title),
                                  [sanitize(words) for words, _ in asked.answers],
                                  keys=asked.keys), take)

    # -- by one key, of the sheet in hand ------------------------------------------------------

    def grade(self, value: str) -> bool:
        """The grade of this step, by its number; whether it was written."""
        step = self.s.shape.by_id[self.s.hand.step] if self.s.hand is not None else None
        graded = [(r.name, r.unit) for r in self.s.recipe.readings
                  if is_grade(r.unit)
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
                 if is_grade(r.unit)]
        if not said:
            self.message(sanitize(f"{last.mark} has nothing that {held.mark} has not"))
            return
        done = [self.do(action) for action in said]
        if all(done):
            self.message(sanitize(f"{held.mark} as {last.mark}: verdict, tags and grade"))
