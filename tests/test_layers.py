"""Who may know whom, held by reading every import and by asking a fresh interpreter.

Decisions, numbered as in DEVELOPERS.md:

81. **The rooms are cut by what they hold, and none knows one above it.** Planning a day, what
    past days teach and what is shown had grown inside `session`; drying inside `edition`; the
    services and the reports had names that did not say what they are. Each is a room now. The
    layer test names every room and whom it may know, with no exemption, and holds that no module
    imports itself round a circle, also for a type alone. Where a card or a talk needs the app, it
    knows `screens/desk.py`, what it may ask of one. Price: a change may touch a file of three
    rooms, each smaller.
82. **One noun is one class, one verb and noun one function.** Twenty-two of a hundred classes and
    eighteen of a hundred functions shared their name with another: a search found five `Answer`
    and nine `listed`. Names say now what they are of (`StudioState`, `StackedSheet`,
    `join_words`). Stored names of events, recipe keys and fields of JSON never follow a rename.
    Price: longer names.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "benchapp"

#: Room -> the rooms it may know, from the ground up. A room always knows itself.
KNOWS: dict[str, set[str]] = {
    "": set(),
    "events": set(),
    "quantities": set(),
    "safe_text": set(),
    "decision": {"events"},
    "pictures": set(),
    "clock": {"events"},
    "files": {"safe_text"},
    "recipe": {"quantities", "safe_text"},
    "settings": {"recipe", "files", "quantities"},
    "reckon": {"quantities"},
    "edition": {"quantities", "decision", "events", "safe_text"},
    "drying": {"edition", "decision", "events", "safe_text"},
    "session": {"recipe", "edition", "drying", "reckon", "quantities", "decision", "events"},
    "stock": {"decision", "events", "safe_text", "quantities"},
    "history": {"recipe", "reckon", "session", "stock", "quantities"},
    "planning": {
        "recipe", "edition", "reckon", "session", "history", "stock", "quantities", "events",
        "safe_text",
    },
    "views": {
        "recipe", "edition", "drying", "session", "history", "planning", "quantities", "decision",
        "events",
    },
    "book": {"recipe", "edition", "drying", "session", "events", "quantities"},
    "calls": {"safe_text"},
    "service": {
        "book", "clock", "settings", "recipe", "edition", "drying", "session", "stock", "history",
        "views", "files", "pictures", "quantities", "decision", "events",
    },
    "reports": {
        "book", "recipe", "edition", "drying", "session", "stock", "history", "planning", "views",
        "reckon", "pictures", "quantities", "events", "safe_text",
    },
    "help": {"recipe", "reckon", "session", "settings", "reports"},
    "copies": {"book", "files", "clock", "service", "reports", "events"},
    "demo": {
        "book", "files", "clock", "service", "recipe", "edition", "drying", "session", "views",
        "decision", "events",
    },
    "plain": {
        "book", "files", "service", "reports", "recipe", "session", "history", "planning", "views",
        "quantities", "decision", "events", "safe_text",
    },
    "screens": {
        "book", "files", "clock", "settings", "calls", "service", "reports", "recipe", "reckon",
        "pictures", "edition", "drying", "session", "stock", "history", "planning", "views",
        "quantities", "decision", "events", "safe_text", "help",
    },
    "commands": {
        "book", "files", "clock", "settings", "calls", "service", "reports", "copies", "demo",
        "help", "plain", "screens", "recipe", "reckon", "edition", "drying", "session", "stock",
        "history", "pictures", "planning", "views", "quantities", "decision", "events", "safe_text",
    },
    "cli": {"book", "commands", "files", "calls"},
    "__main__": {"cli"},
}  # fmt: skip

PURE = ["quantities", "events", "decision", "safe_text", "pictures", "recipe", "reckon", "edition",
        "drying", "session", "stock", "history", "planning", "views"]
#: Time, chance and the machine: what a pure room gets as an argument, or not at all.
IMPURE = {
    "time", "os", "io", "random", "secrets", "uuid", "pathlib", "sqlite3", "subprocess", "socket",
    "tempfile", "shutil", "threading", "asyncio", "platformdirs", "textual", "sys", "logging",
}  # fmt: skip
#: Calls that read a clock, a file or the machine without an import that gives them away.
IMPURE_CALLS = {"open", "input", "print", "exec", "eval", "__import__"}

MODULES = sorted(PACKAGE.rglob("*.py"))
#: Lines a module may have. About 400 is meant; a file of 500 that is one idea beats three closets.
MOST_LINES = 500
MOST_FUNCTION_LINES = 60

CLOCK_READS = {
    "datetime.now", "datetime.utcnow", "datetime.today", "date.today", "time.time",
    "time.time_ns", "time.monotonic_ns", "time.clock_gettime", "time.clock_gettime_ns",
}  # fmt: skip


def room(path: Path) -> str:
    """The room a module belongs to: its first part below the package."""
    first = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    return "" if first == "__init__" else first


def ids(path: Path) -> str:
    """A module's name in reports."""
    return path.relative_to(PACKAGE).as_posix()


