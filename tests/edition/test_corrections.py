"""What was recorded by mistake is put right, one thing at a time, and stays seen."""

from __future__ import annotations

import pytest

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition import corrections as c
from benchapp.edition.conflicts.finding import settled_clashes, unsettled_clashes
from benchapp.edition.decide import replay_register
from benchapp.edition.figures import edition_figures, sheet_accounts
from benchapp.edition.holding import SheetLabel
from benchapp.edition.naming import find_sheet
from benchapp.edition.numbers import alone_words, label_text, taken_numbers
from benchapp.edition.parse import parse_move
from benchapp.edition.sharing import first_cancelling
from benchapp.edition.view import edition_view, where_number_is
from tests.edition.model import SHEETS
from tests.edition.support import HOUR, P, Studio, declared, number, sign, studio, texts
from tests.edition.test_apart import meet, parted, together

DAYS = 24 * HOUR


def put_right(s: Studio, said: str, why: str = "looked") -> Refusal | None:
    """Do what is said, as it would be typed: `K1 number 13`."""
    split = c.split_correction(said.split())
    assert split is not None, said
    name, wrong, words = split
    sheet = find_sheet(s.register, name, P)
    assert isinstance(sheet, str), sheet
    action = c.correction_of(s.register, P, sheet, wrong, words, why)
    return action if isinstance(action, Refusal) else s.try_(action)


def on(s: Studio, sheet: str) -> tuple[str | None, bool, bool, str | None]:
    """What the book has of a sheet: its label, signed, destroyed, where it is."""
    h = s.e.holdings[sheet]
    return (None if h.bears is None else label_text(s.e, h.bears), h.signed is not None,
            h.destroyed is not None, None if h.place is None else h.place.place)


def begun() -> Studio:
    """K1 is 12/30, signed and sold; K2 the BAT; K3 AP I; K4 13/30 destroyed, K5 bare."""
    s = studio()
    s.clock.advance(60 * DAYS)
    s.do(number("K1", 12), sign("K1"), a.HandOut(
        P, "K1", "sold", day="2026-06-01", words={"to": "Ms Auk"}),
        a.GiveProof(P, "K2", "BAT"), a.GiveProof(P, "K3", "AP", whose="the artist"),
        number("K4", 13), a.Destroy(P, "K4", "torn"), a.VoidNumber(P, 20, "smudged"))
    return s


@pytest.mark.parametrize(("said", "sheet", "now", "back", "was"), [
    ("K1 number 14", "K1", ("14/30", True, False, "sold"), "14/30 number 12", "12/30"),
    ("K1 number 14/40", "K1", ("14/40", True, False, "sold"), "K1 number 12/30", "12/30"),
    ("12/30 not signed", "K1", ("12/30", False, False, "sold"), "K1 signed", "12/30"),
    ("K1 purpose HC 2", "K1", ("HC II", True, False, "sold"), "HC 2 number 12/30", "12/30"),
    ("K4 not destroyed", "K4", ("13/30", False, False, None), "K4 destroyed", "13/30"),
    ("BAT not BAT", "K2", (None, False, False, None), "K2 purpose BAT", "BAT"),
    ("AP I not numbered", "K3", (None, False, False, None), "K3 number AP 1", "AP I/III"),
    ("K1 place drawer", "K1", ("12/30", True, False, "drawer"), "K1 place sold", "12/30"),
])
def test_each_mistake_is_put_right_by_saying_what_is_so(said, sheet, now, back, was):
    """And by a later correction it is as it was; both stay in the record."""
    s = begun()
    before = on(s, sheet)
    assert before[0] == was
    assert put_right(s, said) is None
    assert on(s, sheet) == now
    assert len(c.correction_lines(s.e, s.held(sheet))) == 1
    assert put_right(s, back, "as it was") is None
    assert on(s, sheet) == before
    assert texts(s.register) == []
    assert sum(sheet_accounts(s.register, P).values()) == edition_figures(s.register, P).printed
    again = replay_register(s.entries, "home", s.register.sheets)
    assert again == s.register
    row = next(r for r in edition_view(s.register, P).rows if r.sheet == sheet)
    assert row.corrected >= 1


