"""The day as a tape: its hours, its rain, the hook at "stop stripping", the night line, dusk."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor
from textwrap import wrap

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Arrow,
    Drawing,
    Item,
    Layer,
    Line,
    NightLine,
    Rain,
    Text,
)
from evenfall.drawing.sheet import Point, box_of
from evenfall.model.morning import Morning, ToldHour
from evenfall.model.words import clock

HOUR = 16.0  # mm of the tape
HIGH = 9.0  # mm; how broad the tape is drawn
HALF = 2.0  # mm; tick of the half hour
FULL = 3.6  # mm; tick of the full hour
LATEST_START = 8  # hour; the tape begins before it
MIDDLE = 0.65  # of its breadth; where the hours stand
MOST = 5  # strokes of rain
ASIDE = 6.0  # paper units; words beside a line
REACH = 5.0  # mm; how far a mark reaches past the tape
RAIN_AT = 9.0  # mm above the tape
ABOVE = (16.0, 22.0, 28.0)  # mm; heights of words above the tape, so that they keep apart
BELOW = -9.0  # mm; where the bonding window lies
FIFTH = 20.0  # % of chance for one heavy stroke
FOOT = 3.0  # mm; of the hook
PLAN_WIDE = 60.0  # mm; the roof drawn small
PLAN_HIGH = 42.0  # mm
PLAN_GAP = 9.0  # mm; between tape, plan and words
INSIDE = 0.3  # of the way from the middle; where the arrow of water begins
OUTSIDE = 0.15  # of that way; how far past the edge it ends
LEADING = 5.0  # mm from line to line
LETTERS = 80  # of a line beside the plan


def draw_day(of: Morning) -> Drawing:
    """Draw a morning's answer as the tape of its day.

    Parameters
    ----------
    of : Morning
        The answer [-].

    Returns
    -------
    Drawing
        The tape, at full size on paper [mm].
    """
    first, last = floor(min(of.begins, LATEST_START)) - 1, ceil(max(of.dusk, of.ends)) + 1
    hours = tuple(h for h in of.hours if first <= h.hour < last)
    layers = (
        Layer("shut", tuple(_shut(of, hours, first))),
        Layer("dark", _dark(of, first, last)),
        Layer("tape", tuple(_tape(first, last))),
        Layer("rain", tuple(_rain(hours, first))),
        Layer("bonding", tuple(_bonding(of, first))),
        Layer("marks", tuple(_marks(of, first))),
        Layer("plan", tuple(_plan(of))),
    )
    return Drawing(f"The day of {of.on:%a %d %b %Y}", _alt(of), layers, scale=1.0)


def _x(hour: float, first: int) -> float:
    return (hour - first) * HOUR


def _band(start: float, end: float) -> tuple[tuple[float, float], ...]:
    return (start, 0.0), (end, 0.0), (end, HIGH), (start, HIGH)


def _shut(of: Morning, hours: tuple[ToldHour, ...], first: int) -> Iterator[Item]:
    """Hatch the hours in which the roof may not lie open."""
    for told in hours:
        if not told.dry:
            x = _x(told.hour, first)
            yield Area((_band(x, x + HOUR),), "cannot", "chalk", weight=None)


def _dark(of: Morning, first: int, last: int) -> tuple[Item, ...]:
    start, end = _x(of.dusk, first), _x(last, first)
    return (
        Area((_band(start, end),), "evening", "evening", weight=None),
        Line(((start, -REACH), (start, HIGH)), "evening", "line"),
        Text(start, -REACH - 2, f"dusk {clock(of.dusk)}", TICK, "start", "evening"),
    )


def _tape(first: int, last: int) -> Iterator[Item]:
    yield Area((_band(0.0, _x(last, first)),), "none", weight="line")
    for hour in range(first, last + 1):
        x = _x(hour, first)
        yield Line(((x, 0.0), (x, FULL)), weight="thin")
        if hour < last:
            yield Line(((x + HOUR / 2, 0.0), (x + HOUR / 2, HALF)), weight="thin")
            yield Text(x, HIGH * MIDDLE, str(hour), NOTE, bold=not hour % 4)


def _rain(hours: tuple[ToldHour, ...], first: int) -> Iterator[Item]:
    """Slanted strokes over each hour with rain in it, one heavy for each chance in five."""
    for told in hours:
        fifths = max(round(told.chance_percent / FIFTH), int(told.rain_mm > 0))
        if fifths:
            yield Rain((_x(told.hour, first) + HOUR / MOST, RAIN_AT + HIGH / 2), min(fifths, MOST))


def _bonding(of: Morning, first: int) -> Iterator[Item]:
    if of.bond is None:
        return
    start, end = (_x(hour, first) for hour in of.bond)
    for y in (BELOW, BELOW - 1):
        yield Line(((start, y), (end, y)), weight="line")
    for x in (start, end):
        yield Line(((x, BELOW - 2), (x, 0.0)), weight="hair")
    words = f"bond {clock(of.bond[0])} to {clock(of.bond[1])}"
    yield Text((start + end) / 2, BELOW - 4, words, NOTE)


def _marks(of: Morning, first: int) -> Iterator[Item]:
    begin = _x(of.begins, first)
    foot = ((begin - 2, -REACH), (begin + 2, -REACH), (begin, 0.0))
    yield Area((foot,), "solid", "ink", None)
    if of.opening is None or not of.opening.area_m2:
        words = "open nothing" if of.opening else "no bay today"
        yield Text(begin, HIGH + ABOVE[1], words, NOTE, "start", "chalk", bold=True)
        return
    stop, seal = _x(of.opening.stop_stripping, first), _x(of.opening.seal_by, first)
    hook = ((stop, HIGH + ABOVE[1] - 2), (stop, -REACH), (stop + FOOT, -REACH))
    yield Line(hook, weight="cut")
    words = f"stop stripping {clock(of.opening.stop_stripping)}"
    yield Text(stop, HIGH + ABOVE[1] + 1, words, NOTE, "middle", bold=True)
    yield NightLine(((seal, HIGH + ABOVE[0] - 3), (seal, -REACH)))
    shut = f"shut by {clock(of.opening.seal_by)}"
    yield Text(seal, HIGH + ABOVE[0] - 1, shut, TICK, "start", "evening", shift=(ASIDE, 0.0))
    area = f"open no more than {round(of.opening.area_m2, 1):g} m²; you decide"
    yield Text(begin, HIGH + ABOVE[2], area, NOTE, "start", bold=True)


def _plan(of: Morning) -> Iterator[Item]:
    """Draw the roof small: today's bays, and the way that tonight's water leaves."""
    box = box_of(of.deck)
    k = min(PLAN_WIDE / box.width, PLAN_HIGH / box.height)
    top = BELOW - PLAN_GAP

    def at(point: Point) -> Point:
        return (point[0] - box.x0) * k, top - (box.y1 - point[1]) * k

    yield Area((tuple(at(p) for p in of.deck),), "felt", weight="line")
    for ring in of.closed:
        yield Area((tuple(at(p) for p in ring),), "evening", "evening", weight="line")
    opens = of.opening is not None and of.opening.area_m2
    for ring in of.rings if opens else ():
        yield Area((tuple(at(p) for p in ring),), "plain", weight="cut")
        yield Text(*box_of([at(p) for p in ring]).centre, "open", NOTE, bold=True)
    middle = at(box.centre)
    for _, place in of.water:
        x, y = at(place)
        u, v = x - middle[0], y - middle[1]
        yield Arrow((x - u * INSIDE, y - v * INSIDE), (x + u * OUTSIDE, y + v * OUTSIDE))
    for n, line in enumerate(_beside(of)):
        yield Text(PLAN_WIDE + PLAN_GAP, top - n * LEADING - 1, line, TICK, "start", halo=False)


def _beside(of: Morning) -> Iterator[str]:
    """Tell hands, covers, water and the hold point beside the plan."""
    if of.opening is not None:
        yield f"hands: {of.opening.hands}"
    yield f"covers: {of.covers[0] if of.covers else 'none on the roof'}"
    for words, _ in of.water:
        yield f"water leaves {words}"
    yield from wrap(of.hold, LETTERS)
    yield from of.why[:1]


def _alt(of: Morning) -> str:
    begins, dusk = clock(of.begins), clock(of.dusk)
    if of.opening is None or not of.opening.area_m2:
        middle = "open nothing" if of.opening else "no bay is opened"
    else:
        answer = of.opening
        middle = (
            f"open no more than {round(answer.area_m2, 1):g} m², stop stripping at "
            f"{clock(answer.stop_stripping)}, shut by {clock(answer.seal_by)}"
        )
    wet = [clock(h.hour) for h in of.hours if not h.dry]
    rain = f"; the roof may not lie open at {', '.join(wet)}" if wet else ""
    bond = f"; bond from {clock(of.bond[0])} to {clock(of.bond[1])}" if of.bond else ""
    return f"The day as a tape: work from {begins}, {middle}, dusk {dusk}{rain}{bond}."
