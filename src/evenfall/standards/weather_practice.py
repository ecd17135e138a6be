"""Weather over an open roof: gusts, cold sky, the age of a forecast, a rain climate, a wet day.

All from memory or planning seeds, as each says: the climates are remembered shapes of long-term
averages, rounded, to start from. A firm brings the days of a weather station near it instead.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.standards import iso_13788
from evenfall.working import Basis, Cited

PRACTICE = "practice of flat roofing"
FEDERATION = "a page repeating a trade federation's limits"


def _seed(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, PRACTICE, where, "planning seed")


def _recalled(value: float, unit: str, source: str, where: str) -> Cited:
    return Cited(value, unit, source, where, "from memory")


# gusts that go with the mean winds of `programme_practice`
GUST_STOP = Cited(35, "mph", FEDERATION, "gusts; stop laying", "published, second-hand")
KNOT = Cited(0.514444, "m/s", "the international nautical mile", "1 knot", "published")

# a forecast
FORECAST_AGE = _seed(3, "h", "older is not asked about this morning")
RAIN_SHOWN = _seed(0.1, "mm/h", "rain that wets an open deck; less is not measured")

# a clear night: heat that a roof gives to the sky
STEFAN_BOLTZMANN = _recalled(5.67e-8, "W/(m2K4)", "physics", "Stefan-Boltzmann constant")
KELVIN = Cited(273.15, "K", "physics", "zero of the Celsius scale", "published")
EMISSIVITY = _recalled(0.9, "-", "ISO 6946:2017", "building surfaces, Annex C")
FILM_STILL = _recalled(4, "W/(m2K)", "ISO 6946:2017 Annex C", "h_ce = 4 + 4 v")
FILM_WIND = _recalled(4, "W s/(m3K)", "ISO 6946:2017 Annex C", "h_ce = 4 + 4 v")
_SKY = "Berdahl and Martin, Emissivity of clear skies, Solar Energy 32 (1984)"
SKY_0 = _recalled(0.711, "-", _SKY, "monthly mean at night")
SKY_1 = _recalled(0.56, "-", _SKY, "times dew point / 100")
SKY_2 = _recalled(0.73, "-", _SKY, "times (dew point / 100) squared")
SHELTER = _seed(0.5, "-", "wind between houses, as a share of the forecast's at 10 m")
SUN_COUNTS = _seed(1, "h", "after sunrise and before sunset a roof is as cold as at night")

# a stochastic day
_GENG = "Geng, Penning de Vries and Supit, Agricultural and Forest Meteorology 36 (1986)"
WET_AFTER_DRY = _recalled(0.75, "-", _GENG, "wet after dry, times the share of wet days")
WET_AFTER_WET = _recalled(0.25, "-", _GENG, "more, for wet after wet")
GAMMA_SLOPE = _recalled(1.83, "-", _GENG, "scale of the gamma: slope over the mean amount")
GAMMA_REST = _recalled(-2.16, "mm", _GENG, "scale of the gamma: rest")
GAMMA_LEAST = _seed(0.8, "mm", "scale of the gamma where the rule would give less")
DRIZZLE_DAYS = _recalled(
    0.35, "-", "climate summaries of weather services", "days of 0.2 to 1 mm, for each of 1 or more"
)
DRIZZLE_LEAST = _recalled(
    0.2, "mm", "climate summaries of weather services", "least rain of a rain day"
)
RAIN_RATE = _seed(1.3, "mm/h", "rain of one day falls at about this rate, in one spell")
AFTERNOON = _seed(0.35, "-", "a spell begins so much oftener at 15 h than by mean, in July")
AFTERNOON_AT = _seed(15, "h", "hour at which a summer spell begins most often")
WARMEST_MONTH = _seed(7, "-", "month in which that is most so")
DAY_SPREAD = _seed(2.8, "K", "day to day spread of the mean temperature")
DAY_MEMORY = _seed(0.75, "-", "of yesterday's departure that is left today")
SWING_SUMMER = _seed(4.5, "K", "half the daily swing of a dry day in July")
SWING_WINTER = _seed(2.5, "K", "half the daily swing of a dry day in January")
SWING_WET = _seed(0.5, "-", "of that swing on a wet day")
WARMEST_HOUR = _seed(15, "h", "warmest hour of the day")
WIND_MEAN = _seed(4.2, "m/s", "mean wind of a day inland, at 10 m")
DRY_DAY_DEW = _recalled(
    1.5, "K", "FAO Irrigation and Drainage Paper 56", "dew point below the least of a dry day"
)
"""On a wet day the dew point is taken at the least temperature itself."""

# a firm's own log
JOBS_LOGGED = _seed(3, "-", "finished jobs after which the firm's own rate is offered")

# the foreman's forecast of the same day
TOLD_RAIN = _seed(0.9, "-", "of days that turn wet in the window, told as such in the morning")
FALSE_ALARM = _seed(0.15, "-", "of windows that stay dry, told as wet in the morning")


@dataclass(frozen=True, slots=True)
class RainClimate:
    """Wet days and rain by month, January first.

    Parameters
    ----------
    name : str
        What part of the country it is like [-].
    wet_days : tuple of float
        Days with 1 mm or more in each month [d].
    rain : tuple of float
        Rain of each month [mm].
    regions : tuple of int
        Regions of SAP that take it [-].
    source, where, basis : str
        How it is known [-].
    """

    name: str
    wet_days: tuple[float, ...]
    rain: tuple[float, ...]
    regions: tuple[int, ...]
    source: str = "long-term averages of weather services, about 1991 to 2020, rounded"
    where: str = "monthly rain and days of 1 mm or more"
    basis: Basis = "from memory"

    def wet_share(self, month: int) -> float:
        """Share of the days of a month, from 1, with 1 mm or more."""
        return self.wet_days[month - 1] / iso_13788.DAYS[month - 1]


# fmt: off
RAIN_CLIMATES = (
    RainClimate("the dry south-east of England",
                (11.5, 9.8, 8.9, 8.8, 8.2, 8.3, 8.0, 8.5, 8.3, 10.5, 11.2, 11.3),
                (57.0, 44.0, 39.0, 43.0, 47.0, 47.0, 46.0, 54.0, 50.0, 66.0, 66.0, 57.0),
                (1, 2, 3, 11, 12)),
    RainClimate("the midlands and the north-east of England",
                (12.8, 10.6, 10.6, 10.6, 10.0, 9.9, 9.8, 10.3, 9.7, 11.8, 12.7, 13.0),
                (73.0, 55.0, 52.0, 58.0, 60.0, 69.0, 66.0, 71.0, 67.0, 83.0, 81.0, 84.0),
                (0, 5, 6, 9, 10, 15, 16)),
    RainClimate("the north-west of England and the south-west",
                (14.2, 11.6, 12.2, 11.0, 10.8, 11.3, 11.6, 12.4, 11.6, 14.0, 15.0, 15.2),
                (84.0, 66.0, 64.0, 60.0, 62.0, 74.0, 77.0, 83.0, 80.0, 97.0, 95.0, 101.0),
                (4, 7, 8, 13, 19, 20, 21)),
    RainClimate("the west of Scotland",
                (18.0, 14.5, 15.0, 12.5, 12.0, 12.5, 14.0, 14.5, 15.0, 17.0, 17.5, 17.5),
                (145.0, 115.0, 105.0, 66.0, 68.0, 70.0, 80.0, 100.0, 110.0, 135.0, 130.0, 150.0),
                (14, 17, 18)),
)
# fmt: on


def rain_climate(region: int) -> RainClimate:
    """Give the rain climate that a region of SAP takes.

    Parameters
    ----------
    region : int
        Region of SAP, 0 for the UK average [-].

    Returns
    -------
    RainClimate
        Wet days and rain by month [-].

    Examples
    --------
    >>> rain_climate(1).name
    'the dry south-east of England'
    """
    return next((c for c in RAIN_CLIMATES if region in c.regions), RAIN_CLIMATES[1])
