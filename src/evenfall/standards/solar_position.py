"""Where the sun stands: approximate solar coordinates of the almanacs, and what counts as sunset.

The formulas are known from many pages of observatories; the almanac itself was not seen.
"""

from __future__ import annotations

from datetime import date

from evenfall.working import Cited

ALMANAC = "Astronomical Almanac, low-precision formulas for the sun"


def _term(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, ALMANAC, where, "from memory")


EPOCH = date(2000, 1, 1)  # its noon: J2000.0, from which days are counted
ANOMALY = (_term(357.529, "deg", "mean anomaly"), _term(0.98560028, "deg/d", "mean anomaly"))
LONGITUDE = (_term(280.459, "deg", "mean longitude"), _term(0.98564736, "deg/d", "mean longitude"))
CENTRE = (_term(1.915, "deg", "equation of the centre"), _term(0.020, "deg", "its second term"))
OBLIQUITY = (_term(23.439, "deg", "obliquity"), _term(-3.6e-7, "deg/d", "obliquity"))

ZENITH_AT_SUNSET = Cited(
    90.833, "deg", "almanac practice", "upper edge on the horizon, 34' refraction, 16' radius",
    "from memory",
)  # fmt: skip
NORTHERNMOST = Cited(
    65, "deg", "almanac practice", "beyond it days without sunset begin", "from memory"
)
DEGREES_AN_HOUR = Cited(15, "deg/h", "geometry", "turn of the earth", "published")

SUMMER_TIME = "The Summer Time Order 2002"
SUMMER_BEGINS = Cited(3, "-", SUMMER_TIME, "last Sunday of month", "from memory")
SUMMER_ENDS = Cited(10, "-", SUMMER_TIME, "last Sunday of month", "from memory")
SUMMER_HOUR = Cited(1, "h", SUMMER_TIME, "clock before Greenwich", "from memory")
