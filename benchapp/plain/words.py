"""A typed line to what it means: the words are those of the registry of actions. Pure."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final, Literal, cast

from benchapp.plain import names
from benchapp.plain.heard import (
    NotUnderstood,
    Own,
    ParseContext,
    ParsedLine,
    choose_word,
    join_choices,
    nearest_words,
)
from benchapp.quantities import QuantityError, read_count
from benchapp.session import actions as a
from benchapp.session.annotate import tagged_sheet, this_try
from benchapp.session.left import UnansweredFact
from benchapp.session.marks import read_mark
from benchapp.session.names import step_of
from benchapp.session.sheet_asked import sheet_answers
from benchapp.session.state import FORS, Verdict
from benchapp.session.tags import fitting_tags, groups_of
from benchapp.views.studio import studio_view

#: Words beside those of the registry: what is asked, and what is the program's own.
NOT_JUDGED: Final = "not judged"
MUST: Final = "must"
OWN: Final[tuple[Own, ...]] = ("status", "help", "quit", "quit anyway")
WORDS: Final = tuple(sorted((*(spec.word for spec in a.REGISTRY), NOT_JUDGED, MUST, *OWN),
                            key=len, reverse=True))
NOT_SAID: Final = "not said"

#: A state of a plate; "I" alone is rather the printer.
_STATE: Final = re.compile(r"(?!I$)[IVXLC]+|[0-9]+")
_VALUE: Final = re.compile(r"[+-]?\d+([.,]\d+)?")


def parse_line(ears: ParseContext, line: str) -> ParsedLine | Own:
    """What a line means; an empty one goes on.

    A step that asks a fact takes its number or its words; a word of the registry
    that is written out goes before the mere beginning of a fact.

    Raises:
        NotUnderstood: It means nothing; the message says what is near.
    """
    line = line.strip()
    if not line:
        return ParsedLine(a.GoOn())
    asked = _asked(ears)
    if asked and (fact := _fact(line, asked, whole=True)) is not None:
        return ParsedLine(a.Must(fact))
    if asked and line.casefold() == NOT_SAID:
        return ParsedLine(a.Must(None))
    try:
        return _word(ears, line)
    except NotUnderstood:
        fact = _fact(line, asked, whole=False) if asked else None
        if fact is not None:
            return ParsedLine(a.Must(fact))
        if asked and line.isdigit():
            raise NotUnderstood(f"{line} is not one of the answers; say {_facts(asked)}") from None
        raise


def _word(ears: ParseContext, line: str) -> ParsedLine | Own:
    small = line.casefold()
    for word in WORDS:
        if small == word or small.startswith(word + " "):
            rest = line[len(word):].strip()
            if word in OWN:
                return _bare(word, rest, word)
            return _READERS[word](ears, word, rest)
    near = nearest_words(" ".join(line.split()[:2]), WORDS) or nearest_words(line.split()[0], WORDS)
    mend = f"nearest: {', '.join(near)}; " if near else ""
    raise NotUnderstood(f"{line[:60]} is no word here; {mend}help lists them all")


def _bare(word: str, rest: str, meaning: Own) -> Own:
    if rest:
        raise NotUnderstood(f"{word} takes nothing after it")
    return meaning


# -- facts ------------------------------------------------------------------------------


def _asked(ears: ParseContext) -> tuple[str, ...]:
    """The answers of the fact in hand; none where none is asked."""
    s = ears.room.session
    step = None if s is None or s.hand is None else step_of(s, s.hand)
    if s is None or step is None:
        return ()
    return step.must or sheet_answers(ears.room, s, ears.room.t_at(ears.now))


def _fact(said: str, facts: tuple[str, ...], *, whole: bool) -> str | None:
    """The fact meant by its number or its words, or by their unambiguous beginning."""
    if said.isascii() and said.isdigit():
        return facts[int(said) - 1] if 1 <= int(said) <= len(facts) else None
    small = said.casefold()
    found = [f for f in facts if f.casefold() == small or (not whole and
                                                           f.casefold().startswith(small))]
    return found[0] if len(found) == 1 else None


def question_line(number: int, asked: UnansweredFact) -> str:
    """How a fact of an earlier day is asked: `1 · 2026-05-02 Rags: 1 in the can, …`."""
    facts = ", ".join(f"{i} {fact}" for i, fact in enumerate(asked.must, 1))
    return (f"Not said · must {number} · {asked.name} · {asked.do}: which? {facts}"
            f" · write: must {number} and the answer")


def _must(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    """`must 2 hung`: the answer to the second fact of earlier days; else to the one in hand."""
    head, _, tail = rest.partition(" ")
    asked = _asked(ears)
    if head.isdecimal() and tail.strip() and 1 <= int(head) <= len(ears.unsaid):
        return _past(ears.unsaid[int(head) - 1], tail.strip())
    if asked:
        fact = _fact(rest, asked, whole=False)
        if fact is None and rest.casefold() != NOT_SAID:
            raise NotUnderstood(f"{rest or 'Nothing'} is not one of the answers; say "
                                f"{_facts(asked)}")
        return ParsedLine(a.Must(fact))
    if len(ears.unsaid) == 1 and rest:
        return _past(ears.unsaid[0], rest)
    if not ears.unsaid:
        raise NotUnderstood("Nothing is asked just now; go on")
    raise NotUnderstood("; ".join(question_line(i, u) for i, u in enumerate(ears.unsaid, 1)))


def _past(about: UnansweredFact, said: str) -> ParsedLine:
    fact = _fact(said, about.must, whole=False)
    if fact is None and said.casefold() != NOT_SAID:
        raise NotUnderstood(f"{said} is not one of the answers; say {_facts(about.must)}")
    return ParsedLine(a.Must(fact, about.step), about.session)


def _facts(facts: tuple[str, ...]) -> str:
    return ", ".join(f"{i} {fact}" for i, fact in enumerate(facts, 1))


# -- words of sheets ----------------------------------------------------------------------


def _declared(spec: a.ActionSpec) -> Callable[[ParseContext, str, str], ParsedLine]:
    """The reader of a word that takes nothing, or at most names a sheet."""
    made = spec.makes
    if made is None:
        raise LookupError(spec.word)

    def read(ears: ParseContext, word: str, rest: str) -> ParsedLine:
        if spec.of_sheet:
            session, ordinal = _parts(_only_sheet(ears, rest))
            return ParsedLine(replace(cast(Any, made), impression=ordinal), session)
        if rest:
            raise NotUnderstood(f"{word} takes nothing after it; nothing was done")
        return ParsedLine(made)

    return read


def _only_sheet(ears: ParseContext, rest: str) -> names.Sheet | None:
    """The sheet that is all of `rest`; None: none was named."""
    if not rest:
        return None
    meant, tail = names.first_sheet(ears, rest, alone=True)
    if meant is None or tail:
        raise NotUnderstood(f"{rest} is no mark of a sheet; nothing was done")
    return meant


def _parts(meant: names.Sheet | None) -> tuple[str | None, int | None]:
    return (None, None) if meant is None else meant


def _spoiled(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    """`spoiled lost`: this try, and its sheet with it; else a verdict as others are."""
    if rest.casefold() != "lost":
        return _judge(ears, word, rest)
    tried = this_try(ears.s)
    if tried is None:
        raise NotUnderstood("No try waits for its pull; write spoiled and the mark of the sheet")
    return ParsedLine(a.SpoilTry(tried.ordinal, lost=True))


def _judge(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    session, ordinal = _parts(_only_sheet(ears, rest))
    verdict = None if word == NOT_JUDGED else cast(Verdict, word)
    return ParsedLine(a.Judge(verdict, ordinal), session)


def _tag(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    meant, said = names.first_sheet(ears, rest)
    session, ordinal = _parts(meant)
    s = ears.s if session is None else ears.room.sessions.get(session, ears.s)
    known = [tag for group in groups_of(s.recipe).values() for tag in group]
    if not said:
        raise NotUnderstood(f"Which tag? {join_choices(known, 100)}")
    if word == "untag":
        sheet = tagged_sheet(s) if ordinal is None else s.impression(ordinal)
        known = list(sheet.tags) if sheet is not None and sheet.tags else known
    tag = choose_word(said, known, "tag", offered=fitting_tags(s.recipe, known))
    return ParsedLine(a.Tag(tag, ordinal, off=word == "untag"), session)


def _note(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    head, _, tail = rest.partition(" ")
    if head.casefold() == "session" and tail.strip():
        return ParsedLine(a.Note(tail.strip(), to="session"))
    meant, text = names.first_sheet(ears, rest, numbers=False)
    session, ordinal = _parts(meant)
    return ParsedLine(a.Note(text, ordinal), session)


def _reading(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    meant, said = names.first_sheet(ears, rest)
    session, ordinal = _parts(meant)
    name, words = _reading_name(ears, said)
    if not name or not words:
        raise NotUnderstood("Write: reading NAME VALUE, such as reading tone 3")
    return ParsedLine(a.TakeReading(name, words[0], " ".join(words[1:]) or None, ordinal), session)


def _reading_name(ears: ParseContext, said: str) -> tuple[str, list[str]]:
    """The name of the value, one of the recipe's or what stands before the figure."""
    for known in sorted((r.name for r in ears.s.recipe.readings), key=len, reverse=True):
        if said.casefold().startswith(known.casefold() + " "):
            return known, said[len(known):].split()
    words = said.split()
    at = next((i for i, w in enumerate(words) if _VALUE.fullmatch(w)), len(words))
    return " ".join(words[:at]), words[at:]


