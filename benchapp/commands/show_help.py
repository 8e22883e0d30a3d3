"""`benchapp help`: the topics, the page of one, the help of a command, the manual page."""

from __future__ import annotations

import shutil
from typing import Final

from benchapp.commands.context import Arguments, WrongUse, say, suggest_names
from benchapp.help.page import page_lines
from benchapp.help.topics import INDEX, TOPICS, help_page

_ACROSS: Final = 80


def show_help(arguments: Arguments) -> int:
    """Print what was asked for.

    Raises:
        WrongUse: There is neither a topic nor a command of that name.
    """
    from benchapp.commands.manual import manual_page
    from benchapp.commands.parser import make_parser

    parser = make_parser()
    name = (arguments.topic or INDEX).casefold()
    if arguments.man:
        say(*manual_page(parser).split("\n"))
    elif name in (*TOPICS, INDEX):
        say(*topic_text(name))
    elif name in parser.commands:
        say(*parser.commands[name].format_help().rstrip("\n").split("\n"))
    else:
        near = suggest_names(name, [*TOPICS, *(str(x) for x in parser.commands)])
        raise WrongUse(f"There is no topic {arguments.topic}; {near} "
                       "To see all topics: benchapp help")
    return 0


def topic_text(name: str) -> list[str]:
    """The page of a topic as lines, as wide as the terminal but no wider than is easy to read."""
    page = help_page(name)
    across = max(40, min(_ACROSS, shutil.get_terminal_size((_ACROSS, 24)).columns))
    return [page.title, page.summary, "", *(line.text for line in page_lines(page, across))]
