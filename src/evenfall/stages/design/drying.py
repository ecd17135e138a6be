"""Drying: how wet the deck may be when it is closed up, and how long it dries through the ceiling.

Heat and moisture hour by hour through the roof between two joists, from every start at once: the
wettest reading, the mean of the readings, and a ladder of wetter decks. What is watched is the
wettest part of the deck; what is asked is when that part is no wetter than timber may be sealed in.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from statistics import fmean

from evenfall.calc.physics.psychrometrics import saturation_pressure
from evenfall.calc.physics.transient.climate import from_months
from evenfall.calc.physics.transient.follow import Course, dried
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Drying, DryingCourse
from evenfall.model.finding import Finding, Level, Remedy
from evenfall.model.job import Below, Deck, Joists, Reading, Site
from evenfall.stages.design import damp_layers, layering
from evenfall.stages.design.saying import finding
from evenfall.standards import en_15026, roofing_practice
from evenfall.working import Basis, Cited, Table, Working

WITHIN = 56  # days: decay wants months above 20 %; eight weeks leave it no season
YEARS = 2  # what is not dry after two summers is taken not to dry
SHOWN = 91  # days that every curve is carried on for: a quarter shows where it is going
STEP = 0.5  # per cent of the deck's mass in a step; half of it moves 20 days by 0.1
DAY = 24
YEAR = 365  # days
IN_WEEKS = 21  # days from which a time is told in weeks
LADDER = tuple(range(21, 28))  # per cent: from the first over the limit to the last that is kept
TABLE = (0, 1, 2, 4, 7, 14, 28, 56, 91, 182, 365, 730)
"""Days at which the curves are told."""

SOURCE = f"{en_15026.SOURCE}, between two joists"
BASIS: Basis = "from memory"
OWN = Cited(WITHIN, "d", "Evenfall", "a deck is dry within this time", "planning seed")
LEFT_OUT = (
    ("air leaking past the ceiling or along the joists", "either way; a draught wets in winter"),
    ("sun on the sheet", "slower here than in a summer outside"),
    ("joists, noggins and edges (one dimension)", "slower in truth where timber lies on timber"),
    ("water running or wicking as liquid in the deck", "slower here than along open grain"),
    ("glue lines and paint", "slower in truth under gloss paint or foil paper"),
    ("the meter: boards and salts read otherwise than softwood", "either way"),
    ("mould on the ceiling while the water passes", "air the room below while it dries"),
)


def work(
    chosen_mm: int,
    build: BuildUp,
    deck: Deck,
    below: Below,
    joists: Joists,
    readings: tuple[Reading, ...],
    site: Site,
    closed_on: date,
) -> Drying:
    """Work out how fast the deck dries once the new roof closes it up.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    deck, below, joists : Deck, Below, Joists
        What stays [-].
    readings : tuple of Reading
        Moisture of the timber, taken as that of the whole deck [%].
    site : Site
        Climate [-].
    closed_on : date
        When it is closed up; the season matters [-].

    Returns
    -------
    Drying
        Days to below the limit, the wettest deck that may be closed up, the curves [-].
    """
    if below.old_vents and build.vents != "close":
        return Drying("Not reckoned: outside air blows under the deck through the old vents.")
    begun = _starts(readings)
    percents = [*(p for _, p in begun), *LADDER]
    course, whole = _course(chosen_mm, build, deck, below, joists, site, closed_on, percents)
    limit = roofing_practice.TIMBER_DRY_OUT
    days = course.first_below(limit * whole)
    ladder = dict(zip(LADDER, days[len(begun) :], strict=True))
    may = _may_close(ladder)
    shown = [*begun, (f"deck at {may} %", float(may))] if may else begun
    picked = [percents.index(p) for _, p in shown]
    courses = tuple(
        DryingCourse(name, start, days[k], _points(course, k, whole))
        for (name, start), k in zip(shown, picked, strict=True)
    )
    return Drying(
        closed_on=closed_on,
        limit_percent=limit,
        within_days=OWN,
        wettest=_days("the wettest reading", begun, days, 0),
        mean=_days("the mean of the readings", begun, days, 1),
        may_close=_may_working(may),
        courses=courses,
        months=_table(courses),
        left_out=_left_out(),
        findings=tuple(_findings(readings, begun, days, may, below)),
    )


def _starts(readings: tuple[Reading, ...]) -> list[tuple[str, float]]:
    if not readings:
        return []
    wettest = max(readings, key=lambda r: r.percent)
    told = wettest.name.replace("-", " ")
    mean = round(fmean(r.percent for r in readings), 1)
    return [(f"wettest reading, {told}", wettest.percent), ("mean of the readings", mean)]


def _course(
    chosen_mm: int, build: BuildUp, deck: Deck, below: Below, joists: Joists, site: Site,
    closed_on: date, percents: Sequence[float],
) -> tuple[Course, float]:  # fmt: skip
    """Follow all starts; also give the water content that is one per cent of the deck."""
    roof, density = damp_layers.section(chosen_mm, build, deck, below, joists)
    one = density / 100
    months = layering.year(site, below)
    month = months[closed_on.month - 1]
    humid = min(month.p_i / saturation_pressure(month.theta_i), 1.0)
    rest = roof.water_at(humid, month.theta_i)
    waters = []
    for percent in percents:
        water = rest.copy()
        water[roof.cells_of(damp_layers.DECK)] = percent * one
        waters.append(water)
    start = (closed_on.timetuple().tm_yday - 1) * DAY
    theta = (month.theta_e + month.theta_i) / 2
    course = dried(
        roof, damp_layers.DECK, waters, theta, from_months(months), start, YEARS * YEAR * DAY,
        roofing_practice.TIMBER_DRY_OUT * one, SHOWN, STEP * one,
    )  # fmt: skip
    return course, one


def _may_close(ladder: dict[int, float | None]) -> int | None:
    """Find the wettest start that is dry in time, with every drier one so too."""
    found = None
    for percent, days in sorted(ladder.items()):
        if days is None or days > WITHIN:
            break
        found = percent
    return found


def _points(course: Course, k: int, one: float) -> tuple[tuple[float, float], ...]:
    values = course.values[:, k] / one
    return tuple(
        (round(float(d), 2), round(float(v), 3)) for d, v in zip(course.days, values, strict=True)
    )


def _days(
    what: str, begun: list[tuple[str, float]], days: Sequence[float | None], k: int
) -> Working | None:
    if not begun or days[k] is None:
        return None
    title = f"Days until {what} is down to the limit"
    return Working(title, "t", "d", SOURCE, days[k] or 0.0, own_basis=BASIS)


def _may_working(may: int | None) -> Working | None:
    if may is None:
        return None
    title = f"Wettest deck that is dry within {WITHIN} days"
    return Working(title, "M", "%", SOURCE, float(may), own_basis=BASIS)


def _table(courses: tuple[DryingCourse, ...]) -> Table:
    """Tell the curves at some days."""
    last = max((c.points[-1][0] for c in courses), default=0.0)
    days = [d for d in TABLE if d <= last]
    columns = (("day", "d"), *((c.name, "%") for c in courses))
    rows = tuple((float(d), *(round(percent_at(c.points, d), 1) for c in courses)) for d in days)
    return Table("Water in the wettest part of the deck", columns, rows, SOURCE, BASIS)


def percent_at(points: tuple[tuple[float, float], ...], day: float) -> float:
    """Read a curve at a day, straight between its points.

    Parameters
    ----------
    points : tuple of (float, float)
        Day and per cent [-].
    day : float
        A day [d].

    Returns
    -------
    float
        Water in the wettest part of the deck [%].

    Examples
    --------
    >>> percent_at(((0.0, 24.0), (10.0, 19.0)), 4.0)
    22.0
    """
    before, after = points[0], points[-1]
    for point in points:
        if point[0] <= day:
            before = point
        if point[0] >= day:
            after = point
            break
    wide = after[0] - before[0]
    return before[1] + (after[1] - before[1]) * (day - before[0]) / wide if wide else before[1]


def _left_out() -> Table:
    columns = (("left out", "-"), ("what it does", "-"))
    return Table("What the drying leaves out", columns, LEFT_OUT, SOURCE, "common practice")


def _findings(
    readings: tuple[Reading, ...], begun: list[tuple[str, float]],
    days: Sequence[float | None], may: int | None, below: Below,
) -> list[Finding]:  # fmt: skip
    found = []
    limit = roofing_practice.TIMBER_DRY_OUT
    if begun:
        wettest = max(readings, key=lambda r: r.percent)
        found.append(_of_wettest(wettest, days[0], limit))
    found.append(_of_ladder(may, below))
    return found


def _of_wettest(wettest: Reading, days: float | None, limit: Cited) -> Finding:
    level: Level = "note"
    start = f"Closed up at {wettest.percent:g} % ({wettest.name})"
    if wettest.percent <= limit:
        says, level = f"{start}, the deck starts no wetter than {limit:g} %.", "fine"
    elif days is None:
        says = f"{start}, the deck would still be over {limit:g} % after {YEARS} years."
    else:
        says = (
            f"{start}, the deck would be down to {limit:g} % after {_spoken(days)}, as reckoned. "
            f"The rule stands: dry it to {limit:g} % before it is sealed in."
        )
    value = None if days is None else round(days, 1)
    return finding("drying-time", "roof", level, says, OWN, value)


def _spoken(days: float) -> str:
    """Say a time no finer than the model knows it."""
    if days < 2:
        return "a day or two"
    return f"about {round(days)} days" if days < IN_WEEKS else f"about {round(days / 7)} weeks"


def _of_ladder(may: int | None, below: Below) -> Finding:
    limit = roofing_practice.TIMBER_DRY_OUT
    if may is None:
        sheet = "the sheet in the ceiling holds it back" if below.ceiling_vcl else "too slowly"
        says = (
            f"No way out for water: a deck at {LADDER[0]} % closed up here is not down to "
            f"{limit:g} % within {WITHIN} days ({sheet}). Close it up only dry."
        )
        cure = Remedy(
            "Read every part again on the day: 18 % or less, and cover it the same evening. Where "
            "the ceiling is renewed in any case, leave its sheet out: the VCL above does its work."
        )
        return finding("no-way-out", "roof", "note", says, OWN, None, cure)
    top = ", the wettest that is not replaced," if may == LADDER[-1] else ""
    says = (
        f"Through this ceiling even a deck at {may} %{top} is down to {limit:g} % within {WITHIN} "
        "days, as reckoned. That is what the roof forgives, not leave to close it wet."
    )
    return finding("way-out", "roof", "fine", says, OWN)
