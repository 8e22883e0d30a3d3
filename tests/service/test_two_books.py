"""Two books that numbered while apart are brought together: the clash is named, nothing chosen."""

from __future__ import annotations

from pathlib import Path

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.drying import actions as b
from benchapp.edition import actions as a
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call  # noqa: F401 - a fixture
from tests.service.edition_days import PEAR, Studio, pear


def apart(home: Path, away: Path) -> None:
    """One day in both books; then each gives 2/5 to another sheet, and one lowers the size."""
    with Book.open(home, write=True, create=True) as one:
        day = Studio(one).day(pear("edition: 5"), 2)
        with Book.open(away, write=True, create=True) as two:
            two.merge(one.entries())
            assert EditionService(two, FakeClock(1_778_000_000_000)).do(
                a.GiveNumbers(PEAR, ((f"{day}#4", 2),))).ok
        assert EditionService(one, FakeClock(1_778_000_000_000)).do(
            a.GiveNumbers(PEAR, ((f"{day}#3", 2),))).ok


def in_both(tmp_path: Path) -> tuple[Path, Path]:
    """One day of an edition of five, in two books."""
    home, away = tmp_path / "home.db", tmp_path / "away.db"
    with Book.open(home, write=True, create=True) as one:
        Studio(one).day(pear("edition: 5"), 1)
        with Book.open(away, write=True, create=True) as two:
            two.merge(one.entries())
    return home, away


def comes_home(call: Call, away: Path, home: Path) -> None:  # noqa: F811
    """What was written away goes home by file."""
    file = str(away.with_suffix(".jsonl"))
    assert call("--book", str(away), "export", "--jsonl", file).code == 0
    assert call("--book", str(home), "import", file).code == 0


