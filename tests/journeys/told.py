"""An export told line by line, each with its minute: what a script of the day is held against.

Every entry gives a line, but for the start of a piece of work: its minute is told with its end, and
what began and never ended is told at the end of all.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from benchapp.events.entry import Entry
from benchapp.events.moments import local_time
from benchapp.events.streams import stream_family
from benchapp.session.names import session_id, shape_of

Work = tuple[str, str, Any, Any, int]


def minute(entry: Entry) -> str:
    """Its minute on the wall: `10:02`."""
    return f"{local_time(entry.at):%H:%M}"


@dataclass
class Telling:
    """The export so far: names of sessions, sheets and packs, and the work begun and not ended."""

    lines: list[str] = field(default_factory=list)
    letters: dict[str, str] = field(default_factory=dict)
    recipes: dict[str, str] = field(default_factory=dict)
    marks: dict[tuple[str, int], str] = field(default_factory=dict)
    packs: list[str] = field(default_factory=list)
    begun: dict[Work, str] = field(default_factory=dict)
    over: dict[tuple[str, str], str] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    did: dict[str, list[tuple[Work, str | None]]] = field(default_factory=dict)

    def take(self, e: Entry) -> None:
        """Tell one entry."""
        self.words[e.action] = e.word
        who = stream_family(e.stream)
        if who == "session":
            sid = session_id(e.stream)
            if e.kind == "opened":
                self.letters[sid] = e.body["letters"]
                self.recipes[sid] = e.body["recipe_text"]
            words = self._session(sid, e)
            who = self.letters[sid]
        else:
            words = self._other(e)
        if words:
            self.lines.append(f"{minute(e)} {who} {words}")

    def finish(self) -> list[str]:
        """All lines, and a last one for each piece of work that never ended."""
        return self.lines + [f"     {self.letters[w[0]]} never ended: {self._work(w)} since {since}"
                             for w, since in self.begun.items()]

    # -- names ----------------------------------------------------------------------------

    def _pack(self, pack: str | None) -> str:
        if pack is None:
            return "no pack"
        if pack not in self.packs:
            self.packs.append(pack)
        return f"P{self.packs.index(pack) + 1}"

    def _step(self, sid: str, step: str) -> str:
        if step in self.over:
            return self.over[step, sid]
        found = shape_of(self.recipes[sid]).by_id.get(step)
        return self.over.get((step, sid), step) if found is None else found.do

    def _work(self, work: Work) -> str:
        sid, step, sheet, pack, attempt = work
        return " ".join(x for x in (
            self._step(sid, step), "" if sheet is None else f"#{sheet}",
            "" if pack is None else self._pack(pack),
            "" if attempt == 1 else f"again {attempt}") if x)

    def _sheet(self, sid: str, ordinal: int | None) -> str:
        return "the day" if ordinal is None else self.marks.get((sid, ordinal), f"#{ordinal}")

    # -- one entry ------------------------------------------------------------------------

    def _session(self, sid: str, e: Entry) -> str:
        b = e.body
        if "attempt" in b:
            return self._of_work(sid, e)
        sheet = self._sheet(sid, b["impression"]) if "impression" in b else ""
        match e.kind:
            case "opened":
                return f"opened {b['print']}, wanted {b['wanted']}"
            case "continued":
                return "continued"
            case "pulled":
                self.marks[sid, b["impression"]] = b["mark"]
                state = "" if b["state"] is None else f" {b['state']}"
                return (f"pulled #{b['impression']} {b['mark']} {'+'.join(b['plates'])} "
                        f"{b['for']}{state} ({b['for_by']})"
                        + ("" if b["at_press"] else " not at the press"))
            case "impression begun":
                return f"begun {sheet}" + (" as a ghost" if b["ghost"] else "")
            case "sheet taken":
                return f"sheet of {self._pack(b['pack'])} for {sheet}" + (
                    f" damp: {b['damp']}" if "damp" in b else "")
            case "step taken over":
                self.over[f"{b['owner']} {b['step']}", sid] = b["do"]
                return f"takes over {b['do']}"
            case "step left":
                return f"left {self._step(sid, b['step'])} to {self.letters[b['to']]}"
            case "must answered":
                whose = "" if b["owner"] == sid else f" of {self.letters[b['owner']]}"
                return f"{self._step(b['owner'], b['step'])}{whose}: {b['fact']}"
            case "reworked":
                return f"reworked {b['plate']} {b['state']}: {b['what']}"
            case "skip said":
                return f"to skip {self._step(sid, b['step'])} {sheet}: {b['why']}"
            case "leave said":
                return f"to leave {self._step(sid, b['step'])} to {self.letters.get(b['to'])}"
            case "setting changed":
                return f"set {b['name']}: {b['value']}"
            case "setting found":
                return f"found at {sheet} {b['name']}: {b['value']}"
            case "judged" | "noted" | "tagged" | "untagged" | "read" | "for said":
                said = b.get("verdict", b.get("text", b.get("tag", b.get("for"))))
                if e.kind == "read":
                    said = f"{b['name']} {b['value']} {b['unit']}"
                if e.kind == "for said" and b["state"] is not None:
                    said = f"{said} {b['state']}"
                return f"{e.kind} {sheet}: {said}"
            case "impression ended":
                return f"ended {sheet}: {b['how']}" + (
                    f", sheet {b['sheet']}" if "sheet" in b else "")
            case "taken back":
                self._undo(b["action"])
                return f"taken back: {self.words[b['action']]}"
            case "due" | "called" | "answered":
                return f"{e.kind}: {self._call(sid, b['call'])}"
            case _:
                about = {k: v for k, v in b.items() if k != "impression" and v is not None}
                return " ".join(x for x in (
                    e.kind, sheet, ", ".join(f"{v}" for v in about.values())) if x)

    def _of_work(self, sid: str, e: Entry) -> str:
        b = e.body
        work = sid, b["step"], b["impression"], b["pack"], b["attempt"]
        if e.kind == "step started":
            assert work not in self.begun, work
            self.begun[work] = minute(e)
            self.did.setdefault(e.action, []).append((work, None))
            return ""
        what, since = self._work(work), None
        if e.kind in ("step finished", "step put off") and work in self.begun:
            since = self.begun.pop(work)
            self.did.setdefault(e.action, []).append((work, since))
        of = "" if since is None else f" since {since}"
        if e.kind != "step finished":
            return f"{e.kind.removeprefix('step ')} {what}{of}"
        how = "" if b["how"] == "done" else f" {b['how']}"
        why = f": {b['why']}" if b["why"] else ""
        return f"{what}{of}{how}{why}" + ("" if b["taken"] else " no time")

    def _undo(self, action: str) -> None:
        """Work that the action began was not begun, and what it ended goes on since it began."""
        for work, since in reversed(self.did.pop(action, [])):
            if since is None:
                self.begun.pop(work, None)
            else:
                self.begun[work] = since

    def _call(self, sid: str, call: str) -> str:
        name, _, rest = call.partition(" ")
        if name in ("step", "within"):
            step, *sheet = (call if name == "step" else rest).removeprefix("step ").split()
            return " ".join((*(["limit of"] if name == "within" else []),
                             self._step(sid, step), *(f"#{x}" for x in sheet)))
        return f"soak {self._pack(rest)}" if name == "soak" else call

    def _other(self, e: Entry) -> str:
        b = e.body
        if e.kind == "taken back":
            return f"taken back: {self.words[b['action']]}"
        if stream_family(e.stream) == "stack":
            return f"{e.kind} {b.get('mark') or b.get('name') or dict(b)}"
        if stream_family(e.stream) != "pack":
            return f"{e.kind} {dict(b)}"
        pack = self._pack(b["pack"])
        match e.kind:
            case "put in":
                return f"{pack} put in: {b['sheets']}"
            case "sheet out" | "sheet back":
                return f"{pack} {e.kind} for #{b.get('impression')}"
            case "put away":
                return f"{pack} put away: {b['how']}"
            case _:
                return f"{pack} {e.kind}"


def told(entries: Iterable[Entry]) -> list[str]:
    """All entries, line by line."""
    telling = Telling()
    for entry in entries:
        telling.take(entry)
    return telling.finish()
