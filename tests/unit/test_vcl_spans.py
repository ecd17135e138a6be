"""What the VCL spans, what it is laid round, and the roof mirrored."""

from dataclasses import replace

import pytest
from shapely.geometry import Polygon
from tests.unit import plans, rooms
from tests.unit.plans import codes

from evenfall.calc.layout.packs import need_at_worse_coverage
from evenfall.calc.layout.rolls import kerb_strips, plan_rolls
from evenfall.calc.layout.sheet import plan_sheet
from evenfall.errors import InvalidInput
from evenfall.stages.takeoff import rolls
from evenfall.standards import vcl_practice

VCL = plans.build(plans.job()).vcl
STRONG = replace(VCL, name="strong", bridges_mm=float(vcl_practice.GAP_STRONG_MM))
BOASTING = replace(VCL, name="boasting", bridges_mm=150.0)
DECK = plans.job().survey.deck
HOLE = ((2000, 1000), (3200, 1000), (3200, 1900), (2000, 1900))
ROOF = ((0, 0), (6200, 0), (6200, 4100), (3300, 5200), (0, 4400))
ROLL = (1080, 20000)


def told(vcl, gap_mm, sold_mm=90.0):
    deck = DECK.model_copy(update={"widest_gap_mm": gap_mm})
    return rolls.work(plans.plan(), plans.falls(), vcl, 140, deck, "demo", sold_mm)


@pytest.mark.parametrize(
    ("gap_mm", "sold_mm", "ends"),
    [(60, 90.0, "VCL, or take the one that spans 90 mm."), (140, 90.0, "VCL; none sold spans it."),
     (90, 90.0, "spans 90 mm."), (91, 90.0, "none sold spans it.")],
)  # fmt: skip
def test_another_vcl_is_named_only_where_one_that_is_sold_spans_the_gap(gap_mm, sold_mm, ends):
    [finding] = told(VCL, gap_mm, sold_mm).findings
    assert finding.remedy.says.endswith(ends)


@pytest.mark.parametrize("gap_mm", [8, 60, 125, 140])
@pytest.mark.parametrize("name", ["bitumen-aluminium", "bitumen-plain", "aluminium-polythene"])
def test_a_gap_is_patched_and_priced_where_the_kind_does_not_span_it(name, gap_mm):
    stock = next(v for v in rooms.demo_rates().vcls if v.name == name)
    found = told(replace(VCL, name=name, bridges_mm=stock.bridges_mm), gap_mm)
    spans = gap_mm <= stock.bridges_mm
    assert ("vcl-gap" in codes(found.findings)) is not spans
    assert (found.patch is None) is spans
    if found.patch:
        assert found.patch.value == pytest.approx(6.2 * 0.3)


def test_each_kind_of_the_rates_spans_as_far_as_its_kind_can():
    """8, 60, 125 and 140 mm: the strong one stops at 125, the ordinary ones at 10 or before."""
    spans = {v.name: v.bridges_mm for v in rooms.demo_rates().vcls}
    held = {name: [gap for gap in (8, 60, 125, 140) if gap <= mm] for name, mm in spans.items()}
    assert held == {
        "bitumen-aluminium": [8, 60, 125], "bitumen-plain": [8], "aluminium-polythene": [],
        "polythene": [],
    }  # fmt: skip
    assert max(spans.values()) == vcl_practice.GAP_STRONG_MM
    assert all(mm <= vcl_practice.GAP_MOST_MM for n, mm in spans.items() if "aluminium" not in n)


@pytest.mark.parametrize(("gap_mm", "codes_told"), [(8, []), (60, []), (125, []),
                                                    (140, ["vcl-gap"])])  # fmt: skip
def test_a_strong_reinforced_kind_spans_125(gap_mm, codes_told):
    assert codes(told(STRONG, gap_mm).findings) == codes_told


def test_a_span_beyond_any_strong_kind_is_doubted():
    assert codes(told(BOASTING, 140).findings) == ["vcl-span-doubtful"]


