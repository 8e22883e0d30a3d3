"""The JSON documents that a command makes itself, with no report behind it: what is in each.

A row has the name of a field, its type, what it means, and its unit where it has one.
"""

from __future__ import annotations

from typing import Final

#: Format, command, what it is, whether an array of such objects is written, its fields.
Answers = tuple[str, str, str, bool, tuple[tuple[str, ...], ...]]
_PRINT: Final = ("print", "text", "the title of the print")
_ARTIST: Final = ("artist", "text", "whose print it is")
_PLATES: Final = (
    "plates", "list of object",
    "each plate: name, given, before_known, more, life, usual, near_end, sentences")
_WHY: Final = ("why", "text or null", "the reason given")
_WHAT: Final = ("what", "text", "what was recorded, in words")

ANSWERS: Final[tuple[Answers, ...]] = (
    ("sessions/1", "benchapp sessions --json", "One session of the list.", True, (
        ("session", "text", "its name"), _PRINT, _ARTIST,
        ("state", "text", "open or closed"),
        ("discarded", "true or false", "whether it was discarded"),
        ("opened_at", "text", "when it was opened", "local time with its offset, ISO 8601"),
        ("pulled", "whole number or null", "impressions pulled"),
        ("counting", "whole number or null", "impressions that count"),
        ("readable", "true or false", "whether it can be read"))),
    ("prepare/1", "benchapp prepare --json", "A day prepared.", False, (
        _PRINT, _ARTIST,
        ("wanted", "whole number", "counting impressions wanted"),
        *((name, "object", f"{about}, an answer as reckon gives it: its sentence, figures named "
           "with their units, inputs, the recipe's own numbers under recipe, others under others")
          for name, about in (("tear", "how to tear the sheets"), ("sheets", "how many sheets"),
                              ("packs", "the packs to damp"), ("ink", "how much ink to mix"),
                              ("press", "how the press is set"))),
        ("left_out", "list of text", "what could not be reckoned, and why"),
        ("warnings", "list of text", "what the day cannot give"), _PLATES)),
    ("reckon/1", "benchapp reckon WHAT --json", "An answer, reckoned.", False, (
        ("sentence", "text", "the answer in words"),
        ("inputs", "list of object", "what it rests on: name, value, unit, source, detail"),
        ("notes", "list of text", "cautions, a sentence each"),
        ("formula", "text", "how it was reckoned"),
        ("source", "text", "where the formula comes from"),
        ("of", "text", "the ink, paper or plate meant; only where there are several"),
        ("others", "list of object", "the answers for further ones; only where there are any"),
        ("cautions", "list of text", "what can hurt; only where there is something"))),
    ("check/1", "benchapp check --json", "A recipe checked.", False, (
        ("file", "text", "the file read"),
        ("ok", "true or false", "whether it can be run"),
        ("problems", "list of object", "each problem: line, column, wrong, mend"),
        ("warnings", "list of object", "each warning, the same way"),
        ("treads", "object", "presses of the pedal: count, in so many impressions"),
        ("cancelled", "text or null", "the plate is cancelled: what it still gives"), _PLATES)),
    ("learn/1", "benchapp learn --json", "What its sessions teach a recipe.", False, (
        ("recipe", "text", "the recipe's file"), _PRINT, _ARTIST,
        ("sessions", "whole number", "sessions it rests on"),
        ("impressions", "whole number", "impressions it rests on"),
        ("changes", "list of object", "values it would change: number, what, path, old, new, "
         "from, of, sessions, can_be_made, made"),
        ("spoilage", "object", "sheets spoiled of those judged"),
        ("ink", "list of object", "ink used by plate or colour, as weighed"),
        ("days", "list of object", "the sessions it rests on"),
        ("written", "text or null", "the file changed"),
        ("sha256_before", "text", "the digest of its text before"),
        ("sha256", "text", "the digest of its text now"),
        ("guess_dropped", "true or false", "whether the guess of one print went"))),
    ("search/1", "benchapp search --json", "One place where the words are.", True, (
        ("session", "text or null", "the session"), _PRINT,
        ("impression", "whole number or null", "the impression"),
        ("where", "text", "what the text is: a note, a tag and so on"),
        ("text", "text", "the text found"))),
    ("sort/1", "benchapp sort --json", "The sheets still to sort.", False, (
        _PRINT, ("to_sort", "list of object", "each sheet, with the number proposed"))),
    ("number/1", "benchapp number --json, benchapp sign --json", "What is on each sheet now.",
     False, (_PRINT, ("sheets", "list of object", "each sheet"))),
    ("void/1", "benchapp void --json", "A number recorded as void.", False, (
        _PRINT, _WHAT, ("void", "true or false", "whether the number is void"),
        ("destroyed", "true or false", "whether its sheet is destroyed"), _WHY)),
    ("correct/1", "benchapp correct --json", "Something put right.", False, (
        _PRINT, ("sheet", "text or null", "the sheet's id"),
        ("number", "whole number", "the number; only of a number without a sheet"), _WHAT, _WHY,
        ("text", "text", "the sheet as the book has it now; only of a sheet"),
        ("corrections", "list of text", "what was corrected about it; only of a sheet"))),
    ("cancel-plate/1", "benchapp cancel-plate --json", "A plate recorded as cancelled.", False, (
        _PRINT, ("plates", "list of text", "the plates named"),
        ("how", "text", "how it was cancelled"),
        ("day", "text or null", "the day, if that was not today", "date, ISO 8601"),
        ("cancelled", "true or false", "always true"),
        ("caution", "text", "what can hurt"))),
    ("edition-from-paper/1", "benchapp edition --from-paper FILE --json",
     "An old paper taken in.", False, (
         _PRINT, ("sheets", "whole number", "sheets taken in"))),
    ("papers/1", "benchapp papers --json", "A paper that leaves.", False, (
        ("title", "text", "its title"), ("about", "text", "what it is"),
        ("note", "text", "that it is not legal advice"),
        ("parts", "list of object", "its parts: title, and rows of name and value"),
        ("to_sign", "list of text", "the lines to sign on"))),
    ("photo/1", "benchapp photo --json", "The pictures of a sheet, a plate or a day.", False, (
        _PRINT, ("about", "text", "the sheet, the plate or the day"),
        ("pictures", "list of object",
         "each picture: name, sha256, type, taken, taken_by (camera or file), on_pages, there"))),
    ("photos/1", "benchapp photos FOLDER --json",
     "The new pictures of a folder, each with the sheet it seems to show.", False, (
         ("clock", "text or null", "how the camera's clock was, as you said; null: not said"),
         ("clock_guess", "text or null", "what it seems to be; null: nothing depends on it"),
         ("tied_before", "whole number", "pictures of it that are tied already"),
         ("left_out", "list of text", "its files that benchapp refused, and why"),
         ("pictures", "list of object",
          "each picture: name, sha256, type, taken, taken_by, sheet, mark, after_s (seconds after "
          "it was pulled or looked at), sure, tied"))),
    ("import/1", "benchapp import --json", "A file taken in.", False, (
        ("added", "whole number", "entries taken in"),
        ("known", "whole number", "entries the book had already"),
        ("sessions", "list of text", "the sessions something was taken in of"),
        ("private", "whole number", "private entries in the file"),
        ("not_in_file", "whole number", "entries that stayed at home"),
        ("left_out", "object of names, each with text", "streams left out, with why; only where "
         "there are any"))),
    ("files/1", "benchapp files --json", "Where everything is.", False, (
        ("NAME", "object", "of each place its path, whether it is there, and why not"),)),
    ("calls/1", "benchapp calls --json", "Sounds tried.", False, (
        ("tried", "list of object", "each player and how it ended"),
        ("remote", "true or false", "whether the terminal is on another machine"),
        ("bell", "true or false", "always true: every terminal has one"),
        ("choice", "object", "sound, voice and player in force"),
        ("kept", "list of text", "the preferences changed"))),
    ("report/1", "benchapp report --json", "This machine, its disk and its terminal.", False, (
        *((name, "object", f"facts about the {name}") for name in (
            "versions", "book", "disk", "copies", "clocks", "sound", "terminal")),)),
)
