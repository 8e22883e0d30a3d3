"""The invented year of Tollerbank Etching Room: which days were printed, and what came of them.

Idony Threlwick and Piers Quillabeck share the room and one book. Days are counted
back from the day the demo is made for; the last session began some hours before it,
so that the newcomer finds the bench in the middle of a day. What becomes of a day's
sheets afterwards stands beside the day; those of the last two are still to be sorted.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.demo.day import HelpIn, SimulatedDay, SimulatedRework
from benchapp.demo.table import SortingTable

_BLANKETS: Final = "one thin felt, one thick, both washed in spring"
_LEFT: Final = {"left side": "3.25 turns", "right side": "3.375 turns"}
#: Two plates: each screw by its plate's name, as it is asked for.
_FERRY: Final = {f"{plate} {side}": "3.5 turns" for plate in ("tone", "key")
                 for side in ("handle side", "far side")}
_GALLERY: Final = "Corrow Quay Gallery"


@dataclass(frozen=True, slots=True)
class Later:
    """Something done to a day's sheets, so many days after it.

    Attributes:
        days: After the day.
        does: What.
        at: Minutes after local midnight.
    """

    days: int
    does: Callable[[SortingTable], None]
    at: int = 10 * 60 + 30


@dataclass(frozen=True, slots=True)
class Date:
    """One day of the year's plan.

    Attributes:
        days_ago: Days before the day the demo is made for.
        recipe: The recipe's name.
        day: What will happen.
        starts: When the printer comes in: minutes after local midnight.
        damped: Sheets damped the evening before, for no session; 0: none.
        judges: Sheets left unjudged that are judged the morning after.
        before_now: Where above 0, it starts so many minutes before the demo is made.
        later: What becomes of its sheets.
        late: Which changes of its boards were made late, counted from 1.
        skips: Which were passed by, and why.
    """

    days_ago: int
    recipe: str
    day: SimulatedDay
    starts: int = 9 * 60
    damped: int = 0
    judges: int = 0
    before_now: int = 0
    later: tuple[Later, ...] = ()
    late: frozenset[int] = frozenset()
    skips: Mapping[int, str] = field(default_factory=dict)


YEAR: Final = (
    Date(352, "signal-box", SimulatedDay(
        enough_at=5, pace=1.05,
        reworks=(SimulatedRework(2, "III", "burnished the signal arm and the two upper panes"),
                 SimulatedRework(4, "IV", "window bars deepened, rail re-ground and bitten 6 min")),
        settings={"room": "16.5 °C", "etchant": "second week, still quick"},
        clock=(6, "test strip in the etchant"),
        left_off="State IV is nearly it: only the sky is still too heavy on the right.",
        says={1: "Signal arm far too dark, the eye goes nowhere else.",
              5: "Bars hold now. Sleep over the sky."}),
        later=(Later(7, SortingTable.take_down),)),
    Date(331, "weigh-house", SimulatedDay(
        enough_at=5, purpose="TP", wear=0.0,
        settings={"blankets": _BLANKETS, "left side": "3.125 turns"},
        changes=((3, "left side", "3.25 turns"),),
        says={3: "An eighth more on the left and the roof stands. Leave it so.",
              5: "This one is the sheet to hold the others against."},
        looks_again=frozenset({5}), takes_back=frozenset({2}),
        left_off="Pressure found. Retroussage only brings the lamp forward, not the rest."),
        starts=9 * 60 + 20,
        later=(Later(8, lambda t: t.approve("Idony Threlwick"), 16 * 60),
               Later(12, SortingTable.take_down))),
    Date(317, "weigh-house", SimulatedDay(
        wanted=5, wear=0.05, judged=9, lunch_at=4, inks={"ink used": 4.3}, control=41.2,
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 3", **_LEFT},
        says={2: "Still a warm-up, but the slates are right already."}), judges=1,
        late=frozenset({3}),
        later=(Later(8, SortingTable.look_again), Later(12, lambda t: t.number(2), 11 * 60),
               Later(14, lambda t: t.keep_as("AP")), Later(14, SortingTable.number),
               Later(14, SortingTable.take_down))),
    Date(289, "thistle-heads", SimulatedDay(
        wanted=8, enough_at=9, wear=0.0, wear_a_pull=0.1, pace=0.95,
        settings={"ink tin": "soft black, tin 1"},
        facts={"Rags": "spread singly clear of walls"},
        says={1: "Burr at its fullest; almost too black, keep it."},
        left_off="The burr on the left head is going: it will not last to twelve."),
        starts=10 * 60, damped=10,
        later=(Later(8, SortingTable.look_again), Later(13, SortingTable.take_down),
               Later(13, lambda t: t.keep_as("AP")),
               Later(13, lambda t: t.short("the burr of the left head is gone")),
               Later(13, SortingTable.number), Later(14, SortingTable.sign),
               Later(31, lambda t: t.hand_out("sold", "Hesper Dunnock, at the open day")))),
    Date(254, "signal-box", SimulatedDay(
        enough_at=4, state="IV", pace=1.0,
        reworks=(SimulatedRework(1, "V", "sky scraped and burnished on the right"),
                 SimulatedRework(3, "VI", "needle along the platform edge, nothing bitten")),
        settings={"room": "19 °C"}, away=frozenset({2}),
        says={4: "Nothing more to do to it. This is the plate."},
        left_off="State VI is final. Tear edition paper."),
        later=(Later(7, SortingTable.take_down),)),
    Date(221, "weigh-house", SimulatedDay(
        wanted=4, wear=0.25, pace=0.92, helper=HelpIn("Maudie Pell", 2, 6),
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 3", **_LEFT},
        spoils=frozenset({4}), one_more=7, inks={"ink used": 4.0}, control=40.6,
        says={3: "With Maudie at the clean side it is half the running."}),
        late=frozenset({5}),
        later=(Later(8, SortingTable.look_again), Later(12, lambda t: t.number(2), 11 * 60),
               Later(13, lambda t: t.keep_as("PP", whose="Maudie Pell")),
               Later(13, lambda t: t.number(passes_over=True)),
               Later(14, lambda t: t.void("passed over when the pencil went round")),
               Later(14, SortingTable.sign), Later(14, SortingTable.take_down),
               Later(16, lambda t: t.hand_out("given", "Maudie Pell, for her help",
                                              kind="PP"), 17 * 60),
               Later(27, lambda t: t.hand_out("sold", "the reading room at Stenwick")))),
    Date(188, "ferry-lamp", SimulatedDay(
        wanted=3, pace=1.05, progressives=frozenset({1}), extends=True,
        settings=_FERRY, changes=tuple((3, f"{p} far side", "3.625 turns")
                                       for p in ("tone", "key")),
        inks={"dusk blue used": 3.1, "brown black used": 2.4},
        says={1: "Blue alone, kept as a progressive.", 3: "Lamp sits in its halo."}),
        starts=8 * 60 + 40,
        later=(Later(10, SortingTable.look_again), Later(14, SortingTable.keep_progressives),
               Later(14, SortingTable.number), Later(14, SortingTable.standard),
               Later(15, SortingTable.sign),
               Later(15, SortingTable.take_down))),
    Date(150, "pane-moth", SimulatedDay(
        wanted=4, redoes=frozenset({3}), judged=8,
        settings={"paste": "wheat starch, strained twice"},
        facts={"Rags": "out of the building"},
        says={2: "Chine cut a hair small; better than a hair large."}), judges=2,
        late=frozenset({3}), skips={2: "at the paper mill all day; the weight stayed on"},
        later=(Later(9, SortingTable.look_again), Later(13, SortingTable.number),
               Later(13, SortingTable.sign),
               Later(13, SortingTable.take_down))),
    Date(112, "weigh-house", SimulatedDay(
        wanted=4, wear=0.5, lunch_at=4, forgets=frozenset({3}),
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 4", **_LEFT},
        changes=((5, "right side", "3.5 turns"),), inks={"ink used": 4.5}, control=41.0,
        left_off="Sky is getting thin. Before the next day look at the aquatint with a glass."),
        later=(Later(8, SortingTable.look_again), Later(12, lambda t: t.keep_as("HC")),
               Later(12, lambda t: t.number(2), 11 * 60), Later(13, SortingTable.number),
               Later(14, lambda t: t.destroy("ink of the sheet above it set off on the sky")),
               Later(14, SortingTable.sign), Later(14, SortingTable.take_down),
               Later(34, lambda t: t.hand_out("gallery", _GALLERY, due_in=95), 15 * 60),
               Later(34, lambda t: t.hand_out("gallery", _GALLERY, of="Ferry Lamp, Late",
                                              due_in=74), 15 * 60))),
    Date(61, "three-steps", SimulatedDay(
        wanted=3, ghosts=frozenset({3}), pace=0.9,
        says={3: "There is ink enough left in it for a ghost."}), starts=13 * 60,
        later=(Later(9, SortingTable.look_again), Later(11, SortingTable.declare_open),
               Later(11, SortingTable.sign),
               Later(11, SortingTable.take_down),
               Later(20, lambda t: t.hand_out("given", "Piers, for his kitchen", kind=None)))),
    Date(3, "ferry-lamp", SimulatedDay(
        wanted=3, lunch_at=3, judged=7, wear=0.35,
        settings=_FERRY | {"tone far side": "3.625 turns", "key far side": "3.625 turns"},
        inks={"dusk blue used": 3.3, "brown black used": 2.3},
        facts={"Left-over": "wrapped", "Rags": None},
        left_off="Two more of the blue and the tin is empty: order ultramarine."),
        starts=8 * 60 + 50, late=frozenset({2}),
        later=(Later(1, lambda t: t.weight(12), 9 * 60 + 35),
               Later(1, lambda t: t.weigh(30.4), 9 * 60 + 35),
               Later(2, lambda t: t.weigh(27.9), 11 * 60 + 30))),
    Date(0, "weigh-house", SimulatedDay(
        wanted=8, wear=0.72, leaves_at=5, judged=8, control=40.9,
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 4", "room": "18 °C",
                  "left side": "3.25 turns", "right side": "3.5 turns"},
        says={4: "More oil in the ink brings some of the sky back."},
        left_off="Five pulled, the last two sound. Go on with the tin as it is, fresh scrim."),
        before_now=270),
)  # fmt: skip