def test_strips_stop_at_an_opening_as_wide_as_they_are():
    wide = ((2000, 700), (3200, 700), (3200, 2000), (2000, 2000))
    plain = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1))
    cut = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=[wide])
    assert len(cut.pieces) > len(plain.pieces)
    assert plain.net_area_mm2 - cut.net_area_mm2 == 1200 * 1300


def test_each_side_of_a_kerb_has_a_strip_up_it_and_out_onto_the_roof():
    found = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=[HOLE])
    assert [s.lap for s in found.kerb_strips] == [s.lap for s in kerb_strips([HOLE], 200, 80)]
    assert [s.width_mm for s in found.kerb_strips] == [280] * 4
    assert sorted(s.length_mm for s in found.kerb_strips) == [1060, 1060, 1360, 1360]


def test_the_strip_on_the_high_side_of_a_kerb_is_laid_before_the_piece_above_it():
    found = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=[HOLE])
    under = [s.lap for s in found.kerb_strips if s.goes_under]
    assert under == [((2080 + 1200, 1900), (1920, 1900), (1920, 1980), (3280, 1980))]


def test_the_rest_of_an_earlier_roll_gives_kerb_strips_too():
    """The first roll has 940 mm left, too short to be laid."""
    found = plan_rolls(ROOF, 200, (1080, 7500), (1, 0), (0, -1), holes=[HOLE])
    assert min(s.roll for s in found.kerb_strips) == 1


def test_kerb_strips_that_do_not_fit_the_rest_take_another_roll():
    many = [tuple((x + 1000 * (i % 5), y + 1000 * (i // 5)) for x, y in
                  ((100, 100), (900, 100), (900, 900), (100, 900))) for i in range(15)]  # fmt: skip
    few = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1))
    assert plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=many).rolls > few.rolls


def test_an_opening_that_touches_an_edge_cuts_into_it():
    corner = ((0, 0), (900, 0), (900, 700), (0, 700))
    found = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=[corner])
    assert found.net_area_mm2 > Polygon(ROOF).area - 900 * 700


def test_openings_that_leave_no_roof_are_refused():
    whole = ((-500, -500), (7000, -500), (7000, 6000), (-500, 6000))
    with pytest.raises(InvalidInput, match="no roof"):
        plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=[whole])


def test_a_kerb_that_no_strip_of_the_roll_goes_up_is_refused():
    with pytest.raises(InvalidInput, match="kerb strip"):
        plan_rolls(ROOF, 1100, ROLL, (1, 0), (0, -1), holes=[HOLE])


def test_a_mirrored_roof_takes_the_same_sheet_and_the_same_vcl():
    mirrored = tuple((-x, y) for x, y in reversed(ROOF))
    hole = tuple((-x, y) for x, y in reversed(HOLE))
    stock = [(3050, 15000, 100, 1150, 1.4), (6100, 15000, 100, 1150, 1.4)]
    extra = (150, 240, 250, 250, 240)
    back = (extra[3], extra[2], extra[1], extra[0], extra[4])
    a = plan_sheet(ROOF, extra, 7, stock, downhill=(0, -1), upstands=[(1400, 250)]).chosen
    b = plan_sheet(mirrored, back, 7, stock, downhill=(0, -1), upstands=[(1400, 250)]).chosen
    assert (a.area_mm2, a.cost_pence, a.seam_mm) == (b.area_mm2, b.cost_pence, b.seam_mm)
    c = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), holes=[HOLE])
    d = plan_rolls(mirrored, 200, ROLL, (1, 0), (0, -1), holes=[hole])
    assert c.rolls == d.rolls
    assert [s.length_mm for s in c.kerb_strips] == [s.length_mm for s in d.kerb_strips]
    assert c.laid_area_mm2 == pytest.approx(d.laid_area_mm2, rel=1e-3)  # whole millimetres


@pytest.mark.parametrize("coverages", [[0.0], [2.0, 0.0], []])
def test_a_coverage_of_nought_is_refused(coverages):
    with pytest.raises(InvalidInput, match="above 0"):
        need_at_worse_coverage(10.0, coverages)
