"""A day in words, as heads and questions name it. Pure."""

from __future__ import annotations

from datetime import date

from benchapp.quantities import join_words


def in_words(day: date) -> str:
    """Weekday, day and month: `Sunday 3 May`."""
    return f"{day:%A} {day.day} {day:%B}"


def join_names(names: list[str]) -> str:
    """Names as one says them, each once: `A`, `A and B`, `A, B and C`."""
    return join_words(dict.fromkeys(names))
