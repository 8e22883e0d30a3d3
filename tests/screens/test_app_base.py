"""What every app of ours promises: plain text, readable colours, no stray way out."""

from __future__ import annotations

import asyncio

import pytest
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.geometry import Size
from textual.widgets import Button, Input, Label, OptionList

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.app_base import Base
from benchapp.screens.theme import colour_arguments
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.plain_text import Line, Para
from tests.screens.contrast import LEAST, contrast
from tests.screens.support import colour_pairs, screen_text, until

HOSTILE = "[/b] [@click=app.quit]out[/] \x1b]52;c;QUJD\x07 \u202eback [red]"
SEEN = "[/b] [@click=app.quit]out[/] ␛]52;c;QUJD␇ \ufffdback [red]"


class Sample(Base[None]):
    """One of everything that shows text."""

    CSS = """
    #inky { background: $inky; color: $inky-text; height: auto; }
    #clean { background: $clean; color: $clean-text; height: auto; }
    #call { background: $call; color: $call-text; }
    #quiet { color: $quiet; }
    #fault { color: $fault; }
    #count { color: $count; }
    """
    stay: SafeText | None = None

    def compose(self) -> ComposeResult:
        """Both sides, our widgets and the framework's."""
        with Vertical(id="inky"):
            yield Line(sanitize(HOSTILE), id="line")
            yield Numerals("12:05", id="count")
        with Vertical(id="clean"):
            yield Para(sanitize("one\ntwo " + HOSTILE, newlines=True), id="para")
            yield Line(sanitize("quiet"), id="quiet")
            yield Line(sanitize("fault"), id="fault")
        yield Line(sanitize("call"), id="call")
        yield Input(placeholder="a note")
        yield Button(Content("Go on"))
        yield Button(Content("Spoiled"), variant="error", disabled=True)
        yield OptionList(Content("salty"), Content("set-off"))
        yield Label(Content("end"))

    def why_stay(self) -> SafeText | None:
        """As the test wants it."""
        return self.stay


def test_a_row_that_comes_before_a_text_is_mounted_is_shown() -> None:
    """The framework keeps the height it measured first until the widget is mounted."""

    async def run() -> None:
        app = Sample()
        async with app.run_test(size=(100, 40)) as pilot:
            para = Para(SafeText("one row"))
            mounted = app.screen.mount(para, before=0)
            assert para.get_content_height(Size(100, 40), Size(100, 40), 100) == 1
            para.set(SafeText("one row\nand a second"))
            await mounted
            await until(pilot, lambda: "and a second" in screen_text(app))

    asyncio.run(run())


def test_text_from_people_is_shown_letter_by_letter() -> None:
    """Markup, escapes and direction marks in data neither act nor vanish."""

    async def run() -> None:
        app = Sample()
        async with app.run_test(size=(100, 40), notifications=True) as pilot:
            await until(pilot, lambda: "end" in screen_text(app))
            text = screen_text(app)
            assert text.splitlines()[0] == SEEN
            assert f"two {SEEN}" in text
            app.notify(sanitize(HOSTILE), title=sanitize(HOSTILE), markup=True)
            await until(pilot, lambda: screen_text(app).count(SEEN[:28]) == 4)
            await pilot.click("#line", offset=(8, 0))
            assert app.is_running

    asyncio.run(run())


def test_a_line_is_cut_and_can_change() -> None:
    """What does not fit ends in an ellipsis; a new text takes its place."""

    async def run() -> None:
        app = Sample()
        async with app.run_test(size=(20, 40)) as pilot:
            line = app.query_one("#line", Line)
            line.set(sanitize("Slack Water, a long title"))
            await until(pilot, lambda: "Slack Water, a long…" in screen_text(app))
            assert line.text == "Slack Water, a long title"
            app.query_one("#para", Para).set(sanitize("a\nb\nc", newlines=True))
            await until(pilot, lambda: app.query_one("#para").size.height == 3)

    asyncio.run(run())


