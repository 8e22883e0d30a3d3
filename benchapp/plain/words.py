"""A typed line to what it means: the words are those of the registry of actions. Pure."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final, Literal, cast

from benchapp.session import actions as a
from benchapp.session.actions.end_of_day import (
    UNSAID,
    facts_in_hand,
    find_fact,
    number_facts,
)
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine, nearest_words
from benchapp.session.actions.typed_names import only_sheet

Own = Literal["status", "help", "quit", "quit anyway"]
#: The words that are the program's own, beside those of the actions.
OWN: Final[tuple[Own, ...]] = ("status", "help", "quit", "quit anyway")
_SPECS: Final = {spec.word: spec for spec in a.SPECS
                 if spec.reads is not None or spec.makes is not None}
WORDS: Final = tuple(sorted((*_SPECS, *OWN), key=len, reverse=True))


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
    asked = facts_in_hand(ears)
    if asked and (fact := find_fact(line, asked, whole=True)) is not None:
        return ParsedLine(a.Must(fact))
    if asked and line.casefold() == UNSAID:
        return ParsedLine(a.Must(None))
    try:
        return _word(ears, line)
    except NotUnderstood:
        fact = find_fact(line, asked, whole=False) if asked else None
        if fact is not None:
            return ParsedLine(a.Must(fact))
        if asked and line.isdigit():
            raise NotUnderstood(
                f"{line} is not one of the answers; say {number_facts(asked)}") from None
        raise


def _word(ears: ParseContext, line: str) -> ParsedLine | Own:
    small = line.casefold()
    for word in WORDS:
        if small == word or small.startswith(word + " "):
            rest = line[len(word):].strip()
            if word in OWN:
                return _bare(word, rest, word)
            return _read(_SPECS[word], ears, rest)
    near = nearest_words(" ".join(line.split()[:2]), WORDS) or nearest_words(line.split()[0], WORDS)
    mend = f"nearest: {', '.join(near)}; " if near else ""
    raise NotUnderstood(f"There is no word {line[:60]} here; {mend}help lists them all")


def _bare(word: str, rest: str, meaning: Own) -> Own:
    if rest:
        raise NotUnderstood(f"Write {word} alone; it takes nothing after it")
    return meaning


def _read(spec: a.ActionSpec, ears: ParseContext, rest: str) -> ParsedLine:
    """As the action declares it; what declares nothing takes nothing, or a sheet at most."""
    if spec.reads is not None:
        return spec.reads(ears, rest)
    made = spec.makes
    if made is None:
        raise LookupError(spec.word)
    if spec.of_sheet:
        session, ordinal = only_sheet(ears, rest)
        return ParsedLine(replace(cast(Any, made), impression=ordinal), session)
    if rest:
        raise NotUnderstood(f"Write {spec.word} alone; nothing was done")
    return ParsedLine(made)
