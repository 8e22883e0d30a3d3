"""The loop of the plain lines: let time pass, take a line, say what is on disk, until the end."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final, Protocol

from benchapp.book import BookError
from benchapp.events.entry import Entry, Moment
from benchapp.events.moments import local_time
from benchapp.files import breaks_kept, guess_kept
from benchapp.history.hints import has_hints, hint_sentences
from benchapp.plain.meanwhile import (
    AtOnce,
    Meanwhile,
    begun_words,
    pass_time,
    spoken_changes,
    told_once,
    until_next_ms,
)
from benchapp.plain.words import parse_line
from benchapp.planning.pace import TimedStep
from benchapp.planning.plate_wear import cannot_be, given_by_plates, wear_of, wear_sentences
from benchapp.planning.remaining import pulls_for
from benchapp.reports.leaving import asking_lines
from benchapp.reports.unsaved import ANYWAY, NOT_ON_DISK, unsaved_lines, wait_for_disk
from benchapp.safe_text import sanitize, why_refused
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.actions.end_of_day import question_line
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.annotate import judged_sheet
from benchapp.session.cancelling import before_first_sheet
from benchapp.session.counting import target_count
from benchapp.session.left import UnansweredFact, unanswered_facts
from benchapp.session.names import after_closing
from benchapp.session.next_steps import next_pack_size
from benchapp.session.state import Session, StudioState
from benchapp.views.aloud import spoken_answer
from benchapp.views.bench import early_words
from benchapp.views.messages import describe_change
from benchapp.views.status import now_lines, status_lines
from benchapp.views.studio import of_interest, studio_view
from benchapp.views.warnings import bench_warnings

if TYPE_CHECKING:
    from benchapp.planning.times import Lasting
    from benchapp.quantities import Span

#: No printer writes a longer line; a larger one is some other file sent here by mistake.
LONGEST: Final = 4_000
#: How a line begins that answers nothing, but came by itself; no answer begins so.
BY_ITSELF: Final = "* "


class LineStream(Protocol):
    """Where lines come from and go to: standard input and output, or a test's own."""

    def take(self) -> str | None:
        """The next line without its end; None where there is no more."""
        ...

    def give(self, text: str) -> None:
        """Print one line now, not later."""
        ...


class CannotBegin(Exception):  # noqa: N818 - an answer, not an error
    """The session cannot be opened, or gone on with; the message says why."""


def run_plain(workshop: SessionService, lines: LineStream, recipe: str, text: str,
              wanted: int | None,
              meanwhile: Meanwhile | None = None) -> int:
    """Open a session on this recipe text and work it by lines. Gives the exit code.

    Args:
        workshop: The book at work.
        lines: Where they come from and go to.
        recipe: What the recipe is called.
        text: Its text.
        wanted: How many impressions should count; None: until enough is said.
        meanwhile: What waits for a line and speaks; None: lines come at once, nothing speaks.

    Raises:
        RecipeError: The text is no recipe.
        CannotBegin: It cannot be opened.
        BookError: The book cannot be used.
    """
    asked = _unsaid(workshop)
    bench = _Bench(workshop, lines, asked, meanwhile)
    others = [s.name for s in workshop.room.open_sessions]
    bench.open(_done(workshop.open_session(recipe, text, wanted, typed=True)), StudioState())
    for name in others:
        bench.say(f"Also open: {name} · benchapp resume {name}")
    return bench.work()


def resume_plain(workshop: SessionService, lines: LineStream, session: str,
                 meanwhile: Meanwhile | None = None) -> int:
    """Go on with an open session by lines. Gives the exit code; `meanwhile` as for `run_plain`.

    Raises:
        CannotBegin: It cannot be gone on with here.
        BookError: The book cannot be used.
    """
    row = next((r for r in workshop.book.sessions() if r.id == session), None)
    if row is None or row.closed:
        raise CannotBegin("That session is not open; benchapp sessions lists them"
                          if row is None else f"{row.name} is closed; {after_closing(row.name)}")
    bench = _Bench(workshop, lines, _unsaid(workshop), meanwhile)
    before = workshop.room
    outcome = _done(workshop.resume_session(row))
    bench.open(outcome, replace(before, bench=row.id))
    return bench.work()


def rehearse_plain(workshop: SessionService, lines: LineStream, recipe: str, text: str,
                   meanwhile: Meanwhile | None = None) -> int:
    """A day that goes into no book. Gives the exit code; `meanwhile` as for `run_plain`.

    Raises:
        RecipeError: The text is no recipe.
    """
    bench = _Bench(workshop, lines, (), meanwhile, kept=False)
    bench.open(_done(workshop.open_session(recipe, text)), StudioState())
    bench.say("A rehearsal: it keeps nothing")
    return bench.work()


