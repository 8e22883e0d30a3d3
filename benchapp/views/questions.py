"""What a word of the registry asks at the Bench now, with what the views can say of it. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.events.entry import Moment
from benchapp.history.stats import weighing_names
from benchapp.session import actions as a
from benchapp.session.actions.asking import AskContext, Reply
from benchapp.session.state import Session, StudioState
from benchapp.views.availability import why_not
from benchapp.views.bench import call_views, do_words
from benchapp.views.cut_short import cut_by


def reply_to(room: StudioState, s: Session, word: str, now: Moment) -> Reply:
    """What follows a key of the Bench: the action, why not, or what is asked first.

    Raises:
        LookupError: It is no word of the registry, or one that no key says.
    """
    spec = a.spec_of(word)
    if spec.asks is not None:
        return spec.asks(ask_context(room, s, now))
    if spec.makes is None:
        raise LookupError(word)
    return spec.makes


def ask_context(room: StudioState, s: Session, now: Moment) -> AskContext:
    """What the questions of that session are made of."""
    t = room.t_at(now)
    return AskContext(
        room, s, now, lambda action: why_not(room, action, now),
        lambda action: f" ({cut})" if (cut := cut_by(room, action, now)) else "",
        lambda key: do_words(room, s, key, t), lambda: _calling(room, s, t),
        weighing_names(s.recipe))


def _calling(room: StudioState, s: Session, t: int) -> Sequence[tuple[str, str]]:
    """What can be silenced: the calls of the session on the Bench that nobody answered."""
    return [(c.id, c.text) for c in call_views(room, t)
            if c.session is None and c.id in s.calls and not s.calls[c.id].answered]
