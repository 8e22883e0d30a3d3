"""The command that offers a recipe what its own days taught, and changes what is accepted."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from benchapp import files
from benchapp.book import Book
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    problems_text,
    read_book,
    recipe_bytes,
    say,
    say_json,
)
from benchapp.edition.streams import print_id
from benchapp.history.suggestions import Proposal, propose_changes
from benchapp.history.summary import charge_proposals, days_told, ink_lessons
from benchapp.recipe.document import parse_document
from benchapp.recipe.model import Recipe
from benchapp.recipe.nodes import Map, Scalar, find_node
from benchapp.recipe.placing import drop_at, put_at
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.read_rest import TAKES
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.shares import wilson_interval
from benchapp.session.fold import replay_entries
from benchapp.session.state import NOT_COUNTED, Session, StudioState

#: So many of the last sessions are listed; --json has all.
_DAYS: Final = 6


def learn_from_sessions(arguments: Arguments) -> int:
    """Say what the sessions of a recipe's print teach it, and change the recipe if asked to."""
    path, data = recipe_bytes(arguments.recipe)
    recipe = _read(path, data)
    text = data.decode("utf-8")
    with read_book(arguments) as book:
        rooms = list(rooms_of(book, recipe))
    found_in = (*propose_changes(rooms, recipe), *charge_proposals(_sessions(rooms), recipe))
    offered = [(n, p, _there(text, p.path)) for n, p in enumerate(found_in, 1)]
    chosen = _chosen(arguments, offered)
    to, changed = path, text
    if chosen:
        changed = _without_guess(_changed(text, chosen))
        to = _write(path, changed)
    found = _document(path, rooms, recipe, offered, chosen)
    found |= {"written": str(to) if chosen else None, "sha256_before": _sha(text),
              "sha256": _sha(changed),
              "guess_dropped": recipe.takes is not None and read_recipe(changed).takes is None}
    if arguments.json:
        say_json("learn/1", found)
    else:
        say(*_lines(found, arguments.recipe))
    return 0


def _sessions(rooms: Sequence[StudioState]) -> list[Session]:
    return [s for room in rooms for s in room.sessions.values()]


def _read(path: Path, data: bytes) -> Recipe:
    try:
        return read_recipe(data)
    except RecipeError as error:
        raise Refused(problems_text(str(path), error)) from None