def _done(outcome: Outcome) -> Outcome:
    if outcome.refusal is not None:
        raise CannotBegin(str(outcome.refusal))
    return outcome


def _unsaid(workshop: SessionService) -> tuple[UnansweredFact, ...]:
    """The facts that earlier days still ask: of open sessions, those of two weeks, and the last."""
    now = workshop.now()
    today = local_time(now).date()
    rows = [(r.id, local_time(r.opened.at).date(), r.closed) for r in workshop.book.sessions()
            if r.id.endswith(f"@{workshop.book.origin}")]
    past = workshop.past(of_interest(rows, today))
    return unanswered_facts(past.sessions.values(), today)


class _Bench:
    """One session at work by lines."""

    def __init__(self, workshop: SessionService, lines: LineStream,
                 asked: tuple[UnansweredFact, ...],
                 meanwhile: Meanwhile | None, *, kept: bool = True) -> None:
        self.workshop, self.lines, self.asked, self.kept = workshop, lines, asked, kept
        self.meanwhile = meanwhile or AtOnce()
        self.notice = ""
        self.warned: frozenset[str] = frozenset()
        self.after_wait = ""
        self.told_once: set[str] = set()
        self._taught: tuple[str, tuple[TimedStep, ...]] = "", ()
        self._times: Mapping[str, Span] = {}
        self._anyway = False

    def say(self, text: str) -> None:
        """Print one line of whatever text; one that begins as if by itself is moved by a space."""
        shown = sanitize(text)
        self.lines.give(f" {shown}" if shown.startswith(BY_ITSELF) else shown)

    def _say_by_itself(self, texts: Iterable[str], at: Moment) -> None:
        """Print what no line asked for, each with the time of day at which it was so."""
        for text in texts:
            self.lines.give(sanitize(f"{BY_ITSELF}{local_time(at):%H:%M} {text}"))

    # -- the course of it --------------------------------------------------------------

    def _beforehand(self, s: Session) -> list[str]:
        """What the day cannot give, and the plates near their end: said once, before all pulls."""
        wanted = target_count(s)
        try:
            register = self.workshop.editions.register
        except BookError:  # the day goes on; what is wrong with the book is said elsewhere
            return []
        pulls = 0 if wanted is None else pulls_for(s.recipe, wanted)
        wears = wear_of(s.recipe, given_by_plates(register, s.recipe), pulls)
        cannot = () if s.cancelled is not None else cannot_be(register, s.recipe, wanted)
        return [*cannot, *(". ".join(wear_sentences(x)) for x in wears if x.near)]

    def open(self, outcome: Outcome, before: StudioState) -> None:
        """Say first that the session is open, then what earlier days ask, then what to do."""
        if self.workshop.book.banner:  # nothing is on disk: that comes before all
            self._notices()
        s = self.workshop.room.session
        told = describe_change(before, self.workshop.room, outcome.entries)
        name = "" if s is None else f"{s.name} open"
        first = next((x for x in told if x.startswith(name)), "")
        self._say_done((first,))
        self._notices()
        if s is not None and (gone := before_first_sheet(s)) is not None:
            self.say(f"Mind: {gone}")
            self.warned |= {_words(gone)}
        if s is not None and not any(i.pulled for i in s.impressions):
            self._say_all(f"Mind: {said}" for said in self._beforehand(s))
        rest = [x for x in told if x != first]
        for number, asked in enumerate(self.asked, 1):
            self.say(question_line(number, asked))
        if s is not None and s.left_off is not None:
            self.say(f"Left off: {s.left_off}")
        if not any(e.kind == "opened" for e in outcome.entries):
            rest += now_lines(self.workshop.room)
        self._say_all(dict.fromkeys(rest))  # a step that begins by coming back is told already
        self._say_all(self._proposed(before, self.workshop.room))
        self._say_all(self._after_wait(self.workshop.now()))
        self._warn(self.workshop.room)
        self._follow()

    def work(self) -> int:
        """Take lines until it closes, `quit`, or there are no more. Gives the exit code."""
        line: str | None = ""
        while self._wait():
            line = self.lines.take()
            self._pass_time()
            if line is None or not self._line(line):
                break
            self._follow()
        if not self._anyway:
            wait_for_disk(self.workshop.book, self.lines.give,
                          (lambda: None) if line is None else self.lines.take)
        if not self._closed():
            self._leave()
        self._say_all(asking_lines(self.workshop.room))
        return 0

    def _wait(self) -> bool:
        """Let time pass until a line is there; False where the session has closed."""
        while not self._closed() and not self.meanwhile.wait(until_next_ms(self.workshop)):
            self._pass_time()
        return not self._closed()

    def _pass_time(self) -> None:
        """Say what time did, each thing at its moment."""
        for before, at, outcome in pass_time(self.workshop):
            room = self.workshop.room
            self._notices()
            said = [*told_once(room, room.t_at(at), self.told_once),
                    *self._done(describe_change(before, room, outcome.entries))]
            if outcome.entries:
                said += (*self._proposed(before, room), *self._after_wait(at))
                self.meanwhile.say(partial(spoken_changes, before, room, at, outcome.entries))
            self._say_by_itself((*said, *self._new_warnings(room, room.t_at(at))), at)
        self._follow()

    def _follow(self) -> None:
        """Hand over what will call; what went wrong with the sound is said."""
        now = self.workshop.now()
        self._say_by_itself(self.meanwhile.follow(self.workshop.room, now), now)

    def _closed(self) -> bool:
        s = self.workshop.room.session
        return s is None or s.closed is not None

    def _leave(self) -> None:
        self.workshop.leave()
        s = self.workshop.room.session
        if s is None:
            return
        self.say(f"{s.name} stays open · go on with: benchapp resume {s.name} --plain"
                 if self.kept else "You left the rehearsal; it keeps nothing")

    def _line(self, line: str) -> bool:
        """Do what one line says; False ends the work."""
        wrong = why_refused(line)
        if wrong is None and len(line) > LONGEST:
            wrong = f"it has more than {LONGEST} characters; write a shorter one"
        if wrong is not None:
            self.say(f"benchapp cannot use this line: {wrong}")
            return True
        if self._closed() and not line.strip():
            return True
        try:
            meant = parse_line(self._ears(), line)
        except NotUnderstood as problem:
            self.say(str(problem))
            return True
        if isinstance(meant, ParsedLine):
            if not self._do(meant):
                self._standing()
            return True
        if meant in ("quit", ANYWAY):
            self._anyway = meant == ANYWAY
            return not self._anyway and self._stays()
        shop = self.workshop
        self._say_all(_help() if meant != "status" else status_lines(
            shop.room, shop.now(), shop.learnt(), self._earlier(),
            () if shop.room.bench is None else breaks_kept(shop.room.bench), self._lasting()))
        return True

    def _stays(self) -> bool:
        """Whether entries are only in memory: they are printed, and `quit` does not leave."""
        said = unsaved_lines(self.workshop.book)
        self._say_all(said)
        if said:
            self.say(f"benchapp is still open. Write quit to try again, or {ANYWAY} to leave "
                     "without them.")
        return bool(said)

    def _lasting(self) -> Lasting:
        """What is known of steps without a time: as earlier days taught, and as guessed."""
        from benchapp.planning.times import Lasting

        bench = self.workshop.room.bench
        return Lasting(self._times, None if bench is None else guess_kept(bench))

    def _earlier(self) -> tuple[TimedStep, ...]:
        """How long steps took on earlier days of the print on the Bench; read once a session."""
        s = self.workshop.room.session
        if s is None or self._taught[0] == s.id:
            return self._taught[1]
        # Only a status needs it: a day of treads begins without.
        from benchapp.reports.plan_history import read_taught

        try:
            known = read_taught(self.workshop.book, s.recipe, but={s.id})
            found, self._times = known.readings, known.times
        except BookError:
            found, self._times = (), {}
        self._taught = s.id, found
        return found

    def _standing(self) -> None:
        """One line in, one line out: where nothing came of it, how things stand."""
        self._say_all(now_lines(self.workshop.room) or ("Nothing is due",))
        self.after_wait = ""
        self._say_all(self._after_wait(self.workshop.now()))

    # -- doing ---------------------------------------------------------------------------

    def _do(self, meant: ParsedLine) -> bool:
        """Do it; whether a line was said."""
        action, session = meant.action, meant.session
        if session is not None:
            self.workshop.look_at(session)
        if isinstance(action, a.GiveMark):
            action = self._borne(action, session)
        before = self.workshop.room
        outcome = self.workshop.do(action, session=session)
        refusal = outcome.refusal
        if refusal is not None and refusal.must and isinstance(action, a.GoOn):
            outcome = self.workshop.do(a.Must(None))
            refusal = outcome.refusal
        room, now = self.workshop.room, self.workshop.now()
        self.meanwhile.say(lambda: (
            spoken_answer(action, refusal, room, now) or begun_words(before, room, now)))
        if refusal is not None:
            self.say(str(refusal))
            return True
        return self.tell(before, outcome.entries)

    def _borne(self, action: a.GiveMark, session: str | None) -> a.GiveMark:
        """The mark with the sheet of the book that bears it already, if one does."""
        room = self.workshop.room
        s = room.session if session is None else room.sessions.get(session)
        meant = None if s is None else judged_sheet(s, action.impression)
        if s is None or meant is None:
            return action
        taken = self.workshop.bearer(action.mark, (s.id, meant.ordinal))
        if taken is None:
            return action
        return replace(action, taken_by=f"on a sheet of {taken.partition('@')[0]}")

    def _bearer(self, mark: str) -> Session | None:
        """The session of the book whose sheet bears a mark, looked up and held in the room."""
        found = self.workshop.bearer(mark, ("", None))
        if found is None:
            return None
        self.workshop.look_at(found)
        return self.workshop.room.sessions.get(found)

    def _ears(self) -> ParseContext:
        room, now = self.workshop.room, self.workshop.now()
        return ParseContext(room, now, self.asked, self._bearer,
                            lambda: studio_view(room, now).cans)

    # -- telling -------------------------------------------------------------------------

    def tell(self, before: StudioState, entries: tuple[Entry, ...]) -> bool:
        """Print what was done, with what should be known now; whether there was a line."""
        self._notices()
        room = self.workshop.room
        if not entries:
            return before.bench != room.bench and self._warn(room)
        said = describe_change(before, room, entries)
        self._say_done(said)
        self._say_all(self._proposed(before, room))
        self._say_all(self._after_wait(self.workshop.now()))
        return self._warn(room) or bool(said)

    def _after_wait(self, at: Moment) -> tuple[str, ...]:
        """What an empty line would bring where it ends a wait early for it; once."""
        words = early_words(self.workshop.room, at)
        known, self.after_wait = self.after_wait, _words(words or "")
        return () if words is None or self.after_wait == known else (f"Next: {words}",)

    def _proposed(self, before: StudioState, room: StudioState) -> tuple[str, ...]:
        """What is proposed for a step just begun; what the sessions taught is asked for only then.

        A long day is trodden through without it.
        """
        s, was = room.session, before.session
        if s is None or s.hand is None or not has_hints(s, s.hand) or (
                was is not None and was.id == s.id and was.hand == s.hand):
            return ()
        found = hint_sentences(s, s.hand, self.workshop.learnt(), next_pack_size(room, s, room.t))
        return tuple(f"Proposed: {x}" for x in found)

    def _warn(self, room: StudioState) -> bool:
        """Print the warnings that were not there before; whether there was one."""
        new = self._new_warnings(room, room.t)
        self._say_all(new)
        return bool(new)

    def _new_warnings(self, room: StudioState, t: int) -> tuple[str, ...]:
        """The warnings that were not there before."""
        s = room.session
        now = frozenset() if s is None else frozenset(bench_warnings(room, s, t))
        # The minutes in a warning go on: it is new only where its words are.
        new = {w for w in now if _words(w) not in self.warned}
        self.warned = frozenset(map(_words, now))
        return tuple(f"Mind: {w}" for w in sorted(new))

    def _notices(self) -> None:
        """What is wrong with the writing itself comes before what was written."""
        book = self.workshop.book
        notice = book.banner or book.notice
        for line in notice.split("\n"):
            if line and line not in self.notice.split("\n"):
                self.say(line)
        self.notice = notice

    def _done(self, told: Iterable[str]) -> Iterable[str]:
        """What was done, in words; says so as long as it is on no disk."""
        behind = NOT_ON_DISK if self.workshop.book.unsaved else ""
        return (f"{text}{behind}" for text in told)

    def _say_done(self, told: Iterable[str]) -> None:
        self._say_all(self._done(told))

    def _say_all(self, texts: Iterable[str]) -> None:
        for text in texts:
            self.say(text)


def _words(text: str) -> str:
    return "".join(c for c in text if not c.isdigit())


def _help() -> Iterator[str]:
    """Every word with what it takes and does."""
    yield "An empty line goes on: it answers a call, ends the step, begins the next"
    for spec in a.REGISTRY:
        yield f"{spec.word} {spec.takes}".strip() + f": {spec.help}"
    yield "not judged [MARK]: Remove a verdict"
    yield "must N ANSWER: Answer a question that an earlier day left open"
    yield "status: How the day is going · help: This list · quit: Leave; the session stays open"
    yield f"{ANYWAY}: Leave even if entries are only in memory; quit prints them first"
    yield "Name a sheet by its mark (K3) or its number, a step by its number or words"
    yield f"A line that begins with {BY_ITSELF.strip()} and a time comes without your asking"
