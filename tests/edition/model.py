"""A second, plain telling of an edition's rules, kept apart from the program's own.

It knows sheets by name and says beforehand whether an action is to be done; the
histories hold the register against it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from benchapp.edition import actions as a
from benchapp.edition.holding import SheetLabel
from benchapp.edition.state import Cap, Sheet
from tests.edition.support import START_MS, P, sheet

SIZE = 5
CAPS = {"AP": Cap(2), "HC": Cap(1, inside=True)}
FAR_MS = START_MS + 10**13

#: Six good sheets, one trial proof, one spoiled, and two pulled after any cancelling.
SHEETS: tuple[Sheet, ...] = (
    *(sheet(f"K{i}") for i in range(1, 7)), sheet("K7", purpose="TP"),
    sheet("K8", verdict="spoiled"), sheet("L1", pulled_ms=FAR_MS), sheet("L2", pulled_ms=FAR_MS))
NAMES = tuple(s.id for s in SHEETS)
CP = "cancellation proof"
SINGLE = ("BAT", CP)


@dataclass
class Model:
    """The edition as somebody with a pencil and squared paper would keep it."""

    size: int = SIZE
    bears: dict[str, tuple[str, int | None]] = field(default_factory=dict)
    signed: set[str] = field(default_factory=set)
    destroyed: set[str] = field(default_factory=set)
    void: set[int] = field(default_factory=set)
    corrected: set[str] = field(default_factory=set)
    out: dict[str, str] = field(default_factory=dict)
    cancelled: bool = False

    def copy(self) -> Model:
        """Another sheet of squared paper."""
        return Model(self.size, dict(self.bears), set(self.signed), set(self.destroyed),
                     set(self.void), set(self.corrected), dict(self.out), self.cancelled)

    # -- what is asked of the paper ------------------------------------------------

    def used(self, kind: str = "edition") -> list[int]:
        """The numbers of a kind that stand somewhere."""
        return [n for k, n in self.bears.values() if k == kind and n is not None]

    def full(self, size: int) -> int:
        """How many of N are gone."""
        hc = sum(1 for k, _ in self.bears.values() if k == "HC")
        return len(set(self.used()) | {v for v in self.void if v <= size}) + hc

    def fixed(self) -> bool:
        """Whether something of the edition is signed."""
        return any(s in self.signed and k not in (*SINGLE, "progressive")
                   for s, (k, _) in self.bears.items())

    def next(self) -> int:
        """Highest and one, void ones passed over."""
        n = max(self.used(), default=0) + 1
        while n in self.void:
            n += 1
        return n

    def late(self, s: str) -> bool:
        """Pulled from a cancelled plate."""
        return self.cancelled and s.startswith("L")

    def void_one(self, s: str) -> bool:
        """Whether the number on the sheet is void."""
        kind, n = self.bears.get(s, ("", None))
        return kind == "edition" and n in self.void

    def open(self, s: str) -> bool:
        """What the sheet is to be can still be said."""
        return s not in self.destroyed and s not in self.signed

    # -- the actions ---------------------------------------------------------------

    def act(self, action: a.Action) -> bool:
        """Whether it is done; and then the paper says so."""
        after = self.copy()
        if not getattr(after, "_" + type(action).__name__.lower())(action):
            return False
        self.__dict__.update(after.__dict__)
        return True

    def _drop(self, s: str) -> bool:
        if s in self.bears and self.out.get(s) in ("gallery", "given", "sold"):
            return False
        self.bears.pop(s, None)
        return True

    def _givenumbers(self, x: a.GiveNumbers) -> bool:
        for s, n in x.pairs:
            kind, had = self.bears.get(s, ("", None))
            same = kind == "edition" and n in (None, had) and not self.void_one(s)
            if (not self.open(s) or self.late(s) or s in ("K7", "K8") or kind == "BAT" or same):
                return False
        if len({s for s, _ in x.pairs}) < len(x.pairs):
            return False
        if not all(self._drop(s) for s, _ in x.pairs):
            return False
        return all(self._number(s, n) for s, n in x.pairs)

    def _number(self, s: str, n: int | None) -> bool:
        n = self.next() if n is None else n
        if not 1 <= n <= self.size or n in self.used() or n in self.void:
            return False
        if self.full(self.size) >= self.size:
            return False
        self.bears[s] = ("edition", n)
        return True

    def _giveproof(self, x: a.GiveProof) -> bool:
        s, kind = x.sheet, x.kind
        if not self.open(s) or s == "K8" or self.bears.get(s, ("",))[0] == kind:
            return False
        borne = any(k == kind for k, _ in self.bears.values())
        if kind == CP:
            if not self.cancelled or borne:
                return False
        elif self.late(s) or (kind == "BAT" and borne):
            return False
        if not self._drop(s) or (kind == "HC" and self.full(self.size) >= self.size):
            return False
        number = None if kind in SINGLE else max(self.used(kind), default=0) + 1
        self.bears[s] = (kind, number)
        return True

    def _takenumberback(self, x: a.TakeNumberBack) -> bool:
        return self.open(x.sheet) and x.sheet in self.bears and self._drop(x.sheet)

    def _sign(self, x: a.Sign) -> bool:
        for s in x.sheets:
            if not self.open(s) or self.void_one(s) or (s not in self.bears and s != "K7"):
                return False
            self.signed.add(s)
        return True

    def _voidnumber(self, x: a.VoidNumber) -> bool:
        on = [s for s, b in self.bears.items() if b == ("edition", x.number)]
        if x.number in self.void or len(on) > 1 or any(s in self.destroyed for s in on):
            return False
        if not on and (not 1 <= x.number <= self.size or self.full(self.size) >= self.size):
            return False
        self.void.add(x.number)
        return True

    def _destroy(self, x: a.Destroy) -> bool:
        if x.sheet in self.destroyed:
            return False
        self.destroyed.add(x.sheet)
        return True

    def _lower(self, x: a.Lower) -> bool:
        least = max([*self.used(), self.full(x.size), CAPS["HC"].cap])
        if self.fixed() or not 1 <= x.size < self.size or x.size < least:
            return False
        self.size = x.size
        return True

    def _declare(self, x: a.Declare) -> bool:
        size = x.size or 0
        if self.fixed() or self.cancelled or size < self.size or max(self.used(),
                                                                     default=0) > size:
            return False
        self.size = size
        return True

    def _cancelplate(self, x: a.CancelPlate) -> bool:
        done, self.cancelled = self.cancelled, True
        return not done

    def _correct(self, x: a.Correct) -> bool:
        new = None if x.bears is None else x.bears.claim
        if self.bears.get(x.sheet) == new:
            return False
        self.bears.pop(x.sheet, None)
        if new is not None:
            self.bears[x.sheet] = new
        self.corrected.add(x.sheet)
        return True

    def _handout(self, x: a.HandOut) -> bool:
        if x.sheet in self.destroyed or self.out.get(x.sheet) in ("given", "sold"):
            return False
        self.out[x.sheet] = x.place
        return True

    def _takein(self, x: a.TakeIn) -> bool:
        return x.sheet not in self.destroyed and self.out.pop(x.sheet, None) is not None


def correction(s: str, n: int | None) -> a.Correct:
    """The pencil says so."""
    return a.Correct(P, s, None if n is None else SheetLabel("edition", n), "looked")
