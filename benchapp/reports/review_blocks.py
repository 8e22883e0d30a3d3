"""A session read back as blocks: as lines for a terminal, and as a page. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from benchapp.quantities import figure_text
from benchapp.reports.blocks import (
    BREAK,
    Block,
    DayDrawing,
    Items,
    Medium,
    Numbers,
    Photo,
    Said,
    Section,
    Sentence,
    Table,
    Title,
    Words,
    join_said,
    list_section,
    photo_section,
)
from benchapp.reports.html import render_page
from benchapp.reports.reading_blocks import reading_blocks
from benchapp.reports.render_text import render_text
from benchapp.reports.review import Review, SheetReview, purpose_words
from benchapp.reports.review_day import RecipeTime
from benchapp.reports.review_words import (
    a_sheet_words,
    earlier_lines,
    hours_words,
    jump_words,
    length_words,
    paper_words,
    pauses_words,
    reading_words,
    seen_words,
    setting_words,
    sheet_line,
    sheet_times,
    time_lines,
    try_line,
)

#: Pictures by the id of the sheet they show; those of a day by the name of its session.
ReviewPhotos = Mapping[str, Sequence[Photo]]
_NO_PHOTOS: Final[ReviewPhotos] = {}


def review_blocks(r: Review, medium: Medium, photos: ReviewPhotos = _NO_PHOTOS) -> Iterator[Block]:
    """A review: on a terminal what happened comes first, on a page what was found and drawn."""
    changes = list_section("Changed between pulls, and seen", (x.sentence for x in r.changes))
    notes = list_section("Notes of the session", r.notes)
    ended = list_section("End of the day", (
        f"{m.step}: {m.fact or 'not said'}" for m in r.musts if m.asked))
    jumps = list_section("When the clock jumped", map(jump_words, r.jumps))
    if medium == "page":
        yield _page_title(r)
        yield from (Sentence(Said(x.sentence)) for x in r.drift)
        if r.earlier.sessions:
            yield Sentence(Said(r.earlier.sentence))
        yield _day(r)
        yield from (Section(x.name, reading_blocks(x)) for x in r.drift)
        yield changes
        yield list_section("Plates reworked", (" · ".join(filter(None, (
            x.plate, x.state and f"state {x.state}", x.what))) for x in r.reworked))
        yield photo_section("Pictures of the day", photos.get(r.session, ()))
        yield from (_sheet_table(r, photos), notes, _setting_table(r), _time_table(r), ended)
        yield list_section("Undone", (f"{c.what} {c.at[11:16]}" for c in r.corrections))
        yield jumps
        return
    yield Title(f"{r.session} · {r.print}, {r.artist} · {r.state}", _counts(r))
    yield Items((*(f"  {sheet_line(i)}" for i in r.impressions),
                 *(f"  —    {try_line(t)}{seen_words(t)}" for t in r.tries)))
    yield notes
    yield list_section("Settings", map(setting_words, r.settings))
    yield list_section("Paper, sheet by sheet", (
        f"{i.mark}: {x}" for i in r.impressions if (x := paper_words(i))))
    yield _times(r)
    if r.earlier.sessions:
        yield list_section("Compared with earlier sessions",
                           (r.earlier.sentence, *earlier_lines(r)))
    yield changes
    yield Section("Over the session", tuple(b for x in r.drift for b in reading_blocks(x)))
    yield ended
    yield list_section("Undone", (f"{c.what} ({c.at[11:16]})" for c in r.corrections))
    yield jumps


def review_text(r: Review, charts: str | None = None) -> list[str]:
    """A review as lines for a terminal; texts are the printer's own, not yet made visible.

    Args:
        r: From `review_session`.
        charts: `dots` or `plain` (ASCII): draw the readings too.
    """
    return render_text(review_blocks(r, "text"), charts)


def review_page(reviews: Sequence[Review], photos: ReviewPhotos = _NO_PHOTOS) -> str:
    """One or more sessions read back, as one page, pictures beside the sheets they show."""
    title = "No session" if not reviews else f"{reviews[0].print}, {reviews[0].session}"
    if len(reviews) > 1:
        title = f"{len(reviews)} sessions"
    return render_page(title, (
        block for r in reviews for block in review_blocks(r, "page", photos)))


def _counts(r: Review) -> str:
    wanted = "" if r.wanted is None else f" · wanted {r.wanted}"
    return f"pulled {r.pulled} · counting {r.counting}{wanted}"


def _page_title(r: Review) -> Title:
    return Title(Said(r.print), (
        Said(r.artist), " · ", Said(r.session), f" · {r.state} · {_counts(r)}"))


def _times(r: Review) -> Section:
    """Where the time went, in lines; its head is always there."""
    hours = hours_words(r.hours)
    lines = [*time_lines(r.by_step), *((hours, *pauses_words(r.hours)) if hours else ())]
    row = sheet_times(r)
    return Section("Where the time went", (
        Items(tuple(lines)), *((Numbers(row, "Hands, sheet by sheet:"),) if row else ())))


def _day(r: Review) -> Section:
    """The rows of the day, and its hours in words."""
    day = r.day_chart
    said = "; ".join([hours_words(r.hours), *pauses_words(r.hours)])
    return Section("The day", (DayDrawing(day), Sentence(said, aside=True)) if day.is_drawn else ())


def _sheet_table(r: Review, photos: ReviewPhotos) -> Section:
    shown = any(i.sheet in photos for i in r.impressions)
    rows = tuple((
        Said(str(i.mark)), Said(i.label or purpose_words(i)),
        Said(i.verdict or "not judged"),
        Said("not taken" if i.pulled_at is None else i.pulled_at[11:16]),
        join_said((*i.tags, *map(reading_words, i.readings), *(f"“{n}”" for n in i.notes))),
        _paper_cell(i), *((tuple(photos.get(i.sheet, ())),) if shown else ()))
        for i in r.impressions)
    return Section("Impressions", (Table(
        ("mark", "for", "verdict", "pulled", "tags, readings, notes",
         "paper soaked, rested, waited", *(("pictures",) if shown else ())), rows,
        short=frozenset({0, 1, 2, 3, 5})),) if rows else ())


def _paper_cell(i: SheetReview) -> Words:
    """Of each of its papers the three times, a stroke where one is not known."""
    times = ((p.soaked_seconds, p.rested_seconds, p.waited_seconds) for p in i.paper)
    return join_said((", ".join("–" if t is None else length_words(t) for t in three)
                      for three in times if three != (None, None, None)), BREAK)


def _setting_table(r: Review) -> Section:
    rows = tuple((Said(f"{x.name}{', of the day' if x.of_day else ''}"), Said(x.value),
                  str(x.since)) for x in r.settings)
    return Section("Settings", (
        Table(("setting", "value", "from no."), rows, frozenset({2})),) if rows else ())


def _time_table(r: Review) -> Section:
    """Where the time went: each step beside the recipe and the days before."""
    before = {x.id: x for x in r.earlier.by_step}
    rows: list[tuple[Words, ...]] = []
    for x in r.by_step:
        then = before[x.id]
        rows.append((
            Said(x.step), str(x.times), length_words(x.middle_seconds),
            length_words(x.total_seconds), "" if x.recipe is None else _three(x.recipe),
            "" if then.middle_seconds is None
            else f"{length_words(then.middle_seconds)} ({then.times})"))
    if not rows:
        return Section("Where the time went", ())
    days = ", ".join(x.session for x in r.earlier.sessions)
    told = (r.earlier.sentence, a_sheet_words(r)) if days else ()
    under = (Sentence(("Before: ", Said(days), ", how often timed in brackets."), aside=True),)
    row = sheet_times(r)
    return Section("Where the time went", (
        *(Sentence(Said(x)) for x in told if x),
        Table(("step", "times", "median", "in all", "recipe", "before"), tuple(rows),
              frozenset({1, 2, 3, 4, 5})),
        *(under if days else ()),
        *((Numbers(row, "Hands, sheet by sheet:"),) if row else ())))


def _three(recipe: RecipeTime) -> str:
    """Low, usual and high with the minutes said once, or one figure where they are the same."""
    times = [figure_text(round(t * 1000)) for t in (recipe.low, recipe.usual, recipe.high)]
    if len(set(times)) == 1:
        return times[0]
    plain = all(t.count(" ") == 1 and t.endswith(" min") for t in times)
    return "/".join(t.removesuffix(" min") for t in times) + " min" if plain else "/".join(times)
