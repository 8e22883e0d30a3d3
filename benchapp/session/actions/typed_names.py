"""What the names in a line stand for: sheets by mark or number, steps, plates, times. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from benchapp.quantities import QuantityError, point_for_comma, read_count, read_duration
from benchapp.recipe.model import Step
from benchapp.session.actions.typed import (
    NotUnderstood,
    ParseContext,
    choose_word,
    join_choices,
    nearest_words,
)
from benchapp.session.annotate import in_hand, last_pulled
from benchapp.session.coming import coming_inky
from benchapp.session.marks import read_mark
from benchapp.session.names import step_of
from benchapp.session.next_steps import before_over
from benchapp.session.state import Session, TaskKey
from benchapp.session.step_control import choosable_tasks, choosable_then

#: A sheet: the session it belongs to (None: the one on the Bench) and its ordinal there.
Sheet = tuple[str | None, int]

#: No time takes more words than `1 week 2 days 3 h 4 min 5 s`.
_TIME_WORDS = 10


def match_sheet(ears: ParseContext, said: str, *, numbers: bool = True) -> Sheet | None:
    """The sheet a word names by its mark, or by its number on the Bench; None: no sheet's name.

    Raises:
        NotUnderstood: It is a mark or a number, and no sheet bears it.
    """
    s = ears.s
    if said.isascii() and said.isdigit():
        if not numbers:
            return None
        found = next((i for i in s.impressions if i.number == int(said)), None)
        if found is None:
            raise NotUnderstood(f"No sheet has the number {said}; {_sheets(s)}")
        return None, found.ordinal
    here = _by_mark(s, said)
    if here is not None:
        return None, here
    mark = read_mark(said)
    for other in ears.room.sessions.values():
        if other.id != s.id and (there := _by_mark(other, said)) is not None:
            return other.id, there
    if mark is None:
        return None
    elsewhere = ears.bearer(mark)
    there = None if elsewhere is None else _by_mark(elsewhere, mark)
    if elsewhere is None or there is None:
        raise NotUnderstood(f"No sheet has the mark {mark}; {_sheets(s)}")
    return elsewhere.id, there


def _by_mark(s: Session, said: str) -> int | None:
    """The ordinal of the sheet that bears a mark, as typed or in its one spelling."""
    spelt = {said.casefold(), (read_mark(said) or said).casefold()}
    return next((i.ordinal for i in s.impressions
                 if i.mark is not None and i.mark.casefold() in spelt), None)


def _sheets(s: Session) -> str:
    marks = [i.mark for i in s.impressions if i.mark is not None]
    return f"there are {join_choices(marks)}" if marks else "none is pulled yet"


def first_sheet(ears: ParseContext, rest: str, *, numbers: bool = True,
                alone: bool = False) -> tuple[Sheet | None, str]:
    """The sheet named at the beginning of `rest`, if one is, and what follows it: `K7: torn`.

    Args:
        ears: What it is understood by.
        rest: What follows the word.
        numbers: Whether a number may name a sheet here.
        alone: Whether the name may be all there is.
    """
    head, _, tail = rest.partition(" ")
    if not head or (not tail.strip() and not alone):
        return None, rest
    try:
        found = match_sheet(ears, head.removesuffix(":"), numbers=numbers)
    except NotUnderstood:
        if alone:
            raise
        return None, rest  # the text begins with what only looks like a mark
    return (None, rest) if found is None else (found, tail.strip())


def only_sheet(ears: ParseContext, rest: str) -> tuple[str | None, int | None]:
    """The sheet that is all of `rest`: its session and its ordinal; nothing where none is named.

    Raises:
        NotUnderstood: It names no sheet, or something follows it.
    """
    if not rest:
        return None, None
    meant, tail = first_sheet(ears, rest, alone=True)
    if meant is None or tail:
        raise NotUnderstood(f"No sheet has the mark {rest}; nothing was done")
    return meant


def sheet_and_text(ears: ParseContext, rest: str, *,
                   numbers: bool = True) -> tuple[str | None, int | None, str]:
    """The session and ordinal of the sheet named first, if one is, and what follows it."""
    meant, text = first_sheet(ears, rest, numbers=numbers)
    return (None, None, text) if meant is None else (*meant, text)


# -- steps ------------------------------------------------------------------------------


def step_among(said: str, steps: Sequence[Step]) -> Step:
    """The step meant, by its number in its part of the recipe or by words of it.

    Raises:
        NotUnderstood: None, or several.
    """
    if not said:
        raise NotUnderstood(f"Which step? {_numbered(steps)}")
    if said.isascii() and said.isdigit():
        found = [x for x in steps if _number(x) == said]
    else:
        found = _by_words(said.casefold(), steps)
    if len(found) == 1:
        return found[0]
    if found:
        raise NotUnderstood(f"{said} may be {_numbered(found)}; say its number")
    near = nearest_words(said, [x.do for x in steps])
    raise NotUnderstood(f"There is no step {said} here; "
                        + (f"nearest: {join_choices(near)}" if near else _numbered(steps)))


def _by_words(said: str, steps: Sequence[Step]) -> list[Step]:
    names = [(x, (x.do.casefold(), (x.short or x.do).casefold())) for x in steps]
    for fits in (str.__eq__, str.startswith, str.__contains__):
        found = [x for x, words in names if any(fits(w, said) for w in words)]
        if found:
            return found
    return []


def _number(step: Step) -> str:
    return step.id.rpartition(".")[2]


def _numbered(steps: Sequence[Step]) -> str:
    return join_choices((f"{_number(x)} {x.do}" if _number(x).isdigit() else x.do for x in steps),
                        20)


def steps_of_hand(ears: ParseContext) -> Sequence[Step]:
    """The steps of what is in hand: of the impression, else of before or after."""
    s = ears.s
    if in_hand(s) is not None:
        return s.recipe.each
    return s.recipe.after if before_over(s) else s.recipe.before


def steps_to_redo(ears: ParseContext) -> Sequence[Step]:
    """The steps done for the impression that a redo would be about; all where none is."""
    s = ears.s
    imp = in_hand(s) or last_pulled(s)
    done = [x for x in s.recipe.each if imp is not None and s.done(TaskKey(x.id, imp.ordinal))]
    return done or s.recipe.each


def key_next(ears: ParseContext, said: str) -> TaskKey:
    """The work meant by `next`: of what may begin now the first that fits.

    Raises:
        NotUnderstood: Nothing there is bears that name.
    """
    s = ears.s
    keys = choosable_tasks(ears.room, s, ears.t)
    steps = {k: step for k in keys if (step := step_of(s, k)) is not None}
    distinct = tuple(dict.fromkeys(steps.values()))
    try:
        meant = step_among(said, distinct)
    except NotUnderstood:
        rest = [x for x in steps_of_hand(ears) if x not in distinct]
        if not said or not rest:
            raise
        try:  # a step there is, but that cannot begin: the decider says why
            imp = in_hand(s)
            return TaskKey(step_among(said, rest).id, None if imp is None else imp.ordinal)
        except NotUnderstood:
            pass
        raise
    return next(k for k, step in steps.items() if step == meant)


def key_to_skip(ears: ParseContext, rest: str) -> tuple[TaskKey | None, str]:
    """The step that is skipped and why: `WHY`, or `STEP: WHY` of one that comes too.

    Only a whole name before the colon is a step's, or its number, or `next`: a reason may
    have a colon of its own.

    Raises:
        NotUnderstood: Such a name, of a step that is neither in hand nor comes next: it is no
            reason to skip the one in hand.
    """
    head, colon, why = rest.partition(":")
    said = head.strip().casefold()
    if not colon or not why.strip():
        return None, rest
    coming = coming_inky(ears.room, ears.s, ears.now)
    if said == "next" and coming:
        return coming[0], why.strip()
    key = key_said(ears, said, (*(() if ears.s.hand is None else (ears.s.hand,)), *coming))
    if key is not None:
        return key, why.strip()
    named = next((x for x in ears.s.shape.by_id.values() if _is_named(x, said)), None)
    if said == "next" or named is not None:
        step = "The next step" if named is None else named.do
        raise NotUnderstood(f"{step} cannot be skipped now; for the one in hand write: skip WHY")
    return None, rest


def key_said(ears: ParseContext, said: str, keys: Iterable[TaskKey]) -> TaskKey | None:
    """The step a whole name stands for, or its number, among those something was said of."""
    small = said.strip().casefold()
    return next((k for k in keys if (x := step_of(ears.s, k)) is not None
                 and _is_named(x, small)), None)


def _is_named(step: Step, small: str) -> bool:
    """Whether that is a step's whole name, its short name or its number."""
    return small in (_number(step), step.do.casefold(), (step.short or step.do).casefold())


