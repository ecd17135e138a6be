"""The sheet: which roll, which way, how long, how heavy. Whole millimetres, whole pence.

The sheet covers the rectangle round the roof with its allowances; the roll may run along any side
of the roof or across it. Where no roll is wide enough, seams lie with the fall and clear of the
outlets if any order of strips lets them; a seam counts as so much more sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, hypot
from typing import NamedTuple

from evenfall.calc.layout.notches import needed_rings, notches, trim_line
from evenfall.calc.layout.sheet_pieces import Laid, grown, left_over, piece_rings
from evenfall.calc.layout.upstands import Lot, UpstandPlan, plan_upstands
from evenfall.errors import InvalidInput
from evenfall.standards.sheet_practice import (
    LIFT_MAN_KG,
    SEAM_COUNTS_AS,
    SEAM_FROM_OUTLET_MM,
    SEAM_LAP_MM,
    SHARE_OF_THREE,
    SHARE_OF_TWO,
    TWO_PEOPLE_CARRY_KG,
    WIDTH_SHORT,
)
from evenfall.working import formula

Ring = tuple[tuple[int, int], ...]

Point = tuple[float, float]

ALIKE = 1e-3  # directions that differ less are one
SHIFTS = 20  # places tried for the seams within what the strips have to spare
WITH_FALL = 0.7  # cosine of 45 degrees: a seam nearer to the fall than that runs with it


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
    laid: Laid  # the pieces in the frame of the roll
    seams: int
    seam_mm: int  # length of all seams
    area_mm2: int
    piece_kg: float
    mass_kg: float
    cost_pence: int  # of the sheet, further cut for upstands and all
    t_joints: int
    across_fall_mm: int  # seams that lie across the fall
    from_outlet_mm: float  # the nearest seam to an outlet; inf where there is none
    upstands: UpstandPlan
    downhill: tuple[float, float]

    @property
    def need_along_mm(self) -> int:
        """What is to be covered, along the roll."""
        return self.laid.need_along

    @property
    def need_across_mm(self) -> int:
        """What is to be covered, across the roll."""
        return self.laid.need_across

    @property
    def strips(self) -> int:
        """Strips side by side."""
        return self.laid.strips

    @property
    def pieces(self) -> int:
        """Pieces in all."""
        return self.laid.strips * self.laid.lengths

    @property
    def cut_mm(self) -> int:
        """Length of each piece as it is bought."""
        return self.laid.cut

    @property
    def seams_legal(self) -> bool:
        """Whether every seam keeps clear of the outlets."""
        return self.from_outlet_mm >= SEAM_FROM_OUTLET_MM

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
    trim: Ring  # outline of what is covered, turn-ups folded flat

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
    downhill: Point = (0.0, 0.0),
    outlets: Sequence[Point] = (),
    upstands: Sequence[tuple[int, int]] = (),
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
    downhill : tuple of float
        Which way the water runs; (0, 0) where that does not matter [-].
    outlets : sequence of (float, float)
        Places that seams keep clear of [mm].
    upstands : sequence of (int, int)
        Length and width of the strips that are dressed up kerbs [mm].
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
        widths = ", ".join(f"{r.width_mm} mm" for r in rolls) or "no width at all"
        raise InvalidInput(
            f"rolls of {widths}", f"every roll wider than a lap of {lap_mm} mm, with its price",
            where="stock of the sheet", do="take out the widths that cannot be had or lapped",
        )  # fmt: skip
    points = grown(outline, [a + uncertainty_mm for a in allowances_mm])
    task = _Task(points, downhill, tuple(outlets), tuple(upstands), lap_mm, float(width_short))
    options = [
        _option(roll, along, task, spare)
        for along in _directions(outline)
        for spare in [_notches(task, along)]
        for roll in rolls
    ]
    options.sort(key=_worth)
    man = LIFT_MAN_KG
    return SheetPlan(
        tuple(options),
        float(TWO_PEOPLE_CARRY_KG),
        float(filter_of_two(man, man)),
        float(filter_of_three(man, man, man)),
        trim_line(points),
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


class _Task(NamedTuple):
    """What is the same for every roll in every direction."""

    points: list[Point]
    downhill: Point
    outlets: tuple[Point, ...]
    upstands: tuple[tuple[int, int], ...]
    lap: int
    short: float


def _worth(option: SheetOption) -> tuple[float, ...]:
    """One piece first; then legal seams; then the cost of sheet and seam."""
    metre, square_metre = 10**3, 10**6
    seam = option.seam_mm / metre * SEAM_COUNTS_AS * option.stock.price_pence_m2
    fallen = option.across_fall_mm > 0
    cost = option.cost_pence + seam
    return (
        not option.one_piece, not option.seams_legal, fallen, round(cost), option.mass_kg,
        option.seam_mm, option.area_mm2 / square_metre,
    )  # fmt: skip


def _notches(task: _Task, along: Point) -> list[Lot]:
    """Find the corners of the roof that a sheet in one piece has left over."""
    points = [_turn(p, along) for p in task.points]
    return notches(needed_rings(points)) if task.upstands else []


def _option(roll: SheetStock, along: Point, task: _Task, spare: list[Lot]) -> SheetOption:
    """Work out one roll in one direction; notches are left over of a sheet in one piece."""
    laid, clear = _laid(roll, along, task)
    up = plan_upstands(
        task.upstands, left_over(laid, spare), laid.sure, roll.step_mm, task.lap
    )  # fmt: skip
    pieces = laid.strips * laid.lengths
    one, square_metre = laid.cut * roll.width_mm, 10**6
    area = one * pieces + up.cut_mm * roll.width_mm
    with_fall = _runs_with(along, task.downhill)
    long_seams = (laid.strips - 1) * laid.need_along
    cross_seams = (laid.lengths - 1) * laid.need_across
    return SheetOption(
        roll, along, laid, laid.strips - 1 + laid.lengths - 1,
        long_seams + cross_seams, area,
        one * roll.mass_kg_m2 / square_metre,
        area * roll.mass_kg_m2 / square_metre,
        (2 * area * roll.price_pence_m2 + square_metre) // (2 * square_metre),
        2 * (laid.strips - 1) * (laid.lengths - 1),
        {True: cross_seams, False: long_seams, None: 0}[with_fall],
        clear,
        up,
        task.downhill,
    )  # fmt: skip


def _laid(roll: SheetStock, along: Point, task: _Task) -> tuple[Laid, float]:
    """Lay strips over the roof; how far their seams are from an outlet."""
    xs, ys = zip(*(_turn(p, along) for p in task.points), strict=True)
    a, b, lap = _extent(list(xs)), _extent(list(ys)), task.lap
    sure = floor(roll.width_mm * (1 - task.short))
    longest = roll.longest_mm // roll.step_mm * roll.step_mm
    if longest <= lap:
        raise InvalidInput(
            f"cuts of at most {longest} mm", f"cuts longer than a lap of {lap} mm",
            where="stock of the sheet", do="give the longest cut in metres",
        )  # fmt: skip
    strips = 1 if b <= sure else ceil((b - lap) / (sure - lap))
    lengths = 1 if a <= longest else ceil((a - lap) / (longest - lap))
    each = ceil((a + (lengths - 1) * lap) / lengths)
    cut = ceil(each / roll.step_mm) * roll.step_mm
    rest = strips * sure - (strips - 1) * lap - b
    shift, clear = _clearest(strips, sure, rest, min(ys), along, task)
    start = min(xs), min(ys) - shift
    cross = [start[0] + n * (each - lap) for n in range(1, lengths)]
    clear = min(clear, _clear(cross, [_turn(o, along)[0] for o in task.outlets], lap))
    return Laid(*start, a, b, shift, strips, lengths, sure, each, cut, lap), clear


def _turn(point: Point, along: Point) -> Point:
    """Turn a point so that the roll lies along x."""
    (x, y), (c, s) = point, along
    return c * x + s * y, c * y - s * x


def _runs_with(along: Point, downhill: Point) -> bool | None:
    """Whether the roll runs with the fall; None where there is no fall to heed."""
    if downhill == (0.0, 0.0):
        return None
    share = abs(along[0] * downhill[0] + along[1] * downhill[1]) / hypot(*downhill)
    return share > WITH_FALL


def _clearest(
    strips: int, sure: int, rest: int, low: float, along: Point, task: _Task
) -> tuple[float, float]:
    """Shift the strips, within what they have to spare, until the seams are clear of outlets."""
    if strips == 1 or not task.outlets:
        return 0.0, float("inf")
    at = [_turn(o, along)[1] for o in task.outlets]

    def clear(shift: float) -> float:
        seams = [low - shift + k * (sure - task.lap) for k in range(1, strips)]
        return _clear(seams, at, task.lap)

    tried = [rest * n / SHIFTS for n in range(SHIFTS + 1)]
    best = max(tried, key=clear)
    return best, clear(best)


def _clear(seams: list[float], outlets: list[float], lap: int) -> float:
    """Measure from the laps that begin at some lines to the nearest outlet."""
    far = (max(s - y, y - s - lap, 0.0) for s in seams for y in outlets)
    return min(far, default=float("inf"))


def strip_rings(option: SheetOption) -> tuple[Ring, ...]:
    """Lay the pieces of an option out on the roof, in the order of laying.

    Parameters
    ----------
    option : SheetOption
        What was chosen [mm].

    Returns
    -------
    tuple of tuple
        Corners of each piece as it lies [mm].

    Examples
    --------
    >>> roof = ((0, 0), (6000, 0), (6000, 4000), (0, 4000))
    >>> best = plan_sheet(roof, (0, 0, 0, 0), 0, [(6100, 30000, 100, 1150, 1.4)]).chosen
    >>> sorted(strip_rings(best)[0])
    [(0, 0), (0, 4000), (6000, 0), (6000, 4000)]
    """
    return piece_rings(option.laid, option.along, option.downhill)


def _extent(values: list[float]) -> int:
    return ceil(max(values) - min(values) - 1e-6)
