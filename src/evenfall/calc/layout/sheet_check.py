"""A checker of sheet plans that shares no code with the planner.

It lays the drawn pieces over the roof, folds nothing, believes no count, and looks for every piece
of an upstand in real sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot
from typing import TYPE_CHECKING

from shapely import Point, Polygon, box, unary_union

if TYPE_CHECKING:
    from evenfall.calc.layout.sheet import SheetOption
    from evenfall.calc.layout.upstands import UpstandPiece

Ring = tuple[tuple[int, int], ...]

NEAR = 2.0  # corners of a turned plan are rounded to the millimetre [mm]
CRUMB_MM2 = 1e4  # a square decimetre: less is the rounding of an edge
LEAN = 0.05  # sine of some 3 degrees: a seam that leans less runs with the fall
KNOWN = ("rest", "notch", "cut")


@dataclass(frozen=True, slots=True)
class SheetTask:
    """What a sheet must do, as the roof asks it [mm]."""

    outline: Ring
    allowances_mm: Sequence[float]  # of each side, with what the plan is not sure of
    lap_mm: float  # of a seam
    clear_mm: float  # from a seam to an outlet
    narrower: float  # share by which the factory may make a roll too narrow
    upstands: Sequence[tuple[int, int]] = ()
    outlets: Sequence[tuple[float, float]] = ()
    downhill: tuple[float, float] = (0.0, 0.0)


def check_sheet(
    option: SheetOption,
    rings: Sequence[Ring],
    cut_from: Sequence[Ring],
    task: SheetTask,
) -> tuple[str, ...]:
    """Check a sheet as it is drawn, whoever planned it, and name every fault.

    Parameters
    ----------
    option : SheetOption
        What is bought, and what is told about it [mm].
    rings : sequence of tuple
        The pieces as they lie, in the order of laying [mm].
    cut_from : sequence of tuple
        The pieces of the upstands as they lie in the sheet, in the order of their numbers; those
        of a further cut lie in that cut, which begins at (0, 0) [mm].
    task : SheetTask
        What the roof asks [mm].

    Returns
    -------
    tuple of str
        The faults, none when the plan is right [-].

    Examples
    --------
    >>> from evenfall.calc.layout.sheet import plan_sheet, strip_rings
    >>> roof = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
    >>> best = plan_sheet(roof, (250, 240, 150, 240), 0, [(7620, 30000, 100, 1150, 1.4)]).chosen
    >>> asked = SheetTask(roof, (250, 240, 150, 240), 100, 300, 0.005)
    >>> check_sheet(best, strip_rings(best), (), asked)
    ()
    >>> more = SheetTask(roof, (250, 270, 150, 240), 100, 300, 0.005)
    >>> check_sheet(best, strip_rings(best), (), more)[0]
    'turn-up: side 1 has less than its 270 mm: 114800 mm2 of it are bare'
    """
    laid = [Polygon(r) for r in rings]
    return (
        *_bare(laid, task),
        *_bought(option, rings, task),
        *_laps(option, laid, task),
        *_told(option, laid, task),
        *_upstands(option, cut_from, task),
        *_in_sheet(option, laid, cut_from, task),
    )


def _sides(task: SheetTask) -> Iterator[tuple[int, Polygon, tuple[float, float]]]:
    """Yield each side, the strip of sheet beyond it, and which way is out."""
    roof, number = Polygon(task.outline), len(task.outline)
    for i in range(number):
        (x0, y0), (x1, y1) = task.outline[i], task.outline[(i + 1) % number]
        long = hypot(x1 - x0, y1 - y0)
        u, v = (y1 - y0) / long, -(x1 - x0) / long
        if roof.contains(Point((x0 + x1) / 2 + u, (y0 + y1) / 2 + v)):
            u, v = -u, -v
        far = task.allowances_mm[i]
        strip = Polygon(
            [(x0, y0), (x1, y1), (x1 + far * u, y1 + far * v), (x0 + far * u, y0 + far * v)]
        )
        yield i, strip.buffer(0), (u * far, v * far)


def _needed(task: SheetTask) -> Polygon:
    """Join the roof, the strip beyond each side, and at each corner what folds between two."""
    sides = list(_sides(task))
    folds = []
    for i, (_, _, (bx, by)) in enumerate(sides):
        x, y = task.outline[i]
        ax, ay = sides[i - 1][2]
        folds.append(Polygon([(x, y), (x + ax, y + ay), (x + bx, y + by)]).buffer(0))
    return unary_union([Polygon(task.outline), *(s for _, s, _ in sides), *folds])


def _bare(laid: list[Polygon], task: SheetTask) -> Iterator[str]:
    """Look for roof and turn-ups without sheet."""
    sheet = unary_union(laid).buffer(NEAR, join_style="mitre")
    gap = Polygon(task.outline).difference(sheet).area
    if gap > 0:
        yield f"gap: {gap:.0f} mm2 of the roof have no sheet"
    for i, strip, _ in _sides(task):
        bare = strip.difference(sheet).area
        if bare > 0:
            far = task.allowances_mm[i]
            yield f"turn-up: side {i} has less than its {far:.0f} mm: {bare:.0f} mm2 of it are bare"


def _bought(option: SheetOption, rings: Sequence[Ring], task: SheetTask) -> Iterator[str]:
    """Cut each piece out of a real roll."""
    roll = option.stock
    if option.cut_mm > roll.longest_mm or option.cut_mm % roll.step_mm:
        yield f"cut: no roll is cut to {option.cut_mm} mm"
    if option.upstands.cut_mm % roll.step_mm:
        yield f"cut: no roll is cut to {option.upstands.cut_mm} mm for upstands"
    for n, ring in enumerate(rings, start=1):
        long, wide = _sizes(ring, option.along)
        if long > option.cut_mm + NEAR or wide > roll.width_mm * (1 - task.narrower) + NEAR:
            yield f"piece: piece {n} is {long:.0f} × {wide:.0f} mm, more than the roll gives"
    paid = (len(rings) * option.cut_mm + option.upstands.cut_mm) * roll.width_mm
    if option.area_mm2 < paid:
        yield f"order: {option.area_mm2} mm2 are bought, {paid} are cut"


def _sizes(ring: Ring, along: tuple[float, float]) -> tuple[float, float]:
    """Measure a piece along the roll and across it."""
    c, s = along
    xs, ys = [c * x + s * y for x, y in ring], [c * y - s * x for x, y in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def _laps(option: SheetOption, laid: list[Polygon], task: SheetTask) -> Iterator[str]:
    """Measure every lap, and see that the upper piece lies over the lower."""
    for i, j in combinations(range(len(laid)), 2):
        below, above = laid[i], laid[j]
        shared = below.buffer(NEAR).intersection(above.buffer(NEAR))
        if shared.area < CRUMB_MM2 and below.distance(above) > NEAR:
            continue
        lap = min(_sizes(_ring(shared), option.along)) - 2 * NEAR
        if lap < task.lap_mm - NEAR:
            yield f"lap: pieces {i + 1} and {j + 1} lap by {lap:.0f} mm, under {task.lap_mm:.0f}"
        if shared.area > 2 * (task.lap_mm + 2 * NEAR) ** 2 and _falls(below, above, task.downhill):
            yield f"against the fall: piece {j + 1} lies over piece {i + 1}, which is higher"


def _falls(below: Polygon, above: Polygon, downhill: tuple[float, float]) -> bool:
    """Whether the piece above lies lower down the roof, by more than its seam leans."""
    (x, y), (u, v) = (above.centroid.x - below.centroid.x,
                      above.centroid.y - below.centroid.y), downhill  # fmt: skip
    return bool(u * x + v * y > LEAN * hypot(x, y) * hypot(u, v))


def _ring(shape: Polygon) -> Ring:
    outer = shape if shape.geom_type == "Polygon" else shape.envelope
    return tuple((round(x), round(y)) for x, y in outer.exterior.coords)


def _told(option: SheetOption, laid: list[Polygon], task: SheetTask) -> Iterator[str]:
    """Count the seams again, and measure from them to the outlets."""
    if len(laid) != option.pieces:
        yield f"pieces: {option.pieces} are bought and {len(laid)} are drawn"
    seams = [a.intersection(b) for a, b in combinations(laid, 2)]
    seams = [s for s in seams if s.area > CRUMB_MM2]
    if bool(seams) == option.one_piece:
        yield "seams: told wrongly whether the sheet is in one piece"
    far = min((s.distance(Point(o)) for s in seams for o in task.outlets), default=float("inf"))
    if option.seams_legal and far < task.clear_mm - NEAR:
        yield f"outlet: a seam lies {far:.0f} mm from an outlet, and it is not told"


def _upstands(option: SheetOption, rings: Sequence[Ring], task: SheetTask) -> Iterator[str]:
    """See that the pieces of each strip make up its length and its width."""
    pieces = option.upstands.pieces
    if [p.number for p in pieces] != list(range(1, len(pieces) + 1)) or len(rings) != len(pieces):
        yield "upstand: the pieces are not numbered from 1, each with its place"
    for i, (long, wide) in enumerate(task.upstands):
        mine = [p for p in pieces if p.strip == i]
        if not mine:
            yield f"upstand: strip {i} is cut from nothing"
            continue
        reach = sum(p.long_mm for p in mine) - (len(mine) - 1) * task.lap_mm
        if reach < long:
            yield f"upstand: strip {i} is {reach:.0f} mm long with its laps, under {long}"
        if min(p.wide_mm for p in mine) < wide:
            yield f"upstand: strip {i} is narrower than {wide} mm"
    for piece in pieces:
        if not 0 <= piece.strip < len(task.upstands) or piece.kind not in KNOWN:
            yield f"upstand: piece {piece.number} is for no strip or from nowhere"


def _in_sheet(
    option: SheetOption, laid: list[Polygon], rings: Sequence[Ring], task: SheetTask
) -> Iterator[str]:
    """Lay each upstand piece where it is said to be cut, and see that sheet is free there."""
    roll = option.stock.width_mm
    further = box(0, 0, option.upstands.cut_mm, roll).buffer(NEAR)
    sheet = _delivered(option, laid, task.narrower)
    free = sheet.difference(_needed(task).buffer(-NEAR)).buffer(NEAR)
    pairs = list(zip(option.upstands.pieces, rings, strict=False))
    for piece, ring in pairs:
        turn = (1.0, 0.0) if piece.kind == "cut" else option.along
        if any(abs(a - b) > NEAR for a, b in zip(_sizes(ring, turn), _extents(piece), strict=True)):
            yield f"upstand: piece {piece.number} is drawn in another size than it is cut"
        if not (further if piece.kind == "cut" else free).covers(Polygon(ring)):
            yield f"upstand: piece {piece.number} is cut where no sheet is free"
    for (one, a), (two, b) in combinations(pairs, 2):
        shared = Polygon(a).intersection(Polygon(b)).buffer(-NEAR / 2).area
        if (one.kind == "cut") == (two.kind == "cut") and shared > 0:
            yield f"upstand: pieces {one.number} and {two.number} are cut out of one place"


def _extents(piece: UpstandPiece) -> tuple[int, int]:
    return piece.along_mm, piece.across_mm


def _delivered(option: SheetOption, laid: list[Polygon], narrower: float) -> Polygon:
    """Give the pieces their length as bought and, in one strip, their width.

    What is left lies beyond the far end of the roll and beside it.
    """
    c, s = option.along
    whole = unary_union(laid)
    xs = [c * x + s * y for p in laid for x, y in p.exterior.coords]
    ys = [c * y - s * x for p in laid for x, y in p.exterior.coords]
    each = max(_sizes(_ring(p), option.along)[0] for p in laid)
    long = max(xs) - min(xs) + option.cut_mm - each
    wide = max(ys) - min(ys)
    if all(_sizes(_ring(p), option.along)[1] > wide - NEAR for p in laid):  # one strip
        wide = option.stock.width_mm * (1 - narrower)
    x, y = min(xs), min(ys)
    corners = ((x, y), (x + long, y), (x + long, y + wide), (x, y + wide))
    return unary_union([whole, Polygon([(c * u - s * v, s * u + c * v) for u, v in corners])])
