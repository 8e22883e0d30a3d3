"""A bench for tests: a book in memory, a clock that is told, and short recipes as text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.decision import Refusal
from benchapp.edition.packs import Pack
from benchapp.events.entry import Entry, Moment
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.state import Attempt, Impression, Session, StudioState, TaskKey
from benchapp.views.bench import BenchView, bench_view

MIN = 60_000
HOUR = 60 * MIN

INK = "{do: Ink, hands: inky, time: 5 min}"
WIPE = "{do: Wipe, hands: inky, time: 8/10/12 min}"
PULL = "{do: Pull, hands: clean, at: press, time: 4 min, pulls: key}"
LIFT = "{do: Lift, hands: clean, time: 3 min, asks: [verdict, tags, note]}"
WARM = "{do: Warm, hands: free, at: hot plate, time: 2 min, ends: itself}"
#: A wait that calls, and one nobody knows the length of.
SETTLE = "{do: Settle, hands: free, time: 6 min}"
OPEN_WAIT = "{do: Stand, hands: free}"
RAGS = "{do: Rags, hands: clean, time: 2 min, must: [in the can, hung open]}"
SHEETS = "{do: Left-over damp sheets, hands: clean, must: [wrapped, dried, none]}"
SCREWS = "{do: Screws, hands: clean, time: 15 min}"
PLATE_CLEAN = "{do: Plate clean, hands: inky, time: 10 min}"

#: Soaked half an hour, rested a quarter, packs of four.
SOAK = "{method: soak, soak: 30 min, rest: 15 min, keeps: 48 h, pack: 4, handling: 3 min}"

TWO_EACH = (
    "{do: Ink tone, hands: inky, plate: tone, time: 5 min}",
    "{do: Ink key, hands: inky, plate: key, time: 5 min}",
    "{do: Pull tone, hands: clean, at: press, pulls: tone, time: 4 min}",
    "{do: Pull key, hands: clean, at: press, pulls: key, time: 4 min}",
    "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}",
)


def recipe(
    *,
    each: Sequence[str] = (INK, PULL, LIFT),
    before: Sequence[str] = (),
    after: Sequence[str] = (),
    plates: Sequence[str] = ("key",),
    damp: str | None = None,
    extra: str = "",
) -> str:
    """A recipe's text: steps are flow maps, one a line."""
    lines = ["recipe: 1", "print: {title: Slack Water, artist: Wren Halloran}", "plates:"]
    lines += [f"  - {{name: {p}, metal: copper, size: 198 x 148 mm}}" for p in plates]
    if damp is not None:
        lines += ["paper:", "  name: cotton", f"  damp: {damp}"]
    for name, steps in (("before", before), ("each", each), ("after", after)):
        if steps:
            lines += [f"{name}:", *(f"  - {step}" for step in steps)]
    return "\n".join(lines) + f"\n{extra}"


#: The sheet shrinks after the first pull: the second has to be over within two minutes.
WAITING = (*TWO_EACH[:3],
           "{do: Pull key, hands: clean, at: press, pulls: key, time: 90 s, within: 2 min}",
           TWO_EACH[4])

ONE = recipe()
#: A whole small day: screws, three steps a sheet, an inky and an asking step to end.
DAY = recipe(before=[SCREWS], after=[PLATE_CLEAN, RAGS])
TWO = recipe(each=TWO_EACH, plates=("tone", "key"))
SHEET_WAITS = recipe(each=WAITING, plates=("tone", "key"))
DAMP = recipe(before=[SCREWS], damp=SOAK)


def hold_damp_sheets(room: StudioState) -> None:
    """What left a pack lies open, was dried unprinted, or went to one impression and stayed."""
    used = Counter(pack for s in room.sessions.values() for i in s.impressions for pack in i.sheets)
    dried = Counter(e.body["pack"] for e in room.journal
                    if e.kind == "sheet dried" and e.action not in room.void)
    for pack in room.packs.values():
        assert pack.taken == used[pack.id] + len(pack.open) + dried[pack.id], pack


