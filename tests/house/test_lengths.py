"""Short files and short functions."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

SRC = Path(__file__).parents[2] / "src" / "evenfall"

LONGEST_FILE = 400
"""Lines; `standards` is data tables and exempt."""

LONGEST_BODY = 60
"""Lines of code of a function, without docstring, comments and gaps."""


def bodies(source: str) -> Iterator[tuple[str, int]]:
    """Yield name and length of each function."""
    lines = source.splitlines()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[1:] if ast.get_docstring(node) is not None else node.body
            start, end = (first[0].lineno, node.end_lineno or 0) if first else (1, 0)
            code = [x for x in lines[start - 1 : end] if x.strip() and x.strip()[0] != "#"]
            yield node.name, len(code)


def files() -> Iterator[tuple[str, str]]:
    for path in sorted(SRC.rglob("*.py")):
        yield path.relative_to(SRC).as_posix(), path.read_text(encoding="utf-8")


def too_long(name: str, source: str) -> bool:
    return not name.startswith("standards/") and source.count("\n") > LONGEST_FILE


def test_no_file_is_too_long() -> None:
    long = {name: source.count("\n") for name, source in files() if too_long(name, source)}
    assert long == {}


def test_no_function_is_too_long() -> None:
    long = {
        f"{name}:{function}": length
        for name, source in files()
        for function, length in bodies(source)
        if length > LONGEST_BODY
    }
    assert long == {}


def test_a_planted_long_file_is_found() -> None:
    assert too_long("calc/a.py", "x = 1\n" * (LONGEST_FILE + 1))
    assert not too_long("calc/a.py", "x = 1\n" * LONGEST_FILE)
    assert not too_long("standards/a.py", "x = 1\n" * (LONGEST_FILE + 1))


def test_a_planted_long_function_is_found_and_its_docstring_is_not_counted() -> None:
    text = '    """Say.\n\n' + "    words\n" * 99 + '    """\n'
    source = f"def f():\n{text}" + "    x = 1\n    # why\n\n" * (LONGEST_BODY + 1)
    assert list(bodies(source)) == [("f", LONGEST_BODY + 1)]