def test_a_number_voided_by_mistake_is_used_again_and_can_be_void_after_all():
    """With the sheet that has it, and one that no sheet has."""
    s = begun()
    s.do(number("K5", 21), a.VoidNumber(P, 21, "wrong line"))
    assert put_right(s, "K5 not void", "it was 22") is None
    s.do(a.UnvoidNumber(P, 20, "it was 22"))
    assert (taken_numbers(s.e).void, 20 in taken_numbers(s.e).free) == ((13,), True)
    assert edition_view(s.register, P).put_right == (
        "21/30 is not void, as it was recorded: it was 22",
        "20/30 is not void, as it was recorded: it was 22")
    assert s.no(a.UnvoidNumber(P, 20, "again")).why == "20/30 is not void"
    assert "K4 not destroyed" in s.no(a.UnvoidNumber(P, 13, "x")).mend
    assert put_right(s, "K5 void", "it is") is None
    assert taken_numbers(s.e).void == (13, 21)


def test_a_correction_tells_of_what_it_names_alone():
    """A number put right here says nothing of the signature that was taken off there."""
    for both in meet([number("K1", 1), sign("K1")], [
            a.Correct(P, "K1", SheetLabel("edition", 2), "it says 2")], [
            a.Correct(P, "K1", a.AS_IT_IS, "bare", signed=False)]):
        assert texts(both.register) == []
        h = both.held("K1")
        assert (h.claims, h.signed) == ((SheetLabel("edition", 2),), None)


@pytest.mark.parametrize(("answer", "gone"), [("not destroyed", False), ("destroyed", True)])
def test_a_clash_of_two_books_is_decided_as_it_is_and_does_not_come_back(answer, gone):
    """It is here, or it is no more; whichever is said, the other book takes it over."""
    first = [number("K1", 1), sign("K1")]
    both = meet(first, [a.Destroy(P, "K1", "torn")], [a.HandOut(P, "K1", "sold")])
    for home, away in (both, both[::-1]):
        known = len(home.entries)
        named = [x.mend for x in unsettled_clashes(home.register, P)]
        assert all(f"benchapp correct K1 {answer}" in mend for mend in named)
        assert named
        assert put_right(home, f"K1 {answer}", "looked at it") is None
        other = replay_register([*away.entries, *home.entries[known:]], away.register.origin,
                                away.register.sheets)
        for register in (home.register, other):
            assert texts(register) == []
            assert (register.edition(P).holdings["K1"].destroyed is not None) == gone


def test_of_two_things_in_dispute_each_is_decided_by_itself():
    """The number first; that it is destroyed here and signed there waits for its own word."""
    for both in meet([number("K1", 1)], [number("K1", 2), a.Destroy(P, "K1", "torn")],
                     [number("K1", 3), sign("K1")]):
        assert {x.key.partition(" ")[0] for x in unsettled_clashes(both.register, P)} == {
            "sheet", "destroyed"}
        assert put_right(both, "K1 number 3") is None
        assert texts(both.register) == [
            "Books differ on K1: one says destroyed, the other that it still exists"]
        assert put_right(both, "K1 not destroyed") is None
        assert (texts(both.register), on(both, "K1")) == ([], ("3/5", True, False, None))


def test_a_line_of_an_old_paper_is_put_right_also_where_both_books_took_it_in():
    """Its number, its signature; one that was a mistake is no sheet, and can be one again."""
    paper = [a.Recall(P, (a.Recalled("the ledger", 1, signed=True, place="sold"),
                          a.Recalled("the ledger", 2, signed=True)))]
    for home in meet([], paper, paper):
        one, two = (h.sheet for h in home.e.holdings.values())
        assert put_right(home, "1/5 not signed") is None
        assert put_right(home, "1/5 number 3") is None
        assert put_right(home, "3/5 not numbered") is None
        assert find_sheet(home.register, "old:1", P) == one
        assert alone_words(home.held(one)) == "old:1"
        assert put_right(home, "old:1 number 4") is None
        assert put_right(home, "2/5 no such sheet", "the line was read twice") is None
        assert taken_numbers(home.e).free == (1, 2, 3, 5)
        assert two not in home.e.holdings
        assert "There is no sheet old:2: the line was read twice" in home.no(
            sign(two)).why
        assert edition_figures(home.register, P).papers == 1
        assert edition_view(home.register, P).put_right == (
            "old:2: there is no such sheet, as it was recorded: the line was read twice",)
        assert put_right(home, "old:2 number 5") is None
        assert on(home, two) == ("5/5", True, False, None)
        assert texts(home.register) == []


