"""What every decider works with: a refusal, and the drafts in the making. Pure.

Sessions, editions and stacks are decided one way: (state, action, now) to drafts of entries, or a
refusal that says why. What an action is, and what its entries mean, is said by the room it is of.

Decisions, numbered as in DEVELOPERS.md:

83. **Sessions, editions and stacks are decided in one frame.** Two deciders had grown apart, with
    a page, a refusal and an answer each. `decision.py` has the `Refusal`, the `DecisionContext`
    that events are emitted into and the rule of a class of action; `service/outcome.py` writes
    and folds what was decided. Only a session's rules know of the Bench, guests and closed days.
    Stacks look first and emit last, so their context folds nothing. Price: `must` is empty in
    most refusals, `rule` in others.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, Generic, TypeAlias, TypeVar

from benchapp.events.entry import PENDING, Draft, Entry, Moment
from benchapp.events.event import BookEvent

S = TypeVar("S")


@dataclass(frozen=True, slots=True)
class Refusal:
    """No: an action that is not done.

    Attributes:
        why: What is wrong, with who has the number where one is taken.
        mend: What can be done instead.
        must: The facts that are asked.
        rule: The rule in one word, the same for every refusal it causes; empty: it has no name.
    """

    why: str
    mend: str = ""
    must: tuple[str, ...] = ()
    rule: str = field(default="", kw_only=True)

    def __str__(self) -> str:
        return f"{self.why}; {self.mend}" if self.mend else self.why


Decision: TypeAlias = tuple[Draft, ...] | Refusal


@dataclass(slots=True)
class DecisionContext(ABC, Generic[S]):
    """Drafts in the making, and the state as it will be with them.

    Each draft is folded at once, as it will be from disk, so that what is decided next sees it.

    Attributes:
        state: What is decided from.
        now: The clocks, read at the edge.
        word: The word of the action, kept in its entries.
    """

    state: S
    now: Moment
    word: str
    drafts: list[Draft] = field(default_factory=list, init=False)

    @abstractmethod
    def fold(self, entry: Entry) -> S:
        """The state after one more entry."""

    @abstractmethod
    def emit(self, event: BookEvent) -> None:
        """Draft an entry of what is decided about, in its own stream."""

    def emit_to(self, stream: str, event: BookEvent) -> None:
        """Draft an entry of any stream."""
        self.emit_final(stream, event)
        self.state = self.fold(self.drafts[-1].pending(self.now, self.word, len(self.drafts)))

    def emit_final(self, stream: str, event: BookEvent) -> None:
        """Draft an entry after which nothing more is decided; the state is left as it was.

        A take-back folds the whole journal anew: once is enough, when it is in the book.
        """
        self.drafts.append(Draft.of(stream, event))

    def decision(self, refusal: Refusal | None) -> Decision:
        """What was decided: the drafts in order, or why not."""
        return tuple(self.drafts) if refusal is None else refusal


C = TypeVar("C", bound=DecisionContext[Any])


@dataclass(frozen=True, slots=True)
class ActionRule(Generic[C]):
    """What a decider knows of a class of action.

    Attributes:
        action: The class.
        decide: Emits what the action does, or says why not.
    """

    action: type
    decide: Callable[[C, Any], Refusal | None]


@dataclass(frozen=True, slots=True)
class WordedRule(ActionRule[C]):
    """The rule of a class of action that has one word for all of its actions.

    Attributes:
        word: What it is called everywhere, and kept in its entries.
    """

    word: str


def written_ids(ids: Iterable[str]) -> tuple[str, ...]:
    """Those of the entries that are in the book: what this very action drafts has no id yet."""
    return tuple(x for x in ids if not x.startswith(PENDING))
