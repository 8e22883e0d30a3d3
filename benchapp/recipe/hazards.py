"""What hurts in an etcher's shop: one table for recipes, for `check`, for `new` and the screens.

Each hazard has the words a step speaks of it with, the harm, the one thing to do, and the
caution in full. All of it is common practice, no source, except where a row names one; every
caution in full leaves the last word to the label, the data sheet, a code or a licensed person.
The rows go from the most harmful to the least: where a step has several, they are said in
that order. What a screen asks of a step at every look is kept: a step never changes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from benchapp.recipe.model import Step


@dataclass(frozen=True, slots=True)
class Hazard:
    """One thing that hurts.

    Attributes:
        key: Its name in the program.
        name: Its name on the far view: at most 12 letters that can be drawn.
        words: What a step or a caution speaks of it with.
        why: What it does to people, as `check` says it.
        harm: The harm, in a few words.
        act: The one thing to do.
        full: The caution in one line of at most 77 letters.
        places: The places where it is, whatever the step says.
    """

    key: str
    name: str
    words: re.Pattern[str]
    why: str
    harm: str
    act: str
    full: str
    places: frozenset[str] = frozenset()

    @property
    def short(self) -> str:
        """The harm and the one thing to do: `Solvent harms: gloves, air`."""
        return f"{self.harm}: {self.act}"


def _any(*words: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(words)})\b", re.IGNORECASE)


HAZARDS: Final = (
    # Fumes: nitric gives off NO2 whose harm comes hours later. Eye wash: ANSI/ISEA Z358.1.
    Hazard("etchant", "ETCHANT", _any(
        "acids?", "nitric", "hydrochloric", "ferric", "perchloride", "mordants?", "etchants?",
        "etch(?:es|ing)? (?:bath|tray)s?", "etch (?:the|again|once)", "spit[- ]?bit\\w*",
        "(?<!foul )(?<!foul-)bit(?:e|es|ing|ten)", "dutch bath", "chlorides?", "chlorates?",
        "copper sulphate", "copper sulfate", "saline", "salt (?:bath|etch)", "(?:etching )?salts?",
    ), "etchants burn skin and eyes, and their fumes harm",
        "Etchant burns, its fumes harm", "goggles, gloves, air",
        "Etchant burns, fumes harm; goggles, gloves, fan, eye wash; data sheet first.",
        frozenset({"etching bath", "acid bath", "bath"})),
    Hazard("bleach", "BLEACH", _any("bleach", "hypochlorite"),
           "bleach and acid together give off a poisonous gas",
           "Bleach makes poison gas", "never near a bath",
           "Bleach makes poison gas near a bath; never in one room, data sheets first."),
    Hazard("rosin", "ROSIN", _any(
        "rosin\\w*", "resin", "colophon\\w+", "(?:dust|aquatint|resin)[- ]?box(?:es)?",
        "bitumen", "asphaltum", "aquatint ground", "lay (?:the |an )?aquatint",
    ), "rosin harms the lungs, and a cloud of its dust can explode",
        "Rosin harms lungs, can explode", "mask, no flame",
        "Rosin harms lungs, a cloud can explode; mask, no flame, data sheet first."),
    Hazard("lye", "LYE", _any(
        "lye", "caustic(?: soda)?", "sodium hydroxide", "potash", "washing soda", "soda ash",
        "ammonia", "alkalis?",
    ), "lye burns eyes and skin", "Lye burns eyes and skin", "goggles, gloves",
        "Lye burns eyes and skin; goggles, gloves, never into baths; data sheet first."),
    Hazard("steel facing", "STEEL FACING", _any(
        "steel[- ]?fac(?:e|es|ed|ing)", "aci[eé]rage", "electroplat\\w+", "plating(?: bath)?",
        "copper[- ]?plat(?:e it|ing|ed)", "nickel[- ]?plat\\w+", "chrom(?:e|ium)[- ]?plat\\w+",
    ), "plating baths poison and burn", "Plating baths poison", "leave it to a plater",
        "Plating baths poison and burn; a plater's job, ask early; data sheet first."),
    Hazard("flame", "FLAME", _any(
        "(?:blow ?)?torch(?:es)?", "blow ?lamps?", "flames?", "burners?", "tapers?", "candles?",
        "gas ring", "smok(?:e|ing) (?:the )?(?:ground|plate)",
    ), "a flame burns, and lights vapour and dust",
        "Flame burns and lights vapour", "no spirit or rags near",
        "Flame burns and lights vapour; no spirit, rags or dust near; fire code first."),
    Hazard("solvent", "SOLVENT", _any(
        "solvents?", "(?:white |mineral |methylated |lamp )?spirits?(?! level)", "turpentine",
        "turps",
        "kerosene", "paraffin", "acetone", "alcohol", "ethanol", "isopropanol", "meths",
        "petrol", "naphtha", "benzine", "benzene", "xylene", "toluene", "thinners?",
        "stop(?:ping)?[- ]?out", "stopped out", "varnish\\w*", "re-?ground", "grounded",
        "lay(?:ing)? (?:\\w+[- ]){0,2}ground", "(?:liquid|ball)[- ]ground", "solvent and ground",
    ), "solvents burn and are breathed in", "Solvent harms", "gloves, air",
        "Solvent harms and burns; gloves, air, heat off and cold; data sheet first."),
    Hazard("oily rags", "OILY RAGS", _any("rags?"),
           "oily rags heat and catch fire by themselves",
           "Oily rags catch fire", "metal can outdoors",
           "Oily rags heat and catch fire by themselves; fire code and label first."),
    Hazard("hot plate", "HOT PLATE", _any(
        "hot[- ]?(?:plate|press)s?", "hot", "heat (?:on|off|the)", "heat(?:ed|er|ing|s)",
        "warm(?:ing)? (?:the|a|both|tone|key)", "plates? (?:is |are |still )?warm", "melt\\w*",
        "oven", "hair ?dryer",
    ), "a hot plate burns and can start a fire", "Hot plate burns", "lift with a pad",
        "Hot plate burns and can start a fire; its label and local code come first.",
        frozenset({"hot plate", "hot press", "oven"})),
    Hazard("nip", "PRESS NIP", _any(
        "nip", "rollers?", "(?:through|under) (?:the )?press", "pressure", "blankets?", "felts?",
        "dry proof", "mangle",
    ), "the nip of a press crushes", "Nip crushes", "fingers, hair, sleeves clear",
        "Nip crushes; fingers, hair and sleeves clear, the press label comes first.",
        frozenset({"press", "etching press"})),
    Hazard("blade", "BLADE", _any(
        "blades?", "kni(?:fe|ves)", "scalpels?", "cutters?", "guillotines?", "burins?", "gravers?",
        "needles?", "scrap(?:e|es|ed|er|ers|ing)", "burnish\\w*", "roulettes?", "mezzotint rocker",
        "fil(?:e|ed|ing) (?:\\w+ ){0,2}(?:bevels?|edges?|plates?|back)", "bevels? filed", "a file",
        "bevel(?:l?ing)? (?:the|a|its|both)",
        "tools cut", "burr cuts?", "burr and edges cut", "edges cut", "drypoint (?:into|again|the)",
    ), "blades, tools and filed edges cut", "Blades and edges cut", "cut away from the hand",
        "Blades and edges cut; hand behind the edge, the maker's label comes first."),
    Hazard("dust", "DUST", _any(
        "dust\\w*", "(?:dry )?pigments?", "whiting", "chalk", "magnesi(?:um|a)(?: carbonate)?",
        "talc\\w*", "powder\\w*", "lamp ?black powder", "sand(?:ing|paper)?", "carborundum",
        "mix(?:ed|ing)? (?:\\w+ ){0,3}inks?", "weigh the parts",
    ), "dust and dry pigment harm the lungs", "Dust harms lungs", "mask, wipe up wet",
        "Dust and pigment harm lungs; mask, gloves, wipe up wet; data sheet first."),
    Hazard("ink", "INK", _any("inks?", "inky"),
           "ink is not for bare skin", "Ink harms skin", "gloves",
           "Ink is not for bare skin; gloves as its data sheet says."),
)
BY_KEY: Final = {hazard.key: hazard for hazard in HAZARDS}

_HEAT_OFF: Final = _any("hot plate", "heat off")
_PRESS_OFF: Final = _any("press(?:ure)? (?:let |is )?off", "screws up", "blankets (?:out|off|hung)",
                         "(?:let|take|ease) (?:the )?press(?:ure)? off")
#: What gives off vapour that burns, so that it is opened only by a cold hot plate.
_SPIRIT: Final = _any(
    "(?:white |mineral |methylated )?spirits?(?! level)", "turpentine", "turps", "kerosene",
    "acetone", "alcohol", "meths", "petrol", "naphtha", "benzine", "thinners?", "solvents?")

#: Of the additive that is a fine dust itself.
MAGNESIA: Final = "Magnesium carbonate is a fine dust; mask, stir in gently; data sheet first."

#: Words of a caution that promise there is no harm.
_HARMLESS: Final = re.compile(
    r"(?<!not )(?<!never )\bsafe(?:ly|r|st)?\b"
    r"|\bsafety\b(?! (?:data|code|officer|shower|goggles|glasses|rules?))"
    r"|\bharmless\b|\bnon[- ]?(?:toxic|hazardous|flammable|irritant)\b"
    r"|\bnot? (?:harm(?:ful)?|danger(?:ous)?|hazard(?:ous)?|toxic|risk|poisonous)\b"
    r"|\bno (?:\w+ )?(?:gloves|masks?|goggles|fan|air|ventilation|care|protection)"
    r"(?: (?:is|are))? (?:needed|required|necessary)\b"
    r"|\b(?:cannot|can't|does not|doesn't|will not|won't) (?:hurt|harm|burn|explode|catch fire)\b",
    re.IGNORECASE,
)
#: A caution names the harm in its first clause.
_CLAUSE: Final = re.compile(r"[;.:]")
#: A first clause of at most so many letters is a short form by itself.
_SHORT: Final = 40
#: No pattern sees more letters of a step or a caution than these: nobody reads more either.
_LETTERS: Final = 2_000
#: So many hazards are said of one caution, the most harmful first.
_MOST: Final = 2


def promises_no_harm(care: str) -> str | None:
    """The words of a caution that claim there is nothing to fear, or None."""
    found = _HARMLESS.search(care[:_LETTERS])
    return None if found is None else found.group()


def of_step(step: Step) -> tuple[Hazard, ...]:
    """The hazards of a step, the most harmful first: by its words, its place, and its hands.

    Rags count where they are the work itself, for a rag is in the hand all day.
    """
    whole = " / ".join((step.do, *step.lines))[:_LETTERS]
    return tuple(h for h in HAZARDS if _is_at(h, step, whole))


def _is_at(hazard: Hazard, step: Step, whole: str) -> bool:
    if step.at in hazard.places:
        return True
    if hazard.key == "ink":
        return step.hands == "inky"
    if hazard.key == "nip" and step.pulls:
        return True
    where = step.do[:_LETTERS] if hazard.key == "oily rags" else whole
    return hazard.words.search(where) is not None


@lru_cache(maxsize=256)
def spirit_of(step: Step) -> str | None:
    """The word by which a step or its reminders take a spirit in hand, or None."""
    found = _SPIRIT.search(" / ".join((step.do, *step.lines))[:_LETTERS])
    return None if found is None or is_heat_off(step) else found.group()


def is_heat_off(step: Step) -> bool:
    """Whether this is the work of the day's end that turns the hot plate off."""
    return step.section == "after" and _HEAT_OFF.search(step.do) is not None


