"""Parts that sections are put together from: bands, joists, walls, gutters, lettering beside."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evenfall.drawing import TICK, Area, Box, Break, Item, Line, Text
from evenfall.drawing.inks import HatchName, Ink, Paper
from evenfall.drawing.sheet import Anchor
from evenfall.model.designed import Hung
from evenfall.model.drained import Gutter
from evenfall.model.job import Joists
from evenfall.model.standing import HeightAt

AT = 10.0  # the n of 1:n for which the next but one is told
OLD = "old "  # what was there before is lettered in pencil
ASIDE = 40.0  # how far lettering stands beside a section, mm
ABOVE = 260.0  # how much of a wall is drawn above what stands in it, mm
REVEAL = 70.0  # how deep a frame is drawn, mm
TURNS = 12  # sides of the half circle of a gutter
CAP = 25.0  # how thick a capping or a bar is drawn, mm


def band(
    left: tuple[float, float, float], right: tuple[float, float, float], hatch: HatchName
) -> Area:
    """Draw a layer that may be a wedge.

    Parameters
    ----------
    left, right : (x, low, high)
        Its two ends [mm].
    hatch : str
        What it is made of [-].

    Returns
    -------
    Area
        The layer [mm].

    Examples
    --------
    >>> band((0, 0, 10), (100, 0, 12), "wood").rings[0]
    ((0, 0), (100, 0), (100, 12), (0, 10))
    """
    (x, a, b), (u, c, d) = left, right
    return Area((((x, a), (u, c), (u, d), (x, b)),), hatch, weight="thin")


def joist(
    joists: Joists, top: float, reach: float, lengthwise: bool, start: float = 0.0
) -> Iterator[Item]:
    """Draw a joist along the section, or the joists that it cuts.

    Parameters
    ----------
    joists : Joists
        Their size and spacing [mm].
    top : float
        Underside of the deck [mm].
    reach : float
        How much of the roof is drawn [mm].
    lengthwise : bool
        Whether they run along the section [-].
    start : float
        Where the drawing begins [mm].

    Yields
    ------
    Item
        Joists, with their grain where they are cut [mm].
    """
    foot, end = top - joists.depth_mm, start + reach
    if lengthwise:
        ring = ((start, top), (end, top), (end, foot), (start, foot))
        yield Area((ring,), "plain", weight="line")
        return
    x = start + joists.spacing_mm / 4
    while x + joists.width_mm < end:
        end_grain = Box(x, foot, x + joists.width_mm, top).ring
        yield Area((end_grain,), "plain", weight=None)
        yield Area((end_grain,), "wood", weight="line")
        x += joists.spacing_mm


def behind(box: Box, lengthwise: bool, foot: float) -> Iterator[Item]:
    """Draw a wall under the roof; where a joist runs over it, only what is below the joist.

    Parameters
    ----------
    box : Box
        The wall [mm].
    lengthwise : bool
        Whether a joist runs along the section and hides the wall behind it [-].
    foot : float
        Underside of the joist [mm].

    Yields
    ------
    Item
        Wall and its break [mm].
    """
    top = min(box.y1, foot) if lengthwise else box.y1
    if top > box.y0:
        yield Area((Box(box.x0, box.y0, box.x1, top).ring,), "wall", weight="line")
    yield Break((box.x0 - CAP, box.y0), (box.x1 + CAP, box.y0))


def gutter(face: float, top: float, hung: Hung | Gutter) -> Line:
    """Draw a gutter in section: half-round, or with a flat bottom.

    Parameters
    ----------
    face : float
        Face of the fascia; the gutter hangs to the left of it [mm].
    top : float
        Its upper edge [mm].
    hung : Hung or Gutter
        The gutter as it will hang, or as it was found [mm].

    Returns
    -------
    Line
        Its profile, open at the top [mm].
    """
    half = hung.width_mm / 2
    if hung.shape == "half_round":
        turns = [math.pi * (1 + i / TURNS) for i in range(TURNS + 1)]
        ring = [(half * math.cos(t), half * math.sin(t)) for t in turns]
    else:
        sole, foot = (hung.sole_mm or hung.width_mm) / 2, -(hung.depth_mm or half)
        ring = [(-half, 0.0), (-sole, foot), (sole, foot), (half, 0.0)]
    return Line(tuple((face - half + x, top + y) for x, y in ring), "ink", "line")


def parapet_upstand(height: float, top: float, foot: float) -> Iterator[Item]:
    """Draw a parapet left of the roof, the sheet turned up and over it, and its capping.

    Parameters
    ----------
    height : float
        Top of the parapet above the deck [mm].
    top : float
        Finished surface [mm].
    foot : float
        How far down it is drawn [mm].

    Yields
    ------
    Item
        Parapet, sheet, capping and break [mm].
    """
    back = -ABOVE + ASIDE
    head = max(height, top)
    yield Area((Box(back, foot, 0.0, head).ring,), "wall", weight="line")
    yield Line(((0.0, top), (0.0, head), (back, head)), "ink", "cut")
    cap = ((CAP, head - CAP), (CAP, head + CAP), (back - CAP, head + CAP), (back - CAP, head - CAP))
    yield Line(cap, "ink", "line")
    yield Break((back - CAP, foot), (CAP, foot))


def standing(item: HeightAt, wall: float, foot: float) -> Iterator[Item]:
    """Draw the wall beside the roof, and what stands in it.

    Parameters
    ----------
    item : HeightAt
        A sill, sash, threshold, damp-proof course, flashing, weep or air brick [mm].
    wall : float
        Thickness of the wall as drawn [mm].
    foot : float
        How far down it is drawn [mm].

    Yields
    ------
    Item
        Wall, frame or course, its name, and breaks [mm].
    """
    height = item.available.value
    top = height + ABOVE
    words = item.kind.replace("_", " ")
    frame = item.kind in ("sill", "sash", "threshold")
    head = height if frame else top
    yield Area((Box(0.0, foot - ABOVE / 2, wall, head).ring,), "wall", weight="line")
    if frame:
        nose = -ASIDE / 2 if item.kind != "sash" else 0.0
        sill = Box(nose, height, REVEAL, height + CAP)
        yield Area((sill.ring,), "plain", weight="line")
        yield Area((Box(CAP, height + CAP, REVEAL, height + 3 * CAP).ring,), "wood", weight="line")
        glass = (CAP + REVEAL) / 2
        yield Line(((glass, height + 3 * CAP), (glass, top)), "ink", "thin")
        yield Line(((glass + CAP / 4, height + 3 * CAP), (glass + CAP / 4, top)), "ink", "thin")
    else:
        yield Line(((0.0, height), (wall, height)), "ink", "cut")
    yield Text(wall + ASIDE, height, f"{words}\n{height:.0f}", TICK, "start")
    yield Break((-CAP, top), (wall + CAP, top))
    yield Break((-CAP, foot - ABOVE / 2), (wall + CAP, foot - ABOVE / 2))


def flashed(head: float, far: float) -> Iterator[Item]:
    """Hold an upstand with a bar, and cover it with a flashing let into the wall.

    Parameters
    ----------
    head : float
        Top of the upstand; the face of the wall is at nought [mm].
    far : float
        Where the wall ends [mm].

    Yields
    ------
    Item
        Bar and flashing with their names [mm].
    """
    bar = Box(-CAP / 4, head - CAP, 0.0, head)
    yield Area((bar.ring,), "solid", weight="line")
    over = ((ASIDE, head + CAP), (-CAP / 3, head + CAP), (-CAP / 2, head - 2 * CAP))
    yield Line(over, "ink", "line")
    told = (("cover flashing", head + CAP, 4 * CAP), ("wall bar", head - CAP / 2, -3 * CAP))
    for words, y, up in told:
        yield Line(((0.0, y), (far, y + up), (far + ASIDE / 2, y + up)), "hair", "hair")
        yield Text(far + ASIDE * 3 / 4, y + up, words, TICK, "start")


def named(
    rows: Sequence[tuple[str, float]], x: float, scale: float = AT, leftwards: bool = False
) -> Iterator[Item]:
    """Letter layers in a column beside a section, apart from one another, each with its leader.

    Parameters
    ----------
    rows : sequence of (str, float)
        Words, and the height of what they name [mm].
    x : float
        Where the section ends [mm].
    scale : float
        The n of 1:n at which it is printed [-].
    leftwards : bool
        Whether the column stands on the left [-].

    Yields
    ------
    Item
        The column [mm].
    """
    yield Names(tuple(rows), x, scale, leftwards)


@dataclass(frozen=True, slots=True)
class Names:
    """A column of names beside a section, as far apart as lettering is high on its sheet."""

    rows: tuple[tuple[str, float], ...]
    x: float
    scale: float = AT
    leftwards: bool = False

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return leaders and words."""
        return tuple(self._lettered(paper.text_mm("x", TICK)[1]))

    def _lettered(self, gap: float) -> Iterator[Item]:
        ordered = sorted(self.rows, key=lambda r: r[1])
        spread = _apart([h for _, h in ordered], gap)
        aside = (-ASIDE if self.leftwards else ASIDE) * self.scale / AT
        anchor: Anchor = "end" if self.leftwards else "start"
        for (words, height), at in zip(ordered, spread, strict=True):
            ink: Ink = "pencil" if words.startswith(OLD) else "ink"
            knee = self.x + aside
            yield Line(((self.x, height), (knee, at), (knee + aside / 2, at)), "hair", "hair")
            yield Text(knee + aside * 3 / 4, at, words, TICK, anchor, ink)


def _apart(heights: Sequence[float], gap: float) -> list[float]:
    """Spread heights upwards and then centre them, so that none is nearer than it can be read."""
    found: list[float] = []
    for height in heights:
        found.append(max(height, found[-1] + gap) if found else height)
    drift = sum(f - h for f, h in zip(found, heights, strict=True)) / len(found)
    return [f - drift for f in found]
