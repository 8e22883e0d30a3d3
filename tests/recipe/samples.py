"""Recipes for tests: one with every feature, and small ones of each shape of day."""

from __future__ import annotations

#: Everything a one-plate recipe may say, in both block and flow form.
FULL = """\
recipe: 1
print: {title: Heron Weir, artist: Nell Ashcombe, edition: 30, proofs: {AP: 3, PP: 1}}
plates:
  - {name: weir, metal: copper, size: 210 x 160 mm, thickness: 1 mm, \
techniques: [line, aquatint], life: 110 impressions}
paper:
  name: soft rag
  weight: 280 g/m2
  sheet: 600 x 800 mm
  piece: 300 x 400 mm
  grain: short
  damp: {method: soak, soak: 25 min, rest: 10 min, keeps: 40 h, pack: 5, handling: 4 min}
ink: {charge: 7 g, parts: {carbon black: 9, sienna: 1.5, plate oil: 0.25}}
press: {pitch: 3 mm, near screw: 2.5 turns, off screw: 2 1/8 turns, zero: on the bed, \
more is: tighter}
register: {margins: 40 mm, up: weir to the wall}
wash: 2 min
places: {slab: 1}
before:
  - do: Set the press
    hands: clean
    time: 10/20/40 min
each:
  - {do: Heat, hands: free, at: hot plate, time: 3 min, ends: itself, care: It burns}
  - {do: Dab, hands: inky, at: slab, time: 2/4/7 min, say: Dab the weir, calls: 1 min, \
care: Ink harms skin}
  - do: Polish
    hands: inky
    time: 6/12/20 min
    within: 9 min
    lines: [coarse scrim, fine scrim, palm]
  - do: Through
    hands: clean
    at: press
    time: 3/5/9 min
    lines:
      - brush the sheet
      - tissue, then blankets
    uses: sheet
    pulls: weir
    return: true
    care: The nip crushes; its label first.
  - {do: Peel, hands: clean, time: 1/3/6 min, asks: [verdict, tags, note]}
  - {do: Lay flat, hands: clean, time: 2 min, out of reach: true}
  - {do: Weigh the tin, hands: clean, every: 4, optional: true, short: Weigh}
after:
  - {do: Plate clean and oiled, hands: inky, time: 12 min}
  - {do: Hot plate off, hands: clean, must: [off, left on], care: It burns}
  - {do: Blankets hung, hands: clean, care: Nip crushes}
  - {do: Damp sheets, hands: clean, must: [wrapped, none]}
  - do: Rags
    hands: clean
    must: [in the can, outside]
    care: They heat by themselves; fire code first.
drying:
  - {do: New blotters, after: 4 h}
  - {do: New tissue, every: 1 day, for: 2 days}
varied: true
proofing: {for: SP, state: IV}
tags: {weir: [foam lost, foam heavy], sky: [sky thin]}
readings: [{name: foam, unit: grade 1-5, at: Peel}, {name: heat, unit: °C, at: Set the press}]
phrases: [less pressure, softer palm]
"""

#: The least a recipe may be.
LEAST = """\
recipe: 1
print: {title: Stone, artist: Ada}
plates: [{name: key, metal: zinc, size: 100 x 80 mm}]
each:
  - {do: Ink, hands: inky}
  - {do: Pull, hands: clean, pulls: key}
  - {do: Look, hands: clean, asks: verdict}
"""

#: Two plates on one sheet, wet on wet; a step between that is no plate's.
TWO_PLATES = """\
recipe: 1
print: {title: Two Skies, artist: Ada}
plates:
  - {name: blue, metal: copper, size: 100 x 80 mm}
  - {name: black, metal: copper, size: 100 x 80 mm}
each:
  - {do: Warm blue, hands: free, time: 2 min, plate: blue, ends: itself}
  - {do: Ink blue, hands: inky, plate: blue}
  - {do: Warm black, hands: free, time: 2 min, plate: black, ends: itself}
  - {do: Ink black, hands: inky, plate: black}
  - {do: Take a sheet, hands: clean, uses: sheet}
  - {do: Pull blue, hands: clean, pulls: blue}
  - {do: Pull black, hands: clean, pulls: black, within: 3 min}
  - {do: Lift, hands: clean, asks: [verdict]}
  - {do: Boards, hands: clean}
after:
  - {do: Clean blue, hands: inky, plate: blue}
  - {do: Clean black, hands: inky, plate: black}
  - {do: Rags, hands: clean, must: [in the can]}
"""


def changed(old: str, new: str, text: str = FULL) -> str:
    """The text with one piece of it, which must be there once, written otherwise."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)


def place(text: str, piece: str) -> tuple[int, int]:
    """Line and column, from 1, where a piece stands that is there once."""
    assert text.count(piece) == 1, f"{piece!r} stands {text.count(piece)} times"
    offset = text.index(piece)
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)
