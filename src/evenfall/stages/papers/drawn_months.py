"""The year of the build-up as a chart: how near it comes to wet, or how much water it holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evenfall.drawing import NOTE, TICK, Area, Box, Drawing, Item, Layer, Line, Text
from evenfall.drawing.inks import Dash, Ink
from evenfall.drawing.staff import round_step
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.working import Table

WIDE = 138.0  # mm of paper: as wide as a page lets it
HIGH = 60.0  # mm of paper
UNDER = 5.0  # mm: from the frame to the months
ROW = 6.0  # mm: a row of the key
BESIDE = 13.0  # mm: a line of the key
MARK = 2.0  # mm: a tick inside the frame
BAR = 0.5  # of the room of a month: how wide a bar is
ABOVE = 1.06  # how much higher than the highest value the frame is
TICKS = 5  # about so many numbers along the edge
STEPS = tuple(m * 10.0**e / 2 for e in range(-2, 5) for m in (1, 2, 4, 10))
GRAMS = 1000
DRY = 5  # columns of the table of a roof in which no water gathers


def draw_months(worked: WorkedRoof) -> Drawing:
    """Draw the year: vapour pressure under saturation, or the water held at the end of a month.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        Twelve months across [mm].
    """
    table = worked.moisture.months
    names = [str(row[0]) for row in table.rows]
    if table.columns[-1][0] == "left" and len(table.columns) == DRY:
        return _dry(table, names)
    return _wet(table, names)


def _dry(table: Table, names: Sequence[str]) -> Drawing:
    """Draw the two pressures where the roof comes nearest to wet."""
    there, most = ([float(row[n]) for row in table.rows] for n in (2, 3))
    top = max(most) * ABOVE
    looks: tuple[tuple[str, Sequence[float], Ink, Dash], ...] = (
        ("saturation: above it water gathers", most, "water", "before"),
        ("vapour pressure, where it comes nearest", there, "ink", "solid"),
    )
    curves = tuple(
        Line(tuple((_x(n, names), HIGH * v / top) for n, v in enumerate(values)), ink, "line", dash)
        for _, values, ink, dash in looks
    )
    key = tuple(_key([(says, ink, dash) for says, _, ink, dash in looks]))
    n = min(range(len(names)), key=lambda i: most[i] - there[i])
    alt = (
        "Vapour pressure and saturation month by month, at the layer that comes nearest to wet. "
        f"Nearest in {names[n]}: {there[n]:.0f} of {most[n]:.0f} Pa. No water gathers."
    )
    return _drawing("Vapour pressure against saturation", alt, names, top, "Pa", curves, key)


def _wet(table: Table, names: Sequence[str]) -> Drawing:
    """Draw a bar for the water held at the end of each month, where it is most."""
    planes = [n for n, (head, _) in enumerate(table.columns) if head.startswith("M_a")]
    held = [max((float(row[n]) for n in planes), default=0.0) * GRAMS for row in table.rows]
    top = (max(held) or 1.0) * ABOVE
    half = WIDE / len(names) * BAR / 2
    bars = []
    for n, value in enumerate(held):
        if value > 0:
            box = Box(_x(n, names) - half, 0.0, _x(n, names) + half, HIGH * value / top)
            bars.append(Area((box.ring,), "water", "water", "line"))
    worst = max(range(len(names)), key=lambda i: held[i])
    alt = (
        "Water held in the build-up at the end of each month. "
        f"Most in {names[worst]}: {held[worst]:.0f} g/m²; least {min(held):.0f}."
    )
    return _drawing("Water held, month by month", alt, names, top, "g/m²", tuple(bars), ())


def _drawing(
    title: str,
    alt: str,
    names: Sequence[str],
    top: float,
    unit: str,
    values: tuple[Item, ...],
    key: tuple[Item, ...],
) -> Drawing:
    layers = (
        Layer("frame", (*_frame(unit), *_months(names), *_values(top))),
        Layer("values", values),
        Layer("key", key),
    )
    shown = tuple(layer for layer in layers if layer.items)
    return Drawing(title, alt, shown, scale=1.0)


def _x(n: int, names: Sequence[str]) -> float:
    return WIDE * (n + 1 / 2) / len(names)


def _frame(unit: str) -> Iterator[Item]:
    yield Area((Box(0, 0, WIDE, HIGH).ring,), "none", weight="thin")
    yield Text(0, HIGH + UNDER, unit, NOTE, "start")


def _months(names: Sequence[str]) -> Iterator[Item]:
    for n, name in enumerate(names):
        yield Text(_x(n, names), -UNDER, name, TICK)


def _values(top: float) -> Iterator[Item]:
    step = round_step(top / TICKS, STEPS)
    for k in range(int(top / step) + 1):
        y = HIGH * k * step / top
        yield Line(((0, y), (MARK, y)), "ink", "thin")
        yield Text(-3, y, f"{k * step:g}", TICK, "end")


def _key(rows: Sequence[tuple[str, Ink, Dash]]) -> Iterator[Item]:
    for k, (says, ink, dash) in enumerate(rows):
        y = -UNDER - ROW * (k + 1)
        yield Line(((0, y), (BESIDE, y)), ink, "line", dash)
        yield Text(BESIDE + 3, y, says, NOTE, "start")
