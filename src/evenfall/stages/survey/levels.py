"""Levels: the old surface from staff readings, as a plane and what lies off it."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, hypot

from evenfall.calc.geometry.contours import back_fall
from evenfall.calc.geometry.polygon import contains, distances_to_sides
from evenfall.calc.geometry.slopes import steepest_fall
from evenfall.calc.geometry.surface import PlaneFit, fit_plane
from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import SpotLevel
from evenfall.model.surveyed import Levels, Plan, Point, Pond, Slope, SpotAt
from evenfall.stages.survey import deck, level_checks
from evenfall.standards import survey_practice
from evenfall.working import Known, Table, measured

MM = 1000
BESIDE_M = 0.05  # a staff on the drip edge is still on the roof
APART_M = 0.02  # two staffs cannot stand nearer


def work(spots: tuple[SpotLevel, ...], plan: Plan) -> Levels:
    """Lay a plane through the spot levels of the old covering.

    Parameters
    ----------
    spots : tuple of SpotLevel
        Staff readings down from a level line; more is lower [mm].
    plan : Plan
        The plan in which the spots are [m].

    Returns
    -------
    Levels
        Levels from the lowest spot, the plane through them and the dishes [mm].
    """
    lowest = max(s.below_line_mm for s in spots)
    placed = tuple(SpotAt(s.name, place(s, plan), lowest - s.below_line_mm) for s in spots)
    _refuse(placed, plan)
    try:
        fit = fit_plane(tuple((s.at[0], s.at[1], s.z_mm / MM) for s in placed))
    except InvalidInput as error:
        where, cure = "survey.levels", "add a spot level"
        raise InvalidInput(error.what, error.expected, where=where, do=cure) from error
    slope = Slope(fit.plane.level * MM, fit.plane.rise_x * MM, fit.plane.rise_y * MM)
    fall = steepest_fall.show(_spotted(slope.x_mm_m), _spotted(slope.y_mm_m))
    dish = max(0.0, -min(fit.residuals) * MM)
    relief = deck.deck_relief(placed, slope, plan)
    full = deck.filled(relief, plan)
    standing = deck.ponds(full, "before")
    return Levels(
        spots=placed,
        plane=slope,
        fall=fall,
        steepest_one_in=MM / fall.value if fall.value else None,
        towards=fit.plane.downhill,
        dish_mm=dish,
        table=_table(placed, fit),
        findings=(
            *level_checks.about(placed, lowest, plan),
            *_findings(placed, fit, dish),
            *_pond_findings(standing, plan),
        ),
        ponds=standing,
        contours=deck.contours(relief),
        arrows=deck.arrows(relief, plan),
        back_m2=back_fall(relief, _way_out(plan)),
        runs=deck.runs(relief, plan),
    )


def place(spot: SpotLevel, plan: Plan) -> Point:
    """Find where the staff stood.

    Parameters
    ----------
    spot : SpotLevel
        At a corner, or along a side and in from it [-].
    plan : Plan
        The plan [m].

    Returns
    -------
    (x, y)
        The place [m].
    """
    if spot.corner is not None:
        at = {c.name: (c.x_m, c.y_m) for c in plan.corners}
        if spot.corner not in at:
            raise InvalidInput(
                f'"{spot.corner}"', f"one of the corners {', '.join(at)}",
                where=f"survey.levels[{spot.name}].corner",
            )  # fmt: skip
        return at[spot.corner]
    return plan.side(spot.side or "").place(spot.along_m or 0.0, spot.in_m or 0.0)


def _refuse(placed: tuple[SpotAt, ...], plan: Plan) -> None:
    """Refuse a spot beside the roof, and two spots in one place."""
    for n, spot in enumerate(placed):
        off = min(distances_to_sides(plan.deck, spot.at))
        if off > BESIDE_M and not contains(plan.deck, spot.at):
            raise InvalidInput(
                f"a level {off:.2f} m beside the roof", "a place on the roof",
                where=f"survey.levels[{spot.name}]", do="measure along the side and in from it",
            )  # fmt: skip
        twin = next((p for p in placed[:n] if dist(p.at, spot.at) < APART_M), None)
        if twin is not None:
            raise InvalidInput(
                f"a level where {twin.name} was read", "one level in one place",
                where=f"survey.levels[{spot.name}]", do="keep one of the two, or their mean",
            )  # fmt: skip


def _way_out(plan: Plan) -> Point:
    """Find the way to the eaves, all together; none where water leaves by outlets."""
    ways = [(s.outwards, s.length_m) for s in plan.of_kind("eaves")]
    x, y = (sum(way[n] * length for way, length in ways) for n in (0, 1))
    size = hypot(x, y)
    return (x / size, y / size) if size else (0.0, 0.0)


def _pond_findings(standing: tuple[Pond, ...], plan: Plan) -> Iterator[Finding]:
    """Say where water stands on the old roof, and which outlet is higher than its surroundings."""
    limit = survey_practice.STANDING_WATER
    deep = [p for p in standing if p.depth_mm > limit * MM]
    if deep:
        worst, more = deep[0], len(deep) - 1
        others = f" {more} more stand on the roof." if more else ""
        says = (
            f"Water stands {worst.depth_mm:.0f} mm deep on the old roof, over "
            f"{worst.area_m2:.1f} m² ({worst.volume_l:.0f} l).{others}"
        )
        yield Finding(
            "pond-before", worst.id, "note", says, limit.source, limit.basis, worst.depth_mm,
            limit * MM, "mm",
        )  # fmt: skip
    for opening in plan.openings:
        behind = [p for p in standing if dist(p.spills_at, opening.centre) < APART_M]
        if opening.kind == "outlet" and behind:
            least = survey_practice.LEVEL_RESOLUTION
            says = (
                f"The outlet {opening.name} stands {behind[0].depth_mm:.0f} mm higher than the "
                "roof beside it."
            )
            yield Finding(
                "outlet-high", opening.id, "note", says, least.source, least.basis,
                behind[0].depth_mm, least * MM, "mm",
                Remedy("Set the new outlet into a sump, lower than the boards round it."),
            )  # fmt: skip


def _spotted(value: float) -> Known:
    return measured(value, "mm/m", "survey.levels")


def _table(placed: tuple[SpotAt, ...], fit: PlaneFit) -> Table:
    rows = tuple(
        (s.name, s.at[0], s.at[1], s.z_mm, r * MM)
        for s, r in zip(placed, fit.residuals, strict=True)
    )
    columns = (("spot", "-"), ("x", "m"), ("y", "m"), ("level", "mm"), ("off the plane", "mm"))
    return Table("Spot levels", columns, rows, "staff readings, plane by least squares", "measured")


def _findings(placed: tuple[SpotAt, ...], fit: PlaneFit, dish: float) -> tuple[Finding, ...]:
    limit = survey_practice.STANDING_WATER
    if dish <= limit * MM:
        return ()
    worst = placed[fit.residuals.index(min(fit.residuals))]
    return (
        Finding(
            "dish", f"level:{worst.name}", "note",
            f"The old roof dips {dish:.0f} mm below its plane at {worst.name}: water may stand "
            "there. Level the deck before the boards go on.",
            limit.source, limit.basis, dish, limit * MM, "mm",
        ),
    )  # fmt: skip
