"""Real programs that play, fail, hang or are not there; none of them costs more than itself."""

from __future__ import annotations

import ast
import os
import shutil
import signal
import sys
import threading
import wave
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("the stand-in programs are scripts with a first line", allow_module_level=True)

from benchapp.calls.found import FoundPlayers, Program, find_players, prefer_players
from benchapp.calls.pieces import Phrase, Player, Playing, Tone
from benchapp.calls.players import BellPlayer, RecordingPlayer, SilentPlayer
from benchapp.calls.process import Process
from benchapp.calls.system import SystemPlayer, system_player
from benchapp.calls.tones import make_tone
from benchapp.calls.voice import Voice
from benchapp.calls.windows import Winsound
from tests.calls.support import Hand, noting, program, real_ms, until

FAILS = "sys.exit(3)"
HANGS = "time.sleep(60)"
PLAYS = "pass"
#: Writes a WAV of its input's length to the file named last, as a rendering voice does.
RENDERS = """
import wave
with wave.open(sys.argv[-1], 'wb') as w:
    w.setparams((1, 2, 8000, 0, 'NONE', ''))
    w.writeframes(b'\\0\\1' * len(sys.stdin.buffer.read()))
"""


@pytest.fixture
def bell() -> RecordingPlayer:
    """What is left when no program played."""
    return RecordingPlayer(lambda: 0)


def player(found: FoundPlayers, folder: Path, last: Player, boot_ms=real_ms) -> SystemPlayer:
    """The player under test, loud."""
    return SystemPlayer(found, "loud", folder / "sounds", last, boot_ms)


def heard(playing: Playing) -> bool:
    """Whether a piece comes to its end."""
    return until(playing.over)


def calls(log: Path) -> list[tuple[list[str], str]]:
    """What a noting program was called with."""
    return [ast.literal_eval(line) for line in log.read_text().splitlines()] if log.exists() else []


def test_a_tone_is_played_from_a_file(tmp_path, bell):
    """The first program gets the path of the very WAV, and the bell stays quiet."""
    plays, log = noting(tmp_path)
    assert heard(player(FoundPlayers((plays,)), tmp_path, bell).start(Tone("end")))
    (path,), text = calls(log)[0]
    assert Path(path).read_bytes() == make_tone("end", "loud")
    assert text == ""
    assert bell.played == []


@pytest.mark.parametrize("code", [FAILS, "import os; os.kill(os.getpid(), 9)"])
def test_a_player_that_fails_is_noticed_once_and_the_next_one_plays(tmp_path, bell, code):
    """Within the same sound; and it is left alone for a while."""
    bad = program(tmp_path, "bad", code)
    plays, log = noting(tmp_path)
    system = player(FoundPlayers((bad, plays)), tmp_path, bell)
    for _ in range(3):
        assert heard(system.start(Tone("end")))
    assert len(calls(log)) == 3
    troubles = system.troubles()
    assert [(t.what, t.why) for t in troubles] == [("bad", "failed")]
    assert "bad made no sound" in troubles[0].text
    assert system.troubles() == ()


def test_a_player_that_failed_is_tried_again_later(tmp_path, bell):
    """A sound system that came back is used again; its trouble is not told twice."""
    mark = tmp_path / "well"
    moody = program(tmp_path, "moody", f"import os; sys.exit(not os.path.exists({str(mark)!r}))")
    system = player(FoundPlayers((moody,)), tmp_path, bell)
    assert heard(system.start(Tone("end")))
    mark.touch()
    for _ in range(9):
        assert heard(system.start(Tone("end")))
    assert len(bell.played) == 9
    assert [t.what for t in system.troubles()] == ["moody"]


def test_a_player_that_hangs_is_ended_at_its_deadline(tmp_path, bell):
    """Killed with all it started, said once, and the bell rings instead."""
    clock, pid = Hand(), tmp_path / "pid"
    hangs = program(tmp_path, "hangs", f"import os; open({str(pid)!r}, 'w').write(str(os.getpid()))"
                                       f"\n{HANGS}")  # fmt: skip
    system = player(FoundPlayers((hangs,)), tmp_path, bell, clock)
    playing = system.start(Tone("end"))
    assert until(lambda: pid.exists() and pid.read_text())
    clock.ms = 4_000
    assert not playing.over()
    clock.ms = 5_000
    assert playing.over()
    assert [(t.what, t.why) for t in system.troubles()] == [("hangs", "hung")]
    assert bell.tones == [(0, "end")]
    with pytest.raises(ProcessLookupError):
        os.kill(int(pid.read_text()), 0)


