"""Skip, left to and next, of the step in hand or of an inky one that comes: this or the next?

The tread that begins an inky step makes hands inky, and these keys are refused then. So they
ask from the clean moment before it which step is meant, each by its name.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from benchapp.screens.pick import step_keys
from benchapp.screens.possible import can, leavable, next_steps, next_then, skippable
from benchapp.session import actions as a
from benchapp.session.coming import coming_inky
from benchapp.session.state import Key
from benchapp.session.view import do_words

if TYPE_CHECKING:
    from benchapp.screens.bench_talk import BenchTalk


def ask_skip(talk: BenchTalk) -> None:
    """Which step is passed by, and why."""
    room, now = talk.desk.workshop.room, talk.desk.now()
    keys = skippable(room, talk.s, now)
    if not keys:
        refusal = can(room, a.Skip("x"), now)
        if refusal is not None:
            talk.refuse(refusal)
        return
    _which(talk, "Skip", keys, lambda key: talk.ask(
        f"Why is {_words(talk, key)} skipped", lambda why: a.Skip(why, key)))


def ask_left_to(talk: BenchTalk) -> None:
    """Which step is left, and to which session."""
    keys = leavable(talk.desk.workshop.room, talk.s, talk.desk.now())
    if not keys:
        talk.one_of_others("Left to", lambda to: talk.do(a.LeaveStep(to)))
        return
    _which(talk, "Leave", keys, lambda key: talk.one_of_others(
        f"{_words(talk, key)}: left to", lambda to: talk.do(a.LeaveStep(to, key))))


def ask_next(talk: BenchTalk) -> None:
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


def _choose(talk: BenchTalk, title: str, steps: Sequence[tuple[Key, str]], *, then: bool) -> None:
    talk.pick(title, [(words + talk.ends_early(a.Choose(key, then)), key) for key, words in steps],
              lambda key: talk.do(a.Choose(key, then)), none="Nothing else can begin now",
              keys=step_keys(talk.s.recipe, [key.step for key, _ in steps]))


def _which(talk: BenchTalk, title: str, keys: Sequence[Key],
           act: Callable[[Key], object]) -> None:
    """Ask which step is meant: the one in hand is always 1; with only one nothing is asked."""
    if len(keys) == 1:
        act(keys[0])
        return
    hand = talk.s.hand
    title += " this one or the next?" if keys[0] == hand else " the next or a later one?"
    place = [0 if key == hand else n + (keys[0] != hand) for n, key in enumerate(keys)]
    told = ["this one", "the next"]
    talk.pick(title, [(f"{_words(talk, key)} · {told[at] if at < 2 else 'later'}", key)
                      for key, at in zip(keys, place, strict=True)],
              act, keys=["123456789"[at:at + 1] for at in place])


def _words(talk: BenchTalk, key: Key) -> str:
    room = talk.desk.workshop.room
    return do_words(room, talk.s, key, room.t_at(talk.desk.now()))
