"""The steps of the day, each by itself; what they mean together is checked elsewhere."""

from __future__ import annotations

import re
from typing import Final, cast

from benchapp.quantities import Duration, QuantityError, quote_text, read_duration, read_span
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.model import Hands, Section, Step
from benchapp.recipe.nodes import Map

ASKED: Final = ("verdict", "tags", "note")
SHORT_LETTERS: Final = 12
#: A short caution takes at most two rows of a narrow screen.
CARE_LETTERS: Final = 60
_EXAMPLE: Final = "{do: Ink, hands: inky, time: 3/5/8 min}"
_HANDS: Final = ("inky", "clean", "free")
#: A name, and from its first figure on a time.
_LASTS: Final = re.compile(r"(\D{1,60}?)\s+(\d.{0,60})")


def read_section(top: Fields, section: Section, ledger: Ledger) -> tuple[Step, ...]:
    """`before:`, `each:` or `after:` as steps. What could not be read is left at its default."""
    return tuple(
        _step(fields, section, f"{section}.{number}")
        for number, fields in enumerate(
            top.maps(section, f"step {{}} of {section}", _EXAMPLE), start=1)
    )


def _step(fields: Fields, section: Section, id: str) -> Step:
    fields.need("do", "write do: and what is done")
    fields.need("hands", "write hands: inky, clean or free")
    step = Step(
        id=id,
        section=section,
        do=fields.text("do", "Ink") or "",
        hands=cast("Hands", fields.choice("hands", _HANDS) or "clean"),
        at=fields.text("at", "press"),
        time=fields.read("time", read_span, "3/5/8 min"),
        ends_itself=fields.choice("ends", ("itself",)) is not None,
        say=fields.text("say", "Ink the key plate"),
        short=fields.read("short", _short, "Ink"),
        lines=fields.texts("lines", "scrim used to clean"),
        uses=fields.texts("uses", "sheet"),
        pulls=fields.texts("pulls", "key"),
        returns=fields.flag("return"),
        plate=fields.text("plate", "key"),
        care=(care := _care(fields))[0],
        care_short=care[1],
        asks=_asks(fields),
        must=fields.texts("must", "[turned off, left on]"),
        within=fields.read("within", read_duration, "8 min"),
        calls=fields.read("calls", read_duration, "2 min"),
        lasts=fields.read("lasts", _lasts, "paste 8 h"),
        optional=fields.flag("optional"),
        every=fields.count("every", "5", "impressions"),
        out_of_reach=fields.flag("out of reach"),
    )
    fields.finish()
    return step


def _lasts(text: str) -> tuple[str, Duration]:
    found = _LASTS.fullmatch(text.strip())
    if found is None:
        raise QuantityError(f"{quote_text(text)} is not a name and a time",
                            "write lasts: paste 8 h")
    name, time = found.groups()
    if len(name) > SHORT_LETTERS:
        raise QuantityError(f"{quote_text(name)} has {len(name)} letters",
                            f"write at most {SHORT_LETTERS}: it is read from across the room")
    return name, read_duration(time)


def _short(text: str) -> str:
    if len(text) > SHORT_LETTERS:
        raise QuantityError(f"{quote_text(text)} has {len(text)} letters",
                            f"write at most {SHORT_LETTERS}: it is read from across the room")
    return text


def _care(fields: Fields) -> tuple[str | None, str | None]:
    """A caution: one text, or a map of the `full` line and a `short` one of the printer's own."""
    node = fields.take("care")
    if not isinstance(node, Map):
        example = "Fingers, hair and sleeves clear"
        return (None if node is None else fields.text_in(node, "care", example)), None
    inner = Fields(node, f"care of {fields.name}", fields.ledger)
    inner.need("full", "write full: and the whole caution")
    full = inner.text("full", "Nip crushes; fingers, hair and sleeves clear")
    short = inner.read("short", _care_short, "Nip crushes: fingers clear")
    inner.finish()
    return full, short


def _care_short(text: str) -> str:
    if len(text) > CARE_LETTERS:
        raise QuantityError(f"{quote_text(text)} has {len(text)} letters",
                            f"write at most {CARE_LETTERS}: the harm and the one thing to do")
    return text


def _asks(fields: Fields) -> tuple[str, ...]:
    node = fields.take("asks")
    if node is None:
        return ()
    found = fields.texts_in(node, "asks", "[verdict, tags, note]")
    for word in found:
        if word not in ASKED:
            fields.ledger.add(node, f"asks: {quote_text(word)} is not asked",
                              "write verdict, tags or note; a named value belongs to readings:")
    return found
