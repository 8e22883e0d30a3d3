"""One sheet in the register: what stands on it, where it is, and what is told of it differently.

Everything is frozen. What two books said of one sheet is kept side by side (`also`) until
the printer has said which is true.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.events import words as closed_words
from benchapp.events.entry import Moment

#: Places in the studio, and out of it. A thing that is lost may be in either.
IN_STUDIO: Final = ("boards", "drawer", "framed")
OUT: Final = ("gallery", "given", "sold")
LOST: Final = "lost"

#: What entries tell of a sheet: what stands on it, whether it is signed, whether it is destroyed,
#: and whether there is such a sheet. A correction tells of what it names alone.
BEARS: Final = closed_words.BEARS
SIGNED: Final = closed_words.SIGNED
DESTROYED: Final = closed_words.DESTROYED
KNOWN: Final = closed_words.KNOWN
WHOLE: Final = closed_words.ABOUT


@dataclass(frozen=True, slots=True)
class SheetLabel:
    """What stands on a sheet: kind, its number among them, and the total written beside it.

    `of` None: the total the edition has. It is set where the pencil said so: when the
    sheet was signed, or by a correction.
    """

    kind: str
    number: int | None = None
    of: int | None = None

    @property
    def claim(self) -> tuple[str, int | None]:
        """What two sheets cannot both be."""
        return self.kind, self.number


#: One book took the number back, another says it stands.
NOTHING: Final = SheetLabel("nothing")


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something was done that is not undone, and when."""

    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class Stay:
    """Where a sheet came to be.

    Attributes:
        place: boards, drawer, framed, gallery, given, sold, lost.
        at: When it was said.
        day: The day it happened, where the printer said so (ISO 8601).
        due: The day it is due back.
        terms: consignment, or sale or return.
        words: The printer's own words (to, when, note); they stay at home.
        action: The action that said it.
        id: The entry that said it.
        out: It is out of the studio so; of a lost one, it was when it was lost.
        last: Of a lost one, where it was last.
        past: Every entry its writer had seen of what the sheet is, and where.
        corrects: Where it was said to be and never was so, by entry; empty: it moved.
        why: Why that was wrong; None: it moved.
    """

    place: str
    at: Moment
    day: str | None = None
    due: str | None = None
    terms: str | None = None
    words: Mapping[str, str] = field(default_factory=dict)
    action: str = ""
    id: str = ""
    out: bool = False
    last: str | None = None
    past: frozenset[str] = frozenset()
    corrects: frozenset[str] = frozenset()
    why: str | None = None

    @property
    def said(self) -> tuple[str | None, ...]:
        """What two books can say differently of where a sheet is."""
        return self.place, self.terms, self.day, self.due


@dataclass(frozen=True, slots=True)
class SheetCorrection:
    """The book said something of a sheet that is not so, and now says what is.

    Attributes:
        was / now: What the book had on it, and what stands there; of `BEARS` alone.
        about: Which of what is told of a sheet it corrects.
        signed / destroyed / known: What is so instead; None: nothing is said of that.
    """

    was: SheetLabel | None
    now: SheetLabel | None
    why: str
    at: Moment
    about: frozenset[str] = WHOLE
    signed: bool | None = None
    destroyed: bool | None = None
    known: bool | None = None


