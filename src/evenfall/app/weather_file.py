"""Weather files from the disk: an hourly forecast, or years of hours."""

from __future__ import annotations

from pathlib import Path

from evenfall.errors import InvalidFile, Mistake
from evenfall.model.forecast import Forecast
from evenfall.weather import read_weather

LARGEST = 40_000_000
"""Bytes: more than forty years of hours."""


def read_weather_file(path: Path) -> Forecast:
    """Read a weather file.

    Parameters
    ----------
    path : Path
        A CSV or EPW file [-].

    Returns
    -------
    Forecast
        Its hours [-].

    Raises
    ------
    InvalidFile
        The file cannot be read, or with every mistake in it.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        found = f"a file that cannot be opened ({error.strerror})"
        raise InvalidFile(str(path), (Mistake(1, 1, "", found, "a weather file"),)) from None
    if len(raw) > LARGEST:
        too_long = Mistake(1, 1, "", f"more than {LARGEST:,} bytes", "a weather file")
        raise InvalidFile(str(path), (too_long,))
    try:
        return read_weather(raw.decode("utf-8-sig"), str(path))
    except UnicodeDecodeError:
        wrong = Mistake(1, 1, "", "signs that are not UTF-8", "text", do="save it as UTF-8")
        raise InvalidFile(str(path), (wrong,)) from None
