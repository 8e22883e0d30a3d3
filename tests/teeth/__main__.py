"""Do the tests bite? Small faults are put into a room, one at a time, and tests must find them.

    python -m tests.teeth session --seed 1 --count 150
    python -m tests.teeth session --seed 1 --count 60 --own

The faults are mutmut's (pyproject's extra `teeth` installs it). A mutant is killed when a test
that runs its line fails or hangs; what `equivalent.yaml` proves to change nothing is set aside.

Small faults, drawn by the seed from all that mutmut makes of a room's functions, are put in one
at a time; a test that runs the changed statement must fail or hang. Which tests run which lines
is surveyed first; then each fault has a process of its own, the quickest tests first, at most 20
s of them, and ten examples a property: what would be found later counts as not found, so the
share is rather too low than too high. Faults that change nothing anyone could see are set aside
in `tests/teeth/equivalent.yaml`, each with why. At least 85 of 100 must be killed, with `--own`
80. The command ends with those that were not; `--only WORDS` tries some of them again, `--survey
FILE` keeps the survey.

With seed 1. Of `edition`, `reckon`, `recipe` and `book` those that lived were tried again after
tests were written for them, so these figures flatter; `session` was drawn once. By their own
tests all rooms were tried once but `planning`: there 37 of 60 were killed before its rows and its
question had tests of their own. How `book` fares in faults nobody looked at: with seed 2, 29 of
40 killed; with seed 3, once quick tests of each module were there, 48 of 58 (83 %; 2 more change
nothing). Tests for five of those ten came after that draw, so 85 of 100 is not shown for `book`
yet.

| room | killed of 150 drawn | by its own tests, of 60 drawn |
|---|---|---|
| `edition` | 132 of 150 (88 %) | 54 of 60 (90 %) |
| `reckon` | 133 of 150 (89 %) | 49 of 60 (82 %) |
| `recipe` | 140 of 145 (97 %) | 59 of 60 (98 %) |
| `session` | 135 of 149 (91 %) | 48 of 59 (81 %) |
| `book` | 133 of 135 (99 %); 110 of 150 before | |
| `planning` | | 53 of 60 (88 %) |
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from pathlib import Path

import pytest
import yaml

from tests.teeth.mutants import sample_mutants
from tests.teeth.trial import Trial

_ROOT = Path(__file__).resolve().parents[2]
_EQUIVALENT = Path(__file__).with_name("equivalent.yaml")
_ENOUGH = 0.85  # of the mutants that change anything
_ENOUGH_OWN = 0.80  # of them, by the room's own tests alone

# The quick tests that know each room: its own folder, and loose ones that speak to it.
_TESTS = {
    "recipe": ["tests/recipe", "tests/commands/test_learn.py"],
    "edition": ["tests/edition", "tests/drying", "tests/service/test_editions.py",
                "tests/service/test_laying.py", "tests/service/test_two_books.py",
                "tests/commands/test_edition_ends.py", "tests/commands/test_edition_cli.py",
                "tests/commands/test_boards_cli.py", "tests/reports/test_old_numbers.py",
                "tests/reports/test_set_against.py", "tests/reports/test_signable_papers.py",
                "tests/reports/test_whereabouts.py"],
    "reckon": ["tests/reckon", "tests/outside", "tests/commands/test_reckon_cli.py",
               "tests/quantities/test_climate.py"],
    "book": ["tests/book", "tests/copies", "tests/faults/test_damage.py",
             "tests/faults/test_forged_imports.py", "tests/commands/test_book_cli.py",
             "tests/commands/test_search.py", "tests/service/test_two_books.py",
             "tests/files/test_disks.py", "tests/commands/test_closed_streams.py"],
    "session": ["tests/session", "tests/history", "tests/planning", "tests/plain",
                "tests/service", "tests/views/test_messages.py",
                "tests/commands/test_beside_cli.py", "tests/commands/test_discard.py",
                "tests/commands/test_handing_over.py", "tests/commands/test_test_calls.py"],
    "planning": ["tests/planning", "tests/views", "tests/reports", "tests/outside",
                 "tests/commands/test_plan_cli.py"],
}


def main() -> int:
    """Try the mutants of one room; 0 when enough are killed, 1 when not."""
    about = str(__doc__).partition("\n\nSmall faults")[0]
    parser = argparse.ArgumentParser(prog="python -m tests.teeth", description=about,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("room", choices=sorted(_TESTS))
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=150)
    parser.add_argument("--own", action="store_true",
                        help="by the tests of the room's own folder alone: 80 of 100 are enough")
    parser.add_argument("--only", metavar="WORDS", action="append", default=[],
                        help="try only those drawn that are named so; may be given again")
    parser.add_argument("--survey", type=Path, metavar="FILE",
                        help="keep in FILE which tests run which lines, or take it from there")
    asked = parser.parse_args()

    os.chdir(_ROOT)
    room = _ROOT / "benchapp" / asked.room
    mutants = [one for one in sample_mutants(room, asked.seed, asked.count)
               if not asked.only or any(words in one.label for words in asked.only)]
    known = {one["mutant"] for one in yaml.safe_load(_EQUIVALENT.read_text("utf-8")) or ()}
    with tempfile.TemporaryDirectory() as folder:
        out = os.fdopen(os.dup(sys.stdout.fileno()), "w", buffering=1)
        trial = Trial(room, [one for one in mutants if one.label not in known],
                      lambda line: print(line, file=out), asked.survey or Path(folder) / "survey")
        code = pytest.main(["-q", "-n", "0", "-p", "no:cacheprovider", "-p", "no:cov",
                            *([f"tests/{asked.room}"] if asked.own else _TESTS[asked.room])],
                           plugins=[trial])
        if code not in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED):
            return 2
    return _report(trial, len(mutants), _ENOUGH_OWN if asked.own else _ENOUGH)


def _report(trial: Trial, drawn: int, enough: float) -> int:
    """Say what was killed and what was not; the exit code."""
    tried = len(trial.mutants)
    for mutant, tests in sorted(trial.survived, key=lambda one: one[0].label):
        print(f"\n{mutant.path}:{mutant.line} {mutant.function}, {tests} tests run it\n"
              f"- {mutant.was}\n+ {mutant.now}")
    share = len(trial.killed) / tried if tried else 1.0
    print(f"\n{trial.room.name}: {len(trial.killed)} of {tried} killed ({share:.1%}), "
          f"{drawn - tried} equivalent, {drawn} drawn")
    return 0 if share >= enough else 1


if __name__ == "__main__":
    sys.exit(main())
