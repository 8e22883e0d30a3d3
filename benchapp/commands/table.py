"""Every command once: its words for the printer, and where what it takes and does is found.

Nothing here is imported before it is asked for: to say its version, or what commands there are,
the program needs none of its rooms.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any, Final, NamedTuple


class Command(NamedTuple):
    """What is typed behind `benchapp`."""

    name: str
    """The word."""
    help: str
    """What it does, in a few words."""
    runs: str
    """What it calls, `module:function` under `commands`."""
    takes: str | None = None
    """What adds its arguments, likewise; None: it takes none of its own."""


#: What `benchapp` alone calls.
STUDIO: Final = "screens:show_studio"

#: By what one wants to do.
GROUPS: Final[tuple[tuple[str, tuple[Command, ...]], ...]] = (
    ("Print", (
        Command("run", "open a new session of a recipe",
                "run:run_session", "day_words:add_run_options"),
        Command("resume", "continue an open session",
                "run:resume_session", "day_words:add_resume_options"),
        Command("damp", "damp a pack of paper for tomorrow, or list the packs",
                "damping:start_damping", "day_words:add_damp_options"),
        Command("rehearse", "try a day on a fast clock; nothing is recorded",
                "run:rehearse_day", "day_words:add_rehearse_options"),
        Command("demo", "look around in an invented year; nothing is kept", "screens:show_demo"),
    )),
    ("Before the day", (
        Command("plan", "plan a day around your hands, and how sure it is",
                "planning:show_plan", "planning_words:add_plan_options"),
        Command("prepare", "work out a day: paper, damping, ink, screws",
                "preparing:show_checklist", "day_words:add_prepare_options"),
        Command("stock", "show what paper and ink there is, and what to order",
                "stocking:run_stock_command", "stock_words:add_stock_options"),
        Command("reckon", "answer one question of the day's arithmetic",
                "reckon:answer_question", "reckon_words:add_questions"),
    )),
    ("Recipes", (
        Command("new", "write a recipe from eleven plain questions",
                "recipes:new_recipe", "day_words:add_new_options"),
        Command("check", "find the mistakes in a recipe",
                "recipes:check_recipe", "day_words:add_check_options"),
        Command("learn", "learn times and ink from your own days",
                "learning:learn_from_sessions", "outward_words:add_learn_options"),
    )),
    ("Look back", (
        Command("review", "read a session back",
                "show:show_review", "day_words:add_review_options"),
        Command("sessions", "list the sessions",
                "show:list_sessions", "day_words:add_sessions_options"),
        Command("beside", "compare two sessions, or two sheets and the BAT",
                "setting_beside:show_comparison", "beside_words:add_beside_options"),
        Command("life", "show what a plate gave, day by day, and its readings",
                "setting_beside:show_plate_life", "beside_words:add_life_options"),
        Command("why", "show what causes a tag, and what to try next",
                "asking_why:explain_tag", "beside_words:add_why_options"),
        Command("search", "find words, numbers and marks in everything you wrote",
                "searching:search_book", "outward_words:add_search_options"),
        Command("discard", "discard a session without a pull",
                "discarding:discard_session", "day_words:add_discard_options"),
    )),
    ("Editions", (
        Command("edition", "list the editions, or show one; declare its size",
                "editioning:show_edition", "edition_words:add_edition_options"),
        Command("sort", "sort dry sheets: numbers, proofs, the BAT",
                "sorting:sort_sheets", "edition_words:add_sort_options"),
        Command("number", "give a sheet its number, or keep it as a proof",
                "numbering:number_sheets", "edition_words:add_number_options"),
        Command("sign", "record that sheets were signed",
                "numbering:sign_sheets", "edition_words:add_sign_options"),
        Command("void", "record that a number is never used",
                "numbering:void_number", "edition_words:add_void_options"),
        Command("correct", "correct a mistake in the record of a sheet",
                "correcting:correct_sheet", "edition_words:add_correct_options"),
        Command("cancel-plate", "record that the plate has been cancelled",
                "editioning:record_cancelled_plate", "edition_words:add_cancel_plate_options"),
        Command("where-is", "show or record where sheets are",
                "whereabouts:show_whereabouts", "edition_words:add_where_is_options"),
        Command("boards", "list the stacks under boards, and record changes",
                "stacking:show_boards", "edition_words:add_boards_options"),
        Command("papers", "write the documentation of an edition, or a sheet's history",
                "documenting:write_papers", "edition_words:add_papers_options"),
        Command("photo", "tie photographs to a sheet, a plate or a day",
                "picturing:tie_photo", "edition_words:add_photo_options"),
        Command("photos", "go through a folder of photographs, each with its sheet",
                "photo_folder:go_through_photos", "edition_words:add_photos_options"),
    )),
    ("The book", (
        Command("book", "check the book, back it up, restore a backup",
                "book_files:run_book_command", "book_words:add_book_options"),
        Command("export", "write the book, or some sessions, into a new file",
                "exports:export_book", "outward_words:add_export_options"),
        Command("import", "read an exported file into the book",
                "exports:import_file", "outward_words:add_import_options"),
        Command("files", "show where everything is kept",
                "show:show_places", "day_words:add_files_options"),
    )),
    ("This machine", (
        Command("switch", "learn and practise your pedal", "screens:learn_switch"),
        Command("calls", "try the sounds and voices, and choose",
                "test_calls:try_calls", "day_words:add_calls_options"),
        Command("report", "describe this machine, without names, to paste",
                "reporting:report_machine", "book_words:add_report_options"),
        Command("help", "explain a topic or a command",
                "show_help:show_help", "day_words:add_help_options"),
        Command("completion", "write completion for your shell",
                "completion:write_completion", "day_words:add_completion_options"),
    )),
)

COMMANDS: Final = {one.name: one for _, commands in GROUPS for one in commands}


def called(place: str) -> Any:
    """The function at `module:function`; its module is imported only now."""
    module, _, function = place.partition(":")
    return getattr(import_module(f"benchapp.commands.{module}"), function)
