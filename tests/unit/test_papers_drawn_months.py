"""The year as a chart, and the wind zones: what is drawn is what was worked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.papers import NAMES, worked
from tests.unit.test_papers_drawings import items, said

from evenfall.drawing import Area, Line, to_svg
from evenfall.stages.papers.drawings import draw_months, draw_zones
from evenfall.stages.papers.drawn_months import HIGH
from evenfall.working import Table


@pytest.mark.parametrize("name", NAMES)
def test_a_dry_year_is_two_curves_that_never_cross(name: str) -> None:
    job = worked(name)
    assert job.moisture.verdict == "a"
    drawn = draw_months(job)
    most, there = [x.points for x in items(drawn, "values") if isinstance(x, Line)]
    assert len(most) == len(there) == 12
    assert all(a[1] > b[1] for a, b in zip(most, there, strict=True))
    rows = job.moisture.months.rows
    ratio = [b[1] / a[1] for a, b in zip(most, there, strict=True)]
    assert ratio == pytest.approx([row[2] / row[3] for row in rows])  # type: ignore[operator]
    looks = {x.dash for x in items(drawn, "values") if isinstance(x, Line)}
    assert len(looks) == 2  # told apart without colour
    assert "no room" not in to_svg(drawn, None, "print")


def test_a_wet_year_has_a_bar_for_each_month_that_holds_water() -> None:
    job = worked("garage")
    held = (0.0, 0.004, 0.021, 0.013, 0.0, 0.0)
    rows = tuple((f"M{n}", 0.001, v) for n, v in enumerate(held))
    table = Table("Condensation by month", (("month", "-"), ("g_c sheet", "kg/m2"),
                  ("M_a sheet", "kg/m2")), rows, "us", "measured")  # fmt: skip
    wet = replace(job, moisture=replace(job.moisture, months=table))
    bars = [x.rings[0] for x in items(draw_months(wet), "values") if isinstance(x, Area)]
    heights = [max(y for _, y in ring) for ring in bars]
    assert heights == pytest.approx([HIGH * v / (0.021 * 1.06) for v in held if v])
    assert "Most in M2: 21 g/m²" in draw_months(wet).alt


@pytest.mark.parametrize("name", NAMES)
def test_every_wind_zone_is_lettered_with_its_worst_pull(name: str) -> None:
    job = worked(name)
    text = said(draw_zones(job))
    for z in job.wind.zones:
        if z.area_m2 > 0.25:
            assert f"{z.zone} {-z.pressure.value / 1000:.2f}" in text
