"""The drying of the deck as a curve, with the line that it has to come below."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from evenfall.drawing import NOTE, TICK, Area, Box, Drawing, Item, Layer, Line, Text
from evenfall.drawing.inks import Dash, Ink
from evenfall.model.designed import DryingCourse
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

WIDE = 138.0  # mm of paper: as wide as a page lets it
HIGH = 68.0  # mm of paper: half as high as wide
BESIDE = 13.0  # mm: a line of the key
UNDER = 12.0  # mm: room for the numbers under the frame
ROW = 6.0  # mm: a row of the key
ABOVE = 9.0  # px: words clear of their line
SPAN = 28.0  # days: a month is shown even where it is dry sooner
AFTER = 1.4  # how much further than the last crossing the curves are shown
MARK = 2.0  # mm: a tick inside the frame
TICKS = 5  # about so many numbers along an edge
STEPS = (1.0, 2.0, 7.0, 14.0, 28.0, 56.0, 91.0, 182.0)  # days between numbers: whole weeks
LOOKS: tuple[tuple[Ink, Dash], ...] = (("ink", "solid"), ("water", "before"), ("pencil", "guess"))
"""Wettest reading, mean, wettest deck that may be closed up: told apart by dash, not by ink."""


def draw_drying(worked: WorkedRoof) -> Drawing | None:
    """Draw how the wettest part of the deck dries, from each start.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        Days across, per cent of the dry mass upwards; None where nothing was reckoned [mm].
    """
    room = worked.drying
    if not room.courses or room.limit_percent is None:
        return None
    limit, last = float(room.limit_percent), _span(room.courses)
    low, high = _range(room.courses, limit, last)

    def at(day: float, percent: float) -> tuple[float, float]:
        return WIDE * day / last, HIGH * (percent - low) / (high - low)

    curves = [_curve(c, at, last, k) for k, c in enumerate(room.courses)]
    level = at(0, limit)[1]
    line = Line(((0, level), (WIDE, level)), "chalk", "cut", "limit")
    told = Text(WIDE, level, f"{limit:g} %: not wetter", TICK, "end", "chalk", shift=(0, ABOVE))
    return Drawing(
        "Drying of the deck",
        _alt(room.courses, limit),
        (
            Layer("frame", (*_frame(), *_days(last), *_percents(low, high, at))),
            Layer("limit", (line, told)),
            Layer("curves", tuple(curves)),
            Layer("key", tuple(_key(room.courses))),
        ),
        scale=1.0,
    )


def _span(courses: tuple[DryingCourse, ...]) -> float:
    """Days shown: past the last crossing, or all where one never comes."""
    most = max(c.points[-1][0] for c in courses)
    if any(c.days is None for c in courses):
        return most
    return min(most, max(SPAN, AFTER * max(c.days or 0.0 for c in courses)))


def _range(courses: tuple[DryingCourse, ...], limit: float, last: float) -> tuple[float, float]:
    shown = [p for c in courses for day, p in c.points if day <= last]
    return 2 * int((min(*shown, limit) - 1) / 2), 2 * ceil((max(*shown, limit) + 1) / 2)


def _curve(course: DryingCourse, at, last: float, k: int) -> Line:  # type: ignore[no-untyped-def]
    ink, dash = LOOKS[k % len(LOOKS)]
    points = [p for p in course.points if p[0] <= last]
    beyond = next((p for p in course.points if p[0] > last), None)
    if beyond and points:
        (d0, p0), (d1, p1) = points[-1], beyond
        points.append((last, p0 + (p1 - p0) * (last - d0) / (d1 - d0)))
    return Line(tuple(at(*p) for p in points), ink, "line", dash)


def _frame() -> Iterator[Item]:
    yield Area((Box(0, 0, WIDE, HIGH).ring,), "none", weight="thin")
    yield Text(WIDE / 2, -UNDER + 2, "days after it is closed up", NOTE)
    yield Text(
        0, HIGH + 4, "water in the wettest part of the deck, % of its dry mass", NOTE, "start"
    )


def _days(last: float) -> Iterator[Item]:
    step = next((s for s in STEPS if last / s <= 2 * TICKS), STEPS[-1])
    for k in range(int(last / step) + 1):
        x = WIDE * k * step / last
        yield Line(((x, 0), (x, MARK)), "ink", "thin")
        yield Text(x, -4, f"{k * step:g}", TICK)


def _percents(low: float, high: float, at) -> Iterator[Item]:  # type: ignore[no-untyped-def]
    step = 2 * max(1, ceil((high - low) / 2 / (2 * TICKS)))
    for k in range(int((high - low) / step) + 1):
        y = at(0, low + k * step)[1]
        yield Line(((0, y), (MARK, y)), "ink", "thin")
        yield Text(-3, y, f"{low + k * step:g}", TICK, "end")


def _key(courses: tuple[DryingCourse, ...]) -> Iterator[Item]:
    for k, course in enumerate(courses):
        ink, dash = LOOKS[k % len(LOOKS)]
        y = -UNDER - ROW * (k + 1)
        yield Line(((0, y), (BESIDE, y)), ink, "line", dash)
        yield Text(BESIDE + 3, y, _says(course), NOTE, "start")


def _says(course: DryingCourse) -> str:
    name = spoken(course.name)
    start = "" if "%" in name else f", {course.start_percent:g} %"
    if course.days is None:
        return f"{name}{start}: not in the time reckoned"
    if not course.days:
        return f"{name}{start}: no wetter from the start"
    return f"{name}{start}: after {max(1, round(course.days))} days"


def _alt(courses: tuple[DryingCourse, ...], limit: float) -> str:
    told = "; ".join(_says(c) for c in courses)
    return (
        f"Curves of the water in the deck over days, and when each is down to {limit:g} %: {told}."
    )