def test_what_was_put_right_in_one_book_is_so_where_the_other_took_in_the_same_line():
    """One book corrects before they meet: the bare copy of the line does not come back."""
    line = a.Recall(P, (a.Recalled("the ledger", 1, signed=True, place="sold"),
                        a.Recalled("the ledger", 2, signed=True)))
    ids = ("edition 1 of slack water, known from the ledger",
           "edition 2 of slack water, known from the ledger")
    right = [line, a.Correct(P, ids[0], SheetLabel("edition", 4), "read again"),
             a.CorrectPlace(P, ids[0], {"place": "given"}, "read again"),
             a.Correct(P, ids[1], a.AS_IT_IS, "read twice", known=False)]
    for both in meet([], right, [line]):
        assert texts(both.register) == []
        assert on(both, ids[0]) == ("4/5", True, False, "given")
        assert list(both.e.holdings) == [ids[0]]


def test_where_it_is_since_when_and_to_whom_take_the_rest_along_where_it_fits():
    """Sold was given: day and name stay. In the drawer: neither was so."""
    s = begun()
    assert put_right(s, "K1 place given") is None
    assert put_right(s, "K1 since 2026-06-02", "a day later") is None
    assert put_right(s, "K1 to Mr Teal", "another") is None
    (found,) = where_number_is(s.register, P, 12, private=True)
    assert found.text == ("12/30 is K1: signed, given, since 2 June 2026; to: Mr Teal; "
                          "corrected: another")
    assert found.corrected == (
        "corrected to given, since 1 June 2026, not sold, since 1 June 2026: looked",
        "corrected to given, since 2 June 2026, not given, since 1 June 2026: a day later")
    public = [e for e in s.entries if not e.stream.endswith("/private")]
    assert "Teal" not in str(public)
    assert "another" not in str(public)
    assert put_right(s, "K1 since not known") is None
    assert put_right(s, "K1 to not known", "nobody remembers") is None
    assert where_number_is(s.register, P, 12)[0].text.endswith("signed, given")
    assert "Teal" not in where_number_is(s.register, P, 12, private=True)[0].text
    assert put_right(s, "K1 place drawer", "never left") is None
    assert edition_figures(s.register, P).left == 0
    told = put_right(s, "K1 to Ms Auk", "she has it")
    assert (told.rule, told.why) == ("place", "K1 is in the drawer, so the book names nobody "
                                     "who has it")
    assert "--to WHO" in told.mend
    assert put_right(s, "K1 note behind the map", "looked") is None
    assert put_right(s, "AP I whose the printer", "a slip") is None
    assert s.held("K3").words["whose"] == "the printer"
    assert put_right(s, "K1 place lost", "not there") is None
    assert where_number_is(s.register, P, 12)[0].text.endswith("lost")


@pytest.mark.parametrize(("said", "rule"), [
    ("K1 number", "use"), ("K1 number twelve", "use"), ("K1 number 0", "use"),
    ("K1 number 12", "already"), ("K1 signed", "already"), ("K5 not void", "number"),
    ("K1 number 14/3", "count"), ("K1 not destroyed", "already"), ("K1 destroyed now", "use"),
    ("K1 not AP", "kind"), ("K1 purpose XX", "use"), ("K1 no such sheet", "known"),
    ("K1 place moon", "place"), ("K1 place", "use"), ("K1 since", "use"),
    ("K1 since 2027-01-01", "day"), ("K1 since 2026-05-01", "day"), ("K1 since soon", "day"),
    ("K1 due 2026-12-01", "due"), ("K1 to Ms Auk", "already"), ("K5 since 2026-06-01", "place"),
    ("K5 to Ms Auk", "place"), ("K4 place drawer", "destroyed"), ("K1 whose me", "kind"),
    ("K1 to", "use"), ("K1 note", "use"), ("K3 whose", "use"),
])
def test_it_is_refused_without_what_it_needs(said, rule):
    """Nothing is written, and the reason is said."""
    s = begun()
    s.e.holdings["K1"]
    written = len(s.entries)
    assert (said, getattr(put_right(s, said), "rule", None)) == (said, rule)
    assert len(s.entries) == written
    assert put_right(s, "K1 not signed", "  ").rule == "reason"


