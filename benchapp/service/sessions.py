"""The edge where actions become entries: decide, append, fold, and only then show.

One workshop holds one book, one clock and the room as the book leaves it. The
screens, the plain lines, the rehearsal and the demo all work through it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterable
from contextlib import suppress
from dataclasses import replace
from typing import Final

from benchapp.book import Book, BookError, SessionRow
from benchapp.book.queries import emptied_streams, packs_of, sessions_of, why_unreadable
from benchapp.book.read import sequence_of
from benchapp.book.sessions import session_name
from benchapp.clock import Clock
from benchapp.decision import Decision, Refusal
from benchapp.drying import stacks
from benchapp.drying.dryness import USUAL
from benchapp.drying.stacks import Boards
from benchapp.edition import decide as register
from benchapp.edition.state import Register
from benchapp.events.entry import Draft, Entry, Moment
from benchapp.events.moments import local_time
from benchapp.events.streams import stream_family, told_of
from benchapp.history.hints import has_hints
from benchapp.history.stats import NOTHING, Learnt, learn_stats
from benchapp.recipe.model import Recipe
from benchapp.service.editions import EditionService
from benchapp.service.outcome import Outcome, Service
from benchapp.session import actions as a
from benchapp.session import damping, laying, room_clocks
from benchapp.session.cancelling import cancelled_for
from benchapp.session.context import on_bench
from benchapp.session.decide import bench_after, decide, hands_gate
from benchapp.session.fold import apply_entry, replay_entries
from benchapp.session.mark_lookup import mark_bearer
from benchapp.session.marks import free_letters
from benchapp.session.names import shape_of
from benchapp.session.state import Session, StudioState
from benchapp.session.state_asked import reworked_before

_ELSEWHERE: Final = Refusal("That pack was damped in another book",
                            "take its sheets out and put them away there")
#: What the room is folded from; stacks and prints are folded for themselves.
_OF_THE_ROOM: Final = ("session", "pack", "clock")


class SessionService(Service):
    """A book at work.

    Attributes:
        room: The state after everything that is on disk.
        hours: When the printer changes boards, and when nothing calls.
    """

    def __init__(self, book: Book, clock: Clock) -> None:
        """Load the open sessions, the packs and the clocks of `book`."""
        super().__init__(book, clock)
        self.hours = USUAL
        self._looked_at: tuple[str, ...] = ()
        self._editions: EditionService | None = None
        self._stacks: tuple[int, Boards] | None = None
        self._listeners: list[Callable[[Outcome], None]] = []
        self._going: frozenset[str] | None = None
        self._down: frozenset[str] | None = None
        self._past: tuple[tuple[frozenset[str], int], StudioState] | None = None
        self._before: tuple[str, tuple[Session, ...]] | None = None
        self._taught: tuple[Session, Learnt] | None = None
        self.room = StudioState()
        self.load()
        self._mark_seen()
        seen = (book.last_heartbeat(), self.room.last)
        #: When the program before this one was last seen alive, wall ms; None: never.
        self._seen_before = max((m.wall_ms for m in seen if m is not None), default=None)
        self._worked_here: set[str] = set()

    def _mark_seen(self) -> None:
        """After the machine was started anew, write down until when time was measured."""
        with suppress(BookError):  # opened to read: it is written when it is opened to write
            for at in room_clocks.unmarked_moments(self.room, self.book.last_heartbeat(),
                                                   self.now()):
                self._packs(room_clocks.mark_seen(self.room), at, "time passed")

    def load(self) -> None:
        """Fold the open sessions, those looked at, the packs and clocks, as the book has them.

        A session worked on while one still open was open too is folded with it: ink it
        left on the hands is there until they are washed.
        """
        rows = [r for r in self.book.all_sessions()
                if r.closed or r.id in self._looked_at or self._mine(r)]
        since = min((sequence_of(r.opened) for r in rows if not r.closed), default=None)
        held = [r.id for r in rows if r.id in self._looked_at
                or (since is not None and r.last_sequence >= since)]
        entries = self.book.entries(streams=self._streams(held))
        self.room = replay_entries(entries, bench=self.room.bench, origin=self.book.origin)
        self._before = self._taught = None

    def _mine(self, row: SessionRow) -> bool:
        """Whether this book opened it. An open one of another book goes on there: were it in
        the room, its clocks would write here, and its ink would lie on hands that are clean."""
        return row.id.endswith(f"@{self.book.origin}")

    def _streams(self, sessions: Iterable[str]) -> set[str]:
        """All that those sessions are folded from, and the packs and clocks there are."""
        ids = list(sessions)
        own = (x for id_ in ids for x in (*self.book.streams_of(id_), *packs_of(self.book, id_)))
        return {*own, *self._packs_here(), *self._clocks_here()}

    def _packs_here(self) -> set[str]:
        """The packs of this book with sheets in them still, as they were when it was opened.

        Sheets are taken from a pack only in the book that damped it.
        """
        if self._going is None:
            mine = f"@{self.book.origin}."
            gone = emptied_streams(self.book, "pack")
            self._going = frozenset(x for x in self.book.streams("pack")
                                    if mine in x and x not in gone)
        return {*self._going, *(f"pack/{x}" for x in self.room.packs)}

    def _clocks_here(self) -> set[str]:
        """The clocks of this book that run or call: those of another book call there."""
        mine = f"@{self.book.origin}."
        gone = emptied_streams(self.book, "clock")
        return {x for x in self.book.streams("clock") if mine in x and x not in gone}

    def look_at(self, session: str) -> None:
        """Hold that session in the room too, closed or not: its sheets can be judged."""
        if session not in self.room.sessions:
            self._looked_at = (*self._looked_at, session)
            self.load()

    def listen(self, listener: Callable[[Outcome], None]) -> None:
        """Call `listener` after every action that left entries."""
        self._listeners.append(listener)

    def now(self) -> Moment:
        """The clocks now."""
        return self.clock.now()

    def do(self, action: a.Action, *, session: str | None = None, gated: bool = False,
           at: Moment | None = None) -> Outcome:
        """Decide, append, fold. `gated`: only what the hands gate lets through.

        Args:
            action: What is done.
            session: Another session than the one on the Bench.
            gated: Whether it comes from the switch or the keys, not from typed words.
            at: When it was done, where that is known better than now.

        Raises:
            BookError: The book is closed, or opened for reading only.
            Unwritable: A text no book can hold.
        """
        if gated and (refusal := hands_gate(self.room, action)) is not None:
            return Outcome(refusal=refusal)
        now = at or self.now()
        decided = decide(self.room, action, now, session)
        if not isinstance(decided, Refusal):
            decided = self._with_boards(decided, now)
        return self._carry_out(decided, now, a.action_word(action),
                               bench_after(self.room, action))

    def _with_boards(self, decided: tuple[Draft, ...], now: Moment) -> Decision:
        """What was decided, with what it means for the stacks; or what the book holds fast."""
        undone = laying.pulls_undone(self.room, decided)
        if undone and (refusal := laying.held_fast(self._register(), undone)) is not None:
            return refusal
        if not any(d.kind in laying.CAUSES for d in decided):
            return decided
        boards = self._boards({told_of(d.stream) for d in decided})
        return (*decided, *laying.on_boards(self.room, boards, decided, now))

    def _boards(self, touched: Collection[str]) -> Boards:
        """The stacks of the open sessions and of these streams', as they are now.

        Others write on them too.
        """
        ids = {s.id for s in self.room.open_sessions} | {
            x.partition("/")[2] for x in touched if stream_family(x) == "session"}
        going = tuple(f"stack/{id_}." for id_ in ids)
        return stacks.replay_boards(self.book.entries(
            streams=[x for x in self.book.streams("stack") if x.startswith(going)]))

    def _register(self) -> Register:
        """What the book has made of sheets, as far as entries of prints tell it."""
        prints = self.book.entries(streams=self.book.streams("print"))
        return register.replay_register(prints, self.book.origin)

    def fold(self, entries: tuple[Entry, ...]) -> None:
        """Take in entries that are in the book now."""
        for entry in entries:
            if stream_family(entry.stream) in _OF_THE_ROOM:
                self.room = apply_entry(self.room, entry)

    def _carry_out(self, decided: Decision, now: Moment, word: str, bench: str | None) -> Outcome:
        """Write and fold; then that session is on the Bench, and the listeners are told."""
        outcome = self.carry_out(decided, now, word)
        if not outcome.ok:
            return outcome
        self.room = on_bench(self.room, bench)
        if any(stream_family(e.stream) == "session" and e.stream != f"session/{bench}"
               for e in outcome.entries):
            self._before = self._taught = None  # another day's sheets may have been judged
        if bench is not None:
            self._worked_here.add(bench)
        if outcome.entries:
            for listener in self._listeners:
                listener(outcome)
        return outcome

    def tick(self, *, writing: bool = False, at: Moment | None = None) -> Outcome:
        """Let time pass, mark that the program is alive, and look after the book.

        Args:
            writing: Whether a text is being written: no hands turn inky by time then.
            at: Up to which moment; None: now.
        """
        now = self.now()
        self.book.heartbeat(now)
        self.book.look_after(now)
        return self.do(a.Tick(writing), at=at)

    def open_session(self, recipe: str, text: str, wanted: int | None = None, *,
                     typed: bool = False) -> Outcome:
        """Open a new session on this recipe text; it comes to the Bench.

        Args:
            recipe: What the recipe is called.
            text: Its text, kept in the session.
            wanted: How many impressions should count; None: until enough is said.
            typed: Whether it was typed as a command: hands need not be clean then.

        Raises:
            RecipeError: The text is no recipe.
        """
        now = self.now()
        return self.do(self._opening(recipe, text, wanted, now, typed=typed), at=now)

    def refuses_to_open(self, recipe: str, text: str, *, typed: bool = False) -> Refusal | None:
        """Why no session is opened now; None: it would be. Nothing is written.

        Raises:
            RecipeError: The text is no recipe.
        """
        now = self.now()
        decided = decide(self.room, self._opening(recipe, text, None, now, typed=typed), now)
        return decided if isinstance(decided, Refusal) else None

    def refuses(self, action: a.Action, session: str, *, gated: bool = False) -> Refusal | None:
        """Why an action would be refused now; None: it would be done. Nothing is written."""
        if gated and (refusal := hands_gate(self.room, action)) is not None:
            return refusal
        decided = decide(self.room, action, self.now(), session)
        return decided if isinstance(decided, Refusal) else None

    def _opening(self, recipe: str, text: str, wanted: int | None, now: Moment, *,
                 typed: bool) -> a.Open:
        rows = self.book.all_sessions()
        here = [r for r in rows if self._mine(r)]
        taken = self.book.taken_elsewhere()
        name = session_name({r.name for r in here} | taken.names, local_time(now).date())
        known = shape_of(text).recipe
        letters = {r.opening.letters for r in rows} | taken.letters
        return a.Open(
            id=f"{name}@{self.book.origin}", name=name, recipe=recipe,
            letters=free_letters(len(here), letters),
            recipe_text=text, recipe_sha256=hashlib.sha256(text.encode()).hexdigest(),
            wanted=wanted, typed=typed, cancelled=self.cancelled(known),
            reworked=self._reworked(known))

    def _reworked(self, recipe: Recipe) -> tuple[str, ...]:
        """The plates that may not be in the state the recipe says, by the days before."""
        if recipe.proofing is None or recipe.proofing.state is None:
            return ()  # no day has to be read
        return reworked_before(recipe, sessions_of(self.book, recipe.print))

    def cancelled(self, recipe: Recipe) -> str | None:
        """How and when a plate of the recipe was cancelled; None: none was."""
        return cancelled_for(self._register(), recipe)

    def resume_session(self, row: SessionRow) -> Outcome:
        """Bring an open session back to the Bench after the program was away.

        A session is continued only in the book that opened it.
        """
        if not self._mine(row):
            return Outcome(refusal=Refusal(f"{row.name} was opened in another book",
                                           "continue it there; here you can read and judge it"))
        if (why := why_unreadable(row)) is not None:
            return Outcome(refusal=Refusal(
                f"The recipe of {row.name} cannot be read: {why}",
                "if a later benchapp opened it, go on with it there"))
        known = self._seen_before
        if row.id in self._worked_here:  # it was left for the Studio, not for good
            seen = (self.book.last_heartbeat(), self.room.last)
            known = max((m.wall_ms for m in seen if m is not None), default=None)
        self.room = on_bench(self.room, row.id)
        return self.do(a.Continue(last_seen_ms=known))

    def leave(self) -> None:
        """Mark that the program was alive until now: it is left, and what follows is unseen."""
        with suppress(BookError):
            self.book.heartbeat(self.now(), leaving=True)

    def learnt(self) -> Learnt:
        """What the sessions of the print on the Bench teach, the day itself among them.

        The days before are read once; a book that cannot be read teaches nothing.
        """
        s = self.room.session
        if s is None:
            return NOTHING
        if self._before is None or self._before[0] != s.id:
            try:
                self._before = s.id, sessions_of(self.book, s.recipe.print, but={s.id})
            except BookError:
                return NOTHING
        if self._taught is None or self._taught[0] is not s:
            self._taught = s, learn_stats((*self._before[1], s))
        return self._taught[1]

    def taught_now(self) -> Learnt:
        """Likewise where the step in hand asks for it; else nothing is looked up."""
        s = self.room.session
        return self.learnt() if s is not None and has_hints(s, s.hand) else NOTHING

    @property
    def editions(self) -> EditionService:
        """The editions and stacks of the book, as they are now; read when first asked for."""
        if self._editions is None:
            self._editions = EditionService(self.book, self.clock)
        self._editions.hours = self.hours
        self._editions.load()
        return self._editions

    def stacks(self) -> Boards:
        """The stacks with sheets in them still; nothing else of the book is read."""
        seen = self.book.last_sequence()
        if self._stacks is not None and self._stacks[0] != seen:
            self._stacks = self._grown(*self._stacks, seen)
        if self._stacks is None:
            if self._down is None:
                self._down = emptied_streams(self.book, "stack")
            self._stacks = seen, stacks.replay_boards(self.book.entries(
                streams=[x for x in self.book.streams("stack") if told_of(x) not in self._down]))
        return self._stacks[1]

    def _grown(self, since: int, known: Boards, seen: int) -> tuple[int, Boards] | None:
        """The stacks with what was written since; None: one that was over goes on.

        Asked after every tread, so that years of stacks nobody took down are read once.
        """
        for entry in self.book.entries(since=since):
            if stream_family(entry.stream) != "stack":
                continue
            stack = told_of(entry.stream)
            if self._down is not None and stack in self._down:
                self._down -= {stack}
                return None
            known = stacks.apply_board_entry(known, entry)
        return seen, known

    # -- outside any session ------------------------------------------------------------

    def past(self, sessions: Collection[str]) -> StudioState:
        """Those sessions, closed or open, their packs and those with sheets in them still."""
        key = (frozenset(sessions), self.book.last_sequence())
        if self._past is None or self._past[0] != key:
            self._past = key, replay_entries(self.book.entries(streams=self._streams(sessions)))
        return self._past[1]

    def damp_pack(self, recipe: Recipe, sheets: int | None) -> Outcome:
        """A pack of that recipe's paper is damped for no session, as on the evening before."""
        now = self.now()
        stem = f"damped {local_time(now).date().isoformat()}@{self.book.origin}."
        n = 1 + sum(1 for x in self.book.streams("pack") if x.startswith(f"pack/{stem}"))
        return self._packs(damping.damp_pack(recipe, f"{stem}{n}", sheets), now, "damped")

    def pack_out(self, pack: str) -> Outcome:
        """The sheets of a pack are out of the water."""
        found = self.room.packs.get(pack)
        return self._packs(_ELSEWHERE if found is None else damping.pack_out(found), self.now(),
                           "out")

    def pack_away(self, pack: str, how: str) -> Outcome:
        """What is left of a pack is put away: `dried`, or there is `none`."""
        found = self.room.packs.get(pack)
        return self._packs(_ELSEWHERE if found is None else damping.pack_away(found, how),
                           self.now(), "put away")

    def start_timer(self, name: str, ms: int) -> Outcome:
        """A clock starts for no session; it calls wherever one is."""
        now = self.now()
        stem = f"{local_time(now).date().isoformat()}@{self.book.origin}."
        n = 1 + sum(1 for x in self.book.streams("clock") if x.startswith(f"clock/{stem}"))
        return self._packs(room_clocks.start_timer(f"{stem}{n}", name, ms), now, "time")

    def end_timer(self, timer: str) -> Outcome:
        """A clock of no session is answered, or stopped before its time."""
        now = self.now()
        return self._packs(room_clocks.end_timer(self.room, timer, self.room.t_at(now)), now,
                           "answer")

    def _packs(self, decided: Decision, now: Moment, word: str) -> Outcome:
        return self._carry_out(decided, now, word, self.room.bench)

    def bearer(self, mark: str, besides: tuple[str, int | None]) -> str | None:
        """The session of another sheet of the book that bears `mark`, or None."""
        known = {r.stream for r in self.book.sessions()}
        streams = [x for x in self.book.streams("session") if told_of(x) in known]
        return mark_bearer(self.book.entries(streams=streams), mark, besides)

    def leave_bench(self) -> None:
        """Nothing on the Bench: the Studio is shown."""
        self.room = replace(self.room, bench=None)
