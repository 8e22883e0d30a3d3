"""`benchapp help --man`: the manual page, made from the parser and the topics."""

from __future__ import annotations

import benchapp
from benchapp.commands.front_page import EXAMPLES
from benchapp.commands.parser import MainParser
from benchapp.commands.syntax_tree import CommandSyntax, command_syntax
from benchapp.commands.table import GROUPS
from benchapp.help.topics import topic_summaries


def manual_page(parser: MainParser) -> str:
    """The page in the form that `man` reads (roff, macros of man(7))."""
    known = {one.path: one for one in command_syntax(parser)}
    out = [f'.TH BENCHAPP 1 "" "benchapp {benchapp.__version__}" "benchapp"',
           ".SH NAME", _text(f"benchapp - {(benchapp.__doc__ or '').partition(': ')[2]}"),
           ".SH SYNOPSIS", ".B benchapp", "[--book FILE] [command]",
           ".SH DESCRIPTION",
           _text("Without a command, the Studio opens. The commands are, by what they are for:")]
    for title, commands in GROUPS:
        out.append(f".SS {_text(title)}")
        for one in commands:
            out += _command(known, (one.name,))
    out.append(".SH TOPICS")
    out.append(_text("Read a topic with: benchapp help TOPIC"))
    for name, summary in topic_summaries():
        out += [".TP", f".B {_text(name)}", _text(summary)]
    out.append(".SH EXAMPLES")
    for command, words in EXAMPLES:
        out += [".TP", f".B {_text(command)}", _text(f"{words[0].upper()}{words[1:]}.")]
    out += [".SH EXIT STATUS", _text("0 done, also with warnings; 1 the answer is no; 2 wrong use; "
                                     "3 the book or the disk failed."),
            ".SH ENVIRONMENT", ".TP", ".B BENCHAPP_HOME",
            "The folder of book, recipes and preferences."]
    return "\n".join(out)


def _command(known: dict[tuple[str, ...], CommandSyntax], path: tuple[str, ...]) -> list[str]:
    one = known[path]
    out = [".TP", f".B {_text('benchapp ' + ' '.join(path))}",
           _text(f"{one.help[:1].upper()}{one.help[1:]}.")]
    for option in one.options:
        if option.flags and option.flags[0] == "-h":
            continue
        name = ", ".join(f"{flag} {option.value}".strip() for flag in option.flags)
        out += [".RS", ".TP", f".B {_text(name or option.value)}", _text(option.help), ".RE"]
    for word in one.words:
        out += _command(known, (*path, word))
    return out


def _text(text: str) -> str:
    """Text that `man` shows as it is: its own signs written out."""
    safe = text.replace("\\", "\\e").replace("-", "\\-")
    return "\\&" + safe if safe[:1] in (".", "'") else safe