def is_press_off(step: Step) -> bool:
    """Whether this is the work of the day's end that lets the pressure off the press."""
    return step.section == "after" and _PRESS_OFF.search(step.do[:_LETTERS]) is not None


def of_caution(care: str) -> tuple[Hazard, ...]:
    """The hazards a caution speaks of: in its first clause, or else anywhere in it."""
    care = care[:_LETTERS]
    for text in (_CLAUSE.split(care, maxsplit=1)[0], care):
        found = tuple(h for h in HAZARDS if h.words.search(text))
        if found:
            return found
    return ()


def _meant(step: Step) -> tuple[Hazard, ...]:
    """The hazards of a step's caution; where it names none, those of the step."""
    return () if step.care is None else of_caution(step.care) or of_step(step)


@lru_cache(maxsize=256)
def short_care(step: Step) -> str | None:
    """The caution once it has been read today: the harm and the one thing to do.

    The recipe's own short form comes first, then the program's for the hazards named, then
    the first clause where it is short; else the caution stays whole. None without one.
    """
    if step.care is None or step.care_short is not None:
        return step.care_short
    found = _meant(step)[:_MOST]
    if found:
        return ". ".join(h.short for h in found)
    first = _CLAUSE.split(step.care, maxsplit=1)[0].strip()
    return first if 0 < len(first) <= _SHORT else step.care


@lru_cache(maxsize=256)
def care_name(step: Step) -> str | None:
    """The name of the most harmful hazard of a caution; `CARE` for one not known here."""
    if step.care is None:
        return None
    return next((h.name for h in _meant(step)), "CARE")
