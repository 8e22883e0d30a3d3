"""What may be broken: mutmut's small changes of one room's functions, and a seeded sample."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path
from types import CodeType

from libcst import FunctionDef, Module
from mutmut.mutation.file_mutation import Mutation, create_mutations


@dataclass(frozen=True)
class Mutant:
    """One changed function: where, what the line was and is, and its code to run instead."""

    path: Path
    line: int
    function: str
    was: str
    now: str
    lines: range
    code: CodeType

    @property
    def label(self) -> str:
        """How reports and the list of equivalents name it; line numbers would age."""
        return f"{self.path.parent.name}/{self.path.name} {self.function}: {self.was} -> {self.now}"


def sample_mutants(room: Path, seed: int, count: int) -> list[Mutant]:
    """Draw `count` mutants of the room's functions, each as likely as any other.

    A lot is drawn for each by its function's name, so that a change of one function changes
    nothing of what is drawn from the others.
    """
    lots: list[tuple[bytes, Path, int]] = []
    for path in sorted(room.rglob("*.py")):
        seen: Counter[str] = Counter()
        for number, (name, _) in enumerate(_mutations(path)[1]):
            seen[name] += 1
            words = f"{seed} {path.relative_to(room)} {name} {seen[name]}"
            lots.append((sha256(words.encode()).digest(), path, number))
    drawn: list[Mutant] = []
    for _, path, number in sorted(lots):
        if len(drawn) == count:
            break
        mutant = _mutant(path, number)
        if mutant is not None:
            drawn.append(mutant)
    return drawn


@cache
def _mutations(path: Path) -> tuple[Module, list[tuple[str, Mutation]]]:
    """Read a file's mutations once: those inside functions, with the function's name."""
    module, mutations, _, _ = create_mutations(str(path), path.read_text("utf-8"))
    functions = ((one.contained_by_top_level_function, one) for one in mutations)
    return module, [(function.name.value, one) for function, one in functions
                    if isinstance(function, FunctionDef)]  # a class's own lines run when read


def _mutant(path: Path, number: int) -> Mutant | None:
    """Make one; None where it cannot be compiled, or is of what runs when the file is read."""
    module, mutations = _mutations(path)
    _, mutation = mutations[number]
    old = path.read_text("utf-8")
    new = module.deep_replace(mutation.original_node, mutation.mutated_node).code
    try:
        compiled = compile(new, str(path), "exec", dont_inherit=True)
    except SyntaxError:
        return None
    before, after = old.splitlines(), new.splitlines()
    differs = next((at for at, pair in enumerate(zip(before, after, strict=False))
                    if pair[0] != pair[1]), None)
    if differs is None:
        return None
    found = _function_at(ast.parse(old), differs + 1)
    if found is None:
        return None
    qualname, node, lines = found
    first_line = min([node.lineno, *(one.lineno for one in node.decorator_list)])
    if differs + 1 < node.body[0].lineno:
        return None  # a default: made where the function is defined, not where it runs
    code = next((one for one in codes(compiled)
                 if one.co_qualname == qualname and one.co_firstlineno == first_line), None)
    if code is None:
        return None
    was, now = _changed(before, after, differs)
    return Mutant(path, differs + 1, qualname, was, now, lines, code)


def _changed(before: list[str], after: list[str], first: int) -> tuple[str, str]:
    """The lines that differ, from the first to the last, each side on one line."""
    same = 0
    while (same < min(len(before), len(after)) - first - 1
           and before[-1 - same] == after[-1 - same]):
        same += 1
    old, new = before[first:len(before) - same], after[first:len(after) - same]
    return " ".join(" ".join(old).split()), " ".join(" ".join(new).split())


_Function = ast.FunctionDef | ast.AsyncFunctionDef


def _function_at(tree: ast.Module, line: int) -> tuple[str, _Function, range] | None:
    """The top function or method round a line, and the lines of its statement there."""
    for name, node in _top_functions(tree):
        if node.lineno <= line <= (node.end_lineno or node.lineno):
            return name, node, _statement_lines(node, line)
    return None


def _top_functions(tree: ast.Module) -> Iterator[tuple[str, _Function]]:
    for node in tree.body:
        if isinstance(node, _Function):
            yield node.name, node
        elif isinstance(node, ast.ClassDef):
            for inner in node.body:
                if isinstance(inner, _Function):
                    yield f"{node.name}.{inner.name}", inner


def _statement_lines(function: _Function, line: int) -> range:
    """The lines of the innermost statement round `line`; of a compound one its head alone."""
    best = range(function.lineno, (function.end_lineno or function.lineno) + 1)
    for node in ast.walk(function):
        if isinstance(node, ast.stmt) and node is not function:
            body = getattr(node, "body", None) or getattr(node, "cases", None)
            end = node.end_lineno or node.lineno
            if isinstance(body, list):
                first = body[0].pattern if isinstance(body[0], ast.match_case) else body[0]
                end = max(node.lineno, first.lineno - 1)
            if node.lineno <= line <= end and end + 1 - node.lineno <= len(best):
                best = range(node.lineno, end + 1)
    return best


def codes(code: CodeType) -> Iterator[CodeType]:
    """Every code object inside one, itself first."""
    yield code
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield from codes(one)


