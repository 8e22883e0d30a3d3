"""The invented year of Tollerbank Etching Room: which days were printed, and what came of them.

Idony Threlwick and Piers Quillabeck share the room and one book. Days are counted
back from the day the demo is made for; the last session began some hours before it,
so that the newcomer finds the bench in the middle of a day.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchapp.demo.day import Day, HelpIn, Rework

_BLANKETS: Final = "one thin felt, one thick, both washed in spring"


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
    """

    days_ago: int
    recipe: str
    day: Day
    starts: int = 9 * 60
    damped: int = 0
    judges: int = 0
    before_now: int = 0


YEAR: Final = (
    Date(352, "signal-box", Day(
        enough_at=5, pace=1.05,
        reworks=(Rework(2, "III", "burnished the signal arm and the two upper panes"),
                 Rework(4, "IV", "window bars deepened, rail re-ground and bitten 6 min")),
        settings={"room": "16.5 °C", "etchant": "second week, still quick"},
        clock=(6, "test strip in the etchant"),
        left_off="State IV is nearly it: only the sky is still too heavy on the right.",
        says={1: "Signal arm far too dark, the eye goes nowhere else.",
              5: "Bars hold now. Sleep over the sky."})),
    Date(331, "weigh-house", Day(
        enough_at=5, purpose="TP", wear=0.0,
        settings={"blankets": _BLANKETS, "left side": "3.125 turns"},
        changes=((3, "left side", "3.25 turns"),),
        says={3: "An eighth more on the left and the roof stands. Leave it so.",
              5: "This one is the sheet to hold the others against."},
        looks_again=frozenset({5}), takes_back=frozenset({2}),
        left_off="Pressure found. Retroussage only brings the lamp forward, not the rest."),
        starts=9 * 60 + 20),
    Date(317, "weigh-house", Day(
        wanted=5, wear=0.05, judged=9, lunch_at=4,
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 3"},
        says={2: "Still a warm-up, but the slates are right already."}), judges=1),
    Date(289, "thistle-heads", Day(
        wanted=6, enough_at=9, wear=0.0, wear_a_pull=0.1, pace=0.95,
        settings={"ink tin": "soft black, tin 1"},
        facts={"Rags": "hung singly and open"},
        says={1: "Burr at its fullest; almost too black, keep it."},
        left_off="Eight pulls off this plate. Burr on the left head will not last to twelve."),
        starts=10 * 60, damped=10),
    Date(254, "signal-box", Day(
        enough_at=4, state="IV", pace=1.0,
        reworks=(Rework(1, "V", "sky scraped and burnished on the right"),
                 Rework(3, "VI", "needle along the platform edge, nothing bitten")),
        settings={"room": "19 °C"}, away=frozenset({2}),
        says={4: "Nothing more to do to it. This is the plate."},
        left_off="State VI is final. Tear edition paper.")),
    Date(221, "weigh-house", Day(
        wanted=4, wear=0.25, pace=0.92, helper=HelpIn("Maudie Pell", 2, 6),
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 3"},
        spoils=frozenset({4}), one_more=7,
        says={3: "With Maudie at the clean side it is half the running."})),
    Date(188, "ferry-lamp", Day(
        wanted=3, pace=1.05, progressives=frozenset({1}), extends=True,
        settings={"handle side": "3.5 turns", "far side": "3.5 turns"},
        says={1: "Blue alone, kept as a progressive.", 3: "Lamp sits in its halo."}),
        starts=8 * 60 + 40),
    Date(150, "pane-moth", Day(
        wanted=4, redoes=frozenset({3}), judged=8,
        settings={"paste": "wheat starch, strained twice"},
        facts={"Rags": "out of the building"},
        says={2: "Chine cut a hair small; better than a hair large."}), judges=2),
    Date(112, "weigh-house", Day(
        wanted=5, wear=0.5, lunch_at=4, forgets=frozenset({3}),
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 4"},
        changes=((5, "right side", "3.5 turns"),),
        left_off="Sky is getting thin. Before the next day look at the aquatint with a glass.")),
    Date(61, "three-steps", Day(
        wanted=3, ghosts=frozenset({3}), pace=0.9,
        says={3: "There is ink enough left in it for a ghost."}), starts=13 * 60),
    Date(3, "ferry-lamp", Day(
        wanted=3, lunch_at=3, judged=7, wear=0.35,
        settings={"handle side": "3.5 turns", "far side": "3.5 turns"},
        facts={"Left-over": "wrapped", "Rags": None},
        left_off="Two more of the blue and the tin is empty: order ultramarine."),
        starts=8 * 60 + 50),
    Date(0, "weigh-house", Day(
        wanted=8, wear=0.72, leaves_at=5, judged=8,
        settings={"blankets": _BLANKETS, "ink tin": "warm black, tin 4", "room": "18 °C"},
        says={4: "More oil in the ink brings some of the sky back."},
        left_off="Five pulled, the last two sound. Go on with the tin as it is, fresh scrim."),
        before_now=270),
)  # fmt: skip
