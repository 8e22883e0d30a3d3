"""What a key of the Bench asks before it does anything, as data. Pure.

An action that has to be asked declares a function from an `AskContext` to a `Reply`: the action
at once, why not, or a question whose answers are replies again. Screens know how to put each
kind of question, and none of the actions.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.quantities import QuantityError, point_for_comma, read_duration
from benchapp.session.actions.action import Action
from benchapp.session.state import Session, StudioState, TaskKey
from benchapp.session.tags import TagGroup


@dataclass(frozen=True, slots=True)
class LineQuestion:
    """A text is typed; what is refused stays in its line.

    Attributes:
        title: What is asked.
        means: The action a text means.
        about: An example of an answer.
        value: What stands there already.
        check: Says what is wrong with an answer, or None.
        empty: Whether nothing is an answer too.
        phrases: Sentences the arrows bring into the line.
        choices: What goes with the text, one of them, each with what the text then means.
        draft: How a draft of it is told from others, where the title may change.
    """

    title: str
    means: Callable[[str], Action]
    about: str = ""
    value: str = ""
    check: Callable[[str], str | None] | None = None
    empty: bool = False
    phrases: Sequence[str] = ()
    choices: Sequence[tuple[str, Callable[[str], Action]]] = ()
    draft: str = ""


@dataclass(frozen=True, slots=True)
class NameQuestion:
    """A name is typed, and the next question is about it."""

    title: str
    then: Callable[[str], Reply]
    about: str = ""


@dataclass(frozen=True, slots=True)
class ChoiceQuestion:
    """One of a few answers, by its key; where there is none, a line says so.

    Attributes:
        title: What is asked.
        answers: Each in words, with what it leads to, or how that is found when it is chosen.
        none: What is said where there is nothing to choose.
        keys: Each answer's key, empty for one that is only in the list. Answers that come and go
            bring keys; None: the first nine have numbers.
    """

    title: str
    answers: Sequence[tuple[str, Reply | Callable[[], Reply]]]
    none: str = "There is nothing to choose now"
    keys: Sequence[str] | None = None


@dataclass(frozen=True, slots=True)
class TagQuestion:
    """A tag, by its group and its key.

    Attributes:
        sheet: What the sheet is called.
        menu: All tags by group.
        used: Those used today, by keys of their own.
        on: Those the sheet has.
        means: The action a tag means.
    """

    sheet: str
    menu: Sequence[TagGroup]
    used: Mapping[str, str]
    on: Sequence[str]
    means: Callable[[str], Action]


Reply = Action | Refusal | LineQuestion | NameQuestion | ChoiceQuestion | TagQuestion


@dataclass(frozen=True, slots=True)
class AskContext:
    """What a question is made of: the room, and what only the views can say of it.

    Attributes:
        room: As it is now.
        s: The session on the Bench.
        now: The clocks.
        why_not: Why an action would be refused; None: it would be done.
        ends_early: What an action would end early, to stand behind its words; else empty.
        words: What a piece of work is called now.
        calling: The calls of this session nobody answered, each with its words.
        weighings: What can be weighed of this day.
    """

    room: StudioState
    s: Session
    now: Moment
    why_not: Callable[[Action], Refusal | None]
    ends_early: Callable[[Action], str]
    words: Callable[[TaskKey], str]
    calling: Callable[[], Sequence[tuple[str, str]]]
    weighings: Sequence[str]

    @property
    def t(self) -> int:
        """Room time now."""
        return self.room.t_at(self.now)

    def possible(self, tries: Sequence[Any]) -> list[Any]:
        """Those actions that would be done."""
        return [action for action in tries if self.why_not(action) is None]

    def another_session(self, title: str, then: Callable[[str], Action]) -> Reply:
        """Which other open session; the only one there is needs no question."""
        others = [(f"{o.name} · {o.recipe.print.title}", then(o.id))
                  for o in self.room.open_sessions if o.id != self.s.id]
        if len(others) == 1:
            return others[0][1]
        return ChoiceQuestion(title, others, none="No other session is open",
                              keys=[""] * len(others))


def check_time(text: str) -> str | None:
    """What is wrong with a time typed, or None."""
    try:
        read_duration(point_for_comma(text))
    except QuantityError as error:
        return str(error)
    return None


def check_count(text: str) -> str | None:
    """What is wrong with a number typed, or None; nothing is right too."""
    if not text:
        return None
    good = text.isascii() and text.isdigit() and len(text) <= 4 and int(text) > 0
    return None if good else "a whole number from 1 up, or nothing"