def _sha(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def rooms_of(book: Book, recipe: Recipe) -> Iterator[StudioState]:
    """The days of a recipe's print, each folded by itself with the packs it used."""
    wanted = recipe.print
    print_ = print_id(wanted.title, wanted.artist, wanted.key)
    for row in book.sessions():
        opening = row.opening
        if print_id(opening.print, opening.artist) != print_id(wanted.title, wanted.artist):
            continue
        own = book.streams_of(row.id)
        room = replay_entries(book.entries(streams=own))
        s = room.sessions.get(row.id)
        if s is None:  # no recipe can be made of what it keeps
            continue
        theirs = s.recipe.print
        if print_id(theirs.title, theirs.artist, theirs.key) != print_:
            continue
        packs = {f"pack/{p}" for i in s.impressions for p in i.sheets if p is not None}
        yield replay_entries(book.entries(streams=[*own, *sorted(packs)])) if packs else room


def _path(path: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in path.split("."))


def _there(text: str, path: str) -> bool:
    """Whether the text has a value there that can be changed, or a step that takes its time."""
    root, at = parse_document(text).root, _path(path)
    node = find_node(root, *at)
    return isinstance(node, Scalar) or (
        node is None and at[-1] == "time" and isinstance(find_node(root, *at[:-1]), Map))


def _changed(text: str, chosen: Sequence[Proposal]) -> str:
    """The text with each value changed alone; a step without a time gets one."""
    for proposal in chosen:
        text = put_at(text, _path(proposal.path), proposal.new)
    return text


def _without_guess(text: str) -> str:
    """The text without the guess of how long one print takes, once every step has its time."""
    if any(s.time is None and not s.optional for s in read_recipe(text).each):
        return text
    return drop_at(text, (TAKES,))


def _chosen(arguments: Arguments,
            offered: Sequence[tuple[int, Proposal, bool]]) -> list[Proposal]:
    """The proposals to be carried out.

    Raises:
        WrongUse: A number is none of the list, or --only stands alone.
    """
    if not arguments.apply:
        if arguments.only:
            raise WrongUse("--only says which changes --apply makes; write both")
        return []
    possible = {str(n): p for n, p, there in offered if there}
    for n in arguments.only:
        if n not in possible:
            raise WrongUse(f"{n} is not one of the changes; there are "
                           f"{', '.join(possible) or 'none'}")
    return [p for n, p in possible.items() if not arguments.only or n in arguments.only]


def _write(path: Path, text: str) -> Path:
    """Put the changed text in the recipe's place; a shipped one becomes the printer's own."""
    read_recipe(text)  # never write what could not be read again
    if path.parent.resolve() != files.shipped_folder().resolve():
        files.write_over(path, text, keep_old=True)
        return path
    own = files.recipes_folder() / path.name
    try:
        files.write_new(own, text)
    except files.AlreadyThere as error:
        raise Refused(error.message) from None
    return own


def _document(path: Path, rooms: Sequence[StudioState], recipe: Recipe,
              offered: Sequence[tuple[int, Proposal, bool]],
              chosen: Sequence[Proposal]) -> dict[str, Any]:
    sheets = [i for room in rooms for s in room.sessions.values() for i in s.impressions
              if i.pulled]
    return {
        "recipe": str(path), "print": recipe.print.title, "artist": recipe.print.artist,
        "sessions": len(rooms), "impressions": len(sheets),
        "changes": [{"number": n, "what": p.what, "path": p.path, "old": p.old, "new": p.new,
                     "from": p.count, "of": p.of, "sessions": p.sessions, "can_be_made": there,
                     "made": p in chosen} for n, p, there in offered],
        "spoilage": _spoilage(rooms), "ink": _ink(rooms, recipe),
        "days": [{"session": d.session, "pulled": d.pulled, "judged": d.judged,
                  "spoiled": d.spoiled, "tags": [{"tag": tag, "sheets": n} for tag, n in d.tags]}
                 for d in days_told(_sessions(rooms))],
    }


def _ink(rooms: Sequence[StudioState], recipe: Recipe) -> list[dict[str, Any]]:
    """The ink each session used up, by its weighings, in grams."""
    return [{"reading": x.inked.reading, "charge": _text_of(x.inked.ink.charge),
             "each_grams": None if x.each is None else round(float(x.each), 2),
             "days": [{"session": u.session, "grams": float(u.grams.g), "pulls": u.impressions}
                      for u in x.used]} for x in ink_lessons(_sessions(rooms), recipe)]


def _text_of(value: object) -> str | None:
    return None if value is None else str(value)


def _spoilage(rooms: Sequence[StudioState]) -> dict[str, Any]:
    """Sheets spoiled, of those judged that would have counted; never of those not judged."""
    judged = [i for room in rooms for s in room.sessions.values() for i in s.impressions
              if i.pulled and i.verdict is not None and i.purpose not in NOT_COUNTED]
    spoiled = sum(i.verdict == "spoiled" for i in judged)
    low, high = wilson_interval(spoiled, len(judged)) if judged else (None, None)
    return {"spoiled": spoiled, "judged": len(judged), "low": low, "high": high}


def _lines(found: dict[str, Any], name: str) -> list[str]:
    days = found["sessions"]
    out = [f"{found['print']}, {found['artist']} · {_count(days, 'session')} · "
           f"{_count(found['impressions'], 'impression')}"]
    if not days:
        return [*out, "Nothing to learn from yet: no session of this print is in the book."]
    out += ["", *_change_lines(found["changes"]), "", _spoiled_line(found["spoilage"]),
            *map(_ink_line, found["ink"]), *_day_lines(found["days"])]
    if found["guess_dropped"]:
        out.append("Every step of a print has its time now, so the guess of one print is gone.")
    if found["written"]:
        return [*out, f"Changed: {found['written']}. The next session opens on it."]
    if any(c["can_be_made"] for c in found["changes"]):
        out.append(f"Nothing is changed yet. All of them: benchapp learn {name} --apply; "
                   "one: add --only N")
    return out


def _change_lines(changes: Sequence[dict[str, Any]]) -> Iterator[str]:
    if not changes:
        yield "No value changes: the recipe agrees with your days, or they are too few."
        return
    what = max(len(c["what"]) for c in changes)
    old = max(len(c["old"] or "none") for c in changes)
    new = max(len(c["new"]) for c in changes)
    for c in changes:
        made = " · changed" if c["made"] else "" if c["can_be_made"] else (
            " · not in the file: write it in where you want it")
        yield (f"{c['number']:>3}  {c['what']:<{what}}  {c['old'] or 'none':>{old}} → "
               f"{c['new']:<{new}}  from {c['from']} {c['of']} in "
               f"{_count(c['sessions'], 'session')}{made}")


def _spoiled_line(s: dict[str, Any]) -> str:
    if not s["judged"]:
        return "Spoilage: no sheet was judged yet."
    low, high = round(100 * s["low"]), round(100 * s["high"])
    return (f"Spoiled: {s['spoiled']} of {s['judged']} judged (so likely {low} to {high} in a "
            "hundred).")


def _ink_line(x: dict[str, Any]) -> str:
    days = ", ".join(f"{d['grams']:g} g for {_count(d['pulls'], 'pull')} ({d['session']})"
                     for d in x["days"][-_DAYS:])
    charge = "" if x["charge"] is None else f"; the recipe charges {x['charge']} before wiping"
    return f"{x['reading'].capitalize()}: {days}; {x['each_grams']:g} g a pull{charge}."


def _day_lines(days: Sequence[dict[str, Any]]) -> Iterator[str]:
    """The last sessions, where anything was said of their sheets."""
    told = [d for d in days if d["judged"] or d["tags"]][-_DAYS:]
    if told:
        yield "By session:"
    for d in told:
        tags = ", ".join(f"{t['tag']} {t['sheets']}" for t in d["tags"]) or "no tag"
        yield (f"  {d['session']} · pulled {d['pulled']} · spoiled {d['spoiled']} of "
               f"{d['judged']} judged · {tags}")


def _count(n: int, of: str) -> str:
    return f"{n} {of}{'' if n == 1 else 's'}"
