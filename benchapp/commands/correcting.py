"""The command that puts right what the book says of a sheet: one meaning at a time."""

from __future__ import annotations

from typing import Final

from benchapp.commands.context import Arguments, Refused, WrongUse, say, say_json
from benchapp.commands.resolve import (
    accept_answer,
    confirm_or_stop,
    label_of,
    print_meant,
    reading_editions,
    sheets_meant,
    total_fits,
    writing_editions,
)
from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition import corrections as c
from benchapp.edition.conflicts.finding import settled_clashes
from benchapp.edition.naming import split_names
from benchapp.edition.numbers import label_text, sheet_words
from benchapp.edition.parse import read_pencilled_number
from benchapp.edition.state import NUMBERED
from benchapp.edition.view import found_sheet
from benchapp.events.moments import local_time
from benchapp.quantities import QuantityError
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session.actions import SayFor
from benchapp.session.edition_links import of_sheet

_SEEN: Final = "The record keeps what it said before; you can correct it again"


def correct_sheet(arguments: Arguments) -> int:
    """Put one thing right about a sheet, or list what can be wrong about it."""
    said = c.split_correction(arguments.words)
    if said is None:
        return _list(arguments)
    name, wrong, words = said
    if arguments.why is None:
        raise WrongUse(f"Say why: benchapp correct {' '.join(arguments.words)} --why WORDS")
    with writing_editions(arguments) as editions:
        if wrong in (c.IS_VOID, c.NOT_VOID) and (n := read_pencilled_number(name)) is not None:
            return _void(editions, arguments, name, n, wrong)
        if wrong in (c.NOT_CANCELLED, c.NOT_SETTLED):
            return _by_mistake(editions, arguments, name, wrong)
        print_, sheets = sheets_meant(editions, [name], arguments.print_)
        sheet = sheets[0]
        try:
            words = c.day_text(wrong, words, local_time(editions.clock.now()).date())
        except QuantityError as error:
            raise WrongUse(str(error)) from None
        pulled = c.read_pulled_for(words) if wrong == c.PURPOSE else None
        if pulled is not None and sheet in editions.register.sheets:
            return _pulled_for(editions, arguments, print_, sheet, *pulled)
        action = c.correction_of(editions.register, print_, sheet, wrong, words, arguments.why)
        if isinstance(action, Refusal):
            raise (WrongUse if action.rule == "use" else Refused)(str(action))
        what = _what(editions, print_, sheet, wrong, words, action)
        _do(editions, arguments, action, f"{what}.", wrong)
        kept = wrong in (c.TO, c.NOTE, c.WHOSE) and not arguments.private
        return _told(editions, arguments, print_, sheet, what,
                     "Your own words are changed, and they stay at home (--private shows them)"
                     if kept else "")


def _do(editions: EditionService, arguments: Arguments, action: a.Action, what: str,
        wrong: c.Wrong) -> None:
    refused = editions.would(action).refusal
    if refused is not None:
        raise Refused(str(refused))
    if wrong.grave:
        confirm_or_stop(arguments, f"Record that {what}", _SEEN)
    accept_answer(editions.do(action))


def _what(editions: EditionService, print_: str, sheet: str, wrong: c.Wrong, words: str,
          action: a.Action) -> str:
    """`12/40, signed, is not destroyed`: the sheet as the book has it, and what is so."""
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet) or e.withdrawn.get(sheet)
    known = held or editions.register.sheets[sheet]
    name = sheet_words(known)
    if held is not None and held.bears is not None and held.papers is None:
        name += f", {label_text(e, held.bears)},"
    if isinstance(action, a.Correct) and action.bears is not a.AS_IT_IS:
        if action.bears is None:
            return f"{name} has nothing pencilled on it" if wrong == c.NOT_NUMBERED else (
                f"{name} is {wrong.words}")
        return f"{name} is {label_text(e, action.bears)}"
    if wrong == c.NO_SUCH:
        return f"there is no sheet {name}"
    if wrong in (c.IS_VOID, c.NOT_VOID):
        return f"the number of {name} is {wrong.words}"
    return f"{name} is {wrong.words}" if wrong.asks == "nothing" else (
        f"{name}: {wrong.words} {words}".rstrip())


def _void(editions: EditionService, arguments: Arguments, name: str, number: int,
          wrong: c.Wrong) -> int:
    """A number, whether or not a sheet has it."""
    print_ = print_meant(editions, arguments.print_)
    total_fits(editions.register.edition(print_), name)
    action = (a.VoidNumber if wrong == c.IS_VOID else a.UnvoidNumber)(print_, number, arguments.why)
    what = f"{label_of(editions, print_, NUMBERED, number)} is {wrong.words}"
    _do(editions, arguments, action, f"{what}.", wrong)
    if arguments.json:
        say_json("correct/1", {"print": editions.title(print_)[0], "sheet": None, "number": number,
                  "what": what, "why": arguments.why})
    else:
        say(f"{what}: {arguments.why}")
    return 0


