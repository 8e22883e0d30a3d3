"""Days of the command line, as people say them."""

from __future__ import annotations

import argparse
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.quantities.days import Lean


def read_past_day(text: str) -> date:
    """A day that is not to come: `yesterday`, `friday`, `3 May`."""
    return _read(text, "past")


def past_day_text(text: str) -> str:
    """The same, by ISO 8601."""
    return _read(text, "past").isoformat()


def coming_day_text(text: str) -> str:
    """A day to come, by ISO 8601."""
    return _read(text, "coming").isoformat()


def _read(text: str, lean: Lean) -> date:
    # Half of the commands may be told a day, and few are.
    from benchapp.clock import SystemClock
    from benchapp.events.moments import local_time
    from benchapp.quantities import QuantityError, read_day

    try:
        return read_day(text, local_time(SystemClock().now()).date(), lean)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
