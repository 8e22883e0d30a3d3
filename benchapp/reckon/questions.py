"""The questions of the day's arithmetic: what each answers, its formula and its source. Pure.

The command line and the help read these; tests hold them against the answers themselves.
"""

from __future__ import annotations

from typing import Final

#: By the word of the question: what it answers, then the formula and where it comes from.
QUESTIONS: Final = {
    "tear": """\
How to tear a sheet from edge to edge, and how many pieces it gives. The plainest way comes first.

formula  edge-to-edge tears; most pieces, then fewest tears
         with numbers wanted: edge-to-edge tears; fewest sheets
         several sizes: edge-to-edge tears; least waste, then fewest tears
         with a recipe the grain is fixed, and a piece takes 2 mm more if a side of the
         sheet is not a multiple of it; halving by folding loses nothing
         a recipe's paper below 90 g/m2 is cut with a blade along a rule, not folded
         (common practice, no source)
source   Gilmore & Gomory 1965; Christofides & Whitlock 1977
""",
    "sheets": """\
How many sheets to damp so that enough come out good.

formula  smallest n with P(at least N good of n) ≥ how sure
         --spoilage: negative binomial, the rate is known
         else: beta-binomial, prior 1 spoiled and 9 good, and with a recipe the record
         of its own sessions; warm-ups are added only when a recipe is named
source   Penn State STAT 414, lesson 11
         Johnson, Kemp & Kotz, Univariate Discrete Distributions (from memory)
""",
    "damp": """\
What a sheet weighs when damp enough, and how much water a stack takes up. Also:
--wet and --dry say how damp a sheet is, --plate how it shrinks, --age whether it keeps.

formula  dry = delivered × (1 − its moisture); damp = dry ÷ (1 − moisture wanted)
         sheets below 20 g are weighed together; paper below 90 g/m2 needs your --target,
         since 37.5 % is for heavier paper (both common practice, no source)
         --wet: (wet − dry) ÷ wet
         --plate: dry length = plate ÷ (1 + growth); growth on the bed = dry sheet × growth
         --age: age against 48 h; when hot, look from 24 h; refrigerated, 5 days
source   ISO 287 (moisture, wet basis); ISO 536 (grammage)
         ISO 8226 (hygroexpansivity); Roberts & Etherington
         US National Park Service, Museum Handbook (mould within 48 h when warm and humid)
""",
    "soak": """\
How long to soak a sheet until it weighs enough, from your own weighings only.

formula  diffusion into a plane sheet, M/M∞ as a function of D·t/l²
source   Crank, The Mathematics of Diffusion (plane sheet)
""",
    "ink": """\
Grams of each part (--part, --total), or the grams a day takes (--plate, --impressions).

formula  batch × parts ÷ all parts, to the scale's step by largest remainder
         a day: charge × (impressions + 1) ÷ 2: half of each charge is carded back and used again
         after three sessions weighed:
         grams = k × inked area, k = Σ grams ÷ Σ area, limit by Student's t at 90 %
source   arithmetic; ink in parts by mass is common practice, no source
         common practice; Cochran, Sampling Techniques (ratio estimator)
""",
    "press": """\
Turns of the screws for another plate, paper or blanket. No pressure: see the notes.

formula  turns = Σ give × change of thickness ÷ pitch
source   definition of pitch; the gives by least squares on your corrections
""",
    "weight": """\
How much weight to put on the boards; with the room's air, if drying takes longer.

formula  mass × 9.80665 m/s² ÷ area of the board
         saturation pressure × (1 − humidity), against 20 °C and 50 %
source   definition of pressure; standard gravity, CGPM 1901
         Hyland & Wexler, in ASHRAE Handbook, Fundamentals, Psychrometrics
""",
    "bite": """\
Times in all to single bites, and what to stop out after each. With a strip, tones to times.

formula  each bite = its time in all − the time in all before it
         with --stop-out, when the plate goes in and comes out
         with --patch and --tone, the times of the strip (see reckon strip)
source   arithmetic; stages after Lalanne, A Treatise on Etching, 1880, introduction, 9
""",
    "strip": """\
Biting times for wanted tones, from a test strip of yours. Never beyond the strip.

formula  readings pooled so that they rise; monotone cubic curve; read the other way
         --warmth: an estimate only, × 4.5^((strip − now) ÷ 20 °C)
source   Fritsch & Carlson 1980; Fritsch & Butland 1984; pooling: Ayer, Brunk, Ewing,
         Reid & Silverman 1955
         warmth: Lalanne 1880, section 34 (winter 4 to 5 times summer)
""",
    "strength": """\
Degrees Baumé to specific gravity and back, or water for a weaker solution. Concentrated
acid gets no figure: buy it diluted.

formula  specific gravity = modulus ÷ (modulus − °Bé)
         water ÷ solution = (gravity before − gravity wanted) ÷ (gravity wanted − 1)
         solution = mass wanted × strength wanted ÷ strength
source   Roberts & Etherington, Bookbinding and the Conservation of Books, Baumé
         mass is kept on mixing; the volume lost is left out of account
""",
}
