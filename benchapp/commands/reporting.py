"""The command `report`: what this machine is like, to be pasted into a question.

It has no title, note or name in it, and no path: what could hold one is left out.
"""

from __future__ import annotations

import getpass
import os
import platform
import re
import shutil
import sys
from contextlib import suppress
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any, Final

import benchapp
from benchapp import files
from benchapp.book import BookError, NoBook
from benchapp.book.copied import ending_of
from benchapp.book.facts import pragmas_here, pragmas_of, sqlite_version, streams_by_family
from benchapp.book.lock import is_free
from benchapp.calls.found import find_players
from benchapp.clock import SystemClock
from benchapp.commands.context import Arguments, book_path, say, say_json
from benchapp.copies.backups import backups_of
from benchapp.copies.mirrors import mirror_files, read_mirrored
from benchapp.events.moments import iso_text

_PACKAGES: Final = ("textual", "PyYAML", "platformdirs")
_PLAIN_VALUE: Final = re.compile(r"[\w.@+-]{1,40}", re.ASCII)
_SHORTEST_NAME: Final = 2
Facts = dict[str, Any]


def report_machine(arguments: Arguments) -> int:
    """Say what this machine, its disk and its terminal are like; nothing of what is in the book."""
    path = book_path(arguments).expanduser().absolute()
    found = {"versions": _versions(), "book": _book(path, arguments), "disk": _disk(path),
             "copies": _copies(path), "clocks": _clocks(), "sound": _sound(),
             "terminal": _terminal()}
    if arguments.json:
        say_json("report/1", _keyed(found))
        return 0
    say("No titles, names or paths are in this report; you can paste it anywhere.")
    for name, facts in found.items():
        say("", name, *(f"  {key}: {_words(value)}" for key, value in facts.items()))
    return 0


def _keyed(value: object) -> object:
    """The same with keys as all documents have them: small letters, no spaces."""
    if not isinstance(value, dict):
        return value
    return {key.lower().replace(" ", "_"): _keyed(x) for key, x in value.items()}


def _words(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key} {_words(x)}" for key, x in value.items()) or "none"
    if isinstance(value, list):
        return ", ".join(map(_words, value)) or "none"
    if value is None:
        return "not known"
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def _versions() -> Facts:
    return {"benchapp": benchapp.__version__, "Python": platform.python_version(),
            "SQLite": sqlite_version(), **{name: _installed(name) for name in _PACKAGES},
            "system": f"{platform.system()} {_safe(platform.release()) or ''}".rstrip(),
            "machine": platform.machine()}


def _installed(name: str) -> str | None:
    try:
        return version(name)
    except PackageNotFoundError:
        return None


def _book(path: Path, arguments: Arguments) -> Facts:
    where = "named by --book" if getattr(arguments, "book", None) else (
        "in the folder that BENCHAPP_HOME names" if os.environ.get("BENCHAPP_HOME")
        else "in the system's folder for user data")
    facts: Facts = {"where": where}
    try:
        if (end := ending_of(path)) is None:
            return {**facts, "there": "not made yet"}
        facts |= {"entries": end.row, "layout": end.layout, "bytes": end.size,
                  "streams": streams_by_family(path), "settings of the file": pragmas_of(path)}
    except NoBook:
        facts["there"] = "empty"
    except BookError as error:  # its message has the path in it
        facts["there"] = f"cannot be read ({type(error).__name__}); see: benchapp book check"
    beside = ("-wal", "-journal", "-reserve", "-lock")
    facts["beside it"] = [x for x in beside if os.path.exists(f"{path}{x}")]  # noqa: PTH110
    facts["lock"] = "free" if is_free(path) else "held by an open benchapp, or not available"
    return facts


def _disk(path: Path) -> Facts:
    # Unlike Path.is_dir() it says no where the system does not let us look.
    folder = next((x for x in path.parents if os.path.isdir(x)), Path.cwd())  # noqa: PTH112
    facts: Facts = {"file system": _safe(files.file_system(path)),
                    "in another machine": files.is_elsewhere(path),
                    "copied to other machines": files.copied_folder(path) is not None}
    with suppress(OSError):
        space = shutil.disk_usage(folder)
        facts |= {"MB free": space.free // 1_000_000, "MB in all": space.total // 1_000_000}
    facts["settings of a writer"] = (
        pragmas_here(path.parent) if folder == path.parent else "the folder is not made yet")
    return facts


def _copies(path: Path) -> Facts:
    backups = backups_of(path)
    folder = files.mirrors_folder(path)
    mirrored = read_mirrored(folder)
    in_mirror = None
    with suppress(OSError):
        in_mirror = len(mirror_files(folder))
    return {"backups": len(backups), "newest has entries": backups[-1].row if backups else None,
            "newest of": backups[-1].day if backups else None,
            "files in the text mirror": in_mirror,
            "text mirror has entries": mirrored.row if mirrored is not None else None}


def _clocks() -> Facts:
    now = SystemClock().now()
    return {"wall": iso_text(now), "seconds since the start": now.boot_ns // 10**9,
            "seconds awake": now.mono_ns // 10**9,
            "the start has a name": not now.boot_id.startswith("booted-")}


def _sound() -> Facts:
    found = find_players()
    return {"players": [x.name for x in found.players], "voices": [x.name for x in found.voices],
            "over the network": found.remote}


def _terminal() -> Facts:
    size = shutil.get_terminal_size()
    return {"input is one": sys.stdin.isatty(), "output is one": sys.stdout.isatty(),
            "columns": size.columns, "rows": size.lines,
            "encoding": _safe(sys.stdout.encoding or ""),
            **{name: _safe(said) if (said := os.environ.get(name)) else "not set" for name in (
                "TERM", "COLORTERM", "TERM_PROGRAM", "LANG", "LC_ALL", "LC_CTYPE")},
            **{f"{name} is set": bool(os.environ.get(name)) for name in (
                "NO_COLOR", "TMUX", "STY", "SSH_CONNECTION")}}


def _safe(text: str) -> str | None:
    """A short plain word of the machine; None where it could hold a name."""
    if not _PLAIN_VALUE.fullmatch(text):
        return None
    return None if any(name in text.casefold() for name in _names()) else text


def _names() -> list[str]:
    """The user's and the machine's, in small letters."""
    found = [platform.node(), Path.home().name]
    with suppress(OSError, KeyError):
        found.append(getpass.getuser())
    return [x.casefold() for x in found if len(x) >= _SHORTEST_NAME]
