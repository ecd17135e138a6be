"""Units on all public parameters and results; documented arguments are the real ones."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pint
import pytest

SRC = Path(__file__).parents[2] / "src" / "evenfall"
FOLDERS = ("standards", "calc", "stages", "drawing", "working")

WORDS = {"-": "no unit", "any": "the unit of what is given", "unit": "the unit named beside it"}
"""What stands for a unit where there is none to name."""

OWN = ("pence = [money]", "person = [people]", "each = []")
"""Units that physics does not have."""


@cache
def registry() -> pint.UnitRegistry:
    found = pint.UnitRegistry()
    for unit in OWN:
        found.define(unit)
    return found


def known_unit(text: str) -> bool:
    """Tell whether a text is a unit, or several parted by commas."""
    return all(_known(part.strip()) for part in text.split(","))


def _known(unit: str) -> bool:
    if unit in WORDS:
        return True
    if not re.search(r"[A-Za-zΩ°%]", unit):
        return False
    text = re.sub(r"([A-Za-z])(-?\d)", r"\1**\2", unit.replace("^", "**").replace("%", "percent"))
    text = re.sub(r"(\*\*-?\d+(?:\.\d+)?)(?=[A-Za-z])", r"\1*", text)
    text = re.sub(r"(?<=[\w)])\s+per\s+", "/", text)
    try:
        registry().parse_units(re.sub(r"(?<=[\w)])\s+(?=[A-Za-z(])", "*", text))
    except Exception:  # pint raises many kinds
        return False
    return True


def sections(doc: str) -> dict[str, str]:
    """Split a numpydoc docstring at its underlined headings."""
    parts = re.split(r"^([A-Z][A-Za-z ]+)\n-{3,}\n", doc, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def entries(section: str) -> Iterator[tuple[str, str]]:
    """Yield head and text of each entry of a section."""
    for block in re.split(r"\n(?=\S)", section.strip("\n")):
        head, _, text = block.partition("\n")
        yield head, " ".join(text.split())


def unit_of(text: str) -> str | None:
    found = re.search(r"\[([^\]]+)\]\.?$", text)
    return found[1] if found else None


def arguments(node: ast.FunctionDef) -> list[str]:
    a = node.args
    names = [x.arg for x in (*a.posonlyargs, *a.args)]
    names += [f"*{a.vararg.arg}"] if a.vararg else []
    names += [x.arg for x in a.kwonlyargs]
    return names + ([f"**{a.kwarg.arg}"] if a.kwarg else [])


def faults(source: str, module: str) -> list[str]:
    """List what is wrong with the docstrings of the public functions and data classes."""
    found = []
    for node in ast.parse(source).body:
        if isinstance(node, ast.FunctionDef) and node.name[0] != "_" and not _overload(node):
            found += [f"{module}.{node.name}: {said}" for said in _function(node)]
        elif isinstance(node, ast.ClassDef) and node.name[0] != "_":
            text = sections(ast.get_docstring(node) or "").get("Parameters", "")
            found += [f"{module}.{node.name}: {said}" for said in _units(text)]
    return found


def _overload(node: ast.FunctionDef) -> bool:
    return any(isinstance(d, ast.Name) and d.id == "overload" for d in node.decorator_list)


def _function(node: ast.FunctionDef) -> Iterator[str]:
    doc = ast.get_docstring(node)
    if not doc:
        yield "no docstring"
        return
    parts = sections(doc)
    told = [n.strip() for head, _ in entries(parts.get("Parameters", "")) if head
            for n in head.split(" :")[0].split(",")]  # fmt: skip
    if sorted(n.strip("*") for n in told) != sorted(n.strip("*") for n in arguments(node)):
        yield f"documents the arguments {told}, has {arguments(node)}"
    yield from _units(parts.get("Parameters", ""))
    nothing = isinstance(node.returns, ast.Constant) and node.returns.value is None
    result = parts.get("Returns", parts.get("Yields", ""))
    if not nothing and not result.strip():
        yield "does not say what it returns"
    yield from _units(result)


def _units(section: str) -> Iterator[str]:
    for head, text in entries(section):
        unit = unit_of(text)
        if head and unit is None:
            yield f"{head}: no [unit] at the end"
        elif unit is not None and not known_unit(unit):
            yield f"{head}: [{unit}] is no unit"


def modules() -> Iterator[tuple[str, str]]:
    for path in sorted(SRC.rglob("*.py")):
        parts = path.relative_to(SRC).with_suffix("").parts
        if parts[0] in FOLDERS:
            yield ".".join(parts), path.read_text(encoding="utf-8")


def test_every_public_parameter_and_result_has_its_unit() -> None:
    found = [fault for name, source in modules() for fault in faults(source, name)]
    assert not found, "\n".join(found)


SOUND = '''
def resistance(d: float, lambda_: float) -> float:
    """Resistance of a layer.

    Parameters
    ----------
    d : float
        Thickness [m].
    lambda_ : float
        Conductivity, which is
        declared [W/(m K)].

    Returns
    -------
    float
        Resistance [m2K/W].
    """
    return d / lambda_
'''


def test_a_sound_docstring_is_let_through() -> None:
    assert faults(SOUND, "m") == []


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("Thickness [m].", "Thickness.", "d : float: no [unit] at the end"),
        ("Resistance [m2K/W].", "Resistance.", "float: no [unit] at the end"),
        ("[W/(m K)]", "[watts or so]", "is no unit"),
        ("[m]", "[]", "no [unit] at the end"),
        ("[m]", "[1]", "is no unit"),
        ("d: float, lambda_", "d: float, extra: int, lambda_", "documents the arguments"),
        ("    d : float\n        Thickness [m].\n", "", "documents the arguments"),
        (
            "    Returns\n    -------\n    float\n        Resistance [m2K/W].\n",
            "",
            "what it returns",
        ),
    ],
)
def test_a_planted_fault_is_found(old: str, new: str, said: str) -> None:
    planted = SOUND.replace(old, new, 1)
    assert planted != SOUND
    (found,) = faults(planted, "m")
    assert said in found


def test_a_function_without_docstring_is_found() -> None:
    assert faults("def f(x: float) -> float:\n    return x\n", "m") == ["m.f: no docstring"]


def test_a_function_that_returns_nothing_need_not_say_so() -> None:
    assert faults('def f() -> None:\n    """Check."""\n', "m") == []


def test_names_that_share_a_line_are_each_documented() -> None:
    both = '''def f(a, b):\n    """Add.\n
    Parameters\n    ----------\n    a, b : float\n        Terms [m].\n
    Returns\n    -------\n    float\n        Sum [m].\n    """\n'''
    assert faults(both, "m") == []


def test_a_data_class_without_a_unit_is_found() -> None:
    planted = '''class Row:
    """A line.

    Parameters
    ----------
    name : str
        Its name [-].
    d : float
        Thickness.
    """
'''
    (found,) = faults(planted, "m")
    assert "no [unit]" in found


@pytest.mark.parametrize(
    "unit",
    ["m", "m2K/W", "W/(m2K)", "kg/(m s Pa)", "1/m2", "l/(s m2)", "s/m^(1/3)", "mm^2.5 s/l", "deg",
     "pence/m2", "K d", "m, pence", "%", "kWh", "N/m3", "mm/px"],
)  # fmt: skip
def test_units_as_the_trade_writes_them_are_known(unit: str) -> None:
    assert known_unit(unit)


@pytest.mark.parametrize("unit", ["metre-ish", "0", "x y z", "per", "W/(m K", "pounds sterling"])
def test_other_texts_are_no_units(unit: str) -> None:
    assert not known_unit(unit)
