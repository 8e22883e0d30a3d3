"""What a session and the room are at one moment, computed from entries alone.

Everything is frozen; `fold.apply` gives the next state. What changes with every
entry has no slots, so that `copying.replace` can copy its dictionary. Times named
`t` are milliseconds of the room's own time: it counts the boot clock inside one
boot and wall time across boots, and never runs backwards.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from benchapp.edition.packs import Pack
from benchapp.events.entry import Entry, Moment
from benchapp.events.words import COUNTERPROOF, PURPOSES
from benchapp.recipe.model import Recipe, Step
from benchapp.session.compiled_recipe import CompiledRecipe

Verdict = Literal["keep", "doubtful", "spoiled"]
#: What a pull is for, as the journal spells it.
FORS: Final = PURPOSES
#: How an impression ended that was given up before its first pull: it gets no number.
SPOILED_TRY: Final = "spoiled before the pull"
#: And one that stays as it is after an earlier pull: on purpose, or because it is spoiled.
PROGRESSIVE: Final = "progressive"
SPOILED_PULLED: Final = "spoiled before the last pull"
#: These never count towards the wanted number.
NOT_COUNTED: Final = ("warm-up", "ghost", COUNTERPROOF)


@dataclass(frozen=True, slots=True)
class TaskKey:
    """Names one piece of work: a step, and the impression or pack it is done for.

    Attributes:
        step: A step's id, or `wash`, `damp.in`, `damp.out`.
        impression: Which impression, in the order they were begun, from 1.
            (Not its number: a number is given by the first pull.)
        pack: The pack handled.
    """

    step: str
    impression: int | None = None
    pack: str | None = None


@dataclass(frozen=True)
class Attempt:
    """One attempt at a piece of work.

    Attributes:
        started: When it began; None where it ended without having been begun.
        how: How it ended: `done`, `cut short`, `ended itself`, `passed`,
            `skipped`, `left`, `dropped`, `out of reach`, `not said`; empty while it runs.
        taken: Whether its time was taken; false where a start or an end was not seen, and where
            the printer was away or forgot to tread.
        paused_ms: Pauses inside it.
        extended_ms: Time a wait was given beyond its usual.
        question: `asked` where it ran implausibly long; then the printer's answer.
        unseen: Whether benchapp was closed during it, so that its time is not taken
            (see `fold_work.CLOSED_MS`).
    """

    key: TaskKey
    attempt: int
    started: Moment | None
    started_t: int
    finished: Moment | None = None
    finished_t: int | None = None
    how: str = ""
    why: str | None = None
    taken: bool = True
    paused_ms: int = 0
    extended_ms: int = 0
    question: str | None = None
    unseen: bool = False

    @property
    def running(self) -> bool:
        """Begun and not ended."""
        return self.finished is None


@dataclass(frozen=True, slots=True)
class Pull:
    """One pass of the sheet over a plate (or several together). `at` None: time not taken."""

    step: str
    plates: tuple[str, ...]
    at: Moment | None
    t: int


@dataclass(frozen=True, slots=True)
class FromSheet:
    """What a counterproof was pulled from: the ordinal of that impression, and when."""

    source: int
    at: Moment


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A named value with its unit, as typed."""

    name: str
    value: str
    unit: str | None