class Bench:
    """One workshop with sessions open in it, and what a test wants to ask of it."""

    def __init__(
        self, text: str = ONE, wanted: int | None = None, clock: FakeClock | None = None
    ) -> None:
        self.clock = clock or FakeClock()
        self.book = Book.in_memory()
        self.shop = SessionService(self.book, self.clock)
        self.opened = self.open(text, wanted)

    def open(self, text: str = ONE, wanted: int | None = None) -> Outcome:
        """Open a session; it comes to the Bench."""
        out = self.shop.open_session("slack-water", text, wanted)
        assert out.refusal is None, str(out.refusal)
        return out

    # -- what is asked ------------------------------------------------------

    @property
    def room(self) -> StudioState:
        """The room as it is."""
        return self.shop.room

    @property
    def s(self) -> Session:
        """The session on the Bench."""
        session = self.room.session
        assert session is not None
        return session

    @property
    def t(self) -> int:
        """Room time now."""
        return self.room.t_at(self.clock.now())

    @property
    def now(self) -> Moment:
        """The clocks now."""
        return self.clock.now()

    @property
    def hand(self) -> str | None:
        """The words of the hands step in progress, or None."""
        key = self.s.hand
        if key is None:
            return None
        step = self.s.shape.by_id.get(key.step)
        if step is not None:
            return step.do
        return next(x.do for x in self.s.inherited if x.id == key.step)

    @property
    def waits(self) -> list[str]:
        """The words of the waits that run."""
        by_id = self.s.shape.by_id
        return [by_id[k.step].do for k, w in self.s.work.items()
                if w.running and k.step in by_id and by_id[k.step].hands == "free"]

    @property
    def hands(self) -> str:
        """inky or clean: the printer's own."""
        return "inky" if self.room.inky else "clean"

    @property
    def view(self) -> BenchView:
        """What the Bench shows."""
        seen = bench_view(self.room, self.clock.now())
        assert seen is not None
        return seen

    @property
    def sheets(self) -> tuple[Impression, ...]:
        """The impressions pulled."""
        return tuple(i for i in self.s.impressions if i.pulled)

    @property
    def packs(self) -> list[Pack]:
        """The packs, in the order put in."""
        return list(self.room.packs.values())

    def id_of(self, do: str) -> str:
        """The id of the step with these words."""
        found = next((k for k, x in self.s.shape.by_id.items() if x.do == do), None)
        assert found is not None, f"no step {do}"
        return found

    def key(self, do: str, impression: int | None = None, pack: str | None = None) -> TaskKey:
        """The key of a piece of work, by its words."""
        return TaskKey(self.id_of(do), impression, pack)

    def ended(self, do: str, impression: int | None = None) -> list[Attempt]:
        """Every attempt at a step that has ended."""
        id = self.id_of(do)
        return [w for w in self.s.history
                if w.key.step == id and impression in (None, w.key.impression)]

    def entries(self, kind: str | None = None) -> list[Entry]:
        """What is in the book, of one kind."""
        return [e for e in self.book.entries() if kind in (None, e.kind)]

    # -- what is done ---------------------------------------------------------

    def do(self, action: a.Action, session: str | None = None) -> Outcome:
        """Do it, whatever comes of it."""
        return self.shop.do(action, session=session)

    def say(self, action: a.Action, session: str | None = None) -> list[str]:
        """Do it, and hold that it was not refused; the kinds of its entries."""
        out = self.do(action, session)
        assert out.refusal is None, f"{action}: {out.refusal}"
        return [e.kind for e in out.entries]

    def refused(self, action: a.Action, session: str | None = None) -> Refusal:
        """Do it, and hold that it was refused and left nothing in the book."""
        before = self.book.last_sequence()
        out = self.do(action, session)
        assert out.refusal is not None, f"{action} was not refused"
        assert out.entries == ()
        assert self.book.last_sequence() == before
        return out.refusal

    def tread(self, times: int = 1) -> list[str]:
        """So many treads; the kinds of the last one's entries."""
        kinds: list[str] = []
        for _ in range(times):
            kinds = self.say(a.GoOn())
        return kinds

    def back(self) -> list[str]:
        """Undo the last action."""
        return self.say(a.TakeBack())

    def advance(self, minutes: float) -> list[str]:
        """Let time pass in one piece, and be noticed; the kinds of what it did."""
        self.clock.advance(round(minutes * MIN))
        return [e.kind for e in self.shop.tick().entries]

    def minutes(self, times: int) -> None:
        """Let so many minutes pass one by one."""
        for _ in range(times):
            self.advance(1)

    def work(self, do: str, minutes: float = 0) -> list[str]:
        """Hold that `do` is in hand, let it take so long, and end it with a tread."""
        assert self.hand == do, f"{self.hand} is in hand, not {do}"
        self.clock.advance(round(minutes * MIN))
        return self.tread()

    def works(self, steps: Iterable[str]) -> None:
        """Each of these in turn is in hand and ended."""
        for do in steps:
            self.work(do)

    def until(self, do: str, limit: int = 60) -> None:
        """Tread on until `do` is in hand; what must be answered is not said."""
        for _ in range(limit):
            if self.hand == do:
                return
            self.go()
        raise AssertionError(f"{do} never came; {self.hand} is in hand")

    def go(self) -> None:
        """One tread, or *not said* where a fact is asked."""
        out = self.do(a.GoOn())
        if out.refusal is not None and out.refusal.must:
            self.say(a.Must(None))
        else:
            assert out.refusal is None, str(out.refusal)

    def to_close(self, limit: int = 200) -> None:
        """Tread on until the session closes."""
        sid = self.s.id
        for _ in range(limit):
            if self.room.sessions[sid].closed is not None:
                return
            self.go()
        raise AssertionError("the session never closed")
