"""Who may import whom, and what a pure folder may touch; read from the syntax tree.

Known gap: purity is judged by name. A dependency may do what it likes inside.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SRC = Path(__file__).parents[2] / "src" / "evenfall"

MAY_IMPORT: dict[str, set[str]] = {
    "expression": set(),
    "working": {"expression"},
    "errors": set(),
    "standards": set(),
    "drawing": set(),
    "model": {"standards"},
    "calc": {"standards"},
    "stages": {"model", "calc", "standards", "drawing"},
    "rooms": {"stages", "model"},
    "flow": {"rooms", "stages", "model"},
    "drafting": {"flow", "stages", "model", "calc", "standards"},
    "weather": {"flow", "stages", "model"},
    "app": {"flow", "weather", "drafting", "model", "drawing"},
}
"""All may also import `working` and `errors` (those two no more), and what is in their folder."""

EVERYWHERE = {"working", "errors", "expression"}
PURE = (
    "standards",
    "model",
    "calc",
    "stages",
    "drawing",
    "rooms",
    "flow",
    "drafting",
    "weather",
    "working",
    "errors",
    "expression",
)

HARMLESS = {
    "__future__", "abc", "ast", "bisect", "collections", "copy", "csv", "dataclasses", "datetime",
    "decimal", "enum", "fractions", "functools", "hashlib", "heapq", "html", "inspect", "itertools",
    "json", "math", "numbers", "operator", "re", "statistics", "string", "textwrap", "types",
    "typing", "unicodedata", "zlib", "numpy", "scipy", "shapely", "pydantic", "dateutil",
}  # fmt: skip
"""What a pure folder may import; a new name is added here, by hand and with thought."""

HARMLESS_THERE = {"drawing": {"ezdxf", "io"}}
"""`drawing` writes DXF into a text in memory (`io.StringIO`)."""

CALLS = {"open", "print", "input", "exec", "eval", "compile", "__import__", "breakpoint"}
METHODS = {
    "today", "now", "utcnow", "fromfile", "tofile", "loadtxt", "savetxt", "genfromtxt", "memmap",
    "read_text", "write_text", "read_bytes", "write_bytes", "saveas", "readfile", "open",
}  # fmt: skip
NUMPY_FILES = {"load", "save", "savez"}


def imported(tree: ast.AST, module: str) -> Iterator[tuple[int, str]]:
    """Yield line and full name of each import; relative ones are made absolute."""
    package = module.split(".")[:-1]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            yield from ((node.lineno, f"{start}.{alias.name}") for alias in node.names)


def layer_faults(source: str, module: str) -> list[str]:
    """List the imports of a module that its folder does not allow."""
    mine = module.split(".")[1] if "." in module else ""
    allowed = MAY_IMPORT.get(mine, set()) | {mine}
    allowed |= set() if mine in EVERYWHERE else EVERYWHERE
    found = []
    for line, name in imported(ast.parse(source), module):
        first, *rest = name.split(".")
        if first == "evenfall" and (not rest or rest[0] not in allowed):
            found.append(f"{module}:{line}: {mine or 'evenfall'} may not import {name}")
    return found


def purity_faults(source: str, module: str) -> list[str]:
    """List what a pure module may not do: import, call or ask for."""
    tree, mine = ast.parse(source), module.split(".")[1]
    harmless = HARMLESS | HARMLESS_THERE.get(mine, set()) | {"evenfall"}
    found = [
        f"{module}:{line}: imports {name}"
        for line, name in imported(tree, module)
        if name.split(".")[0] not in harmless
    ]
    return found + [
        f"{module}:{node.lineno}: {said}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Call | ast.Attribute) and (said := _touches(node))
    ]


def _touches(node: ast.Call | ast.Attribute) -> str:
    if isinstance(node, ast.Attribute):
        owner = node.value.id if isinstance(node.value, ast.Name) else ""
        if node.attr in METHODS or (owner in ("np", "numpy") and node.attr in NUMPY_FILES):
            return f"uses .{node.attr}"
        return "uses random numbers" if node.attr == "random" else ""
    if isinstance(node.func, ast.Name) and node.func.id in CALLS:
        return f"calls {node.func.id}"
    return ""


def modules(*folders: str) -> Iterator[tuple[str, str]]:
    """Yield name and source of each module of some folders, or of all."""
    for path in sorted(SRC.rglob("*.py")):
        parts = path.relative_to(SRC).with_suffix("").parts
        if not folders or parts[0] in folders:
            yield ".".join(("evenfall", *parts)), path.read_text(encoding="utf-8")


def test_nobody_imports_what_his_folder_may_not() -> None:
    found = [f for name, source in modules() for f in layer_faults(source, name)]
    assert not found, "\n".join(found)


def test_pure_folders_touch_no_file_clock_screen_chance_or_network() -> None:
    found = [f for name, source in modules(*PURE) for f in purity_faults(source, name)]
    assert not found, "\n".join(found)


def test_every_folder_has_its_rule() -> None:
    names = {
        p.stem for p in SRC.iterdir() if p.suffix == ".py" or (p.is_dir() and p.name[0] != "_")
    }
    assert names - {"__init__"} == set(MAY_IMPORT)


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("evenfall.app.cli", "from evenfall.calc.physics import tapered"),
        ("evenfall.app.cli", "import evenfall.standards.iso_6946"),
        ("evenfall.app.web.page", "from ...calc import physics"),
        ("evenfall.app.cli", "from evenfall import stages"),
        ("evenfall.app.cli", "import evenfall"),
        ("evenfall.calc.physics.heat", "def f():\n    from evenfall.model import job"),
        ("evenfall.standards.iso_6946", "from evenfall.calc import loads"),
        ("evenfall.drawing.svg", "from evenfall.standards import iso_6946"),
        ("evenfall.model.job", "from evenfall.stages.survey import plan"),
        ("evenfall.flow", "from evenfall.calc import geometry"),
        ("evenfall.stages.survey.plan", "from evenfall.flow import work_out"),
        ("evenfall.errors", "from evenfall.working import Cited"),
    ],
)
def test_a_planted_import_is_found(module: str, source: str) -> None:
    assert len(layer_faults(source, module)) == 1


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("evenfall.app.cli", "from evenfall.flow import work_out\nfrom .summary import show"),
        ("evenfall.calc.physics.heat", "from evenfall.errors import OutOfScope"),
        ("evenfall.stages.survey.plan", "from evenfall import calc, model"),
        ("evenfall.standards.iso_6946", "from evenfall.working import Cited"),
    ],
)
def test_an_allowed_import_is_let_through(module: str, source: str) -> None:
    assert layer_faults(source, module) == []


@pytest.mark.parametrize(
    "source",
    [
        "import os",
        "from pathlib import Path",
        "import random",
        "from time import monotonic",
        "def f():\n    import socket",
        "import importlib",
        "x = open('a')",
        "print('a')",
        "input()",
        "from datetime import date\nd = date.today()",
        "from datetime import datetime\nd = datetime.now()",
        "import numpy as np\nr = np.random.default_rng(1)",
        "import numpy as np\na = np.load('a.npy')",
        "p.write_text('a')",
        "__import__('os')",
        "eval('1')",
        "import io",
    ],
)
def test_a_planted_touch_of_the_world_is_found(source: str) -> None:
    assert len(purity_faults(source, "evenfall.calc.physics.heat")) == 1


def test_pure_code_is_let_through() -> None:
    source = (
        "import numpy as np\nfrom math import pi\nfrom datetime import date\nd = date(2026, 1, 2)"
    )
    assert purity_faults(source, "evenfall.calc.physics.heat") == []
    assert purity_faults("from io import StringIO", "evenfall.drawing.dxf") == []
