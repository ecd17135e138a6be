"""No number of a document or a practice stands bare in `calc` or `stages`: those are Cited.

Allowed are the numbers of arithmetic below. A number of our own (how long a search goes on, what
counts as nothing) is a constant at the top of its module, in capitals, with its reason beside it or
beneath it; a reason that names a document gives itself away.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from itertools import pairwise
from math import log10
from pathlib import Path

import pytest

SRC = Path(__file__).parents[2] / "src" / "evenfall"

ANYWHERE = {0, 1, 2, 3, 4, 0.5, 24, 60, 3600}
"""Counting, halves, hours, minutes and seconds; and all powers of ten."""

IN_SUMS = {5, 6, 7, 8, 9, 12, 16, 48, 384}
"""Coefficients of beams, sections and series; only as a factor or term of a sum."""

SEARCH = {"steps", "terms", "nodes", "rounds", "seed"}
"""Arguments that say how long a search or a series goes on; their defaults are our own."""

DOCUMENT = re.compile(r"\b(ISO|EN|BS|PD|NA|Table|Annex|clause|Approved|BRE|SAP|HSE)\b")
_PLAIN_CALLS = {"round", "range", "zeros", "ones", "linspace", "reshape"}


def allowed(value: float, in_sum: bool) -> bool:
    size = abs(value)
    if size in ANYWHERE or (in_sum and size in IN_SUMS):
        return True
    return size > 0 and abs(log10(size) - round(log10(size))) < 1e-12


def faults(source: str, name: str) -> list[str]:
    """List the bare numbers of a module."""
    lines = source.splitlines()
    tree = ast.parse(source)
    own = set(_own_numbers(tree, lines))
    return [
        f"{name}:{line}: {value}"
        for value, line, node, in_sum in _numbers(tree)
        if not allowed(value, in_sum) and node not in own
    ]


def _numbers(tree: ast.AST) -> Iterator[tuple[float, int, ast.Constant, bool]]:
    """Yield each number that is not an index, a number of digits or a shape."""
    stack: list[tuple[ast.AST, bool]] = [(tree, False)]
    while stack:
        node, in_sum = stack.pop()
        if isinstance(node, ast.Constant):
            if isinstance(node.value, int | float) and not isinstance(node.value, bool):
                yield node.value, node.lineno, node, in_sum
        elif isinstance(node, ast.Subscript):
            stack.append((node.value, False))
        elif isinstance(node, ast.Call) and _called(node) in _PLAIN_CALLS:
            first = node.args[:1] if isinstance(node.func, ast.Name) else []
            stack += [(node.func, False), *((a, False) for a in first)]
        elif isinstance(node, ast.arguments):
            stack += [(default, False) for default in _defaults(node)]
        else:
            inside = isinstance(node, ast.BinOp) or (in_sum and isinstance(node, ast.UnaryOp))
            stack += [(child, inside) for child in ast.iter_child_nodes(node)]


def _defaults(node: ast.arguments) -> Iterator[ast.expr]:
    """Yield the defaults of arguments other than those that bound a search."""
    named = [*node.posonlyargs, *node.args]
    pairs = [*zip(named[len(named) - len(node.defaults) :], node.defaults, strict=True)]
    pairs += [(a, d) for a, d in zip(node.kwonlyargs, node.kw_defaults, strict=True) if d]
    yield from (default for argument, default in pairs if argument.arg not in SEARCH)


def _called(node: ast.Call) -> str:
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def _own_numbers(tree: ast.Module, lines: list[str]) -> Iterator[ast.Constant]:
    """Yield the numbers in constants of the module that give a reason."""
    for node, after in pairwise([*tree.body, None]):
        target = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
        if not isinstance(target, ast.Name) or not target.id.strip("_").isupper():
            continue
        reason = " ".join(re.findall(r"#(.*)", "\n".join(lines[node.lineno - 1 : node.end_lineno])))
        reason = reason.replace("fmt: skip", "")
        if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            reason += str(after.value.value)
        if reason.strip() and not DOCUMENT.search(reason):
            yield from (n for n in ast.walk(node) if isinstance(n, ast.Constant))


def test_calc_and_stages_hold_no_bare_published_number() -> None:
    found = [
        fault
        for folder in ("calc", "stages")
        for path in sorted((SRC / folder).rglob("*.py"))
        for fault in faults(path.read_text(encoding="utf-8"), str(path.relative_to(SRC)))
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "source",
    [
        "def f(x):\n    return 0.13 + x",
        "def f(x, R_si=0.17):\n    return x",
        "def f(x):\n    return x > 150",
        "def f():\n    return fixings(8)",
        "def f(x, *, least=8):\n    return x",
        "LIMIT = 0.35",
        "LIMIT = 0.35  # ISO 6946, Table 7",
        'LIMIT = 0.35\n"""Approved Document L."""',
        "def f(x):\n    k = 1.25\n    return k * x",
        "TABLE = {'a': 0.022}",
        "def f(x):\n    return [x, -273.15]",
    ],
)
def test_a_planted_number_is_found(source: str) -> None:
    assert len(faults(source, "m")) == 1


@pytest.mark.parametrize(
    "source",
    [
        "def f(w, L, E, I):\n    return 5 * w * L**4 / (384 * E * I)",
        "def f(x):\n    return round(x / 1000, 7)",
        "def f(rows):\n    return rows[5], rows[6:9]",
        "def f(x):\n    return x * 1e-9 + 0.001 * 3600 / 24",
        "",
        "NODES = 2_000  # how long the search goes on",
        'NODES = 2_000\n"""Visits of the search."""',
        "def f(x):\n    return x ** 0.5 == -1",
        "def f(x, steps=48, *, seed=7):\n    return x.round(9)",
    ],
)
def test_arithmetic_and_numbers_of_our_own_with_a_reason_are_let_through(source: str) -> None:
    assert faults(source, "m") == []
