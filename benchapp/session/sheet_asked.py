"""Which sheet goes through the press, asked where the book knows of none that is ready. Pure."""

from __future__ import annotations

from typing import Final

from benchapp.edition import packs as damp
from benchapp.session.next_steps import lacks_paper
from benchapp.session.state import Session, StudioState

#: A sheet of no pack, and whether it is damp.
OF_NO_PACK: Final = {"a damp sheet of no pack": True, "a dry sheet": False}
UNREADY: Final = "one of the pack that is not ready"
NONE_READY: Final = "No damp sheet is ready"


def sheet_answers(room: StudioState, s: Session, t: int) -> tuple[str, ...]:
    """The answers there are to which sheet the step in hand takes; none where that is known.

    Inky hands are asked nothing: their sheet is not known.

    Args:
        room: The room.
        s: The session.
        t: Room time now.
    """
    key, name = s.hand, s.shape.paper_name
    imp = None if key is None else s.impression(key.impression)
    if key is None or imp is None or name is None or key.step != s.shape.sheet_step or imp.sheets:
        return ()
    if not room.clean:
        return ()
    if damp.lies_open(room.packs, name) or any(
            p.where(t) == "ready" for p in damp.of_paper(room.packs, name, t)):
        return ()
    return (*OF_NO_PACK, *((UNREADY,) if lacks_paper(room, s, key, t) is not None else ()))


def of_no_pack_words(damp_sheet: bool | None) -> str:
    """What a sheet of no pack is called: damp, dry, or nobody said which."""
    return next((words for words, is_damp in OF_NO_PACK.items() if is_damp == damp_sheet),
                "a sheet of no pack")
