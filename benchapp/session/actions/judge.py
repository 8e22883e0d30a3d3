"""What is said of a sheet: its verdict, tags and mark, and that it is looked at again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.field_types import ABSENT, Absent
from benchapp.events.impression import (
    ImpressionEnded,
    ImpressionJudged,
    MarkedToLookAgain,
    NoteWritten,
    SheetMarked,
    TagPutOn,
    TagTakenOff,
)
from benchapp.events.words import SheetEndWord
from benchapp.session import paper
from benchapp.session.actions.asking import (
    AskContext,
    ChoiceQuestion,
    LineQuestion,
    Reply,
    TagQuestion,
)
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import (
    NotUnderstood,
    ParseContext,
    ParsedLine,
    choose_word,
    join_choices,
)
from benchapp.session.actions.typed_names import only_sheet, sheet_and_text
from benchapp.session.annotate import (
    NO_SHEET,
    drop_running,
    end_as_it_is,
    in_hand,
    judged_now,
    judged_sheet,
    noted_sheet,
    sheet_name,
    tagged_sheet,
    this_try,
    try_words,
)
from benchapp.session.auto_steps import draft_auto_steps, marks_given
from benchapp.session.context import SessionContext
from benchapp.session.marks import read_mark
from benchapp.session.state import SPOILED_TRY, Impression, Session, Verdict
from benchapp.session.tags import fitting_tags, groups_of, tag_menu, used_tags

__all__ = ["GiveMark", "Judge", "LookAgain", "SpoilTry", "Tag"]


@dataclass(frozen=True, slots=True)
class Judge(Action):
    """Keep, doubtful or spoiled; None takes the verdict away again."""

    verdict: Verdict | None
    impression: int | None = None


@dataclass(frozen=True, slots=True)
class SpoilTry(Action):
    """The try named ends before its pull. `why` may be empty; `lost`: so is its sheet."""

    impression: int
    why: str = ""
    lost: bool = False


@dataclass(frozen=True, slots=True)
class Tag(Action):
    """Put a tag on, or take it off."""

    tag: str
    impression: int | None = None
    off: bool = False


@dataclass(frozen=True, slots=True)
class LookAgain(Action):
    """Mark the impression in hand, or the last pulled, to be looked at again."""

    impression: int | None = None


@dataclass(frozen=True, slots=True)
class GiveMark(Action):
    """Give the sheet another mark. `taken_by` names the sheet of the book that has it already."""

    mark: str
    impression: int | None = None
    taken_by: str | None = None


def _tag_sheet(page: SessionContext, action: Tag) -> Refusal | None:
    """Put a tag on, or take it off: one that is not there cannot be taken off."""
    s = page.s
    meant = tagged_sheet(s) if action.impression is None else s.impression(action.impression)
    if meant is None:
        return NO_SHEET
    if not action.tag.strip():
        return Refusal("The tag is empty", "write tag and the word")
    has = action.tag in meant.tags
    if action.off and not has:
        there = ", ".join(meant.tags) or "none"
        return Refusal(f"{sheet_name(meant)} has no tag {action.tag}", f"its tags: {there}")
    if not action.off and has:
        return Refusal(f"{sheet_name(meant)} has the tag {action.tag} already",
                       "nothing was changed")
    tagged = TagTakenOff if action.off else TagPutOn
    page.emit(tagged(impression=meant.ordinal, tag=action.tag))
    return None


def _judge_sheet(page: SessionContext, action: Judge) -> Refusal | None:
    """A verdict; spoiled before its pull ends the try and gives no number."""
    s = page.s
    tried = this_try(s) if action.verdict == "spoiled" and action.impression is None else None
    if tried is not None:
        _spoil_before_pull(page, tried)
        return None
    meant = judged_sheet(s, action.impression)
    if meant is None or not meant.pulled:
        return NO_SHEET
    page.emit(ImpressionJudged(impression=meant.ordinal, verdict=action.verdict))
    if meant.ended is not None and not page.state.guest(s.id):
        end_as_it_is(page, meant, action.verdict)
    draft_auto_steps(page)
    return None


def _spoil_try(page: SessionContext, action: SpoilTry) -> Refusal | None:
    """The try named ends before its pull, with the reason where one was given."""
    imp = page.s.impression(action.impression)
    if imp is None or imp.pulled or imp.ended is not None:
        was = "That try" if imp is None or imp.mark is None else imp.mark
        return Refusal(f"{was} is no longer waiting for its pull", "press s to judge the sheet")
    if action.lost and not imp.sheets:
        return Refusal("This try has no damp sheet yet", "write spoiled alone")
    _spoil_before_pull(page, imp, action.why.strip(), lost=action.lost)
    return None


def _spoil_before_pull(page: SessionContext, imp: Impression, why: str = "", *,
                       lost: bool = False) -> None:
    """Draft that a try is given up: its sheet goes back into its pack unless it is lost."""
    packs = () if lost else paper.packs_of_try(page, imp)
    sheet: SheetEndWord | Absent = "lost" if lost else "back" if packs else ABSENT
    drop_running(page, imp.ordinal)
    page.emit(ImpressionEnded(impression=imp.ordinal, how=SPOILED_TRY, sheet=sheet))
    if why:
        page.emit(NoteWritten(impression=imp.ordinal, text=why))
    paper.give_back(page, imp.ordinal, packs)
    draft_auto_steps(page)


def _give_mark(page: SessionContext, action: GiveMark) -> Refusal | None:
    """A mark already on the sheet; two sheets never bear one."""
    meant = judged_sheet(page.s, action.impression)
    if meant is None or not meant.pulled:
        return NO_SHEET
    if action.taken_by is not None:
        return Refusal(f"{action.mark} is {action.taken_by}", "a mark is used once in the book")
    mark = read_mark(action.mark) or action.mark.strip()
    if not mark:
        return Refusal("The mark is empty", "write mark and what is pencilled on the sheet")
    if mark == meant.mark:
        return Refusal(f"The sheet has the mark {mark} already", "nothing was changed")
    if mark in marks_given(page.state):
        return Refusal(f"{mark} is on another sheet", "a mark is used once in the book")
    page.emit(SheetMarked(impression=meant.ordinal, mark=mark))
    return None


def _mark_to_look_again(page: SessionContext, action: LookAgain) -> Refusal | None:
    """To be looked at again: the sheet named, in hand, or last pulled."""
    s = page.s
    meant = noted_sheet(s) if action.impression is None else s.impression(action.impression)
    if meant is None:
        return NO_SHEET
    if meant.look_again:
        return Refusal(f"{sheet_name(meant)} is already marked to look at again",
                       "nothing was changed")
    page.emit(MarkedToLookAgain(impression=meant.ordinal))
    return None


def _says(verdict: Verdict) -> Callable[[Judge | SpoilTry], bool]:
    """Whether an action gives that verdict; a try given up is spoiled."""
    return lambda action: verdict == (
        action.verdict if isinstance(action, Judge) else "spoiled")


# -- what the keys ask -------------------------------------------------------------------


def _ask_spoiled(ask: AskContext) -> Reply:
    """Judge the sheet pulled; of a try that waits for its pull ask why, and after its sheet."""
    tried = this_try(ask.s)
    if tried is None:
        return Judge("spoiled")
    # Of this try, whatever goes through the press while the line stands open.
    ordinal = tried.ordinal

    def back(why: str) -> Action:
        return SpoilTry(ordinal, why)

    # The first counts unless the printer says the other.
    sheet = (("its sheet goes back into its pack", back),
             ("its sheet is lost", lambda why: SpoilTry(ordinal, why, lost=True)))
    return ask.why_not(SpoilTry(ordinal)) or LineQuestion(
        "Why is this try spoiled", back, about="may stay empty", empty=True,
        choices=sheet if any(tried.sheets) else (), draft=f"spoiled {ask.s.id} {ordinal}")


def _ask_tag(ask: AskContext) -> Reply:
    """A closed word, put on or taken off."""
    meant = tagged_sheet(ask.s)
    if meant is None:
        return ChoiceQuestion("Tag", (), none="No sheet is in hand yet")
    name = meant.mark or f"the {try_words(meant)}"
    return TagQuestion(
        name, tag_menu(ask.s.recipe), used_tags(ask.room.journal, ask.s), meant.tags,
        lambda tag: Tag(tag, meant.ordinal, off=tag in meant.tags))


# -- what the words take ------------------------------------------------------------------


def _read_verdict(verdict: Verdict | None) -> Callable[[ParseContext, str], ParsedLine]:
    def read(ears: ParseContext, rest: str) -> ParsedLine:
        session, ordinal = only_sheet(ears, rest)
        return ParsedLine(Judge(verdict, ordinal), session)

    return read


def _read_spoiled(ears: ParseContext, rest: str) -> ParsedLine:
    """`spoiled lost`: this try, and its sheet with it; else a verdict as others are."""
    if rest.casefold() != "lost":
        return _read_verdict("spoiled")(ears, rest)
    tried = this_try(ears.s)
    if tried is None:
        raise NotUnderstood("No try is waiting for its pull; write spoiled and the sheet's mark")
    return ParsedLine(SpoilTry(tried.ordinal, lost=True))


def _read_tag(ears: ParseContext, rest: str, *, off: bool = False) -> ParsedLine:
    session, ordinal, said = sheet_and_text(ears, rest)
    s = ears.s if session is None else ears.room.sessions.get(session, ears.s)
    known = [tag for group in groups_of(s.recipe).values() for tag in group]
    if not said:
        raise NotUnderstood(f"Which tag? {join_choices(known, 100)}")
    if off:
        sheet = tagged_sheet(s) if ordinal is None else s.impression(ordinal)
        known = list(sheet.tags) if sheet is not None and sheet.tags else known
    tag = choose_word(said, known, "tag", offered=fitting_tags(s.recipe, known))
    return ParsedLine(Tag(tag, ordinal, off=off), session)


def _read_mark(ears: ParseContext, rest: str) -> ParsedLine:
    session, ordinal, new = sheet_and_text(ears, rest)
    if not new:
        raise NotUnderstood("Write: mark and what is pencilled on the sheet")
    return ParsedLine(GiveMark(read_mark(new) or new, ordinal), session)


def _of(verdict: Verdict) -> Callable[[Session], str]:
    """A verdict names its sheet where that is not the one just pulled."""
    def words(s: Session) -> str:
        sheet = judged_now(s, verdict)
        return f"{verdict}: {sheet}" if sheet else verdict

    return words


_JUDGE: Final = Rule(Judge, _judge_sheet, closed=True, guest=True)
_TAG: Final = Rule(Tag, _tag_sheet, closed=True, guest=True)

SPECS: Final = (
    ActionSpec("look again", (Rule(LookAgain, _mark_to_look_again, closed=True, guest=True),),
               "Mark this sheet to look at it again", "[MARK]",
               key="l", inky=True, makes=LookAgain(), of_sheet=True, use=17),
    ActionSpec("keep", (_JUDGE,), "A good impression", "[MARK]", key="k", of=_says("keep"),
               makes=Judge("keep"), of_sheet=True, use=1, foot=_of("keep")),
    ActionSpec("doubtful", (_JUDGE,), "Decide on it later", "[MARK]", key="d",
               of=_says("doubtful"), makes=Judge("doubtful"), of_sheet=True, use=2,
               foot=_of("doubtful")),
    ActionSpec("spoiled", (_JUDGE, Rule(SpoilTry, _spoil_try)),
               "Spoiled; before its pull it ends this try (lost: its sheet too)", "[MARK|lost]",
               key="s", of=_says("spoiled"), use=3, foot=_of("spoiled"),
               tries=lambda room, s, now: [Judge("spoiled")],
               asks=_ask_spoiled, reads=_read_spoiled),
    ActionSpec("tag", (_TAG,), "A fixed label for what you see", "[MARK] TAG", key="t",
               of=lambda action: not action.off, use=4,
               possible=lambda room, s, now: (
                   judged_sheet(s, None) is not None or in_hand(s) is not None),
               asks=_ask_tag, reads=_read_tag),
    ActionSpec("untag", (_TAG,), "Take a tag off", "[MARK] TAG", of=lambda action: action.off,
               reads=lambda ears, rest: _read_tag(ears, rest, off=True)),
    ActionSpec("mark", (Rule(GiveMark, _give_mark, closed=True, guest=True),),
               "Give the sheet another mark", "[MARK] NEW", reads=_read_mark),
    ActionSpec("not judged", (_JUDGE,), listed=False, of=lambda action: action.verdict is None,
               reads=_read_verdict(None)),
)
