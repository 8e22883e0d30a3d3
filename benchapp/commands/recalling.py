"""An edition begun on paper comes in from a table, or its template is written."""

from __future__ import annotations

from pathlib import Path

from benchapp import files
from benchapp.commands.desk import Arguments, Refused, WrongUse, say, say_json
from benchapp.commands.exports import write_out
from benchapp.commands.meaning import OR_OLD, print_meant, taken, writing
from benchapp.edition.acts import Recall
from benchapp.papers.old_numbers import MOST, TEMPLATE, Problem, read_table
from benchapp.quantities import items_text

_BYTES = 4 * 1024 * 1024


def template(arguments: Arguments) -> int:
    """Write the table to fill in."""
    write_out(arguments.template, TEMPLATE, arguments)
    say(f"Written: {arguments.template}. Take its example lines out, and write one sheet a line.")
    return 0


def recall(arguments: Arguments) -> int:
    """Take all lines of the table into the register, or none.

    Raises:
        Refused: Lines are wrong; the message has every one, with its line.
    """
    path = Path(arguments.recall).expanduser()
    table = read_table(files.read_text(path, _BYTES), arguments.paper or path.stem)
    if table.problems or len(table.lines) > MOST:
        many = (Problem(MOST, "has more lines than any edition"),)
        raise Refused(_all(path, table.problems or many))
    with writing(arguments) as editions:
        try:
            print_ = print_meant(editions, arguments.print_)
        except WrongUse as unknown:
            raise WrongUse(f"{unknown}{OR_OLD}") from None
        action = Recall(print_, tuple(line for _, line in table.lines))
        wrong = editions.recall_problems(action)
        if wrong:
            raise Refused(_all(path, tuple(Problem(table.lines[i][0], str(why))
                                           for i, why in wrong)))
        taken(editions.do(action))
        title = editions.title(print_)[0]
    if arguments.json:
        say_json({"print": title, "sheets": len(table.lines)})
    else:
        say(f"{items_text(len(table.lines), 'sheet')} of {title} taken in from {path.name}.")
    return 0


def _all(path: Path, problems: tuple[Problem, ...]) -> str:
    return "\n".join([*(p.at(str(path)) for p in problems), "Nothing was taken in."])