def within(*rooms: str) -> list[Path]:
    """All modules of these rooms."""
    return [p for p in MODULES if room(p) in rooms]


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of a module."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """Everything in that tree, walked once."""
    return tuple(ast.walk(parsed(path)))


@cache
def imported(path: Path) -> frozenset[str]:
    """Full names of all modules a module imports, also those imported late."""
    names: set[str] = set()
    for node in nodes(path):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module == "benchapp":
            names |= {f"benchapp.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add("." * node.level + (node.module or ""))
    return frozenset(names)


def tops(path: Path) -> set[str]:
    """The top-level packages a module imports."""
    return {name.split(".")[0] for name in imported(path)}


def dotted(node: ast.AST) -> str:
    """`datetime.now` for such a node; a bare name for a bare name; else nothing."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        return f"{node.value.id}.{node.attr}"
    return ""


def strangers(path: Path) -> set[str]:
    """The rooms a module imports and may not know."""
    here = room(path)
    inside = {n.split(".")[1] for n in imported(path) if n.startswith("benchapp.")}
    # The version is no room; anyone may say it.
    return inside - KNOWS.get(here, set()) - {here, "__version__"}


def test_every_room_is_in_the_table():
    """A new room says first whom it may know."""
    assert {room(p) for p in MODULES} == set(KNOWS)


def test_a_room_knows_only_the_rooms_it_may():
    """Every import inside the package is one the table of rooms allows."""
    assert {ids(p): s for p in MODULES if (s := strangers(p))} == {}


def test_no_two_rooms_know_each_other():
    """The rooms can be put one above the other: each knows only rooms below it."""
    below: set[str] = set()
    while left := [r for r in KNOWS if r not in below]:
        laid = {r for r in left if KNOWS[r] <= below}
        assert laid, f"rooms in a circle: {left}"
        below |= laid


def test_no_module_imports_itself_round_a_circle():
    """Also inside a room, and also what only a type is imported for: it can be read from below."""
    names = {".".join(p.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): p
             for p in MODULES}
    knows = {name: named(path) & set(names) - {name} for name, path in names.items()}
    read: set[str] = set()
    while left := [n for n in knows if n not in read]:
        laid = {n for n in left if knows[n] <= read}
        assert laid, f"in a circle, or above one: {sorted(left)}"
        read |= laid


def named(path: Path) -> set[str]:
    """The modules a module imports, where `from room import module` names the module."""
    found: set[str] = set()
    for node in nodes(path):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            inner = {f"{node.module}.{alias.name}" for alias in node.names}
            modules = {x for x in inner if (ROOT / f"{x.replace('.', '/')}.py").exists()}
            found |= modules | ({node.module} if len(modules) < len(inner) else set())
    return found


def test_imports_are_written_in_full():
    """No relative imports, so that a reader sees which room is meant."""
    assert [ids(p) for p in MODULES if any(n.startswith(".") for n in imported(p))] == []


def test_the_table_would_notice_a_stranger():
    """The rule bites: to the pure rooms a screen's imports would be strangers."""
    seen = {n.split(".")[1] for p in within("screens") for n in imported(p)
            if n.startswith("benchapp.")}  # fmt: skip
    assert seen - KNOWS["quantities"]


def test_a_pure_room_imports_no_clock_file_or_chance():
    """Pure rooms get time, text and ids as arguments."""
    assert {ids(p): tops(p) & IMPURE for p in within(*PURE) if tops(p) & IMPURE} == {}


