"""What `benchapp --help` shows: the commands in groups, and examples to begin with."""

from __future__ import annotations

from typing import Final

import benchapp
from benchapp.commands.table import GROUPS

EXAMPLES: Final = (
    ("benchapp", "open the Studio"),
    ("benchapp demo", "look around in an invented year"),
    ("benchapp run three-steps --wanted 2", "print the shortest shipped recipe"),
    ("benchapp new slate-roof", "begin a recipe of your own"),
    ("benchapp help start", "your first day"),
)

_COLUMN: Final = 14


def front_page() -> str:
    """The page."""
    lines = ["usage: benchapp [--book FILE] [command]", "", f"{benchapp.__doc__}", "",
             "Without a command, the Studio opens. To begin:", ""]
    lines += [f"  {command:<37}{words}" for command, words in EXAMPLES]
    for title, commands in GROUPS:
        lines += ["", f"{title}:", *(f"    {one.name:<{_COLUMN}}{one.help}" for one in commands)]
    lines += [
        "", "RECIPE is the name of a recipe, yours or a shipped one, or the path of a file.",
        "", "    --book FILE   use another book than the studio's",
        "    -V, --version show the version", "    -h, --help    show this page",
        "", "More: benchapp help lists the topics; benchapp COMMAND --help shows one command.",
        "Exit codes: 0 done, 1 the answer is no, 2 wrong use, 3 the book or the disk failed.", ""]
    return "\n".join(lines)
