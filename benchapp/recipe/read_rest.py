"""Drying, tags, readings, phrases and how long one print takes."""

from __future__ import annotations

import re
from typing import Final

from benchapp.quantities import Duration, QuantityError, quote_text, read_duration
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.model import Drying, ReadingSpec
from benchapp.recipe.nodes import Node

#: The key of a guess: how long one print takes.
TAKES: Final = "one print takes"
WARM_UPS: Final = "warm-ups"
#: More first pulls than that are a day of proofs.
_MOST_WARM_UPS: Final = 20
_LONGEST: Final = 24 * 60 * 60_000
_GRADE: Final = re.compile(r"grade ([0-9])-([0-9])")


def read_drying(top: Fields, ledger: Ledger) -> tuple[Drying, ...]:
    """`drying:`: each thing is done once, `after`, or again `every` so long `for` a time."""
    jobs = []
    for fields in top.maps("drying", "drying {}", "{do: Change blotters, after: 3 h}"):
        fields.need("do", "write do: and what is done")
        job = Drying(
            do=fields.text("do", "Change blotters") or "",
            after=fields.read("after", read_duration, "3 h"),
            every=fields.read("every", read_duration, "1 day"),
            for_=fields.read("for", read_duration, "3 days"),
        )
        _when(fields, job, ledger)
        fields.finish()
        jobs.append(job)
    return tuple(jobs)


def _when(fields: Fields, job: Drying, ledger: Ledger) -> None:
    if not fields.readable:
        return
    if fields.has("after") == fields.has("every"):
        ledger.add(fields.node, f"{fields.name} says " + (
            "after and every" if fields.has("after") else "neither after nor every"),
            "write after: 3 h, or every: 1 day with for: 3 days")
    elif fields.has("every") != fields.has("for"):
        ledger.add(fields.node, f"{fields.name} needs every and for together",
                   "write every: 1 day and for: 3 days")
    elif job.every is not None and not job.every.ms:
        ledger.add(fields.node_of("every"), "every: there is no time between two changes",
                   "write such as every: 1 day")
    elif job.every and job.for_ and job.for_ < job.every:
        ledger.add(fields.node_of("for"), f"for: {job.for_} is over before the first change",
                   f"write {job.every} or longer")


def read_tags(node: Node, ledger: Ledger) -> dict[str, tuple[str, ...]]:
    """`tags:`: the printer's own words, in groups; a word belongs to one group."""
    fields = Fields(node, "tags", ledger, "paper: [too wet, cockle]")
    groups: dict[str, tuple[str, ...]] = {}
    owner: dict[str, str] = {}
    for key, value in fields.rest():
        groups[key.text] = fields.texts_in(value, key.text, "[too wet, cockle]")
        for word in groups[key.text]:
            before = owner.setdefault(word.casefold(), key.text)
            if before != key.text:
                ledger.add(value, f"tags: {quote_text(word)} is in {before} already",
                           "keep it in one group")
    return groups


def read_readings(top: Fields, ledger: Ledger) -> tuple[ReadingSpec, ...]:
    """`readings:`: named values, each with a unit or a grade."""
    readings = []
    seen: set[str] = set()
    for fields in top.maps("readings", "reading {}", "{name: tone, unit: grade 1-5}"):
        fields.need("name", "write name: and what is read")
        reading = ReadingSpec(
            name=fields.text("name", "tone") or "",
            unit=fields.read("unit", _unit, "grade 1-5"),
            at=fields.text("at", "Lift and look"),
        )
        fields.finish()
        readings.append(reading)
        if reading.name and reading.name.casefold() in seen:
            ledger.add(fields.node_of("name"), f"two readings are called {reading.name}",
                       "give each a name of its own")
        seen.add(reading.name.casefold())
    return tuple(readings)


def _unit(text: str) -> str:
    if not text.startswith("grade"):
        return text
    found = _GRADE.fullmatch(text)
    if not found or not found[1] < found[2]:
        raise QuantityError(f"{quote_text(text)} is not a grade that one key can give",
                            "write such as grade 1-5, from 0 up to 9")
    return text


def read_warm_ups(text: str) -> int:
    """How many first pulls of a day do not count; 0: every pull counts.

    Raises:
        QuantityError: It is no such number.
    """
    found = int(text) if text.isascii() and text.isdigit() and len(text) < 4 else None
    if found is None or found > _MOST_WARM_UPS:
        raise QuantityError(f"{quote_text(text)} is not a number of warm-ups",
                            f"write 0 to {_MOST_WARM_UPS}")
    return found


def read_takes(text: str) -> Duration:
    """How long one print takes, as a printer guesses.

    Raises:
        QuantityError: It is no length inside a day.
    """
    found = read_duration(text)
    if not 0 < found.ms <= _LONGEST:
        raise QuantityError(f"{quote_text(text)} cannot be the time of one print",
                            "write one such as 40 min")
    return found
