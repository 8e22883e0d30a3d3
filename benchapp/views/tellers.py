"""How what happened in a session is told: one function an event, which it is given. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeAlias, TypeVar

from benchapp.events.event import BookEvent
from benchapp.session.state import Session, StudioState

E = TypeVar("E", bound=BookEvent)
#: Tells of an event in its session, in a room; empty: it needs no line.
Teller: TypeAlias = Callable[[StudioState, Session, Any], str]
#: Who tells of what.
Tellers: TypeAlias = Mapping[type[BookEvent], Teller]


def teller(of: type[E], tell: Callable[[StudioState, Session, E], str],
           ) -> tuple[type[BookEvent], Teller]:
    """Who tells of events of that class: a row of a table of tellers."""
    return of, tell
