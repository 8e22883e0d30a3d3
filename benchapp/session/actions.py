"""Everything a printer can do, and the one registry of it.

The footer, the help screen, README's table of keys and the words of `--plain`
all come from `REGISTRY`. An action is a value; `decide.decide` says what it does.
An `impression` left None means the one the action would be about by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from benchapp.session.spec import ActionSpec as ActionSpec
from benchapp.session.state import TaskKey, Verdict


@dataclass(frozen=True, slots=True)
class Open:
    """Open a session. `id` and `letters` are the edge's: unique in the book.

    `cancelled`: how and when its plate was cancelled; None: it was not.
    `reworked`: the plates that were reworked on an earlier day, so that the state the recipe
    says is not known to be theirs.
    `typed`: said in words, by hands that are clean enough for a keyboard; they stay
    what they were, so the first clean step asks for the wash.
    """

    id: str
    name: str
    letters: str
    recipe: str
    recipe_text: str
    recipe_sha256: str
    wanted: int | None = None
    typed: bool = False
    cancelled: str | None = None
    reworked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Continue:
    """The program comes back to an open session, last seen alive at `last_seen_ms` (wall)."""

    last_seen_ms: int | None = None


@dataclass(frozen=True, slots=True)
class Tick:
    """Time passed. `writing`: a text is being written, so no hands turn inky by it."""

    writing: bool = False


@dataclass(frozen=True, slots=True)
class Sounded:
    """These calls sounded by themselves: they were foreseen, and time was not looked at since."""

    calls: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GoOn:
    """Go on: one tread."""


@dataclass(frozen=True, slots=True)
class TakeBack:
    """Take the last action back."""


@dataclass(frozen=True, slots=True)
class LookAgain:
    """Mark the impression in hand, or the last pulled, to be looked at again."""

    impression: int | None = None


@dataclass(frozen=True, slots=True)
class Pause:
    """Hands counts stand still; waits go on."""


@dataclass(frozen=True, slots=True)
class Resume:
    """Hands counts go on."""


@dataclass(frozen=True, slots=True)
class Note:
    """Free text. `to`: `session` puts it on the session whatever is in hand."""

    text: str
    impression: int | None = None
    to: Literal["impression", "session"] = "impression"


@dataclass(frozen=True, slots=True)
class Tag:
    """Put a tag on, or take it off."""

    tag: str
    impression: int | None = None
    off: bool = False


@dataclass(frozen=True, slots=True)
class Judge:
    """Keep, doubtful or spoiled; None takes the verdict away again."""

    verdict: Verdict | None
    impression: int | None = None


@dataclass(frozen=True, slots=True)
class SpoilTry:
    """The try named ends before its pull. `why` may be empty; `lost`: so is its sheet."""

    impression: int
    why: str = ""
    lost: bool = False


@dataclass(frozen=True, slots=True)
class SayFor:
    """What the pull is for: edition, TP, WP, SP, warm-up or ghost.

    Attributes:
        why: Why what was said before is not so; None: nothing is put right.
    """

    purpose: str
    state: str | None = None
    impression: int | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Ghost:
    """The next pull is without inking."""


@dataclass(frozen=True, slots=True)
class ReworkPlate:
    """A plate is in another state; `what` was done to it."""

    plate: str | None
    state: str | None
    what: str | None = None


@dataclass(frozen=True, slots=True)
class TakeReading:
    """A named value; `unit` None takes the recipe's."""

    name: str
    value: str
    unit: str | None = None
    impression: int | None = None


