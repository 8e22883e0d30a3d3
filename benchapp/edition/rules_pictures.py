"""Pictures tied to a sheet, a plate or a day, and untied again where that was a mistake."""

from __future__ import annotations

from benchapp.decision import Refusal, written_ids
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.numbers import HOW_TO_NAME
from benchapp.edition.pictures import MOST_PICTURES, PictureSubject, TiedPicture
from benchapp.edition.validators import check_optional_text, check_text
from benchapp.events.edition import PictureTied, PictureUntied


def tie_pictures(page: EditionContext, action: a.TiePictures) -> Refusal | None:
    """Tie those that are not tied to it yet; a destroyed sheet may be shown too."""
    refusal = _subject(page, action.about) or next(
        (r for x in action.pictures if (r := _name(x))), None)
    if refusal is not None:
        return refusal
    known = {x.picture for x in page.e.pictures_of(action.about)}
    new = {x.picture: x for x in action.pictures if x.picture not in known}
    if not new:
        return Refusal("These pictures are tied to it already", "there is nothing to do",
                       rule="already")
    if len(known) + len(new) > MOST_PICTURES:
        return Refusal(f"It would have {len(known) + len(new)} pictures, and {MOST_PICTURES} is "
                       "the most", "choose fewer", rule="count")
    mark, session = _names(page, action.about)
    for x in new.values():
        page.emit(PictureTied(
            print=page.id, sheet=action.about.sheet, mark=mark, session=session,
            plate=action.about.plate, state=action.about.state, day=action.about.day,
            picture=x.picture, name=x.name, file_type=x.file_type, taken=x.taken,
            taken_by=x.taken_by, over=()))
    return None


def untie_picture(page: EditionContext, action: a.UntiePicture) -> Refusal | None:
    """It does not show that: the entries that said so count no more, and stay to be seen."""
    refusal = check_text(action.why, "The reason", "say why: what the picture shows")
    if refusal is not None:
        return refusal
    tied = [x.id for x in page.e.ties if x.about == action.about and x.picture == action.picture
            and x.id not in page.e.untied]
    if not tied:
        return Refusal("That picture is not tied to it", "list its pictures: benchapp photo SHEET",
                       rule="picture")
    mark, session = _names(page, action.about)
    page.emit(PictureUntied(print=page.id, sheet=action.about.sheet, mark=mark, session=session,
                            picture=action.picture, why=action.why.strip(),
                            over=written_ids(tied)))
    return None


def _subject(page: EditionContext, about: PictureSubject) -> Refusal | None:
    if about.sheet is not None and page.holding(about.sheet) is None:
        return Refusal(f"No sheet {about.sheet} is in the book", HOW_TO_NAME, rule="sheet")
    return check_optional_text(about.plate, "The plate") or check_optional_text(
        about.state, "The state")


def _name(x: TiedPicture) -> Refusal | None:
    return check_text(x.name, "The name of the file", "name it otherwise")


def _names(page: EditionContext, about: PictureSubject) -> tuple[str | None, str | None]:
    """The mark and the day of the sheet it shows."""
    h = None if about.sheet is None else page.holding(about.sheet)
    return (None, None) if h is None else (h.mark, h.session)
