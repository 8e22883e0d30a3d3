"""What is said aloud: short, its lateness in whole words, safe to hand to a voice. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from benchapp.safe_text import character_fault, why_refused

LONGEST: Final = 240
"""Characters of one phrase: about twenty seconds of speech, more is a lecture."""

_MIN_MS: Final = 60_000
_H_MIN: Final = 60
_FEW: Final = 5


def why_not_spoken(text: str) -> str | None:
    """Say why a text can't be handed to a voice, or None if it can.

    A control character would be read out as noise by some voices and taken for a
    command by others; so it stops here, whatever let it in before.
    """
    if not text.strip():
        return "it is empty"
    if len(text) > LONGEST:
        return f"it is longer than {LONGEST} characters; make it shorter"
    return why_refused(text)


def make_speakable(text: str) -> str:
    """Give the text without what `why_not_spoken` would stop; for words from a book of others."""
    kept = "".join(" " if character_fault(c) else c for c in text)
    return " ".join(kept.split())[:LONGEST].rstrip()


def strip_voice_commands(text: str) -> str:
    """Give the text so that no voice reads a command in it.

    Two square brackets open a list of phonemes or a command in common voices.
    """
    return text.replace("[", " ").replace("]", " ")


def time_words(ms: int) -> str:
    """Give a time as it is spoken: `1 minute`, `2 hours 5 minutes`; parts of a minute drop."""
    minutes = max(0, ms) // _MIN_MS
    hours, rest = divmod(minutes, _H_MIN)
    parts = [_counted(hours, "hour")] if hours else []
    if rest or not hours:
        parts.append(_counted(rest, "minute"))
    return " ".join(parts)


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def add_lateness(phrase: str, late_ms: int, *, about: bool = False) -> str:
    """Add to a phrase how late it comes, from one minute on.

    Args:
        phrase: What fell due.
        late_ms: How long ago that was, milliseconds.
        about: The time was bridged by the wall clock, so it is not exact.
    """
    if late_ms < _MIN_MS:
        return phrase
    return f"{phrase}, {'about ' if about else ''}{time_words(late_ms)} late"


def add_lead_time(phrase: str, in_ms: int) -> str:
    """Say in how long something falls due; less than a minute is `soon`."""
    if in_ms < _MIN_MS:
        return f"Soon: {phrase}"
    return f"In {time_words(in_ms)}: {phrase}"


def join_phrases(parts: Sequence[str]) -> str:
    """Join what is said at one time; of more than five the rest is only counted."""
    said = [p for p in parts if p.strip()]
    shown = said[:_FEW]
    if len(said) > _FEW:
        shown.append(f"and {len(said) - _FEW} more")
    text = ". ".join(shown)
    return text if len(text) <= LONGEST else text[:LONGEST].rsplit(" ", 1)[0]
