"""`benchapp completion`: what a shell offers behind `benchapp`, made from the parser."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from benchapp.commands.context import Arguments, say
from benchapp.commands.syntax_tree import CommandSyntax, command_syntax
from benchapp.help.topics import TOPICS


def write_completion(arguments: Arguments) -> int:
    """Print the completion for a shell."""
    from benchapp.commands.parser import make_parser

    known = list(command_syntax(make_parser()))
    say(*_SHELLS[arguments.shell](known))
    return 0


def _offered(one: CommandSyntax) -> list[str]:
    """Everything that may be written behind a command, but file names."""
    flags = [flag for option in one.options for flag in option.flags if flag.startswith("--")]
    words = [word for option in one.options if not option.flags for word in option.choices]
    topics = TOPICS if one.path == ("help",) else ()
    return [*one.words, *words, *topics, *flags]


def _values(known: Iterable[CommandSyntax]) -> list[tuple[CommandSyntax, str, tuple[str, ...]]]:
    """Options whose value is one of a few words."""
    return [(one, flag, option.choices) for one in known for option in one.options
            for flag in option.flags if option.choices]


def _quoted(words: Iterable[str]) -> str:
    return shlex.quote(" ".join(words))


def _by_word(known: Sequence[CommandSyntax], words: str, before: str, name: str) -> list[str]:
    """The part that bash and zsh share: which command it is, and what it offers."""
    paths = "|".join(shlex.quote(f"{' '.join(['', *one.path])}") for one in known if one.path)
    return [
        "    local word where='' offered=''",
        f"    for word in {words}; do",
        f'        case "$where $word" in {paths}) where="$where $word";; esac',
        "    done",
        '    case "$where" in',
        *(f"        {shlex.quote(' '.join(['', *one.path]) if one.path else '')}) "
          f"offered={_quoted(_offered(one))};;" for one in known),
        "    esac",
        f'    case "$where {before}" in',
        *(f"        {shlex.quote(' '.join(['', *one.path, flag]))}) offered={_quoted(choices)};;"
          for one, flag, choices in _values(known)),
        "    esac",
    ]


def _bash(known: Sequence[CommandSyntax]) -> list[str]:
    return ["# Completion of benchapp for bash. Made by: benchapp completion bash",
            "_benchapp() {",
            *_by_word(known, '"${COMP_WORDS[@]:1:COMP_CWORD-1}"',
                      "${COMP_WORDS[COMP_CWORD-1]}", "bash"),
            '    mapfile -t COMPREPLY < <(compgen -W "$offered" -- "${COMP_WORDS[COMP_CWORD]}")',
            "}", "complete -o default -F _benchapp benchapp"]


def _zsh(known: Sequence[CommandSyntax]) -> list[str]:
    return ["#compdef benchapp", "# Completion of benchapp for zsh. Made by: "
            "benchapp completion zsh", "_benchapp() {",
            *_by_word(known, '"${(@)words[2,CURRENT-1]}"', "${words[CURRENT-1]}", "zsh"),
            "    compadd -- ${=offered}", "    _files", "}", "compdef _benchapp benchapp"]


def _fish(known: Sequence[CommandSyntax]) -> list[str]:
    lines = ["# Completion of benchapp for fish. Made by: benchapp completion fish"]
    helps = {one.path: one.help for one in known}
    for one in known:
        when = f"-n {shlex.quote(_fish_condition(one, helps))}"
        lines += [f"complete -c benchapp {when} -f -a {word} "
                  f"-d {shlex.quote(helps[(*one.path, word)])}" for word in one.words]
        bare = [word for option in one.options if not option.flags for word in option.choices]
        if one.path == ("help",):
            bare += TOPICS
        lines += [f"complete -c benchapp {when} -f -a {word}" for word in bare]
        for option in one.options:
            long = next((flag[2:] for flag in option.flags if flag.startswith("--")), None)
            if long is not None:
                values = f" -x -a {_quoted(option.choices)}" if option.choices else (
                    " -r" if option.value else "")
                lines.append(f"complete -c benchapp {when} -l {long}{values} "
                             f"-d {shlex.quote(option.help)}")
    return lines


def _fish_condition(one: CommandSyntax, helps: dict[tuple[str, ...], str]) -> str:
    if not one.path:
        return "__fish_use_subcommand"
    seen = "; and ".join(f"__fish_seen_subcommand_from {word}" for word in one.path)
    if one.words:
        seen += f"; and not __fish_seen_subcommand_from {' '.join(one.words)}"
    return seen


_SHELLS: Final[dict[str, Callable[[Sequence[CommandSyntax]], list[str]]]] = {
    "bash": _bash, "zsh": _zsh, "fish": _fish}
