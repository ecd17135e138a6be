"""Zones, fixings and joists of a roof of 30 corners, against one overlay of the same plan.

The floor is one `shapely` overlay: the boards of the plan cut by the zones of its winds, nothing
more. Growth: the same work on a roof of twice the corners and about twice the boards, against what
corners times boards allow, rounded down.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

from benchmarks.timing import Figure, measure

GOAL, GOAL_GROWTH = 10.0, 1.0
CORNERS = 30
CRUMB_M2 = 0.02  # no board plan has smaller pieces
EXAMPLE = Path(__file__).parents[1] / "examples" / "garage"


def crooked(corners: int, size_m: float) -> tuple[tuple[float, float], ...]:
    """A plan whose sides go in and out all round."""
    found = []
    for i in range(corners):
        r = size_m * (1.0 if i % 2 else 0.86)
        a = 2 * math.pi * i / corners
        found.append((r * math.cos(a), 0.7 * r * math.sin(a)))
    return tuple(found)


class Roof:
    """The rooms of the garage on a roof of many corners, screwed."""

    def __init__(self, corners: int, size_m: float) -> None:
        import shapely
        from tests.unit import plans

        from evenfall.model.taken_off import BoardPiece

        self.ring = crooked(corners, size_m)
        self.plan = plans.plan(self.ring, ("eaves",) * corners, (0.0,) * corners)
        self.job = plans.job(design__hold_boards_by="screws",
                             survey__deck__pull_outs_n=[900.0, 980.0, 940.0])  # fmt: skip
        self.build, self.adhesive = plans.build(self.job), plans.ADHESIVE
        self.around = plans.around(self.plan)
        deck, x0, y0 = shapely.Polygon(self.ring), -size_m, -size_m
        self.boards = [
            part
            for i in range(math.ceil(2 * size_m / 2.4))
            for k in range(math.ceil(2 * size_m / 1.2))
            for part in _parts(deck.intersection(shapely.box(
                x0 + 2.4 * i, y0 + 1.2 * k, x0 + 2.4 * (i + 1), y0 + 1.2 * (k + 1))))
        ]  # fmt: skip
        self.pieces = tuple(
            BoardPiece(n, tuple((round(x * 1000), round(y * 1000))
                                for x, y in b.exterior.coords[:-1]), 2400, 1200, n, False)
            for n, b in enumerate(self.boards, 1)
        )  # fmt: skip

    def work(self) -> tuple[Any, ...]:
        """Zones, fixings, joists."""
        from tests.unit import plans

        from evenfall.stages.design import joists, suction, wind
        from evenfall.stages.takeoff import fixings

        suction.lay.cache_clear()  # what is kept of the round before would make this one look fast
        suction.divide.cache_clear()
        survey = self.job.survey
        blown = wind.work(self.job.site, survey.sides, survey.deck, survey.below, self.build, 120,
                          self.plan, self.adhesive, plans.rise(120))  # fmt: skip
        screws = fixings.work(self.pieces, blown, self.build, True)
        beams = joists.work(survey.joists, survey.deck, survey.covering, survey.below,
                            self.job.site, self.build, 120, "keep", (), self.around)  # fmt: skip
        return blown, screws, beams

    def overlay(self) -> Callable[[], object]:
        """One overlay: the plan cut by every board and by every zone of every wind."""
        import shapely

        from evenfall.calc.loads.plan_zones import laid

        deck = shapely.Polygon(self.ring)
        zones = [shapely.Polygon(z.ring) for z in laid(self.ring, 2.9)]

        def run() -> object:
            lines = shapely.union_all([deck.boundary,
                                       *(b.boundary for b in self.boards),
                                       *(z.boundary for z in zones)])  # fmt: skip
            return shapely.get_parts(shapely.polygonize([lines]))

        return run


def _parts(shape: Any) -> list[Any]:
    found = getattr(shape, "geoms", (shape,))
    return [p for p in found if p.geom_type == "Polygon" and p.area > CRUMB_M2]


def figures() -> list[Figure]:
    """Measure the three rooms, and how they grow."""
    one, two = Roof(CORNERS, 5.0), Roof(2 * CORNERS, 7.1)
    grown = 2 * len(two.boards) / len(one.boards)
    return [
        measure(f"zones, fixings, joists: {CORNERS} corners, {len(one.boards)} pieces",
                one.work, one.overlay(), GOAL),
        measure(f"{2 * CORNERS} corners, {len(two.boards)} pieces, over {int(grown)} of the first",
                two.work, _times(one.work, int(grown)), GOAL_GROWTH),
    ]  # fmt: skip


def _times(work: Callable[[], object], times: int) -> Callable[[], object]:
    """Do some work so many times over."""

    def run() -> None:
        for _ in range(times):
            work()

    return run
