"""Pictures tied to sheets, plates and days: decided, folded, and untied again."""

from __future__ import annotations

import pytest

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.decide import decide_edition, replay_register
from benchapp.edition.pictures import MOST_PICTURES, PictureSubject, TiedPicture
from tests.edition.support import P, Studio, declared, sheet

K7 = PictureSubject(sheet="K7")
PLATE = PictureSubject(plate="key", state="II")


def picture(n: int = 1, about: PictureSubject = K7, **said: str) -> TiedPicture:
    told = {"name": f"IMG_{n}.JPG", "file_type": "JPEG", "taken": f"2026-05-03T14:{n % 60:02}:00",
            "taken_by": "camera", **said}
    return TiedPicture(about, f"{n:064x}", **told)


@pytest.fixture
def studio() -> Studio:
    made = Studio(sheet("K7"), sheet("K8"))
    made.do(declared())
    return made


def refused(studio: Studio, action: a.Action) -> Refusal:
    decided = decide_edition(studio.register, action, studio.clock.now())
    assert isinstance(decided, Refusal)
    return decided


def test_pictures_are_of_what_they_were_tied_to(studio: Studio) -> None:
    studio.do(a.TiePictures(P, K7, (picture(2), picture(1))))
    studio.do(a.TiePictures(P, PLATE, (picture(3, PLATE),)))
    studio.do(a.TiePictures(P, PictureSubject(day="2026-05-03@a"), (picture(1),)))
    assert [x.name for x in studio.e.pictures_of(K7)] == ["IMG_1.JPG", "IMG_2.JPG"]
    assert [x.about for x in studio.e.pictures_of(PLATE)] == [PLATE]
    assert len(studio.e.pictures) == 4
    assert studio.e.pictures[0].taken_words == "2026-05-03 14:01"
    # nothing is told of the sheet itself, so that nothing of it can clash
    assert "K7" not in studio.e.holdings
    again = replay_register(studio.entries, "home", studio.register.sheets)
    assert again.edition(P).pictures == studio.e.pictures


def test_no_path_is_stored(studio: Studio) -> None:
    studio.do(a.TiePictures(P, K7, (picture(),)))
    assert sorted(studio.entries[-1].body) == [
        "day", "file_type", "mark", "name", "over", "picture", "plate", "print", "session", "sheet",
        "state", "taken", "taken_by"]


def test_a_known_one_is_not_tied_twice(studio: Studio) -> None:
    studio.do(a.TiePictures(P, K7, (picture(1), picture(1))))
    studio.do(a.TiePictures(P, K7, (picture(1), picture(2))))
    assert len(studio.e.ties) == 2
    assert refused(studio, a.TiePictures(P, K7, (picture(1),))).rule == "already"


def test_untied_it_is_gone_and_can_be_tied_again(studio: Studio) -> None:
    studio.do(a.TiePictures(P, K7, (picture(1), picture(2))))
    studio.do(a.UntiePicture(P, K7, picture(1).picture, "it shows K8"))
    assert [x.name for x in studio.e.pictures_of(K7)] == ["IMG_2.JPG"]
    assert refused(studio, a.UntiePicture(P, K7, picture(1).picture, "again")).rule == "picture"
    assert refused(studio, a.UntiePicture(P, K7, picture(2).picture, " ")).rule == "reason"
    studio.do(a.TiePictures(P, K7, (picture(1),)))
    assert len(studio.e.pictures_of(K7)) == 2


def test_two_books_that_tie_the_same_have_it_once_in_any_order(studio: Studio) -> None:
    other = Studio(sheet("K7"), origin="away", book=studio.entries)
    known = len(studio.entries)
    for one in (studio, other):
        one.do(a.TiePictures(P, K7, (picture(1),)))
    studio.do(a.UntiePicture(P, K7, picture(1).picture, "it shows K8"))
    here, there = studio.entries[known:], other.entries[known:]
    for order in ((*here, *there), (*there, *here), (*reversed(here), *there)):
        register = replay_register((*studio.entries[:known], *order), "home", {})
        # what the other book tied, this one had not seen when it untied its own
        assert [x.id for x in register.edition(P).pictures] == [there[0].id]


def test_what_is_no_sheet_no_name_or_too_many_is_refused(studio: Studio) -> None:
    nobody = PictureSubject(sheet="K99")
    assert refused(studio, a.TiePictures(P, nobody, (picture(1, nobody),))).rule == "sheet"
    assert refused(studio, a.TiePictures(P, K7, (picture(1, name=" "),))).rule == "reason"
    assert refused(studio, a.TiePictures(P, K7, (picture(1, name="a\x1b[2J"),))).rule == "text"
    many = tuple(picture(n) for n in range(MOST_PICTURES + 1))
    assert refused(studio, a.TiePictures(P, K7, many)).rule == "count"


def test_a_destroyed_sheet_may_be_shown(studio: Studio) -> None:
    studio.do(a.Destroy(P, "K7", "torn"))
    studio.do(a.TiePictures(P, K7, (picture(),)))
    assert len(studio.e.pictures_of(K7)) == 1
