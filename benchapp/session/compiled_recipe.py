"""The shape of a recipe's work: who follows whom, where the pulls are, who holds a plate.

Computed once when a session opens; the recipe itself never changes inside one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from benchapp.quantities import Duration, Span
from benchapp.recipe import inking, order
from benchapp.recipe.model import Paper, Recipe, Step

WASH = "wash"
DAMP_IN = "damp.in"
DAMP_OUT = "damp.out"

#: In and out of the water where the recipe is silent (common practice, no source).
HANDLING = Duration(3 * 60_000)


def paper_of(recipe: Recipe, paper: Paper) -> str:
    """What a paper is called across sessions: its name, weight and piece where known."""
    parts = [str(p) for p in (paper.name, paper.weight, paper.piece) if p is not None]
    return ", ".join(parts) if parts else f"{recipe.print.title}: {paper.key}"


@dataclass(frozen=True)
class CompiledRecipe:
    """A recipe and what follows from it. See the functions of `recipe.order`."""

    recipe: Recipe

    @cached_property
    def by_id(self) -> Mapping[str, Step]:
        """Every step by its id, with the wash and the handling of packs."""
        recipe = self.recipe
        steps = {s.id: s for s in recipe.steps}
        wash = recipe.wash
        steps[WASH] = Step(WASH, "each", "Wash and dry hands", "clean", time=Span(wash, wash, wash),
                           short="wash")
        handling = self.handling
        span = Span(handling, handling, handling)
        steps[DAMP_IN] = Step(DAMP_IN, "each", self._damp_words(), "clean", time=span,
                              short="damp paper")
        steps[DAMP_OUT] = Step(DAMP_OUT, "each", "Sheets out of the water", "clean", time=span,
                               short="sheets out")
        return steps

    def _damp_words(self) -> str:
        damp = self.damped.damp if self.damped else None
        method = damp.method if damp else "soak"
        return {"soak": "Sheets into the water", "dip": "Dip the sheets and stack them",
                "spray": "Spray the sheets and stack them",
                "pack": "Damp the sheets and pack them between boards"}[method]

    @cached_property
    def damped(self) -> Paper | None:
        """The paper of the sheet where it is damped; None where it is ready as it is."""
        paper = self.recipe.paper
        return paper if paper is not None and paper.damp is not None else None

    @cached_property
    def paper_name(self) -> str | None:
        """The damped paper's name across sessions."""
        return None if self.damped is None else paper_of(self.recipe, self.damped)

    @cached_property
    def handling(self) -> Duration:
        """Putting a pack in, or taking it out."""
        damp = self.damped.damp if self.damped else None
        return HANDLING if damp is None or damp.handling is None else damp.handling

    @cached_property
    def follows(self) -> Mapping[str, tuple[str, ...]]:
        """The direct predecessors of each step within its section."""
        return order.step_predecessors(self.recipe)

    @cached_property
    def pulls(self) -> tuple[str, ...]:
        """The ids of the steps that pull, as listed."""
        return tuple(order.pull_ids(self.recipe))

    @cached_property
    def lift(self) -> str | None:
        """The first step after the last pull."""
        return order.lift_step(self.recipe)

    @cached_property
    def sheet_step(self) -> str:
        """The step that takes the sheet."""
        return order.takes_sheet(self.recipe)

    @cached_property
    def limits(self) -> tuple[order.StepLimit, ...]:
        """How long may lie between the end of one step and the beginning of another."""
        return tuple(order.step_limits(self.recipe))

    @cached_property
    def calling_limits(self) -> tuple[order.StepLimit, ...]:
        """Those the recipe says of a pull after another one: the sheet waits for it."""
        return tuple(x for x in self.limits if x.said and x.to_end)

    @cached_property
    def place_of(self) -> Mapping[str, int]:
        """The place of each step of `each` in the order written."""
        return {s.id: i for i, s in enumerate(self.recipe.each)}

    @cached_property
    def release(self) -> Mapping[str, str]:
        """For each plate the step whose end frees it."""
        return {p.name: order.released_by(self.recipe, p.name) for p in self.recipe.plates}

    @cached_property
    def plates_of(self) -> Mapping[str, tuple[str, ...]]:
        """The plates each step of `each` works on; with one plate all up to the lift are its."""
        return {s.id: order.plates_of(self.recipe, s) for s in self.recipe.each}

    @cached_property
    def inking(self) -> Mapping[str, str]:
        """What is shown of plate and ink beside an inking or wiping step; none for any other."""
        return {s.id: inking.shown_words(self.recipe, s) for s in self.recipe.each
                if inking.is_inking(self.recipe, s)}

    @cached_property
    def spoken(self) -> Mapping[str, str]:
        """What is spoken as an inking or wiping step begins; none for any other."""
        return {s.id: inking.spoken_words(self.recipe, s) for s in self.recipe.each
                if inking.is_inking(self.recipe, s)}

    @cached_property
    def reworks(self) -> Mapping[str, str]:
        """While proofing, the steps that may change a plate, with that plate.

        They are listed after its last pull and name it. One that asks is the look at the proof.
        """
        if self.recipe.proofing is None:
            return {}
        last = {p: self.place_of[s.id] for s in self.recipe.each for p in s.pulls}
        return {s.id: s.plate for s in self.recipe.each if s.plate is not None and not s.asks
                and not s.pulls and self.place_of[s.id] > last.get(s.plate, -1)}

    def due_on(self, step: Step, ordinal: int) -> bool:
        """Whether a step of `each` belongs to the impression of that ordinal."""
        return step.every is None or (ordinal - 1) % step.every == 0

    @cached_property
    def places(self) -> Mapping[str, int]:
        """Every place and how many can use it at once."""
        return order.place_capacities(self.recipe)

    @cached_property
    def cycle_ms(self) -> int:
        """Usual time of the hands' work on one impression, one wash in it; unknown is left out."""
        total = Fraction(self.recipe.wash.ms)
        for step in self.recipe.each:
            if step.hands != "free" and step.time is not None and not step.optional:
                total += Fraction(step.time.usual.ms, step.every or 1)
        return int(total)
