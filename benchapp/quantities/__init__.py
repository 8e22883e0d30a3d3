"""Durations, lengths, masses and the like: read and written the same way everywhere.

A value is exact (int or Fraction), compares by what it amounts to, and prints in
the unit the printer wrote. Anyone may come in; this room knows nobody.

Decisions, numbered as in DEVELOPERS.md:

5. **Quantities are exact.** int and Fraction; a float is turned away where a value is made. Two
   spellings of one quantity are equal, the printer's unit is kept for printing only. Price: a
   conversion can print as a fraction (100 mm is `3 119/127 in`).
6. **`1:30`, bare numbers, decimal commas and pounds of paper are refused, with the mend.** Each
   can be read two ways, and a wrong guess is found out only after a ruined sheet. Price: stricter
   than people expect once, and never again. Files keep to this. Where one quantity is typed and
   no list can be meant, `3,25 turns` is read (`point_for_comma`) and what was recorded is shown;
   `1,500` is refused there too. Inches and ounces are recorded as mm and g.
7. **A text is measured before any pattern sees it.** One pattern for decimal commas took minutes
   on 100,000 digits (it is quadratic); every reader begins by refusing more than 100 characters.
85. **A day or a time is read one way, wherever it is typed.** `quantities/days.py` and
    `daytimes.py` take what people say; where it is typed says whether `friday` is past or coming.
    What can be read two ways is refused with both readings, as `5`, `3/5`, `next friday` and `12
    pm`. What is kept is ISO 8601, and a question after it shows that date. A session may be named
    by its day; `yesterday` stays the last one opened before today. Price: `friday` on a Friday is
    asked again.
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
