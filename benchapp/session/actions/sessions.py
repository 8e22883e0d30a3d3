"""Sessions opened, come back to, brought to the Bench and discarded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.field_types import ABSENT
from benchapp.events.session import HelperPresent, SessionContinued, SessionOpened, StepPutOff
from benchapp.recipe.reader import read_recipe
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.actions.typed_names import other_session
from benchapp.session.advance import tick
from benchapp.session.auto_steps import draft_auto_steps
from benchapp.session.context import SessionContext, wrong_count
from benchapp.session.copying import replace
from benchapp.session.discarding import draft_discard
from benchapp.session.state import UNNAMED, StudioState

__all__ = ["Continue", "Discard", "Open", "SwitchSession"]


@dataclass(frozen=True, slots=True)
class Open(Action):
    """Open a session. `id` and `letters` are the edge's: unique in the book.

    `cancelled`: how and when its plate was cancelled; None: it was not.
    `reworked`: the plates that were reworked on an earlier day, so that the state the recipe
    says is not known to be theirs.
    `typed`: said in words, by hands that are clean enough for a keyboard; they stay
    what they were, so the first clean step asks for the wash.
    """

    id: str
    name: str
    letters: str
    recipe: str
    recipe_text: str
    recipe_sha256: str
    wanted: int | None = None
    typed: bool = False
    cancelled: str | None = None
    reworked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Continue(Action):
    """The program comes back to an open session, last seen alive at `last_seen_ms` (wall)."""

    last_seen_ms: int | None = None


@dataclass(frozen=True, slots=True)
class SwitchSession(Action):
    """Another open session comes to the Bench. `typed` as for `Open`."""

    to: str
    typed: bool = False


@dataclass(frozen=True, slots=True)
class Discard(Action):
    """Close a session in which nothing was pulled, and put it out of the lists."""


def is_at_rest(room: StudioState) -> bool:
    """Whether nothing can be washed for: the session on the Bench is closed, or there is none."""
    return room.session is None or room.session.closed is not None


def note_helper(page: SessionContext) -> None:
    """A helper who joined in another session helps in this one too, once it is worked on."""
    helper = page.state.helper
    if helper is not None and page.sid not in page.state.helped:
        page.emit(HelperPresent(name=None if helper == UNNAMED else helper))


def put_others_off(page: SessionContext, room: StudioState) -> None:
    """What was in hand in another session is laid aside there: there are two hands, not four."""
    for other in room.open_sessions:
        key = other.hand
        if key is not None and other.id != page.sid:
            page.emit_to(f"session/{other.id}", StepPutOff(
                step=key.step, impression=key.impression, attempt=other.work[key].attempt,
                pack=key.pack))


def _open_session(page: SessionContext, action: Open) -> Refusal | None:
    """A new session on the Bench; the one the page is for is not there yet."""
    room = page.state
    if action.id in room.sessions:
        return Refusal(f"A session {action.name} is open already", "resume it")
    if room.open_sessions and not room.clean and not action.typed:
        return Refusal("Hands are inky", "wash before another session is opened")
    wrong = wrong_count(action.wanted, "impressions wanted", "write a whole number from 1 up")
    if wrong is not None:
        return wrong
    known = read_recipe(action.recipe_text).print
    page.state = replace(room, bench=action.id)
    put_others_off(page, room)
    page.emit(SessionOpened(
        session=action.name, letters=action.letters, print=known.title, artist=known.artist,
        recipe=action.recipe, recipe_text=action.recipe_text, recipe_sha256=action.recipe_sha256,
        wanted=action.wanted, cancelled=ABSENT if action.cancelled is None else action.cancelled,
        reworked=action.reworked or ABSENT))
    note_helper(page)
    draft_auto_steps(page)
    return None


def _continue_session(page: SessionContext, action: Continue) -> Refusal | None:
    page.emit(SessionContinued(last_seen_ms=action.last_seen_ms))
    if page.sid == page.state.bench:
        put_others_off(page, page.state)
        note_helper(page)
    tick(page)
    return None


def _switch_bench(page: SessionContext, action: SwitchSession) -> Refusal | None:
    to = page.state.sessions.get(action.to)
    if to is None or to.closed is not None or page.state.guest(to.id):
        return Refusal("That session is not open", "open ones are listed in the Studio")
    if not page.state.clean and not action.typed and not is_at_rest(page.state):
        return Refusal("Hands are inky", "wash before the Bench is changed")
    before = page.state
    page.state = replace(page.state, bench=to.id)
    page.sid = to.id
    put_others_off(page, before)
    note_helper(page)
    draft_auto_steps(page)
    return None


def _read_discard(ears: ParseContext, rest: str) -> ParsedLine:
    if rest.casefold() != "yes":
        raise NotUnderstood("Lists will not show this session; its entries stay in the book. "
                            "Write: discard yes")
    return ParsedLine(Discard())


SPECS: Final = (
    ActionSpec("switch", (Rule(SwitchSession, _switch_bench, closed=True),),
               "Bring another open session to the Bench", "SESSION",
               key="tab", use=25,
               possible=lambda room, s, now: room.clean and any(
                   o.id != s.id for o in room.open_sessions),
               asks=lambda ask: ask.another_session("To the Bench", SwitchSession),
               reads=lambda ears, rest: ParsedLine(
                   SwitchSession(other_session(ears, rest), typed=True))),
    ActionSpec("discard", (Rule(Discard, lambda page, action: draft_discard(page), closed=True),),
               "Discard a session in which nothing was pulled", "yes",
               reads=_read_discard),
    ActionSpec("run", (Rule(Open, _open_session),), listed=False),
    ActionSpec("resume session", (Rule(Continue, _continue_session),), listed=False),
)
