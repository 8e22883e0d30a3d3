"""The command that explains a tag: what this print's days show, then its usual causes."""

from __future__ import annotations

from benchapp.book.queries import sessions_of
from benchapp.commands.context import Arguments, WrongUse, read_book, say, say_json, suggest_names
from benchapp.commands.setting_beside import row_of_print
from benchapp.recipe.model import Print
from benchapp.reports.render_text import render_text
from benchapp.reports.tag_advice import TagAdvice, advice_blocks, advise_on_tag
from benchapp.session.state import Session
from benchapp.session.tags import GROUPS


def explain_tag(arguments: Arguments) -> int:
    """Say what is known of a tag; nothing is written."""
    tag = " ".join(arguments.tag)
    with read_book(arguments) as book:
        row = row_of_print(book, arguments.print_) if (
            arguments.print_ is not None or book.sessions()) else None
        title, sessions = None, tuple[Session, ...]()
        if row is not None:
            title = row.opening.print
            sessions = sessions_of(book, Print(title, row.opening.artist))
    known = [*(t for tags in GROUPS.values() for t in tags),
             *(t for s in sessions for tags in s.recipe.tags.values() for t in tags),
             *(t for s in sessions for i in s.impressions for t in i.tags)]
    found = next((t for t in known if t.casefold() == tag.casefold()), None)
    if found is None:
        raise WrongUse(f"There is no tag {tag}; {suggest_names(tag, known)}")
    advice = advise_on_tag(found, sessions, title)
    if arguments.json:
        say_json(TagAdvice.FORMAT, advice)
    else:
        say(*render_text(advice_blocks(advice)))
    return 0
