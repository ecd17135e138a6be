"""Overflows, blocked outlets, stock gutters, rain by category and how gutters hang."""

import pytest
from tests.unit import plans, rooms

from evenfall.errors import InvalidInput
from evenfall.model.drained import Gutter, NewGutter, Overflow
from evenfall.model.job import Height
from evenfall.model.surveyed import Plan, Slope
from evenfall.stages.design import blocked, rain, water
from evenfall.stages.design.gutters import Size, Stock, check_gutter
from evenfall.stages.design.hanging import Wanted
from evenfall.stages.design.shedding import Shed
from evenfall.working import measured

SOUTH = (0.0, -1.0)
RAIN = measured(0.021, "l/(s m2)", "site.rain_l_s_m2")
OLD = Gutter(
    side="A-B", width_mm=100, fall_mm_per_m=0, outlet_at="end", outlet_mm=63,
    top_below_covering_mm=20, pipe_mm=63, pipe_length_m=3,
)  # fmt: skip
SLOT = Overflow(name="spout", side="A-B", along_m=3.0, width_mm=200, height_mm=50,
                sill_above_roof_mm=30)  # fmt: skip


def shut(*outlets) -> Plan:
    """Parapets on three sides of 6.2 x 4.1 m and a wall of 3 m behind."""
    drains = outlets or (plans.outlet("drain", 3.0, 0.2),)
    shape = plans.plan(kinds=("parapet", "parapet", "wall", "parapet"), openings=drains)
    sides = tuple(
        type(s)(s.id, s.name, s.kind, s.a, s.b, s.length_m, s.outwards, 0.0, s.wall_height_m,
                s.boundary_m, 400.0 if s.kind == "parapet" else 0.0)
        for s in shape.sides
    )  # fmt: skip
    return type(shape)(**{
        f: getattr(shape, f) for f in shape.__slots__ if f != "sides"
    }, sides=sides)  # fmt: skip


def door(above_mm: float) -> Height:
    return Height(
        name="door", kind="threshold", side="C-D", along_m=2.0, above_covering_mm=above_mm
    )


def lie(*heights: Height, up_mm: float = 120.0) -> blocked.Lie:
    """The old roof falls 25 mm/m to A-B; the new one lies evenly on it."""
    return blocked.Lie(Slope(0.0, 0.0, 25.0), plans.falls(), up_mm, 75.0, heights)


def worked(plan: Plan, *slots: Overflow, at: blocked.Lie | None = None):
    wanted = Wanted(overflows=slots, lie=at or lie())
    return water.work(0.021, (), plan, SOUTH, 25.0, 120.0, wanted)


def test_with_no_overflow_the_water_stands_to_the_rim():
    """Parapets 400 over the old felt, the roof 120 higher: 280 deep at the low side."""
    found = worked(shut())
    assert found.blocked is not None
    assert found.blocked.depth.value == pytest.approx(0.280)
    assert found.blocked.load.value == pytest.approx(0.280 * 9810)
    assert found.blocked.reach_m == pytest.approx(4.1)
    assert "280 mm deep" in plans.one(found.findings, "overflow-missing").says


def test_a_door_lower_than_the_rim_is_where_the_water_goes():
    """The door is 250 over felt that lies 102.5 above the low side; the roof rose 120."""
    found = worked(shut(), at=lie(door(150)))
    assert found.blocked is not None
    assert found.blocked.stops_at == "door"
    assert found.blocked.depth.value == pytest.approx((102.5 + 150 - 120) / 1000)


def test_an_overflow_bounds_the_depth_by_the_head_that_the_rain_needs():
    """0.729 l/s over 200 mm: h = (0.729 x 24000 / 200)^(2/3) = 19.7 mm above its sill of 30."""
    found = worked(shut(), SLOT)
    assert found.blocked is not None
    h = (0.021 * 34.72 * 24000 / 200) ** (2 / 3)
    assert found.blocked.depth.value * 1000 == pytest.approx(30 + h, abs=0.01)
    assert found.blocked.reach_m == pytest.approx((30 + h) / 25, abs=0.01)
    codes = plans.codes(found.findings)
    assert "blocked-depth" in codes
    assert not {"overflow-missing", "overflow-small", "outlet-alone", "overflow-late"} & set(codes)


def test_a_wedge_of_water_is_what_the_joists_get():
    """Its reach is the depth over the fall; less than the whole roof."""
    held = worked(shut(), SLOT).blocked
    assert held is not None
    assert held.reach_m < 4.1


