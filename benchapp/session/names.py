"""What entries, steps and calls are named by, for whoever folds, decides or shows them."""

from __future__ import annotations

from functools import lru_cache

from benchapp.events.session import WorkEvent
from benchapp.events.streams import told_of
from benchapp.recipe.build import build_recipe
from benchapp.recipe.model import Step
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.state import (
    Session,
    TaskKey,
)


def key_of(event: WorkEvent) -> TaskKey:
    """The piece of work an event names."""
    return TaskKey(event.step, event.impression, event.pack)


@lru_cache(maxsize=32)
def shape_of(recipe_text: str) -> CompiledRecipe:
    """The recipe a session keeps, built once.

    Raises:
        RecipeError: No recipe can be made of the text (it was one when the session opened).
    """
    return CompiledRecipe(build_recipe(recipe_text))


def session_id(stream: str) -> str:
    """The session a stream belongs to, or that another book tells of in it."""
    return told_of(stream).partition("/")[2]


def after_closing(name: str) -> str:
    """Where to go on with a session that is closed: the commands, by its name."""
    return (f"read it back with `benchapp review {name}`, sort its sheets with `benchapp sort "
            f"{name}`")


def step_of(session: Session, key: TaskKey) -> Step | None:
    """The step a key names: of the recipe, of the program's own, or taken over."""
    step = session.shape.by_id.get(key.step)
    if step is None:
        step = next((s for s in session.inherited if s.id == key.step), None)
    return step


def call_id(key: TaskKey) -> str:
    """The call that belongs to a piece of work; `out` of a pack answers its soak."""
    if key.step == "damp.out":
        return f"soak {key.pack}"
    return " ".join(str(p) for p in ("step", key.step, key.impression) if p is not None)


#: How the call of a limit begins.
_LIMIT = "within "


def limit_call_id(key: TaskKey) -> str:
    """The call of a limit that runs to the end of a piece of work."""
    return f"{_LIMIT}{key.step} {key.impression}"


def is_limit(call: str) -> bool:
    """Whether a call is a limit's: no tread answers it, it is over with its work."""
    return call.startswith(_LIMIT)


def inherited_id(owner: str, step: str) -> str:
    """What an after step is called in the session another left it to."""
    return f"{owner} {step}"


def next_sheet_number(s: Session) -> int:
    """The number the next sheet pulled for the first time will bear."""
    return 1 + max((i.number for i in s.impressions if i.number is not None), default=0)
