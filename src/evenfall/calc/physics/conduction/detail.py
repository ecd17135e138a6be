"""A detail as boxes of material and boxes of air, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NoReturn

from evenfall.errors import InvalidInput

SAME = 1e-8
"""Two lines nearer than this are one: the noise of sums of lengths, far below any sheet [m]."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle or cuboid of one material; later boxes lie over earlier ones.

    Parameters
    ----------
    name : str
        What it is, as errors shall call it [-].
    lower : tuple of float
        Corner with the least coordinates, two or three of them [m].
    upper : tuple of float
        Corner with the greatest coordinates [m].
    conductivity : float
        Thermal conductivity [W/(m K)].

    Examples
    --------
    >>> Box("board", (0.0, 0.0), (1.0, 0.1), 0.022).conductivity
    0.022
    """

    name: str
    lower: tuple[float, ...]
    upper: tuple[float, ...]
    conductivity: float

    def __post_init__(self) -> None:
        _check_extent(self.name, self.lower, self.upper)
        if not (math.isfinite(self.conductivity) and self.conductivity > 0):
            raise InvalidInput(
                f"conductivity {self.conductivity} W/(m K)",
                "a number above 0",
                where=self.name,
                do="give the lambda of the material",
            )


@dataclass(frozen=True, slots=True)
class Surround:
    """A box of air at one temperature; each face it shares with a solid has its film.

    Several boxes may share one name: they are one air, and their flows are added.

    Parameters
    ----------
    name : str
        What it is, such as inside or outside [-].
    lower : tuple of float
        Corner with the least coordinates [m].
    upper : tuple of float
        Corner with the greatest coordinates [m].
    temperature : float
        Temperature of the air [C].
    resistance : float
        Surface resistance; 0 holds the surface itself at the temperature [m2K/W].

    Examples
    --------
    >>> Surround("inside", (0.0, -1.0), (1.0, 0.0), 20.0, 0.10).temperature
    20.0
    """

    name: str
    lower: tuple[float, ...]
    upper: tuple[float, ...]
    temperature: float
    resistance: float

    def __post_init__(self) -> None:
        _check_extent(self.name, self.lower, self.upper)
        if not math.isfinite(self.temperature):
            raise InvalidInput(f"temperature {self.temperature}", "a number", where=self.name)
        if not (math.isfinite(self.resistance) and self.resistance >= 0):
            raise InvalidInput(
                f"surface resistance {self.resistance} m2K/W", "0 or more", where=self.name
            )


Part = Box | Surround


@dataclass(frozen=True, slots=True)
class Detail:
    """Boxes and the airs around them; what is covered by neither lets no heat through.

    Parameters
    ----------
    boxes : tuple of Box
        The solids; a later one lies over an earlier one [-].
    surrounds : tuple of Surround
        The airs; none overlaps a solid or another air [-].

    Examples
    --------
    >>> board = Box("board", (0.0, 0.0), (1.0, 0.1), 0.022)
    >>> inside = Surround("inside", (0.0, -1.0), (1.0, 0.0), 20.0, 0.10)
    >>> outside = Surround("outside", (0.0, 0.1), (1.0, 1.0), 0.0, 0.04)
    >>> Detail((board,), (inside, outside)).dimensions
    2
    """

    boxes: tuple[Box, ...]
    surrounds: tuple[Surround, ...]

    def __post_init__(self) -> None:
        if not self.boxes:
            raise InvalidInput("no solid", "at least one box", where="detail")
        if not self.surrounds:
            raise InvalidInput("no air", "at least one surround", where="detail")
        parts: list[Part] = [*self.boxes, *self.surrounds]
        for part in parts:
            if len(part.lower) != self.dimensions:
                raise InvalidInput(
                    f"{len(part.lower)} dimensions",
                    f"{self.dimensions} as {self.boxes[0].name} has",
                    where=part.name,
                )
        self._check_airs()

    def _check_airs(self) -> None:
        seen: dict[str, float] = {}
        for n, air in enumerate(self.surrounds):
            if seen.setdefault(air.name, air.temperature) != air.temperature:
                raise InvalidInput(
                    f"{air.temperature} C and {seen[air.name]} C",
                    "one temperature to a name",
                    where=air.name,
                    do="give the second air its own name",
                )
            for other in self.surrounds[n + 1 :]:
                if overlap(air, other) and (air.name, air.resistance) != (
                    other.name,
                    other.resistance,
                ):
                    _refuse_overlap(air.name, other.name)
            for box in self.boxes:
                if overlap(air, box):
                    _refuse_overlap(box.name, air.name)

    @property
    def dimensions(self) -> int:
        """Dimensions of the detail [-]."""
        return len(self.boxes[0].lower)

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the airs, each once, in order [-]."""
        return tuple(dict.fromkeys(air.name for air in self.surrounds))

    @property
    def temperatures(self) -> tuple[float, ...]:
        """Temperature of each name [C]."""
        found = {air.name: air.temperature for air in self.surrounds}
        return tuple(found[name] for name in self.names)


def overlap(a: Part, b: Part) -> bool:
    """Tell whether two parts share more than a face.

    Parameters
    ----------
    a : Box or Surround
        One part [-].
    b : Box or Surround
        Another part [-].

    Returns
    -------
    bool
        Whether their insides meet [-].

    Examples
    --------
    >>> left, right = (Box(n, (x, 0.0), (x + 1, 1.0), 1.0) for n, x in (("a", 0.0), ("b", 1.0)))
    >>> overlap(left, right)
    False
    """
    return all(
        min(ua, ub) - max(la, lb) > SAME
        for la, ua, lb, ub in zip(a.lower, a.upper, b.lower, b.upper, strict=True)
    )


def _refuse_overlap(name: str, other: str) -> NoReturn:
    raise InvalidInput(
        f"overlaps {other}",
        "parts that meet only in a face",
        where=name,
        do=f"end the one where the other begins, or cut {other} into several boxes",
    )


def _check_extent(name: str, lower: Sequence[float], upper: Sequence[float]) -> None:
    if len(lower) != len(upper) or len(lower) not in (2, 3):
        raise InvalidInput(
            f"corners of {len(lower)} and {len(upper)} coordinates", "two or three", where=name
        )
    for axis, low, high in zip("xyz", lower, upper, strict=False):
        if not (math.isfinite(low) and math.isfinite(high)):
            raise InvalidInput(f"{axis} from {low} to {high} m", "numbers", where=name)
        if high - low < 100 * SAME:
            raise InvalidInput(
                f"{axis} from {low} to {high} m",
                "a size above 0, lower corner first",
                where=name,
                do="leave the part out where it has no thickness",
            )
