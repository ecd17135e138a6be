"""The columns of a weather file: their names with their units, and what else people call them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenfall.standards import programme_practice as programme
from evenfall.standards import weather_practice as weather


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name carries its unit."""

    name: str
    says: str
    low: float
    high: float
    needed: bool = True


# fmt: off
COLUMNS = (
    Column("air_c", "temperature of the air in degrees Celsius", -40, 50),  # what air can have
    Column("humidity_percent", "relative humidity in percent", 1, 100),
    Column("rain_mm_h", "rain of the hour in mm", 0, 150),  # the heaviest hours known are below
    Column("wind_m_s", "mean wind in metres a second", 0, 45),  # the worst storms inland are below
    Column("chance_percent", "chance of rain in percent", 0, 100, needed=False),
    Column("gust_m_s", "gusts in metres a second", 0, 70, needed=False),  # as above, gusts
    Column("cloud_percent", "sky under cloud in percent", 0, 100, needed=False),
)
# fmt: on
TIME, SKY = "time", "sky"
SKIES = {"clear": 0.0, "part": 50.0, "cloudy": 100.0}  # words for the share under cloud
NAMES = (TIME, *(c.name for c in COLUMNS), SKY)

_KNOT, _MPH = weather.KNOT.value, programme.MILE_AN_HOUR.value
_OTHER_UNITS = (
    (r"(wind|gust)\w*?_?(knots?|kts?|kn)", "knots", f"times {_KNOT:.3f} is metres a second"),
    (r"(wind|gust)\w*?_?(mph|miles\w*)", "miles an hour", f"times {_MPH:.3f} is metres a second"),
    (r"(wind|gust)\w*?_?(km_?h|kmh|kph)", "km an hour", "divided by 3.6 is metres a second"),
    (r"(wind|gust)\w*?_?(bft|beaufort)", "Beaufort", "ask for metres a second"),
    (r"(air|temp)\w*?_?(f|fahrenheit)", "Fahrenheit", "(F - 32) / 1.8 is Celsius"),
    (r"(air|temp)\w*?_?(k|kelvin)", "kelvin", "less 273.15 is Celsius"),
    (r"rain\w*?_?(in|inch|inches)(_h)?", "inches", "times 25.4 is mm"),
    (r"cloud\w*?_?(okta|oktas)", "oktas", "times 12.5 is percent"),
)


def other_unit(name: str) -> tuple[str, str]:
    """Recognise a column in a unit that is not taken.

    Parameters
    ----------
    name : str
        Head of a column [-].

    Returns
    -------
    (unit, what to do)
        Both empty where the head is not of that kind [-].

    Examples
    --------
    >>> other_unit("wind_knots")
    ('knots', 'times 0.514 is metres a second')
    >>> other_unit("wind_m_s")
    ('', '')
    """
    for pattern, unit, do in _OTHER_UNITS:
        if re.fullmatch(pattern, name):
            return unit, do
    return "", ""
