"""What the Bench and the set-up card say of damp paper: pure words."""

from __future__ import annotations

from benchapp.edition import packs as damp
from benchapp.quantities import items_text
from benchapp.session.due import pack_in_due
from benchapp.session.state import Room, Session


def first_pack_words(room: Room, s: Session, t: int) -> str:
    """What a session about to open damps first; empty where its paper is not damped.

    Args:
        room: With the packs there are.
        s: The session, which need not be in that room yet.
        t: Room time now.
    """
    name = s.shape.paper_name
    if name is None:
        return ""
    wanted = pack_in_due(room, s, t)
    if wanted is not None:
        return f"Damp first: {wanted.size.words or 'sheets, not counted'}"
    left = damp.sheets_left(room.packs, name, t)
    there = "sheets" if left is None else items_text(left, "sheet")
    return f"Damp already: {there}"
