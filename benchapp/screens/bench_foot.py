"""Which keys stand at the foot of the Bench: those that do something now. Pure."""

from __future__ import annotations

from typing import Final

from benchapp.events.entry import Moment
from benchapp.screens.page_base import SEARCH_KEY
from benchapp.session import actions as a
from benchapp.session.state import StudioState
from benchapp.views.availability import proof_specs, specs_now
from benchapp.views.bench import BenchView
from benchapp.views.cut_short import cut_by

FAR_KEY: Final = "f2"
"""The far view, and back: it answers nothing and hurts nothing, so with inky hands too."""
PLAN_KEY: Final = "f3"
FOLD_KEY: Final = "f9"
"""More on the Bench, or less: no letter, so that it judges nothing; with inky hands too."""
_AWAY: Final = (("escape", "Studio"), ("question_mark", "help"))


def foot_keys(room: StudioState, shown: BenchView, now: Moment, *, full: bool = True,
              ) -> list[tuple[str, str]]:
    """The keys, those of most use first, each with what it does; none without a session."""
    if room.session is None:
        return []
    keys = [("space", "go on")]
    if shown.closed:
        return [*keys, *_AWAY]
    if shown.now.must:
        keys.append((f"1-{len(shown.now.must)}", "answer"))
    s = room.session
    specs = [(spec, (spec.key or "", (spec.word if spec.foot is None else spec.foot(s))
                     + _early(room, spec, now))) for spec in specs_now(room, s, now)]
    own = proof_specs(s)
    keys += [key for spec, key in specs if spec in own]
    if shown.now.asks and shown.mark and room.clean:
        keys += [("1-5", "grade"), ("=", "as the last")]
    keys += [key for spec, key in specs if spec not in own]
    if room.clean:
        keys += [("comma", "sheets"), (FAR_KEY, "far view"),
                 (FOLD_KEY, "less" if full else "show all"), (PLAN_KEY, "plan"),
                 (SEARCH_KEY, "search"), *_AWAY]
    return keys


def _early(room: StudioState, spec: a.ActionSpec, now: Moment) -> str:
    """That it would come too early now; how much is not said where no count runs."""
    early = spec.early and spec.makes is not None and cut_by(room, spec.makes, now)
    return spec.early if early else ""
