"""A folder of pictures, each with the sheet it seems to show; nothing is tied before it is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.decision import Refusal
from benchapp.edition.actions import TiePictures
from benchapp.edition.naming import print_of_sheet
from benchapp.edition.numbers import sheet_words
from benchapp.edition.pictures import PictureSubject
from benchapp.pictures import TakenTime
from benchapp.pictures.matching import (
    PictureProposal,
    SheetMoment,
    guess_shift,
    has_zone,
    propose_sheets,
)
from benchapp.quantities import QuantityError, quote_text, read_duration
from benchapp.service.editions import EditionService
from benchapp.service.outcome import Outcome
from benchapp.service.pictures import (
    FoundPicture,
    NoPicture,
    all_pictures,
    keep_files,
    look_at_files,
    moments_near,
)

#: How a printer says that a camera's clock was wrong.
HOW_TO_SAY_CLOCK: Final = "write right, or how much it is off: 1 h ahead, 20 min behind"
#: Days are looked for so far from the times of pictures.
_MOST_OFF: Final = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class PhotoFolder:
    """What is in a folder of pictures.

    Attributes:
        pictures: Those that are tied to nothing yet, by when they were taken.
        tied: How many of its pictures are tied to something already.
        others: Its files that are no pictures, or are refused.
        moments: When sheets were pulled and looked at around these times.
        marks: What each of these sheets is called, in the order pulled.
    """

    pictures: tuple[FoundPicture, ...]
    tied: int
    others: tuple[NoPicture, ...]
    moments: tuple[SheetMoment, ...]
    marks: Mapping[str, str]

    @property
    def times(self) -> tuple[TakenTime, ...]:
        """When they were taken."""
        return tuple(x.taken for x in self.pictures)

    @property
    def asks_clock(self) -> bool:
        """Whether somebody has to say that the camera's clock was right."""
        return bool(self.moments) and any(not has_zone(t) for t in self.times)

    @property
    def guess(self) -> timedelta:
        """What has to be added to the camera's times, as it seems."""
        return guess_shift(self.times, self.moments)

    def propose(self, shift: timedelta | None) -> tuple[PictureProposal, ...]:
        """For each picture the sheet it seems to show; `shift`: None: nobody said."""
        return propose_sheets(self.times, self.moments, shift=shift)


def look_through(editions: EditionService, folder: Path) -> PhotoFolder:
    """Read the pictures in a folder, and what happened when they were taken.

    Raises:
        FileProblem: It is no folder, cannot be read, or has too many files.
    """
    found = list(look_at_files(files.list_files(folder)))
    tied = {x.picture for _, x in all_pictures(editions)}
    all_ = {x.sha256: x for x in found if isinstance(x, FoundPicture)}
    new = sorted((x for x in all_.values() if x.sha256 not in tied),
                 key=lambda x: (x.taken.at.replace(tzinfo=None), x.name))
    moments = moments_near(editions, (x.taken for x in new))
    first: dict[str, SheetMoment] = {}
    for m in sorted(moments, key=lambda m: m.at):
        first.setdefault(m.sheet, m)
    sheets = editions.register.sheets
    return PhotoFolder(tuple(new), len(all_) - len(new),
                       tuple(x for x in found if isinstance(x, NoPicture)), moments,
                       {s: sheet_words(sheets[s]) for s in first})


def tie_to_sheets(editions: EditionService, photos: Path,
                  ties: Sequence[tuple[FoundPicture, str]]) -> Outcome:
    """Copy pictures beside the book and tie each to its sheet: all of them, or none.

    Args:
        editions: Of the book.
        photos: Where pictures are kept.
        ties: Each picture with the id of its sheet.

    Raises:
        FileProblem: One cannot be read or copied; nothing was tied then.
        BookError: The book cannot be written.
    """
    by_sheet: dict[str, list[FoundPicture]] = {}
    for picture, sheet in ties:
        by_sheet.setdefault(sheet, []).append(picture)
    actions = []
    for sheet, pictures in by_sheet.items():
        print_ = print_of_sheet(editions.register, sheet)
        if print_ is None:
            return Outcome(refusal=Refusal(f"No print is known of the sheet {sheet}",
                                           "tie its pictures with: benchapp photo", rule="sheet"))
        about = PictureSubject(sheet=sheet)
        actions.append(TiePictures(print_, about, tuple(x.tied_to(about) for x in pictures)))
    for action in actions:
        would = editions.would(action)
        if not would.ok:
            return would
    keep_files(photos, (x for x, _ in ties))
    done = Outcome()
    for action in actions:
        done = editions.do(action)
        if not done.ok:
            break
    return done


def shift_words(shift: timedelta) -> str:
    """How a camera's clock was wrong: `1 h behind`; `right`. A shift is what is to be added."""
    minutes = round(abs(shift).total_seconds() / 60)
    if not minutes:
        return "right"
    hours, rest = divmod(minutes, 60)
    size = " ".join(x for x in (f"{hours} h" if hours else "", f"{rest} min" if rest else "") if x)
    return f"{size} {'behind' if shift > timedelta(0) else 'ahead'}"


def after_words(proposal: PictureProposal) -> str:
    """How long after what: `4 min after it was pulled`; empty: nothing is near."""
    if proposal.moment is None:
        return "no sheet near that time"
    minutes = int(proposal.after.total_seconds() // 60)
    long = "less than 1 min" if not minutes else f"{minutes} min" if minutes < 120 else (
        f"{minutes // 60} h {minutes % 60} min")
    return f"{long} after it was {proposal.moment.what}"


def read_shift(text: str) -> timedelta:
    """What has to be added to a camera's times: from `right`, `1 h ahead` or `20 min behind`.

    Raises:
        QuantityError: It is none of them, or is more than two days.
    """
    words = text.strip().lower()
    if words == "right":
        return timedelta(0)
    size, _, way = words.rpartition(" ")
    if way not in ("ahead", "behind"):
        raise QuantityError(f"{quote_text(text)} says nothing of a clock", HOW_TO_SAY_CLOCK)
    by = timedelta(milliseconds=read_duration(size).ms)
    if by > _MOST_OFF:
        raise QuantityError("The clock of the camera is off by more than 2 days",
                            "tie its pictures to their sheets with: benchapp photo")
    return by if way == "behind" else -by