@dataclass(frozen=True)
class Impression:
    """One sheet from the first work on it.

    Attributes:
        ordinal: In the order begun, from 1; never shown.
        number / mark: Given by the first pull; None before.
        said: What the printer said it is for, with its state; None: by rule.
        purpose / purpose_by / state: As recorded at the last pull.
        sheets: The packs its sheets came from; None for one of no pack.
        damp: Whether its sheet of no pack was damp; None: it is of a pack, or nobody said.
        sheet: What became of the sheet of a try given up: `back` in its pack, or `lost`; None:
            it had none, or is in a book from before this was asked.
        ended: How it ended where it stays as it is: one of the three above.
        counterproof: What it was pulled from, where that was no plate; None: it is no counterproof.
        laid: Its last step is done, and it was laid to dry.
        aside: Its last step is done, and it is spoiled: it does not go under the boards.
    """

    ordinal: int
    number: int | None = None
    mark: str | None = None
    ghost: bool = False
    said: tuple[str, str | None] | None = None
    purpose: str | None = None
    purpose_by: str | None = None
    state: str | None = None
    pulls: tuple[Pull, ...] = ()
    sheets: tuple[str | None, ...] = ()
    damp: bool | None = None
    sheet: Literal["back", "lost"] | None = None
    ended: str | None = None
    counterproof: FromSheet | None = None
    laid: bool = False
    aside: bool = False
    verdict: Verdict | None = None
    tags: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    readings: tuple[ReadingTaken, ...] = ()
    look_again: bool = False

    @property
    def pulled(self) -> bool:
        """It exists: it has been through the press at least once."""
        return self.number is not None

    @property
    def pulled_at(self) -> Moment | None:
        """When it first went through the press; None: it has not, or that time was not taken."""
        if self.counterproof is not None:
            return self.counterproof.at
        return self.pulls[0].at if self.pulls else None

    @property
    def over(self) -> bool:
        """Its last step is done."""
        return self.laid or self.aside


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting in force from impression number `since` on."""

    name: str
    value: str
    since: int


#: The value of a setting that nobody knows.
NOT_KNOWN: Final = "not known"
#: What a helper is called whose name nobody said.
UNNAMED: Final = "helper"
RoomKind = Literal["screws", "blankets", "heat"]


@dataclass(frozen=True, slots=True)
class RoomSetting:
    """How one thing of the room is set, by whichever session said so last.

    Attributes:
        thing: Without the plate it was said for: `handle side`.
        value: As it was said; None: nobody knows.
        by: The session it was set for, or used in, last.
        off: Whether the pressure, or the heat, was let off since.
    """

    kind: RoomKind
    thing: str
    value: str | None
    by: str
    off: bool = False


@dataclass(frozen=True, slots=True)
class Call:
    """One clock that ran out. `clean`: answering it needs clean hands."""

    id: str
    due_t: int
    clean: bool
    called: bool = False
    answered: bool = False


@dataclass(frozen=True, slots=True)
class TimerState:
    """A clock started on the spot."""

    id: str
    name: str
    started_t: int
    ms: int


@dataclass(frozen=True, slots=True)
class UndoableAction:
    """One action of the printer that can be taken back."""

    action: str
    word: str
    at: Moment
    t: int


@dataclass(frozen=True, slots=True)
class Jump:
    """Something that happened to time itself: the clock stepped, the machine slept or restarted."""

    what: str
    ms: int
    at: Moment
    t: int


@dataclass(frozen=True, slots=True)
class TakenOver:
    """What is known of a step another session left to this one, beside the step itself.

    Attributes:
        print: The title of its print; in books from before, the name of its session.
        paper: The damped paper of that print, as `paper_of` spells it.
    """

    print: str
    paper: str | None


@dataclass(frozen=True)
class Session:
    """One day's work on one recipe.

    Attributes:
        work: The latest attempt at each piece of work.
        under_way: The keys of those that run, so that nothing looks through a long day for them.
        to_ask: Attempts that ran long and were not asked about yet.
        active: The impressions work is left on, or may be, of all the `impressions`.
        again: Keys that were taken out of `work` to be done anew: their attempts count on.
        given_up: The try given up last, until hands work for another sheet is done: a note, tag
            or look-again mark without a name is about it.
        unstated: Plates reworked since their state was last said.
        held: The inky step that began by itself and was taken back: the pedal begins it.
        to_skip: Steps that come and are to be passed by, with the reason.
        to_leave: After steps that come and are to be left, with the session they are left to.
        musts: The facts given, by owner and step; `musts_at` when the last of them was.
        inherited: The steps other sessions left to this one; `owners` and `taken_over` say of
            each whose it is.
        can_emptied: When the rag can was last said to be emptied.
        cancelled: How and when its plate was cancelled before it was opened; None: it was not.
    """

    id: str
    name: str
    letters: str
    recipe: Recipe
    recipe_name: str
    recipe_sha256: str
    shape: CompiledRecipe
    opened: Moment
    opened_t: int
    wanted: int | None = None
    limit: int | None = None
    enough: bool = False
    work: Mapping[TaskKey, Attempt] = field(default_factory=dict)
    under_way: tuple[TaskKey, ...] = ()
    again: frozenset[TaskKey] = frozenset()
    history: tuple[Attempt, ...] = ()
    to_ask: tuple[Attempt, ...] = ()
    hand: TaskKey | None = None
    chosen: TaskKey | None = None
    held: TaskKey | None = None
    to_skip: Mapping[TaskKey, str] = field(default_factory=dict)
    to_leave: Mapping[TaskKey, str] = field(default_factory=dict)
    impressions: tuple[Impression, ...] = ()
    active: tuple[Impression, ...] = ()
    ghost_next: bool = False
    given_up: int | None = None
    paused_t: int | None = None
    breaks: tuple[tuple[int, int], ...] = ()
    settings: tuple[Setting, ...] = ()
    states: Mapping[str | None, str] = field(default_factory=dict)
    unstated: frozenset[str | None] = frozenset()
    reworks: tuple[tuple[str | None, str | None, str | None, Moment], ...] = ()
    notes: tuple[str, ...] = ()
    calls: Mapping[str, Call] = field(default_factory=dict)
    muted: Mapping[str, int | None] = field(default_factory=dict)
    timed: Mapping[str, TimerState] = field(default_factory=dict)
    clocks_started: int = 0
    musts: Mapping[tuple[str, str], tuple[str | None, ...]] = field(default_factory=dict)
    musts_at: Mapping[tuple[str, str], Moment] = field(default_factory=dict)
    inherited: tuple[Step, ...] = ()
    owners: Mapping[str, str] = field(default_factory=dict)
    taken_over: Mapping[str, TakenOver] = field(default_factory=dict)
    left_off: str | None = None
    cancelled: str | None = None
    helpers: tuple[str | None, ...] = ()
    jumps: tuple[Jump, ...] = ()
    actions: tuple[UndoableAction, ...] = ()
    can_emptied: Moment | None = None
    discarded: bool = False
    closed: Moment | None = None

    def impression(self, ordinal: int | None) -> Impression | None:
        """The impression of that ordinal, or None."""
        if ordinal is None or not 1 <= ordinal <= len(self.impressions):
            return None
        return self.impressions[ordinal - 1]

    @property
    def live(self) -> tuple[tuple[TaskKey, Attempt], ...]:
        """The work that runs, in the order begun."""
        return tuple((k, self.work[k]) for k in self.under_way)

    def running(self, key: TaskKey) -> bool:
        """Whether that piece of work is begun and not ended."""
        work = self.work.get(key)
        return work is not None and work.running

    def done(self, key: TaskKey) -> bool:
        """Whether that piece of work has ended, in whatever way, and is not due again."""
        work = self.work.get(key)
        return work is not None and not work.running


@dataclass(frozen=True)
class StudioState:
    """The workshop: the open sessions, the packs, and the printer's hands.

    Attributes:
        sessions: By id; open ones, and those closed while the room was looked at.
        packs: By id.
        bench: The session on the Bench, chosen by the program at the edge.
        inky: Whether the printer's hands are inky; clean at the start.
        helper: The name of the clean-handed helper who is in, or None.
        helped: The sessions whose record says that the helper was in, since they joined.
        settings: How press, blankets and heat are set, by the thing (`room_settings`).
        timers: Clocks that belong to no session, by id, while they run or call.
        calls: The calls of timers and of packs that no open session looks after.
        t / last: The room's time and the clocks at the last entry.
        anchor / anchor_t: The first reading of the present boot and its room time.
        off: By the room times where one boot ended and another began, across which lengths are
            inexact: how long the machine was off by the clock on the wall; None: that clock was
            behind, so nobody knows.
        journal: All entries, in order; a take-back folds them anew.
        void: The actions taken back.
        origin: The book this is the room of; None: of whichever the entries are.
        said_ms: Of sessions that other books tell of, how far their words reach (`said`).
    """

    sessions: Mapping[str, Session] = field(default_factory=dict)
    packs: Mapping[str, Pack] = field(default_factory=dict)
    bench: str | None = None
    inky: bool = False
    helper: str | None = None
    helped: frozenset[str] = frozenset()
    settings: Mapping[str, RoomSetting] = field(default_factory=dict)
    timers: Mapping[str, TimerState] = field(default_factory=dict)
    calls: Mapping[str, Call] = field(default_factory=dict)
    t: int = 0
    last: Moment | None = None
    anchor: Moment | None = None
    anchor_t: int = 0
    off: Mapping[int, int | None] = field(default_factory=dict)
    journal: tuple[Entry, ...] = field(default=(), repr=False)
    void: frozenset[str] = frozenset()
    origin: str | None = None
    said_ms: Mapping[str, int] = field(default_factory=dict)

    def guest(self, session: str) -> bool:
        """Whether another book opened that session: it goes on there, and is judged here."""
        return self.origin is not None and session.rpartition("@")[2] != self.origin

    @property
    def session(self) -> Session | None:
        """The session on the Bench, or None."""
        return None if self.bench is None else self.sessions.get(self.bench)

    @property
    def clean(self) -> bool:
        """Whether clean work can be done without a wash: clean hands, or a helper's."""
        return not self.inky or self.helper is not None

    @property
    def open_sessions(self) -> tuple[Session, ...]:
        """Those of this book that are not closed, in the order opened."""
        return tuple(s for s in self.sessions.values()
                     if s.closed is None and not self.guest(s.id))

    def t_at(self, now: Moment) -> int:
        """Room time at `now`; never less than at the last entry.

        A new boot is a millisecond later at least where something had only just begun, so that
        this lies before it whatever the clock on the wall says.
        """
        if self.last is None or self.anchor is None:
            return self.t
        if now.boot_id == self.anchor.boot_id:
            return max(self.t, self.anchor_t + (now.boot_ns - self.anchor.boot_ns) // 1_000_000)
        return self.t + max(self._just_begun, now.wall_ms - self.last.wall_ms)

    @property
    def _just_begun(self) -> bool:
        """Whether something that is counted began at the last entry."""
        return self.t in {
            *(t for p in self.packs.values() for t in (p.put_in_t, p.out_t)),
            *(c.started_t for c in self.timers.values()),
            *(c.started_t for s in self.sessions.values() for c in s.timed.values()),
            *(w.started_t for s in self.sessions.values() for _, w in s.live)}

    def exact(self, since_t: int, until_t: int) -> bool:
        """Whether a length between two room times was counted inside one boot."""
        return not any(since_t < r <= until_t for r in self.off)

    def unsure_ms(self, since_t: int, until_t: int) -> int | None:
        """How much of a length between two room times is by the wall clock alone, in ms.

        None: the machine was off for a time that no clock can tell.
        """
        off = [ms for r, ms in self.off.items() if since_t < r <= until_t]
        return None if None in off else sum(ms for ms in off if ms is not None)
