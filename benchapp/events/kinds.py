"""The registry of all kinds of entries: which stream each lives in, and its fields. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of entry: which stream it lives in and the fields of its body.

    Attributes:
        fields: Those every entry of the kind has.
        optional: Those an entry has only where they were meant: books from before they were
            thought of have none.
    """

    name: str
    stream: str
    fields: tuple[str, ...]
    help: str
    optional: tuple[str, ...] = ()


def _kinds(*kinds: Kind) -> Mapping[tuple[str, str], Kind]:
    return MappingProxyType({(k.stream, k.name): k for k in kinds})


#: Every kind there is, by (stream family, name). Kinds may grow; none is renamed.
KINDS: Final = _kinds(
    # -- a session ---------------------------------------------------------
    Kind("opened", "session", ("session", "letters", "print", "artist", "recipe", "recipe_text",
         "recipe_sha256", "wanted"), "a session was opened on this recipe text; cancelled: how and "
         "when its plate was, if it was before; reworked: plates that may not be in its state any "
         "more", optional=("cancelled", "reworked")),
    Kind("continued", "session", ("last_seen_ms",), "the program came back to an open session"),
    Kind("wanted set", "session", ("wanted",), "how many counting impressions are wanted"),
    Kind("step started", "session", ("step", "impression", "attempt", "pack"),
         "a step, a wait or the wash began"),
    Kind("step finished", "session", ("step", "impression", "attempt", "pack", "how", "why",
         "taken"), "a step, a wait or the wash ended; taken says whether its time was taken"),
    Kind("step put off", "session", ("step", "impression", "attempt", "pack"),
         "a step begun was laid aside and is due again; hands: it was not begun, and they are so",
         optional=("hands",)),
    Kind("step chosen", "session", ("step", "impression", "attempt", "pack"),
         "the printer chose what comes next"),
    Kind("skip said", "session", ("step", "impression", "why"),
         "a step that comes is to be passed by; why null: it is not, after all"),
    Kind("leave said", "session", ("step", "to"),
         "an after step that comes is to be left to another session; to null: it is not"),
    Kind("step extended", "session", ("step", "impression", "attempt", "pack", "by_ms"),
         "a wait was given more time"),
    Kind("redone", "session", ("impression", "step"), "a step and those after it are due again"),
    Kind("must answered", "session", ("step", "owner", "fact"),
         "the fact a step must have; null: not said"),
    Kind("step left", "session", ("step", "owner", "to"),
         "an after step was left to another session"),
    Kind("step taken over", "session", ("step", "owner", "do", "hands", "must", "from"),
         "an after step another session left to this one",
         ("print", "lines", "care", "care_short", "short", "paper")),
    Kind("impression begun", "session", ("impression", "ghost"), "work on the next sheet began"),
    Kind("sheet taken", "session", ("impression", "pack"), "a sheet was taken for an impression; "
         "pack null: of none; damp: whether that sheet is", ("damp",)),
    Kind("pulled", "session", ("impression", "step", "plates", "number", "mark", "for", "for_by",
         "state", "at_press"), "a pull; at_press false: its time was not taken"),
    Kind("impression ended", "session", ("impression", "how"),
         "it stays as it is: progressive, or spoiled before the pull or the last pull; sheet: back "
         "in its pack, or lost; for: not what the rule had said", ("sheet", "for")),
    Kind("laid to dry", "session", ("impression",), "its last step is done; it joins the stack"),
    Kind("set aside", "session", ("impression",),
         "its last step is done; it is spoiled and joins no stack"),
    Kind("for said", "session", ("impression", "for", "state"), "what the pull is for; why: what "
         "was said before is not so", ("why",)),
    Kind("judged", "session", ("impression", "verdict"),
         "verdict: keep, doubtful, spoiled or null"),
    Kind("tagged", "session", ("impression", "tag"), "a tag was put on"),
    Kind("untagged", "session", ("impression", "tag"), "a tag was taken off"),
    Kind("noted", "session", ("impression", "text"), "free text; impression null: of the session"),
    Kind("marked to look again", "session", ("impression",), "to be looked at again"),
    Kind("read", "session", ("impression", "name", "value", "unit"), "a reading was taken"),
    Kind("marked", "session", ("impression", "mark"), "the sheet bears another mark than proposed"),
    Kind("setting changed", "session", ("name", "value"), "in force from the next pull on"),
    Kind("setting found", "session", ("impression", "name", "value", "by"),
         "what was really set at a pull, after the session by had set it; value null: not known"),
    Kind("reworked", "session", ("plate", "state", "what"), "a plate was reworked to a new state"),
    Kind("timed", "session", ("clock", "name", "ms"), "a clock was started on the spot"),
    Kind("left off", "session", ("text",), "the sentence shown first at resume"),
    Kind("paused", "session", (), "hands counts stand still"),
    Kind("resumed", "session", (), "hands counts go on"),
    Kind("helper joined", "session", ("name",), "a clean-handed helper is in"),
    Kind("helper present", "session", ("name",),
         "a helper who joined in another session is in while this one is worked on"),
    Kind("helper left", "session", (), "the helper is gone"),
    Kind("enough said", "session", (), "no further impression is begun"),
    Kind("one more said", "session", ("limit",), "one counting impression more than now"),
    Kind("ghost said", "session", (), "the next pull is without inking"),
    Kind("due", "session", ("call", "clean"),
         "a clock ran out; clean: answering it needs clean hands"),
    Kind("called", "session", ("call",), "it sounded or flashed"),
    Kind("answered", "session", ("call",), "the printer answered it"),
    Kind("muted", "session", ("call", "until_ms"), "one clock, or all that run now, is silent"),
    Kind("time questioned", "session", ("step", "impression", "attempt", "pack"),
         "a step ran 5 min over its high time"),
    Kind("time explained", "session", ("step", "impression", "attempt", "pack", "answer"),
         "took that long, away or forgot"),
    Kind("clock stepped", "session", ("by_ms",), "wall time jumped against the boot clock"),
    Kind("slept", "session", ("ms",), "the machine slept"),
    Kind("seen", "session", (), "the program was alive then: time until here was counted"),
    Kind("taken back", "session", ("action",), "that action and all it caused never counted"),
    Kind("can emptied", "session", (), "the rag can was emptied, said the morning after"),
    Kind("discarded", "session", (),
         "nothing was pulled, and the printer put it out of the lists; closed comes with it"),
    Kind("closed", "session", (), "the last after step is done, or the session was discarded"),
    # -- a pack of damp paper ----------------------------------------------
    Kind("put in", "pack", ("pack", "paper", "sheets", "method", "soak_ms", "rest_ms", "keeps_ms",
         "by"), "a pack was damped; by: the session, or null"),
    Kind("out", "pack", ("pack", "by"), "the sheets are out of the water; its age counts from now"),
    Kind("sheet out", "pack", ("pack", "by", "impression", "lay_open"),
         "a sheet was taken out; impression null: it lies open"),
    Kind("sheet back", "pack", ("pack", "by"),
         "a sheet taken out was put back; impression: the try it was taken for", ("impression",)),
    Kind("sheet sprayed", "pack", ("pack", "by"), "a sheet taken out was sprayed"),
    Kind("sheet dried", "pack", ("pack", "by"), "a sheet taken out was dried unprinted"),
    Kind("ready said", "pack", ("pack", "by"), "taken as ready before its rest was over"),
    Kind("soak extended", "pack", ("pack", "by_ms", "by"), "more time in the water"),
    Kind("put away", "pack", ("pack", "how", "by"),
         "what is left was wrapped or dried, or none was"),
    Kind("seen", "pack", ("pack",), "the program was alive then: time until here was counted"),
    Kind("taken back", "pack", ("pack", "action"), "that action never counted"),
    # A pack that no open session looks after calls by itself.
    Kind("due", "pack", ("pack",), "its soak is over"),
    Kind("called", "pack", ("pack",), "it sounded or flashed"),
    Kind("answered", "pack", ("pack", "by"), "the printer heard it; by: the session, or null"),
    # -- a clock that belongs to no session ----------------------------------
    Kind("started", "clock", ("clock", "name", "ms"), "a clock was started in the Studio"),
    Kind("due", "clock", ("clock",), "it ran out"),
    Kind("called", "clock", ("clock",), "it sounded or flashed"),
    Kind("answered", "clock", ("clock", "by"), "the printer answered it; by: the session, or null"),
    Kind("stopped", "clock", ("clock",), "the printer ended it before its time"),
    Kind("seen", "clock", ("clock",), "the program was alive then: time until here was counted"),
    Kind("taken back", "clock", ("clock", "action"), "that action never counted"),
    # -- a print: its edition, its plates, its sheets after the press ----------
    Kind("declared", "print", ("print", "title", "artist", "form", "size", "was", "caps", "roman",
         "roman_proofs", "sibling", "relation", "by", "over"),
         "how large the edition is; was: the size said before, or null; over: the entries that "
         "said so"),
    Kind("lowered", "print", ("print", "size", "was", "why", "over"), "a short edition"),
    Kind("cut short", "print", ("print", "size", "was", "why", "over"),
         "the edition ends at that number after a signature, and its total stays; null: it does "
         "not; over: the entries that said where it ends"),
    Kind("number given", "print", ("print", "sheet", "mark", "session", "number",
         "over"), "a sheet was given a number of the edition; over: the entries about the sheet "
         "its writer had seen"),
    Kind("proof given", "print", ("print", "sheet", "mark", "session", "kind", "number", "by",
         "over"), "a sheet was kept as a proof; by: who passed a BAT"),
    Kind("number taken back", "print", ("print", "sheet", "kind", "number", "over"),
         "what a sheet was to be was taken back before it was signed"),
    Kind("signed", "print", ("print", "sheet", "mark", "session", "kind", "number", "of",
         "open", "over"), "a sheet was signed, with what stands on it; kind null: nothing; open: "
         "as one of an edition that was open then"),
    Kind("number voided", "print", ("print", "number", "sheet", "why",
         "over"),
         "a number is never used again; sheet: the one that bears it, or null"),
    Kind("destroyed", "print", ("print", "sheet", "mark", "session", "why", "over"),
         "a sheet is no more; its number stays void"),
    Kind("recalled", "print", ("print", "sheet", "paper", "kind", "number", "signed", "destroyed"),
         "a sheet known only from an old paper"),
    Kind("corrected", "print", ("print", "sheet", "mark", "session", "was", "now", "signed",
         "found", "why", "over"), "the book said something of a sheet that is not so; about: "
         "what of it, all where absent; absent: there is no such sheet", ("about", "absent")),
    Kind("number not void", "print", ("print", "number", "why", "over"),
         "a number was voided by mistake; over: the entries that said so"),
    Kind("clash settled", "print", ("print", "clash", "why", "size", "over"),
         "a clash stays as it is; size: the true one of those the entries in over say"),
    Kind("plate told", "print", ("print", "plate", "state", "before", "over"),
         "the state of a plate, and the impressions it gave before this book"),
    Kind("plate cancelled", "print", ("print", "plates", "how", "day"),
         "the plates gave their last; none named: all"),
    Kind("plates shared", "print", ("print", "plates", "over"),
         "the plates an edition has in common with the one it is beside; none named: none"),
    Kind("BAT replaced", "print", ("print", "sheet", "by", "why", "over"),
         "a sheet is the BAT no longer; by: the sheet that is it now, or null: it is the BAT "
         "again"),
    Kind("recorded by mistake", "print", ("print", "what", "why", "over"),
         "what: plate cancelled, or clash settled; over: the entries that said so"),
    Kind("standard named", "print", ("print", "sheet", "over"),
         "the sheet others are held against; null: the BAT alone"),
    Kind("handed out", "print", ("print", "sheet", "mark", "session", "place", "terms", "day",
         "due", "over"), "a sheet left the studio: gallery, given or sold; over: the entries that "
         "said where it was; why: what they said is not so", ("why",)),
    Kind("came back", "print", ("print", "sheet", "mark", "session", "place", "day",
         "over"), "a sheet came back to the studio"),
    Kind("placed", "print", ("print", "sheet", "mark", "session", "place", "over"),
         "where a sheet lies: boards, drawer, framed, or lost; why: what was said before is not so",
         ("day", "why")),
    Kind("told in private", "print", ("print", "sheet", "words"),
         "the printer's own words on what this action did; in a stream that stays at home; over: "
         "the actions whose words these replace", ("over",)),
    # -- a stack of prints drying under boards -----------------------------------
    Kind("begun", "stack", ("stack", "name", "drying"),
         "a stack was begun, with its list of changes"),
    Kind("laid", "stack", ("stack", "sheet", "mark", "over"),
         "a sheet was laid on top; over: the last entry of every other book about the stack"),
    Kind("lifted", "stack", ("stack", "sheet", "over"), "a sheet was taken out of the stack"),
    Kind("change done", "stack", ("stack", "change", "nth", "since_ms", "late", "over"),
         "a change was done; late: after its grace"),
    Kind("change skipped", "stack", ("stack", "change", "nth", "since_ms", "why", "over"),
         "a change was passed by; why null: the next one came first"),
    Kind("weighted", "stack", ("stack", "grams", "over"),
         "so much lies on the boards; null: nothing"),
    Kind("weighed", "stack", ("stack", "sheet", "mg", "step_mg", "over"),
         "a control sheet was weighed, by a scale with that step"),
    Kind("taken down", "stack", ("stack", "over"), "nothing lies under these boards any more"),
    Kind("taken back", "stack", ("stack", "action", "over"), "that action never counted"),
)
