"""A changed copy is the one `dataclasses.replace` gives."""

from __future__ import annotations

import dataclasses

import pytest

from benchapp.session.copying import replace
from benchapp.session.state import Pull, StudioState, TaskKey
from tests.session.support import Bench


def test_a_copy_is_the_one_the_constructor_makes():
    """Of what has slots and of what has none; the first is left as it was."""
    b = Bench()
    b.go()
    before = b.s
    for value, change in ((before, {"wanted": 7, "chosen": TaskKey("wash")}), (b.room, {"t": 9}),
                          (Pull("each.3", ("key",), None, 4), {"t": 5})):
        kept = dataclasses.replace(value)
        assert replace(value, **change) == dataclasses.replace(value, **change)
        assert value == kept
    assert before.wanted != 7


def test_a_copy_is_as_frozen_as_the_first():
    """Nothing of it can be set."""
    copy = replace(StudioState(), t=3)
    with pytest.raises(dataclasses.FrozenInstanceError):
        copy.t = 4


def test_an_unknown_field_is_named():
    """A slip of the pen is found where it is made."""
    with pytest.raises(TypeError, match="StudioState has no field tt"):
        replace(StudioState(), tt=3)
