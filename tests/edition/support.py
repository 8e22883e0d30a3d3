"""A register for tests: sheets made up, a clock that is told, actions folded as from disk."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.clock import FakeClock
from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.decide import (
    apply_edition_entry,
    as_if,
    decide_edition,
    edition_action_word,
    replay_register,
    with_sheets,
)
from benchapp.edition.holding import Holding
from benchapp.edition.state import Cap, Edition, Register, Sheet
from benchapp.edition.warnings import edition_warnings
from benchapp.events.entry import Entry
from benchapp.events.kinds import KINDS
from benchapp.events.streams import stream_family

P = "slack water"
DAY = "2026-05-03"
START_MS = 1_777_795_200_000  # 2026-05-03 08:00 UTC
HOUR = 3_600_000


def sheet(mark: str, session: str = DAY, **said: object) -> Sheet:
    """A sheet as the sessions would tell of it: `K7` of 3 May, kept, over the key plate."""
    told = {"print": P, "verdict": "keep", "pulled_ms": START_MS - HOUR, "plates": ("key",), **said}
    return Sheet(str(told.pop("id", mark)), mark, session, **told)


def declared(size: int | None = 30, **said: object) -> a.Declare:
    """The edition of the tests."""
    told = {"caps": {"AP": Cap(3), "PP": Cap(1)}, **said}
    return a.Declare(P, "Slack Water", "Wren Halloran", size, **told)


class Studio:
    """Actions decided, written and folded; everything written stays to be replayed."""

    def __init__(self, *sheets: Sheet, origin: str = "home", book: Iterable[Entry] = ()) -> None:
        """A book of that origin, with those sheets pulled and those entries already in it."""
        self.clock = FakeClock(START_MS)
        self.entries = list(book)
        self.register = replay_register(self.entries, origin, {s.id: s for s in sheets})
        self.written = 0

    @property
    def e(self) -> Edition:
        """The edition of the tests."""
        return self.register.edition(P)

    def held(self, sheet: str) -> Holding:
        """A sheet in its register."""
        return self.e.holdings[sheet]

    def pull(self, *sheets: Sheet) -> None:
        """More sheets were pulled."""
        self.register = with_sheets(self.register, [*self.register.sheets.values(), *sheets])

    def try_(self, action: a.Action) -> Refusal | None:
        """Do it; the refusal, where there is one."""
        now = self.clock.advance(1000)
        decided = decide_edition(self.register, action, now)
        if isinstance(decided, Refusal):
            return decided
        self.written += 1
        name = f"{self.register.origin}:{self.written}"
        for place, draft in enumerate(decided):
            kind = KINDS[stream_family(draft.stream), draft.kind]
            assert set(kind.fields) <= set(draft.body) <= {*kind.fields, *kind.optional}
            entry = Entry(f"{name}.{place}", draft.stream, len(self.entries) + 1, name,
                          edition_action_word(action), draft.kind, now, draft.body)
            self.entries.append(entry)
            self.register = apply_edition_entry(self.register, entry)
        return None

    def do(self, *actions: a.Action) -> None:
        """Do them; none may be refused."""
        for action in actions:
            refusal = self.try_(action)
            assert refusal is None, f"{action}: {refusal}"

    def no(self, action: a.Action) -> Refusal:
        """Do it; it must be refused, and change nothing."""
        before = self.register
        refusal = self.try_(action)
        assert refusal is not None, f"{action} was done"
        assert self.register == before
        return refusal


def warned(studio: Studio, action: a.Action) -> tuple[str, ...]:
    """What is said of an action that may be done, none of it done."""
    now = studio.clock.now()
    decided = decide_edition(studio.register, action, now)
    assert not isinstance(decided, Refusal), decided
    return edition_warnings(studio.register, action, as_if(studio.register, decided, now))


def texts(register: Register) -> list[str]:
    """The clashes of the edition, as they are said."""
    return [c.text for c in unsettled_clashes(register, P)]


def number(sheet: str, n: int | None = None) -> a.GiveNumbers:
    """One sheet numbered."""
    return a.GiveNumbers(P, ((sheet, n),))


def sign(*sheets: str) -> a.Sign:
    """A sitting."""
    return a.Sign(P, sheets)


def studio(n: int = 5, **said: object) -> Studio:
    """A declared edition and sheets K1 … Kn."""
    s = Studio(*(sheet(f"K{i}") for i in range(1, n + 1)))
    s.do(declared(**said))
    return s