def _for(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    meant, said = names.first_sheet(ears, rest)
    session, ordinal = _parts(meant)
    head, _, state = said.partition(" ")
    if head.casefold() == "sp":
        return ParsedLine(a.SayFor("SP", state.strip() or None, ordinal), session)
    if not said:
        raise NotUnderstood(f"For what? {', '.join(FORS)}")
    return ParsedLine(a.SayFor(choose_word(said, FORS, "purpose of a pull"), None, ordinal),
                      session)


def _mark(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    meant, new = names.first_sheet(ears, rest)
    session, ordinal = _parts(meant)
    if not new:
        raise NotUnderstood("Write: mark and what is pencilled on the sheet")
    return ParsedLine(a.GiveMark(_spelt(new), ordinal), session)


def _spelt(mark: str) -> str:
    return read_mark(mark) or mark


# -- words of plates, settings, steps and times -------------------------------------------


def _state(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    plate, state = names.first_plate(ears.s, rest)
    if not state:
        raise NotUnderstood("Which state? Write: state II, or state key II")
    return ParsedLine(a.ReworkPlate(plate, state))


def _reworked(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    plate, said = names.first_plate(ears.s, rest)
    state, colon, what = said.partition(":")
    if not colon:  # a state said without one is a state all the same
        first, _, rest_of_it = said.partition(" ")
        state, what = (first, rest_of_it) if _STATE.fullmatch(first) else ("", said)
    if not what.strip():
        raise NotUnderstood("What was done? Write: reworked II: sky burnished")
    return ParsedLine(a.ReworkPlate(plate, state.strip() or None, what.strip()))


def _set(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    if rest.casefold() == "as before":
        return ParsedLine(a.SetAsBefore())
    name, colon, value = rest.partition(":")
    if not colon:
        raise NotUnderstood("A setting has a name and a value; write: set handle side: 3.25 turns")
    return ParsedLine(a.Set(name.strip(), value.strip()))


def _here(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    return ParsedLine(a.Here(names.step_among(rest, names.steps_of_hand(ears)).id))


def _next(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    """`next STEP`: now; `next then STEP`: once the one in hand is done."""
    head, _, tail = rest.partition(" ")
    if head.casefold() == "then":
        return ParsedLine(a.Choose(names.key_then(ears, tail.strip()), then=True))
    return ParsedLine(a.Choose(names.key_next(ears, rest)))


def _skip(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    head, _, tail = rest.partition(" ")
    if head.casefold() == "not" and (key := names.key_said(ears, tail, ears.s.to_skip)):
        return ParsedLine(a.SkipStep("", key, off=True))
    key, why = names.key_to_skip(ears, rest)
    return ParsedLine(a.SkipStep(why, key))


def _left_to(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    """`left to SESSION: STEP`; both may be left out where only one can be meant.

    `left to here: STEP` takes back what was said of one that comes.
    """
    to, colon, step = rest.partition(":")
    if to.strip().casefold() == "here" and (key := names.key_said(ears, step, ears.s.to_leave)):
        return ParsedLine(a.LeaveStep("", key, off=True))
    key = names.key_to_leave(ears, step.strip()) if colon else None
    return ParsedLine(a.LeaveStep(_other(ears, word, to.strip()), key))


def _redo(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    try:
        return ParsedLine(a.Redo(names.step_among(rest, names.steps_to_redo(ears)).id))
    except NotUnderstood:
        if not rest:
            raise
        return ParsedLine(a.Redo(names.step_among(rest, ears.s.recipe.each).id))


def _extend(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    return ParsedLine(a.Extend(names.time_ms(rest, "extend 5 min")))


def _time(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    ms, name = names.read_leading_time(rest, "time 5 min varnish")
    return ParsedLine(a.StartClock(ms, name or "clock"))


def _mute(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    return ParsedLine(a.Mute(ms=names.time_ms(rest, "mute 5 min") if rest else None))


def _count(said: str, word: str) -> int:
    try:
        return read_count(said)
    except QuantityError as error:
        raise NotUnderstood(f"{error.wrong}; write: {word} 6") from None


def _damped(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    return ParsedLine(a.DampPack(_count(rest, word) if rest else None))


def _wanted(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    if rest.casefold() == "none":
        return ParsedLine(a.SetWanted(None))
    if not rest:
        raise NotUnderstood("How many? Write: wanted 10, or wanted none")
    return ParsedLine(a.SetWanted(_count(rest, word)))


def _sheet(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    if not rest:
        raise NotUnderstood("What of the sheet? Write: sheet out, back, sprayed or dried")
    what = choose_word(rest, ("out", "back", "sprayed", "dried"), "word for a sheet")
    return ParsedLine(a.MoveSheet(cast(Literal["out", "back", "sprayed", "dried"], what)))


def _helper(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    if rest.casefold() in ("leaves", "left", "gone"):
        return ParsedLine(a.Helper(joins=False))
    return ParsedLine(a.Helper(joins=True, name=rest or None))


def _took(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    answers: dict[str, Literal["took", "away", "forgot"]] = {
        "long": "took", "away": "away", "forgot": "forgot"}
    return ParsedLine(a.Explain(answers[choose_word(rest, tuple(answers), "answer here")]))


def _other(ears: ParseContext, word: str, rest: str) -> str:
    """The id of the other open session that is named, or the only one there is."""
    # What another book opened is gone on with there: its sessions end in that book's name.
    book = (ears.room.bench or "").partition("@")[2]
    others = {s.name: s.id for s in ears.room.open_sessions
              if s.id != ears.room.bench and s.id.partition("@")[2] == book}
    if not others:
        raise NotUnderstood("No other session is open")
    if not rest and len(others) == 1:
        return next(iter(others.values()))
    return others[choose_word(rest, tuple(others), "open session")]


def _can(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    """The can of an earlier day is meant, where one still stands."""
    cans = studio_view(ears.room, ears.now).cans
    return ParsedLine(a.CanEmptied(), cans[-1] if cans else None)


def _discard(ears: ParseContext, word: str, rest: str) -> ParsedLine:
    if rest.casefold() != "yes":
        raise NotUnderstood("Lists will not show this session; its entries stay in the book. "
                            "Write: discard yes")
    return ParsedLine(a.Discard())


Reader = Callable[[ParseContext, str, str], ParsedLine]
_READERS: Final[dict[str, Reader]] = {
    "spoiled": _spoiled, NOT_JUDGED: _judge, "tag": _tag, "untag": _tag,
    "note": _note, "reading": _reading, "for": _for, "mark": _mark,
    "state": _state, "reworked": _reworked, "set": _set, "here": _here,
    "next": _next, "redo": _redo, "skip": _skip, "extend": _extend,
    "time": _time, "damped": _damped, "sheet": _sheet,
    "wanted": _wanted, "helper": _helper, "mute": _mute,
    "left off": lambda ears, word, rest: ParsedLine(a.LeftOff(rest)), "took": _took,
    "left to": _left_to,
    "switch": lambda ears, word, rest: ParsedLine(
        a.SwitchSession(_other(ears, word, rest), typed=True)),
    "can emptied": _can, "discard": _discard, MUST: _must,
    # What asks nothing, or a sheet at most, is read as it is declared.
    **{spec.word: _declared(spec) for spec in a.REGISTRY if spec.makes is not None},
}
