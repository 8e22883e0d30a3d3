"""Calls and ends of waits said aloud while a session is worked by lines."""

from __future__ import annotations

import sys
from dataclasses import replace

from benchapp.calls.found import FoundPlayers, find_players
from benchapp.calls.pieces import Piece, Player, Playing, Tone, Trouble
from benchapp.calls.players import PlayedPiece
from benchapp.clock import Clock
from benchapp.events.entry import Moment
from benchapp.screens.sounding import Sounding, player_for, ring_bell
from benchapp.session.state import StudioState
from benchapp.settings import Preferences


class Speaking:
    """The machine's voice: calls until they are answered, and whatever else is said to it."""

    def __init__(self, sounding: Sounding) -> None:
        """Speak by this."""
        self._sounding = sounding

    def follow(self, room: StudioState, now: Moment) -> tuple[str, ...]:
        """Take over what will call; gives what went wrong, each once."""
        return tuple(report.text for report in self._sounding.follow(room, now)
                     if isinstance(report, Trouble))

    def say(self, words: str) -> None:
        """Say this now, in place of what was said before it; calls go first."""
        if words:
            self._sounding.say(words)

    def stop(self) -> None:
        """Fall silent."""
        self._sounding.stop()


class _WordsAlone:
    """A player without its tones: sound is off, but words were asked for."""

    def __init__(self, player: Player) -> None:
        self._player = player

    def start(self, piece: Piece) -> Playing:
        return PlayedPiece() if isinstance(piece, Tone) else self._player.start(piece)

    def troubles(self) -> tuple[Trouble, ...]:
        return self._player.troubles()


def make_voice(clock: Clock, settings: Preferences, *, pace: float = 1.0) -> Speaking:
    """The voice of this machine, whatever the preferences say of spoken words.

    Args:
        clock: The clock of the workshop.
        settings: The printer's choice of tones and player.
        pace: How many times as fast as the world the clock runs.
    """
    spoken = replace(settings, voice="on",
                     sound="on" if settings.sound == "off" else settings.sound)

    def make(chosen: Preferences) -> Player:
        player = player_for(chosen, _ring)
        return _WordsAlone(player) if settings.sound == "off" else player

    return Speaking(Sounding(clock, spoken, make, pace=pace))


def no_voice(found: FoundPlayers | None = None) -> str | None:
    """Why nothing will be spoken; None: a voice is there."""
    found = found or find_players()
    if found.remote:
        return ("Nothing is spoken: benchapp runs on another machine. "
                "Calls are printed; the terminal's bell rings.")
    if not found.voices:
        return ("Nothing is spoken: this machine has no voice that benchapp knows. Calls are "
                "printed. Install espeak-ng, or try what is there with: benchapp calls")
    return None


def _ring(text: str) -> None:
    """Ring the terminal's bell where there is a terminal: a file or a pipe gets none."""
    if sys.stderr.isatty():
        ring_bell(text)
