"""An edition begun on paper comes in from a table, or its template is written."""

from __future__ import annotations

import codecs
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.commands.context import Arguments, Refused, WrongUse, book_path, say, say_json
from benchapp.commands.exports import write_out
from benchapp.commands.pipes import is_stream, read_stream, say_written
from benchapp.commands.resolve import OR_OLD, accept_answer, print_meant, writing_editions
from benchapp.edition.actions import Recall
from benchapp.edition.rules_papers import LineRefused
from benchapp.quantities import items_text
from benchapp.reports.old_numbers import (
    MOST,
    TEMPLATE,
    OldNumbersTable,
    TableProblem,
    problems_in_order,
    read_table,
)
from benchapp.service.editions import EditionService

_BYTES: Final = 4 * 1024 * 1024
#: What an old paper is called whose printer gives it no name: the file's says nothing of it.
_OLD_PAPERS: Final = "old papers"


def write_template(arguments: Arguments) -> int:
    """Write the table to fill in."""
    write_out(arguments.template, TEMPLATE, arguments)
    say_written(arguments.template, f"Written: {arguments.template}. Delete its example lines, "
                "and write one sheet a line.")
    return 0


def recall_numbers(arguments: Arguments) -> int:
    """Take all lines of the table into the register, or none.

    Raises:
        Refused: Lines are wrong; the message has every one, with its line.
    """
    path = Path(arguments.recall).expanduser()
    table = read_table(_text(path), arguments.paper or _OLD_PAPERS)
    if len(table.lines) > MOST:
        raise Refused(_all(path, (TableProblem(MOST, "has more lines than any edition"),)))
    with _editions(arguments, table, path) as editions:
        try:
            print_ = print_meant(editions, arguments.print_)
        except WrongUse as unknown:
            raise WrongUse(f"{unknown}{OR_OLD}") from None
        action = Recall(print_, tuple(line for _, line in table.lines))
        refused = editions.recall_problems(action) if action.lines else ()
        wrong = (*table.problems, *(_problem(table, x) for x in refused))
        if wrong:
            raise Refused(_all(path, problems_in_order(wrong)))
        accept_answer(editions.do(action))
        title = editions.title(print_)[0]
    if arguments.json:
        say_json("edition-from-paper/1", {"print": title, "sheets": len(table.lines)})
    else:
        say(f"{items_text(len(table.lines), 'sheet')} of {title} imported from {path.name}.")
    return 0


def _text(path: Path) -> str:
    """The text of a table; a spreadsheet may write it in two bytes a sign, with a mark."""
    streamed = is_stream(str(path))
    data = read_stream(str(path), _BYTES) if streamed else files.read_bytes(path, _BYTES)
    if data[:2] in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError:
            raise Refused(f"{path} ends in the middle of a character; save it again as CSV "
                          "in UTF-8") from None
    if not streamed:
        return files.read_text(path, _BYTES)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused("the table is not UTF-8; save it as CSV in UTF-8") from None


@contextmanager
def _editions(arguments: Arguments, table: OldNumbersTable, path: Path) -> Iterator[EditionService]:
    """The editions of the book. What is wrong in the table is said also if there is no book."""
    if table.problems and not book_path(arguments).expanduser().exists():
        raise Refused(_all(path, table.problems))
    with writing_editions(arguments) as editions:
        yield editions


def _problem(table: OldNumbersTable, refused: LineRefused) -> TableProblem:
    """What is wrong in a line, with the other line it is about."""
    line, refusal = table.lines[refused.place][0], refused.refusal
    if refused.first is None:
        return TableProblem(line, str(refusal))
    first = f"{refusal.why}, first in line {table.lines[refused.first][0]}"
    return TableProblem(line, f"{first}; {refusal.mend}" if refusal.mend else first)


def _all(path: Path, problems: tuple[TableProblem, ...]) -> str:
    return "\n".join([*(p.at(str(path)) for p in problems), "Nothing was imported."])
