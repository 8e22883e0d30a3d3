"""Which call sounds next, and when: a plan and what has sounded in, one sound out. Pure.

A call that fell due sounds until it is answered, at growing gaps: 30 s, 1, 2 and
4 min after one another, then every 5 min (common practice); a gentle one sounds
once. What needs clean hands waits, silent, while they are inky, and is told at
the wash as one list with what will fall due before the wash after it. It breaks
that silence only if it would be spoilt before the next wash that is expected.

All times are milliseconds of the boot clock, which goes on while the machine
sleeps; one from before this boot is below zero. Nothing here answers a call: it
sounds as long as the plan holds it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final, Literal

from benchapp.calls.phrases import add_lateness, add_lead_time, join_phrases
from benchapp.calls.tones import Kind

Hands = Literal["inky", "washing", "clean"]

GAPS_MS: Final = (30_000, 60_000, 120_000, 240_000)
"""The gaps after the first soundings of a call (common practice)."""
LAST_GAP_MS: Final = 300_000
"""The gap after every later one (common practice)."""
JOIN_MS: Final = 15_000
"""A repeat comes so much early to be said together with another call, not after it."""
FORESEEN_MS: Final = 1_800_000
"""How far a wash looks ahead when nobody knows when the next one comes (common practice)."""

_RANK: Final[Mapping[Kind, int]] = MappingProxyType({"caution": 0, "end": 1, "confirm": 2})


@dataclass(frozen=True, slots=True)
class Deadline:
    """A clock that will call, or calls already.

    Attributes:
        id: Names the call. With another `due_ms` it is a new call.
        due_ms: When it falls due.
        kind: The sound it has.
        phrase: What is said; empty for the sound alone.
        harm: The order in a list: 0 is the most harmful to leave.
        clean: Answering it needs clean hands.
        spoils_ms: When what it calls for is spoilt; None if it keeps.
        answered: The printer answered it; it is silent and stays listed elsewhere.
        muted: It is silent until it is answered.
        muted_until_ms: It is silent until then; None if it is not.
        about: Its lateness is not exact, as after a restart of the machine.
        gentle: It sounds once and is not repeated; its id alone tells it from others.
    """

    id: str
    due_ms: int
    kind: Kind = "end"
    phrase: str = ""
    harm: int = 1
    clean: bool = False
    spoils_ms: int | None = None
    answered: bool = False
    muted: bool = False
    muted_until_ms: int | None = None
    about: bool = False
    gentle: bool = False

    @property
    def key(self) -> tuple[str, int]:
        """What tells this call from every other, also from itself put off to a later time."""
        return (self.id, 0 if self.gentle else self.due_ms)


@dataclass(frozen=True, slots=True)
class Plan:
    """All that may sound, and what the printer's hands are like.

    Attributes:
        deadlines: Every clock that runs or calls, in any order, each id once.
        hands: `washing` from the wash's beginning to its end. With a clean-handed
            helper in, say `clean`.
        next_wash_ms: When the next wash is expected; with `washing` the one after it.
            None if nobody can tell.
    """

    deadlines: tuple[Deadline, ...] = ()
    hands: Hands = "clean"
    next_wash_ms: int | None = None


@dataclass(frozen=True, slots=True)
class Sound:
    """One sounding.

    Attributes:
        kind: The tone; None for speech alone.
        phrase: What is said after it; may be empty.
        calls: The calls that sound, most harmful first.
        foretold: The calls that were told before they fall due.
        wanted_ms: When it should sound; the past if it was held back.
    """

    kind: Kind | None
    phrase: str = ""
    calls: tuple[tuple[str, int], ...] = ()
    foretold: tuple[tuple[str, int], ...] = ()
    wanted_ms: int = 0


@dataclass(frozen=True, slots=True)
class SoundedCalls:
    """What has sounded already.

    Attributes:
        soundings: For each call, how often it sounded and when last.
        foretold: The calls told before they fell due.
    """

    soundings: Mapping[tuple[str, int], tuple[int, int]] = field(
        default_factory=lambda: MappingProxyType({})
    )
    foretold: frozenset[tuple[str, int]] = frozenset()

    def after(self, sound: Sound, at_ms: int) -> SoundedCalls:
        """Give what has been heard once `sound` sounded at `at_ms`."""
        soundings = dict(self.soundings)
        for key in sound.calls:
            soundings[key] = (soundings.get(key, (0, 0))[0] + 1, at_ms)
        return SoundedCalls(MappingProxyType(soundings), self.foretold | set(sound.foretold))

    def kept(self, plan: Plan) -> SoundedCalls:
        """Forget what the plan no longer holds or has as answered.

        A call that comes back, because its answer was taken back, sounds at once.
        """
        live = {d.key for d in plan.deadlines if not d.answered}
        if self.soundings.keys() <= live and self.foretold <= live:
            return self
        soundings = {k: v for k, v in self.soundings.items() if k in live}
        return SoundedCalls(MappingProxyType(soundings), self.foretold & live)


NOTHING_HEARD: Final = SoundedCalls()


def next_sound(plan: Plan, boot_ms: int,
               heard: SoundedCalls = NOTHING_HEARD) -> tuple[int, Sound] | None:
    """Find what sounds next if nothing changes, and when.

    Args:
        plan: What may sound.
        boot_ms: Now; nothing is planned before it, so what was slept through comes once.
        heard: What has sounded already.

    Returns:
        The moment, not before `boot_ms`, and the sound; None if all is silent.
    """
    wanted = {d.key: t for d in plan.deadlines if (t := wanted_ms(d, plan, heard)) is not None}
    soon = _foretold(plan, boot_ms, heard)
    if not wanted:
        return (boot_ms, _told_only(soon, boot_ms)) if soon else None
    earliest = min(wanted.values())
    at = max(boot_ms, earliest)
    if soon and at > boot_ms:
        return boot_ms, _told_only(soon, boot_ms)
    together = [d for d in plan.deadlines if d.key in wanted and _joins(d, wanted[d.key], at)]
    return at, _sound(together, soon, at, earliest)


def wanted_ms(deadline: Deadline, plan: Plan, heard: SoundedCalls = NOTHING_HEARD) -> int | None:
    """Say when a call should sound next, perhaps in the past; None if it is to be silent."""
    d = deadline
    if d.answered or (d.muted and d.muted_until_ms is None) or held_back(d, plan):
        return None
    times, last = heard.soundings.get(d.key, (0, 0))
    if d.gentle and times:
        return None
    at = last + gap_ms(times) if times else d.due_ms
    return at if d.muted_until_ms is None else max(at, d.muted_until_ms)


def held_back(deadline: Deadline, plan: Plan) -> bool:
    """Whether inky hands keep a call silent: it needs clean ones, and keeps until the wash."""
    if not deadline.clean or plan.hands != "inky":
        return False
    return not _spoils_first(deadline, plan)


def _spoils_first(deadline: Deadline, plan: Plan) -> bool:
    """Whether it is spoilt before the next wash; where nobody expects one, it is."""
    if deadline.spoils_ms is None:
        return False
    return plan.next_wash_ms is None or deadline.spoils_ms < plan.next_wash_ms


def gap_ms(times: int) -> int:
    """The silence after a call has sounded so many times (1 or more), milliseconds."""
    return GAPS_MS[times - 1] if times <= len(GAPS_MS) else LAST_GAP_MS


def _joins(deadline: Deadline, wanted: int, at: int) -> bool:
    """Whether a call is said with the one that sounds at `at`: due by then, and nearly wanted."""
    unmuted = deadline.muted_until_ms is None or deadline.muted_until_ms <= at
    return deadline.due_ms <= at and unmuted and wanted <= at + JOIN_MS


def _foretold(plan: Plan, boot_ms: int, heard: SoundedCalls) -> list[Deadline]:
    """At the wash: what needs clean hands and falls due before the wash after it."""
    if plan.hands != "washing":
        return []
    until = boot_ms + FORESEEN_MS if plan.next_wash_ms is None else plan.next_wash_ms
    soon = [
        d for d in plan.deadlines
        if d.clean and not d.answered and not d.muted and d.key not in heard.foretold
        and boot_ms < d.due_ms < until
    ]  # fmt: skip
    return sorted(soon, key=lambda d: (d.due_ms, d.harm, d.id))


def _told_only(soon: list[Deadline], at: int) -> Sound:
    return Sound("confirm", _foretold_words(soon, at), (), tuple(d.key for d in soon), at)


def _foretold_words(soon: list[Deadline], at: int) -> str:
    return join_phrases([add_lead_time(d.phrase, d.due_ms - at) for d in soon if d.phrase])


def _sound(calls: list[Deadline], soon: list[Deadline], at: int, wanted: int) -> Sound:
    calls = sorted(calls, key=_harm)
    said = [add_lateness(d.phrase, at - d.due_ms, about=d.about) for d in calls if d.phrase]
    told = [d for d in soon if d.due_ms > at]
    phrase = join_phrases([*said, *([_foretold_words(told, at)] if told else [])])
    return Sound(_loudest(calls), phrase, tuple(d.key for d in calls),
                 tuple(d.key for d in told), wanted)  # fmt: skip


def _harm(deadline: Deadline) -> tuple[int, int, int, str]:
    return (deadline.harm, _RANK[deadline.kind], deadline.due_ms, deadline.id)


def _loudest(calls: Iterable[Deadline]) -> Kind:
    return min((d.kind for d in calls), key=_RANK.__getitem__)
