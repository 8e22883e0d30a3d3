"""Paces for tests."""

from __future__ import annotations

from benchapp.planning.pace import Pace

#: No variation at all: every step takes its nominal time.
CERTAIN = Pace(root=((0.0,),), rest_sd=0.0, offset_sd=0.0)
