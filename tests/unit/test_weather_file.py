"""Weather files: what is read, and every mistake told with its line and what to do."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from tests.unit.skies import HEAD, csv, line

from evenfall.errors import InvalidFile
from evenfall.stages.weather.epw import read_epw
from evenfall.stages.weather.reading import read_csv

SEVEN, EIGHT = line("2027-04-12T07:00+01:00"), line("2027-04-12T08:00+01:00")


def mistakes(text: str) -> list[str]:
    with pytest.raises(InvalidFile) as caught:
        read_csv(text, "sky.csv")
    return str(caught.value).splitlines()


def test_a_forecast_is_read_in_greenwich_time():
    read = read_csv(csv(SEVEN, EIGHT), "sky.csv")
    assert read.hours[0].at == datetime(2027, 4, 12, 6, tzinfo=UTC)
    assert (read.hours[1].air_c, read.hours[1].chance_percent) == (7.5, 10)
    assert (read.source, read.kind) == ("made up", "forecast")
    assert read.issued == datetime(2027, 4, 12, 4, 40, tzinfo=UTC)


def test_hours_without_a_chance_of_rain_are_hours_as_they_were():
    head = HEAD.removesuffix(",chance_percent")
    rows = [row.removesuffix(",10") for row in (SEVEN, EIGHT)]
    assert read_csv(csv(*rows, head=head), "past.csv").kind == "hours"


def test_the_sky_may_be_told_in_words():
    head, rows = HEAD + ",sky", (SEVEN + ",clear", EIGHT + ",part")
    read = read_csv(csv(*rows, head=head), "sky.csv")
    assert [h.cloud_percent for h in read.hours] == [0, 50]


@pytest.mark.parametrize(
    ("column", "unit", "do"),
    [
        ("wind_knots", "knots", "times 0.514"),
        ("wind_kt", "knots", "times 0.514"),
        ("wind_mph", "miles an hour", "times 0.447"),
        ("gust_km_h", "km an hour", "divided by 3.6"),
        ("air_f", "Fahrenheit", "(F - 32) / 1.8"),
        ("rain_in", "inches", "times 25.4"),
        ("cloud_okta", "oktas", "times 12.5"),
    ],
)
def test_a_column_in_another_unit_is_refused_with_what_to_do(column, unit, do):
    (said,) = mistakes(csv(SEVEN + ",1", head=f"{HEAD},{column}"))
    assert f"sky.csv:3:1: {column}: a column in {unit}" in said
    assert do in said


def test_an_unknown_column_is_told_with_the_nearest():
    (said,) = mistakes(csv(SEVEN + ",1", head=f"{HEAD},cloudiness"))
    assert '"cloud_percent"' in said


def test_a_missing_column_is_told():
    (said,) = mistakes(
        csv("2027-04-12T07:00Z,7,80,0", head="time,air_c,humidity_percent,rain_mm_h")
    )
    assert "wind_m_s: no such column" in said


def test_a_time_without_a_zone_is_refused():
    (said,) = mistakes(csv(line("2027-04-12T07:00")))
    assert "sky.csv:4:1: time" in said
    assert "no zone" in said
    assert "+01:00 in summer" in said


def test_a_zone_of_elsewhere_is_refused():
    (said,) = mistakes(csv(line("2027-04-12T07:00+02:00")))
    assert "not the zone of this country" in said


def test_summer_time_in_winter_is_refused():
    (said,) = mistakes(csv(line("2027-01-12T07:00+01:00"), issued="2027-01-12T05:00Z"))
    assert "expected +00:00 or Z that day" in said


def test_a_wrong_zone_in_every_line_is_told_three_times_and_counted():
    rows = [line(f"2027-04-12T{h:02d}:00-05:00") for h in range(6, 17)]
    with pytest.raises(InvalidFile) as found:
        read_csv(csv(*rows), "sky.csv")
    said = str(found.value).splitlines()
    assert len(said) == 3
    assert "(and 8 more lines like it)" in said[-1]


def test_a_gap_is_told_with_its_length():
    (said,) = mistakes(csv(SEVEN, line("2027-04-12T11:00+01:00")))
    assert "sky.csv:5" in said
    assert "3 hours are missing after 12 Apr 06:00Z" in said


def test_the_doubled_hour_when_clocks_go_back_is_told_with_how_to_write_it():
    (said,) = mistakes(csv(*[line(f"2027-10-31T0{h}:00+01:00") for h in (0, 1, 1)]))
    assert "a second time" in said
    assert "write 01:00+01:00, then 01:00+00:00" in said


def test_summer_time_after_the_clocks_went_back_is_refused():
    (said,) = mistakes(csv(line("2027-10-31T02:00+01:00")))
    assert "expected +00:00 or Z that day" in said


def test_the_doubled_hour_written_with_its_zones_is_read():
    rows = [line(t) for t in ("2027-10-31T00:00+01:00", "2027-10-31T01:00+01:00",
                              "2027-10-31T01:00+00:00", "2027-10-31T02:00+00:00")]  # fmt: skip
    assert len(read_csv(csv(*rows), "sky.csv").hours) == 4


def test_the_hour_that_spring_takes_away_is_no_gap():
    rows = [line(t) for t in ("2027-03-28T00:00+00:00", "2027-03-28T02:00+01:00")]
    assert len(read_csv(csv(*rows), "sky.csv").hours) == 2


def test_an_hour_told_twice_is_refused():
    (said,) = mistakes(csv(SEVEN, SEVEN))
    assert "a second time" in said


def test_hours_that_go_back_are_refused():
    (said,) = mistakes(csv(EIGHT, SEVEN))
    assert "after a later hour" in said


@pytest.mark.parametrize(
    ("rest", "said"),
    [
        ("7,5,71,0,3.1,10", "7 cells"),
        ('"7,5",71,0,3.1,10', "write a point for the decimals"),
        ("7.5,120,0,3.1,10", "1 to 100"),
        ("7.5,71,-1,3.1,10", "0 to 150"),
        ("7.5,71,0,99,10", "look at its unit"),
        ("7.5,71,0,3.1,101", "0 to 100"),
        ("warm,71,0,3.1,10", "write the number alone"),
        (",71,0,3.1,10", "an empty cell"),
        ("nan,71,0,3.1,10", "nan"),
    ],
)
def test_a_wrong_cell_is_told_with_what_was_expected(rest, said):
    found = mistakes(csv(line("2027-04-12T07:00Z", rest)))
    assert len(found) == 1
    assert said in found[0]


def test_gusts_below_the_mean_wind_are_refused():
    (said,) = mistakes(csv(SEVEN + ",2.2", head=f"{HEAD},gust_m_s"))
    assert "no less than the mean 3.1" in said


def test_all_mistakes_are_told_at_once():
    found = mistakes(csv(line("07:00"), line("2027-04-12T08:30Z"), line("2027-04-12T09:00Z", "x")))
    assert len(found) == 3


def test_an_empty_file_and_heads_without_hours_are_refused():
    assert "no line of heads" in mistakes("")[0]
    assert "heads without hours" in mistakes(HEAD + "\n")[0]


def epw(change=lambda cells, n: cells, hours: int = 8760, zone: str = "0.0") -> str:
    """A year of an EPW file: cold at night, wet every Tuesday noon."""
    head = [f"LOCATION,Nowhere,-,ENG,made up,000000,52.4,-1.9,{zone},100.0", *["HEAD"] * 7]
    rows = []
    for n in range(hours):
        at = datetime(2001, 1, 1) + timedelta(hours=n)
        cells = [str(v) for v in (1998, at.month, at.day, at.hour + 1, 0)] + ["?"] + ["0"] * 29
        cells[6], cells[8], cells[21], cells[22] = f"{4 + at.month % 12:.1f}", "80", "3.3", "5"
        cells[33] = "1.2" if at.weekday() == 1 and at.hour == 12 else "0.0"
        rows.append(",".join(change(cells, n)))
    return "\n".join([*head, *rows])


def test_a_year_of_an_epw_file_is_read():
    read = read_epw(epw(), "place.epw")
    assert (len(read.hours), read.kind) == (8760, "typical")
    assert read.hours[0].at == datetime(2001, 1, 1, tzinfo=UTC)
    assert read.hours[36].rain_mm == 1.2
    assert read.hours[5].cloud_percent == 50


def test_hours_of_another_zone_are_turned_to_greenwich():
    read = read_epw(epw(zone="1.0"), "place.epw")
    wet = [h.at.hour for h in read.hours if h.rain_mm]
    assert set(wet) == {11}


def missing(cells, n):
    return [*cells[:6], "99.9", *cells[7:]] if n == 17 else cells


def rainless(cells, n):
    return [*cells[:33], "0.0", *cells[34:]]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no LOCATION line"),
        (epw(hours=100), "100 hours"),
        (epw(missing), "place.epw:26:1"),
        (epw(rainless), "no rain in any hour"),
        (epw(zone="?"), "no time zone"),
    ],
    ids=["empty", "short", "missing", "rainless", "zone"],
)
def test_an_epw_file_that_cannot_serve_is_refused(text, said):
    with pytest.raises(InvalidFile, match=said):
        read_epw(text, "place.epw")