def test_a_pure_room_calls_no_clock_or_file():
    """No datetime.now(), open() or print() in a pure room."""
    forbidden = IMPURE_CALLS | CLOCK_READS
    calls = {
        f"{ids(p)}:{node.lineno}: {dotted(node.func)}"
        for p in within(*PURE)
        for node in nodes(p)
        if isinstance(node, ast.Call) and dotted(node.func) in forbidden
    }
    assert calls == set()


def test_only_the_screens_know_textual():
    """Nothing outside screens imports Textual or what it is drawn with."""
    outside = [p for p in MODULES if room(p) != "screens"]
    assert [ids(p) for p in outside if tops(p) & {"textual", "rich"}] == []


def test_only_the_book_knows_sqlite():
    """The file format of the book is one room's business."""
    assert {room(p) for p in MODULES if "sqlite3" in tops(p)} <= {"book"}


def test_only_the_clock_reads_the_system_time():
    """No other module calls the system's clocks or datetime.now()."""
    reads = {
        f"{ids(p)}:{node.lineno}"
        for p in MODULES
        if room(p) != "clock"
        for node in nodes(p)
        if dotted(node) in CLOCK_READS
    }
    assert reads == set()


def test_every_module_says_what_it_is():
    """The first thing in a module is a docstring."""
    assert [ids(p) for p in MODULES if not ast.get_docstring(parsed(p))] == []


def test_modules_are_small():
    """One idea a module."""
    lines = {ids(p): len(p.read_text(encoding="utf-8").splitlines()) for p in MODULES}
    assert {name: count for name, count in lines.items() if count > MOST_LINES} == {}


def test_functions_can_be_seen_whole():
    """No function is longer than a screen."""
    long = {
        f"{ids(p)}: {node.name}": node.end_lineno - node.lineno + 1
        for p in MODULES
        for node in nodes(p)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
        and node.end_lineno - node.lineno >= MOST_FUNCTION_LINES
    }
    assert long == {}


def loaded_after(statement: str) -> set[str]:
    """Top-level names of the modules a fresh interpreter has loaded after a statement."""
    program = f"import sys\n{statement}\nsys.stderr.write(' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True,
                          check=True, cwd=ROOT, stdin=subprocess.DEVNULL)  # fmt: skip
    return {name.split(".")[0] for name in done.stderr.split()}


def importable(rooms: list[str]) -> list[str]:
    """The modules of these rooms, as import statements name them."""
    paths = [p.relative_to(ROOT).with_suffix("") for p in within(*rooms)]
    return [".".join(p.parts).removesuffix(".__init__") for p in paths]


def test_everything_below_the_screens_loads_without_textual():
    """A fresh interpreter that imported every other room has not loaded Textual."""
    below = importable([r for r in KNOWS if r not in ("", "screens", "__main__")])
    loaded = loaded_after("\n".join(f"import {name}" for name in below))
    assert "benchapp" in loaded
    assert not loaded & {"textual", "rich"}


def test_the_pure_rooms_load_without_the_machine():
    """Importing the pure rooms brings in no database, no folders and no screen."""
    loaded = loaded_after("\n".join(f"import {name}" for name in importable(PURE)))
    assert not loaded & {"sqlite3", "textual", "platformdirs", "asyncio", "subprocess"}


@pytest.mark.parametrize("words", [["--version"], ["check", "three-steps"], ["sessions", "--json"]])
def test_a_command_without_a_screen_does_not_load_textual(words):
    """Commands that only print start without the screens' weight."""
    run = (
        "from benchapp.cli import main\n"
        "try:\n"
        f"    main({words!r})\n"
        "except SystemExit:\n"
        "    pass"
    )
    assert not loaded_after(run) & {"textual", "rich"}


_BODY_READ = re.compile(r"""\bbody\[|\.body\.get\(""")


def test_fields_of_entries_are_read_as_events():
    """No room reads a body by its stored names: what is read of an event has a type."""
    reads = Counter(room(p) for p in MODULES if room(p) != "events"
                    for _ in _BODY_READ.finditer(p.read_text(encoding="utf-8")))
    assert reads == {}


def test_entries_are_drafted_as_events():
    """A body is put together by its event alone; only what is taken in comes as one."""
    bare = {p.stem for p in MODULES if re.search(r"\bDraft\(", p.read_text(encoding="utf-8"))}
    assert bare == {"entry", "merge", "checks"}
