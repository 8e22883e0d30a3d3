"""Spoiled, at the Bench: of a sheet pulled a verdict; before its pull a try given up, and why."""

from __future__ import annotations

from typing import Final

from benchapp.safe_text import SafeText
from benchapp.screens.talk import Talk
from benchapp.screens.widgets.ask import Ask
from benchapp.session import actions as a
from benchapp.session.annotate import this_try
from benchapp.views.availability import why_not

#: What becomes of the sheet of a try given up; the first unless the printer says the other.
_SHEET: Final = (SafeText("its sheet goes back into its pack"), SafeText("its sheet is lost"))


def ask_spoiled(talk: Talk) -> None:
    """Judge the sheet pulled; of a try that waits for its pull ask why, and after its sheet."""
    tried = this_try(talk.s)
    action = a.Judge("spoiled") if tried is None else a.SpoilTry(tried.ordinal)
    if tried is None:
        talk.do(action)
        return
    refusal = why_not(talk.desk.workshop.room, action, talk.desk.now())
    if refusal is not None:
        talk.refuse(refusal)
        return
    # Of this try, whatever goes through the press while the line stands open.
    ordinal = tried.ordinal

    def do(why: str) -> str | None:
        refused = talk.attempt(a.SpoilTry(ordinal, why, lost=line.choice == 1))
        return None if refused is None else str(refused)

    line = Ask(SafeText("Why is this try spoiled"), hint=SafeText("may stay empty"), empty=True,
               do=do,
               choices=_SHEET if any(tried.sheets) else (),
               draft=f"spoiled {talk.s.id} {ordinal}")
    talk.app.push_screen(line)
