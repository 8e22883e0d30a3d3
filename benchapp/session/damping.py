"""Packs handled outside any session: damped the evening before, taken out, put away. Pure."""

from __future__ import annotations

from benchapp.decision import Refusal
from benchapp.edition.packs import Pack
from benchapp.events.entry import Draft
from benchapp.events.pack import PackOut, PackPutAway, PackPutIn
from benchapp.recipe.model import Recipe
from benchapp.session.compiled_recipe import CompiledRecipe

#: How what is left of a pack is put away.
PUT_AWAY = ("dried", "none")


def damp_pack(recipe: Recipe, pack: str, sheets: int | None) -> tuple[Draft, ...] | Refusal:
    """A pack of the recipe's paper goes in now, for no session.

    Args:
        recipe: Whose paper it is, and how that is damped.
        pack: The pack's id, unique in the book.
        sheets: How many; None: not counted.
    """
    shape = CompiledRecipe(recipe)
    paper = shape.damped
    if paper is None or paper.damp is None or shape.paper_name is None:
        return Refusal(f"{recipe.print.title} uses paper that is not damped",
                       "write damp under its paper if it is")
    if sheets is not None and sheets < 1:
        return Refusal("A pack has at least one sheet", "write a whole number from 1 up")
    d = paper.damp
    stream = f"pack/{pack}"
    put_in = Draft.of(stream, PackPutIn(
        pack=pack, paper=shape.paper_name, sheets=sheets, method=d.method,
        soak_ms=None if d.soak is None else d.soak.ms,
        rest_ms=None if d.rest is None else d.rest.ms,
        keeps_ms=None if d.keeps is None else d.keeps.ms, by=None))
    if not d.in_water:
        return put_in, Draft.of(stream, PackOut(pack=pack, by=None))
    return (put_in,)


def pack_out(pack: Pack) -> tuple[Draft, ...] | Refusal:
    """The sheets of a pack are out of the water now."""
    if pack.out is not None:
        return Refusal("Its sheets are out of the water already", "nothing was changed")
    return (Draft.of(f"pack/{pack.id}", PackOut(pack=pack.id, by=None)),)


def pack_away(pack: Pack, how: str) -> tuple[Draft, ...] | Refusal:
    """What is left of a pack is dried between blotters, or there is nothing left of it."""
    if pack.away is not None:
        return Refusal("It was put away already", "nothing was changed")
    if how not in PUT_AWAY:
        return Refusal(f"You cannot put a pack away as {how}", f"say {' or '.join(PUT_AWAY)}")
    return (Draft.of(f"pack/{pack.id}", PackPutAway(pack=pack.id, how=how, by=None)),)
