"""The commands about a whole edition: what there is, how large it is, its plate cancelled."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from benchapp.commands import recalling
from benchapp.commands.context import Arguments, Refused, WrongUse, say, say_json, warn
from benchapp.commands.exports import write_out
from benchapp.commands.pipes import say_written
from benchapp.commands.resolve import (
    accept_answer,
    confirm_or_stop,
    print_meant,
    reading_editions,
    resolve_sheet,
    writing_editions,
)
from benchapp.edition import actions as a
from benchapp.edition.conflicts.conflict import Clash
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.state import KINDS_OF_PROOF, Cap
from benchapp.edition.streams import print_id
from benchapp.recipe.hazards import BY_KEY, of_caution
from benchapp.reports.editions import EditionSheet, edition_lines, edition_sheet, short_lines
from benchapp.reports.register_csv import left_out, register_table
from benchapp.service.editions import EditionService


def show_edition(arguments: Arguments) -> int:
    """List every edition, or show one whole; or say something of it first."""
    if arguments.key is not None and arguments.artist is None:
        raise WrongUse("--key goes with --artist, to begin an edition. A recipe has its own key: "
                       "under print:")
    if arguments.csv is not None:
        return _write_register(arguments)
    if arguments.template is not None:
        return recalling.write_template(arguments)
    if arguments.recall is not None:
        return recalling.recall_numbers(arguments)
    if _says(arguments):
        with writing_editions(arguments, begin=arguments.artist is not None) as editions:
            print_ = _print(editions, arguments)
            begun = print_ not in editions.prints()
            accept_answer(editions.do(_action(editions, arguments, print_)))
            _show(editions, arguments, (print_,), whole=True)
            if begun and arguments.beside is not None:
                warn(f"Begun: {print_}. To give it a day, write `key: {print_}` under `print:` in "
                     "the recipe.")
        return 0
    if arguments.why or arguments.beside or arguments.artist or arguments.state:
        raise WrongUse("Add what you declare: --size N, --open, --short N, --cut-short N, "
                       "--settle TEXT or --plate NAME")
    with reading_editions(arguments) as editions:
        whole = arguments.print_ is not None
        prints = (print_meant(editions, arguments.print_),) if whole else editions.prints()
        _show(editions, arguments, prints, whole=whole)
    return 0


def _write_register(arguments: Arguments) -> int:
    """Write the register as a table, by the columns that --from-paper reads."""
    with reading_editions(arguments) as editions:
        print_ = print_meant(editions, arguments.print_)
        register = editions.register
        write_out(arguments.csv, "".join(register_table(register, print_,
                                                        private=arguments.private)), arguments)
        n = left_out(register, print_)
    say_written(arguments.csv, f"Written: {arguments.csv}")
    if n:
        warn(f"Not in the table: {n} without a number or proof on it, or void")
    return 0


def _print(editions: EditionService, arguments: Arguments) -> str:
    """The print meant; one that nobody printed in this book is begun by its title and artist.

    One beside another edition is begun too: its artist is that of the other.

    Raises:
        WrongUse: The artist is said and the title is not.
    """
    if arguments.artist is None:
        if _begins_beside(editions, arguments):
            arguments.artist = editions.title(print_meant(editions, arguments.beside))[1]
        else:
            return print_meant(editions, arguments.print_)
    if arguments.print_ is None:
        raise WrongUse("Say the title too: benchapp edition TITLE --artist WHO --size N")
    return print_id(arguments.print_, arguments.artist, arguments.key)


def _begins_beside(editions: EditionService, arguments: Arguments) -> bool:
    """Whether it names an edition that no title in the book fits, with all that begins one."""
    if arguments.print_ is None or arguments.beside in (None, "none") or (
            arguments.relation is None or (arguments.size is None and not arguments.open_)):
        return False
    said = " ".join(arguments.print_.split()).casefold()
    known = (" ".join(editions.title(p)[0].split()).casefold() for p in editions.prints())
    return said not in editions.prints() and not any(said in title for title in known)


def _show(editions: EditionService, arguments: Arguments, prints: tuple[str, ...], *,
          whole: bool) -> None:
    register = editions.register
    for print_ in prints:
        warn(*editions.otherwise(print_))
    named = {p: dict(zip(("title", "artist"), editions.title(p), strict=True)) for p in prints}
    if arguments.json:
        say_json(EditionSheet.FORMAT, [
            edition_sheet(register, p, private=arguments.private, **named[p]) for p in prints])
        return
    if not prints:
        say("No print yet; open a session with: benchapp run RECIPE")
    for print_ in prints:
        say(*(edition_lines(register, print_, private=arguments.private, **named[print_])
              if whole else short_lines(register, print_, **named[print_])))


def _says(arguments: Arguments) -> bool:
    """Whether something is said of the edition, and not only asked."""
    return _declares(arguments) or any(x is not None for x in (
        arguments.short, arguments.cut_short, arguments.settle, arguments.standard,
        arguments.plate, arguments.shares))


def _declares(arguments: Arguments) -> bool:
    return any((arguments.size is not None, arguments.open_, arguments.varied, arguments.limited,
                arguments.proof, arguments.beside == "none", arguments.numbers is not None,
                arguments.proof_numbers is not None))


def _action(editions: EditionService, arguments: Arguments, print_: str) -> a.Action:
    """What is said; one thing at a time.

    Raises:
        WrongUse: Two things are said that have nothing to do with one another.
    """
    other = [name for name, said in (
        ("--short", arguments.short), ("--cut-short", arguments.cut_short),
        ("--settle", arguments.settle), ("--standard", arguments.standard),
        ("--plate", arguments.plate), ("--shares", None if _declares(arguments)
                                       else arguments.shares)) if said is not None]
    declares = _declares(arguments) and not (
        other == ["--settle"] and arguments.size is not None and not arguments.proof)
    if len(other) + declares > 1:
        raise WrongUse(f"{' and '.join(other)}{' and what is declared' if declares else ''}: say "
                       "one at a time")
    if arguments.short is not None:
        return a.Lower(print_, arguments.short, arguments.why or "")
    if other == ["--shares"]:
        sibling = editions.register.edition(print_).sibling
        return a.SharePlates(print_, _shared(editions, sibling, arguments.shares) or ())
    if arguments.cut_short is not None:
        return a.CutEdition(print_, arguments.cut_short or None, arguments.why or "")
    if arguments.settle is not None:
        return a.Settle(print_, _clash(editions, print_, arguments.settle).key,
                        arguments.why or "", arguments.size)
    if arguments.standard is not None:
        return a.NameStandard(print_, None if arguments.standard == "none" else resolve_sheet(
            editions, arguments.standard, print_))
    if arguments.plate is not None:
        return a.TellPlate(print_, _plate(editions, print_, arguments.plate), arguments.state,
                           arguments.before)
    return _declared(editions, arguments, print_)


def _declared(editions: EditionService, arguments: Arguments, print_: str) -> a.Declare:
    """The edition as it is declared now: what is not said stays as it stood."""
    e = editions.register.edition(print_)
    title, artist = editions.title(print_)
    if arguments.artist is not None:
        title, artist = arguments.print_, arguments.artist
    alone = arguments.beside == "none"
    beside = None if alone else (
        e.sibling if arguments.beside is None else print_meant(editions, arguments.beside))
    form: Literal["limited", "varied", "open"] = (
        "open" if arguments.open_ or (e.form == "open" and arguments.size is None
                                      and not (arguments.varied or arguments.limited))
        else "varied" if arguments.varied or (e.form == "varied" and not arguments.limited)
        else "limited")
    size = e.size if arguments.size is None and form != "open" else arguments.size
    return a.Declare(
        print_, title, artist, size, form, _caps(editions, arguments.proof, print_),
        _in_roman(arguments.numbers, usual=e.roman),
        _in_roman(arguments.proof_numbers, usual=e.roman_proofs), sibling=beside,
        relation=None if alone else arguments.relation or e.relation,
        shares=_shared(editions, beside, arguments.shares))


def _shared(editions: EditionService, sibling: str | None,
            said: list[str] | None) -> tuple[str, ...] | None:
    """The plates that are shared; `none` stands for none of them, and None for not said.

    Raises:
        WrongUse: The edition beside has no plate of that name.
    """
    if said is None:
        return None
    names = dict.fromkeys(p.strip() for one in said for p in one.split(","))
    return tuple(_plate(editions, sibling or "", p) for p in names if p and p != "none")


def _in_roman(said: str | None, *, usual: bool) -> bool:
    return usual if said is None else said == "roman"


def _clash(editions: EditionService, print_: str, said: str) -> Clash:
    """The clash whose text holds those words.

    Raises:
        Refused: None does, or several do.
    """
    known = unsettled_clashes(editions.register, print_)
    found = [c for c in known if said.casefold() in c.text.casefold() or said == c.key]
    if len(found) == 1:
        return found[0]
    raise Refused("There is no clash now" if not known else
                  f"Which of them is not clear: {'; '.join(c.text for c in known)}")


def _caps(editions: EditionService, said: list[str], print_: str) -> Mapping[str, Cap]:
    """Of each kind how many; what is not said stays as it is."""
    caps = dict(editions.register.edition(print_).caps)
    for one in said:
        kind, sign, count = one.partition("=")
        if (sign, count) == ("=", "none"):
            caps = {k: c for k, c in caps.items() if k.casefold() != kind.casefold()}
            continue
        count, _, inside = count.partition(":")
        if not (sign and count.isascii() and count.isdigit() and inside in ("", "inside")):
            raise WrongUse(f"{one} is not a count of proofs; write such as AP=4, or AP=4:inside")
        known = next((k for k in KINDS_OF_PROOF if k.casefold() == kind.casefold()), kind)
        caps[known] = Cap(int(count[:9]), inside == "inside")
    return caps


def record_cancelled_plate(arguments: Arguments) -> int:
    """Record that the plate has been cancelled; one proof may come after, and nothing more."""
    with writing_editions(arguments) as editions:
        print_ = print_meant(editions, arguments.print_)
        plates = () if arguments.plate is None else (_plate(editions, print_, arguments.plate),)
        action = a.CancelPlate(print_, arguments.how, plates, arguments.on)
        refused = editions.would(action).refusal
        if refused is not None:
            raise Refused(str(refused))
        title = editions.title(print_)[0]
        what = f"the plate {plates[0]} of {title}" if plates else f"the plate of {title}"
        confirm_or_stop(arguments, f"Record that {what} has been cancelled.")
        accept_answer(editions.do(action))
        caution = next(iter(of_caution(arguments.how)), BY_KEY["blade"]).full
        if arguments.json:
            say_json("cancel-plate/1", {
                "print": title, "plates": list(plates), "how": arguments.how,
                "day": arguments.on, "cancelled": True, "caution": caution})
        else:
            say(f"Recorded: {what} has been cancelled. One cancellation proof may be pulled, and "
                "nothing more.", f"! {caution}")
    return 0


def _plate(editions: EditionService, print_: str, said: str) -> str:
    """The plate of that name in a recipe of the print.

    Raises:
        WrongUse: None is called so.
    """
    known = {p.name.casefold(): p.name for d in editions.days_of(print_) for p in d.recipe.plates}
    if known and said.casefold() not in known:
        raise WrongUse(f"No plate of this print is called {said}; there are "
                       f"{', '.join(known.values())}")
    return known.get(said.casefold(), said)
