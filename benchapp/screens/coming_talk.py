"""Skip, left to and next, of the step in hand or of an inky one that comes: this or the next?

The tread that begins an inky step makes hands inky, and these keys are refused then. So they
ask from the clean moment before it which step is meant, each by its name.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from benchapp.screens.pick import step_keys
from benchapp.screens.talk import Talk
from benchapp.session import actions as a
from benchapp.session.coming import coming_inky
from benchapp.session.state import TaskKey
from benchapp.views.availability import (
    leavable_tasks,
    next_steps,
    next_then,
    skippable_tasks,
    why_not,
)
from benchapp.views.bench import do_words


def ask_skip(talk: Talk) -> None:
    """Which step is passed by, and why; or one that was to be skipped is not."""
    room, now, s = talk.desk.workshop.room, talk.desk.now(), talk.s
    keys = skippable_tasks(room, s, now)
    if not keys and not s.to_skip:
        refusal = why_not(room, a.SkipStep("x"), now)
        if refusal is not None:
            talk.refuse(refusal)
        return

    def skip(key: TaskKey) -> None:
        if key in s.to_skip:
            talk.do(a.SkipStep("", key, off=True))
        else:
            talk.ask(f"Why is {_words(talk, key)} skipped", lambda why: a.SkipStep(why, key))

    _which(talk, "Skip", keys, skip, dict.fromkeys(s.to_skip, "do it after all"))


def ask_left_to(talk: Talk) -> None:
    """Which step is left, and to which session; or one that was to be left is not."""
    s = talk.s
    keys = leavable_tasks(talk.desk.workshop.room, s, talk.desk.now())
    if not keys and not s.to_leave:
        talk.one_of_others("Left to", lambda to: talk.do(a.LeaveStep(to)))
        return

    def leave(key: TaskKey) -> None:
        if key in s.to_leave:
            talk.do(a.LeaveStep("", key, off=True))
        else:
            talk.one_of_others(f"{_words(talk, key)}: left to",
                               lambda to: talk.do(a.LeaveStep(to, key)))

    _which(talk, "Leave", keys, leave, dict.fromkeys(s.to_leave, "do it here after all"))


def ask_next(talk: Talk) -> None:
    """Another step in place of the one in hand, or of the inky one that comes after it."""
    room, now, s = talk.desk.workshop.room, talk.desk.now(), talk.s
    here, then = next_steps(room, s, now), next_then(room, s, now)
    hand, coming = s.hand, coming_inky(room, s, now)
    if not then or hand is None:
        _choose(talk, "Do this next", here, then=False)
    elif not here:
        _choose(talk, f"In place of {_words(talk, coming[0])}", then, then=True)
    else:
        _which(talk, "In place of", (hand, coming[0]), lambda key: _choose(
            talk, f"In place of {_words(talk, key)}", here if key == hand else then,
            then=key != hand))


def _choose(talk: Talk, title: str, steps: Sequence[tuple[TaskKey, str]], *,
            then: bool) -> None:
    talk.pick(title, [(words + talk.ends_early(a.Choose(key, then)), key) for key, words in steps],
              lambda key: talk.do(a.Choose(key, then)), none="Nothing else can begin now",
              keys=step_keys(talk.s.recipe, [key.step for key, _ in steps]))


def _which(talk: Talk, title: str, keys: Sequence[TaskKey], act: Callable[[TaskKey], object],
           said: Mapping[TaskKey, str] = MappingProxyType({})) -> None:
    """Ask which step is meant: the one in hand is always 1; with only one nothing is asked.

    Args:
        talk: The Bench.
        title: What is to be done with it.
        keys: The one in hand, and those that come, in their order.
        act: What is done with the one chosen.
        said: Steps of which it was said already, with what choosing them does; in the list only.
    """
    if len(keys) == 1 and not said:
        act(keys[0])
        return
    hand = talk.s.hand
    here = bool(keys) and keys[0] == hand
    title += " this one or the next?" if here else " the next or a later one?"
    places = [n + (not here) for n in range(len(keys))]
    told = ["this one", "the next"]
    answers = [(f"{_words(talk, key)} · {told[at] if at < 2 else 'later'}", key)
               for key, at in zip(keys, places, strict=True)]
    answers += [(f"{_words(talk, key)} · {what}", key) for key, what in said.items()]
    talk.pick(title, answers, act,
              keys=[*("123456789"[at:at + 1] for at in places), *[""] * len(said)])


def _words(talk: Talk, key: TaskKey) -> str:
    room = talk.desk.workshop.room
    return do_words(room, talk.s, key, room.t_at(talk.desk.now()))
