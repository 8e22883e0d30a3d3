"""Files: looked at before they are read, written whole or not at all, found by name."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp import files
from benchapp.cli import main
from benchapp.files import AlreadyThere, FileProblem, UnknownRecipe

RECIPE = "recipe: 1\n"
POSIX = pytest.mark.skipif(os.name != "posix", reason="modes, pipes and links of POSIX")


def mode(path: Path) -> int:
    """The permissions of a file or folder."""
    return stat.S_IMODE(path.stat().st_mode)


# -- places ------------------------------------------------------------------


def test_everything_lives_in_the_home_that_is_named(home):
    """BENCHAPP_HOME holds book, recipes, preferences and state."""
    assert files.home_folder() == home
    places = [files.book_file(), files.recipes_folder(), files.preferences_file(),
              files.state_folder()]  # fmt: skip
    assert [p.parent for p in places] == [home] * 4
    assert len(set(places)) == 4


def test_without_a_name_the_systems_folder_for_user_data_is_home(monkeypatch, tmp_path):
    """No BENCHAPP_HOME, or an empty one: the platform says where user data goes."""
    import platformdirs

    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    for value in (None, ""):
        if value is None:
            monkeypatch.delenv("BENCHAPP_HOME")
        else:
            monkeypatch.setenv("BENCHAPP_HOME", value)
        assert files.home_folder() == Path(platformdirs.user_data_dir("benchapp", appauthor=False))


def test_looking_makes_nothing(home):
    """Naming places, listing and finding recipes leave an unmade home unmade."""
    files.book_file()
    assert files.own_recipes() == {}
    assert files.shipped_recipes()
    with pytest.raises(FileProblem):
        files.read_text(files.preferences_file())
    with pytest.raises(UnknownRecipe):
        files.find_recipe("nothing of the kind")
    assert not home.exists()


# -- recipes by name ---------------------------------------------------------


def test_the_shipped_recipes_are_found_by_name():
    """Every shipped recipe is a file that can be read, under its own name."""
    shipped = files.shipped_recipes()
    assert len(shipped) >= 3
    assert list(shipped) == sorted(shipped)
    for name, path in shipped.items():
        assert files.find_recipe(name) == path
        assert files.read_text(path)


def test_the_printers_own_recipe_goes_before_a_shipped_one():
    """A recipe of one's own under a shipped name is the one that is meant."""
    name = next(iter(files.shipped_recipes()))
    own = files.recipes_folder() / f"{name}.yaml"
    files.write_new(own, RECIPE)
    assert files.find_recipe(name) == own


def test_an_unknown_name_offers_the_nearest():
    """A slip in a name is answered with the names that look like it."""
    files.write_new(files.recipes_folder() / "slack-water.yaml", RECIPE)
    with pytest.raises(UnknownRecipe) as caught:
        files.find_recipe("Slak-water")
    assert caught.value.nearest == ("slack-water",)
    assert caught.value.message == (
        "no recipe is called Slak-water; did you mean slack-water?"
    )


def test_an_unknown_name_like_no_other_lists_what_there_is():
    """Where nothing looks like it, all names are said."""
    files.write_new(files.recipes_folder() / "aa.yaml", RECIPE)
    with pytest.raises(UnknownRecipe, match=r"^no recipe is called qqqq; there are .*\baa\b"):
        files.find_recipe("qqqq")


def test_a_name_with_a_slash_or_ending_is_a_path(tmp_path, monkeypatch):
    """Paths are taken as they stand, and are not looked for anywhere else."""
    path = tmp_path / "mine.yaml"
    path.write_text(RECIPE)
    monkeypatch.chdir(tmp_path)
    assert files.find_recipe("mine.yaml") == Path("mine.yaml")
    assert files.find_recipe(str(path)) == path
    assert files.find_recipe("./mine.yaml").samefile(path)
    for absent in ("no.yaml", "folder/no", "bad\0name.yaml", "x" * 5000 + ".yaml"):
        with pytest.raises(FileProblem, match=r"no such file$"):
            files.find_recipe(absent)


# -- reading -----------------------------------------------------------------


def test_a_text_is_read_as_it_is(tmp_path):
    """Line ends stay, a byte order mark goes."""
    path = tmp_path / "a.yaml"
    path.write_bytes("\ufeffcr\u00e9v\u00e9\r\nx\n".encode())
    assert files.read_text(path) == "crévé\r\nx\n"
    assert files.read_bytes(path).startswith(b"\xef\xbb\xbf")


