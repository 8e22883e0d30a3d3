"""Durations, lengths, masses and the like: read and written the same way everywhere.

A value is exact (int or Fraction), compares by what it amounts to, and prints in
the unit the printer wrote. Anyone may come in; this room knows nobody.
"""

from benchapp.quantities.climate import Temperature, read_humidity, read_temperature
from benchapp.quantities.days import read_day
from benchapp.quantities.daytimes import (
    daytime_text,
    read_daytime,
    read_daytimes,
    read_minutes,
)
from benchapp.quantities.durations import (
    Duration,
    Span,
    figure_text,
    minutes_text,
    mmss,
    read_duration,
    read_span,
)
from benchapp.quantities.errors import QuantityError, quote_text
from benchapp.quantities.measures import (
    Grammage,
    Length,
    Mass,
    Percentage,
    Size,
    Turns,
    metric_text,
    read_count,
    read_grammage,
    read_length,
    read_mass,
    read_percentage,
    read_size,
    read_turns,
)
from benchapp.quantities.numbers import (
    items_text,
    join_words,
    number_text,
    point_for_comma,
    read_number,
)

__all__ = [
    "Duration",
    "Grammage",
    "Length",
    "Mass",
    "Percentage",
    "QuantityError",
    "Size",
    "Span",
    "Temperature",
    "Turns",
    "daytime_text",
    "figure_text",
    "items_text",
    "join_words",
    "metric_text",
    "minutes_text",
    "mmss",
    "number_text",
    "point_for_comma",
    "quote_text",
    "read_count",
    "read_day",
    "read_daytime",
    "read_daytimes",
    "read_duration",
    "read_grammage",
    "read_humidity",
    "read_length",
    "read_mass",
    "read_minutes",
    "read_number",
    "read_percentage",
    "read_size",
    "read_span",
    "read_temperature",
    "read_turns",
]
