"""A year of typical hours from an EPW file: the columns that an open roof cares about."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import NoReturn

from evenfall.errors import InvalidFile, InvalidInput, Mistake
from evenfall.model.forecast import Forecast, Hour

HEAD_LINES = 8  # lines before the hours, in the format
COLUMNS = {"air": 6, "humidity": 8, "wind": 21, "cloud": 22, "rain": 33}  # in the format, from 0
NO_VALUE = {"air": 99.9, "humidity": 999, "wind": 999, "cloud": 99, "rain": 999}  # not measured
ZONE = 8  # cell of the first line, in the format
CITY = 1
TENTHS = 10  # clouds are told in tenths
YEAR = 2001  # any year without a leap day: the months of a typical one are of many years
LEAP_DAY = (2, 29)  # month and day; left out where a file has it
DAYS = 365  # of that year


def read_epw(text: str, name: str) -> Forecast:
    """Read the hours of a typical year; its chance of rain is not told.

    Parameters
    ----------
    text : str
        What stands in the file [-].
    name : str
        Its name, for the mistakes [-].

    Returns
    -------
    Forecast
        8760 hours of one year, in Greenwich time [-].

    Raises
    ------
    InvalidFile
        It is not such a file, lacks hours, or carries no rain.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    if not lines or not lines[0].startswith("LOCATION,") or len(lines) <= HEAD_LINES:
        _refuse(name, 1, "no LOCATION line and hours", "an EPW file")
    place = next(csv.reader([lines[0]]))
    try:
        zone = float(place[ZONE])
    except (IndexError, ValueError):
        _refuse(name, 1, "no time zone in the LOCATION line", "hours from Greenwich in cell 9")
    hours = tuple(_hours(lines[HEAD_LINES:], timedelta(hours=zone), name))
    year = DAYS * 24
    if len(hours) != year:
        _refuse(name, len(lines), f"{len(hours)} hours", f"{year}, a whole year")
    return Forecast(f"{place[CITY]}, a typical year", "typical", tuple(sorted(hours, key=_at)))


def _at(hour: Hour) -> datetime:
    return hour.at


def _hours(lines: list[str], zone: timedelta, name: str) -> Iterator[Hour]:
    rain_told = False
    for number, cells in enumerate(csv.reader(lines), HEAD_LINES + 1):
        if not cells:
            continue
        try:
            _, month, day, hour = (int(c) for c in cells[:4])
            if (month, day) == LEAP_DAY:
                continue
            local = datetime(YEAR, month, day, tzinfo=UTC) + timedelta(hours=hour - 1)
            values = {name: _cell(cells, name) for name in COLUMNS}
            air, wet, wind = (_needed(values[c]) for c in ("air", "humidity", "wind"))
        except (IndexError, ValueError):
            _refuse(name, number, "a line that is no hour", "numbers in all columns")
        rain, cloud = values["rain"], values["cloud"]
        rain_told |= bool(rain)
        at = (local - zone).replace(year=YEAR)
        yield Hour(at, air, min(wet, 100.0), rain or 0.0, wind,
                   cloud_percent=None if cloud is None else cloud * TENTHS)  # fmt: skip
    if not rain_told:
        _refuse(name, HEAD_LINES + 1, "no rain in any hour", "rain in column 34 (mm)",
                "take hours of a weather station instead")  # fmt: skip


def _cell(cells: list[str], name: str) -> float | None:
    value = float(cells[COLUMNS[name]])
    return None if value >= NO_VALUE[name] else value


def _needed(value: float | None) -> float:
    if value is None:
        raise InvalidInput("a missing value", "a number")
    return value


def _refuse(name: str, line: int, found: str, expected: str, do: str = "") -> NoReturn:
    raise InvalidFile(name, (Mistake(line, 1, "", found, expected, do=do),))