@dataclass(frozen=True, slots=True)
class Reworded:
    """The printer's own words of some action were wrong, and are these.

    Attributes:
        id: The entry that says so.
        over: The actions whose words they replace, and the rewordings before.
    """

    id: str
    over: frozenset[str]
    words: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Telling:
    """What one entry tells of a sheet, in place of those it was written over.

    Attributes:
        id / action / at: The entry, the action it was part of, and when.
        past: Every entry its writer had seen, of this sheet and where it was said to be; of one
            that is destroyed to leave another its number, of that other too.
        bears: What stands on it; None: nothing.
        firm: It was looked at: that nothing stands there is said too.
        bare: That it is not signed is said too.
        openly: It was signed without a total, as of an open edition.
        signed: When it was signed; None: it is not.
        destroyed: Why it is no more; None: it is there.
        passed: Who passed it as the BAT, in the printer's words.
        gave: The actions in which it was given what it bears.
        about: What it tells of; a correction may tell of one thing alone.
        whole: That it is not destroyed is said too.
        absent: There is no such sheet: its line of an old paper was a mistake.
        line: The line of an old paper it is; two books that take in one line tell the same.
    """

    id: str
    action: str
    at: Moment
    past: frozenset[str] = frozenset()
    bears: SheetLabel | None = None
    firm: bool = False
    bare: bool = False
    openly: bool = False
    signed: Moment | None = None
    destroyed: Reason | None = None
    passed: tuple[str, ...] = ()
    gave: tuple[str, ...] = ()
    about: frozenset[str] = WHOLE
    whole: bool = False
    absent: bool = False
    line: tuple[object, ...] | None = None


