"""The commands that tie pictures to sheets, plates and days, and list those that are tied."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from benchapp import files
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    book_path,
    say,
    say_json,
    session_row,
)
from benchapp.commands.resolve import (
    accept_answer,
    confirm_or_stop,
    print_meant,
    reading_editions,
    resolve_sheet,
    writing_editions,
)
from benchapp.edition.actions import UntiePicture
from benchapp.edition.naming import print_of_sheet, split_names
from benchapp.edition.numbers import sheet_words
from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.edition.state import Register
from benchapp.pictures import leaves_the_studio
from benchapp.service.editions import EditionService
from benchapp.service.pictures import (
    FoundPicture,
    NoPicture,
    all_pictures,
    keep_files,
    kept_path,
    look_at_files,
    tie_files,
)


def tie_photo(arguments: Arguments) -> int:
    """Tie pictures to what is named, untie one, or list those it has."""
    named = _named_first(arguments)
    if arguments.untie:
        return _untie(arguments, *named)
    mark, paths = named
    if not paths:
        return _list(arguments, mark)
    found = list(look_at_files(Path(x).expanduser() for x in paths))
    wrong = [x.why for x in found if isinstance(x, NoPicture)]
    if wrong:
        raise Refused("\n".join([*wrong, "Nothing was tied."]))
    pictures = [x for x in found if isinstance(x, FoundPicture)]
    with writing_editions(arguments) as editions:
        print_, about = _subject(editions, arguments, mark)
        before = {x.picture for x in editions.register.edition(print_).pictures_of(about)}
        new = list({x.sha256: x for x in pictures if x.sha256 not in before}.values())
        keep_files(photos_of(arguments), (x for x in pictures if x.sha256 in before))
        _ask_about_others(editions, arguments, about, new)
        if new:
            accept_answer(tie_files(editions, photos_of(arguments), print_, about, new))
        return _told(editions, arguments, print_, about,
                     tuple(x.sha256 for x in new), len(pictures) - len(new))


def photos_of(arguments: Arguments) -> Path:
    """The folder of the pictures of the book that is meant."""
    return files.photos_folder(book_path(arguments).expanduser().absolute())


def _named_first(arguments: Arguments) -> tuple[str | None, list[str]]:
    """The sheet that is named, if nothing else is, and the words behind it."""
    others = [x for x in (arguments.plate, arguments.session) if x is not None]
    if len(others) > 1:
        raise WrongUse("Name one thing: a sheet, --plate NAME or --session SESSION")
    if arguments.state is not None and arguments.plate is None:
        raise WrongUse("A state is that of a plate: add --plate NAME")
    if others:
        return None, arguments.words
    names = split_names(arguments.words)
    if not names:
        raise WrongUse("Name a sheet and its pictures, as: benchapp photo K7 IMG_0412.JPG")
    return names[0], names[1:]


def _subject(editions: EditionService, arguments: Arguments,
             mark: str | None) -> tuple[str, PictureSubject]:
    """The print and what the pictures show."""
    if mark is not None:
        meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
        sheet = resolve_sheet(editions, mark, meant)
        print_ = meant or print_of_sheet(editions.register, sheet) or print_meant(editions, None)
        return print_, PictureSubject(sheet=sheet)
    if arguments.session is not None:
        row = session_row(editions.book, arguments.session)
        day = next((d for d in editions.days if d.row.id == row.id), None)
        if day is None:
            raise Refused(f"The session {row.name} cannot be read; benchapp book check says why")
        return day.print, PictureSubject(day=row.id)
    print_ = print_meant(editions, arguments.print_)
    plates = {p.name.casefold(): p.name for d in editions.days_of(print_) for p in d.recipe.plates}
    plate = plates.get(arguments.plate.casefold())
    if plate is None:
        known = ", ".join(plates.values()) or "none in the book"
        raise Refused(f"{editions.title(print_)[0]} has no plate {arguments.plate}; its plates: "
                      f"{known}")
    return print_, PictureSubject(plate=plate, state=arguments.state)


def subject_words(register: Register, print_: str, about: PictureSubject) -> str:
    """What a picture shows, in words: `K7`, `plate key, state II`, `2026-05-03`."""
    if about.sheet is not None:
        e = register.edition(print_)
        known = e.holdings.get(about.sheet) or register.sheets.get(about.sheet)
        return about.sheet if known is None else sheet_words(known)
    if about.plate is not None:
        return f"plate {about.plate}" + (f", state {about.state}" if about.state else "")
    return (about.day or "").partition("@")[0]


def _ask_about_others(editions: EditionService, arguments: Arguments, about: PictureSubject,
                      new: Sequence[FoundPicture]) -> None:
    """A picture that shows something else already is asked about before it is tied here too."""
    digests = {x.sha256: x.name for x in new}
    told = [f"{digests[x.picture]} is tied to {subject_words(editions.register, p, x.about)}"
            for p, x in all_pictures(editions) if x.picture in digests and x.about != about]
    if told:
        confirm_or_stop(arguments, f"{'; '.join(told)}. To tie it here too is fine.",
                        "You can untie it later")


def _told(editions: EditionService, arguments: Arguments, print_: str, about: PictureSubject,
          new: Sequence[str], known: int) -> int:
    """What is tied now, and what of it stays at home."""
    pictures = editions.register.edition(print_).pictures_of(about)
    words = subject_words(editions.register, print_, about)
    if arguments.json:
        say_json("photo/1", _values(editions, arguments, print_, about, pictures))
        return 0
    fresh = [x for x in pictures if x.picture in new]
    lines = [f"{words}: {_count(len(fresh))} tied, {_count(len(pictures))} in all"]
    lines += [f"  {picture_line(x)}" for x in fresh]
    if known:
        lines.append(f"{_count(known)} tied before, or given twice: nothing changed there")
    say(*lines, *stays_home(x.file_type for x in fresh))
    return 0


def stays_home(file_types: Iterable[str]) -> list[str]:
    """That some kinds of file are kept, and are on no page."""
    kinds = sorted({x for x in file_types if not leaves_the_studio(x)})
    if not kinds:
        return []
    return [f"{', '.join(kinds)}: kept as it is. It is on no page, because benchapp cannot take "
            "the place out of it. Save it as JPEG for pages."]


def picture_line(x: TiedPicture) -> str:
    """A picture in one line: its name, kind and time."""
    when = f", taken {x.taken_words}" if x.taken and x.taken_by == "camera" else (
        f", file of {x.taken_words}" if x.taken else "")
    return f"{x.name}, {x.file_type}{when}"


def _count(n: int) -> str:
    return "1 picture" if n == 1 else f"{n} pictures"


def _values(editions: EditionService, arguments: Arguments, print_: str, about: PictureSubject,
            pictures: Sequence[TiedPicture]) -> dict[str, Any]:
    folder = photos_of(arguments)
    return {"print": editions.title(print_)[0],
            "about": subject_words(editions.register, print_, about),
            "pictures": [{"name": x.name, "sha256": x.picture, "type": x.file_type,
                          "taken": x.taken, "taken_by": x.taken_by,
                          "on_pages": leaves_the_studio(x.file_type),
                          "there": kept_path(folder, x).is_file()} for x in pictures]}


def _list(arguments: Arguments, mark: str | None) -> int:
    with reading_editions(arguments) as editions:
        print_, about = _subject(editions, arguments, mark)
        pictures = editions.register.edition(print_).pictures_of(about)
        if arguments.json:
            say_json("photo/1", _values(editions, arguments, print_, about, pictures))
            return 0
        words = subject_words(editions.register, print_, about)
        folder = photos_of(arguments)
        say(f"{words}: {_count(len(pictures))}",
            *(f"  {picture_line(x)}" + ("" if kept_path(folder, x).is_file() else ": missing")
              for x in pictures))
    return 0


def _untie(arguments: Arguments, mark: str | None, words: list[str]) -> int:
    """A picture does not show this: it is named by its file's name, or how its digest begins."""
    if arguments.why is None or len(words) != 1:
        raise WrongUse("Name one picture and say why: benchapp photo K7 IMG_0412.JPG --untie "
                       "--why WORDS")
    with writing_editions(arguments) as editions:
        print_, about = _subject(editions, arguments, mark)
        pictures = editions.register.edition(print_).pictures_of(about)
        meant = [x for x in pictures if Path(words[0]).name == x.name] or [
            x for x in pictures if len(words[0]) >= 8 and x.picture.startswith(words[0].lower())]
        what = subject_words(editions.register, print_, about)
        if len(meant) != 1:
            there = "; ".join(f"{x.name} ({x.picture[:8]})" for x in pictures) or "it has none"
            how = "No picture of" if not meant else "More than one picture of"
            raise Refused(f"{how} {what} is called {words[0]}; its pictures: {there}")
        accept_answer(editions.do(UntiePicture(print_, about, meant[0].picture, arguments.why)))
        if arguments.json:
            now = editions.register.edition(print_).pictures_of(about)
            say_json("photo/1", _values(editions, arguments, print_, about, now))
        else:
            say(f"{meant[0].name} is no longer tied to {what}: {arguments.why}. Its copy stays in "
                "the folder photos.")
    return 0
