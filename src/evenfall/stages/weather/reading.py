"""A weather file read: CSV by the hour, every mistake told with its line; see docs/forecast.md."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from evenfall.calc.daylight import clock_before_greenwich
from evenfall.errors import InvalidFile, Mistake
from evenfall.model.forecast import ONE_HOUR, Forecast, Hour, Kind
from evenfall.stages.weather.columns import COLUMNS, NAMES, SKIES, SKY, TIME, other_unit

ALIKE = 3
"""Mistakes of one kind that are told one by one: a wrong zone stands in every line."""
MOST = 40
"""Mistakes that are told of one file; nobody reads more."""
LINES = 400_000  # more than forty years of hours
WHEN = "a time with its zone, such as 2027-04-12T07:00+01:00 or 2027-04-12T06:00Z"


@dataclass(slots=True)
class _Found:
    """What has been read so far."""

    mistakes: list[Mistake] = field(default_factory=list)
    hours: list[tuple[int, Hour]] = field(default_factory=list)
    source: str = ""
    issued: datetime | None = None

    def tell(self, line: int, path: str, found: str, expected: str, do: str = "") -> None:
        self.mistakes.append(Mistake(line, 1, path, found, expected, do=do))


def read_csv(text: str, name: str) -> Forecast:
    """Read hours from a text.

    Parameters
    ----------
    text : str
        What stands in the file [-].
    name : str
        Its name, for the mistakes [-].

    Returns
    -------
    Forecast
        A forecast where the chance of rain is told, else hours as they were [-].

    Raises
    ------
    InvalidFile
        With every mistake: heads, units, zones, gaps, hours told twice.

    Examples
    --------
    >>> text = '''# issued: 2027-04-12T05:40+01:00
    ... time,air_c,humidity_percent,rain_mm_h,wind_m_s,chance_percent
    ... 2027-04-12T06:00+01:00,6.1,84,0,2.4,10
    ... 2027-04-12T07:00+01:00,7.0,80,0.2,2.9,35
    ... '''
    >>> read = read_csv(text, "sky.csv")
    >>> len(read.hours), read.kind, f"{read.issued:%H:%M}"
    (2, 'forecast', '04:40')
    """
    found = _Found()
    rows = list(_rows(text.removeprefix("\ufeff").splitlines()[:LINES], found))
    if rows and _heads_fit(rows[0], found):
        heads = [h.strip() for h in rows[0][1]]
        for line, cells in rows[1:]:
            _hour(line, cells, heads, found)
        if not found.mistakes:
            _in_a_row(found)
    if not rows:
        found.tell(1, "", "no line of heads", f"the heads {', '.join(NAMES[:5])} ...")
    elif not found.hours and not found.mistakes:
        found.tell(rows[0][0], "", "heads without hours", "a line for each hour")
    if found.mistakes:
        raise InvalidFile(name, tuple(_fewer(sorted(found.mistakes))[:MOST]))
    hours = tuple(h for _, h in found.hours)
    kind: Kind = "forecast" if all(h.chance_percent is not None for h in hours) else "hours"
    return Forecast(found.source or name, kind, hours, found.issued)


def _fewer(mistakes: list[Mistake]) -> list[Mistake]:
    """Tell the first mistakes of a kind, and at the last of them how many more there are."""
    kinds: dict[tuple[str, str, str], list[Mistake]] = {}
    for m in mistakes:
        kinds.setdefault((m.path, m.expected, m.do), []).append(m)
    told = []
    for alike in kinds.values():
        *first, last = alike[:ALIKE]
        more = len(alike) - ALIKE
        if more > 0:
            last = replace(last, found=f"{last.found} (and {more} more lines like it)")
        told += [*first, last]
    return sorted(told)


def _rows(lines: list[str], found: _Found) -> Iterator[tuple[int, list[str]]]:
    """Yield each line with its number; comments may say the source and when it was issued."""
    for line, text in enumerate(lines, 1):
        if text.lstrip().startswith("#"):
            key, _, told = text.lstrip("# ").partition(":")
            if key.strip() == "source":
                found.source = told.strip()
            elif key.strip() == "issued":
                found.issued = _time(line, "issued", told.strip(), found)
        elif text.strip():
            yield line, next(csv.reader([text]))


def _heads_fit(row: tuple[int, list[str]], found: _Found) -> bool:
    line, heads = row[0], [h.strip() for h in row[1]]
    for head in heads:
        unit, do = other_unit(head)
        if unit:
            taken = "m/s" if do.endswith("second") else "another unit"
            found.tell(line, head, f"a column in {unit}", f"the same in {taken}", do)
        elif head not in NAMES:
            stem = head.partition("_")[0].lower()
            near = next((n for n in NAMES if n.startswith(stem[:4]) and stem), "")
            do = f'call it "{near}" if it is that, else leave it out' if near else "leave it out"
            found.tell(line, head, "a column of no known name", f"of {', '.join(NAMES)}", do)
        elif heads.count(head) > 1:
            found.tell(line, head, "a column twice", "it once")
    for name in (TIME, *(c.name for c in COLUMNS if c.needed)):
        if name not in heads and not found.mistakes:
            found.tell(line, name, "no such column", f"the heads {', '.join(NAMES)}")
    return not found.mistakes


def _hour(line: int, cells: list[str], heads: list[str], found: _Found) -> None:
    """Read one line."""
    if len(cells) != len(heads):
        found.tell(line, "", f"{len(cells)} cells", f"{len(heads)}, one under each head")
        return
    said = dict(zip(heads, (c.strip() for c in cells), strict=True))
    before = len(found.mistakes)
    at = _time(line, TIME, said[TIME], found)
    if at is not None and (at.minute or at.second):
        found.tell(line, TIME, f"{said[TIME]}", "a full hour")
    values = {c.name: _number(line, c.name, said.get(c.name, ""), found) for c in COLUMNS}
    cloud = values["cloud_percent"]
    if said.get(SKY):
        if said[SKY] not in SKIES:
            found.tell(line, SKY, f'"{said[SKY]}"', f"one of {', '.join(SKIES)}")
        cloud = SKIES.get(said[SKY])
    gust, mean = values["gust_m_s"], values["wind_m_s"]
    if gust is not None and mean is not None and gust < mean:
        found.tell(line, "gust_m_s", f"gusts of {gust:g} m/s", f"no less than the mean {mean:g}")
    if len(found.mistakes) > before or at is None:
        return
    air, wet, rain, wind = (values[c.name] or 0.0 for c in COLUMNS if c.needed)
    hour = Hour(at, air, wet, rain, wind, values["chance_percent"], gust, cloud)
    found.hours.append((line, hour))


def _number(line: int, name: str, text: str, found: _Found) -> float | None:
    column = next(c for c in COLUMNS if c.name == name)
    if not text:
        if column.needed:
            found.tell(line, name, "an empty cell", column.says)
        return None
    try:
        value = float(text)
    except ValueError:
        do = "write a point for the decimals" if "," in text else "write the number alone"
        found.tell(line, name, f'"{text}"', column.says, do)
        return None
    if not column.low <= value <= column.high:
        span = f"{column.says}, {column.low:g} to {column.high:g}"
        found.tell(line, name, f"{text}", span, "look at its unit")
        return None
    return value


def _time(line: int, path: str, text: str, found: _Found) -> datetime | None:
    """Read a time; it must say its zone, and that is Greenwich or the clock of the day."""
    try:
        told = datetime.fromisoformat(text)
    except ValueError:
        found.tell(line, path, f'"{text}"', WHEN)
        return None
    offset = told.utcoffset()
    if offset is None:
        found.tell(line, path, f'"{text}", which has no zone', WHEN,
                   "add the zone: +01:00 in summer, +00:00 in winter, or Z")  # fmt: skip
        return None
    at = told.astimezone(UTC)
    clock = timedelta(hours=clock_at(at))
    if offset not in (timedelta(0), clock):
        here = "+01:00" if clock else "+00:00"
        found.tell(line, path, f'"{text}", not the zone of this country', f"{here} or Z that day",
                   "ask whether the forecast is for here")  # fmt: skip
        return None
    return at


def clock_at(at: datetime) -> float:
    """How far the clock of the United Kingdom is before Greenwich, at an instant.

    Parameters
    ----------
    at : datetime
        A time of Greenwich; the clock changes at 1 o'clock there [-].

    Returns
    -------
    float
        One in summer, else nought [h].

    Examples
    --------
    >>> [clock_at(datetime(2027, 10, 31, h, tzinfo=UTC)) for h in (0, 1)]
    [1.0, 0.0]
    """
    return clock_before_greenwich((at - ONE_HOUR).date())


def _in_a_row(found: _Found) -> None:
    """Find gaps, hours told twice, and hours that go back."""
    for (_, one), (line, two) in pairwise(found.hours):
        step = two.at - one.at
        if step == timedelta(0):
            found.tell(line, TIME, f"{one.at:%d %b %H:%M}Z a second time", "each hour once",
                       "where the clocks go back write 01:00+01:00, then 01:00+00:00")  # fmt: skip
        elif step < timedelta(0):
            found.tell(line, TIME, f"{two.at:%d %b %H:%M}Z after a later hour", "hours in a row")
        elif step > ONE_HOUR:
            gone = step // ONE_HOUR - 1
            hours = "hour is" if gone == 1 else "hours are"
            found.tell(line, TIME, f"{gone} {hours} missing after {one.at:%d %b %H:%M}Z",
                       "hours without a gap", "ask for the forecast again")  # fmt: skip
