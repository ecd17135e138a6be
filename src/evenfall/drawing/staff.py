"""The rise stick: a staff with a hole at each thickness that can be bought, and a clip on it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfall.drawing.inks import NOTE, Paper
from evenfall.drawing.sheet import Area, Box, Circle, Item, Line, Text

_STEPS = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)


def round_step(least: float, steps: tuple[float, ...] = _STEPS) -> float:
    """Return the smallest round step that is not too small to read.

    Parameters
    ----------
    least : float
        The least that can be read [mm].
    steps : tuple of float
        Steps to choose from, the smallest first [mm].

    Returns
    -------
    float
        One of the steps, or the last of them [mm].

    Examples
    --------
    >>> round_step(31), round_step(5000)
    (50.0, 1000.0)
    """
    return next((s for s in steps if s >= least), steps[-1])


@dataclass(frozen=True, slots=True)
class Staff:
    """A staff beside a section at true scale; heights are millimetres of the section.

    Heights above ``limit`` cannot be: they carry the red hatch. ``clip`` is where the clip stands.
    """

    x: float
    bottom: float
    top: float
    holes: tuple[float, ...] = ()
    clip: float | None = None
    limit: float | None = None
    width: float = 26.0

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return staff, red part, graduations, holes and clip."""
        half = paper.mm(self.width / 2)
        body = Box(self.x - half, self.bottom, self.x + half, self.top)
        shut: tuple[Item, ...] = ()
        if self.limit is not None and self.limit < self.top:
            red = Box(body.x0, max(self.limit, self.bottom), body.x1, self.top)
            shut = (Area((red.ring,), "cannot", "chalk", None),)
        holes = [Circle(self.x, h, paper.mm(4), fill="sheet", weight="thin") for h in self.holes]
        ground, edge = Area((body.ring,), "plain"), Area((body.ring,), "none")
        return ground, *shut, edge, *self._ticks(body, paper), *holes, *self._clip(paper)

    def _ticks(self, body: Box, paper: Paper) -> list[Item]:
        fine = round_step(paper.mm(5))
        lettered = round_step(max(paper.mm(26), 2 * fine))
        lettered = math.ceil(lettered / fine) * fine
        found: list[Item] = []
        first = math.ceil(self.bottom / fine)
        for i in range(first, math.floor(self.top / fine) + 1):
            height = i * fine
            named = abs(height / lettered - round(height / lettered)) < 1e-9
            reach = paper.mm(9 if named else 4)
            weight: tuple[float, float] = (body.x0 - reach, body.x0)
            points = ((weight[0], height), (weight[1], height))
            found.append(Line(points, weight="line" if named else "thin"))
            if named:
                text = f"{height:g}".replace("-", "−")
                found.append(Text(body.x0, height, text, NOTE, "end", shift=(-13, 0), bold=True))
        return found

    def _clip(self, paper: Paper) -> tuple[Item, ...]:
        if self.clip is None:
            return ()
        wide, high = paper.mm(self.width / 2 + 6), paper.mm(10)
        jaw = Box(self.x - wide, self.clip - high, self.x + wide, self.clip + high)
        groove = ((jaw.x0, self.clip), (jaw.x1, self.clip))
        window = Circle(self.x, self.clip, paper.mm(5), "sheet", "thin", "ink")
        return Area((jaw.ring,), "solid", "ink", "thin"), Line(groove, "sheet", "thin"), window


@dataclass(frozen=True, slots=True)
class Break:
    """A break: what goes on beyond the drawing; a hairline with one kink."""

    a: tuple[float, float]
    b: tuple[float, float]

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the line with its kink in the middle."""
        (ax, ay), (bx, by) = self.a, self.b
        length = max(math.hypot(bx - ax, by - ay), 1e-9)
        ux, uy = (bx - ax) / length, (by - ay) / length
        mx, my, s = (ax + bx) / 2, (ay + by) / 2, paper.mm(5)
        kink = ((-0.8, 0.0), (-0.3, 1.2), (0.3, -1.2), (0.8, 0.0))
        bend = tuple((mx + s * (t * ux - v * uy), my + s * (t * uy + v * ux)) for t, v in kink)
        return (Line((self.a, *bend, self.b), "ink", "thin"),)