@pytest.mark.parametrize(
    ("data", "place"), [(b"ab\xff", "line 1, byte 3"), (b"a\n\xc3\xa9\n\xc3(", "line 3, byte 1")]
)
def test_a_byte_that_is_not_utf8_is_named_by_its_place(tmp_path, data, place):
    """The line, and the byte in it, both from 1."""
    path = tmp_path / "a.yaml"
    path.write_bytes(data)
    with pytest.raises(FileProblem) as caught:
        files.read_text(path)
    assert caught.value.message == (
        f"{path}: {place} is not UTF-8; save it as UTF-8 in your editor"
    )


def test_a_file_at_the_limit_is_read_and_one_byte_more_is_not(tmp_path):
    """256 KiB is the most, and the message says so."""
    path = tmp_path / "a.yaml"
    path.write_bytes(b"#" * files.MOST_BYTES)
    assert len(files.read_bytes(path)) == 262_144
    path.write_bytes(b"#" * (files.MOST_BYTES + 1))
    with pytest.raises(FileProblem, match=r"is larger than 256 KiB; keep one print in one file$"):
        files.read_bytes(path)


@POSIX
def test_what_was_cut_off_long_ago_goes_with_the_next_writing(tmp_path):
    """A part a day older than one made now: ours by name, a file, and nothing else."""
    old, new = tmp_path / f".{'a1' * 8}.part", tmp_path / f".{'b2' * 8}.part"
    strange = [tmp_path / ".a1.part", tmp_path / f"{'a1' * 8}.part", tmp_path / "x.part"]
    for path in (old, new, *strange):
        path.write_text("half")
    link = tmp_path / f".{'c3' * 8}.part"
    link.symlink_to(strange[0])
    for path in (old, *strange):
        os.utime(path, (0, 0))
    os.utime(link, (0, 0), follow_symlinks=False)
    files.write_new(tmp_path / "recipe.yaml", "new")
    assert not old.exists()
    assert all(x.exists() for x in (new, link, *strange))


