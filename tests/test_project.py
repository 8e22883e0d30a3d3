"""The project's own promises: README's commands, one version, the packages it stands on."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import benchapp
from benchapp.files import read_text, shipped_recipes
from benchapp.help.topics import topic_summaries
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.treads import treads_per_impression, treads_words
from benchapp.session.actions import REGISTRY
from benchapp.session.actions.spec import KEY_SIGNS

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
README = (ROOT / "README.md").read_text(encoding="utf-8")

#: What a key is called where the framework's name is not what stands on it.

def names(requirements: list[str]) -> set[str]:
    """The packages of a list of requirements."""
    return {re.split(r"[<>=!~\[; ]", r, maxsplit=1)[0].lower() for r in requirements}


def test_readme_has_its_two_commands_the_main_job_first():
    """Two lines alone: one sets up and runs the main job, one the tests."""
    lines = [x for x in README.splitlines() if x.startswith("python3 -m venv .venv &&")]
    assert len(lines) == 2
    assert "benchapp demo" in lines[0]
    assert "pytest" in lines[1]


def test_the_program_stands_on_three_packages_with_bounds_at_both_ends():
    """textual, pyyaml and platformdirs, nothing else, each from a version to below another."""
    required = PROJECT["project"]["dependencies"]
    assert names(required) == {"textual", "pyyaml", "platformdirs"}
    assert all(">=" in r and ",<" in r for r in required)


def test_the_version_has_one_place():
    """pyproject asks the package for it."""
    assert "version" not in PROJECT["project"]
    assert PROJECT["tool"]["hatch"]["version"]["path"] == "benchapp/__init__.py"
    assert re.fullmatch(r"\d+\.\d+\.\d+", benchapp.__version__)


def test_the_recipes_go_into_the_wheel_by_sources():
    """Never by force-include, which would ship ignored files too."""
    wheel = PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert wheel["only-include"] == ["benchapp", "recipes"]
    assert wheel["sources"] == {"recipes": "benchapp/shipped_recipes"}
    assert "force-include" not in wheel


def test_what_a_package_says_of_itself_is_whole():
    """The licence is a file inside the package, every Python is named, README has its pictures."""
    project = PROJECT["project"]
    assert project["license"] == "MIT"
    assert project["license-files"] == ["benchapp/LICENSE"]
    assert "MIT License" in (ROOT / "benchapp" / "LICENSE").read_text(encoding="utf-8")
    known = {x.rpartition(" :: ")[2] for x in project["classifiers"] if ":: Python :: 3." in x}
    assert known == {"3.11", "3.12", "3.13", "3.14"}
    assert ".pictures" in PROJECT["tool"]["hatch"]["build"]["targets"]["sdist"]["only-include"]
    pictures = re.findall(r"!\[[^]]+\]\(([^)]+)\)", README)
    assert len(pictures) >= 3
    assert {p for p in pictures if not p.startswith(".pictures/") or not (ROOT / p).is_file()} == (
        set())


def test_readme_is_short_and_lists_every_topic():
    """About 900 words beside code and tables; one row a help topic."""
    text = re.sub(r"```.*?```|!\[[^]]*\]\([^)]*\)", "", README, flags=re.DOTALL)
    words = [x for line in text.splitlines() if not line.startswith(("|", "<!--"))
             for x in line.split()]
    assert len(words) <= 1000
    rows = [f"| `{name}` | {about} |" for name, about in topic_summaries()]
    assert "\n".join(["| topic | about |", "|---|---|", *rows]) in README


def test_the_room_table_of_the_developers_page_names_every_room():
    """A room that is not on the page is one a newcomer cannot find."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rooms = {p.name.removesuffix(".py") for p in (ROOT / "benchapp").iterdir()
             if (p.is_dir() or p.suffix == ".py") and not p.name.startswith("_")}  # fmt: skip
    assert {r for r in rooms if f"`{r}`" not in page} == set()


def test_decisions_are_numbered_without_gaps_or_doubles():
    """Each is cited by its number, and stands with its reason in the room the index names."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    part = page.partition("## Decisions")[2].partition("\n## ")[0]
    numbers = [int(x) for x in re.findall(r"^(\d+)\. \*\*", part, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    rows = re.findall(r"^(\d+)\. \*\*(.+?)\*\* `(\w+)`", part, re.MULTILINE)
    assert [int(number) for number, _, _ in rows] == numbers
    listed = {(room, number, title) for number, title, room in rows}
    reasons = {(room, number, " ".join(title.split()))
               for room in {room for room, _, _ in listed}
               for number, title in re.findall(
                   r"^(\d+)\. \*\*(.+?)\*\*", _room_docstring(room), re.MULTILINE | re.DOTALL)}
    assert reasons == listed


def _room_docstring(room: str) -> str:
    places = {"tests": "tests/conftest.py", "test_layers": "tests/test_layers.py"}
    place = ROOT / places.get(room, f"benchapp/{room}/__init__.py")
    source = place if place.exists() else ROOT / "benchapp" / f"{room}.py"
    return ast.get_docstring(ast.parse(source.read_text(encoding="utf-8"))) or ""


def test_the_top_level_is_short():
    """What a printer who looks into the folder sees first is README, recipes and little else."""
    seen = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    kept = {"README.md", "DEVELOPERS.md", "pyproject.toml", "benchapp", "tests", "recipes"}
    assert seen - {"build", "dist"} == kept


def keys_table() -> str:
    """The keys of the Bench as README's table, out of the registry of actions."""
    rows = ["| key | word | what it does | with inky hands |", "|---|---|---|---|",
            "| tread keys | go on | Answer the call, end the step, begin the next |"
            " works |"]
    for spec in REGISTRY:
        if spec.key is not None:
            works = " works" if spec.inky else ""
            rows.append(f"| `{KEY_SIGNS.get(spec.key, spec.key)}` | {spec.word} | {spec.help} |"
                        f"{works} |")
    return "\n".join(rows)


def test_readmes_keys_are_those_of_the_registry():
    """The table a printer reads is made of what the program does."""
    between = re.search(r"<!-- keys: .*? -->\n(.*?)\n<!-- end of keys -->", README, re.DOTALL)
    assert between is not None
    assert between[1] == keys_table()


def test_readmes_treads_are_those_of_the_recipes():
    """What an impression takes is counted, not remembered."""
    between = re.search(r"<!-- treads: .*? -->\n(.*?)\n<!-- end of treads -->", README, re.DOTALL)
    assert between is not None
    rows = [f"| `{name}` | {treads_words(treads_per_impression(read_recipe(read_text(path))))} |"
            for name, path in sorted(shipped_recipes().items())]
    assert between[1].splitlines() == ["| recipe | treads |", "|---|---|", *rows]
