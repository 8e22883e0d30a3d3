"""What every action is."""

from __future__ import annotations


class Action:
    """What a printer, or time, does: a small frozen value. `decide.decide` says what comes of it.

    An `impression` left None means the one the action would be about by itself.
    """

    __slots__ = ()