def test_a_player_that_is_gone_is_noticed(tmp_path, bell):
    """Taken off the machine since it was found: the bell rings, and the reason is said."""
    gone = Program("gone", (str(tmp_path / "gone"),))
    system = player(FoundPlayers((gone,)), tmp_path, bell)
    assert heard(system.start(Tone("caution")))
    (trouble,) = system.troubles()
    assert "No such file" in trouble.text
    assert bell.tones == [(0, "caution")]


def test_nothing_found_leaves_the_bell(tmp_path, bell):
    """No trouble: it was said when the machine was looked at."""
    system = player(FoundPlayers(), tmp_path, bell)
    assert heard(system.start(Tone("end")))
    assert heard(system.start(Phrase("Etch is over")))
    assert bell.tones == [(0, "end")]
    assert system.troubles() == ()


def test_a_folder_that_cannot_be_written_costs_nothing(tmp_path, bell):
    """A temporary one stands in."""
    (tmp_path / "sounds").write_text("a file is in the way")
    plays, log = noting(tmp_path)
    assert heard(player(FoundPlayers((plays,)), tmp_path, bell).start(Tone("end")))
    assert len(calls(log)) == 1


def test_a_sound_file_taken_away_is_made_again(tmp_path, bell):
    """Somebody tidied the folder in the middle of the day."""
    plays, log = noting(tmp_path)
    system = player(FoundPlayers((plays,)), tmp_path, bell)
    shutil.rmtree(tmp_path / "sounds")
    assert heard(system.start(Tone("end")))
    assert bell.tones == [(0, "end")]
    (tmp_path / "sounds").mkdir()
    assert heard(system.start(Tone("end")))
    assert len(calls(log)) == 1


def test_sound_off_starts_nothing(tmp_path, bell):
    """The choice `off` needs no program, no folder and no bell."""
    plays, log = noting(tmp_path)
    silent = system_player(FoundPlayers((plays,)), None, tmp_path / "none", bell, real_ms)
    assert isinstance(silent, SilentPlayer)
    assert silent.start(Tone("end")).over()
    assert (calls(log), bell.played, (tmp_path / "none").exists()) == ([], [], False)


# -- speech ---------------------------------------------------------------------------------

SHELLISH = "$(touch owned); `touch owned` | touch owned && touch owned > owned -h --help 'x\" %s"


@pytest.mark.parametrize("takes", ["stdin", "argument"])
def test_a_phrase_reaches_a_voice_as_it_is(tmp_path, bell, takes, monkeypatch):
    """Whatever stands in it: on its input, or as one argument after `--`; no shell reads it."""
    monkeypatch.chdir(tmp_path)
    voice, log = noting(tmp_path, "voice", takes=takes)
    if takes == "argument":
        voice = Program("voice", (*voice.argv, "--"), "argument")
    system = player(FoundPlayers((), (voice,)), tmp_path, bell)
    assert heard(system.start(Phrase(SHELLISH)))
    expected = (["--", SHELLISH], "") if takes == "argument" else ([], SHELLISH + "\n")
    assert calls(log) == [expected]
    assert not (tmp_path / "owned").exists()


def test_no_shell_is_ever_asked_for():
    """Nowhere in the room is there a word that starts one."""
    room = Path(sys.modules[SystemPlayer.__module__].__file__ or "").parent
    texts = {p.name: p.read_text(encoding="utf-8") for p in room.glob("*.py")}
    assert len(texts) > 10
    assert [n for n, t in texts.items() if "shell=" in t or "os.system" in t or "popen(" in t] == []


@pytest.mark.parametrize("text", ["\x1b]0;x\x07", "a\nb", "\x9b31m", "\u202ex", ""])
def test_a_text_with_control_characters_is_not_said(tmp_path, bell, text):
    """No program starts; it is said on screen why."""
    voice, log = noting(tmp_path, "voice", takes="stdin")
    system = player(FoundPlayers((), (voice,)), tmp_path, bell)
    assert heard(system.start(Phrase(text)))
    assert [t.why for t in system.troubles()] == ["refused"]
    assert calls(log) == []


def test_a_phrase_is_rendered_once_and_then_played(tmp_path, bell):
    """The voice writes a WAV, the player plays it; the second time the file is there."""
    plays, played = noting(tmp_path)
    voice, log = noting(tmp_path, "voice", takes="stdin", renders=("-w",))
    renders = program(tmp_path, "renders", f"open({str(log)!r}, 'a').write('1\\n')\n{RENDERS}",
                      takes="stdin", renders=("-w",))  # fmt: skip
    assert voice.renders == renders.renders
    system = player(FoundPlayers((plays,), (renders,)), tmp_path, bell)
    for _ in range(2):
        assert heard(system.start(Phrase("Etch is over")))
    files = [args[0] for args, _ in calls(played)]
    assert len(files) == 2
    assert len(set(files)) == 1
    assert Path(files[0]).name.startswith("say-")
    assert log.read_text() == "1\n"


