"""Levels: the old surface from staff readings, as a plane and what lies off it."""

from __future__ import annotations

from evenfall.calc.geometry.slopes import steepest_fall
from evenfall.calc.geometry.surface import PlaneFit, fit_plane
from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding
from evenfall.model.job import SpotLevel
from evenfall.model.surveyed import Levels, Plan, Point, Slope, SpotAt
from evenfall.standards import survey_practice
from evenfall.working import Known, Table, measured

MM = 1000


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
    try:
        fit = fit_plane(tuple((s.at[0], s.at[1], s.z_mm / MM) for s in placed))
    except InvalidInput as error:
        where, cure = "survey.levels", "add a spot level"
        raise InvalidInput(error.what, error.expected, where=where, do=cure) from error
    slope = Slope(fit.plane.level * MM, fit.plane.rise_x * MM, fit.plane.rise_y * MM)
    fall = steepest_fall.show(_spotted(slope.x_mm_m), _spotted(slope.y_mm_m))
    dish = max(0.0, -min(fit.residuals) * MM)
    return Levels(
        spots=placed,
        plane=slope,
        fall=fall,
        steepest_one_in=MM / fall.value if fall.value else None,
        towards=fit.plane.downhill,
        dish_mm=dish,
        table=_table(placed, fit),
        findings=_findings(placed, fit, dish),
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
