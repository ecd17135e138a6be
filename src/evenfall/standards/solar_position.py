"""Where the sun stands: the Fourier series of Spencer, and what counts as sunset.

The series are known from many handbooks of solar work; the paper itself was not seen.
"""

from __future__ import annotations

from evenfall.working import Cited

SPENCER = "J. W. Spencer, Fourier series representation of the position of the sun, 1971"


def _term(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, SPENCER, where, "from memory")


# of the angle of the year: constant, then cosine and sine of 1, 2 and 3 times the angle
DECLINATION = tuple(
    _term(value, "rad", f"declination, {where}")
    for value, where in (
        (0.006918, "constant"), (-0.399912, "cos"), (0.070257, "sin"), (-0.006758, "cos 2"),
        (0.000907, "sin 2"), (-0.002697, "cos 3"), (0.00148, "sin 3"),
    )
)  # fmt: skip
EQUATION_OF_TIME = tuple(
    _term(value, "rad", f"equation of time, {where}")
    for value, where in (
        (0.000075, "constant"), (0.001868, "cos"), (-0.032077, "sin"), (-0.014615, "cos 2"),
        (-0.040849, "sin 2"),
    )
)  # fmt: skip

ZENITH_AT_SUNSET = Cited(
    90.833, "deg", "almanac practice", "upper edge on the horizon, 34' refraction, 16' radius",
    "from memory",
)  # fmt: skip
NORTHERNMOST = Cited(
    65, "deg", "almanac practice", "beyond it days without sunset begin", "from memory"
)
DAYS_OF_YEAR = Cited(365, "d", "calendar", "days of a common year", "published")
DEGREES_AN_HOUR = Cited(15, "deg/h", "geometry", "turn of the earth", "published")

SUMMER_TIME = "The Summer Time Order 2002"
SUMMER_BEGINS = Cited(3, "-", SUMMER_TIME, "last Sunday of month", "from memory")
SUMMER_ENDS = Cited(10, "-", SUMMER_TIME, "last Sunday of month", "from memory")
SUMMER_HOUR = Cited(1, "h", SUMMER_TIME, "clock before Greenwich", "from memory")