def test_the_clash_is_named_on_every_list_and_settled_by_a_correction(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Both sheets stand there with the number until the pencil on one of them is looked at."""
    home, away = tmp_path / "home.db", tmp_path / "away.db"
    apart(home, away)
    comes_home(call, away, home)
    book = ("--book", str(home))
    (one,) = call(*book, "edition", "--json").json
    assert [c["text"] for c in one["clashes"]] == [
        "2/5 is on D3 and D4"]
    assert (one["size"], one["taken"]) == (5, [2])
    for argv in (("edition",), ("edition", "pear")):
        assert "clash: 2/5 is on D3" in call(*book, *argv).out
    assert len(call(*book, "where-is", "2", "--json").json) == 2
    assert "2/5 is on" in call(*book, "papers", "edition").out
    refused = call(*book, "number", "D4", "2")
    assert refused.code == 1
    said = call(*book, "correct", "D4", "number", "3", "--why", "the sheet says 3/5", "--yes")
    assert said.code == 0
    (one,) = call(*book, "edition", "--json").json
    assert (one["clashes"], one["taken"]) == ([], [2, 3])


def test_brought_together_either_way_they_say_the_same(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Whichever book takes the other in: the same clash, its own sheet named first."""
    home, away = tmp_path / "home.db", tmp_path / "away.db"
    apart(home, away)
    found = []
    files = {x: str(tmp_path / f"{x.stem}.jsonl") for x in (home, away)}
    for book, file in files.items():
        assert call("--book", str(book), "export", "--jsonl", file).code == 0
    for into, file in ((home, files[away]), (away, files[home])):
        assert call("--book", str(into), "import", file).code == 0
        (one,) = call("--book", str(into), "edition", "--json").json
        found.append({c["key"] for c in one["clashes"]})
        assert call("--book", str(into), "edition", "--settle", "is on", "--why",
                    "both are out, and both owners know").code == 0
        assert call("--book", str(into), "edition", "--json").json[0]["clashes"] == []
    assert found[0] == found[1] != set()


def test_a_size_said_differently_is_settled_with_the_true_one(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Neither is chosen, and nothing rests on it; then one of the two is said, and why."""
    home, away = in_both(tmp_path)
    for book, size in ((home, "8"), (away, "9")):
        assert call("--book", str(book), "edition", "--size", size).code == 0
    comes_home(call, away, home)
    book = ("--book", str(home), "edition", "pear")
    assert "enter the true size first: --size N --settle WORDS" in call(
        *book, "--short", "7", "--why", "x").err
    named = (*book, "--settle", "the size", "--why", "counted the drawer")
    assert call(*named).code == 1
    assert call(*named, "--size", "6").code == 1
    assert call(*named, "--size", "9").code == 0
    (one,) = call("--book", str(home), "edition", "--json").json
    assert (one["size"], one["clashes"]) == (9, [])


def test_proofs_declared_differently_are_named_and_declared_again(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """On every list, until one of the two is said."""
    home, away = in_both(tmp_path)
    for book, cap in ((home, "AP=3"), (away, "AP=4")):
        assert call("--book", str(book), "edition", "--proof", cap).code == 0
    comes_home(call, away, home)
    book = ("--book", str(home), "edition")
    assert "clash: Books declare the edition differently: AP " in call(*book).out
    settled = call(*book, "--settle", "differently", "--why", "x")
    assert settled.code == 1
    assert "declare the edition again with the right values" in settled.err
    assert call(*book, "--proof", "AP=3").code == 0
    (one,) = call(*book, "--json").json
    assert (one["proofs"]["AP"]["cap"], one["clashes"]) == (3, [])


def test_boards_changed_in_both_books_come_together(tmp_path: Path) -> None:
    """A day's stack: changed by the copy at home, its control sheet weighed in the studio."""
    home, away = tmp_path / "home.db", tmp_path / "away.db"
    with Book.open(home, write=True, create=True) as one:
        studio = Studio(one)
        studio.day(pear(drying="  - {do: Change blotters, after: 3 h}"), 2)
        with Book.open(away, write=True, create=True) as two:
            two.merge(one.entries())
        (stack,) = studio.editions.boards.stacks
        assert studio.editions.on_boards(b.Weigh(stack, f"{stack[:-2]}#3", 98_400)).ok
        with Book.open(away, write=True) as two:
            copy = EditionService(two, studio.clock)
            assert copy.on_boards(b.Changed(stack)).ok
            assert copy.on_boards(b.Weight(stack, 12_000)).ok
            two.merge(one.entries())
            one.merge(two.entries())
            found = [EditionService(x, studio.clock).boards.stacks[stack] for x in (one, two)]
            assert found[0] == found[1]
            assert found[0].grams == 12_000
            assert (len(found[0].weighings), len(found[0].answers)) == (1, 1)
            assert EditionService(two, studio.clock).on_boards(b.TakeDown(stack)).ok
            assert (one.verify(), two.verify()) == ([], [])
            one.merge(two.entries())
    with Book.open(home, write=True) as one:  # what a stack came to is kept when a book is closed
        assert one.derived("stack/") == {f"stack/{stack}": {"over": True}}
        shop = SessionService(one, studio.clock)
        shop.load()
        assert shop.stacks().stacks == {}


def test_what_two_books_declare_differently_can_be_declared_either_way(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Varied or not, beside another or not, a kind of proof said or not."""
    home, away = in_both(tmp_path)
    begin = ("edition", "Quince", "--artist", "Idony Threlwick", "--size", "3")
    assert call("--book", str(away), *begin).code == 0
    said = ("--varied", "--proof", "HC=1", "--size", "5", "--beside", "quince", "--relation",
            "colourway")
    assert call("--book", str(away), "edition", "pear", *said).code == 0
    assert call("--book", str(home), "edition", "pear", "--proof", "AP=4").code == 0
    comes_home(call, away, home)
    book = ("--book", str(home), "edition", "pear")
    (clash,) = call(*book, "--json").json[0]["clashes"]
    differ = [x.split()[0] for x in clash["text"].partition(": ")[2].split("; ")]
    assert (differ[0], {*differ[1:3]}, differ[3:]) == ("form", {"AP", "HC"}, ["beside"])
    assert call(*book, "--limited", "--beside", "none", "--proof", "HC=none", "--proof",
                "AP=4").code == 0
    one = call(*book, "--json").json[0]
    assert (one["clashes"], one["form"], sorted(one["proofs"])) == ([], "limited", ["AP"])


def test_whatever_one_book_writes_of_an_edition_another_takes_in(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Also trial proofs: with a cap, from an old paper, and by a correction."""
    home, away = in_both(tmp_path)
    ledger = tmp_path / "ledger.csv"
    ledger.write_text("number,kind,signed,destroyed,place,due,to,when,note\r\n,TP\r\n1,AP\r\n2,,yes\r\n",
                      encoding="utf-8")
    book = ("--book", str(away))
    assert call(*book, "edition", "pear", "--proof", "TP=2").code == 0
    wrong = call(*book, "edition", "pear", "--proof", "RTP=2")
    assert (wrong.code, "RTP is not a kind of proof" in wrong.err) == (1, True)
    assert call(*book, "edition", "pear", "--from-paper", str(ledger)).code == 0
    assert call(*book, "correct", "D3", "purpose", "WP", "--why", "pencilled so", "--yes").code == 0
    for argv in (("number", "D1", "--as", "BAT"),
                 ("number", "D2", "--as", "BAT", "--replace", "new paper"),
                 ("edition", "pear", "--cut-short", "2", "--why", "plate failed"),
                 ("cancel-plate", "--yes"),
                 ("edition", "Quince", "--beside", "pear", "--relation", "colourway", "--size", "3",
                  "--shares", "none")):
        said = call(*book, *argv)
        assert said.code == 0, (argv, said.err)
    comes_home(call, away, home)
    ours, theirs = (call("--book", str(b), "edition", "--json").json for b in (home, away))
    assert ours[0]["proofs"]["TP"]["cap"] == 2
    assert (ours[0]["bat"], ours[0]["cut_short_at"], ours[1]["cancelled"]) == ("D2", 2, None)
    assert ours == theirs


def test_what_was_put_right_in_one_book_does_not_come_back_with_the_other(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Before they met and after: by file both ways, and the old file taken in once more."""
    home, away = in_both(tmp_path)

    def at(book: Path, *argv: str) -> None:
        said = call("--book", str(book), *argv)
        assert said.code == 0, (argv, said.err)

    for argv in (("number", "D3", "1"), ("sign", "D3", "--yes"), ("number", "D2", "--as", "BAT"),
                 ("void", "4", "--why", "slip", "--yes")):
        at(home, *argv)
    comes_home(call, home, away)
    at(home, "void", "D3", "--destroyed", "--why", "torn", "--yes")
    at(home, "correct", "BAT", "not", "BAT", "--why", "a warm-up", "--yes")
    at(away, "where-is", "D3", "--now", "sold", "--to", "Ms Auk")
    at(away, "correct", "4", "not", "void", "--why", "other print", "--yes")
    old = tmp_path / "old.jsonl"
    assert call("--book", str(home), "export", "--jsonl", str(old)).code == 0
    comes_home(call, away, home)
    (one,) = call("--book", str(home), "edition", "--json").json
    assert {x["mend"] for x in one["clashes"]} == {
        "look at the sheet, then benchapp correct D3 destroyed or benchapp correct D3 not "
        "destroyed"}
    at(home, "correct", "D3", "not", "destroyed", "--why", "it hangs at the buyer's", "--yes")
    home.with_suffix(".jsonl").unlink()
    comes_home(call, home, away)
    assert call("--book", str(away), "import", str(old)).code == 0
    for book in (home, away):
        (one,) = call("--book", str(book), "edition", "--json").json
        assert (one["clashes"], one["void"], one["bat"]) == ([], [], None)
        (sheet,) = (x for x in one["sheets"] if x["label"] == "1/5")
        assert (sheet["standing"], sheet["where"]) == ("signed", "sold")
