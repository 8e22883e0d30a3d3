"""The steps of the day, each by itself; what they mean together is checked elsewhere."""

from __future__ import annotations

from typing import Final, cast

from benchapp.quantities import QuantityError, quoted, read_duration, read_span
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.model import Hands, Section, Step

ASKED: Final = ("verdict", "tags", "note")
SHORT_LETTERS: Final = 12
_EXAMPLE: Final = "{do: Ink, hands: inky, time: 3/5/8 min}"
_HANDS: Final = ("inky", "clean", "free")


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
        care=fields.text("care", "Fingers, hair and sleeves clear"),
        asks=_asks(fields),
        must=fields.texts("must", "[turned off, left on]"),
        within=fields.read("within", read_duration, "8 min"),
        calls=fields.read("calls", read_duration, "2 min"),
        optional=fields.flag("optional"),
        every=fields.count("every", "5", "impressions"),
        out_of_reach=fields.flag("out of reach"),
    )
    fields.finish()
    return step


def _short(text: str) -> str:
    if len(text) > SHORT_LETTERS:
        raise QuantityError(f"{quoted(text)} has {len(text)} letters",
                            f"write at most {SHORT_LETTERS}: it is read from across the room")
    return text


def _asks(fields: Fields) -> tuple[str, ...]:
    node = fields.take("asks")
    if node is None:
        return ()
    found = fields.texts_in(node, "asks", "[verdict, tags, note]")
    for word in found:
        if word not in ASKED:
            fields.ledger.add(node, f"asks: {quoted(word)} is not asked",
                              "write verdict, tags or note; a named value belongs to readings:")
    return found
