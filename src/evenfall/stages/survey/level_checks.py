"""Checks of spot levels: one that the others gainsay, and corners that no level vouches for."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, inf, sqrt

from evenfall.calc.geometry.surface import fit_plane, plane_level
from evenfall.errors import InvalidInput
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.surveyed import Plan, Point, SpotAt
from evenfall.standards import survey_practice

MM = 1000
FEWEST = 5  # levels from which four are left to judge the fifth by
ODD_MM = 40.0  # a deck seldom sags or heaves more; a staff is misread by a decimetre
CLEAR = 4.0  # how many times worse than the others lie among themselves
RIVAL = 0.8  # a level that is judged nearly as far off may be the wrong one as well
MEANT = (("m", 1000.0), ("cm", 10.0))  # units that a staff is read in by mistake, in mm


def about(spots: tuple[SpotAt, ...], line_mm: float, plan: Plan) -> Iterator[Finding]:
    """Say which level the others gainsay, and which corner is only guessed.

    Parameters
    ----------
    spots : tuple of SpotAt
        Levels where they were read [mm].
    line_mm : float
        Height of the level line over the lowest of them [mm].
    plan : Plan
        The plan [m].

    Yields
    ------
    Finding
        At most one of each kind [-].
    """
    yield from _odd(spots, line_mm)
    yield from _guessed(spots, plan)


def _odd(spots: tuple[SpotAt, ...], line_mm: float) -> Iterator[Finding]:
    """Judge each level by the plane of all others; name the one that lies furthest off."""
    if len(spots) < FEWEST:
        return
    judged = [_off(spots, n) for n in range(len(spots))]
    score = [abs(off) / rough for off, rough in judged]
    n = score.index(max(score))
    off, rough = judged[n]
    if abs(off) <= ODD_MM or abs(off) <= CLEAR * rough:
        return
    spot, by = spots[n], survey_practice.LEVEL_RESOLUTION
    read, meant = line_mm - spot.z_mm, line_mm - spot.z_mm + off
    says = (
        f"Level {spot.name} looks {abs(off):.0f} mm too {'high' if off > 0 else 'low'}: the others "
        f"say about {meant:.0f} mm below the line, {read:g} was read. "
    )
    cure, changes = "Read it again.", tuple[Change, ...]()
    rivals = [s.name for k, s in enumerate(spots) if k != n and score[k] > RIVAL * score[n]]
    if rivals:
        cure = f"It could as well be {rivals[0]}: read both again."
    for unit, factor in MEANT:
        if abs(read * factor - meant) <= max(CLEAR * rough, ODD_MM):
            says += f"{read:g} {unit} are {read * factor:g} mm. "
            cure = f"Write {read * factor:g}, or read it again."
            changes = (Change(f"survey.levels[{spot.name}].below_line_mm", read * factor),)
    yield Finding(
        "level-odd", f"level:{spot.name}", "agree", says + cure, by.source, by.basis, abs(off),
        ODD_MM, "mm", Remedy(cure, changes),
    )  # fmt: skip


def _off(spots: tuple[SpotAt, ...], n: int) -> tuple[float, float]:
    """Give how far a level lies over the plane of the others, and how well that is known, mm."""
    others = [s for k, s in enumerate(spots) if k != n]
    try:
        fit = fit_plane(tuple((s.at[0], s.at[1], s.z_mm) for s in others))
    except InvalidInput:  # the others lie in one line: nothing to judge it by
        return 0.0, inf
    spare = len(others) - 3  # a plane takes three
    rough = sqrt(sum(r * r for r in fit.residuals) / spare)
    least = float(survey_practice.LEVEL_RESOLUTION) * MM
    reach = hypot(1.0, _spread(tuple(others), spots[n].at))  # a corner is judged from afar
    return spots[n].z_mm - plane_level(fit.plane, spots[n].at), max(rough, least) * reach


def _guessed(spots: tuple[SpotAt, ...], plan: Plan) -> Iterator[Finding]:
    """Say at which corner the plane is not known: the levels lie too near one line for it."""
    limit, sigma = survey_practice.STANDING_WATER, survey_practice.LEVEL_RESOLUTION
    known = [(sigma * MM * _spread(spots, (c.x_m, c.y_m)), c.name) for c in plan.corners]
    worst, name = max(known)
    if worst <= limit * MM:
        return
    cure = f"Read a level near {name}."
    says = (
        f"The levels lie too near one line: at {name} the old roof is only known to "
        f"{worst:.0f} mm. {cure}"
    )
    yield Finding(
        "levels-in-line", f"corner:{name}", "stop", says, limit.source, limit.basis, worst,
        limit * MM, "mm", Remedy(cure),
    )  # fmt: skip


def _spread(spots: tuple[SpotAt, ...], at: Point) -> float:
    """Give the error of the plane at a place, over that of one reading: the plane is linear."""
    units = (
        tuple((s.at[0], s.at[1], float(k == n)) for k, s in enumerate(spots))
        for n in range(len(spots))
    )
    return sqrt(sum(plane_level(fit_plane(unit).plane, at) ** 2 for unit in units))
