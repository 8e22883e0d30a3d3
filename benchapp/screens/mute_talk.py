"""How the printer silences a clock that calls: which, and for how long."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.pick import Pick
from benchapp.screens.talk import Talk
from benchapp.session import actions as a
from benchapp.views.availability import why_not
from benchapp.views.bench import CallView, call_views

_MINUTE: Final = 60_000
_FOR: Final[tuple[tuple[str, int | None], ...]] = (
    ("until it is answered", None), *((f"{n} min", n * _MINUTE) for n in (5, 10, 30)))


def ask_mute(talk: Talk) -> None:
    """One clock or all that call now, for a time or until answered; never a later one."""
    refusal = why_not(talk.desk.workshop.room, a.Mute(), talk.desk.now())
    if refusal is not None:
        talk.refuse(refusal)
        return

    def how_long(call: str | None) -> None:
        _pick(talk, "Silent for how long", _FOR, lambda ms: talk.do(a.Mute(call, ms)))

    loud = _loud(talk)
    if len(loud) < 2:
        how_long(None)
    else:
        _pick(talk, "Silence which", [("all of these", None), *((c.text, c.id) for c in loud)],
              how_long, keys=("1", *[""] * len(loud)))


def _loud(talk: Talk) -> list[CallView]:
    """What can be silenced: the calls of the session on the Bench that nobody answered."""
    room, s = talk.desk.workshop.room, talk.s
    return [c for c in call_views(room, room.t_at(talk.desk.now()))
            if c.session is None and c.id in s.calls and not s.calls[c.id].answered]


def _pick(talk: Talk, title: str, answers: Sequence[tuple[str, Any]],
          then: Callable[[Any], object], keys: Sequence[str] | None = None) -> None:
    def take(place: int | None) -> None:
        if place is not None:
            then(answers[place][1])

    talk.app.push_screen(
        Pick(SafeText(title), [sanitize(words) for words, _ in answers], keys=keys), take)
