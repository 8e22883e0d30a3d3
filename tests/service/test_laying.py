"""Sheets laid to dry join a stack in the same action, and leave it when that is taken back."""

from __future__ import annotations

from benchapp.drying.actions import Lift, TakeDown
from benchapp.drying.dryness import DryStep
from benchapp.drying.stacks import Boards, replay_boards
from benchapp.edition import actions as acts
from benchapp.events.entry import Draft
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session import fold as session_fold
from benchapp.views.messages import describe_change
from tests.service.edition_days import PEAR, Studio, pear

DRYING = "  - {do: Change blotters, after: 3 h}\n  - {do: Turn them, every: 1 day, for: 2 days}"


def stacks_of(studio: Studio) -> Boards:
    """The stacks, from the book alone."""
    return replay_boards(studio.book.entries(streams=studio.book.streams("stack")))


def at_the_bench(studio: Studio, text: str = "") -> None:
    """A day begun, its `before` done, and sheets pulled until two lie in a stack."""
    assert studio.workshop.open_session("three-steps", text or pear(drying=DRYING)).ok
    while not any(len(x.lying) == 2 for x in stacks_of(studio).stacks.values()):
        studio.clock.advance(120_000)
        assert studio.workshop.do(a.GoOn()).ok


def test_a_day_lies_in_one_stack_with_the_changes_of_its_recipe() -> None:
    """Every sheet in the order laid, each in the action in which it was laid to dry."""
    studio = Studio()
    day = studio.day(pear(drying=DRYING), 2)
    (stack,) = stacks_of(studio).stacks.values()
    assert (stack.id, stack.name) == (f"{day}.1", "Pear on a Sill, 2026-05-03")
    assert [x.mark for x in stack.sheets] == ["D4", "D3", "D2", "D1"]
    assert [x.sheet for x in stack.lying] == [f"{day}#{n}" for n in (1, 2, 3, 4)]
    assert stack.drying == (DryStep("Change blotters", after_ms=3 * 3_600_000),
                            DryStep("Turn them", every_ms=86_400_000, for_ms=2 * 86_400_000))
    entries = studio.book.entries()
    laid = [e.action for e in entries if e.kind == "laid"]
    assert laid == [e.action for e in entries if e.kind == "laid to dry"]


def test_two_days_lie_in_two_stacks() -> None:
    """The second day's sheets do not put off the changes of the first."""
    studio = Studio()
    studio.day(wanted=1)
    studio.day(wanted=1)
    assert [[x.mark for x in s.lying] for s in stacks_of(studio).stacks.values()] == [
        ["D1", "D2", "D3"], ["E1", "E2", "E3"]]


def test_a_tread_taken_back_takes_its_sheet_out_of_the_stack() -> None:
    """And the next tread lays it again, on top, once."""
    studio = Studio()
    at_the_bench(studio)
    assert studio.workshop.do(a.TakeBack()).ok
    assert [[x.mark for x in s.sheets] for s in stacks_of(studio).up] == [["D1"]]
    studio.clock.advance(60_000)
    assert studio.workshop.do(a.GoOn()).ok
    assert [[x.mark for x in s.sheets] for s in stacks_of(studio).up] == [["D2", "D1"]]


def test_the_stack_goes_on_after_the_program_was_away() -> None:
    """A new program lays into the stack that is there, not into another."""
    studio = Studio()
    at_the_bench(studio)
    studio.workshop = SessionService(studio.book, studio.clock)
    assert studio.workshop.resume_session(studio.book.sessions()[-1]).ok
    while len(next(iter(stacks_of(studio).stacks.values())).lying) < 3:
        studio.clock.advance(120_000)
        assert studio.workshop.do(a.GoOn()).ok
    assert len(stacks_of(studio).stacks) == 1


def test_a_stack_taken_down_in_the_middle_of_a_day_is_followed_by_another() -> None:
    """What is laid after it begins a second one of the same session."""
    studio = Studio()
    at_the_bench(studio)
    editions = EditionService(studio.book, studio.clock)
    assert editions.on_boards(TakeDown(next(iter(editions.boards.stacks)))).ok
    while len(stacks_of(studio).stacks) < 2:
        studio.clock.advance(120_000)
        assert studio.workshop.do(a.GoOn()).ok
    second = list(stacks_of(studio).stacks.values())[1]
    assert second.id.endswith(".2")
    assert [x.mark for x in second.sheets] == ["D3"]


def lying(studio: Studio) -> list[str]:
    """The marks in the stacks, each from the top down."""
    return [x.mark for s in stacks_of(studio).up for x in s.sheets]


