"""The command `calls`: every player and voice tried, what was found said, the choice kept."""

from __future__ import annotations

import sys
import tempfile
import threading
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

from benchapp import settings as preferences
from benchapp.calls.chain import Attempt
from benchapp.calls.found import BELL, WINSOUND, FoundPlayers, Program, find_players
from benchapp.calls.phrases import strip_voice_commands
from benchapp.calls.process import Process
from benchapp.calls.tones import Level
from benchapp.calls.voice import Voice
from benchapp.calls.wavs import Wavs
from benchapp.calls.windows import Winsound
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    WrongUse,
    has_terminal,
    say,
    say_json,
    suggest_names,
)
from benchapp.commands.screens import find_preferences as read_preferences
from benchapp.screens.sounding import boot_ms, ring_bell
from benchapp.settings import Preferences

_LIMIT_MS: Final = 6_000
_LOOK_S: Final = 0.02
_SPEECH: Final = "Settle: time is up"
_ENDED: Final = {"well": "ran to its end", "failed": "failed", "hung": "hung and was ended",
                 "stopped": "was stopped"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tried:
    """One program, tried.

    Attributes:
        name: What it is called.
        does: `plays` or `speaks`.
        path: Where it is.
        ended: `well`, `failed` or `hung`.
        said: What went wrong; empty if nothing did.
    """

    name: str
    does: str
    path: str
    ended: str
    said: str

    def words(self) -> str:
        """For the printer: `aplay: ran to its end`."""
        why = f" ({self.said})" if self.said else ""
        return f"{self.name} {self.does}: {_ENDED[self.ended]}{why}"


def try_calls(arguments: Arguments) -> int:
    """Try what can be heard here, and keep the printer's choice."""
    settings = read_preferences()
    found = find_players()
    names = [p.name for p in found.players] + [BELL]
    if arguments.player is not None and arguments.player not in names:
        raise WrongUse(f"No player is called {arguments.player} here; "
                       f"{suggest_names(arguments.player, names)}")
    asked = has_terminal() and not arguments.json
    if asked:
        say(found.words())
    tried = tuple(_tried(found, _level(arguments.sound or settings.sound), aloud=asked))
    changes = _said(arguments)
    if asked and not changes:
        changes = _ask(names, tried)
    if changes:
        settings = preferences.save_preferences(changes)
    _tell(arguments, found, tried, settings, kept=tuple(changes))
    return 0


def _level(sound: str) -> Level:
    return "soft" if sound == "soft" else "loud"


def _said(arguments: Arguments) -> dict[str, str]:
    """What the options choose."""
    return {name: value for name in ("sound", "voice", "player")
            if (value := getattr(arguments, name)) is not None}


# -- trying -----------------------------------------------------------------------------


def _tried(found: FoundPlayers, level: Level, *, aloud: bool) -> Iterator[Tried]:
    """Every program in turn, to its end; then the bell, where there is a terminal."""
    now_ms = boot_ms(SystemClock())
    with tempfile.TemporaryDirectory(prefix="bench-calls-", ignore_cleanup_errors=True) as name:
        tone = Wavs(Path(name), level).file("end")
        good: Program | None = None
        for player in found.players if tone is not None else ():
            one = _end(player, "plays", _play(player, Path(str(tone))))
            good = good or (player if one.ended == "well" else None)
            yield _aloud(one, aloud=aloud)
        for voice in found.voices:
            yield _aloud(_speak(voice, good, Voice(voice, Path(name), now_ms, level)), aloud=aloud)
    if aloud and sys.stderr.isatty():
        ring_bell("\a")
        say("the terminal's bell: rung; many terminals keep it silent")


def _aloud(one: Tried, *, aloud: bool) -> Tried:
    if aloud:
        say(one.words())
        sys.stdout.flush()
    return one


def _play(player: Program, file: Path) -> Attempt:
    now_ms = boot_ms(SystemClock())
    if player.name == WINSOUND:
        return Winsound(file, now_ms)
    return Process((*player.argv, str(file)), now_ms, _LIMIT_MS)


def _speak(program: Program, player: Program | None, voice: Voice) -> Tried:
    """By a file where it can write one and something plays it; else by itself."""
    if program.renders and player is not None:
        rendering = voice.rendering(_SPEECH)
        one = _end(program, "speaks", rendering)
        if rendering.made is not None:
            return _end(program, "speaks", _play(player, rendering.made))
        return Tried(one.name, one.does, one.path, "failed", one.said or "it wrote no sound")
    now_ms, words = boot_ms(SystemClock()), strip_voice_commands(_SPEECH)
    live = (Process((*program.argv, words), now_ms, _LIMIT_MS) if program.takes == "argument"
            else Process(program.argv, now_ms, _LIMIT_MS, text=words))
    return _end(program, "speaks", live)


def _end(program: Program, does: str, attempt: Attempt) -> Tried:
    """Wait for it; it ends by itself, or at its limit."""
    pause = threading.Event()
    while not attempt.over():
        pause.wait(_LOOK_S)
    path = program.argv[0] if program.argv else ""
    return Tried(program.name, does, path, attempt.ended or "failed", attempt.said)


# -- asking and telling -----------------------------------------------------------------


def _ask(names: list[str], tried: Iterable[Tried]) -> dict[str, str]:
    """The printer's choice; what is left empty stays as it is."""
    speaks = any(t.does == "speaks" for t in tried)
    asked = {"player": names, "sound": ["on", "soft", "off"],
             **({"voice": ["on", "off"]} if speaks else {})}
    words = {"player": "Which did you hear best", "sound": "Sound of calls",
             "voice": "Spoken words too"}
    answers = {name: _one_of(words[name], choices) for name, choices in asked.items()}
    return {name: answer for name, answer in answers.items() if answer}


def _one_of(words: str, choices: list[str]) -> str:
    """One of these, or nothing."""
    while True:
        sys.stdout.write(f"{words}: {', '.join(choices)}? (empty: as it is) ")
        sys.stdout.flush()
        line = sys.stdin.readline()
        said = line.strip()
        if not said or said in choices:
            return said
        say(f"It is none of these: {suggest_names(said, choices)}")


def _tell(arguments: Arguments, found: FoundPlayers, tried: tuple[Tried, ...],
          settings: Preferences,
          *, kept: tuple[str, ...]) -> None:
    choice = {"sound": settings.sound, "voice": settings.voice, "player": settings.player}
    if arguments.json:
        say_json("calls/1", {
            "tried": [asdict(t) for t in tried], "remote": found.remote, "bell": True,
            "choice": choice, "kept": list(kept)})
        return
    if not has_terminal():
        say(found.words(), *(t.words() for t in tried))
    if any(t.ended == "well" for t in tried):
        say("If you heard nothing, the system may have muted the sound or turned it down.")
    said = ", ".join(f"{name} {value or 'the best there is'}" for name, value in choice.items())
    say(f"Kept: {said}" if kept else f"As it was: {said}")
