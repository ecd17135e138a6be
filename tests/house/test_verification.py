"""docs/verification.md in step with the published checks.

It is written by this file: ``python tests/house/test_verification.py > docs/verification.md``.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "verification.md"
FOLDERS = {
    "published": "Checks against something published",
    "agreement": "Two methods that must agree",
}


def page() -> str:
    """Write the page from the docstrings of the tests."""
    return "\n".join(_lines()) + "\n"


def _lines() -> Iterator[str]:
    yield "# What was checked against what"
    yield ""
    yield "Written from the tests: `python tests/house/test_verification.py`. A test keeps step."
    yield "A basis stands beside each document: *published* was read, *published, second-hand* was"
    yield "read in somebody else's account, *from memory* was remembered, *computed* is our own"
    yield "independent calculation and no authority."
    for folder, head in FOLDERS.items():
        yield from ("", f"## {head}")
        for file in sorted((ROOT / "tests" / folder).glob("test_*.py")):
            yield from _file(file)


def _file(file: Path) -> Iterator[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    title, _, rest = (ast.get_docstring(tree) or "").partition("\n")
    yield from ("", f"### {title.rstrip('.')}", "", f"`tests/{file.parent.name}/{file.name}`", "")
    if rest.strip():
        yield " ".join(rest.split())
        yield ""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            yield f"- {node.name.removeprefix('test_').replace('_', ' ')}"


def test_the_page_of_checks_is_in_step_with_the_tests():
    assert PAGE.read_text(encoding="utf-8") == page()


def test_every_published_check_names_its_document_and_its_basis():
    bases = (
        "published",
        "second-hand",
        "from memory",
        "computed",
        "common practice",
        "planning seed",
    )
    for folder in FOLDERS:
        for file in (ROOT / "tests" / folder).glob("test_*.py"):
            told = ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))) or ""
            assert told, f"{file.name} does not say what it checks against"
            if folder == "published":
                assert any(b in told.lower() for b in bases), f"{file.name} names no basis"


if __name__ == "__main__":
    print(page(), end="")