@POSIX
def test_only_a_regular_file_is_read(tmp_path):
    """A folder, a pipe, a device and a name that is not there: each refused at once."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path, message in [
        (tmp_path, "is a folder; name a file in it"),
        (pipe, "is not a regular file; name a text file"),
        (Path("/dev/zero"), "is not a regular file; name a text file"),
        (tmp_path / "none", "no such file"),
        (tmp_path / ("n" * 400), "cannot be read (File name too long)"),
        (Path("a\0b"), "cannot be read (its name has a zero byte in it)"),
    ]:
        with pytest.raises(FileProblem) as caught:
            files.read_text(path)
        assert caught.value.message.endswith(f": {message}")
        assert caught.value.message.isprintable()


# -- writing -----------------------------------------------------------------


@POSIX
def test_what_is_written_is_the_owners_alone(home):
    """Folders are made 0700 and files 0600, whatever the umask says."""
    old = os.umask(0)
    try:
        files.write_new(files.recipes_folder() / "a.yaml", RECIPE)
    finally:
        os.umask(old)
    assert [mode(p) for p in (home, home / "recipes")] == [0o700] * 2
    assert mode(home / "recipes" / "a.yaml") == 0o600


def test_a_new_file_never_takes_the_place_of_another(tmp_path):
    """What is there stays, to the byte, and nothing is left lying beside it."""
    path = tmp_path / "a.yaml"
    files.write_new(path, "first")
    with pytest.raises(AlreadyThere) as caught:
        files.write_new(path, "second")
    assert caught.value.message == f"{path}: is there already; choose another name"
    assert path.read_text() == "first"
    assert os.listdir(tmp_path) == ["a.yaml"]


@POSIX
def test_nothing_is_written_through_a_link(tmp_path):
    """A link, also one that leads nowhere, is neither followed nor replaced."""
    target, link = tmp_path / "target", tmp_path / "link"
    link.symlink_to(target)
    with pytest.raises(AlreadyThere):
        files.write_new(link, "x")
    with pytest.raises(FileProblem, match=r"is a link; name the file it points to$"):
        files.write_over(link, "x")
    assert link.is_symlink()
    assert not target.exists()


@POSIX
def test_writing_over_keeps_the_mode_and_the_text_before(tmp_path):
    """The new text stands under the same name and mode; the old one beside it on request."""
    path = tmp_path / "a.yaml"
    path.write_text("one")
    path.chmod(0o644)
    files.write_over(path, "two", keep_old=True)
    assert (path.read_text(), mode(path)) == ("two", 0o644)
    assert (tmp_path / "a.yaml.before").read_text() == "one"
    files.write_over(path, b"three")
    assert path.read_bytes() == b"three"
    assert sorted(os.listdir(tmp_path)) == ["a.yaml", "a.yaml.before"]


def test_writing_over_makes_a_file_that_was_not_there(home):
    """There need be nothing to write over."""
    files.write_over(files.preferences_file(), "theme: dark\n", keep_old=True)
    assert files.read_text(files.preferences_file()) == "theme: dark\n"
    assert os.listdir(home) == ["preferences.yaml"]


def test_a_file_in_the_way_of_a_folder_is_said(home):
    """A home that is a file is named, and left alone."""
    home.write_text("here")
    with pytest.raises(FileProblem, match=re_end(home, "cannot be made|stands where a folder")):
        files.write_new(files.recipes_folder() / "a.yaml", RECIPE)
    assert home.read_text() == "here"


def re_end(path: Path, words: str) -> str:
    """A pattern for a message that begins with a path."""
    return rf"^{str(path).replace('.', '[.]')}.*({words})"


@POSIX
def test_a_link_less_disk_still_publishes_without_overwriting(tmp_path, monkeypatch):
    """Where hard links are not to be had the name is claimed first; the rule stands."""

    def refuse(self, target):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    path = tmp_path / "a.yaml"
    files.write_new(path, "first")
    with pytest.raises(AlreadyThere):
        files.write_new(path, "second")
    assert path.read_text() == "first"
    assert os.listdir(tmp_path) == ["a.yaml"]


@POSIX
def test_a_full_disk_leaves_the_old_text_whole(tmp_path):
    """A write that fails half way says so; the file before it is untouched."""
    path = tmp_path / "a.yaml"
    path.write_text("whole")
    program = (
        "import resource, signal, sys; from pathlib import Path; from benchapp import files\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "try: files.write_over(Path(sys.argv[1]), 'x' * 9000)\n"
        "except files.FileProblem as problem: print(problem.message)\n"
    )
    done = subprocess.run([sys.executable, "-c", program, path], capture_output=True, text=True,
                          check=True, cwd=Path(__file__).parents[2])  # fmt: skip
    assert done.stdout == (f"{path}: cannot be written (File too large). "
                           "Its disk takes no file so large. Use another disk.\n")
    assert path.read_text() == "whole"
    assert os.listdir(tmp_path) == ["a.yaml"]


# -- names -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Slack Water", "slack-water"),
        ("Étude n° 3, crevé", "etude-n-3-creve"),
        ("  ../../etc/passwd ", "etc-passwd"),
        ("C:\\pipe|<x>*?", "c-pipe-x"),
        ("Straße", "strasse"),
        ("版画 二", "版画-二"),
        ("कागज़", "कागज़"),
        ("CON", "con-print"),
        ("lpt1", "lpt1-print"),
        ("COM¹", "com1-print"),
        ("console", "console"),
        ("…", "print"),
        ("", "print"),
        ("-rf", "rf"),
    ],
)
def test_a_title_becomes_a_file_name(text, name):
    """Letters and digits with single hyphens; accents, signs and device names avoided."""
    import unicodedata

    assert files.file_slug(text) == unicodedata.normalize("NFC", name)


@given(st.text(max_size=200))
def test_any_text_becomes_a_name_every_file_system_takes(text):
    """At most 80 bytes, no separators, no point or hyphen at either end, the same twice."""
    name = files.file_slug(text)
    assert 0 < len(name.encode("utf-8")) <= 80
    assert not set(name) & set("/\\:*?\"<>|. \0\n")
    assert name == name.strip("-")
    assert name.isprintable() or "\u200c" in name
    assert files.file_slug(name) == name


def test_no_recipe_is_called_as_a_device_of_windows(capsys: pytest.CaptureFixture[str]) -> None:
    """`con` would be the terminal there, whatever the file is for."""
    for name in ("con", "NUL", "com1.yaml", "aux.print"):
        assert files.is_device(name)
        assert main(["new", name]) == 2
        assert "the name of a device on Windows" in capsys.readouterr().err
    assert not files.is_device("console")
