"""How an action is declared: its word and key for the printer, its rule for the decider. Pure.

Each family of actions is one module: the values, what they do, and one table, `SPECS`. Whatever
lists actions (Bench, footer, help, README, `--plain`, the decider) reads it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from benchapp.decision import ActionRule
from benchapp.events.entry import Moment
from benchapp.events.event import BookEvent
from benchapp.session.actions.action import Action as Action
from benchapp.session.actions.asking import AskContext, Reply
from benchapp.session.actions.typed import ParseContext, ParsedLine
from benchapp.session.context import SessionContext
from benchapp.session.state import Session, StudioState

#: What a key is called where its name is not what stands on it.
KEY_SIGNS: Final = {
    "plus": "+", "full_stop": ".", "greater_than_sign": ">", "less_than_sign": "<",
    "asterisk": "*"}


@dataclass(frozen=True, slots=True)
class Rule(ActionRule[SessionContext]):
    """What the decider of sessions knows of a class of action besides.

    Attributes:
        closed: Whether a closed session still takes it.
        guest: Whether it can be said of the sheets of a session that another book opened.
        at_bench: Whether hands do it, so that it is of the session on the Bench alone.
    """

    closed: bool = False
    guest: bool = False
    at_bench: bool = False


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One word of the registry.

    Attributes:
        word: What the action is called everywhere, and typed in `--plain`.
        rules: The classes of action it makes, each with what the decider knows of it. Words that
            make one class share its rule.
        help: One line for a printer.
        takes: What follows the word in `--plain`.
        key: The key on the Bench by default; None: by the switch, or by words only.
        inky: Whether it works while hands are inky.
        listed: Whether it is a word of the registry; else it is in entries only.
        of: Which actions of its classes bear the word; None: all of them.
        makes: The action of the bare word, where nothing has to be asked.
        of_sheet: Whether a sheet may be named: what is made has an `impression`.
        use: Its place at the foot of the Bench, those of most use first; None: it is not there.
        proofing: Its place before all others at the foot on a day of proofs; None: it has none.
        foot: What its key is called at the foot now; None: by its word.
        early: What is said behind its key where `makes` would end something before its time.
        tries: What it may mean now: it is possible if any of these would not be refused.
        possible: Whether it is possible now, where trying does not tell.
        asks: What its key asks first; None: the key does what `makes` says.
        tells: What is told of the events that are its own.
        reads: What the text behind the word means in `--plain`; None: nothing is taken, or a
            sheet where `of_sheet` says so.
    """

    word: str
    rules: tuple[Rule, ...]
    help: str = ""
    takes: str = ""
    key: str | None = None
    inky: bool = False
    listed: bool = True
    of: Callable[[Any], bool] | None = None
    makes: Action | None = None
    of_sheet: bool = False
    use: int | None = None
    proofing: int | None = None
    foot: Callable[[Session], str] | None = None
    early: str = ""
    tries: Callable[[StudioState, Session, Moment], Iterable[Action]] | None = None
    possible: Callable[[StudioState, Session, Moment], bool] | None = None
    asks: Callable[[AskContext], Reply] | None = None
    reads: Callable[[ParseContext, str], ParsedLine] | None = None
    tells: Mapping[type[BookEvent], Callable[[Session, Any], str]] = field(
        default_factory=dict, hash=False)

    @property
    def means(self) -> tuple[type[Action], ...]:
        """The classes of action it makes."""
        return tuple(rule.action for rule in self.rules)

    def names(self, action: Action) -> bool:
        """Whether an entry caused by the action keeps this word."""
        return isinstance(action, self.means) and (self.of is None or self.of(action))
