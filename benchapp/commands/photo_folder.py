"""The command that goes through a folder of pictures: as a screen, or as a list with --yes."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    has_terminal,
    say,
    say_json,
    warn,
    write_book,
)
from benchapp.commands.picturing import photos_of, stays_home
from benchapp.commands.resolve import accept_answer, reading_editions, writing_editions
from benchapp.commands.screens import find_preferences, on_screen
from benchapp.quantities import QuantityError, items_text
from benchapp.service.photo_folder import (
    PhotoFolder,
    after_words,
    look_through,
    read_shift,
    shift_words,
    tie_to_sheets,
)
from benchapp.service.sessions import SessionService


def go_through_photos(arguments: Arguments) -> int:
    """Propose a sheet for each picture of a folder; tie those that are confirmed."""
    shift = _shift(arguments)
    folder = Path(arguments.folder).expanduser()
    if arguments.yes:
        return _tie(arguments, folder, shift)
    with reading_editions(arguments) as editions:
        found = look_through(editions, folder)
    if arguments.json or arguments.list or not has_terminal() or not found.pictures:
        _list(arguments, found, shift)
        return 0
    with write_book(arguments) as book:
        return on_screen(SessionService(book, SystemClock()), "photos", find_preferences(),
                         opening={"found": found, "photos": photos_of(arguments),
                                  "shift": shift})


def _shift(arguments: Arguments) -> timedelta | None:
    """How far the camera's clock is off, if the printer said so."""
    if arguments.clock is None:
        return None
    try:
        return read_shift(arguments.clock)
    except QuantityError as error:
        raise WrongUse(f"--clock: {error}") from None


def _tie(arguments: Arguments, folder: Path, shift: timedelta | None) -> int:
    """Tie what is sure: --yes confirms the list as `--list` shows it."""
    with writing_editions(arguments) as editions:
        found = look_through(editions, folder)
        proposed = found.propose(shift)
        ties = [(x, p.moment.sheet) for x, p in zip(found.pictures, proposed, strict=True)
                if p.sure and p.moment is not None]
        if ties:
            accept_answer(tie_to_sheets(editions, photos_of(arguments), ties))
        elif found.asks_clock and shift is None:
            raise Refused(f"Nothing was tied. {_ask_clock(found)}")
        if arguments.json:
            say_json("photos/1", _values(found, shift, tied={x.sha256 for x, _ in ties}))
            return 0
        _list(arguments, found, shift)
        say(f"{items_text(len(ties), 'picture')} tied, each to its sheet")
        kept = {x.facts.file_type for x, _ in ties}
        say(*stays_home(kept))
    return 0


def _list(arguments: Arguments, found: PhotoFolder, shift: timedelta | None) -> None:
    if arguments.json:
        say_json("photos/1", _values(found, shift, tied=set()))
        return
    say(f"{items_text(len(found.pictures), 'new picture')} in the folder, {found.tied} tied before")
    for x, p in zip(found.pictures, found.propose(shift), strict=True):
        mark = "no sheet" if p.moment is None else found.marks[p.moment.sheet]
        sure = "" if p.moment is None else "" if p.sure else ", not sure"
        why = "" if p.moment is None else f", {after_words(p)}"
        by = ", time of the file" if x.taken.by == "file" else ""
        say(f"  {mark}: {x.name}, {x.taken.text[:16].replace('T', ' ')}{by}{why}{sure}")
    warn(*(f"Left out: {x.why}" for x in found.others))
    if arguments.yes or not found.pictures:
        return
    if found.asks_clock and shift is None:
        say(_ask_clock(found))
    say("Nothing was tied. In a terminal you confirm the list by keys; --yes ties all that is "
        "sure.")


def _ask_clock(found: PhotoFolder) -> str:
    """What to say of the camera's clock, with what seems to be so."""
    guess = shift_words(found.guess)
    return f'Was the camera\'s clock right? It seems to be {guess}: add --clock "{guess}"'


def _values(found: PhotoFolder, shift: timedelta | None, *, tied: set[str]) -> dict[str, Any]:
    return {
        "clock": None if shift is None else shift_words(shift),
        "clock_guess": shift_words(found.guess) if found.asks_clock else None,
        "tied_before": found.tied, "left_out": [x.why for x in found.others],
        "pictures": [{
            "name": x.name, "sha256": x.sha256, "type": x.facts.file_type, "taken": x.taken.text,
            "taken_by": x.taken.by, "sheet": None if p.moment is None else p.moment.sheet,
            "mark": None if p.moment is None else found.marks[p.moment.sheet],
            "after_s": None if p.moment is None else int(p.after.total_seconds()),
            "sure": p.sure, "tied": x.sha256 in tied}
            for x, p in zip(found.pictures, found.propose(shift), strict=True)]}