@pytest.mark.parametrize(("width", "small"), [(66, False), (65, True)])
def test_an_overflow_too_small_for_the_rain_is_stopped_and_cured(width, small):
    """66 mm at 41.3 mm of head carry 0.73 l/s."""
    slot = SLOT.model_copy(update={"width_mm": float(width), "height_mm": 41.3})
    found = worked(shut(), slot)
    assert ("overflow-small" in plans.codes(found.findings)) is small
    if small:
        told = plans.one(found.findings, "overflow-small")
        assert told.remedy is not None
        wider = slot.model_copy(update={"width_mm": told.remedy.changes[0].value})
        assert "overflow-small" not in plans.codes(worked(shut(), wider).findings)


def test_an_overflow_whose_water_stands_at_the_door_is_stopped_and_cured_by_a_lower_sill():
    high = SLOT.model_copy(update={"sill_above_roof_mm": 90.0})
    found = worked(shut(), high, at=lie(door(150)))  # the door is 132.5 above the low side
    told = plans.one(found.findings, "overflow-late")
    assert told.level == "stop"
    assert told.remedy is not None
    low = high.model_copy(update={"sill_above_roof_mm": told.remedy.changes[0].value})
    mended = worked(shut(), low, at=lie(door(150)))
    assert "overflow-late" not in plans.codes(mended.findings)


def test_the_proposed_overflow_passes_every_check():
    told = plans.one(worked(shut(), at=lie(door(150))).findings, "overflow-missing")
    assert told.remedy is not None
    slot = Overflow.model_validate(told.remedy.changes[0].value[0])
    codes = plans.codes(worked(shut(), slot, at=lie(door(150))).findings)
    assert not {"overflow-missing", "overflow-small", "overflow-late", "outlet-alone"} & set(codes)


def test_where_no_slot_fits_under_the_door_a_second_outlet_is_asked_for():
    told = plans.one(worked(shut(), at=lie(door(50))).findings, "overflow-missing")
    assert told.remedy is not None
    assert not told.remedy.changes
    assert "second outlet" in told.remedy.says


def test_an_open_eaves_holds_no_water():
    assert worked(plans.plan(openings=(plans.outlet("drain", 3.0, 0.2),))).blocked is None


def test_an_old_overflow_buried_by_the_boards_is_none():
    old = Height(name="hole", kind="overflow", side="A-B", along_m=3.0, above_covering_mm=80,
                 width_m=0.3)  # fmt: skip
    assert "overflow-missing" in plans.codes(worked(shut(), at=lie(old)).findings)
    above = old.model_copy(update={"above_covering_mm": 140.0})
    found = worked(shut(), at=lie(above))
    assert "overflow-missing" not in plans.codes(found.findings)
    assert found.overflows[0].sill_mm == pytest.approx(20.0)


def test_water_at_blocked_outlets_reaches_the_joists_of_the_courtyard():
    w = rooms.taken_off(rooms.job("courtyard"))
    case_water = w.water.blocked
    assert case_water is not None
    assert case_water.load.value == pytest.approx(case_water.depth.value * 9810)


def test_a_small_roof_outlet_is_cured_by_the_next_size():
    found = worked(shut(plans.outlet("drain", 3.0, 0.2, 50.0)))
    told = plans.one(found.findings, "roof-outlet-small")
    assert told.remedy is not None
    assert [(c.path, c.value) for c in told.remedy.changes] == [
        ("survey.openings[drain].diameter_mm", 75.0)
    ]


# ---- gutters


def hung(rain_: float = 0.021, new: tuple[NewGutter, ...] = (), sold: Stock | None = None):
    wanted = Wanted(renew=True, new=new, sold=sold or Stock())
    return water.work(rain_, (OLD,), plans.plan(), SOUTH, 25.0, 120.0, wanted)


def test_the_smallest_stock_gutter_that_carries_the_rain_is_proposed():
    found = hung()
    one = found.hung[0]
    assert (one.width_mm, one.outlet_mm, one.proposed, one.outlet_at) == (115, 63, True, "end")
    assert [row[-1] for row in found.tried[0].rows] == ["no", "no", "yes"]
    assert plans.one(found.findings, "gutter-larger").level == "note"


def test_a_chosen_gutter_that_is_too_small_is_stopped_and_set_free():
    found = hung(new=(NewGutter(side="A-B", width_mm=75),))
    told = plans.one(found.findings, "gutter-small")
    assert told.remedy is not None
    assert told.remedy.changes[0].path == "design.new_gutters"
    assert told.remedy.changes[0].value == []


