"""The list of all fields that leave: it is whole, and what is written keeps to it."""

from __future__ import annotations

import ast
import json
import re
from pathlib import Path

import pytest

import benchapp.commands
from benchapp.cli import main
from benchapp.reports.export_csv import TABLES
from benchapp.reports.formats import describe_formats
from tests.reports.test_set_against import printed

BY_NAME = {f.name: f for f in describe_formats()}


def test_every_field_has_a_name_a_type_and_a_meaning() -> None:
    """No field is without words, and none is named twice."""
    for described in describe_formats():
        names = [f.name for f in described.fields]
        assert len(names) == len(set(names)), described.name
        assert all(f.name and f.kind and f.meaning for f in described.fields), described.name
    assert {name for name, _, _ in TABLES} <= BY_NAME.keys()


def paths(value: object, before: str = "") -> set[str]:
    """The names of all fields of a document, as the list of formats writes them."""
    if isinstance(value, list):
        return {p for x in value for p in paths(x, before)}
    if not isinstance(value, dict):
        return set()
    found = set()
    for key, inside in value.items():
        name = f"{before}{key}"
        found.add(name)
        found |= paths(inside, name + ("[]." if isinstance(inside, list) else "."))
    return found


@pytest.mark.parametrize(("words", "name"), [
    (("review",), "review/1"), (("life",), "life/1"), (("beside",), "beside/1"),
    (("why", "salty"), "why/1")])
def test_what_is_written_names_its_format_and_keeps_to_it(tmp_path, capsys, words, name) -> None:
    """The format comes first; every field written is in the list."""
    with printed((10, 10, 10), (14, 14)) as book:
        book.backup(path := tmp_path / "studio.book")
    assert main(["--book", str(path), *words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    objects = found if isinstance(found, list) else [found]
    assert isinstance(found, list) == BY_NAME[name].listed
    named = {f.name: f for f in BY_NAME[name].fields}
    for one in objects:
        assert next(iter(one.items())) == ("format", name)
        told = {p for p in paths(one) if p in named or not any(
            named[parent].kind.startswith("object of names")
            for parent in (p.rpartition(".")[0],) if parent in named)}
        assert told <= named.keys()


def test_every_document_of_a_command_has_a_format_in_the_list() -> None:
    """What the commands print is named where it is printed; each name is in the list."""
    commands = Path(benchapp.commands.__path__[0])
    found = [name for path in commands.glob("*.py") for name in re.findall(
        r'say_json\(([^,]+),', path.read_text(encoding="utf-8")) if "format_name" not in name]
    literal = {ast.literal_eval(name) for name in found if name.startswith('"')}
    assert literal <= BY_NAME.keys()
    assert len(found) > len(literal) > 15
    assert {name for name in BY_NAME if "/" in name} >= literal


@pytest.mark.parametrize("words", [
    ("plan", "three-steps", "--wanted", "2"), ("learn", "three-steps"), ("sessions",),
    ("prepare", "three-steps", "--wanted", "2"), ("check", "three-steps")])
def test_a_document_without_a_report_has_no_field_that_is_not_listed(capsys, words) -> None:
    """Written in an empty studio: the names at the top are those in the list."""
    assert main([*words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    listed = {f.name for f in BY_NAME[f"{words[0]}/1"].fields}
    for one in found if isinstance(found, list) else [found]:
        assert one.keys() <= listed
