"""What may stand in each field of an entry: asked of entries that another program wrote.

Digests tell that a line is as it was written, not that a book wrote it. What is folded is read by
its kind, so a number where a text belongs would be found out years later, in the middle of a
list. The entries this program writes itself need not be asked: a property holds them to this.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Final

from benchapp.edition.holding import WHOLE
from benchapp.edition.state import AT_THE_PRESS, KINDS_OF_PROOF, MAY_BE_CAPPED, NUMBERED
from benchapp.events.entry import Entry, Moment
from benchapp.events.kinds import KINDS, Kind
from benchapp.events.streams import family
from benchapp.session.state import FORS

#: A test of a value, and what it must be, for whoever reads the refusal.
Rule = tuple[Callable[[object], bool], str]

#: Nothing here is counted further: sheets, impressions, numbers; grams and milligrams.
_MOST: Final = 9_999
_HEAVIEST: Final = 10_000_000
#: A hundred years, in milliseconds; the years a date can have, from 1970 to 9998.
_LONGEST_MS: Final = 100 * 366 * 24 * 3_600_000
_LAST_MS: Final = 253_370_764_800_000
_DAY_MIN: Final = 24 * 60
_ID: Final = re.compile(r"[^:\s]{1,64}:[1-9][0-9]{0,17}")


def wrong(entry: Entry) -> str | None:
    """What no program of ours would have written in an entry, with the field; None: nothing.

    Its kind and the names of its fields are held against the registry elsewhere.
    """
    for name, value in (("id", entry.id), ("action", entry.action)):
        if not _ID.fullmatch(value):
            return f"{name}: not of the form book:number"
    kind = KINDS[family(entry.stream), entry.kind]
    rules = rules_of(kind)
    for name in (*kind.fields, *(x for x in kind.optional if x in entry.body)):
        fits, must = rules[name]
        if not fits(entry.body[name]):
            return f"{entry.kind}: {name} must be {must}"
    return _wrong_moment(entry.at)


def rules_of(kind: Kind) -> Mapping[str, Rule]:
    """What the fields of a kind may hold, by their names."""
    return _FIELDS[kind.stream] | _OF_KIND.get((kind.stream, kind.name), {})


def _wrong_moment(at: Moment) -> str | None:
    if not 0 <= at.wall_ms <= _LAST_MS:
        return "at: wall_ms must lie between the years 1970 and 9998"
    if not -_DAY_MIN < at.offset_min < _DAY_MIN:
        return "at: offset_min must be less than a day"
    return None


# -- what a value can be --------------------------------------------------------------------


def _text(value: object) -> bool:
    return isinstance(value, str)


def _yes_or_no(value: object) -> bool:
    return isinstance(value, bool)


def _whole(low: int, high: int) -> Callable[[object], bool]:
    return lambda v: isinstance(v, int) and not isinstance(v, bool) and low <= v <= high


def _one_of(words: Mapping[str, object] | tuple[str, ...]) -> Rule:
    return (lambda v: isinstance(v, str) and v in words), f"one of {', '.join(words)}"


def _or_null(rule: Rule) -> Rule:
    fits, must = rule
    return (lambda v: v is None or fits(v)), f"{must}, or null"


def _texts(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(x, str) for x in value)


def _about(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(x, str) and x in WHOLE for x in value)


def _words(value: object) -> bool:
    return isinstance(value, dict) and all(isinstance(x, str) for x in value.values())


def _day(value: object) -> bool:
    try:
        return isinstance(value, str) and date.fromisoformat(value).isoformat() == value
    except ValueError:
        return False


def _caps(value: object) -> bool:
    fits = _whole(0, _MOST)
    return isinstance(value, dict) and all(
        k in MAY_BE_CAPPED and isinstance(c, dict) and c.keys() == {"cap", "inside"}
        and fits(c["cap"]) and _yes_or_no(c["inside"]) for k, c in value.items())


def _bears(value: object) -> bool:
    return isinstance(value, dict) and value.keys() == {"kind", "number", "of"} and (
        BEARS[0](value["kind"]) and MAY_COUNT[0](value["number"]) and MAY_COUNT[0](value["of"]))


def _drying(value: object) -> bool:
    names = {"do", "after_ms", "every_ms", "for_ms"}
    return isinstance(value, list) and all(
        isinstance(d, dict) and d.keys() == names and _text(d["do"])
        and all(_or_null(_LENGTH)[0](d[x]) for x in names - {"do"}) for d in value)


TEXT: Final[Rule] = (_text, "a text")
MAY_TEXT: Final = _or_null(TEXT)
YES: Final[Rule] = (_yes_or_no, "true or false")
COUNT: Final[Rule] = (_whole(1, _MOST), f"a whole number from 1 to {_MOST}")
MAY_COUNT: Final = _or_null(COUNT)
MS: Final[Rule] = (_whole(0, _LONGEST_MS), "milliseconds, none below 0")
_LENGTH: Final[Rule] = (_whole(1, _LONGEST_MS), "milliseconds above 0")
MAY_MS: Final = _or_null(MS)
BY_MS: Final[Rule] = (_whole(-_LAST_MS, _LAST_MS), "milliseconds")
WALL: Final[Rule] = (_whole(0, _LAST_MS), "milliseconds since 1970")
TEXTS: Final[Rule] = (_texts, "a list of texts")
DAY: Final = _or_null((_day, "a day such as 2026-05-03"))
FOR: Final = _one_of(FORS)
BEARS: Final = _one_of(dict.fromkeys((NUMBERED, *KINDS_OF_PROOF, *AT_THE_PRESS)))
SIZE: Final = MAY_COUNT
WEIGHT: Final[Rule] = (_whole(0, _HEAVIEST), f"a whole number from 0 to {_HEAVIEST}")

#: What stands in a field of that name, in every kind of the family.
_FIELDS: Final[dict[str, dict[str, Rule]]] = {
    "session": {
        **dict.fromkeys(("session", "letters", "print", "artist", "recipe", "recipe_text",
                         "recipe_sha256", "step", "owner", "fact", "to", "do", "from", "mark",
                         "how", "tag", "text", "name", "value", "plate", "call", "clock", "action",
                         "answer", "cancelled"), TEXT),
        **dict.fromkeys(("pack", "why", "state", "unit", "what"), MAY_TEXT),
        **dict.fromkeys(("taken", "ghost", "at_press", "clean", "damp"), YES),
        **dict.fromkeys(("attempt", "number", "limit"), COUNT),
        **dict.fromkeys(("wanted", "impression"), MAY_COUNT),
        "last_seen_ms": _or_null(WALL), "by_ms": BY_MS, "ms": MS, "until_ms": MAY_MS,
        "hands": _one_of(("inky", "clean", "free")), "must": TEXTS, "plates": TEXTS,
        "reworked": TEXTS, "for": FOR,
        "for_by": _one_of(("rule", "printer")),
        "verdict": _or_null(_one_of(("keep", "doubtful", "spoiled"))),
    },
    "pack": {
        **dict.fromkeys(("pack", "how", "action", "method"), TEXT),
        **dict.fromkeys(("by", "paper"), MAY_TEXT),
        **dict.fromkeys(("sheets", "impression"), MAY_COUNT),
        **dict.fromkeys(("soak_ms", "rest_ms", "keeps_ms"), MAY_MS),
        "lay_open": YES, "by_ms": BY_MS,
    },
    "clock": {**dict.fromkeys(("clock", "name", "action"), TEXT), "by": MAY_TEXT, "ms": _LENGTH},
    "print": {
        **dict.fromkeys(("print", "title", "artist", "sheet", "why", "clash",
                         "plate", "how", "paper", "place", "what"), TEXT),
        **dict.fromkeys(("mark", "session", "sibling", "relation", "by", "state", "terms"),
                        MAY_TEXT),
        **dict.fromkeys(("roman", "roman_proofs", "found", "open", "absent"), YES),
        **dict.fromkeys(("number", "of"), MAY_COUNT),
        **dict.fromkeys(("size", "was"), SIZE),
        **dict.fromkeys(("day", "due"), DAY),
        "form": _one_of(("limited", "varied", "open")), "caps": (_caps, "proofs with their caps"),
        "about": (_about, "a list of " + ", ".join(sorted(WHOLE))),
        "over": TEXTS, "plates": TEXTS, "kind": BEARS, "signed": _or_null(YES),
        "words": (_words, "texts by name"), "before": _or_null(WEIGHT),
    },
    "stack": {
        **dict.fromkeys(("stack", "name", "sheet", "action", "mark"), TEXT),
        "over": TEXTS, "drying": (_drying, "a list of changes"), "late": YES, "since_ms": WALL,
        "change": (_whole(0, _MOST), "a whole number, none below 0"), "nth": COUNT,
        "why": MAY_TEXT, "grams": _or_null(WEIGHT), "mg": WEIGHT, "step_mg": WEIGHT,
    },
}

#: Where a kind has a field otherwise than its family.
_OF_KIND: Final[dict[tuple[str, str], dict[str, Rule]]] = {
    ("session", "must answered"): {"fact": MAY_TEXT},
    ("session", "leave said"): {"to": MAY_TEXT},
    ("session", "step taken over"): {
        "lines": TEXTS, **dict.fromkeys(("care", "care_short", "short", "paper"), TEXT)},
    **{("session", kind): {"impression": COUNT} for kind in (
        "redone", "impression begun", "sheet taken", "pulled", "laid to dry", "set aside",
        "for said", "judged", "tagged", "untagged", "marked to look again", "marked")},
    ("session", "setting found"): {"impression": COUNT, "value": MAY_TEXT, "by": TEXT},
    ("session", "impression ended"): {"impression": COUNT, "sheet": _one_of(("back", "lost"))},
    ("session", "helper joined"): {"name": MAY_TEXT},
    ("session", "helper present"): {"name": MAY_TEXT},
    ("session", "reworked"): {"plate": MAY_TEXT},
    ("print", "number given"): {"number": COUNT},
    ("print", "number not void"): {"number": COUNT},
    ("print", "number voided"): {"number": COUNT, "sheet": MAY_TEXT},
    ("print", "signed"): {"kind": _or_null(BEARS)},
    ("print", "recalled"): {"signed": _or_null(YES), "destroyed": MAY_TEXT},
    ("print", "corrected"): {"was": _or_null((_bears, "what a sheet bears")),
                             "now": _or_null((_bears, "what a sheet bears"))},
    ("print", "lowered"): {"size": COUNT},
    ("print", "standard named"): {"sheet": MAY_TEXT},
}
