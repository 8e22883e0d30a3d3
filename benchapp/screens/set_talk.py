"""How the printer says a setting: which, and its value; or all as this print had them."""

from __future__ import annotations

from typing import Final

from benchapp.safe_text import SafeText
from benchapp.screens.talk import Talk
from benchapp.screens.widgets.ask import Ask
from benchapp.session import actions as a
from benchapp.session.annotate import in_hand
from benchapp.session.room_settings import as_before
from benchapp.views.setup_card import recipe_settings, setting_keys

#: No setting has an empty name: it stands for all that another session set since.
_AS_BEFORE: Final = ""
_AS_BEFORE_KEY: Final = "="


def ask_set(talk: Talk) -> None:
    """A setting, by its name, then its value."""
    room, s = talk.desk.workshop.room, talk.s
    known = {**recipe_settings(s.recipe), **{x.name: x.value for x in s.settings}}
    held = in_hand(s)
    before = as_before(room, s, None if held is None else held.ordinal)

    def value(name: str | None) -> None:
        if name == _AS_BEFORE:
            talk.do(a.SetAsBefore())
            return
        if name is None:
            talk.app.push_screen(Ask(SafeText("Which setting"), hint=SafeText(
                "such as hot plate or room")), lambda named: value(named) if named else None)
            return
        talk.ask(f"{name} from the next pull on", lambda text: a.Set(name, text),
                 value=known.get(name, ""))

    if talk.could(a.Set("x", "x")):
        keys = setting_keys(room.journal, s)
        answers: list[tuple[str, str | None]] = [
            ("another setting …", None), *((f"{name}: {known[name]}", name) for name in known)]
        signs = ["0", *(keys.get(x, "") for x in known)]
        if before:
            had = ", ".join(dict.fromkeys(was for _, was in before))
            answers.insert(0, (f"as this print had it: {had}", _AS_BEFORE))
            signs.insert(0, _AS_BEFORE_KEY)
        talk.pick("Setting", answers, value, keys=signs)