def test_what_can_be_wrong_is_listed_for_the_sheet_in_hand():
    """Only what the book says of it can be wrong."""
    s = begun()

    def listed(sheet: str) -> list[str]:
        return [w.words for w in c.can_be_wrong(s.register, P, sheet)]

    assert listed("K1") == ["number", "purpose", "not numbered", "purpose", "not signed", "place",
                            "since", "to"]
    assert listed("K2")[:5] == ["number", "purpose", "not numbered", "not BAT", "purpose"]
    assert "whose" in listed("K3")
    assert "not destroyed" in listed("K4")
    assert listed("K5") == ["number", "purpose", "purpose"]
    for w in c.ALL:
        assert c.asked_of(w, "K7")
        assert "K7" in c.asked_of(w, "K7")


def test_what_is_told_again_of_where_a_sheet_is_replaces_it_and_stays_seen():
    """Another day, due or name of the same place; to another gallery it goes on."""
    s = begun()

    def now(place: str, **said: object) -> Refusal | None:
        return s.try_(parse_move(s.e, "K1", place, **said))

    assert now("sold", day="2026-06-03") is None
    (found,) = where_number_is(s.register, P, 12, private=True)
    assert (found.text, found.corrected) == (
        "12/30 is K1: signed, sold, since 3 June 2026; to: Ms Auk",
        ("corrected to sold, since 3 June 2026, not sold, since 1 June 2026: told again",))
    assert now("sold", day="2026-06-03", words={"to": "Ms Auk"}).rule == "already"
    assert now("sold").rule == "out"
    assert now("sold", words={"to": "Mr Teal"}) is None
    assert "to: Mr Teal" in where_number_is(s.register, P, 12, private=True)[0].text
    assert now("gallery").rule == "out"
    assert now("drawer", day="2026-06-10") is None
    assert now("gallery", day="2026-06-11", due="2026-08-01", words={"to": "The Quay"}) is None
    assert now("gallery").rule == "already"
    assert now("gallery", due="2026-09-01") is None
    assert where_number_is(s.register, P, 12, private=True)[0].text.endswith(
        "with a gallery, since 11 June 2026, due back 1 Sept 2026; to: The Quay")
    assert now("gallery", day="2026-06-20", words={"to": "The Mole"}) is None
    assert where_number_is(s.register, P, 12, private=True)[0].text.endswith(
        "with a gallery, since 20 June 2026; to: The Mole")
    assert now("lost") is None
    assert now("lost", day="2026-06-25") is None
    assert where_number_is(s.register, P, 12)[0].text.endswith(
        "lost, since 25 June 2026, last with a gallery")
    assert s.held("K1").out
    assert len(c.correction_lines(s.e, s.held("K1"))) == 3
    assert texts(s.register) == []


def test_a_size_that_was_wrong_is_declared_once_nothing_is_signed():
    """It is fixed by the first signature, and free again where that was a mistake."""
    s = begun()
    assert s.no(declared(40)).rule == "signed"
    assert put_right(s, "K1 not signed", "signed too soon") is None
    s.do(declared(40))
    assert put_right(s, "K1 number 12/40", "the total too") is None
    assert put_right(s, "K1 signed", "on the same day") is None
    assert (on(s, "K1"), texts(s.register)) == (("12/40", True, False, "sold"), [])
    assert s.no(declared(50)).rule == "signed"


def test_a_plate_cancelled_and_a_clash_settled_by_mistake_are_open_again():
    """In one book; the other follows, and what it recorded by itself stays until it is said too."""
    cancel = a.CancelPlate(P, "scored")
    wrong = a.ByMistake(P, "plate cancelled", None, "it was the tone plate of another print")
    s = begun()
    assert s.no(wrong).rule == "cancelled"
    s.do(cancel)
    assert "correct plate not cancelled" in s.no(cancel).mend
    s.do(wrong)
    assert first_cancelling(s.register, P) is None
    assert edition_view(s.register, P).put_right == (
        "the plate is not cancelled, as it was recorded: it was the tone plate of another print",)
    s.do(cancel)
    assert first_cancelling(s.register, P) is not None
    for both in meet([cancel], [wrong], [number("K1", 1)]):
        assert (first_cancelling(both.register, P), texts(both.register)) == (None, [])
    for both in meet([], [cancel, wrong], [cancel]):
        assert first_cancelling(both.register, P) is not None
        both.do(wrong)
        assert first_cancelling(both.register, P) is None
    for both in meet([], [number("K1", 1)], [number("K2", 1)]):
        (clash,) = unsettled_clashes(both.register, P)
        both.do(a.Settle(P, clash.key, "marked 1a"))
        assert [x.text for x in settled_clashes(both.register, P)] == [clash.text]
        both.do(a.ByMistake(P, "clash settled", clash.key, "it is not"))
        assert unsettled_clashes(both.register, P) == (clash,)
        assert both.no(a.ByMistake(P, "clash settled", clash.key, "it is not")).rule == "clash"