def key_to_leave(ears: ParseContext, said: str) -> TaskKey:
    """The step that is left to another session, the one in hand or one that comes.

    Raises:
        NotUnderstood: None of these bears that name.
    """
    hand = () if ears.s.hand is None else (ears.s.hand,)
    return _key_among(ears, said, (*hand, *coming_inky(ears.room, ears.s, ears.now)))


def key_then(ears: ParseContext, said: str) -> TaskKey:
    """The work meant by `next then`: of what may begin in place of the inky step that comes.

    Raises:
        NotUnderstood: Nothing there bears that name.
    """
    return _key_among(ears, said, choosable_then(ears.room, ears.s, ears.now))


def _key_among(ears: ParseContext, said: str, keys: Sequence[TaskKey]) -> TaskKey:
    steps = {k: step for k in keys if (step := step_of(ears.s, k)) is not None}
    if not steps:
        raise NotUnderstood("There is no such step now; go on, or write next and a step")
    meant = step_among(said, tuple(dict.fromkeys(steps.values())))
    return next(k for k, step in steps.items() if step == meant)


def other_session(ears: ParseContext, rest: str) -> str:
    """The id of the other open session that is named, or the only one there is.

    Raises:
        NotUnderstood: There is none, or it is none of them.
    """
    # What another book opened is gone on with there: its sessions end in that book's name.
    book = (ears.room.bench or "").partition("@")[2]
    others = {s.name: s.id for s in ears.room.open_sessions
              if s.id != ears.room.bench and s.id.partition("@")[2] == book}
    if not others:
        raise NotUnderstood("No other session is open")
    if not rest and len(others) == 1:
        return next(iter(others.values()))
    return others[choose_word(rest, tuple(others), "open session")]


