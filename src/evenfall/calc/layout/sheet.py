"""The sheet: which roll, which way, how long, how heavy. Whole millimetres, whole pence.

The sheet covers the rectangle round the roof with its allowances; the roll may run along any side
of the roof or across it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, hypot
from typing import NamedTuple

from evenfall.errors import InvalidInput
from evenfall.standards.sheet_practice import (
    LIFT_MAN_KG,
    SEAM_LAP_MM,
    SHARE_OF_THREE,
    SHARE_OF_TWO,
    TWO_PEOPLE_CARRY_KG,
    WIDTH_SHORT,
)
from evenfall.working import formula

Ring = tuple[tuple[int, int], ...]

ALIKE = 1e-3  # directions that differ less are one


class SheetStock(NamedTuple):
    """A roll sold: width, longest cut and step [mm], price [pence/m2], mass [kg/m2]."""

    width_mm: int
    longest_mm: int
    step_mm: int
    price_pence_m2: int
    mass_kg_m2: float


@dataclass(frozen=True, slots=True)
class SheetOption:
    """One way to order the sheet."""

    stock: SheetStock
    along: tuple[float, float]  # unit vector of the roll in the plan
    need_along_mm: int
    need_across_mm: int
    pieces: int
    cut_mm: int  # length of each piece
    seams: int
    seam_mm: int  # length of all seams
    area_mm2: int
    piece_kg: float
    mass_kg: float
    cost_pence: int

    @property
    def one_piece(self) -> bool:
        """Whether the roof is covered without a seam."""
        return self.pieces == 1


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """All options, the chosen one first, beside what people may lift."""

    options: tuple[SheetOption, ...]
    two_people_practice_kg: float
    two_people_filter_kg: float
    three_people_filter_kg: float

    @property
    def chosen(self) -> SheetOption:
        """The cheapest in one piece; with seams only where no roll is wide enough."""
        return self.options[0]


@formula("m_2", "kg", "HSE L23, INDG143", "from memory")
def filter_of_two(a: float, b: float, share: float = SHARE_OF_TWO) -> float:
    """Filter for two people lifting together.

    Parameters
    ----------
    a, b : float
        Filter of each alone [kg].
    share : float
        Share of the sum [-].

    Returns
    -------
    float
        Mass above which a full assessment is due [kg].

    Examples
    --------
    >>> filter_of_two(25.0, 25.0)
    33.33
    """
    return share * (a + b)


@formula("m_3", "kg", "HSE L23, INDG143", "from memory")
def filter_of_three(a: float, b: float, c: float, share: float = SHARE_OF_THREE) -> float:
    """Filter for three people lifting together.

    Parameters
    ----------
    a, b, c : float
        Filter of each alone [kg].
    share : float
        Share of the sum [-].

    Returns
    -------
    float
        Mass above which a full assessment is due [kg].

    Examples
    --------
    >>> filter_of_three(25.0, 25.0, 25.0)
    37.5
    """
    return share * (a + b + c)


def plan_sheet(
    outline: Ring,
    allowances_mm: Sequence[int],
    uncertainty_mm: int,
    stock: Sequence[tuple[int, int, int, int, float]],
    *,
    lap_mm: int = int(SEAM_LAP_MM),
    width_short: float = WIDTH_SHORT,
) -> SheetPlan:
    """Choose the roll that covers a roof at the least cost.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the finished roof [mm].
    allowances_mm : sequence of int
        Extra at each side; side 0 runs from corner 0 to corner 1 [mm].
    uncertainty_mm : int
        How far a side may lie outside of the plan [mm].
    stock : sequence of tuple
        Width, longest cut, step [mm], price [pence/m2] and mass [kg/m2] of each roll [mm].
    lap_mm : int
        Lap of a seam [mm].
    width_short : float
        Share by which the factory may make a roll too narrow [-].

    Returns
    -------
    SheetPlan
        Options, the chosen one first, and the lifting figures [mm, kg, pence].

    Examples
    --------
    >>> roof = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
    >>> rolls = [(6100, 30000, 100, 1150, 1.4), (7620, 30000, 100, 1150, 1.4)]
    >>> best = plan_sheet(roof, (250, 240, 150, 240), 0, rolls).chosen
    >>> best.stock.width_mm, best.cut_mm, best.area_mm2, best.mass_kg
    (7620, 4500, 34290000, 48.0)
    """
    rolls = [SheetStock(*s) for s in stock]
    if len(allowances_mm) != len(outline) or min((*allowances_mm, uncertainty_mm)) < 0:
        raise InvalidInput(
            f"{len(allowances_mm)} allowances for {len(outline)} sides",
            "one for each side, none below 0",
            where="allowances_mm",
        )
    if not rolls or any(min(r) <= 0 or r.width_mm <= lap_mm for r in rolls):
        raise InvalidInput(f"stock {rolls}", "rolls wider than a lap", where="stock")
    grown = _grown(outline, [a + uncertainty_mm for a in allowances_mm])
    options = [
        _option(roll, along, grown, lap_mm, float(width_short))
        for along in _directions(outline)
        for roll in rolls
    ]
    options.sort(key=lambda o: (not o.one_piece, o.cost_pence, o.mass_kg, o.seam_mm))
    man = LIFT_MAN_KG
    return SheetPlan(
        tuple(options),
        float(TWO_PEOPLE_CARRY_KG),
        float(filter_of_two(man, man)),
        float(filter_of_three(man, man, man)),
    )


def _directions(outline: Ring) -> list[tuple[float, float]]:
    """List the directions along and across each side, each once."""
    found: list[tuple[float, float]] = []
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        c, s = (x1 - x0) / hypot(x1 - x0, y1 - y0), (y1 - y0) / hypot(x1 - x0, y1 - y0)
        for u in ((c, s), (-s, c)):
            u = u if u > (-u[0], -u[1]) else (-u[0], -u[1])
            if all(abs(u[0] * v[1] - u[1] * v[0]) > ALIKE / 10 for v in found):
                found.append(u)
    return found


def _grown(outline: Ring, extra: Sequence[int]) -> list[tuple[float, float]]:
    """Move every side outwards by its allowance; square outer corners are filled."""
    number = len(outline)
    twice = sum(
        outline[i][0] * outline[(i + 1) % number][1] - outline[(i + 1) % number][0] * outline[i][1]
        for i in range(number)
    )
    turn = 1 if twice > 0 else -1
    moves = []
    for i, (x0, y0) in enumerate(outline):
        x1, y1 = outline[(i + 1) % number]
        length = hypot(x1 - x0, y1 - y0)
        moves.append((turn * (y1 - y0) / length * extra[i], -turn * (x1 - x0) / length * extra[i]))
    points: list[tuple[float, float]] = []
    for i, (x, y) in enumerate(outline):
        (ax, ay), (bx, by) = moves[i - 1], moves[i]
        points += [(x, y), (x + ax, y + ay), (x + bx, y + by)]
    return points


def _option(
    roll: SheetStock,
    along: tuple[float, float],
    points: list[tuple[float, float]],
    lap: int,
    short: float,
) -> SheetOption:
    """Work out one roll in one direction."""
    c, s = along
    a = _extent([c * x + s * y for x, y in points])
    b = _extent([c * y - s * x for x, y in points])
    sure = floor(roll.width_mm * (1 - short))
    longest = roll.longest_mm // roll.step_mm * roll.step_mm
    strips = 1 if b <= sure else ceil((b - lap) / (sure - lap))
    lengths = 1 if a <= longest else ceil((a - lap) / (longest - lap))
    each = ceil((a + (lengths - 1) * lap) / lengths)
    cut = ceil(each / roll.step_mm) * roll.step_mm
    pieces = strips * lengths
    one = cut * roll.width_mm
    seam = (strips - 1) * a + (lengths - 1) * b
    square_metre = 10**6
    return SheetOption(
        roll, along, a, b, pieces, cut, strips - 1 + lengths - 1, seam, one * pieces,
        one * roll.mass_kg_m2 / square_metre,
        one * pieces * roll.mass_kg_m2 / square_metre,
        (2 * one * pieces * roll.price_pence_m2 + square_metre) // (2 * square_metre),
    )  # fmt: skip


def _extent(values: list[float]) -> int:
    return ceil(max(values) - min(values) - 1e-6)
