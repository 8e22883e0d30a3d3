"""For every tag of the trade its usual causes, likeliest first, each with what to try next.

All of it is common practice, no source: houses differ, and what this print's own days show comes
before it. One thing at a time is tried, so that the next sheet tells whether it was that. Pure.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

#: Each tag with its causes and what to try for each.
CAUSES: Final[Mapping[str, tuple[tuple[str, str], ...]]] = MappingProxyType({
    "plate-tone heavy": (
        ("wiped too little", "one more round of paper, then the side of the hand"),
        ("ink too stiff or plate too cold", "warm the plate, or a drop of oil in the ink")),
    "plate-tone thin": (
        ("wiped too much by hand", "stop after the paper"),
        ("ink too loose", "stiffer ink, or a little magnesium carbonate: mask, data sheet"),
        ("plate too warm", "let it cool before the last wipe")),
    "plate-tone uneven": (
        ("wiped in one direction", "turn the plate a quarter and wipe once round"),
        ("plate warm on one side", "move it on the hot plate"),
        ("scrim loaded with ink", "turn or change the pad")),
    "foul bite": (
        ("the ground was thin or scratched", "scrape and burnish it, or keep it"),
        ("grease under the ground", "degrease until water runs off in a film, then ground again")),
    "scrim marks": (
        ("scrim stiff with size or ink", "soften it, or take a fresh pad"),
        ("last wipe with scrim", "go over it with paper or the hand"),
        ("pressed too hard", "lighter, in round strokes")),
    "over-wiped": (
        ("ink too loose", "stiffer ink"),
        ("too many passes, or a pad too clean", "fewer passes; keep a used pad for the last"),
        ("plate too warm", "let it cool before wiping")),
    "under-wiped": (
        ("ink too stiff or plate cold", "warm the plate, loosen the ink a little"),
        ("pad loaded with ink", "turn it, or change it sooner")),
    "salty": (
        ("sheet too dry", "longer in the pack, brush the sheet"),
        ("pressure too light", "a little tighter, both sides alike"),
        ("plate cold", "warm it before it is inked")),
    "lint": (
        ("loose fibres on the sheet", "brush the damp sheet, away from the plate"),
        ("scrim or rag that sheds", "shake it out, or take another"),
        ("weak, unsized paper", "blot longer; lift more slowly")),
    "finger mark": (
        ("inky hands at the sheet", "wash before the sheet; paper fingers to hold it"),
        ("margin of the plate touched after wiping", "hold it by the bevels, wipe the edges last")),
    "ink stiff": (
        ("cold ink or plate", "warm the slab or the plate"),
        ("too little oil", "plate oil, a drop at a time")),
    "ink loose": (
        ("too much oil", "magnesium carbonate, a little: mask, data sheet"),
        ("plate too warm", "let it cool before wiping")),
    "ink skinned": (
        ("ink lay open too long", "lift the skin off whole; skin paper over the ink"),
        ("drier in it", "mix less at once"),
        ("plate waited after wiping", "wipe when the sheet is ready")),
    "ink warm": (
        ("the black or the oil has a warm cast", "a touch of blue, and note the batch"),
        ("plate-tone too heavy", "wipe cleaner: tone shows the cast")),
    "ink cool": (
        ("too much blue black", "a touch of umber, and note the batch"),
        ("paper warmer or whiter than before", "hold both papers side by side")),
    "ink dense": (
        ("too much pigment", "transparent extender"),
        ("lines charged too full", "card off more before wiping")),
    "ink weak": (
        ("too much extender or oil", "more pigment in the mix"),
        ("lines not filled", "warm the plate, dab into every line"),
        ("wiped out of the lines", "lighter pressure on the pad")),
    "set-off": (
        ("no tissue, or stacked early", "fresh tissue on every sheet"),
        ("too much ink or weight", "card off more; less weight on the first day")),
    "oil halo": (
        ("ink too loose", "stiffer ink"),
        ("sheet damp too long, or too wet", "blot more; change blotters sooner")),
    "bevel ink": (
        ("edges not wiped", "wipe the bevels last, with a clean rag round a finger"),
        ("bevels rough", "file and burnish them when the plate is clean")),
    "too wet": (
        ("blotted too little", "blot until no shine is left"),
        ("rest too short", "let the pack rest longer")),
    "too dry": (
        ("sheet lay open", "from pack to press in a few minutes"),
        ("pack soaked too short, or too old", "soak longer, or spray and rest again")),
    "crease": (
        ("sheet laid uneven, or too wet", "lay it from one edge, smooth with the back of the hand"),
        ("blankets creased", "pull them tight; smooth, fresh blanket first")),
    "cockle": (
        ("dried unevenly", "damp it again and dry under boards"),
        ("blotters changed too late", "change them sooner, with more boards")),
    "tear": (
        ("lifted too fast, or from one corner", "lift slowly from a long edge"),
        ("sheet too wet, or pressure too heavy", "blot more; a little lighter")),
    "deckle fault": (
        ("torn against the grain or without a rule", "fold, wet the fold, tear slowly"),
        ("made so at the mill", "turn it to the foot, or keep it for proofs")),
    "stain": (
        ("dirty water, tray or blotter", "fresh water, clean tray, new blotters"),
        ("rust or oil of the press", "a clean sheet on the bed and under the blankets")),
    "wrong side": (
        ("sides not marked before soaking", "a pencil mark on the back of each dry sheet"),
        ("watermark not looked for", "hold one sheet against the light")),
    "paper stretched": (
        ("too wet", "blot more, damp every sheet alike"),
        ("pressure too heavy", "a little lighter"),
        ("grain runs another way", "tear all pieces with the grain alike")),
    "slur": (
        ("sheet or blankets crept", "smooth them before the roller; start it slowly"),
        ("too much ink", "card off more"),
        ("pressure uneven or too heavy", "read both screws, a little lighter")),
    "doubled": (
        ("sheet moved between two passes", "one pass, or keep its tail under the roller"),
        ("plate slid on the bed", "damp tissue under the plate, a clean bed")),
    "stop line": (
        ("the roller stopped on the plate", "one even turn, hands changed before the plate"),
        ("bed ran against its stop", "begin with more bed before the plate")),
    "pressure light": (
        ("screws too high", "a little tighter, both sides alike"),
        ("blankets worn or wet", "dry or fresh blankets"),
        ("sheet too dry", "longer in the pack")),
    "pressure heavy": (
        ("screws too low", "a little lighter, both sides alike"),
        ("thicker paper or blankets than last time", "reckon the turns for the change")),
    "one side light": (
        ("screws uneven", "read both; a proof on thin paper shows the side"),
        ("blankets folded, or thinner on one side", "turn them, lay them flat"),
        ("plate or bed packing uneven", "look under the plate")),
    "blanket mark": (
        ("blanket stiff with size", "wash it, or swap it"),
        ("worn or coarse blanket next to the sheet", "the finest one is on the sheet")),
    "plate mark cut": (
        ("bevels too steep or sharp", "file and burnish them when the plate is clean"),
        ("pressure too heavy", "a little lighter"),
        ("thin or dry paper", "damper, or a blotter behind it")),
    "skew": (
        ("sheet not laid to its marks", "lay it to two marks of the registration sheet"),
        ("plate not laid square", "set it to its corner marks"),
        ("bed drawn aside by uneven screws", "read both screws")),
    "off x": (
        ("plate laid beside its marks", "set it to a corner, not to an edge"),
        ("registration sheet moved", "tape it down, and try again with a blank sheet")),
    "off y": (
        ("sheet laid above or below its marks", "lay its foot first, to two marks"),
        ("sheet crept under the roller", "keep its tail trapped, start slowly")),
    "turned": (
        ("one corner off its mark", "set two corners"),
        ("screws uneven", "read both screws")),
    "register stretched": (
        ("sheet damper or drier than for the first plate", "damp every pass alike; blot alike"),
        ("grain across", "tear all pieces with the grain alike")),
    "wear": (
        ("the plate has given much", "see its life; ask a plater about steel facing early"),
        ("wiped too hard", "softer pads: rag and hand wear it more than the press")),
    "burr gone": (
        ("burr worn away", "end the edition, or drypoint into it: burr and edges cut"),
        ("wiped across the burr", "press the pad, do not rub")),
    "aquatint worn": (
        ("grain worn down", "softer wiping; ask a plater about steel facing early"),
        ("ink left in it overnight", "clean it through: solvent harms, data sheet first")),
    "scratch": (
        ("grit in scrim or ink", "fresh pad, strained ink"),
        ("plate slid on the bed", "scrape and burnish it: blades cut")),
    "corrosion": (
        ("stored damp or unoiled", "oil or wax it whenever it is put away"),
        ("fingers on bare metal", "hold it by the edges; polish lightly")),
    "crevé": (
        ("lines bitten into one", "roll it with stiff ink, or grain the hollow again"),
        ("no tooth to hold ink", "stiffer ink, wipe lightly there")),
    "hair": (
        ("a hair of brush, blanket or sleeve", "look over plate and sheet before they meet"),
        ("brush that sheds", "another brush")),
    "streak": (
        ("ink skinned while the plate waited", "wipe when the sheet is ready"),
        ("wiped in one stroke", "cross it once with clean paper")),
    "dry patch": (
        ("the edge or a spot dried out", "keep the pack wrapped; brush the sheet evenly"),
        ("size uneven in the paper", "soak longer, or another lot")),
    "water spot": (
        ("drops on the sheet", "blot both sides; dry hands and bed"),
        ("blankets wet", "dry or fresh blankets")),
    "dirty margin": (
        ("bed or registration sheet inky", "wipe it each time; fresh sheet"),
        ("bevels inky", "wipe the edges last"),
        ("hands", "wash; paper fingers")),
    "colour dirtied": (
        ("ink of one plate on the next", "clean pads for each colour; wipe the bevels"),
        ("wet ink lifted by the second plate", "less ink on the first, or let it dry")),
    "tissue stuck": (
        ("ink too rich, or weight too early", "let it set first; less weight"),
        ("tissue damp", "dry, fresh tissue; glassine where ink is thick")),
    "mould spot": (
        ("paper damp too long or too warm", "throw the pack away: spores harm lungs; mask"),
        ("damp where it is stored", "dry store; 48 h damp at most")),
    "blanket crease": (
        ("blankets not smooth", "pull them tight over the roller"),
        ("blanket damp and stretched", "dry it, or swap it")),
    "chine creased": (
        ("laid in one go", "lay it from one edge, damp it a little more"),
        ("too wet", "blot it")),
    "chine lifted": (
        ("too little paste, or dry", "thinner paste to the very edge"),
        ("pressure light", "a little tighter")),
    "chine short": (
        ("cut to the dry plate", "cut a little over: damp paper grows"),
        ("laid beside its place", "lay it to the corners of the plate")),
    "chine bubbled": (
        ("air or too much paste", "brush it thin and even, smooth from the middle"),
        ("one sheet wetter than the other", "damp both alike")),
})  # fmt: skip
