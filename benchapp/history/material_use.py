"""What a session took of paper and ink, as its entries show it. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchapp.history.calc_inputs import tear_for
from benchapp.history.stats import inked_plates, session_readings
from benchapp.quantities import QuantityError, number_text, read_mass
from benchapp.recipe.model import Paper, Recipe
from benchapp.reckon.errors import ReckonError
from benchapp.session.state import NOT_KNOWN, SPOILED_TRY, Impression, Session, TaskKey
from benchapp.stock.left import InkUse, PaperUse, Uses

#: Ways in which a step ends without having been done.
_NOT_DONE = ("skipped", "left", "dropped", "not said")
_TIN = "ink tin"


def stock_name(paper: Paper) -> str | None:
    """What a paper is called in the stock: its name, and its weight; None: it has no name.

    The weight is in g/m2 however a recipe spells it: `270 gsm` is no other paper.
    """
    if paper.name is None:
        return None
    return paper.name if paper.weight is None else (
        f"{paper.name}, {number_text(paper.weight.gsm)} g/m2")


def pieces_per_sheet(paper: Paper) -> int | None:
    """Pieces that a full sheet gives, torn in the plainest way; None: not known."""
    try:
        answer = tear_for(paper)
    except ReckonError:
        return None
    return None if answer is None else int(answer.figures["pieces"])


def paper_names(recipes: Iterable[Recipe]) -> tuple[str, ...]:
    """The papers of recipes by name, each once."""
    names = (stock_name(p) for r in recipes for p in r.papers)
    return tuple(dict.fromkeys(x for x in names if x is not None))


def ink_names(recipes: Iterable[Recipe]) -> tuple[str, ...]:
    """The inks of recipes and what is mixed into them, each once."""
    return tuple(dict.fromkeys(name for r in recipes for ink in r.inks
                               for name in (ink.name, *(part for part, _ in ink.parts))
                               if name is not None))


def uses_of(sessions: Iterable[Session], recipes: Iterable[Recipe] = ()) -> Uses:
    """What these sessions used.

    Args:
        sessions: Folded, open ones too.
        recipes: Others whose papers are known.
    """
    known = tuple(sessions)
    return Uses(tuple(x for s in known for x in paper_uses(s)),
                tuple(x for s in known for x in ink_uses(s)),
                paper_names((*(s.recipe for s in known), *recipes)))


def paper_uses(s: Session) -> Iterator[PaperUse]:
    """Every piece of paper that a session printed, or lost before it was printed.

    A sheet pulled takes one, spoiled or not, and so do a ghost and a counterproof. What went back
    into its pack was not used. Of a further paper a piece is used when its step was done.
    """
    papers = [(p, name, pieces_per_sheet(p)) for p in s.recipe.papers
              if (name := stock_name(p)) is not None]
    first = s.recipe.paper
    at_ms = s.opened.wall_ms
    for i in s.impressions:
        at_ms = max(at_ms, _moment(s, i))
        for paper, name, per_sheet in papers:
            if _took_sheet(i) if paper is first else _step_done(s, i, paper.key):
                yield PaperUse(name, at_ms, s.id, per_sheet)


def _took_sheet(i: Impression) -> bool:
    return i.pulled or (i.ended == SPOILED_TRY and (i.sheet == "lost" or bool(i.sheets)))


def _step_done(s: Session, i: Impression, key: str) -> bool:
    """Whether the step that takes a piece of that paper was done for this impression."""
    work = (s.work.get(TaskKey(step.id, i.ordinal)) for step in s.recipe.each if key in step.uses)
    return any(x is not None and not x.running and x.how not in _NOT_DONE for x in work)


def _moment(s: Session, i: Impression) -> int:
    """When an impression took its paper; where its pull was not timed, when its work began."""
    if i.pulled_at is not None:
        return i.pulled_at.wall_ms
    begun = (x.started for key, x in s.work.items() if key.impression == i.ordinal)
    return max((x.wall_ms for x in begun if x is not None), default=0)


def ink_uses(s: Session) -> Iterator[InkUse]:
    """The ink of a session's day, by the tin it was recorded to come from.

    A day with several inks, or with more than one tin, does not say how much came from which.
    """
    if not any(i.pulls for i in s.impressions):
        return
    tins = dict.fromkeys(x for _, x in session_readings(s, _TIN) if x and x != NOT_KNOWN)
    inked = inked_plates(s.recipe)
    at_ms = max((p.at.wall_ms for i in s.impressions for p in i.pulls if p.at is not None),
                default=s.opened.wall_ms)
    alone = len(tins) == 1 and len(inked) == 1
    for tin in tins or (None,):
        yield InkUse(tin, at_ms, _weighed(s, inked[0].reading) if alone else None)


def _weighed(s: Session, name: str) -> int | None:
    found = session_readings(s, name)
    try:
        return round(read_mass(found[-1][1]).g * 1000) if found else None
    except QuantityError:
        return None