#: Everything that can be recorded by mistake, in a book that both have: K1 1/5, signed and sold;
#: K2 the BAT; K3 AP I; K4 2/5, destroyed; K5 3/5, void; and two lines of an old paper.
_RECORDED = [
    number("K1", 1), sign("K1"), a.HandOut(P, "K1", "gallery", "consignment", "2026-05-03",
                                           "2026-12-16", {"to": "Ms Auk"}),
    a.GiveProof(P, "K2", "BAT"), a.GiveProof(P, "K3", "AP", whose="the artist"),
    number("K4", 2), a.Destroy(P, "K4", "torn"), number("K5", 3), a.VoidNumber(P, 3, "slip"),
    a.Recall(P, (a.Recalled("the ledger", 4, signed=True, place="sold"),
                 a.Recalled("the ledger", 2, "AP", signed=True)))]
_MISTAKES = (
    "K1 number 5/5", "K1 not signed", "K1 not numbered", "K1 place drawer", "K1 place sold",
    "K1 since not known", "K1 due 2027-01-01", "K1 terms sale or return", "K1 to Mr Teal",
    "K1 purpose PP 1", "K2 not BAT", "K2 purpose AP 3", "K3 whose the printer", "K3 number AP 4",
    "K4 not destroyed", "K4 number 5", "K5 not void", "K5 number 5", "old:4 not signed",
    "old:4 number 5", "old:4 no such sheet", "old:4 place given", "old:AP 2 purpose PP 1",
    "old:AP 2 not numbered")


def _told(s: Studio) -> tuple[object, ...]:
    """All that the book has of the edition but its clashes, and how often it was put right."""
    e = s.e
    sheets = {h.sheet: (
        h.bears, h.signed is not None, h.destroyed is not None, dict(h.words), None
        if h.place is None else (h.place.place, h.place.day, h.place.due, h.place.terms,
                                 dict(h.words_at(h.place)))) for h in e.holdings.values()}
    return sheets, taken_numbers(e), sorted(e.withdrawn), edition_figures(s.register, P)


@pytest.mark.parametrize("said", _MISTAKES)
def test_no_mistake_comes_back_with_another_book(said):
    """Put right before they meet, after, or in both: in either order it is as in one book alone."""
    meanwhile = a.Put(P, "K6", "framed")
    before, home, away = parted(_RECORDED, [], [])
    known, was = len(before.entries), _told(home)
    away.do(meanwhile)
    assert put_right(home, said) is None
    assert _told(home) != was
    alone = Studio(*SHEETS, book=home.entries)
    alone.written = 50
    alone.do(meanwhile)
    wanted = _told(alone)

    early = together(home, away, known)
    for both in meet(_RECORDED, [a.Put(P, "K7", "drawer"), a.Put(P, "K7", "boards")], [meanwhile]):
        assert put_right(both, said) is None  # after they met; then the other takes that in
        early += (replay_register(both.entries, "home", both.register.sheets),)
    assert put_right(away, said) is None
    for register in (*early[:2], *together(home, away, known)):
        s = Studio(*SHEETS)
        s.register = register
        assert texts(register) == []
        assert _told(s) == wanted


def test_a_place_put_right_alike_in_two_books_is_one_and_keeps_both_names():
    """Two books that each gave the sheet away differ; two that say what one handing out was don't.

    Where they name different people both names are shown.
    """
    out, sold = [a.HandOut(P, "K1", "gallery")], a.HandOut(P, "K1", "sold")

    def was_sold(to: str) -> list[a.Action]:
        return [a.CorrectPlace(P, "K1", {"place": "sold"}, "looked", {"to": to})]

    for both in meet(out, was_sold("Ms Auk"), was_sold("Mr Teal")):
        assert texts(both.register) == []
        (found,) = both.register.edition(P).holdings["K1"].stays[1:]
        assert both.held("K1").words_at(found)["to"] == "Mr Teal or Ms Auk"
        both.do(a.TakeIn(P, "K1"))
        assert both.held("K1").out is False
    for both in meet(out, [sold], [sold]):
        assert texts(both.register) == ["Books differ on where K1 is: sold / sold"]