def test_phrases_are_rendered_when_the_day_begins(tmp_path, bell):
    """In the background, each once, what can't be said left out; then nothing renders any more."""
    plays, played = noting(tmp_path)
    renders = program(tmp_path, "renders", RENDERS, takes="stdin", renders=("-w",))
    system = player(FoundPlayers((plays,), (renders,)), tmp_path, bell)
    system.prepare(["Lift", "Wash", "Lift", "bad\x1b", ""])
    folder = tmp_path / "sounds"
    assert until(lambda: len(list(folder.glob("say-*.wav"))) == 2)
    Path(renders.argv[0]).unlink()
    assert heard(system.start(Phrase("Wash")))
    assert len(calls(played)) == 1
    assert system.troubles() == ()


@pytest.mark.parametrize(("code", "why"), [(FAILS, "failed"), (PLAYS, "failed")])
def test_a_voice_that_renders_nothing_is_passed_by(tmp_path, bell, code, why):
    """It fails, or ends well without a file: the next voice speaks, and it is said once."""
    plays, _ = noting(tmp_path)
    bad = program(tmp_path, "bad", code, takes="stdin", renders=("-w",))
    voice, log = noting(tmp_path, "voice", takes="stdin")
    system = player(FoundPlayers((plays,), (bad, voice)), tmp_path, bell)
    for _ in range(2):
        assert heard(system.start(Phrase("Etch is over")))
    assert [text for _, text in calls(log)] == ["Etch is over\n"] * 2
    assert [(t.what, t.why) for t in system.troubles()] == [("bad", why)]
    assert list((tmp_path / "sounds").glob("*.part")) == []


def test_stopping_a_phrase_ends_its_program(tmp_path, bell):
    """An answer cuts the words; a program cut by us is no trouble."""
    voice = program(tmp_path, "voice", HANGS, takes="stdin")
    system = player(FoundPlayers((), (voice,)), tmp_path, bell)
    playing = system.start(Phrase("Etch is over"))
    assert not playing.over()
    playing.stop()
    assert playing.over()
    assert system.troubles() == ()


ESPEAK = shutil.which("espeak-ng")


@pytest.mark.skipif(ESPEAK is None, reason="espeak-ng is not installed")
def test_espeak_writes_a_phrase_to_a_file(tmp_path):
    """The real voice: a WAV with as much sound as the words take, loud clearly above soft."""
    voice = next(v for v in find_players("linux", {}).voices if v.name == "espeak-ng")
    peaks = []
    for level in ("loud", "soft"):
        speaks = Voice(voice, tmp_path, real_ms, level)
        speaks.prepare(["Sheets out of the water, 4 minutes late"]).join(20)
        file = speaks.file("Sheets out of the water, 4 minutes late")
        assert file is not None
        with wave.open(str(file)) as wav:
            assert 1.5 < wav.getnframes() / wav.getframerate() < 6
            raw = wav.readframes(wav.getnframes())
        peaks.append(max(abs(x) for x in memoryview(raw).cast("h")))
    assert peaks[0] > 2 * peaks[1] > 0


# -- programs and the bell --------------------------------------------------------------------


def test_a_program_gets_no_terminal_and_its_own_session(tmp_path):
    """No key reaches it, and nothing it writes lands on the screen."""
    log = tmp_path / "log"
    asks = program(tmp_path, "asks", "import os\n"
                   f"open({str(log)!r}, 'w').write(repr((os.getsid(0) == os.getpid(), "
                   "[os.isatty(n) for n in range(3)])))")  # fmt: skip
    process = Process(asks.argv, real_ms, 10_000)
    assert until(process.over)
    assert ast.literal_eval(log.read_text()) == (True, [False, False, False])


def test_what_a_program_started_is_ended_with_it(tmp_path):
    """A player's own helper does not play on."""
    pid = tmp_path / "pid"
    code = (f"import subprocess; p = subprocess.Popen([sys.executable, '-c', {HANGS!r}.join("
            f"['import time;', ''])]); open({str(pid)!r}, 'w').write(str(p.pid)); {HANGS}")
    process = Process(program(tmp_path, "parent", code).argv, real_ms, 60_000)
    assert until(lambda: pid.exists() and pid.read_text())
    process.stop()
    assert process.ended == "stopped"
    assert until(lambda: not _runs(int(pid.read_text())))


def _runs(pid: int) -> bool:
    try:
        os.kill(pid, 0)
        state = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except (ProcessLookupError, FileNotFoundError):
        return False
    return state != "Z"