def test_a_width_that_is_not_sold_is_refused_by_name():
    sold = Stock((Size(112.0), Size(150.0)), (68.0,), True, "demo")
    with pytest.raises(InvalidInput, match="half_round 112, half_round 150"):
        hung(new=(NewGutter(side="A-B", width_mm=125),), sold=sold)
    with pytest.raises(InvalidInput, match="a pipe that the rates hold: 68"):
        hung(new=(NewGutter(side="A-B", pipe_mm=75),), sold=sold)


def test_outlets_at_both_ends_halve_the_way_and_double_outlet_and_pipe():
    one, two = (
        check_gutter(OLD.model_copy(update={"outlet_at": at}), plans.plan().side("A-B"),
                     Shed(30.0), RAIN)
        for at in ("end", "both_ends")
    )  # fmt: skip
    assert one.pipe is not None
    assert two.pipe is not None
    assert two.outlet.value == pytest.approx(2 * one.outlet.value)
    assert two.pipe.value == pytest.approx(2 * one.pipe.value)


def test_a_square_gutter_carries_the_formula_of_the_standard():
    """0.9 x 3.48e-5 x 7500^1.25 x (75/100)^0.25, and F_L of 82.7 between 75 and 100."""
    square = OLD.model_copy(update={"shape": "rectangular", "depth_mm": 75.0})
    found = check_gutter(square, plans.plan().side("A-B"), Shed(30.0), RAIN)
    short = 0.9 * 3.48e-5 * 7500**1.25 * 0.75**0.25
    assert found.gutter is not None
    assert found.gutter.value == pytest.approx(short * (0.97 - 0.04 * (6200 / 75 - 75) / 25))


def test_a_trapezoid_lies_between_its_square_and_a_narrower_one():
    def carries(**changes):
        gutter = OLD.model_copy(update={"depth_mm": 70.0, **changes})
        found = check_gutter(gutter, plans.plan().side("A-B"), Shed(30.0), RAIN).gutter
        assert found is not None
        return found.value

    square = carries(shape="rectangular")
    assert carries(shape="trapezoidal", sole_mm=70.0) < square
    assert carries(shape="trapezoidal", sole_mm=100.0) == pytest.approx(square)


def test_a_gutter_that_stays_is_left_behind_by_the_rising_edge():
    found = water.work(0.021, (OLD,), plans.plan(), SOUTH, 25.0, 120.0)
    assert found.hung[0].drop.value == pytest.approx(140.0)
    told = plans.one(found.findings, "gutter-far-below")
    assert (told.value, told.limit, told.unit) == (140.0, 75.0, "mm")
    assert "gutter-far-below" not in plans.codes(hung().findings)
    assert hung().hung[0].lift.value == pytest.approx(125.0)


def test_a_gutter_beyond_the_table_and_a_pipe_below_it_name_the_limit():
    long = plans.plan(((0.0, 0.0), (60.0, 0.0), (60.0, 0.4), (0.0, 0.4)), walls_m=(0.0,) * 4)
    thin = OLD.model_copy(update={"pipe_mm": 45.0})
    found = water.work(0.021, (thin,), long, SOUTH, 25.0, 120.0).findings
    assert plans.one(found, "gutter-long").limit == 500
    assert "Table 6" in plans.one(found, "gutter-long").says
    assert plans.one(found, "pipe-below-table").limit == 50


# ---- rain


@pytest.mark.parametrize(
    ("plan", "building", "kind", "r", "level"),
    [
        (plans.plan(), "house", 1, 0.021, "note"),
        (plans.plan(), "flat", 1, 0.021, "note"),
        (shut(), "house", 2, 0.042, "agree"),
        (shut(), "flat", 3, 0.042, "agree"),
    ],
)
def test_without_a_map_the_category_of_the_building_gives_the_rain(plan, building, kind, r, level):
    assert rain.category(plan, building) == kind
    assert float(rain.intensity(None, plan, building)) == r
    told = list(rain.tell(None, plan, building))
    assert [(f.code, f.level) for f in told] == [("rain-assumed", level)]
    assert not list(rain.tell(0.05, plan, building))


def test_the_storm_of_category_2_and_3_is_counted_by_the_life_of_the_building():
    period, risk = rain.storm(shut(), "house")
    assert (period.value, round(risk.value, 3)) == (90.0, 0.488)
    assert rain.storm(shut(), "flat")[0].value == 270.0
    assert rain.storm(plans.plan(), "house") == ()
