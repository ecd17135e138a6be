"""A number of wind, snow, joists or rain out of its range: value, limit, clause, what to do."""

import pytest
from tests.unit import rooms

from evenfall.app.reading import read_file
from evenfall.errors import InvalidFile, InvalidInput
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.scopes import SCOPES


def refused(tmp_path, example: str, old: str, new: str) -> str:
    """What the command line prints of a file in which one number was changed."""
    text = (rooms.EXAMPLES / example / "job.yaml").read_text(encoding="utf-8")
    assert text.count(old) == 1, old
    file = tmp_path / "job.yaml"
    file.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(InvalidFile) as wrong:
        read_file(file, Job, slips)
    return str(wrong.value)


OUT = [
    ("altitude_m: 74", "altitude_m: 1850", "1850", "at most 1000", "EN 1991-1-3 1.1"),
    ("roof_height_m: 2.46", "roof_height_m: 0", "0", "more than 1", "7.2.3"),
    ("roof_height_m: 2.46", "roof_height_m: 55", "55", "at most 40", "7.2.3"),
    ("map_wind_m_s: 21.9", "map_wind_m_s: 49", "49", "at most 40", "Figure NA.1"),
    ("snow_zone: 2", "snow_zone: 9", "9", "at most 6", "Figure NA.1"),
    ("rain_l_s_m2: 0.0195", "rain_l_s_m2: 75", "75", "at most 0.15", "NB.2"),
    ("spacing_mm: 455", "spacing_mm: 1300", "1300", "at most 1200", "EN 1995-1-1 6.6"),
    ("span_m: 2.84", "span_m: 12", "12", "at most 10", "EN 1995-1-1"),
    ("[1240, 1085, 1310]", "[0, 1085]", "0", "more than 0", "EN 1990 Annex D7.2"),
    ("{side: A-B, width_mm: 112", "{side: A-B, width_mm: 412", "412", "at most 300",
     "EN 12056-3:2000 5.1"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "value", "limit", "clause"), OUT)
def test_a_number_out_of_range_names_value_limit_and_clause(
    tmp_path, old, new, value, limit, clause
):
    told = refused(tmp_path, "garage", old, new)
    assert f": {value}; expected" in told
    assert limit in told
    assert clause in told


def test_a_height_above_the_sea_is_no_slip_of_millimetres(tmp_path):
    told = refused(tmp_path, "garage", "altitude_m: 74", "altitude_m: 1850")
    assert "a structural engineer works it out" in told
    assert "1850 ft" in told
    assert "mm" not in told.partition("expected")[2]


def test_a_parapet_higher_than_the_wall_under_it_names_the_table(tmp_path):
    told = refused(tmp_path, "courtyard", "parapet_height_mm: 412", "parapet_height_mm: 4120")
    assert "4.12 m" in told
    assert "3.64 m" in told
    assert "Table 7.2" in told


@pytest.mark.parametrize(("mm", "said"), [("5120", "at most 5000"), ("0", "more than 0")])
def test_a_parapet_out_of_range_names_the_clauses_of_the_wind(tmp_path, mm, said):
    told = refused(tmp_path, "courtyard", "parapet_height_mm: 412", f"parapet_height_mm: {mm}")
    assert f": {mm}; expected" in told
    assert said in told
    assert "EN 1991-1-4:2005+A1:2010 Table 7.2" in told
    assert "7.2.3" in told


def test_a_change_on_the_desk_is_refused_by_the_same_clause():
    with pytest.raises(InvalidInput, match=r"1850.*1000.*EN 1991-1-3 1\.1.*engineer"):
        apply(rooms.job("garage"), [Change("site.altitude_m", 1850)])


def test_every_clause_is_of_a_key_that_the_job_has():
    def has(model, steps: list[str]) -> bool:
        field = model.model_fields[steps[0]].annotation
        if len(steps) == 1:
            return True
        inner = [a for a in (field, *getattr(field, "__args__", ())) if hasattr(a, "model_fields")]
        return has(inner[0], steps[1:])

    assert all(has(Job, key.split(".")) for key in SCOPES)
