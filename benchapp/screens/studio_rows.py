"""The Studio as lines: places on the left, the shelf on the right, today's rest on top. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.quantities import minutes_text, mmss
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.day_words import in_words
from benchapp.screens.shelf import OnShelf
from benchapp.screens.widgets.rows import Row, Span, wrap_rows
from benchapp.views.clocks import ClockView
from benchapp.views.day_left import Left
from benchapp.views.studio import COUNTED, BoardsView, OpenView, PackView, StudioView

_DAY_MS: Final = 24 * 3_600_000
#: What is given up from which tightness on.
_NO_HINTS, _ONE_LINE, _TIGHTEST = 2, 3, 4
#: What only a closed day leaves: it is told there, and not in the book once more.
_CLOSED: Final = ("judge", "sentence", "day")
#: How much a change under boards matters: a sign where it is late, and a colour.
_WANTS: Final[dict[str, Span]] = {
    "late": (SafeText("  ! "), "fault"), "due": (SafeText("  "), "wash"),
    "coming": (SafeText("  "), "quiet")}


def place_rows(view: StudioView, now: Moment, closed: Sequence[tuple[str, str, str]],
               across: int = 40, wants: Sequence[tuple[str, str, str]] = (),
               lying: Mapping[str, int] | None = None, high: int = 0) -> list[Row]:
    """At the press, yesterday, in the water, under boards, in the book.

    Where there are too few rows for all heads it gives up, in this order: the blank rows,
    second hints, all but the first line of what yesterday left, damp paper told twice.

    Args:
        view: The Studio.
        now: The clocks.
        closed: Earlier sessions, newest first: id, name, print.
        across: Cells a line has.
        wants: What the boards want: stack, late or due or coming, and the words.
        lying: Sheets that lie under boards now, by session; None: as the sessions laid them.
        high: Rows there are; 0: not known yet.
    """
    for tight in range(5):
        out = _places(view, now, closed, across, wants, lying, tight)
        book = next((n for n, row in enumerate(out) if row == _BOOK), len(out) - 2)
        if not high or book + 2 <= high:
            break
    return out


def _places(view: StudioView, now: Moment, closed: Sequence[tuple[str, str, str]], across: int,
            wants: Sequence[tuple[str, str, str]], lying: Mapping[str, int] | None,
            tight: int) -> list[Row]:
    """The same, `tight` from 0 to 4."""
    gap = [Row()] if not tight else []
    today = local_time(now).date()
    drying = [x if lying is None else replace(x, laid=lying.get(x.session, 0))
              for x in view.under_boards]
    drying = [x for x in drying if x.laid]
    there = sum(x.laid for x in drying) if lying is None else sum(lying.values())
    out = [_head("At the press", _count(len(view.at_press), "open", "open"))]
    out += [row for x in view.at_press for row in _open(x, across)] or [
        _quiet("Nothing is being printed."),
        *_hint("Press enter on a recipe to begin a day.", tight)]
    out += [*gap, *rows] if (rows := _yesterday(view.yesterday, today, across, tight)) else []
    out += [*gap, _head("In the water and damp", _count(len(view.in_water), "pack", "packs"))]
    out += [row for x in view.in_water for row in _pack(x, today)] or [
        _quiet("No paper is damp."),
        *_hint("Press d on a recipe to damp some for tomorrow.", tight)]
    if view.timers:
        out += [*gap, _head("Clocks", _count(len(view.timers), "clock", "clocks"))]
        out += [_timer(x) for x in view.timers]
    out += [*gap, _head("Under boards", _sheets(there))]
    out += [Row((_WANTS[state], (sanitize(words), "text" if state == "due" else _WANTS[state][1])),
                id=f"stack {stack}") for stack, state, words in wants]
    out += [row for x in drying for row in _boards(x)]
    longer = there - sum(x.laid for x in drying)
    out += [_quiet(f"{_sheets(longer)} from before")] if longer else []
    out += [] if there else [_quiet("Nothing is drying.")]
    listed = {x.session for x in drying} | {x.id for x in view.yesterday if x.what in _CLOSED}
    earlier = [x for x in closed if x[0] not in listed]
    if earlier:
        out += [*gap, _BOOK]
        out += [Row(((sanitize(name + "  "), "quiet"), (sanitize(title), "text")), id=f"book {id_}")
                for id_, name, title in earlier]
    return out


def keys_for(view: StudioView | None, keys: tuple[tuple[str, str], ...], id_: str,
             ) -> tuple[tuple[str, str], ...]:
    """The keys of a line with those that make sense there only now.

    Sheets come out of a pack that is in the water; a session of this book in which nothing was
    pulled can be discarded.

    Args:
        view: The Studio; None: not looked at yet.
        keys: What lines of its kind always offer.
        id_: Of the pack or session.
    """
    if view is None:
        return keys
    soaks = any(x.id == id_ and x.where == "in the water" for x in view.in_water)
    empty = any(x.id == id_ and x.here and not x.pulled for x in view.at_press)
    return (*((("o", "sheets out"),) if soaks else ()), *keys,
            *((("delete", "discard"),) if empty else ()))


def shelf_rows(shelf: Sequence[OnShelf], *, wide: bool = False,
               worn: Mapping[str, Sequence[str]] | None = None, across: int = 34) -> list[Row]:
    """The printer's own recipes, then the shipped ones.

    Args:
        shelf: The recipes.
        wide: With the plate.
        worn: Of plates near their end what to know, by the recipe's name.
        across: Cells a line has.
    """
    worn = worn or {}
    own, shipped = [x for x in shelf if x.own], [x for x in shelf if not x.own]
    out = [_head("On the shelf: yours", _count(len(own), "recipe", "recipes"))]
    out += [row for x in own for row in (*_recipe(x, wide), *_worn(worn, x.name, across))] or [
        _quiet("None yet. Begin with a shipped"), _quiet("one below, or press n.")]
    if shipped:
        out += [Row(), _head("shipped, to try and to copy", "")]
        out += [row for x in shipped
                for row in (*_recipe(x, wide), *_worn(worn, x.name, across))]
    return out


def left_rows(view: StudioView) -> list[tuple[str, str]]:
    """What a day closed today left, each with the key that settles it."""
    out = []
    earlier = {x.id for x in view.yesterday}
    facts = [x for x in view.unsaid if x.session not in earlier]
    if facts:
        names = ", ".join(dict.fromkeys(f"{x.do} ({x.print})" for x in facts))
        out.append(("y", f"not answered yet: {names}"))
    if view.unjudged is not None and view.unjudged[0] not in earlier:
        _, title, count = view.unjudged
        out.append(("r", f"{_sheets(count)} of {title} not judged: go round them"))
    if view.left_off is not None and view.left_off[0] not in earlier:
        _, title, words = view.left_off
        out.append(("", f"{title} left off: “{words}”"))
    return out


def not_back_rows(sheets: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """One line for all sheets that are overdue back: print and number of each."""
    if not sheets:
        return []
    named = ", ".join(f"{title} {number}" for title, number in sheets[:3])
    more = f" and {len(sheets) - 3} more" if len(sheets) > 3 else ""
    return [("g", f"overdue back: {named}{more}")]


def _yesterday(left: Sequence[Left], today: date, across: int, tight: int) -> list[Row]:
    """What the last day left, under its own head; of a day before that one with its date."""
    shown = [x for x in left if tight < _TIGHTEST or x.what != "damp"]
    if not shown:
        return []
    last = max(x.day for x in shown)
    name = "Yesterday" if last == today - timedelta(days=1) else "The last day"
    out = [_head(name, in_words(last))]
    for x in shown:
        title = sanitize(x.print if x.day == last else f"{x.print}, {in_words(x.day)}")
        lines = textwrap.wrap(f"{title} · {sanitize(x.words)}", max(20, across - 2),
                              subsequent_indent="  ")
        if tight >= _ONE_LINE:
            lines = [f"{title} · {sanitize(x.words)}"]
        first, rest = lines[0][:len(title)], lines[0][len(title):]
        out.append(Row(((SafeText(first), "strong"), (SafeText(rest), "text")),
                       id=f"{x.what} {x.id}"))
        out += [Row(((SafeText(f"  {line}"), "text"),)) for line in lines[1:]]
    return out


def _hint(text: str, tight: int) -> list[Row]:
    """What can be done there, where there is a row for it."""
    return [] if tight >= _NO_HINTS else [_quiet(text)]


def _open(x: OpenView, across: int) -> list[Row]:
    wanted = "" if x.wanted is None else f" · wanted {x.wanted}"
    about = f"pulled {x.pulled} · counting {x.counting}{wanted}"
    elsewhere = [] if x.here else [Row(_in("opened in another book: read only", "quiet"))]
    left = wrap_rows(f"“{x.left_off}”", across, "wash", first=((SafeText("  "), "text"),)
                     ) if x.left_off else []
    side = {"inky": " (inky hands)", "clean": " (clean hands)"}.get(x.hands or "", "")
    return [Row(((sanitize(x.title), "strong"),), id=f"session {x.id}", right=sanitize(x.name)),
            Row(_in(about, "text")), Row(_in(f"next: {x.next}{side}", "quiet")), *left, *elsewhere]


def _in(text: str, role: str) -> tuple[Span, ...]:
    spans: dict[str, Span] = {
        "text": (sanitize("  " + text), "text"), "quiet": (sanitize("  " + text), "quiet"),
        "wash": (sanitize("  " + text), "wash"), "fault": (sanitize("  " + text), "fault")}
    return (spans[role],)


def _pack(x: PackView, today: date) -> list[Row]:
    sheets = "sheets not counted" if x.sheets is None else _sheets(x.sheets)
    state = f"{sheets} {x.where}"
    about = "≈ " if not x.exact else ""
    how = {"in the water": "in for", "resting": "resting for"}.get(x.where, "damp for")
    count = mmss if x.where in COUNTED and x.age_ms < _DAY_MS else minutes_text
    for_ = f"{how} {about}{count(x.age_ms)}"
    ready = ""
    if x.ready_ms is not None:
        ready = (f", {count(x.ready_ms)} to go" if x.ready_ms > 0
                 else f", {count(-x.ready_ms)} over") + x.at_most
    since = _since(x.since, today)
    old = [Row(_in("too old: look at it; if musty, throw it away", "fault"))] if x.too_old else []
    lying = [Row(_in(f"{_sheets(x.open_sheets)} not covered", "fault"))] if x.open_sheets else []
    return [Row(((sanitize(state), "strong"),), id=f"pack {x.id}",
                right=sanitize(f"since {since}")),
            Row(_in(f"{x.paper}", "quiet")), Row(_in(f"{for_}{ready}", "text")), *old, *lying]


def _timer(x: ClockView) -> Row:
    """A clock of no session, with what is left of it."""
    about = "" if x.count.exact else "≈ "
    left = f"{mmss(x.count.ms)} to go" if x.count.ms > 0 else f"{mmss(-x.count.ms)} over"
    return Row(((sanitize(x.name), "strong"),), id=x.id, right=sanitize(about + left))


def _since(at: Moment, today: date) -> str:
    moment = local_time(at)
    days = (today - moment.date()).days
    return f"{moment:%H:%M}" if days == 0 else f"{moment.day} {moment:%b} {moment:%H:%M}"


def _boards(x: BoardsView) -> list[Row]:
    days = "today" if x.days == 0 else "1 day" if x.days == 1 else f"{x.days} days"
    unjudged = f" · {x.unjudged} not judged" if x.unjudged else ""
    return [Row(((sanitize(x.title), "strong"),), id=f"boards {x.session}",
                right=sanitize(f"{_sheets(x.laid)} · {days}")),
            Row(_in(f"{x.name}{unjudged}", "quiet"))]


def _recipe(x: OnShelf, wide: bool) -> list[Row]:
    if x.recipe is None:
        first = x.problems[0] if x.problems else "cannot be read"
        return [Row(((sanitize(x.name), "strong"), (SafeText("  ! to mend"), "fault")),
                    id=f"recipe {x.name}"), Row(_in(first, "fault"))]
    known = x.recipe.print
    plate = x.recipe.plates[0] if wide and x.recipe.plates else None
    metal = "" if plate is None else f"{plate.metal} {plate.size}"
    return [Row(((sanitize(known.title), "strong"),), id=f"recipe {x.name}", right=sanitize(metal)),
            Row(_in(f"{known.artist} · {x.name}", "quiet"))]


def _worn(worn: Mapping[str, Sequence[str]], name: str, across: int) -> list[Row]:
    return [row for words in worn.get(name, ()) for row in wrap_rows(
        words, across, "wash", first=((SafeText("  "), "text"),))]


def _head(text: str, right: str) -> Row:
    return Row(((sanitize(text), "strong"),), heading=True, right=sanitize(right))


def _count(n: int, one: str, more: str) -> str:
    """A figure with what it counts; nothing where there is none."""
    return "" if not n else f"1 {one}" if n == 1 else f"{n} {more}"


def _sheets(n: int) -> str:
    return _count(n, "sheet", "sheets")


def _quiet(text: str) -> Row:
    return Row(_in(text, "quiet"))


_BOOK: Final = _head("In the book", "")
