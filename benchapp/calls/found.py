"""Which programs of this machine can make a sound or speak; looking only, nothing is started."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

Which = Callable[[str], str | None]
WINSOUND: Final = "winsound"
BELL: Final = "bell"
"""What the terminal's own bell is called where a player is chosen."""


@dataclass(frozen=True, slots=True)
class Program:
    """A program that plays a file or speaks a text.

    Attributes:
        name: What it is called.
        argv: The program by its full path, and the arguments before what it is given.
        takes: How a voice gets its text: on standard input, or as the argument after
            `--`. A player always gets the path of a file.
        renders: The arguments that make a voice write a WAV to the file named after
            them; empty if it can't.
    """

    name: str
    argv: tuple[str, ...]
    takes: Literal["file", "stdin", "argument"] = "file"
    renders: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FoundPlayers:
    """What can be heard here.

    Attributes:
        players: They play files, the best first; the terminal's bell comes after them.
        voices: They speak, the best first.
        remote: The program runs over the network: sound would come out at the other
            end, and only the terminal's bell reaches the printer.
    """

    players: tuple[Program, ...] = ()
    voices: tuple[Program, ...] = ()
    remote: bool = False

    def words(self) -> str:
        """Say what was found, for the printer."""
        if self.remote:
            return "The bench runs on another machine: only the terminal's bell reaches you."
        players = ", ".join(p.name for p in self.players) or "no player"
        voices = ", ".join(v.name for v in self.voices) or "no voice"
        return f"Sound: {players}, then the terminal's bell. Speech: {voices}."


def prefer_players(found: FoundPlayers, player: str | None, *, speech: bool = True) -> FoundPlayers:
    """Give what was found, by the printer's choice.

    Args:
        found: What is there.
        player: The player that comes first; `bell` for the terminal's bell alone. One
            that is not there changes nothing.
        speech: Whether there are to be voices.
    """
    players = () if player == BELL else tuple(
        sorted(found.players, key=lambda p: p.name != player))
    return FoundPlayers(players, found.voices if speech else (), found.remote)


_ESPEAK: Final = ("--stdin", "-b", "1")

#: By platform: the program, its arguments. pw-play, paplay and aplay belong to the three
#: sound systems of Linux, each of which emulates the ones after it.
_PLAYERS: Final[Mapping[str, tuple[tuple[str, ...], ...]]] = {
    "linux": (("pw-play",), ("paplay",), ("aplay", "-q")),
    "darwin": (("afplay",),),
}
#: A voice that renders comes first: its phrases are ready before they are needed, go
#: the same way as the tones, and a failure is seen.
_VOICES: Final[Mapping[str, tuple[Program, ...]]] = {
    "linux": (
        Program("espeak-ng", _ESPEAK, "stdin", ("-w",)),
        Program("espeak", _ESPEAK, "stdin", ("-w",)),
        Program("spd-say", ("--wait", "--"), "argument"),
    ),
    "darwin": (Program("say", ("-f", "-"), "stdin"),),
}


def find_players(
    platform: str = sys.platform,
    environ: Mapping[str, str] | None = None,
    which: Which = shutil.which,
) -> FoundPlayers:
    """Look for what this machine has.

    Args:
        platform: As in `sys.platform`.
        environ: The environment variables; those of the process if None.
        which: Gives the path of a program, or None.
    """
    environ = os.environ if environ is None else environ
    if environ.get("SSH_CONNECTION") or environ.get("SSH_TTY"):
        return FoundPlayers(remote=True)
    if platform == "win32":
        return FoundPlayers(players=(Program(WINSOUND, ()),))
    family = "darwin" if platform == "darwin" else "linux"
    players = tuple(
        Program(name, (path, *rest))
        for name, *rest in _PLAYERS[family]
        if (path := which(name)) is not None
    )
    voices = tuple(
        Program(v.name, (path, *v.argv), v.takes, v.renders)
        for v in _VOICES[family]
        if (path := which(v.name)) is not None
    )
    return FoundPlayers(players, voices)