@pytest.mark.parametrize("light", [False, True], ids=["lamplight", "daylight"])
def test_everything_on_a_screen_keeps_its_contrast(light: bool) -> None:
    """Each text colour that reaches the terminal has 7:1 to its ground."""

    async def run() -> None:
        app = Sample(light=light)
        async with app.run_test(size=(100, 40), notifications=True) as pilot:
            await until(pilot, lambda: "end" in screen_text(app))
            app.say(sanitize("a message"))
            await until(pilot, lambda: "a message" in screen_text(app))
            for selector in ("Input", "Button", "OptionList"):
                app.query(selector).first().focus()
                await pilot.pause()
                pairs = colour_pairs(app)
                assert len(pairs) > 5
                # Edges are pictures, not text.
                faint = {
                    text: pair
                    for pair, text in pairs.items()
                    if any(map(str.isalnum, text)) and contrast(*pair) < LEAST
                }
                assert faint == {}

    asyncio.run(run())


def test_leaving_is_refused_while_there_is_a_reason_to_stay() -> None:
    """Both quit keys then only say why; without a reason Ctrl+Q leaves."""

    async def run() -> None:
        app = Sample()
        app.stay = sanitize("Wash first: your hands are inky.")
        async with app.run_test(size=(100, 40), notifications=True) as pilot:
            for key in ("ctrl+c", "ctrl+q"):
                await pilot.press(key)
                await until(pilot, lambda: "Wash first" in screen_text(app))
                app.clear_notifications()
            await app.run_action("app.quit")
            assert app.is_running
            app.stay = None
            app.query_one("#quiet").focus()
            app.set_focus(None)
            await pilot.press("ctrl+c")
            await until(pilot, lambda: "Ctrl+Q leaves" in screen_text(app))
            await pilot.press("ctrl+q")
        assert app.return_code == 0

    asyncio.run(run())


def test_no_key_of_the_framework_is_left() -> None:
    """The only keys an app has by itself are the two named; there is no palette."""
    app = Sample()
    bound = [binding for binding in Base.BINDINGS if isinstance(binding, Binding)]
    assert {(b.key, b.action) for b in bound} == {
        ("ctrl+q", "leave"),
        ("ctrl+c", "how_to_leave"),
    }
    assert set(app._bindings.key_to_bindings) == {"ctrl+q", "ctrl+c"}
    assert not app.use_command_palette


@pytest.mark.parametrize(
    ("environ", "plain"), [({}, False), ({"NO_COLOR": ""}, False), ({"NO_COLOR": "1"}, True)]
)
def test_no_color_counts_when_it_is_not_empty(environ: dict[str, str], plain: bool) -> None:
    """Present and not empty means no colour at all (no-color.org); empty means nothing."""
    assert colour_arguments(environ) == ({"ansi_color": True} if plain else {})


@pytest.mark.parametrize(("value", "coloured"), [("", True), ("1", False)])
def test_no_color_on_a_screen(monkeypatch: pytest.MonkeyPatch, value: str, coloured: bool) -> None:
    """Without colour the words and numerals still stand there, uncoloured."""
    monkeypatch.setenv("NO_COLOR", value)

    async def run() -> None:
        app = Sample()
        async with app.run_test(size=(100, 40), notifications=True) as pilot:
            await until(pilot, lambda: "end" in screen_text(app))
            assert "▄███▄" in screen_text(app)
            assert bool(colour_pairs(app)) == coloured

    asyncio.run(run())


def test_a_text_of_the_same_rows_does_not_lay_the_screen_out_anew() -> None:
    """Clocks change every second; only what takes more or fewer rows moves what is below."""

    async def run() -> None:
        app = Sample()
        async with app.run_test(size=(60, 40)) as pilot:
            await until(pilot, lambda: "end" in screen_text(app))
            para, laid = app.query_one("#para", Para), []
            para.set(sanitize("1:00\n2:00", newlines=True))
            await until(pilot, lambda: para.size.height == 2)
            below = app.query_one("#quiet").region.y
            await pilot.pause()  # that layout is told of before what follows
            real, asked = para.refresh, []

            def refresh(*regions, layout=False, **how):
                asked.append(layout)
                return real(*regions, layout=layout, **how)

            para.refresh = refresh
            app.screen.screen_layout_refresh_signal.subscribe(app, laid.append)
            para.set(sanitize("0:59\n1:59", newlines=True))
            await until(pilot, lambda: "1:59" in screen_text(app))
            await pilot.pause()
            assert laid == []
            assert asked == [False]
            para.set(sanitize("0:58\n1:58 " + "and on " * 12, newlines=True))
            assert asked == [False, True]  # once; what the framework makes of it is a pass or two
            await until(pilot, lambda: app.query_one("#quiet").region.y == below + 1)
            await until(pilot, lambda: laid)  # told of after the regions are known

    asyncio.run(run())
