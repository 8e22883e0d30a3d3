"""What a line may turn into, and the error for one that is not understood. Pure."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass

from benchapp.events.entry import Moment
from benchapp.session.actions.action import Action
from benchapp.session.left import UnansweredFact
from benchapp.session.state import Session, StudioState


@dataclass(frozen=True, slots=True)
class ParsedLine:
    """An action, and the session it is about where that is not the one on the Bench."""

    action: Action
    session: str | None = None


class NotUnderstood(Exception):  # noqa: N818 - what is shown to a printer is no error
    """A line that names nothing there is. The message says what to write; nothing is done."""


@dataclass(frozen=True, slots=True)
class ParseContext:
    """All that a line is understood by.

    Attributes:
        room: As it is now.
        now: The clocks.
        unsaid: The facts earlier days still ask, in the order they were listed.
        bearer: The session of the book whose sheet bears a mark, or None; asked for
            marks that no session in the room has.
        cans: The sessions of earlier days whose rag can is asked about, the last one last.
    """

    room: StudioState
    now: Moment
    unsaid: tuple[UnansweredFact, ...] = ()
    bearer: Callable[[str], Session | None] = lambda mark: None
    cans: Callable[[], Sequence[str]] = tuple

    @property
    def s(self) -> Session:
        """The session on the Bench.

        Raises:
            NotUnderstood: There is none.
        """
        session = self.room.session
        if session is None:
            raise NotUnderstood("No session is on the Bench; open one with benchapp run")
        return session

    @property
    def t(self) -> int:
        """Room time now."""
        return self.room.t_at(self.now)


def choose_word(said: str, among: Sequence[str], what: str, *,
                offered: Collection[str] | None = None) -> str:
    """The one of `among` that is meant: written out, by an unambiguous beginning, or part of it.

    Small and capital letters, hyphens and spaces are the same here.

    Args:
        said: What was typed.
        among: What there is.
        what: What it is called.
        offered: Those that are offered where none is meant; then part of one means none, as
            `creased` may be a crease of the sheet or of its chine. None: part of one will do.

    Raises:
        NotUnderstood: None, or several.
    """
    wanted = _bare(said)
    exact = [x for x in among if _bare(x) == wanted]
    begins = [x for x in among if wanted and _bare(x).startswith(wanted)]
    within = [x for x in among if wanted and wanted in _bare(x)]
    for found in (exact, begins, within) if offered is None else (exact, begins):
        if len(found) == 1:
            return found[0]
        if found:
            raise NotUnderstood(f"{said} may be {join_choices(found)}; write more of it")
    known = among if offered is None else [x for x in among if x in offered]
    near = list(dict.fromkeys((*nearest_words(said, known), *(x for x in within if x in known))))
    raise NotUnderstood(f"There is no {what} {said}" + (
        f"; nearest: {join_choices(near)}" if near else f"; there are {join_choices(among)}"))


def _bare(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").split())


def nearest_words(said: str, among: Iterable[str]) -> list[str]:
    """At most three of `among` that look like `said`, the likest first."""
    known = {x.casefold(): x for x in among}
    near = difflib.get_close_matches(said.casefold()[:100], known, n=3, cutoff=0.5)
    return [known[n] for n in near]


def join_choices(words: Iterable[str], most: int = 12) -> str:
    """Words for a sentence, with their number where they are many."""
    found = list(words)
    more = f" and {len(found) - most} more" if len(found) > most else ""
    return ", ".join(found[:most]) + more if found else "none"
