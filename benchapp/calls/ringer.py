"""The caller's turn: what begins now, what is cut short, when to look again. No thread here.

One thing sounds at a time. A call due waits for what sounds, but never long: words
that nobody must hear (an answer to a key) are cut at once, a less urgent call's
words too, and anything else after five seconds, so that a player that hangs can't
hold up the next call.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from typing import Final

from benchapp.calls.pieces import Phrase, Piece, Player, Playing, Tone, Trouble
from benchapp.calls.schedule import NOTHING_HEARD, Plan, Sound, SoundedCalls, next_sound
from benchapp.calls.tones import Kind

LOOK_MS: Final = 20
"""How often something that sounds is looked at."""
PATIENCE_MS: Final = 5_000
"""How long a call waits at most for what sounds before it."""

_WISHES: Final = 4
_REPORTS: Final = 200
_RANK: Final[dict[Kind | None, int]] = {None: 0, "confirm": 0, "end": 1, "caution": 2}


@dataclass(frozen=True, slots=True)
class Rang:
    """Something began to sound: the screen flashes with it, also where sound is off.

    Attributes:
        sound: What it was.
        at_ms: When it began, boot clock.
        late_ms: How much later than it should; what was slept through counts.
    """

    sound: Sound
    at_ms: int
    late_ms: int


Report = Rang | Trouble


@dataclass(slots=True)
class _Sounding:
    """What sounds now, and what of it is still to come."""

    sound: Sound
    began_ms: int
    pieces: deque[Piece]
    piece: Piece
    playing: Playing


class Ringer:
    """Decides at each turn, from the plan of that moment alone and what has sounded.

    Attributes:
        reports: What happened, oldest first; kept short if nobody asks.
    """

    def __init__(self, player: Player) -> None:
        """Sound by this player."""
        self.reports: deque[Report] = deque(maxlen=_REPORTS)
        self.heard: SoundedCalls = NOTHING_HEARD
        self._player = player
        self._wishes: deque[Sound] = deque(maxlen=_WISHES)
        self._now: _Sounding | None = None

    def wish(self, sound: Sound, *, instead: bool = False) -> None:
        """Sound this when nothing else does; of more than four the oldest are dropped.

        Args:
            sound: What is wished.
            instead: In place of wishes before it, also of one that sounds now: what was
                said of a step is old when the next has begun.
        """
        if instead:
            self._wishes.clear()
            if self._now is not None and not (self._now.sound.calls or self._now.sound.foretold):
                self._cut()
        self._wishes.append(sound)

    def turn(self, now_ms: int, plan: Plan) -> int | None:
        """Do what is due.

        Args:
            now_ms: The boot clock.
            plan: What may sound.

        Returns:
            Milliseconds until the next turn is wanted if nothing changes; None for never.
        """
        self.heard = self.heard.kept(plan)
        self._hush(plan)
        self._go_on()
        found = next_sound(plan, now_ms, self.heard)
        if found is not None and found[0] <= now_ms and self._may_begin(found[1], now_ms):
            self.heard = self.heard.after(found[1], now_ms)
            self._begin(found[1], now_ms)
            found = next_sound(plan, now_ms, self.heard)
        elif self._now is None and self._wishes and not (found and found[0] <= now_ms):
            self._begin(self._wishes.popleft(), now_ms)
        self.reports.extend(self._player.troubles())
        if self._now is not None or self._wishes:
            return LOOK_MS
        return None if found is None else max(0, found[0] - now_ms)

    def quiet(self) -> None:
        """End what sounds and forget what was wished."""
        self._wishes.clear()
        self._cut()

    def _hush(self, plan: Plan) -> None:
        """End a call's sound as soon as it is answered, muted or gone."""
        if self._now is None or not self._now.sound.calls:
            return
        loud = {d.key for d in plan.deadlines if not (d.answered or d.muted)}
        if loud.isdisjoint(self._now.sound.calls):
            self._cut()

    def _go_on(self) -> None:
        """Begin the next piece of what sounds, when the one before has ended."""
        now = self._now
        while now is not None and now.playing.over():
            if not now.pieces:
                self._now = None
                return
            now.piece = now.pieces.popleft()
            now.playing = self._player.start(now.piece)

    def _may_begin(self, sound: Sound, now_ms: int) -> bool:
        now = self._now
        if now is None or now_ms - now.began_ms >= PATIENCE_MS:
            return True
        return isinstance(now.piece, Phrase) and _RANK[sound.kind] > _RANK[now.sound.kind]

    def _begin(self, sound: Sound, now_ms: int) -> None:
        self._cut()
        if not sound.calls and not sound.foretold:
            sound = Sound(sound.kind, sound.phrase, wanted_ms=now_ms)
        self.reports.append(Rang(sound, now_ms, now_ms - sound.wanted_ms))
        pieces: deque[Piece] = deque()
        if sound.kind is not None:
            pieces.append(Tone(sound.kind))
        if sound.phrase:
            pieces.append(Phrase(sound.phrase))
        if pieces:
            first = pieces.popleft()
            self._now = _Sounding(sound, now_ms, pieces, first, self._player.start(first))

    def _cut(self) -> None:
        if self._now is not None:
            self._now.playing.stop()
            self._now = None
