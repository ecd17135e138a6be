"""Where numbers come from: Cited, Measured, and Working made by a Formula on demand.

All of the project may import this module; of the project it imports `expression` alone.

A `Cited` or `Measured` number *is* a float, so formulas take it as it stands; it also carries its
unit, source and basis. A formula is a plain function of one return expression. Calling it computes
(arrays too); asking it to ``show`` returns a `Working` that can print itself, and what is printed
is read from the code, so that text and code cannot drift.
"""

from __future__ import annotations

import ast
import functools
import inspect
import re
import textwrap
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Generic, Literal, ParamSpec, Self, TypeVar, cast, get_args

from evenfall.expression import written

Basis = Literal[
    "measured",
    "published",
    "declared",
    "published, second-hand",
    "common practice",
    "planning seed",
    "from memory",
    "demo",
]
"""Every basis there is, the strongest first. A computed number takes the weakest that went in."""

BASES: tuple[Basis, ...] = get_args(Basis)


def weakest(bases: Iterable[str]) -> Basis:
    """Return the weakest of some bases; pure arithmetic on nothing known is ``published``.

    Parameters
    ----------
    bases : iterable of str
        Bases as in `BASES` [-].

    Returns
    -------
    str
        The one that stands last in `BASES` [-].

    Examples
    --------
    >>> weakest(["published", "from memory", "measured"])
    'from memory'
    """
    return max(cast("Iterable[Basis]", bases), key=BASES.index, default="published")


class Known(float):
    """A number that knows its unit, its source and its basis; for arithmetic a plain float."""

    __slots__ = ("basis", "source", "unit", "where")
    unit: str
    source: str
    where: str
    basis: Basis

    def __new__(cls, value: float, unit: str, source: str, where: str, basis: Basis) -> Self:
        """Refuse a number without unit, source or a basis of the list."""
        if basis not in BASES or not unit or not source:
            raise ValueError(f"a known number needs unit, source and a basis: {value} {unit}")
        self = super().__new__(cls, value)
        self.unit, self.source, self.where, self.basis = unit, source, where, basis
        return self

    def __getnewargs__(self) -> tuple[float, str, str, str, Basis]:  # type: ignore[override]
        return (float(self), self.unit, self.source, self.where, self.basis)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Known):
            return self.__getnewargs__() == other.__getnewargs__()
        return float(self) == other

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return float.__hash__(self)

    def __repr__(self) -> str:
        return f"{type(self).__name__}({float(self):g} {self.unit}, {self.source}, {self.basis})"

    @property
    def value(self) -> float:
        """The bare number."""
        return float(self)


class Cited(Known):
    """A number from a document or a practice.

    Examples
    --------
    >>> R_SE = Cited(0.04, "m2K/W", "ISO 6946:2017", "Table 7", "from memory")
    >>> R_SE * 2
    0.08
    >>> R_SE.basis
    'from memory'
    """

    __slots__ = ()


class Measured(Known):
    """A number from the job file (or the rates, or the weather); ``where`` is its key.

    Examples
    --------
    >>> side = measured(6.214, "m", "survey.tapes[A-B].length_m")
    >>> side.basis, side.where
    ('measured', 'survey.tapes[A-B].length_m')
    """

    __slots__ = ()


def measured(value: float, unit: str, where: str, basis: Basis = "measured") -> Measured:
    """Make a `Measured` number of the job.

    Parameters
    ----------
    value : float
        The number, in ``unit`` [any].
    unit : str
        Its unit [-].
    where : str
        Its key in the job file or the rates [-].
    basis : str
        ``measured``, or ``declared`` or ``demo`` for what a maker or the rates say [-].

    Returns
    -------
    Measured
        The number that knows its key [any].
    """
    return Measured(value, unit, "job", where, basis)


Number = Known | float


