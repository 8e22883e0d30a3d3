"""The Studio: the workshop laid out by place, where a day begins and ends."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal

from benchapp.book.sessions import worked_on_last
from benchapp.decision import Refusal
from benchapp.drying.stacks import due_changes, wall_time
from benchapp.edition.view import not_back
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.files import FileProblem
from benchapp.planning.plate_wear import given_by_plates, near_words
from benchapp.recipe.model import Recipe
from benchapp.recipe.questions import known_answers
from benchapp.reports.drying import due_words, lying_counts, stacks_in_use
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens import yesterday
from benchapp.screens.answering import take_out_pack
from benchapp.screens.discarding import ask_discard
from benchapp.screens.editing import edit_recipe, why_not_edit
from benchapp.screens.opening import Opening
from benchapp.screens.page_base import SEARCH_KEY, WIDE, FollowingPage, PageHead
from benchapp.screens.pick import Pick, ToldLines
from benchapp.screens.plan_tomorrow import Tomorrow
from benchapp.screens.shelf import OnShelf, shelf_recipes
from benchapp.screens.studio_rows import keys_for, left_rows, not_back_rows, place_rows, shelf_rows
from benchapp.screens.timing import ask_clock, ask_damping, ask_stop
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.left_strip import LeftStrip
from benchapp.screens.widgets.rows import Rows, wrap_rows
from benchapp.service.outcome import Outcome
from benchapp.session.counting import target_count
from benchapp.session.damping import PUT_AWAY
from benchapp.session.state import StudioState
from benchapp.views.bench import call_views
from benchapp.views.studio import StudioView, studio_view

_ALWAYS: Final = (("c", "clock"), ("b", "under boards"), ("g", "editions"), ("w", "stock"),
                  ("n", "new recipe"), (SEARCH_KEY, "search"), ("s", "preferences"),
                  ("tab", "other side"), ("question_mark", "help"), ("q", "leave"))
_KEYS: Final = {
    "session": (("enter", "go on with it"), ("i", "sheets"), ("v", "review"),
                ("d", "damp paper for tomorrow"), ("p", "prepare"), ("l", "plan the rest")),
    "pack": (("delete", "put away"),),
    "boards": (("enter", "sheets"), ("t", "sort"), ("v", "review"), ("r", "round")),
    "stack": (("enter", "under boards"), ("t", "sort")),
    "book": (("enter", "review"), ("i", "sheets"), ("h", "plate's life")),
    "recipe": (("enter", "print from it"), ("l", "plan the day"), ("p", "prepare"),
               ("d", "damp paper for tomorrow"), ("k", "check"), ("e", "edit")),
    "clock": (("delete", "stop this clock"),),
    "unsaid": (("enter", "say it"), ("v", "review"), ("i", "sheets"), ("r", "round")),
    "can": (("enter", "emptied?"), ("v", "review"), ("i", "sheets"), ("r", "round")),
    "judge": (("enter", "round"), ("v", "review"), ("i", "sheets"), ("t", "sort")),
    "sentence": (("enter", "review"), ("i", "sheets"), ("r", "round"), ("h", "plate's life")),
    "day": (("enter", "review"), ("i", "sheets"), ("r", "round"), ("h", "plate's life")),
    "damp": (("enter", "its paper"),),
}

#: Lines that are about a session.
_OF_SESSION: Final = frozenset({"session", "boards", "book", *yesterday.LINES})


class StudioScreen(FollowingPage):
    """Everything by place, with one line chosen on each side."""

    SHOWS_CALLS = True

    CSS = """
    StudioScreen #left { width: 57%; padding: 0 1 0 1; }
    StudioScreen #right { width: 43%; padding: 0 0 0 1; }
    StudioScreen #sides { margin: 1 0 0 0; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(key, action, words, show=False) for key, action, words in (
            ("v", "of_session('review')", "review"), ("i", "of_session('impressions')", "sheets"),
            ("r", "round", "round"), ("d", "damp", "damp paper for tomorrow"),
            ("o", "sheets_out", "sheets out"), ("delete", "away", "put away, stop, or discard"),
            ("p", "prepare", "prepare"), ("n", "new_recipe", "new recipe"),
            ("k", "check", "check"), ("c", "clock", "a clock"), ("e", "edit", "edit a recipe"),
            ("a", "empty_can", "can emptied"), ("y", "say_facts", "say what is left unsaid"),
            ("s", "over('preferences')", "preferences"), ("b", "over('boards')", "under boards"),
            ("g", "over('edition')", "editions"), ("t", "sort", "sort"),
            ("l", "plan", "plan the day"), ("m", "tomorrow", "tomorrow planned"),
            ("h", "of_session('plate life')", "plate's life"),
            ("w", "over('stock')", "stock"))),
        Binding("left", "side(-1)", "the left side", show=False),
        Binding("right", "side(1)", "the right side", show=False),
        Binding("q", "leave", "leave", show=False),
        Binding("escape", "nothing", "nothing: the Studio is the first screen", show=False),
    ]

    def __init__(self) -> None:
        """Nothing is read before it is shown."""
        super().__init__()
        self._view: StudioView | None = None
        self._shelf: tuple[OnShelf, ...] | None = None
        self._tomorrow = Tomorrow()
        self._with_editions = False
        self._second = -1
        self._room = StudioState()
        self._beside: tuple[Sequence[tuple[str, str, str]], Sequence[tuple[str, str, str]],
                            dict[str, int], list[tuple[str, str]]] = (), (), {}, []

    def compose(self) -> ComposeResult:
        """Head, what is left, two sides, keys."""
        yield PageHead()
        yield KeyLine()
        yield LeftStrip()
        with Horizontal(id="sides"):
            yield Rows(id="left")
            yield Rows(id="right")

    def on_mount(self) -> None:
        """Show the places at once; recipes and editions, which take longer to read, after that."""
        self.follow()
        places, recipes = self.query_one("#left", Rows), self.query_one("#right", Rows)
        (places if self._view is not None and self._view.at_press else recipes).focus()
        self.call_after_refresh(self._first_shelf)

    def _first_shelf(self) -> None:
        self._shelf = ()
        self.again()
        self.call_after_refresh(self._first_editions)

    def _first_editions(self) -> None:
        self._with_editions = True
        self.again()

    def on_screen_resume(self) -> None:
        """Back from another screen: things may stand otherwise."""
        self.again()

    # -- showing ----------------------------------------------------------------------

    def follow(self) -> None:
        """Show how things stand now: once a minute, or when something was written.

        Packs and clocks that run are counted by the second.
        """
        places = next(iter(self.query("#left")), None)
        strip = next(iter(self.query(LeftStrip)), None)
        # Not composed yet, or going away: its parts come and go one by one.
        if places is None or strip is None:
            return
        workshop = self.workshop
        now = workshop.now()
        state = (now.wall_ms // 60_000, workshop.book.last_sequence(), self.size.width,
                 places.size.height)
        if state == self._shown:
            self._count(now)
            return
        self._shown = state
        rows = workshop.book.sessions()
        room = self._room = yesterday.recent_state(workshop, now)
        self._view = studio_view(room, now, workshop.book.origin)
        if self._shelf is not None:
            self._read_shelf()
        day = local_time(now)
        self.query_one(PageHead).set(SafeText("Studio"), sanitize(
            f"{day:%A} {day.day} {day:%B} {day.year}, {day:%H:%M}"))
        closed = [(r.id, r.name, r.opening.print) for r in reversed(rows)
                  if r.closed or r.id not in room.sessions]  # an open one that cannot be read
        day_ = wall_time(now)
        stacks = stacks_in_use(workshop.stacks(), day_)
        wants = [(d.stack, d.state, f"{due_words(d, day_)} · {d.name}")
                 for d in due_changes(stacks, day_, workshop.hours)]
        if self._shelf is not None:
            self.query_one("#right", Rows).set_rows(
                shelf_rows(self._shelf, wide=self.size.width >= WIDE, worn=self._worn(),
                           across=max(20, self.size.width * 43 // 100 - 4)))
        self._beside = closed, wants, lying_counts(stacks), [
            *left_rows(self._view), *self._not_back(day.date()),
            *self._tomorrow.line(self, self._shelf or ())]
        self._places(now)
        self._keys()

    def _places(self, now: Moment) -> None:
        """What is counted, with what was looked up once a minute."""
        if self._view is None:
            return
        closed, wants, there, left = self._beside
        self._second = now.wall_ms // 1000
        across = max(20, self.size.width * 57 // 100 - 4)
        self.query_one("#left", Rows).set_rows(
            place_rows(self._view, now, closed, across, wants, there,
                       self.query_one("#left").size.height))
        self.query_one(LeftStrip).set(call_views(self._room, self._room.t_at(now)), left)

    def _count(self, now: Moment) -> None:
        """Another second of what runs or calls."""
        if self._view is None or now.wall_ms // 1000 == self._second:
            return
        room = self._room
        if self._view.counts or any(c.calling for c in call_views(room, room.t_at(now))):
            self._view = studio_view(room, now, self.workshop.book.origin)
            self._places(now)

    def _worn(self) -> dict[str, tuple[str, ...]]:
        """The plates near their end, by recipe; the editions are read last of all."""
        if not self._with_editions:
            return {}
        register = self.workshop.editions.register
        return {x.name: near_words(x.recipe, given_by_plates(register, x.recipe))
                for x in self._shelf or () if x.recipe is not None}

    def _not_back(self, today: date) -> list[tuple[str, str]]:
        """What a gallery should have sent back; the editions are read last of all."""
        if not self._with_editions:
            return []
        editions = self.workshop.editions
        return not_back_rows([(editions.title(x.print)[0], x.text)
                              for x in not_back(editions.register, today)])

    def _read_shelf(self) -> None:
        try:
            self._shelf = shelf_recipes()
        except FileProblem as error:
            self.desk.say(sanitize(str(error)), severity="warning")

    def on_rows_moved(self) -> None:
        """Other keys make sense on another line."""
        self._keys()

    def on_descendant_focus(self) -> None:
        """Likewise on the other side."""
        self._keys()

    def _keys(self) -> None:
        kind, id_ = self._chosen()
        view = self._view
        more = () if view is None else (*((("y", "say it"),) if view.unsaid else ()),
                                        *((("a", "can emptied"),) if view.in_can else ()))
        self.query_one(KeyLine).set((*keys_for(view, _KEYS.get(kind, ()), id_), *more, *_ALWAYS))

    def _chosen(self) -> tuple[str, str]:
        """What is chosen on the side that has the keys: its kind, and its id."""
        rows = self.focused if isinstance(self.focused, Rows) else self.query_one("#left", Rows)
        kind, _, id_ = (rows.chosen or "").partition(" ")
        return kind, id_

    # -- keys -----------------------------------------------------------------------------

    def action_nothing(self) -> None:
        """Escape leaves nothing from here."""

    def action_side(self, side: int) -> None:
        """To the other side."""
        self.query_one("#left" if side < 0 else "#right", Rows).focus()

    def action_leave(self) -> None:
        """Leave the program; everything is in the book."""
        self.desk.action_leave()

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter: what the line is there for."""
        kind, _, id_ = event.row_id.partition(" ")
        if kind == "session":
            self._resume(id_)
        elif kind == "boards":
            self.desk.over("impressions", session=id_)
        elif kind == "book":
            self.desk.over("review", session=id_)
        elif kind == "recipe":
            self._run(id_)
        elif kind == "pack":
            self._out(id_)
        elif kind == "stack":
            self.desk.over("boards")
        elif kind == "damp":
            self._damp(id_)
        elif self._view is not None:
            yesterday.open_line(self, self._view, kind, id_)

    def action_over(self, screen: str) -> None:
        """A screen that is about no one line."""
        self.desk.over(screen)

    def action_of_session(self, screen: str) -> None:
        """A screen about the session of the line chosen; on another line nothing happens."""
        kind, id_ = self._chosen()
        if kind in _OF_SESSION:
            self.desk.over(screen, session=id_)

    def action_round(self) -> None:
        """The round of the session chosen, else of the one that has sheets to judge."""
        kind, id_ = self._chosen()
        self._round(id_ if kind in _OF_SESSION else None)

    def action_sort(self) -> None:
        """Sort the sheets of the stack or the session chosen."""
        kind, id_ = self._chosen()
        if kind in ("boards", "book", "stack", *yesterday.LINES):
            self.desk.over("sort", **{"stack" if kind == "stack" else "session": id_})

    def action_damp(self) -> None:
        """Damp paper for tomorrow, of the recipe chosen where it is one."""
        ask_damping(self, self._recipe_of(*self._chosen()))

    def action_sheets_out(self) -> None:
        """The sheets of the pack chosen are out of the water."""
        kind, id_ = self._chosen()
        if kind == "pack":
            self._out(id_)

    def action_away(self) -> None:
        """Put the pack away, stop the clock, or discard the session chosen."""
        kind, id_ = self._chosen()
        if kind == "pack":
            self._away(id_)
        elif kind == "clock":
            ask_stop(self, id_)
        elif kind == "session":
            ask_discard(self, id_)

    def action_prepare(self) -> None:
        """What the day of the line chosen needs."""
        self._to_prepare(*self._chosen())

    def action_plan(self) -> None:
        """The day of the line chosen."""
        self._to_plan(*self._chosen())

    def action_tomorrow(self) -> None:
        """The day after this one."""
        self._tomorrow.open(self)

    def action_clock(self) -> None:
        """A clock without a session."""
        ask_clock(self)

    def action_check(self) -> None:
        """What is wrong with the recipe chosen."""
        kind, id_ = self._chosen()
        if kind == "recipe":
            self._check(id_)

    def action_edit(self) -> None:
        """Open the recipe chosen in the editor."""
        kind, id_ = self._chosen()
        if kind == "recipe":
            self._edit(id_)

    def action_new_recipe(self) -> None:
        """The form of a new recipe."""
        self._new()

    def action_empty_can(self) -> None:
        """The rag can of yesterday was emptied."""
        if self._view is not None and self._view.in_can:
            yesterday.empty_can(self.desk, self._view.in_can)
            self.again()

    def action_say_facts(self) -> None:
        """Say what is left unsaid of yesterday."""
        if self._view is not None:
            yesterday.ask_facts(self.desk, self._view, self.again)

    # -- at the press -----------------------------------------------------------------------

    def _resume(self, id_: str) -> None:
        rows = self.workshop.book.sessions()
        row = next((r for r in rows if r.id == id_), None)
        if row is None:
            return
        if not self.workshop.room.clean and row != worked_on_last(rows):
            self.tell(Outcome(refusal=Refusal("Hands are inky",
                                              "go on with the last session, and wash first")))
            return
        if self.attempt(lambda: self.workshop.resume_session(row)).ok:
            self.desk.go("bench")

    def _run(self, name: str) -> None:
        found = self._on_shelf(name)
        if found is None:
            return
        if found.recipe is None:
            self._check(name)
            return
        refusal = self.workshop.refuses_to_open(found.name, found.text)
        if refusal is not None:
            self.tell(Outcome(refusal=refusal))
        else:
            self.desk.over("set-up", opening=Opening(found.name, found.text))

    def _round(self, id_: str | None) -> None:
        left = None if self._view is None else self._view.unjudged
        session = id_ or (None if left is None else left[0])
        if session is not None:
            self.desk.over("round", session=session)

    # -- paper ------------------------------------------------------------------------------

    def _to_prepare(self, kind: str, id_: str) -> None:
        recipe = self._recipe_of(kind, id_)
        if recipe is None:
            self.desk.say(SafeText("Choose the recipe to prepare first."))
            return
        session = self.workshop.room.sessions.get(id_) if kind == "session" else None
        self.desk.over("prepare", recipe=recipe,
                       wanted=None if session is None else target_count(session))

    def _to_plan(self, kind: str, id_: str) -> None:
        if kind == "session":
            self.desk.over("plan", session=id_)
            return
        recipe = self._recipe_of(kind, id_)
        if recipe is None:
            self.desk.say(SafeText("Choose the recipe to plan first."))
            return
        found = self._on_shelf(id_)
        self.desk.over("plan", recipe=recipe, called="" if found is None else found.name,
                       text="" if found is None else found.text)

    def _recipe_of(self, kind: str, id_: str) -> Recipe | None:
        if kind == "recipe":
            found = self._on_shelf(id_)
            return None if found is None else found.recipe
        session = self.workshop.room.sessions.get(id_)
        return None if session is None else session.recipe

    def _out(self, pack: str) -> None:
        self.tell(take_out_pack(self.desk, pack))
        self.again()

    def _damp(self, pack: str) -> None:
        """Damp paper of yesterday: what is left of it; where it is in the water, its own line."""
        there = () if self._view is None else self._view.in_water
        if any(x.id == pack and x.where == "in the water" for x in there):
            self.query_one("#left", Rows).choose(f"pack {pack}")
        else:
            self._away(pack)

    def _away(self, pack: str) -> None:
        def take(place: int | None) -> None:
            if place is not None:
                self.attempt(lambda: self.workshop.pack_away(pack, PUT_AWAY[place]))
                self.again()

        self.app.push_screen(Pick(SafeText("What is left of this pack?"), (
            SafeText("dried between blotters"), SafeText("nothing is left of it"))), take)

    # -- recipes ----------------------------------------------------------------------------

    def _on_shelf(self, name: str) -> OnShelf | None:
        return next((x for x in self._shelf or () if x.name == name), None)

    def _check(self, name: str) -> None:
        found = self._on_shelf(name)
        if found is None:
            return
        if found.recipe is None:
            title, lines = f"{name}: mend this before you print from it", found.problems
        elif found.warnings:
            title, lines = f"{name}: ready to print; some things to look at", found.warnings
        else:
            title, lines = f"{name}: ready to print", ("benchapp understands every line.",)
        rows = [row for line in lines for row in wrap_rows(line, 64)]
        self.app.push_screen(ToldLines(sanitize(title), rows))

    def _edit(self, name: str) -> None:
        found = self._on_shelf(name)
        if found is None or self._view is None:
            return
        why = why_not_edit(self, self._view)
        if why:
            self.desk.say(sanitize(why), severity="warning")
        else:
            edit_recipe(self, found)

    def _new(self) -> None:
        """The form; it offers what the session opened last was printed with."""
        room, rows = self.workshop.room, self.workshop.book.sessions()
        if not room.clean and room.helper is None:
            self.tell(Outcome(refusal=Refusal("Hands are inky", "wash first, then write a recipe")))
            return
        known = known_answers(rows[-1].opening.recipe_text) if rows else {}
        self.desk.over("new recipe", known=known, written=self._new_is_there)

    def _new_is_there(self, name: str) -> None:
        """Show the recipe written just now, chosen."""
        self.again()
        recipes = self.query_one("#right", Rows)
        recipes.choose(f"recipe {name}")
        recipes.focus()
        self.desk.say(sanitize(f"Written: {name}. Enter prints from it."))