def test_the_bell_is_told_apart_by_how_often_it_rings():
    """Once, three times, six times; it says no words."""
    rung = {}
    for kind in ("confirm", "end", "caution"):
        did: list[object] = []
        bell = BellPlayer(did.append, lambda stop, seconds, did=did: did.append(seconds) or False)
        assert bell.start(Phrase("Etch is over")).over()
        assert heard(bell.start(Tone(kind)))
        rung[kind] = (did.count("\a"), max([d for d in did if d != "\a"], default=0))
    assert [times for times, _ in rung.values()] == [1, 3, 6]
    assert 0 < rung["caution"][1] < 0.5 < rung["end"][1] < 1


def test_a_bell_that_is_answered_rings_no_further():
    """The stroke under way is the last."""
    written: list[str] = []
    bell = BellPlayer(written.append, lambda stop, seconds: stop.wait(20))
    ringing = bell.start(Tone("caution"))
    assert until(lambda: written)
    ringing.stop()
    assert heard(ringing)
    assert written == ["\a"]


def test_a_terminal_that_stopped_reading_holds_nobody_up():
    """The bell hangs in its own thread; the next one does not wait, and it is said once."""
    stalled = threading.Event()
    bell = BellPlayer(lambda text: stalled.wait(30))
    first = bell.start(Tone("confirm"))
    assert not first.over()
    assert bell.start(Tone("end")).over()
    assert bell.start(Tone("end")).over()
    assert [t.why for t in bell.troubles()] == ["hung"]
    assert bell.troubles() == ()
    stalled.set()
    assert heard(first)


def test_a_terminal_that_is_gone_is_told_of():
    """An error from the terminal is a trouble, not an end."""

    def gone(text: str) -> None:
        raise OSError("gone")

    bell = BellPlayer(gone)
    assert heard(bell.start(Tone("end")))
    assert [t.what for t in bell.troubles()] == ["the bell"]


# -- looking at the machine -----------------------------------------------------------------


def test_what_a_system_has_is_found_in_order():
    """Players and voices as listed, by their full paths."""

    def which(name: str) -> str | None:
        return f"/bin/{name}" if name not in ("paplay", "espeak") else None

    linux = find_players("linux", {}, which)
    assert [p.name for p in linux.players] == ["pw-play", "aplay"]
    assert [v.name for v in linux.voices] == ["espeak-ng", "spd-say"]
    assert linux.voices[1].argv == ("/bin/spd-say", "--wait", "--")
    assert [p.name for p in find_players("darwin", {}, which).players] == ["afplay"]
    assert [v.name for v in find_players("darwin", {}, which).voices] == ["say"]
    assert [p.name for p in find_players("win32", {}, which).players] == ["winsound"]
    assert find_players("linux", {}, lambda name: None) == FoundPlayers()
    assert "no player" in find_players("linux", {}, lambda name: None).words()


def test_over_the_network_only_the_bell_reaches():
    """A player there would sound where nobody is."""
    found = find_players("linux", {"SSH_CONNECTION": "a 1 b 2"}, lambda name: f"/bin/{name}")
    assert (found.players, found.voices, found.remote) == ((), (), True)
    assert "only the terminal's bell" in found.words()


def test_windows_own_call_is_one_way_among_others(tmp_path):
    """Over after the WAV's own length; a refusal is a failure like a program's."""
    clock, begun = Hand(), []
    path = tmp_path / "end.wav"
    path.write_bytes(make_tone("end", "loud"))
    sounding = Winsound(path, clock, begun.append, lambda: begun.append("quiet"))
    clock.ms = 1_000
    assert not sounding.over()
    sounding.stop()
    assert begun == [str(path), "quiet"]

    def refuses(name: str) -> None:
        raise RuntimeError("no device")

    bad = Winsound(path, clock, refuses)
    assert (bad.over(), bad.ended, bad.said) == (True, "failed", "no device")


def test_signals_are_named_when_a_program_died(tmp_path):
    """For whoever looks into it."""
    process = Process(program(tmp_path, "dies", "import os; os.kill(os.getpid(), 11)").argv,
                      real_ms, 10_000)  # fmt: skip
    assert until(process.over)
    assert process.said == f"it was ended by signal {signal.SIGSEGV.value}"


def test_the_printers_choice_comes_first():
    """A player by its name, the bell alone, no voice; one that is not there changes nothing."""
    found = find_players("linux", {}, lambda name: f"/usr/bin/{name}")
    assert [p.name
            for p in prefer_players(found, "aplay").players] == ["aplay", "pw-play", "paplay"]
    assert prefer_players(found, "bell").players == ()
    assert prefer_players(found, "gone") == found
    assert prefer_players(found, None, speech=False).voices == ()
    assert prefer_players(found, None) == found