@dataclass(frozen=True, slots=True)
class Holding:
    """One sheet in the register.

    Attributes:
        sheet / mark / session: Which it is; of a sheet known only from old papers the
            session is empty.
        tellings: What every entry told of it, by entry.
        latest: Those nobody has spoken over, of each thing that is told: one, unless two books
            told of it while apart.
        bears: What stands on it; None: nothing yet.
        also: What is told instead by a book that had not seen that.
        signed: When it was signed.
        destroyed: Why it is no more.
        absent: There is no such sheet.
        doubts: What one book says of it and another takes back: signed, destroyed, known.
        passed: Who passed it as the BAT; more than one where two books say so differently.
        papers: The old paper it is known from; None: it was pulled in a session.
        called: Of one known from old papers what it is called: its number, else its first name.
        places: Where it was said to be, in the order of the book.
        here: Of those what nobody has spoken over: one, unless two books moved it while apart.
        private: The printer's own words on it, by the action they were said in; they stay at
            home.
        reworded: Those that replace some of them, in the order of the book.
        shared: Another sheet of the book has the same mark: it is named with its day.
    """

    sheet: str
    mark: str
    session: str
    tellings: Mapping[str, Telling] = field(default_factory=dict)
    latest: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    bears: SheetLabel | None = None
    also: tuple[SheetLabel, ...] = ()
    signed: Moment | None = None
    destroyed: Reason | None = None
    absent: bool = False
    doubts: tuple[str, ...] = ()
    passed: tuple[str, ...] = ()
    papers: str | None = None
    places: tuple[Stay, ...] = ()
    here: tuple[str, ...] = ()
    corrections: tuple[SheetCorrection, ...] = ()
    private: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    reworded: tuple[Reworded, ...] = ()
    shared: bool = field(default=False, compare=False)
    called: str = field(default="", compare=False)

    @property
    def words(self) -> Mapping[str, str]:
        """The printer's own words on what it bears, as whose proof it is; of two books both."""
        return _joined(self._words_of(action, self.private.get(action, {}))
                       for action in self.gave)

    @property
    def gave(self) -> frozenset[str]:
        """The actions in which it was given what it bears."""
        return frozenset(a for t in self.telling_of(BEARS) for a in t.gave)

    def words_at(self, stay: Stay) -> Mapping[str, str]:
        """The printer's own words on where it is: of a place put right those said before."""
        own = self._words_of(stay.action, stay.words)
        if own or not stay.corrects or self.reworded_of(stay.action):
            return own
        return _joined(self.words_at(s) for s in self.places if s.id in stay.corrects
                       and same_side(s.place, stay.place))

    def reworded_of(self, action: str) -> tuple[Reworded, ...]:
        """What replaces the words of an action; more than one where two books say it."""
        over = {x for r in self.reworded for x in r.over}
        return tuple(r for r in self.reworded if action in r.over and r.id not in over)

    def _words_of(self, action: str, said: Mapping[str, str]) -> Mapping[str, str]:
        instead = self.reworded_of(action)
        return _joined(r.words for r in instead) if instead else said

    @property
    def claims(self) -> tuple[SheetLabel, ...]:
        """Everything that is said to stand on it."""
        return (*(() if self.bears is None else (self.bears,)),
                *(b for b in self.also if b != NOTHING))

    @property
    def over(self) -> tuple[str, ...]:
        """The entries that what is written of the sheet now is written over.

        Where two things are told of it, only a correction decides between them.
        """
        return self.here if self.also else self.all_told

    @property
    def perhaps_signed(self) -> bool:
        """Whether it is not known if it is signed: no old paper says so, and nobody has since."""
        return (self.papers is not None and self.signed is None
                and not any(t.bare for t in self.tellings.values()))

    @property
    def heads(self) -> tuple[str, ...]:
        """The entries that tell what it is, and that nobody has spoken over."""
        return tuple(dict.fromkeys(x for ids in self.latest.values() for x in ids))

    def telling_of(self, what: str) -> tuple[Telling, ...]:
        """Those among them that tell of this: one, unless two books told of it while apart."""
        return tuple(self.tellings[x] for x in self.latest.get(what, ()))

    @property
    def all_told(self) -> tuple[str, ...]:
        """The entries by which it is what it is and where it is."""
        return (*self.heads, *self.here)

    @property
    def meanwhile(self) -> tuple[tuple[Stay, Telling], ...]:
        """It was moved by one book while another, neither having seen the other, made it no more.

        Or, of one that left the studio, while another changed what it bears.
        """
        gone = [t for t in self.telling_of(DESTROYED) if t.destroyed is not None]
        return tuple(
            (s, t) for s in self.stays for t in dict.fromkeys((*gone, *self.telling_of(BEARS)))
            if s.id not in t.past and t.id not in s.past
            and (t in gone or (s.out and self._changed(s, t))))

    def _changed(self, stay: Stay, telling: Telling) -> bool:
        """Whether it bears something else than whoever moved it had seen on it."""
        known = [t for x in stay.past if (t := self.tellings.get(x)) and BEARS in t.about]
        last = [t for t in known if not any(t.id in other.past for other in known)]
        seen = {t.bears.claim for t in last if t.bears is not None}
        return bool(seen) and (telling.bears is None or telling.bears.claim not in seen)

    @property
    def stays(self) -> tuple[Stay, ...]:
        """Where it is said to be now, the last said last."""
        return tuple(sorted((s for s in self.places if s.id in self.here),
                            key=lambda s: (s.at.wall_ms, s.id)))

    @property
    def place(self) -> Stay | None:
        """Where it was last said to be."""
        return self.stays[-1] if self.here else None

    @property
    def astray(self) -> bool:
        """Whether two books say differently where it is; two that each gave it away do."""
        stays = self.stays if len(self.here) > 1 else ()
        # Two books that took in the same line of an old paper tell of one handing out; so do two
        # that put the same entry right.
        told = {s.corrects or frozenset({s.id}) for s in stays
                if s.place in OUT and (self.papers is None or s.past)}
        return len({s.said for s in stays}) > 1 or len(told) > 1

    @property
    def out(self) -> bool:
        """Whether it has left the studio and not come back, as far as is known."""
        return any(s.out for s in self.stays)


def same_side(one: str, other: str) -> bool:
    """Whether both places are in the studio, or both out of it: what is told of one may go on."""
    return any(one in side and other in side for side in (IN_STUDIO, OUT, (LOST,)))


def _joined(said: Iterable[Mapping[str, str]]) -> Mapping[str, str]:
    """Words by name; of two books both."""
    all_: dict[str, set[str]] = {}
    for words in said:
        for name, text in words.items():
            all_.setdefault(name, set()).add(text)
    return {name: " or ".join(sorted(texts)) for name, texts in all_.items()}
