"""The hold on the screen: known to stand, said if it does not, gone with us whatever happens."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("the stand-in programs are scripts with a first line", allow_module_level=True)

from benchapp.calls.awake import ANSWER_MS, AwakeHold, HeldByWindows, keep_awake
from tests.calls.support import Hand, program, real_ms, until

ROOT = Path(__file__).parents[2]
#: Runs the command it is given and holds as long, as the systems' own programs do.
HOLDS = "import subprocess; sys.exit(subprocess.call(sys.argv[sys.argv.index('--') + 1:]))"


def holder(folder: Path, code: str = HOLDS) -> tuple[str, ...]:
    """A hold by a program of ours."""
    return (*program(folder, "holder", code).argv, "--", shutil.which("cat") or "cat")


def test_a_hold_is_asked_then_held_then_let_go(tmp_path):
    """It stands once the command under it runs, and the program ends when we let go."""
    awake = AwakeHold(holder(tmp_path), real_ms)
    assert until(lambda: awake.state() == "held")
    assert awake.trouble() is None
    awake.let_go()
    assert awake.state() == "let go"
    awake.let_go()


@pytest.mark.parametrize("code", ["sys.exit(1)", "raise SystemExit(0)"])
def test_a_hold_that_ends_by_itself_is_said(tmp_path, code):
    """Refused, or ended as if all were well: the screen may go dark, and the printer knows."""
    awake = AwakeHold(holder(tmp_path, code), real_ms)
    assert until(lambda: awake.state() == "failed")
    trouble = awake.trouble()
    assert trouble is not None
    assert trouble.text == (f"benchapp could not keep the screen awake (code {int('1' in code)}). "
                            "Set it to stay on while you print.")


def test_a_hold_that_does_not_answer_is_given_up(tmp_path):
    """A system that hangs is asked no longer than five seconds."""
    clock = Hand()
    awake = AwakeHold(holder(tmp_path, "time.sleep(60)"), clock)
    assert awake.state() == "asked"
    clock.ms = ANSWER_MS
    assert awake.state() == "failed"
    assert "did not answer" in str(awake.trouble())


def test_a_program_that_is_not_there_is_said(tmp_path):
    """Nothing to ask: the name of what is missing stands in the trouble."""
    assert "No such file" in str(AwakeHold((str(tmp_path / "none"),), real_ms).trouble())
    awake = keep_awake(real_ms, "linux", {}, lambda name: None)
    assert "systemd-inhibit is not installed" in str(awake.trouble())
    awake.let_go()


def test_over_the_network_nothing_is_held():
    """The screen that would go dark is another machine's."""
    awake = keep_awake(real_ms, "linux", {"SSH_TTY": "/dev/pts/1"}, lambda name: f"/bin/{name}")
    assert awake.state() == "failed"
    assert "another machine" in str(awake.trouble())


def test_each_system_is_asked_in_its_own_way(tmp_path):
    """The arguments as the programs' manuals have them."""
    log = tmp_path / "log"
    asked = program(tmp_path, "asked", f"open({str(log)!r}, 'w').write(' '.join(sys.argv[1:]))")
    said = {}
    for platform in ("linux", "darwin"):
        awake = keep_awake(real_ms, platform, {}, lambda name: asked.argv[0])
        assert until(lambda held=awake: held.state() == "failed")
        said[platform] = log.read_text()
    assert said["linux"].startswith("--what=idle:sleep --mode=block")
    assert said["darwin"].startswith("-d -i ")


def test_the_hold_ends_when_we_are_killed(tmp_path):
    """kill -9 closes the pipe: holder and command are gone within a moment."""
    code = (
        "import sys, time\n"
        "from benchapp.calls.awake import AwakeHold\n"
        "awake = AwakeHold(tuple(sys.argv[1:]), lambda: time.monotonic_ns() // 10**6)\n"
        "while awake.state() != 'held': time.sleep(0.01)\n"
        "print(awake._process.pid, flush=True)\n"
        "time.sleep(60)\n"
    )
    us = subprocess.Popen([sys.executable, "-c", code, *holder(tmp_path)], cwd=ROOT,
                          stdout=subprocess.PIPE, text=True)  # fmt: skip
    held = int(us.stdout.readline())
    os.kill(us.pid, signal.SIGKILL)
    us.communicate()
    assert until(lambda: not _runs(held))


def _runs(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def test_windows_own_call_gets_its_flags():
    """ES_CONTINUOUS with system and display required, then ES_CONTINUOUS alone (winbase.h)."""
    flags: list[int] = []
    awake = HeldByWindows(lambda f: flags.append(f) or 1)
    assert awake.state() == "held"
    awake.let_go()
    awake.let_go()
    assert flags == [0x80000003, 0x80000000]
    assert HeldByWindows(lambda f: 0).trouble() is not None