@dataclass(frozen=True, slots=True)
class Working:
    """How one number came about: symbol, expression, numbers, value, unit, source, basis.

    ``of`` holds the inputs by symbol; an input may be a Working of its own. The printed texts are
    made when asked for.
    """

    title: str
    symbol: str
    unit: str
    source: str
    value: float
    of: tuple[tuple[str, str, Known | Working | float], ...] = ()  # symbol, unit, number
    expression: str = ""
    own_basis: Basis = "published"  # of the formula itself

    def __float__(self) -> float:
        return float(self.value)

    @property
    def basis(self) -> Basis:
        """The weakest basis of the formula and of what went in."""
        return weakest([self.own_basis, *(_basis(v) for _, _, v in self.of)])

    @property
    def numbers(self) -> str:
        """The expression with its numbers in place of the symbols."""
        values = {s: figure(float(v)) for s, _, v in self.of}
        if not values:
            return figure(self.value)
        word = re.compile(r"\b(" + "|".join(map(re.escape, sorted(values, key=len)[::-1])) + r")\b")
        return word.sub(lambda m: self._in_place(m, values), self.expression)

    def _in_place(self, found: re.Match[str], values: dict[str, str]) -> str:
        """Put a number for its symbol; below 0 it stands in brackets after a sign or at a power."""
        value = values[found.group(1)]
        before, after = self.expression[: found.start()].rstrip(), self.expression[found.end() :]
        signed = before.endswith(("+", "−", "-", "×", "/", "·")) or after.startswith("^")
        return f"({value})" if value.startswith("-") and signed else value

    @property
    def line(self) -> str:
        """All in one line: ``q_p = c_e × q_b = 1.566 × 422.5 = 661.8 Pa``."""
        unit = "" if self.unit == "-" else f" {self.unit}"
        parts = [self.symbol, self.expression, self.numbers, f"{figure(self.value)}{unit}"]
        return " = ".join(p for i, p in enumerate(parts) if p and (i == 0 or p != parts[i - 1]))


@dataclass(frozen=True, slots=True)
class Table:
    """Working of a loop (months, layers, boards): one table, not a thousand lines.

    ``columns`` are (name, unit); a cell is a number or a word.
    """

    title: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[float | str, ...], ...]
    source: str
    basis: Basis

    def __post_init__(self) -> None:
        if any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError(f"{self.title}: each row needs {len(self.columns)} cells")


def _basis(value: Known | Working | float) -> Basis:
    """Return the basis of an input; a bare float is arithmetic of the caller (no source lost)."""
    return value.basis if isinstance(value, Known | Working) else "published"


def figure(value: float) -> str:
    """Print a number with the figures that a reader needs to follow the sum.

    Parameters
    ----------
    value : float
        Any number [any].

    Returns
    -------
    str
        Four significant figures, whole numbers whole [-].

    Examples
    --------
    >>> figure(661.8172), figure(0.0212478), figure(6), figure(25420.0)
    ('661.8', '0.02125', '6', '25420')
    """
    if value == int(value) and abs(value) < 10**9:
        return str(int(value))
    if abs(value) >= 10**4:
        return f"{value:.0f}"
    return f"{value:.4g}"


P = ParamSpec("P")
R = TypeVar("R")


