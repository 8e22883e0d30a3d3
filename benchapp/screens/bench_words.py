"""The words and figures of the Bench, ready to be placed. Pure.

Everything here is made of a `BenchView`; every text from people goes through
`sanitize` on its way.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from benchapp.quantities import figure_text, minutes_text, mmss
from benchapp.safe_text import SafeText, cell_width, clip_text, sanitize
from benchapp.screens.glyph_dots import DOTS
from benchapp.screens.widgets.call_bar import answer_words
from benchapp.views.bench import BY_RULE, BenchView, CallView, NowView, SheetView
from benchapp.views.clocks import ClockView, Count

Role = Literal["strong", "text", "quiet", "care", "choice"]
Where = Literal["inky", "across", "clean"]

VERDICTS: Final = {"keep": "●", "doubtful": "◐", "spoiled": "✕", None: "○"}
"""A shape for each verdict; an open ring is not judged."""

BANDS: Final = {
    "inky": "INKY HANDS", "clean": "CLEAN HANDS", "wash": "WASH", "wait": "WAIT",
    "none": "NOTHING TO DO",
}  # fmt: skip
PAUSED: Final = "PAUSED"
_BETWEEN: Final = " · "
CLOCKS: Final = SafeText("clocks")


@dataclass(frozen=True, slots=True)
class Panel:
    """What stands on one side, or across both.

    Attributes:
        where: The side.
        band: The words of its head: whose hands.
        name: The short name, to be drawn large where it fits.
        do: The same in whole words.
        count / mark: To be drawn; empty for none.
        under_mark: What to do with the mark.
        text: Lines in the order of their weight.
    """

    where: Where
    band: str
    name: str
    do: SafeText
    count: str = ""
    mark: str = ""
    under_mark: SafeText = SafeText("")  # noqa: RUF009 - a constant, and immutable
    text: tuple[tuple[Role, SafeText], ...] = ()


def task_panel(view: BenchView, *, last: SheetView | None = None) -> Panel:
    """What to do now, and on which side.

    Args:
        view: The Bench.
        last: The sheet before the one in hand: its values are one key away.
    """
    if view.paused_ms is not None:
        return _paused(view, view.paused_ms)
    if view.closed:
        return _closed(view)
    now = view.now
    where: Where = now.side if now.side in ("inky", "clean") else "across"
    mark = view.mark or ""
    return Panel(
        where, _band(view), _drawable(now.short), sanitize(now.do),
        "" if now.count is None else count_figure(now.count), mark,
        sanitize(f"Pencil {mark} on the back") if mark and view.lifted else SafeText(""),
        tuple(_text(view, now, last)),
    )


def _drawable(name: str) -> str:
    """The short name as it is drawn; empty where a sign of it is not drawn."""
    name = name.upper()
    return name if all(sign in DOTS for sign in name) else ""


def _band(view: BenchView) -> str:
    if view.now.side == "clean" and view.hands == "inky" and view.helper is not None:
        return "CLEAN HANDS: THE HELPER'S"
    return BANDS[view.now.side]


def _paused(view: BenchView, ms: int) -> Panel:
    words: list[tuple[Role, SafeText]] = [("care", sanitize(text)) for text in view.pause_words]
    words.append(("text", sanitize(f"Now: {view.now.do}")))
    words.append(("quiet", SafeText("Waits run on. The pedal goes on with the work.")))
    return Panel("across", PAUSED, PAUSED, SafeText("Paused"), mmss(ms), text=tuple(words))


def _closed(view: BenchView) -> Panel:
    unjudged = sum(s.verdict is None for s in view.sheets)
    words: list[tuple[Role, SafeText]] = [
        ("text", sanitize(f"{view.pulled} pulled, {view.counting} counting")),
    ]
    if unjudged:
        sheets = "sheet is" if unjudged == 1 else "sheets are"
        words.append(("text", sanitize(f"{unjudged} {sheets} not judged yet")))
        words.append(("text", SafeText(
            "The pedal opens the evening round. It can wait until tomorrow.")))
    else:
        words.append(("text", SafeText("The pedal goes back to the Studio.")))
    words.append(("quiet", SafeText("Esc: the Studio")))
    return Panel("across", "THE DAY IS DONE", "CLOSED", SafeText("The session is closed"),
                 text=tuple(words))


def _text(
    view: BenchView, now: NowView, last: SheetView | None
) -> Iterable[tuple[Role, SafeText]]:
    if now.pack:
        yield "text", sanitize(now.pack)
    if now.inking:
        yield "strong", sanitize(now.inking)
    if now.count is not None and (span := span_words(now.count)):
        yield "text", span
    for number, fact in enumerate(now.must, 1):
        yield "choice", sanitize(f"{number}  {fact}")
    if now.asks:
        yield from _asked(view, last)
    for care in now.cares:
        yield "care", sanitize(f"! {care.text}")
    for proposal in now.proposals:
        yield "text", sanitize(proposal)
    if now.lines:
        yield "quiet", sanitize("· " + " · ".join(now.lines))


def _asked(view: BenchView, last: SheetView | None) -> Iterable[tuple[Role, SafeText]]:
    sheet = next((s for s in view.sheets if s.mark == view.mark), None)
    if sheet is not None:
        yield "strong", sheet_values(sheet)
    if last is not None and (last.verdict or last.tags):
        yield "quiet", sanitize(f"= as {sheet_values(last)}")


def sheet_values(sheet: SheetView) -> SafeText:
    """A sheet with all that was said of it: `K7 ● keep: salty, grade 3, 1 note`."""
    notes = [f"{sheet.notes} note{'s' * (sheet.notes > 1)}"] if sheet.notes else []
    said = ", ".join((*sheet.tags, *sheet.readings, *notes))
    verdict = sheet.verdict or "not judged"
    return sanitize(f"{sheet.mark} {VERDICTS[sheet.verdict]} {verdict}{f': {said}' * bool(said)}")


def in_one_line(text: SafeText, cells: int) -> SafeText:
    """What the last key did, as much of it as fits; parts are left out whole.

    What is to be done now stands large on the screen, so it gives way first.
    """
    parts = text.split(_BETWEEN)
    at = next((i for i, part in enumerate(parts) if i and part.startswith("Now: ")), None)
    if cell_width(text) > cells and at is not None:
        hands = parts[at + 1 : at + 2] in (["inky"], ["clean"])
        del parts[at : at + 1 + hands]
    while len(parts) > 1 and cell_width(sanitize(_BETWEEN.join(parts))) > cells:
        parts.pop()
    return sanitize(_BETWEEN.join(parts))


# -- figures ------------------------------------------------------------------------------


def count_figure(count: Count) -> str:
    """A count as it is drawn: `12:05`, `≈12:05`, `-0:30` once a wait is over."""
    return f"{'' if count.exact else '≈'}{mmss(count.ms)}"


def span_words(count: Count) -> SafeText:
    """What is usual, beside a hands count: `usual 15 min · 7 to 26`."""
    if count.down:
        return SafeText("" if count.ms > -1000 else "over")
    if count.usual is None:
        return SafeText("")
    words = f"usual {figure_text(count.usual)}"
    if count.low is not None and count.high is not None and count.low != count.high:
        words += f" · low {figure_text(count.low)} · high {figure_text(count.high)}"
    return sanitize(words)


# -- the strips around -----------------------------------------------------------------------


def bench_title(view: BenchView, *, rehearsal: bool) -> SafeText:
    """The print and its session."""
    kept = "REHEARSAL, nothing is kept · " if rehearsal else ""
    return sanitize(f"{kept}{view.title} · {view.session}")


def tally_line(view: BenchView, *, short: bool = False) -> SafeText:
    """`■ hands inky · pulled 8 · counting 6 · wanted 10`; short: `■ hands inky · counting 6 of 10`.
    """
    hands = "■ hands inky" if view.hands == "inky" else "□ hands clean"
    helper = "" if view.helper is None else " + helper"
    wanted = "until enough" if view.wanted is None else f"wanted {view.wanted}"
    wanted = "enough" if view.enough else wanted
    if short:
        of = "" if view.wanted is None else f" of {view.wanted}"
        return sanitize(f"{hands}{helper} · counting {view.counting}{of}")
    return sanitize(
        f"{hands}{helper} · pulled {view.pulled} · counting {view.counting} · {wanted}")


def coming_line(view: BenchView, promised: str = "", *, narrow: bool = False,
                rules: bool = True) -> SafeText:
    """What one tread brings, when the wanted number is met, and what the pull in hand is for.

    `narrow`: no side has room for how many sheets are damp, so that stands here. `rules`: say
    where a rule, not the printer, said what the pull is for.
    """
    calling = next((c for c in view.calls if c.calling and c.by_tread), None)
    parts = [] if view.next is None else [f"Next: {view.next}"]
    if calling is not None and view.paused_ms is None:
        parts = [f"Next: answer {calling.text}"]
    parts += [view.paper] if narrow and view.paper else []
    parts += [promised] if promised else []
    if view.for_words is not None:
        for_ = view.for_words if rules else view.for_words.removesuffix(BY_RULE)
        parts.append(f"this pull: {for_}")
    if view.others:
        parts.append(f"also open: {', '.join(view.others)}")
    return sanitize(" · ".join(parts))


def paper_rows(view: BenchView, cells: int) -> list[SafeText]:
    """How many sheets are damp, all day long, over the other clocks."""
    return wrap_text(sanitize(view.paper), cells) if view.paper and cells >= 8 else []


def clock_rows(clocks: Sequence[ClockView], cells: int, rows: int) -> list[SafeText]:
    """The other clocks for a narrow strip: the time, then what it is of."""
    if cells < 8:
        return []
    out: list[SafeText] = []
    for clock in clocks:
        owner = "" if clock.session is None else f" ({clock.session})"
        hands = " · clean hands" if clock.clean else ""
        lines = wrap_text(sanitize(f"{count_figure(clock.count)} {clock.name}{owner}{hands}"),
                          cells)
        if len(out) + len(lines) > rows:
            break
        out += lines
    return out


def call_words(call: CallView, key: str = "") -> SafeText:
    """A call on its line: what, how late, the key that answers it, and what it needs."""
    late = f": {minutes_text(call.late_ms)} over" if call.late_ms >= 60_000 else ": now"
    owner = "" if call.session is None else f" · {call.session}"
    needs = " · clean hands" if call.clean else ""
    state = "" if call.calling else _muted(call) if call.muted else " · waits"
    answer = f" · {key}" if key else ""
    return sanitize(f"{call.text}{late}{answer}{needs}{owner}{state}")


def _muted(call: CallView) -> str:
    """How long it stays silent: ` · muted 8 min more`."""
    if call.muted_ms is None:
        return " · muted until answered"
    return f" · muted {minutes_text(call.muted_ms)} more"


def sheet_marks_row(sheets: Sequence[SheetView], cells: int) -> SafeText:
    """The sheets as marks with the shape of their verdict, the latest ones if not all fit."""
    parts = [_sheet(sheet) for sheet in sheets]
    first = len(parts)
    used = 2
    while first > 0 and used + cell_width(parts[first - 1]) + 2 <= cells:
        first -= 1
        used += cell_width(parts[first]) + 2
    lead = "… " if first > 0 else ""
    return SafeText(lead + "  ".join(parts[first:]))


def _sheet(sheet: SheetView) -> SafeText:
    again = "~" if sheet.look_again else ""
    words = sanitize(f"{sheet.mark}{VERDICTS[sheet.verdict]}{again}")
    return words if sheet.counts else SafeText(f"({words})")


def sheet_legend(sheets: Sequence[SheetView]) -> SafeText:
    """What the signs beside these sheets mean, words first; nothing where there are no sheets."""
    verdicts = {sheet.verdict for sheet in sheets}
    words = [f"{verdict or 'not judged'} {sign}" for verdict, sign in VERDICTS.items()
             if verdict in verdicts]
    words += ["look again ~"] if any(sheet.look_again for sheet in sheets) else []
    words += ["not counted ()"] if any(not sheet.counts for sheet in sheets) else []
    return SafeText("  ".join(words))


def sheets_and_legend(sheets: Sequence[SheetView], cells: int) -> tuple[SafeText, SafeText]:
    """The row of sheets, and what its signs mean: beside it where both fit, else a row below."""
    row, told = sheet_marks_row(sheets, cells), sheet_legend(sheets)
    if told and cell_width(row) + 4 + cell_width(told) <= cells:
        return SafeText(f"{row}    {told}"), SafeText("")
    return row, told


def latest_sheet_lines(sheets: Sequence[SheetView], cells: int, rows: int) -> list[SafeText]:
    """The latest sheets one a line, for a narrow strip: `A3 ● edition, salty`."""
    if rows < 1:
        return []
    return [
        clip_text(sanitize(f"{s.mark} {VERDICTS[s.verdict]} {', '.join((s.purpose, *s.tags))}"),
                  cells)
        for s in sheets[-rows:]
    ]


def notice_lines(view: BenchView) -> list[tuple[str, SafeText]]:
    """Lines between the sides and what comes next, each with the strip it stands in."""
    calling = [call for call in view.calls if call.calling]
    keys = [answer_words(call) for call in calling[:1]]  # it answers the first
    out = [("calling", sanitize(f"▶ CALLS ▶ {call_words(call, *keys[n:n + 1])}"))
           for n, call in enumerate(calling)]
    out += [("waiting", call_words(call)) for call in view.calls if not call.calling]
    if view.question is not None and view.hands == "clean":
        out.append(("question", sanitize(view.question)))
        out.append(("question", SafeText("7 took that long · 8 away · 9 forgot the pedal")))
    if view.state_question is not None:
        when = "after the wash: w" if view.now.side == "wash" else "w"
        out.append(("question", sanitize(f"{view.state_question} · {when}")))
    out += [("warning", sanitize(f"! {text}")) for text in view.warnings]
    out += [] if view.drift is None else [("drift", sanitize(view.drift))]
    return out


def wrap_text(text: SafeText, cells: int) -> list[SafeText]:
    """Break a text into lines of at most so many cells, at blanks where there are any."""
    out: list[str] = []
    line = ""
    for word in text.split(" "):
        while cell_width(word) > cells > 1:
            head = clip_text(SafeText(word), cells)[:-1] or word[0]
            if line:
                out.append(line)
                line = ""
            out.append(head)
            word = word[len(head):]
        if line and cell_width(line) + 1 + cell_width(word) > cells:
            out.append(line)
            line = word
        else:
            line = f"{line} {word}" if line else word
    if line or not out:
        out.append(line)
    return [SafeText(piece) for piece in out]


def offered_line(view: BenchView) -> SafeText:
    """Optional steps that can be done now, and the key that chooses one: it needs clean hands."""
    can = view.offered and (view.hands == "clean" or view.helper is not None)
    return sanitize(f"you can also do: {', '.join(view.offered)} (o)" if can else "")


def other_clocks(shown: BenchView) -> tuple[ClockView, ...]:
    """The clocks beside what stands across: the wait that stands there is not said twice."""
    clocks, now = shown.clocks, shown.now
    if now.side != "wait" or shown.paused_ms is not None:
        return clocks
    there = next((c for c in clocks if c.name == now.do and c.count == now.count), None)
    return tuple(c for c in clocks if c is not there)


def sheet_before(shown: BenchView) -> SheetView | None:
    """The sheet pulled before the one in hand."""
    held = next((s for s in shown.sheets if s.mark == shown.mark), None)
    earlier = [s for s in shown.sheets
               if held is not None and s.number is not None and held.number is not None
               and s.number < held.number]
    return max(earlier, key=lambda s: s.number or 0, default=None)
