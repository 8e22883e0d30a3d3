"""The player that uses what the machine has: tried in order, each trouble noticed once.

A tone goes to the first program that plays it; one that fails, hangs or is gone is
left alone for a while, and the next one takes over within the same sound, the
terminal's bell last. So a call is heard late rather than not at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import Final

from benchapp.calls.chain import Attempt, PlayerChain, Then, Way
from benchapp.calls.found import WINSOUND, FoundPlayers, Program
from benchapp.calls.phrases import strip_voice_commands, why_not_spoken
from benchapp.calls.pieces import Phrase, Piece, Player, Playing, Tone, Trouble
from benchapp.calls.players import PlayedPiece, SilentPlayer, pattern_ms
from benchapp.calls.process import BootMs, Ending, Process
from benchapp.calls.tones import Level
from benchapp.calls.voice import Rendering, Voice
from benchapp.calls.wavs import Wavs
from benchapp.calls.windows import Winsound

_TONE_SPARE_MS: Final = 3_000
"""What a player may take beyond the tone itself: a sleeping loudspeaker wakes in 1-2 s."""
_PHRASE_MS: Final = 4_000
_LETTER_MS: Final = 120
_REST: Final = 8
"""So many pieces go past a program that failed before it is tried again."""


class SystemPlayer:
    """Plays tones and speaks phrases by the programs found.

    Programs get the path of a file, or a text on standard input or after `--`;
    there is no shell anywhere.
    """

    def __init__(
        self, found: FoundPlayers, level: Level, folder: Path, last: Player, boot_ms: BootMs
    ) -> None:
        """Play by what was found.

        Args:
            found: The programs, the best first.
            level: How loud tones and rendered phrases are.
            folder: Where WAVs are kept; made if it is not there. A temporary one
                stands in if it can't be written.
            last: What sounds a tone when every program failed: the bell.
            boot_ms: The clock that deadlines are read from.
        """
        self._boot_ms, self._last = boot_ms, last
        self._new: list[Trouble] = []
        self._told: set[tuple[str, str]] = set()
        self._resting: dict[str, int] = {}
        self._players, self._voices = found.players, found.voices
        self._wavs = Wavs(folder, level)
        self._voice = self._renderer(level)

    def prepare(self, texts: Iterable[str]) -> None:
        """Render phrases now that will be wanted later; returns at once."""
        if self._voice is not None:
            self._voice.prepare(texts)

    def start(self, piece: Piece) -> Playing:
        """Begin a piece by the first program that is not resting."""
        if isinstance(piece, Tone):
            file = self._wavs.file(piece.kind) if self._players else None
            ways = self._file_ways(file, pattern_ms(piece.kind) + _TONE_SPARE_MS)
            return PlayerChain(ways, lambda: self._last.start(piece), self._failed)
        if (why := why_not_spoken(piece.text)) is not None:
            self._notice(Trouble("a phrase", "refused", f"benchapp did not speak a phrase: {why}."))
            return PlayedPiece()
        return self._speak(piece)

    def troubles(self) -> tuple[Trouble, ...]:
        """What went wrong since this was last asked, the bell's troubles too."""
        if self._wavs.trouble is not None and self._players:
            self._notice(self._wavs.trouble)
        told, self._new = tuple(self._new), []
        return (*told, *self._last.troubles())

    # -- phrases --

    def _renderer(self, level: Level) -> Voice | None:
        """The first voice, if it renders; another chosen before it speaks by itself."""
        folder, voices = self._wavs.folder, self._voices
        if folder is None or not self._players or not voices or not voices[0].renders:
            return None
        return Voice(voices[0], folder, self._boot_ms, level)

    def _speak(self, piece: Phrase) -> Playing:
        voice = self._voice
        if voice is None or self._rests(voice.program.name):
            return self._speak_live(piece)
        ready = voice.file(piece.text)
        if ready is not None:
            return self._say_file(ready, piece)
        rendering = voice.rendering(piece.text)
        return Then(rendering, partial(self._rendered, voice, rendering, piece))

    def _rendered(self, voice: Voice, rendering: Rendering, piece: Phrase) -> Playing:
        if rendering.made is not None:
            return self._say_file(rendering.made, piece)
        self._failed(voice.program.name, rendering.ended or "failed",
                     rendering.said or "it wrote no sound")  # fmt: skip
        return self._speak_live(piece)

    def _say_file(self, path: Path, piece: Phrase) -> Playing:
        return PlayerChain(self._file_ways(path, _phrase_limit(piece)), PlayedPiece, self._failed)

    def _speak_live(self, piece: Phrase) -> Playing:
        ways = [
            Way(v.name, partial(self._live, v, piece))
            for v in self._voices
            if not self._rests(v.name)
        ]
        return PlayerChain(ways, PlayedPiece, self._failed)

    def _live(self, voice: Program, piece: Phrase) -> Attempt:
        words, limit = strip_voice_commands(piece.text), _phrase_limit(piece)
        if voice.takes == "argument":
            return Process((*voice.argv, words), self._boot_ms, limit)
        return Process(voice.argv, self._boot_ms, limit, text=words)

    # -- files --

    def _file_ways(self, path: Path | None, limit_ms: int) -> list[Way]:
        if path is None:
            return []
        return [
            Way(p.name, partial(self._play, p, path, limit_ms))
            for p in self._players
            if not self._rests(p.name)
        ]

    def _play(self, program: Program, path: Path, limit_ms: int) -> Attempt:
        if program.name == WINSOUND:
            return Winsound(path, self._boot_ms)
        return Process((*program.argv, str(path)), self._boot_ms, limit_ms)

    # -- troubles --

    def _rests(self, name: str) -> bool:
        """Whether a program that failed is passed by this time."""
        left = self._resting.get(name, 0)
        if left:
            self._resting[name] = left - 1
        return left > 0

    def _failed(self, name: str, ended: Ending, said: str) -> None:
        self._resting[name] = _REST
        text = (f"{name} made no sound: {said}. "
                "benchapp uses another way; `benchapp calls` tries each.")
        self._notice(Trouble(name, "hung" if ended == "hung" else "failed", text))

    def _notice(self, trouble: Trouble) -> None:
        if (trouble.what, trouble.why) not in self._told:
            self._told.add((trouble.what, trouble.why))
            self._new.append(trouble)


def system_player(
    found: FoundPlayers, sound: Level | None, folder: Path, last: Player, boot_ms: BootMs
) -> SystemPlayer | SilentPlayer:
    """Give the player for a choice of sound: loud, soft, or None for off."""
    if sound is None:
        return SilentPlayer()
    return SystemPlayer(found, sound, folder, last, boot_ms)


def _phrase_limit(piece: Phrase) -> int:
    """Slow speech is 8 letters a second; more than that is a voice that hangs."""
    return _PHRASE_MS + _LETTER_MS * len(piece.text)
