"""What is imported is declared; nothing in the files tells of this machine or of a registry."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

STANDARD = sys.stdlib_module_names | {"__future__"}

NOT_IN_FILES = re.compile(
    "|".join((
        "py" r"pi\.org", "python" "hosted", "npm" r"js\.", "proxy" r"\.go" "lang", "crates" r"\.io",
        "/wo" "rk/", "/fa" "rm/", "/ro" "ot/", "/ho" "me/", "/op" "t/", r"C:\\Us" "ers",
        "see" "d document", "tran" r"scripts?\b",
    )),
    re.I,
)  # fmt: skip
"""Registry hosts, paths of a machine, and where the project came from; written in halves, so that
this file does not find itself."""


NEVER_IMPORTED = {
    "tzdata": "time zones for machines that have none; read by the standard library",
    "font-source-sans-pro": "a font file",
    "python-multipart": "reads the forms of the desk, inside fastapi",
    **dict.fromkeys(
        ("defusedxml", "fastapi", "jinja2", "openpyxl", "pillow", "segno", "uvicorn"),
        "pinned from the first day for the desk, price lists, photos and labels",
    ),
}
"""Runtime packages that no module needs to import, each with its reason."""


def dist(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def declared(*extras: str) -> set[str]:
    lists = [PROJECT["dependencies"], *(PROJECT["optional-dependencies"][e] for e in extras)]
    return {dist(re.match(r"[\w.-]+", line)[0]) for entries in lists for line in entries}  # type: ignore[index]


@cache
def owners() -> dict[str, list[str]]:
    return dict(packages_distributions())


def imports(source: str) -> Iterator[tuple[int, str]]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, a.name.split(".")[0]) for a in node.names)
        elif isinstance(node, ast.ImportFrom) and not node.level and node.module:
            yield node.lineno, node.module.split(".")[0]


def undeclared(source: str, name: str, allowed: set[str], own: set[str]) -> list[str]:
    """List the imports of a file that pyproject.toml does not declare."""
    return [
        f"{name}:{line}: {package}"
        for line, package in imports(source)
        if package not in STANDARD | own
        and not allowed & {dist(d) for d in owners().get(package, [package])}
    ]


def sources(folder: str) -> Iterator[tuple[str, str]]:
    for path in sorted((ROOT / folder).rglob("*.py")):
        yield path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")


def tracked() -> list[Path]:
    """List the files of the checkout, or of the folder where there is no git."""
    ask = ["git", "ls-files", "-co", "--exclude-standard", "-z"]
    try:
        told = subprocess.run(ask, cwd=ROOT, capture_output=True, check=True).stdout
        return [ROOT / n for n in told.decode().split("\0") if n and (ROOT / n).is_file()]
    except (OSError, subprocess.CalledProcessError):
        found = (p for p in ROOT.rglob("*") if not any(x[0] == "." for x in p.parts[-2:]))
        return [p for p in found if p.is_file() and ".venv" not in p.parts]


def tells(text: str, name: str) -> list[str]:
    return [
        f"{name}:{number}: {found[0]}"
        for number, line in enumerate(text.splitlines(), 1)
        if (found := NOT_IN_FILES.search(line))
    ]


def test_the_program_imports_only_what_it_declares() -> None:
    allowed = declared()
    found = [f for n, s in sources("src") for f in undeclared(s, n, allowed, {"evenfall"})]
    assert found == []


def test_tests_and_benchmarks_import_only_what_they_declare() -> None:
    allowed, own = declared("dev", "witness"), {"evenfall", "benchmarks", "tests", "conftest"}
    found = [
        f
        for d in ("tests", "benchmarks")
        for n, s in sources(d)
        for f in undeclared(s, n, allowed, own)
    ]
    assert found == []


def test_every_declared_package_of_the_program_is_used_or_has_its_reason() -> None:
    used = {
        dist(owner)
        for folder in ("src", "tests", "benchmarks")
        for _, source in sources(folder)
        for _, package in imports(source)
        for owner in owners().get(package, ())
    }
    assert declared() - used - set(NEVER_IMPORTED) == set()
    assert set(NEVER_IMPORTED) <= declared()


def test_run_py_needs_only_the_standard_library() -> None:
    source = (ROOT / "run.py").read_text(encoding="utf-8")
    assert undeclared(source, "run.py", set(), set()) == []


def test_every_dependency_is_pinned() -> None:
    text = (ROOT / "constraints.txt").read_text(encoding="utf-8")
    pinned = {dist(name) for name in re.findall(r"^([\w.-]+)==", text, re.M)}
    assert declared("dev", "witness") - pinned - {"evenfall"} == set()


def test_no_file_names_a_registry_or_a_path_of_this_machine() -> None:
    found = []
    for path in tracked():
        raw = path.read_bytes()
        if b"\0" not in raw[:8000]:
            name = path.relative_to(ROOT).as_posix()
            found += tells(raw.decode("utf-8", "replace"), name)
    assert found == []


@pytest.mark.parametrize("source", ["import pandas", "def f():\n    from requests import get"])
def test_a_planted_import_is_found(source: str) -> None:
    assert len(undeclared(source, "m", declared(), {"evenfall"})) == 1


def test_a_witness_in_the_program_is_found() -> None:
    assert len(undeclared("import skfem", "m", declared(), set())) == 1


@pytest.mark.parametrize(
    "text", ["https://py" "pi.org/simple", "see /ro" "ot/x", "/wo" "rk/main/src", "/ho" "me/ann"]
)  # fmt: skip
def test_a_planted_address_or_path_is_found(text: str) -> None:
    assert len(tells(text, "f")) == 1
