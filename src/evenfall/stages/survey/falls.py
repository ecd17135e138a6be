"""Falls: how the finished roof drains, and what makes it so, joist by joist and board by board."""

from __future__ import annotations

from math import dist

from evenfall.calc.geometry.contours import gutters
from evenfall.calc.geometry.polygon import Point, distances_to_sides
from evenfall.calc.geometry.slopes import finished_fall
from evenfall.model.choice import Tapered
from evenfall.model.job import Falls as Chosen
from evenfall.model.job import Joists
from evenfall.model.surveyed import FallLine, Falls, Firring, Levels, Plan, Taper, Valley
from evenfall.stages.survey import deck
from evenfall.stages.survey.fall_findings import findings
from evenfall.stages.survey.making import Made, Wish, make
from evenfall.stages.survey.sagging import fall_left, sag_under_load
from evenfall.working import Known, Table, Working, measured

MM = 1000
SHORT_M = 0.15  # a shorter line in which water gathers is no gutter
ON_M = 0.001  # a line that lies on a kerb, corners rounded


def work(
    chosen: Chosen,
    joists: Joists,
    plan: Plan,
    levels: Levels,
    snow: tuple[int, float],
    sold: tuple[Tapered, ...] = (),
) -> Falls:
    """Work out the finished fall and what makes it.

    Parameters
    ----------
    chosen : Falls
        What the owner chose: how the fall is made, and the low side [-].
    joists : Joists
        The joists [-].
    plan : Plan
        The plan [m].
    levels : Levels
        The old surface [mm].
    snow : tuple of (int, float)
        Snow zone, altitude [m].
    sold : tuple of Tapered
        Tapered boards of the rates [mm].

    Returns
    -------
    Falls
        What is added by place, falls before and after, ponds left, pieces and findings [mm].
    """
    old = deck.deck_relief(levels.spots, levels.plane, plan)
    made = make(wish(chosen, sold), joists, plan, levels, old)
    downhill = plan.side(chosen.low_side).outwards
    finished = fall_of(made, levels, downhill)
    bends = sag_under_load(joists, *snow)
    left = fall_left(finished, chosen.kind, bends, joists, plan, levels, downhill)
    full = deck.filled(made.after, plan, chosen.low_side)
    ways = deck.runs(made.after, plan, chosen.low_side)
    ponds, valleys = deck.ponds(full, "after"), valleys_of(made, plan)
    return Falls(
        chosen.kind, chosen.low_side, downhill, made.rise, finished,
        (FallLine("fall:field", f"field, towards {chosen.low_side}",
                  _towards(levels, downhill), finished.value), *_edges(plan, levels, made)),
        made.firrings,
        findings(chosen, plan, finished, left, ponds, valleys, made.rows),
        made.patches, made.tapers, ponds, deck.contours(made.after), deck.arrows(made.after, plan),
        valleys, left, _cutting(made), deck.standing((*levels.ponds, *ponds)),
        ways, deck.flattest(ways), made.rows,
    )  # fmt: skip


def wish(chosen: Chosen, sold: tuple[Tapered, ...] = ()) -> Wish:
    """Take what the owner chose as a way of making the fall.

    Parameters
    ----------
    chosen : Falls
        The choice [-].
    sold : tuple of Tapered
        Tapered boards of the rates [mm].

    Returns
    -------
    Wish
        The way [-].
    """
    return Wish(chosen.kind, chosen.low_side, chosen.one_in, chosen.thin_end_mm, chosen.run,
                sold)  # fmt: skip


def fall_of(made: Made, levels: Levels, downhill: Point) -> Working:
    """Add up the finished fall.

    Parameters
    ----------
    made : Made
        What is added [-].
    levels : Levels
        The old surface [mm].
    downhill : (x, y)
        Unit vector to the low side [-].

    Returns
    -------
    Working
        Fall towards the low side, or the outlets [mm/m].
    """
    before = measured(_towards(levels, downhill), "mm/m", "survey.levels")
    return finished_fall.show(before, _added(made))


def _towards(levels: Levels, way: Point) -> float:
    """Fall of the old plane along a way, mm per m."""
    return -(levels.plane.x_mm_m * way[0] + levels.plane.y_mm_m * way[1])


def _added(made: Made) -> Known:
    kept = made.wish.kind in ("keep", "shims")
    where = "kept as it is" if kept else f"1:{made.wish.one_in:g}"
    return measured(made.added_mm_m, "mm/m", f"design.falls, {where}", "declared")


def _edges(plan: Plan, levels: Levels, made: Made) -> tuple[FallLine, ...]:
    """Falls along each side, from its first corner to its second."""
    found = []
    for side in plan.sides:
        before = _towards(levels, side.along)
        if made.wish.kind == "tapered":
            added = (made.added_at(side.a) - made.added_at(side.b)) / side.length_m
        else:
            added = -(made.rise.x_mm_m * side.along[0] + made.rise.y_mm_m * side.along[1])
        found.append(FallLine(side.id, f"along {side.name}", before, before + added))
    return tuple(found)


def valleys_of(made: Made, plan: Plan) -> tuple[Valley, ...]:
    """Find the lines in which the finished roof gathers water.

    Parameters
    ----------
    made : Made
        The finished surface [m].
    plan : Plan
        Eaves and openings [m].

    Returns
    -------
    tuple of Valley
        The flattest first; a roof that is kept has the dips of its levels, and none by design [-].
    """
    if made.wish.kind == "keep":
        return ()
    leaves = frozenset(deck.leaves(made.after, plan, made.wish.low_side))
    kerbs = [o.ring for o in plan.openings if o.kind in deck.KERBED]
    found = [
        Valley((a, b), _place(a, b, inner, kerbs), fall * MM)
        for a, b, fall, inner in gutters(made.after, leaves)
        if dist(a, b) > SHORT_M
    ]
    return tuple(sorted(found, key=lambda v: v.fall_mm_m))


def _place(a: Point, b: Point, inner: bool, kerbs: list[tuple[Point, ...]]) -> str:
    if inner:
        return "valley"
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return "behind a kerb" if any(_near(k, middle) for k in kerbs) else "along an edge"


def _near(ring: tuple[Point, ...], at: Point) -> bool:
    return min(distances_to_sides(ring, at)) < ON_M


def _cutting(made: Made) -> Table | None:
    """List what is cut: each firring at each of its bends, or each piece of tapered board."""
    if made.firrings:
        return Table(
            "Cutting list, from the low end of each joist",
            (("piece", "-"), ("long", "mm"), ("least", "mm"), ("most", "mm"), ("height at", "-")),
            tuple(_cut(f) for f in made.firrings), "gap over each joist", "measured",
        )  # fmt: skip
    if made.tapers:
        return Table(
            "Boards cut to falls, over their thinnest place",
            (("piece", "-"), ("x, y and height of each corner", "-")),
            tuple((f"taper-{n}", _corners(t)) for n, t in enumerate(made.tapers, 1)),
            "zones on the plan", "measured",
        )  # fmt: skip
    return None


def _cut(firring: Firring) -> tuple[float | str, ...]:
    told = ", ".join(f"{at}: {high}" for at, high in firring.heights)
    return (firring.name, firring.length_mm, firring.thin_mm, firring.thick_mm, told)


def _corners(taper: Taper) -> str:
    return "; ".join(
        f"{x:.2f}, {y:.2f}: {h:.0f}"
        for (x, y), h in zip(taper.ring, taper.added_mm, strict=True)
    )  # fmt: skip
