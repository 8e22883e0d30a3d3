"""Lift and look by the switch alone: answers that stand one after another, and a tread picks.

Two levels: what the sheet is, then a tag or none. The first answer of each changes
nothing (`go on`, `none`), so that a foot that treads twice says nothing false. Whoever
lets all pass has said nothing, and nothing is written. Pure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal

from benchapp.session import actions as a
from benchapp.session.annotate import in_hand
from benchapp.session.names import step_of
from benchapp.session.state import Session, StudioState, TaskKey, Verdict

GO_ON: Final = "go on"
NONE: Final = "none"
_SAYS: Final[dict[str, Verdict]] = {"keep": "keep", "doubtful": "doubtful", "spoiled": "spoiled"}
VERDICTS: Final = (GO_ON, *_SAYS)
#: So many tags stand in a walk.
TAGS: Final = 6
#: What stands there while a print has had fewer tags of its own (our own choice, no source).
_USUAL: Final = ("salty", "over-wiped", "under-wiped", "crease", "lint", "slur")


@dataclass(frozen=True, slots=True)
class Walk:
    """A walk that has begun.

    Attributes:
        key: The step it is about.
        level: What is answered now.
        answers: In the order they stand.
        since_t: When the first of them came, room time in milliseconds.
        pace_ms: How long each stands.
    """

    key: TaskKey
    level: Literal["verdict", "tag"]
    answers: tuple[str, ...]
    since_t: int
    pace_ms: int

    def answer(self, t: int) -> str | None:
        """The answer that stands at `t`; None once all have passed."""
        place = max(0, t - self.since_t) // self.pace_ms
        return self.answers[place] if place < len(self.answers) else None


def begin_walk(room: StudioState, t: int, pace_ms: int) -> Walk | None:
    """The walk that a tread at `t` begins instead of going on, or None.

    At a step that asks for a verdict, with a pulled sheet in hand that has none, and
    clean hands (or a helper's).
    """
    s = room.session
    if s is None or s.hand is None or s.closed is not None or s.paused_t is not None:
        return None
    step, sheet = step_of(s, s.hand), in_hand(s)
    asks = step is not None and "verdict" in step.asks
    if not asks or not room.clean or sheet is None or not sheet.pulled:
        return None
    if sheet.verdict is not None or any(c.called and not c.answered for c in s.calls.values()):
        return None
    return Walk(s.hand, "verdict", VERDICTS, t, pace_ms)


def is_still_walking(walk: Walk, room: StudioState, t: int) -> bool:
    """Whether the walk goes on: its step is in hand, and an answer stands."""
    s = room.session
    return (s is not None and s.hand == walk.key and room.clean and s.paused_t is None
            and walk.answer(t) is not None)


def pick_answer(walk: Walk, t: int, tags: Iterable[str]) -> tuple[a.Action | None, Walk | None]:
    """What a tread at `t` says, and the walk after it.

    Args:
        walk: As it stands.
        t: Room time, milliseconds.
        tags: Those that stand on the second level.

    Returns:
        The action, or None where nothing is said; the next level, or None where it is over.
    """
    answer = walk.answer(t)
    if answer is None or answer == NONE:
        return None, None
    if answer == GO_ON:
        return a.GoOn(), None
    if walk.level == "tag":
        return a.Tag(answer, walk.key.impression), None
    after = replace(walk, level="tag", answers=(NONE, *tags), since_t=t)
    return a.Judge(_SAYS[answer], walk.key.impression), after


def commonest_tags(sessions: Iterable[Session], today: Session) -> tuple[str, ...]:
    """This print's six commonest tags; filled up with the recipe's own and the usual ones.

    Args:
        sessions: The print's other sessions.
        today: The one on the Bench.
    """
    used = Counter(tag for s in (*sessions, today) for i in s.impressions for tag in i.tags)
    own = [tag for words in today.recipe.tags.values() for tag in words]
    known = [tag for tag, _ in sorted(used.items(), key=lambda found: (-found[1], found[0]))]
    return tuple(dict.fromkeys([*known, *own, *_USUAL]))[:TAGS]