class Formula(Generic[P, R]):
    """A function of one return expression, with a header; see `formula`."""

    def __init__(
        self, function: Callable[P, R], symbol: str, unit: str, source: str, basis: Basis
    ) -> None:
        functools.update_wrapper(self, function)
        self.function, self.symbol, self.unit = function, symbol, unit
        self.source, self.basis = source, basis

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """Compute; the same as the plain function, arrays too."""
        return self.function(*args, **kwargs)

    @functools.cached_property
    def expression(self) -> str:
        """The right-hand side, read from the code."""
        tree = ast.parse(textwrap.dedent(inspect.getsource(self.function)))
        body = [s for s in tree.body[0].body if not _is_text(s)]  # type: ignore[attr-defined]
        if len(body) != 1 or not isinstance(body[0], ast.Return):
            raise TypeError(f"{self.__name__}: a formula is one return expression")  # type: ignore[attr-defined]
        return written(body[0].value)  # type: ignore[arg-type]

    @functools.cached_property
    def title(self) -> str:
        """The first line of the docstring."""
        return (inspect.getdoc(self.function) or "").split("\n", 1)[0].rstrip(".")

    @functools.cached_property
    def units(self) -> dict[str, str]:
        """Units of the arguments, read from the docstring."""
        return units_of(self.function)

    @functools.cached_property
    def _signature(self) -> inspect.Signature:
        return inspect.signature(self.function)

    @functools.cached_property
    def _defaults(self) -> dict[str, Any]:
        return {k: p.default for k, p in self._signature.parameters.items()}

    def _arguments(self, args: tuple[Any, ...], kwargs: dict[str, Any]) -> dict[str, Any]:
        """Name every argument; what does not fit raises as the plain call would."""
        named = self._defaults | dict(zip(self._defaults, args, strict=False)) | kwargs
        most, empty = len(self._defaults), inspect.Parameter.empty
        if len(named) > most or len(args) > most or any(v is empty for v in named.values()):
            self._signature.bind(*args, **kwargs)
        return named

    def show(self, *args: Any, **kwargs: Any) -> Working:
        """Compute and return the Working; arguments may be numbers, Known or Working."""
        named = self._arguments(args, kwargs)
        of = tuple((k, self.units.get(k, "-"), v) for k, v in named.items())
        plain = {k: v.value if isinstance(v, Working) else v for k, v in named.items()}
        value = float(self.function(**plain))  # type: ignore[call-arg, arg-type]
        title, symbol = self.title, self.symbol
        expression, basis = self.expression, self.basis
        return Working(title, symbol, self.unit, self.source, value, of, expression, basis)


def formula(
    symbol: str, unit: str, source: str, basis: Basis = "published"
) -> Callable[[Callable[P, R]], Formula[P, R]]:
    """Give a function of one return expression its header.

    Parameters
    ----------
    symbol : str
        The document's symbol of the result [-].
    unit : str
        Unit of the result, ``"-"`` for none [-].
    source : str
        Document and clause [-].
    basis : str
        How the formula is known, as in `BASES` [-].

    Returns
    -------
    callable
        A decorator that makes a `Formula` [-].

    Examples
    --------
    >>> @formula("q_p", "Pa", "EN 1991-1-4 (4.8)")
    ... def peak_pressure(c_e, q_b):
    ...     return c_e * q_b
    >>> peak_pressure(2.0, 422.5)
    845.0
    """
    return lambda function: Formula(function, symbol, unit, source, basis)


def units_of(function: Callable[..., Any]) -> dict[str, str]:
    """Read the unit of each argument from a numpydoc docstring.

    Parameters
    ----------
    function : callable
        A function whose parameter texts end in a bracketed unit [-].

    Returns
    -------
    dict
        Argument name to unit [-].
    """
    text = inspect.getdoc(function) or ""
    block = re.search(r"Parameters\n-+\n(.*?)(?:\n\n?[A-Z][a-z]+\n-{3,}|\Z)", text, re.S)
    found: dict[str, str] = {}
    for names, told in re.findall(
        r"^(\w[\w, ]*) :[^\n]*\n((?:[ ]+[^\n]*(?:\n|$)|\n)+)", block[1] if block else "", re.M
    ):
        unit = re.search(r"\[([^\]]+)\][.\s]*$", told)
        found |= {name.strip(): unit[1] for name in names.split(",") if unit}
    return found


def _is_text(statement: ast.stmt) -> bool:
    return isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)


def total(title: str, symbol: str, unit: str, parts: Iterable[tuple[str, Any]]) -> Working:
    """Add named parts and show the sum.

    Parameters
    ----------
    title, symbol, unit : str
        What the sum is [-].
    parts : iterable of (str, number)
        Each part with its name; a name may be several words [-].

    Returns
    -------
    Working
        The sum, with ``source`` "addition" [unit].

    Examples
    --------
    >>> total("Build-up", "b", "mm", [("board", 120.0), ("sheet", 1.2)]).line
    'b = board + sheet = 120 + 1.2 = 121.2 mm'
    """
    of = tuple((name, unit, value) for name, value in parts)
    value = float(sum(float(v) for _, _, v in of))
    expression = " + ".join(name for name, _, _ in of)
    return Working(title, symbol, unit, "addition", value, of, expression)