def _by_mistake(editions: EditionService, arguments: Arguments, name: str, wrong: c.Wrong) -> int:
    """The plate of a print is not cancelled, or a clash is not settled."""
    print_ = print_meant(editions, arguments.print_)
    title = editions.title(print_)[0]
    thing, _, words = name.partition(" ")
    if wrong == c.NOT_CANCELLED:
        if thing != "plate":
            raise WrongUse("Write: benchapp correct plate not cancelled --why WORDS")
        action = a.ByMistake(print_, "plate cancelled", None, arguments.why)
        what = f"the plate of {title} is not cancelled"
    else:
        if thing != "clash":
            raise WrongUse("Write some words of the clash: benchapp correct clash WORDS not "
                           "settled --why WORDS")
        known = settled_clashes(editions.register, print_)
        found_ = [x for x in known if words.casefold() in x.text.casefold()]
        if len(found_) != 1:
            raise Refused("No clash is settled" if not known else
                          "Write words of one settled clash alone: "
                          + "; ".join(x.text for x in known))
        action = a.ByMistake(print_, "clash settled", found_[0].key, arguments.why)
        what = f"not settled: {found_[0].text}"
    _do(editions, arguments, action, f"{what}.", wrong)
    if arguments.json:
        say_json("correct/1", {"print": title, "sheet": None, "what": what, "why": arguments.why})
    else:
        say(f"{what}: {arguments.why}")
    return 0


def _pulled_for(editions: EditionService, arguments: Arguments, print_: str, sheet: str,
                purpose: str, state: str | None) -> int:
    """What the pull was for is told in its session, also after that was closed."""
    held = editions.register.edition(print_).holdings.get(sheet)
    if held is not None and held.bears is not None and purpose != NUMBERED:
        name = sheet_words(held)
        raise Refused(f"{name} is {label_text(editions.register.edition(print_), held.bears)}; "
                      f"if it is not, say that first: benchapp correct {name} not numbered")
    of = of_sheet(sheet)
    if of is None:
        raise Refused(f"{sheet} was not pulled in a session; what it was pulled for is not known")
    known = editions.register.sheets[sheet]
    what = f"{sheet_words(known)} was pulled for {purpose} {state or ''}".strip()
    if known.purpose == purpose and state in (None, known.state):
        raise Refused(f"The book already says that of {sheet_words(known)}; there is "
                      "nothing to correct")
    confirm_or_stop(arguments, f"Record that {what}, not for {known.purpose}.", _SEEN)
    workshop = SessionService(editions.book, editions.clock)
    workshop.look_at(of[0])
    outcome = workshop.do(SayFor(purpose, state, of[1], arguments.why), session=of[0])
    if outcome.refusal is not None:
        raise Refused(str(outcome.refusal))
    editions.load()
    return _told(editions, arguments, print_, sheet, what, f"corrected: {what}")


def _told(editions: EditionService, arguments: Arguments, print_: str, sheet: str, what: str,
          also: str = "") -> int:
    """The sheet as the book has it now, and what was put right about it."""
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet) or e.withdrawn.get(sheet)
    now = None if held is None else found_sheet(e, held, private=arguments.private)
    text = what if now is None else now.text
    corrected = () if now is None else now.corrected
    if arguments.json:
        say_json("correct/1", {"print": editions.title(print_)[0], "sheet": sheet, "what": what,
                  "why": arguments.why, "text": text, "corrections": list(corrected)})
    else:
        say(text, *(f"  {x}" for x in (*corrected, also) if x))
    return 0


def _list(arguments: Arguments) -> int:
    """What can be wrong about the sheet; nothing is written."""
    name, *other = split_names(arguments.words)
    with reading_editions(arguments) as editions:
        print_, sheets = sheets_meant(editions, [name], arguments.print_)
        e = editions.register.edition(print_)
        held = e.holdings.get(sheets[0]) or e.withdrawn.get(sheets[0])
        known = held or editions.register.sheets[sheets[0]]
        lines = [f"{' '.join(other)} is not something you can correct"] if other else []
        lines += [f"Nothing is recorded of {sheet_words(known)} yet" if held is None
                 else found_sheet(e, held).text]
        lines += [f"  {w.words}{_ASKS[w.asks]}: {w.text}"
                  for w in c.can_be_wrong(editions.register, print_, sheets[0])]
    raise WrongUse("\n".join([*lines, "Write what is true: benchapp correct "
                              f"{name} WHAT --why WORDS"]))


_ASKS: Final = {"nothing": "", "number": " N", "kind": " KIND", "pulled for": " WORD",
                "place": " PLACE", "day": " DATE", "words": ' "…"'}