@dataclass(frozen=True, slots=True)
class Set:
    """A setting in force from the next pull on."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class SetAsBefore:
    """What another session set since is set again as this print had it, for the next pull."""


@dataclass(frozen=True, slots=True)
class GiveMark:
    """The sheet has another mark. `taken_by` names the sheet of the book that has it already."""

    mark: str
    impression: int | None = None
    taken_by: str | None = None


@dataclass(frozen=True, slots=True)
class SkipStep:
    """Pass a step by: in progress or next, or `key`, which may come yet; `off`: it is not."""

    why: str
    key: TaskKey | None = None
    off: bool = False


@dataclass(frozen=True, slots=True)
class Redo:
    """Do an earlier step of the impression in hand again, and those after it."""

    step: str


@dataclass(frozen=True, slots=True)
class Here:
    """I am here: jump to a later step of the impression in hand."""

    step: str


@dataclass(frozen=True, slots=True)
class Extend:
    """Give a wait more time: the one named, else the one that is calling or ends first."""

    by_ms: int
    key: TaskKey | None = None


@dataclass(frozen=True, slots=True)
class StartClock:
    """A clock started on the spot."""

    ms: int
    name: str


@dataclass(frozen=True, slots=True)
class Choose:
    """Do this step next: now, or `then`, once the one in hand is done."""

    key: TaskKey
    then: bool = False


@dataclass(frozen=True, slots=True)
class DampPack:
    """A pack went in now, of so many sheets; None: not counted."""

    sheets: int | None = None


@dataclass(frozen=True, slots=True)
class SheetsOut:
    """The sheets are out of the water now: of the pack named, or the oldest there."""

    pack: str | None = None


@dataclass(frozen=True, slots=True)
class MoveSheet:
    """A sheet out of its pack, back in it, sprayed, or dried unprinted."""

    what: Literal["out", "back", "sprayed", "dried"]
    pack: str | None = None


@dataclass(frozen=True, slots=True)
class SetWanted:
    """How many counting impressions this session should give; None: until enough."""

    wanted: int | None


@dataclass(frozen=True, slots=True)
class Enough:
    """Begin no further impression."""


@dataclass(frozen=True, slots=True)
class OneMore:
    """Print one more that counts."""


@dataclass(frozen=True, slots=True)
class End:
    """Stop this impression after the pull it has had."""


@dataclass(frozen=True, slots=True)
class Helper:
    """A clean-handed helper joins, or leaves."""

    joins: bool
    name: str | None = None


@dataclass(frozen=True, slots=True)
class Mute:
    """One clock, or all that call now, stays silent: for a time, or until it is answered."""

    call: str | None = None
    ms: int | None = None


@dataclass(frozen=True, slots=True)
class AnswerCall:
    """Answer one call and nothing else; None: the most harmful. The end of a wait ends it."""

    call: str | None = None


@dataclass(frozen=True, slots=True)
class LeftOff:
    """The sentence shown first at resume."""

    text: str


@dataclass(frozen=True, slots=True)
class Must:
    """The fact of a step (None: the one in hand), also of a closed session; None: not said."""

    fact: str | None
    step: str | None = None


@dataclass(frozen=True, slots=True)
class LeaveStep:
    """Leave an after step to another session: in progress, or `key`; `off`: it is not left."""

    to: str
    key: TaskKey | None = None
    off: bool = False


@dataclass(frozen=True, slots=True)
class Explain:
    """Why a step took so long: took that long, away, or forgot to tread."""

    answer: Literal["took", "away", "forgot"]
    key: TaskKey | None = None


@dataclass(frozen=True, slots=True)
class SwitchSession:
    """Another open session comes to the Bench. `typed` as for `Open`."""

    to: str
    typed: bool = False


@dataclass(frozen=True, slots=True)
class CanEmptied:
    """The rag can was emptied, said the morning after."""


@dataclass(frozen=True, slots=True)
class Discard:
    """Close a session in which nothing was pulled, and put it out of the lists."""


Action = (
    Open | Continue | Tick | Sounded | GoOn | TakeBack | LookAgain | Pause | Resume | Note | Tag
    | Judge | SpoilTry | SayFor | Ghost | ReworkPlate | TakeReading | Set | SetAsBefore | GiveMark
    | SkipStep | Redo | Here | Extend | StartClock | Choose | DampPack | SheetsOut | MoveSheet
    | SetWanted | Enough | OneMore | End | Helper | AnswerCall | Mute | LeftOff | Must | LeaveStep
    | Explain | SwitchSession | CanEmptied | Discard
)


REGISTRY: Final = (
    ActionSpec("go on", (GoOn,), "One tread: answer the call, end the step, begin the next",
               inky=True),
    ActionSpec("back", (TakeBack,), "Take the last action back", key="backspace", inky=True),
    ActionSpec("look again", (LookAgain,), "Mark this sheet to be looked at again", "[MARK]", "l",
               True),
    ActionSpec("pause", (Pause,), "Stop the hands' counts; waits go on", key="p", inky=True),
    ActionSpec("resume", (Resume,), "Go on after a pause", inky=True),
    ActionSpec("keep", (Judge,), "A good one", "[MARK]", "k"),
    ActionSpec("doubtful", (Judge,), "To be decided later", "[MARK]", "d"),
    ActionSpec("spoiled", (Judge, SpoilTry),
               "Spoiled; before its pull this try ends (lost: its sheet is lost)", "[MARK|lost]",
               "s"),
    ActionSpec("tag", (Tag,), "A fixed label for what you see", "[MARK] TAG", "t"),
    ActionSpec("untag", (Tag,), "Take a tag off", "[MARK] TAG"),
    ActionSpec("note", (Note,), "Free text", "[MARK|session] TEXT", "n"),
    ActionSpec("reading", (TakeReading,), "A named value, or a grade", "[MARK] NAME VALUE [UNIT]",
               "g"),
    ActionSpec("for", (SayFor,), "What the pull is for: edition, TP, WP, SP STATE, warm-up, ghost, "
               "cancellation proof", "[MARK] FOR", "f"),
    ActionSpec("ghost", (Ghost,), "The next pull is without inking", key="h"),
    ActionSpec("mark", (GiveMark,), "The sheet has another mark", "[MARK] NEW"),
    ActionSpec("state", (ReworkPlate,), "The state a plate is in", "[PLATE] STATE"),
    ActionSpec("reworked", (ReworkPlate,), "A plate was reworked", "[PLATE] STATE: WHAT", "w"),
    ActionSpec("set", (Set, SetAsBefore), "A setting in force from the next pull on",
               "NAME: VALUE|as before", "e"),
    ActionSpec("here", (Here,), "Jump here: the steps before count as done, untimed", "STEP", "i"),
    ActionSpec("next", (Choose,), "Do this step next, or after the one in hand (then)",
               "[then] STEP", "o"),
    ActionSpec("redo", (Redo,), "Do an earlier step of this impression again", "STEP", "r"),
    ActionSpec("skip", (SkipStep,), "Skip this step, or an inky one that comes",
               "[STEP:] WHY|not STEP",
               "x"),
    ActionSpec("extend", (Extend,), "Give a wait more time", "TIME", "plus"),
    ActionSpec("time", (StartClock,), "Start a clock", "TIME NAME", "c"),
    ActionSpec("damped", (DampPack,), "A pack went in", "[SHEETS]", "a"),
    ActionSpec("out", (SheetsOut,), "The sheets are out of the water", key="u"),
    ActionSpec("sheet", (MoveSheet,), "A sheet: out of its pack, back, sprayed, dried",
               "out|back|sprayed|dried", "y"),
    ActionSpec("wanted", (SetWanted,), "How many counting impressions this session should give",
               "N|none",
               "b"),
    ActionSpec("enough", (Enough,), "Begin no further impression", key="q"),
    ActionSpec("one more", (OneMore,), "Print one more that counts", key="m"),
    ActionSpec("end", (End,), "Stop this impression after the pull it has had", key="z"),
    ActionSpec("helper", (Helper,), "A clean-handed helper joins or leaves", "[NAME]|leaves", "j"),
    ActionSpec("answer", (AnswerCall,), "Answer what calls, and do nothing else", inky=True),
    ActionSpec("mute", (Mute,), "Silence what calls now", "[TIME]", "v"),
    ActionSpec("left off", (LeftOff,), "A sentence to read first when you come back", "TEXT",
               "full_stop"),
    ActionSpec("took", (Explain,), "Why a step ran so long", "long|away|forgot"),
    ActionSpec("left to", (LeaveStep,),
               "Leave a closing step, this or a later one, to another session",
               "[SESSION|here][: STEP]", "greater_than_sign"),
    ActionSpec("switch", (SwitchSession,), "Bring another open session to the Bench", "SESSION",
               "tab"),
    ActionSpec("can emptied", (CanEmptied,), "The rag can was emptied"),
    ActionSpec("discard", (Discard,), "Discard a session in which nothing was pulled", "yes"),
)

#: Words of actions nobody types: they are in entries only.
UNSPOKEN: Final = {Open: "run", Continue: "resume session", Tick: "time passed",
                   Sounded: "sounded", Must: "must"}


def word_of(action: Action) -> str:
    """The word an entry keeps of the action that caused it."""
    if type(action) in UNSPOKEN:
        return UNSPOKEN[type(action)]
    if isinstance(action, Judge):
        return action.verdict or "not judged"
    if isinstance(action, Tag):
        return "untag" if action.off else "tag"
    if isinstance(action, ReworkPlate):
        return "reworked" if action.what else "state"
    return next(spec.word for spec in REGISTRY if type(action) in spec.means)
