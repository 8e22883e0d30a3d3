"""A recipe in the printer's editor: checked on return, and opened only when nothing can call."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp import files
from benchapp.recipe.reader import read_recipe
from benchapp.screens import editing
from tests.screens.days import one_day, opened, run, screens, shipped, small, workshop


def _editor(monkeypatch: pytest.MonkeyPatch, *changes: tuple[str, str]) -> list[Path]:
    """Each time the editor opens, the next change is made; gives the files it was opened on."""
    seen: list[Path] = []

    def edit(desk: object, path: Path) -> str:
        old, new = changes[len(seen)]
        seen.append(path)
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")
        return ""

    monkeypatch.setattr(editing, "open_editor", edit)
    return seen


def test_a_recipe_is_checked_on_return_until_it_is_right(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is wrong is said with its place and its mend; once right, it can be printed from."""
    shop, _, _ = one_day()
    path = files.recipes_folder() / "pear.yaml"
    files.write_new(path, small())
    seen = _editor(monkeypatch, ("copper", '""'), ('""', "zinc"))

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("On the shelf: yours")
            await here.press("right", "home", "e")
            await here.shows("pear: 1 thing to mend", "Line 3, column 29: metal is empty",
                             "mend it in the editor")
            await here.press("1")
            await here.shows("pear can be printed from")

    run(work())
    assert seen == [path, path]
    assert read_recipe(path.read_text(encoding="utf-8")).plates[0].metal == "zinc"


def test_a_wrong_recipe_may_be_left(monkeypatch: pytest.MonkeyPatch) -> None:
    """Escape leaves the file as the printer wrote it."""
    shop, _, _ = one_day()
    files.write_new(files.recipes_folder() / "pear.yaml", small())
    seen = _editor(monkeypatch, ("copper", '""'))

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("On the shelf: yours")
            await here.press("right", "home", "e")
            await here.shows("pear: 1 thing to mend")
            await here.press("escape")
            await here.shows("At the press")

    run(work())
    assert len(seen) == 1


def test_a_shipped_recipe_is_copied_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """Asked before; the shipped file stays as it is."""
    shop, _, _ = one_day()
    seen = _editor(monkeypatch, ("title:", "title: "))
    before = shipped("ferry-lamp")

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Ferry Lamp")
            await here.press("right", "home", "e")
            await here.shows("ferry-lamp is shipped with benchapp")
            assert seen == []
            await here.press("1")
            await here.shows("ferry-lamp can be printed from")

    run(work())
    assert seen == [files.recipes_folder() / "ferry-lamp.yaml"]
    assert shipped("ferry-lamp") == before


@pytest.mark.parametrize(("what", "said"), [("session", "A session is open"),
                                            ("clock", "A clock is running"),
                                            ("pack", "Paper is in the water")])
def test_no_editor_opens_while_something_may_call(
    monkeypatch: pytest.MonkeyPatch, what: str, said: str
) -> None:
    """Nothing calls while the terminal is lent, so it is not lent then."""
    shop, _ = workshop()
    seen = _editor(monkeypatch)
    if what == "session":
        opened(shop, small())
        shop.leave_bench()
    elif what == "clock":
        assert shop.start_timer("varnish", 300_000).ok
    else:
        assert shop.damp_pack(read_recipe(shipped("weigh-house")), 3).ok

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Ferry Lamp")
            await here.press("right", "home", "e")
            await here.shows(said)

    run(work())
    assert seen == []


def test_without_a_terminal_to_lend_the_file_is_named() -> None:
    """It can be opened elsewhere then."""
    shop, _, _ = one_day()
    files.write_new(files.recipes_folder() / "pear.yaml", small())

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("On the shelf: yours")
            await here.press("right", "home", "e")
            await here.shows("cannot be lent to an editor")

    run(work())
