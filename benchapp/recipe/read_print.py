"""The print, its plates, and what a proofing day is for."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from benchapp.quantities import (
    Length,
    QuantityError,
    Size,
    join_words,
    quote_text,
    read_length,
    read_size,
)
from benchapp.recipe.fields import Fields, Ledger, count_reader, nearest_word
from benchapp.recipe.model import Plate, Print, ProofCap, Proofing
from benchapp.recipe.nodes import Map, Node

#: Kinds that may be capped. The bon à tirer and the cancellation proof are one each.
CAPPED: Final = ("AP", "PP", "HC", "BAT", "presentation", "progressive", "archive",
                 "cancellation proof")
_ONE_ONLY: Final = ("BAT", "cancellation proof")
_STATE: Final = re.compile(r"(?=[IVXLC])(XC|XL|L?X{0,3})(IX|IV|V?I{0,3})[a-z]?|[1-9][0-9]?[a-z]?")
#: Stands in for a size that could not be read; such a recipe is never given out.
_NO_SIZE: Final = Size(Length(Fraction(1)), Length(Fraction(1)))
_NAME: Final = "name: key"


def read_print(node: Node, ledger: Ledger) -> Print:
    """`print:` as a value; what could not be read is left at its default."""
    fields = Fields(node, "print", ledger, "title: Slack Tide")
    fields.need("title", "write title: and what the print is called")
    fields.need("artist", "write artist: and who made the plate")
    found = Print(
        title=fields.text("title", "Slack Tide") or "",
        artist=fields.text("artist", "Wren Aldous") or "",
        key=fields.text("key", "slack-tide"),
        edition=fields.count("edition", "40", "impressions"),
        proofs=_proofs(fields, ledger),
    )
    fields.finish()
    return found


def _proofs(fields: Fields, ledger: Ledger) -> dict[str, ProofCap]:
    node = fields.take("proofs")
    if node is None:
        return {}
    proofs = Fields(node, "proofs", ledger, "{AP: 4, PP: 1}")
    caps = {}
    for key, value in proofs.rest():
        if key.text not in CAPPED:
            meant = nearest_word(key.text, CAPPED)
            ledger.add(key, f"{quote_text(key.text)} is not a kind of proof that has a cap",
                       f"write {meant or join_words(CAPPED, 'or')}")
            continue
        cap = _cap(proofs, key.text, value, ledger)
        if cap is not None:
            caps[key.text] = cap
    return caps


def _cap(proofs: Fields, kind: str, value: Node, ledger: Ledger) -> ProofCap | None:
    if not isinstance(value, Map):
        number = proofs.read_in(value, kind, count_reader("4", "proofs"), "4")
        cap = ProofCap(number) if number is not None else None
    else:
        inner = Fields(value, kind, ledger)
        inner.need("cap", f"write {kind}: {{cap: 4, inside: true}}")
        number = inner.count("cap", "4", "proofs")
        inside = inner.flag("inside")
        inner.finish()
        cap = ProofCap(number, inside) if number is not None else None
    if cap is not None and kind in _ONE_ONLY and cap.cap > 1:
        ledger.add(value, f"{kind}: there is only one in an edition", "write 1")
    return cap


def read_plates(top: Fields, ledger: Ledger) -> tuple[Plate, ...]:
    """`plates:` in printing order."""
    example = "{name: key, metal: copper, size: 198 x 148 mm}"
    plates = []
    seen: dict[str, str] = {}
    for fields in top.maps("plates", "plate {}", example):
        plate = _plate(fields)
        plates.append(plate)
        if plate.name.casefold() in seen:
            ledger.add(fields.node_of("name"), f"two plates are called {plate.name}",
                       "give each a name of its own")
        elif plate.name:
            seen[plate.name.casefold()] = plate.name
    if not plates and "plates" not in ledger.unsure and top.has("plates"):
        ledger.add(top.node_of("plates"), "plates is empty", f"write - {example}", "plates")
    return tuple(plates)


def _plate(fields: Fields) -> Plate:
    fields.need("name", f"write {_NAME}")
    fields.need("metal", "write metal: copper, or any other word")
    fields.need("size", "write size: 198 x 148 mm, width by height on the bed")
    plate = Plate(
        name=fields.text("name", "key") or "",
        metal=fields.judged("metal", read_metal, "copper") or "",
        size=fields.read("size", read_size, "198 x 148 mm") or _NO_SIZE,
        thickness=fields.read("thickness", read_length, "1.2 mm"),
        techniques=fields.texts("techniques", "hard-ground line"),
        life=fields.count("life", "120 impressions", "impressions", bare=False),
    )
    fields.finish()
    return plate


def read_metal(text: str) -> str:
    """What a plate is made of, in the printer's own word.

    Raises:
        QuantityError: There is no letter in it.
    """
    if not any(c.isalpha() for c in text):
        raise QuantityError(f"{quote_text(text)} is not the name of a metal",
                            "write copper, or any other word")
    return text


def read_proofing(node: Node, ledger: Ledger) -> Proofing | None:
    """`proofing:`; a state proof says its state."""
    fields = Fields(node, "proofing", ledger, "{for: SP, state: II}")
    fields.need("for", "write for: TP, WP or SP")
    for_ = fields.choice("for", ("TP", "WP", "SP"))
    if for_ == "SP":
        fields.need("state", "write the state the plate is in, such as state: II")
    state = fields.read("state", _state, "II")
    fields.finish()
    return Proofing(for_, state) if for_ else None


def _state(text: str) -> str:
    if not _STATE.fullmatch(text):
        raise QuantityError(f"{quote_text(text)} is not a state of a plate",
                            "write a Roman number such as II, or 2")
    return text
