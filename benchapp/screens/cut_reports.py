"""Reports of the mouse that come in two pieces.

A slow line can cut a report at any byte. What came first would be read as Escape or
as nothing, and its tail as digits and a letter, among them keys that judge a sheet. So an
unfinished sequence waits here for its rest. A report that had to wait does nothing:
nobody knows what was on the screen when it was meant.

Escape alone is the beginning of a report too. The terminal is asked for its status then:
its answer comes behind whatever it had sent before, so an answer that comes next says that
Escape was a key. Where no terminal answers, Escape waits as long as anything else. Pure.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

HOLD_MS: Final = 1_500
"""So long an unfinished sequence waits for its rest."""

WHOLE_MS: Final = 100
"""Pieces that came within this are one report, sent as one."""

ESCAPE: Final = b"\x1b"
ASK: Final = "\x1b[5n"
"""Device status report (ECMA-48 8.3.35): every terminal answers it, in order."""

_ANSWER: Final = b"\x1b[0n"

# Mode 1006; the old form with three bytes behind it; the form of mode 1015.
_REPORT: Final = re.compile(
    rb"\x1b\[(?:<[-0-9;]*[Mm]|M[\x20-\xff]{3}|[0-9]+;[0-9]+;[0-9]+M)", re.DOTALL)
# What may become a report, or another control sequence, with more bytes.
_BEGUN: Final = re.compile(rb"\x1b(?:\[(?:M[\x20-\xff]{0,2}|<[-0-9;]*|[0-?]*))?", re.DOTALL)
# Control sequences whose end has come.
_OTHER: Final = re.compile(rb"\x1b\[(?![<M])[0-?]*[ -/]*[@-~]", re.DOTALL)


@dataclass(frozen=True, slots=True)
class CutReport:
    """What has come of a sequence, and waits for its rest.

    Attributes:
        kept: Its first bytes; empty: nothing waits.
        since_ms: When they came, on any steady clock, milliseconds.
    """

    kept: bytes = b""
    since_ms: float = 0.0

    def take(self, data: bytes, t_ms: float) -> tuple[CutReport, tuple[bytes, ...]]:
        """Take one piece as it was read.

        Args:
            data: The bytes.
            t_ms: When they came.

        Returns:
            What waits now, and what is to be read, in order. A piece that is `ESCAPE`
            alone is that key.
        """
        held, passed = self.wait(t_ms)
        if not held.kept:
            return _put_by(data, t_ms, passed)
        whole = t_ms - held.since_ms < WHOLE_MS
        if held.kept == ESCAPE and not data.startswith(b"["):
            return _after_escape(data, t_ms, whole=whole and not data.startswith(ESCAPE))
        both = held.kept + data
        report = _REPORT.match(both)
        if report is not None:
            rest = both if whole else both[report.end():]
            return _put_by(rest, t_ms, passed)
        if _BEGUN.fullmatch(both):
            return CutReport(both, held.since_ms), passed
        # Another sequence goes on whole; what is none was a report broken off.
        return _put_by(both if _OTHER.match(both) else data, t_ms, passed)

    def wait(self, t_ms: float) -> tuple[CutReport, tuple[bytes, ...]]:
        """Let time pass: what waited too long is given up; Escape was a key then."""
        if not self.kept or t_ms - self.since_ms < HOLD_MS:
            return self, ()
        return CutReport(), (ESCAPE,) if self.kept == ESCAPE else ()


def _after_escape(data: bytes, t_ms: float, *, whole: bool) -> tuple[CutReport, tuple[bytes, ...]]:
    """Escape waited and no report goes on from it: a key alone, or one with Alt."""
    if data.startswith(_ANSWER):
        return _put_by(data[len(_ANSWER):], t_ms, (ESCAPE,))
    if whole:
        return _put_by(ESCAPE + data, t_ms, ())
    return _put_by(data, t_ms, (ESCAPE,))


def _put_by(data: bytes, t_ms: float,
            before: tuple[bytes, ...]) -> tuple[CutReport, tuple[bytes, ...]]:
    """Keep what is unfinished at the end; the rest is to be read."""
    at = data.rfind(ESCAPE)
    held = CutReport()
    if at >= 0 and _BEGUN.fullmatch(data, at):
        held, data = CutReport(data[at:], t_ms), data[:at]
    return held, (*before, data) if data else before