# -- times, counts and plates --------------------------------------------------------------------


def time_ms(said: str, example: str) -> int:
    """A time of the printer's, in milliseconds.

    Raises:
        NotUnderstood: It is none.
    """
    if not said:
        raise NotUnderstood(f"How long? Write: {example}")
    try:
        return read_duration(point_for_comma(said)).ms
    except QuantityError as error:
        raise NotUnderstood(str(error)) from None


def read_leading_time(rest: str, example: str) -> tuple[int, str]:
    """The time at the beginning of `rest` in milliseconds, and what follows it."""
    words = rest.split()
    for n in range(min(len(words), _TIME_WORDS), 0, -1):
        try:
            return read_duration(point_for_comma(" ".join(words[:n]))).ms, " ".join(words[n:])
        except QuantityError:
            continue
    return time_ms(rest, example), ""


def read_number(said: str, word: str) -> int:
    """A count of sheets or impressions.

    Raises:
        NotUnderstood: It is none.
    """
    try:
        return read_count(said)
    except QuantityError as error:
        raise NotUnderstood(f"{error.wrong}; write: {word} 6") from None


def first_plate(s: Session, rest: str) -> tuple[str | None, str]:
    """The plate named at the beginning of `rest`, if one is, and what follows it."""
    for plate in sorted((p.name for p in s.recipe.plates), key=len, reverse=True):
        head, tail = rest[: len(plate)], rest[len(plate):]
        if head.casefold() == plate.casefold() and (not tail or tail[0] in " :"):
            return plate, tail.strip()
    return None, rest
