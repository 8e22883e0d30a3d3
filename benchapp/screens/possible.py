"""What can be done now: tried out on the room as it is, and thrown away. Pure.

Menus list only what would not be refused, and the foot of the Bench names only
keys that work. The rules are the decider's alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from benchapp.events.entry import Moment
from benchapp.recipe.model import Step
from benchapp.session import actions as a
from benchapp.session.annotate import in_hand, sheet_meant
from benchapp.session.coming import begun_by_itself, coming_inky
from benchapp.session.decide import decide, gate
from benchapp.session.next_steps import next_hands
from benchapp.session.page import Refusal
from benchapp.session.state import Session, StudioState, TaskKey
from benchapp.session.step_control import choosable, choosable_then
from benchapp.views.bench import do_words

_MINUTE: Final = 60_000


def can(room: StudioState, action: a.Action, now: Moment) -> Refusal | None:
    """Why an action would be refused, or None if it would be done."""
    tried = decide(room, action, now)
    return tried if isinstance(tried, Refusal) else None


def _does(room: StudioState, action: a.Action, now: Moment) -> bool:
    return can(room, action, now) is None


def later_steps(room: StudioState, s: Session, now: Moment) -> tuple[Step, ...]:
    """Steps one can say to have come to."""
    return tuple(step for step in s.recipe.steps if _does(room, a.Here(step.id), now))


def earlier_steps(room: StudioState, s: Session, now: Moment) -> tuple[Step, ...]:
    """Steps of the impression in hand that can be done again."""
    return tuple(step for step in s.recipe.each if _does(room, a.Redo(step.id), now))


def next_steps(room: StudioState, s: Session, now: Moment) -> tuple[tuple[TaskKey, str], ...]:
    """Work that may be chosen instead, with its words; of which sheet where there are more."""
    t = room.t_at(now)
    return _with_words(room, s, (key for key in choosable(room, s, t) if key != s.hand), t)


def next_then(room: StudioState, s: Session, now: Moment) -> tuple[tuple[TaskKey, str], ...]:
    """The same in place of the inky step that comes, once the one in hand is done."""
    return _with_words(room, s, choosable_then(room, s, now), room.t_at(now))


def _with_words(room: StudioState, s: Session, keys: Iterable[TaskKey],
                t: int) -> tuple[tuple[TaskKey, str], ...]:
    out = []
    for key in keys:
        imp = s.impression(key.impression)
        of = "" if imp is None or imp.mark is None else f" ({imp.mark})"
        out.append((key, do_words(room, s, key, t) + of))
    return tuple(out)


def skippable(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """The steps that can be passed by: the one in hand, and the inky ones that come."""
    return tuple(key for key in _now_and_coming(room, s, now)
                 if _does(room, a.SkipStep("x", key), now))


def leavable(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """The steps that can be left to another session, the same way."""
    return tuple(key for key in _now_and_coming(room, s, now) if any(
        _does(room, a.LeaveStep(o.id, key), now) for o in room.open_sessions))


def _now_and_coming(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    first = s.hand or next_hands(room, s, room.t_at(now))
    return tuple(dict.fromkeys((*(() if first is None else (first,)),
                                *coming_inky(room, s, now))))


def sheet_moves(room: StudioState, now: Moment) -> tuple[a.MoveSheet, ...]:
    """What can become of one damp sheet."""
    moves = (a.MoveSheet("out"), a.MoveSheet("back"), a.MoveSheet("sprayed"), a.MoveSheet("dried"))
    return tuple(move for move in moves if _does(room, move, now))


_Test = Callable[[StudioState, Session, Moment], bool]


def _try(action: a.Action) -> _Test:
    return lambda room, s, now: _does(room, action, now)


_TESTS: Final[dict[str, _Test]] = {
    "back": lambda room, s, now: bool(s.actions) or begun_by_itself(room, s) is not None,
    "look again": _try(a.LookAgain()),
    "pause": _try(a.Pause()),
    "keep": _try(a.Judge("keep")),
    "doubtful": _try(a.Judge("doubtful")),
    "spoiled": _try(a.Judge("spoiled")),
    "tag": lambda room, s, now: sheet_meant(s, None) is not None or in_hand(s) is not None,
    "note": _try(a.Note("x")),
    "reading": lambda room, s, now: bool(s.recipe.readings) or sheet_meant(s, None) is not None,
    "for": _try(a.SayFor("edition")),
    "ghost": _try(a.Ghost()),
    "reworked": lambda room, s, now: s.closed is None,
    "set": _try(a.Set("x", "x")),
    "here": lambda room, s, now: bool(later_steps(room, s, now)),
    "next": lambda room, s, now: bool(next_steps(room, s, now) or next_then(room, s, now)),
    "redo": lambda room, s, now: bool(earlier_steps(room, s, now)),
    "skip": lambda room, s, now: bool(s.to_skip or skippable(room, s, now)),
    "extend": _try(a.Extend(_MINUTE)),
    "time": _try(a.StartClock(_MINUTE, "x")),
    "damped": _try(a.DampPack()),
    "out": _try(a.SheetsOut()),
    "sheet": lambda room, s, now: bool(sheet_moves(room, now)),
    "wanted": _try(a.SetWanted(1)),
    "enough": lambda room, s, now: not s.enough and _does(room, a.Enough(), now),
    "one more": _try(a.OneMore()),
    "end": _try(a.End()),
    "helper": lambda room, s, now: s.closed is None,
    "mute": _try(a.Mute()),
    "left off": _try(a.LeftOff("x")),
    "left to": lambda room, s, now: bool(s.to_leave or leavable(room, s, now)),
    "switch": lambda room, s, now: room.clean and any(
        o.id != s.id for o in room.open_sessions),
}
_FIRST: Final = (
    "keep", "doubtful", "spoiled", "tag", "note", "reading", "for", "out", "mute", "left to",
    "back", "next", "pause", "here", "extend", "helper", "look again", "redo", "skip", "end",
    "one more", "enough", "set", "time", "switch", "wanted", "sheet", "ghost", "damped",
    "left off", "reworked",
)  # fmt: skip
"""The keys of most use at the bench first: the foot holds only so many."""

PROOFING: Final = ("reworked", "skip", "enough")
"""What a proofing day goes by: a state, a rework, what is skipped, the last proof."""

_SAMPLE: Final[dict[str, a.Action]] = {
    "back": a.TakeBack(), "look again": a.LookAgain(), "pause": a.Pause(),
}  # fmt: skip


def specs_now(room: StudioState, s: Session, now: Moment) -> tuple[a.ActionSpec, ...]:
    """The actions whose key does something now, those of most use first."""
    specs = {spec.word: spec for spec in a.REGISTRY}
    out = []
    own = PROOFING if s.recipe.proofing is not None else ()
    for word in dict.fromkeys((*own, *_FIRST)):
        inky = _SAMPLE.get(word)
        if not room.clean and (inky is None or gate(room, inky) is not None):
            continue
        if _TESTS[word](room, s, now):
            out.append(specs[word])
    return tuple(out)
