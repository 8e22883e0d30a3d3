"""What may lie on a disk after a power cut: what was synced, and of the rest what chance kept."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from tests.faults.disk import Act

#: What a drive writes whole, in bytes; its cut may fall between any two.
SECTORS = (512, 4096)


@dataclass
class _File:
    """One file: what is certain of it (None: not there), and what was done to it since."""

    certain: bytes | None = None
    since: list[Act] = field(default_factory=list)

    def settle(self) -> None:
        """All of it is certain now."""
        self.certain = _applied(self.certain, self.since)
        self.since.clear()

    def settle_names(self) -> None:
        """Its last removal is certain now; what was written in a new file since is not."""
        last = max(n for n, act in enumerate(self.since) if act.what == "delete")
        self.certain, self.since = None, self.since[last + 1:]


def _is_removed(file: _File) -> bool:
    return any(act.what == "delete" for act in file.since)


def state_after(before: Mapping[str, bytes], acts: Iterable[Act],
                chance: random.Random) -> dict[str, bytes]:
    """The files as a power cut after `acts` may leave them, by path.

    Args:
        before: The files as they lay on the disk when the first act began.
        acts: What was done, up to the cut.
        chance: Which of the writes that were not synced are kept, whole or in part.
    """
    files = {path: _File(data) for path, data in before.items()}
    for act in acts:
        file = files.setdefault(act.path, _File())
        # SQLite syncs the folder with a file that is new in it; that holds for all its names.
        folder = bool(act.at) if act.what == "delete" else (
            act.what == "sync" and (file.certain is None or _is_removed(file)))
        if act.what not in ("sync", "open"):
            file.since.append(act)
        if act.what == "sync":
            file.settle()
        if folder:
            for other in files.values():
                if _is_removed(other):
                    other.settle_names()
    share = chance.choice((0.0, 0.1, 0.5, 0.9, 1.0))
    sector = chance.choice(SECTORS)
    found = {path: _applied(file.certain, _kept(file, share, sector, chance))
             for path, file in files.items()}
    return {path: data for path, data in found.items() if data is not None}


def _kept(file: _File, share: float, sector: int, chance: random.Random) -> list[Act]:
    """What of the acts since the last sync reached the disk."""
    kept: list[Act] = []
    if file.certain is None and chance.random() > share:
        return kept  # not even its name
    for act in file.since:
        if act.what == "delete":
            if chance.random() > share:
                return kept  # the old file is still there; whatever came after was another one
            kept.append(act)
        elif chance.random() < share:
            kept.append(act)
        elif act.what == "write":
            kept.extend(_torn(act, sector, share, chance))
    return kept


def _torn(act: Act, sector: int, share: float, chance: random.Random) -> list[Act]:
    """Some of a write's sectors."""
    begin, end = act.at, act.at + len(act.data)
    cuts = [begin, *range(begin - begin % sector + sector, end, sector), end]
    return [Act("write", act.path, a, act.data[a - begin:b - begin])
            for a, b in pairwise(cuts) if chance.random() < share / 2]


def _applied(data: bytes | None, acts: Iterable[Act]) -> bytes | None:
    now = None if data is None else bytearray(data)
    for act in acts:
        if act.what == "delete":
            now = None
            continue
        now = bytearray() if now is None else now
        if act.what == "write":
            now.extend(bytes(max(0, act.at - len(now))))
            now[act.at:act.at + len(act.data)] = act.data
        elif act.what == "truncate":
            del now[act.at:]
    return None if now is None else bytes(now)
