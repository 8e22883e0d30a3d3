"""A day on a cancelled plate: it is not of the edition, and says so before its first sheet."""

from __future__ import annotations

from benchapp.edition.sharing import cancelled_words, first_cancelling
from benchapp.edition.state import Register
from benchapp.recipe.model import Recipe
from benchapp.session.edition_links import recipe_print_id
from benchapp.session.state import Session


def cancelled_for(register: Register, recipe: Recipe) -> str | None:
    """How and when a plate of the recipe was cancelled; None: none of them was."""
    id_ = recipe_print_id(recipe)
    done = first_cancelling(register, id_)
    if done is None or (done.plates and not {*done.plates} & {p.name for p in recipe.plates}):
        return None
    return cancelled_words(register, id_)


def only_proof_words(title: str, how: str) -> str:
    """What can still be pulled of a print whose plate was cancelled."""
    return (f"The plate of {title} is cancelled ({how}): it gives only its cancellation proof")


def before_first_sheet(s: Session) -> str | None:
    """The same, of a session in which nothing is pulled yet; None: its plate is not cancelled."""
    if s.cancelled is None or any(i.pulled for i in s.impressions):
        return None
    return only_proof_words(s.recipe.print.title, s.cancelled)
