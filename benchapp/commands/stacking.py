"""The command of the boards: the list for all stacks, changes made or left, and the calendar."""

from __future__ import annotations

from datetime import UTC, datetime

from benchapp import files
from benchapp.commands.context import Arguments, Refused, WrongUse, say, say_json
from benchapp.commands.exports import write_out
from benchapp.commands.pipes import say_written
from benchapp.commands.resolve import (
    accept_answer,
    confirm_or_stop,
    reading_editions,
    resolve_sheet,
    writing_editions,
)
from benchapp.commands.screens import find_preferences
from benchapp.drying import actions as b
from benchapp.drying.stacks import Stack, wall_time
from benchapp.quantities import QuantityError, point_for_comma, read_mass
from benchapp.reports.drying import (
    StackReport,
    boards_lines,
    boards_report,
    drying_events,
    stacks_in_use,
)
from benchapp.reports.ical import calendar_text
from benchapp.service.editions import EditionService, hours_of


def show_boards(arguments: Arguments) -> int:
    """List the stacks, write them as a calendar, or say what was done to one."""
    if _says(arguments):
        with writing_editions(arguments) as editions:
            _by_hours(editions)
            action = _action(editions, arguments)
            if arguments.down:
                confirm_or_stop(arguments,
                                f"Take down {editions.boards.stacks[action.stack].name}: these "
                                "boards are empty now.")
            accept_answer(editions.on_boards(action))
            _show(editions, arguments)
        return 0
    if arguments.why is not None:
        raise WrongUse("--why says why a change is left; write --left with it")
    with reading_editions(arguments) as editions:
        _by_hours(editions)
        if arguments.ics is None:
            _show(editions, arguments)
        else:
            _calendar(editions, arguments)
    return 0


def _says(arguments: Arguments) -> bool:
    return any((arguments.changed, arguments.left, arguments.down, arguments.lift, arguments.lay,
                arguments.weight, arguments.weigh))


def _by_hours(editions: EditionService) -> None:
    """Go by the printer's own hours."""
    editions.hours = hours_of(find_preferences())


def _chosen() -> datetime | None:
    """When the preferences were last written; None: nobody wrote any, and no hours."""
    try:
        return datetime.fromtimestamp(int(files.preferences_file().stat().st_mtime), UTC)
    except (OSError, ValueError, OverflowError):
        return None


def _now(editions: EditionService) -> datetime:
    return wall_time(editions.clock.now())


def _show(editions: EditionService, arguments: Arguments) -> None:
    now = _now(editions)
    if arguments.json:
        say_json(StackReport.FORMAT, boards_report(editions.boards, now, editions.hours))
        return
    say(*(boards_lines(editions.boards, now, editions.hours) or ["Nothing is under boards."]))


def _calendar(editions: EditionService, arguments: Arguments) -> None:
    text = calendar_text(drying_events(editions.boards, editions.hours, _chosen()))
    write_out(arguments.ics, text, arguments)
    say_written(arguments.ics, f"Written: {arguments.ics}")


def _action(editions: EditionService, arguments: Arguments) -> b.Action:
    if arguments.lift is not None:
        return _lift(editions, arguments.lift)
    if arguments.weigh is not None:
        said, mass = arguments.weigh
        lifted = _lift(editions, said)
        return b.Weigh(lifted.stack, lifted.sheet, _mg(mass))
    stack = _stack(editions, arguments.stack)
    if arguments.lay is not None:
        sheet = resolve_sheet(editions, arguments.lay)
        known = editions.register.sheets.get(sheet)
        return b.Lay(stack.id, ((sheet, "" if known is None else known.mark),))
    if arguments.weight is not None:
        grams = _mg(arguments.weight) // 1000
        return b.Weight(stack.id, grams or None)
    if arguments.down:
        return b.TakeDown(stack.id)
    if arguments.left:
        return b.SkipChange(stack.id, arguments.why or "")
    return b.Changed(stack.id)


def _lift(editions: EditionService, said: str) -> b.Lift:
    sheet = resolve_sheet(editions, said)
    stack = next((s for s in editions.boards.up if any(x.sheet == sheet for x in s.sheets)), None)
    if stack is None:
        raise Refused(f"{said} is not under boards")
    return b.Lift(stack.id, sheet)


def _mg(said: str) -> int:
    """A mass in whole milligrams.

    Raises:
        WrongUse: It is none.
    """
    try:
        return round(read_mass(point_for_comma(said)).g * 1000)
    except QuantityError as error:
        raise WrongUse(str(error)) from None


def _stack(editions: EditionService, said: str | None) -> Stack:
    """The stack of that place in the list, or with those words in its name.

    Raises:
        Refused: There is none, or it is not clear which.
    """
    stacks = stacks_in_use(editions.boards, _now(editions))
    if not stacks:
        raise Refused("Nothing is under boards")
    if said is None and len(stacks) == 1:
        return stacks[0]
    names = "; ".join(f"{n} {s.name}" for n, s in enumerate(stacks, 1))
    if said is None:
        raise Refused(f"Say which stack: {names}")
    if said.isascii() and said.isdigit() and 1 <= int(said[:9]) <= len(stacks):
        return stacks[int(said) - 1]
    found = [s for s in stacks if said.casefold() in s.name.casefold() or said == s.id]
    if len(found) != 1:
        raise Refused(f"{'No stack' if not found else 'More than one stack'} is called {said}; "
                      f"there are {names}")
    return found[0]
