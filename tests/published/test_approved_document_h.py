"""Approved Document H (England, 2015), section 3.

Table 1 from memory, confirmed by 1 + tan(pitch)/2. Table 2: the row of 100 mm published,
second-hand (a textbook chapter), the rest from memory; the gutter formula of EN 12056-3 confirms it
within 1 %.
"""

import pytest

from evenfall.calc.drainage.gutter import half_round_capacity
from evenfall.calc.drainage.run_off import effective_area, pitched_area, run_off_l_s
from evenfall.standards import approved_document_h as ad_h


@pytest.mark.parametrize(
    ("pitch", "factor", "exact"),
    [(0, 1.0, 1.0), (30, 1.29, 1.289), (45, 1.50, 1.500), (60, 1.87, 1.866)],
)
def test_table_1_effective_area(pitch, factor, exact):
    assert ad_h.PITCH_FACTORS[pitch] == factor
    assert effective_area(1.0, pitch).value == pytest.approx(exact, abs=0.0005)
    assert pitched_area(1.0, pitch) == pytest.approx(factor, abs=0.0051)


def test_table_1_walls():
    assert (ad_h.STEEP_DEGREES, ad_h.WALL_FACTOR) == (70, 0.5)


TABLE_2 = [
    (75, 18.0, 50, 0.38, 0.3789),
    (100, 37.0, 63, 0.78, 0.7778),
    (115, 53.0, 63, 1.11, 1.1031),
    (125, 65.0, 75, 1.37, 1.3587),
    (150, 103.0, 89, 2.16, 2.1433),
]


@pytest.mark.parametrize(("gutter", "area", "outlet", "flow", "computed"), TABLE_2)
def test_table_2_rows(gutter, area, outlet, flow, computed):
    row = next(r for r in ad_h.TABLE_2 if r.gutter_mm == gutter)
    assert (row.area, row.outlet_mm, row.flow_l_s) == (area, outlet, flow)


@pytest.mark.parametrize(("gutter", "area", "outlet", "flow", "computed"), TABLE_2)
def test_table_2_flow_is_rain_times_area(gutter, area, outlet, flow, computed):
    assert run_off_l_s(ad_h.RAIN_L_S_M2, area) == pytest.approx(flow, abs=0.0051)


@pytest.mark.parametrize(("gutter", "area", "outlet", "flow", "computed"), TABLE_2)
def test_table_2_and_the_gutter_formula_confirm_each_other(gutter, area, outlet, flow, computed):
    found = half_round_capacity(gutter, 1.5).value
    assert found == pytest.approx(computed, abs=0.00005)
    assert found == pytest.approx(flow, rel=0.01)


def test_only_the_100_mm_row_was_seen():
    seen = [row.gutter_mm for row in ad_h.TABLE_2 if row.area.basis == "published, second-hand"]
    assert seen == [100]


def test_100_m2_need_a_150_mm_gutter():
    least = next(row for row in ad_h.TABLE_2 if row.area >= 100)
    assert (least.gutter_mm, least.outlet_mm) == (150, pytest.approx(90, abs=1))


def test_roofs_above_6_m2_are_drained():
    assert (ad_h.NO_GUTTER_AREA, ad_h.DRAINED_AREA) == (6, 6)
    assert ad_h.DRAINED_AREA.basis == "published"
    assert ad_h.NO_GUTTER_AREA.basis == "from memory"