def test_a_spoiled_sheet_is_not_under_the_boards() -> None:
    """Judged before it is laid, after it, and after the day; judged anew it lies where it lay."""
    studio = Studio()
    at_the_bench(studio)
    shop, sid = studio.workshop, studio.workshop.room.session.id
    last = stacks_of(studio).up[0].last
    while shop.room.session.impression(3) is None or not shop.room.session.impression(3).pulled:
        studio.clock.advance(120_000)
        assert shop.do(a.GoOn()).ok
    assert shop.do(a.Judge("spoiled")).ok
    studio.clock.advance(120_000)
    told = shop.do(a.GoOn())
    assert "D3 is spoiled: set aside, not under the boards" in describe_change(
        shop.room, shop.room, told.entries)
    assert (lying(studio), stacks_of(studio).up[0].last) == (["D2", "D1"], last)

    told = shop.do(a.Judge("spoiled", 2))
    assert describe_change(shop.room, shop.room, told.entries) == (
        "D2: spoiled", "D2 is no longer under the boards")
    assert lying(studio) == ["D1"]
    assert shop.do(a.TakeBack()).ok
    assert lying(studio) == ["D2", "D1"]
    assert shop.do(a.Judge("spoiled", 2)).ok
    assert shop.do(a.Judge("keep", 2)).ok
    assert (lying(studio), stacks_of(studio).up[0].last) == (["D2", "D1"], last)
    assert shop.do(a.TakeBack()).ok
    assert lying(studio) == ["D1"], "it is spoiled as before"
    assert shop.do(a.Judge(None, 2)).ok
    assert lying(studio) == ["D2", "D1"]
    whole = session_fold.replay_entries(studio.book.entries()).sessions[sid]
    assert whole.actions == shop.room.session.actions, "put back, but no verdict was undone"

    assert shop.do(a.Enough()).ok
    while shop.room.session.closed is None:
        studio.clock.advance(120_000)
        if not shop.do(a.GoOn()).ok:
            assert shop.do(a.Must(None)).ok
    for verdict, there in (("spoiled", ["D4", "D2"]), ("doubtful", ["D4", "D2", "D1"])):
        assert SessionService(studio.book,
                              studio.clock).do(a.Judge(verdict, 1), session=sid).ok is False
        shop.look_at(sid)
        assert shop.do(a.Judge(verdict, 1), session=sid).ok
        assert lying(studio) == there
    assert studio.book.verify() == []


def test_a_sheet_lifted_by_hand_stays_out_whatever_it_is_judged() -> None:
    """Only what the verdict took out does it bring back."""
    studio = Studio()
    at_the_bench(studio)
    editions = EditionService(studio.book, studio.clock)
    (stack,) = editions.boards.up
    assert editions.on_boards(Lift(stack.id, stack.sheets[0].sheet)).ok
    for verdict in ("spoiled", "keep"):
        assert studio.workshop.do(a.Judge(verdict, 2)).ok
        assert lying(studio) == ["D1"]


def test_a_pull_is_not_taken_back_once_its_sheet_has_a_number() -> None:
    """The number was given meanwhile: the pull stays, and why is said."""
    studio = Studio()
    workshop = studio.workshop
    assert workshop.open_session("three-steps", pear()).ok
    while not any(i.pulled for i in workshop.room.session.impressions):
        studio.clock.advance(120_000)
        assert workshop.do(a.GoOn()).ok
    sheet = f"{workshop.room.session.id}#1"
    editions = EditionService(studio.book, studio.clock)
    assert editions.do(acts.GiveProof(PEAR, sheet, "AP")).ok
    refused = workshop.do(a.TakeBack()).refusal
    assert str(refused) == ("That sheet stays: it is AP I/I of Pear on a Sill; "
                            "take its number back first")
    assert editions.do(acts.TakeNumberBack(PEAR, sheet)).ok
    assert workshop.do(a.TakeBack()).ok
    assert not any(i.pulled for i in workshop.room.session.impressions)


def test_the_book_stays_whole() -> None:
    """The chains of entries hold over all streams."""
    studio = Studio()
    at_the_bench(studio)
    assert studio.workshop.do(a.TakeBack()).ok
    assert studio.book.verify() == []


def test_a_stack_that_was_over_and_goes_on_is_there_again() -> None:
    """Known to be empty when the book was put away; then a sheet is laid into it after all."""
    studio = Studio()
    day = studio.day(pear(drying=DRYING), 1)
    editions = EditionService(studio.book, studio.clock)
    lying = [x.sheet for x in editions.boards.stacks[f"{day}.1"].sheets]
    for sheet in lying:
        assert editions.on_boards(Lift(f"{day}.1", sheet)).ok
    assert editions.on_boards(TakeDown(f"{day}.1")).ok
    studio.book.derive()
    shop = SessionService(studio.book, studio.clock)
    assert shop.stacks().stacks == {}
    (down,) = [e.action for e in studio.book.entries() if e.kind == "taken down"]
    body = {"stack": f"{day}.1", "action": down, "over": []}
    undone = Draft(f"stack/{day}.1", "taken back", body)
    studio.book.append([undone], studio.clock.now(), "back")
    assert [x.id for x in shop.stacks().up] == [f"{day}.1"]
    assert shop.stacks() == stacks_of(studio)
