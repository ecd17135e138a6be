"""Thinner zones: where they lie, what they let through, whether they drain, and what is refused."""

from dataclasses import replace

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one
from tests.unit.test_room_heights import COVERING, LEVEL, STACK

from evenfall.errors import InvalidInput
from evenfall.model.job import Height, ThinZone
from evenfall.model.standing import ZoneAt, Zones
from evenfall.model.surveyed import Slope
from evenfall.stages.design import beside, budget, heights, offering, zones, zoning
from evenfall.working import measured

STRIP = {"name": "strip", "side": "C-D", "from_m": 1.2, "to_m": 2.7, "in_m": 4.2,
         "thickness_mm": 60}  # fmt: skip
DOWN = Slope(0.0, 0.0, 25.0)  # the wall C-D is the high side, A-B the eaves


def zone(**more: object) -> ZoneAt:
    found = zones.work((ThinZone.model_validate(STRIP | more),), plans.build(plans.job()),
                       plans.plan())  # fmt: skip
    return found.zones[0]


def held_back(**more: object) -> float:
    return zoning.held_back(zone(**more), 120, plans.plan(), plans.falls(), DOWN)


def test_a_zone_lies_along_its_side_and_has_the_area_of_its_part_of_the_deck():
    found = zone()
    assert found.area_m2 == pytest.approx(1.5 * 4.1)  # the deck is 4.1 deep
    assert found.holds((6.2 - 2.0, 4.1), 0.0)
    assert not found.holds((6.2 - 1.1, 4.0), 0.0)
    assert not zone(in_m=0.5).holds((6.2 - 2.0, 3.5), 0.0)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"thickness_mm": 61}, "61 mm"),
        ({"from_m": 6.5, "to_m": 7.0}, "6.5 to 7 m along C-D"),
        ({"from_m": 0.0, "to_m": 6.2}, "as large as the roof"),
    ],
)
def test_a_zone_that_cannot_be_laid_is_refused_by_name(more, said):
    with pytest.raises(InvalidInput, match=said) as wrong:
        zone(**more)
    assert wrong.value.where.startswith("design.thin_zones[strip]")


def test_two_zones_over_one_another_are_refused():
    other = ThinZone.model_validate(STRIP | {"name": "other", "from_m": 2.6, "to_m": 3.0})
    beside_it = other.model_copy(update={"from_m": 2.7})
    both = (ThinZone.model_validate(STRIP), other)
    with pytest.raises(InvalidInput, match="strip and other"):
        zones.work(both, plans.build(plans.job()), plans.plan())
    assert len(zones.work((both[0], beside_it), plans.build(plans.job()), plans.plan()).zones) == 2


def test_a_strip_down_to_the_eaves_drains_and_one_that_stops_short_holds_its_step():
    assert held_back() == 0.0
    assert held_back(in_m=4.0) == pytest.approx(60)
    assert held_back(in_m=0.5, thickness_mm=100) == pytest.approx(20)


def test_water_leaves_a_zone_by_the_low_side_and_by_the_eaves_but_not_by_a_verge():
    along = Slope(0.0, -25.0, 0.0)  # falls towards B-C, a verge: no water leaves there
    low = zoning.held_back(
        zone(from_m=0.0, to_m=1.5), 120, plans.plan(), plans.falls((1.0, 0.0), low_side="B-C"),
        along,
    )  # fmt: skip
    assert low == 0.0  # it reaches the low side
    shut = zoning.held_back(zone(from_m=0.0, to_m=1.5), 120, plans.plan(), plans.falls(), along)
    assert shut == 0.0  # its end lies on the eaves
    closed = zoning.held_back(
        zone(from_m=0.0, to_m=1.5, in_m=0.5), 120, plans.plan(), plans.falls(), along
    )
    assert closed == pytest.approx(60)  # held by the verge; over its step along the inner edge


def test_an_outlet_in_a_zone_drains_it():
    wet = replace(plans.plan(), openings=(plans.outlet("gully", 4.2, 3.61),))
    short = zone(in_m=0.5)
    assert zoning.held_back(short, 120, wet, plans.falls(), DOWN) < 1


def test_a_zone_that_holds_water_stops_the_job_and_running_it_down_clears_that():
    job = rooms.job("rear-extension")
    low = {"name": "low", "side": "C-D", "from_m": 0.8, "to_m": 2.1, "in_m": 0.5,
           "thickness_mm": 80}  # fmt: skip
    bad = rooms.changed(job, **{"design.thin_zones": [low]})
    found = one(rooms.designed(bad).heights.findings, "zone-ponds")
    assert found.level == "stop"
    mended = codes(rooms.designed(rooms.cured(bad, found)).heights.findings)
    assert "zone-ponds" not in mended
    assert "zone-step" in mended


def test_the_mean_is_that_of_the_areas():
    found = zoning.mean_u([("field", 0.15, 20.0), ("strip", 0.25, 5.0)])
    assert found.value == pytest.approx((0.15 * 20 + 0.25 * 5) / 25)


def test_heat_is_shown_for_field_and_zone_and_weighted():
    job = rooms.changed(
        rooms.job("rear-extension"),
        **{"design.thickness_mm": 150, "design.thin_zones": [STRIP | {"in_m": 3.2}]},
    )
    heat = rooms.designed(job).heat
    field, thin = heat.zones
    assert field.u.value < heat.u.value < thin.u.value
    assert heat.u.value == pytest.approx(
        (field.u.value * field.area_m2 + thin.u.value * thin.area_m2)
        / (field.area_m2 + thin.area_m2)
    )
    assert rooms.designed(rooms.job("rear-extension")).heat.zones == ()


def test_an_item_in_a_zone_stands_on_its_boards_and_one_that_reaches_out_of_it_does_not():
    build = plans.build(plans.job())
    narrow = Height(name="it", kind="sill", side="C-D", along_m=2.0, width_m=1.4,
                    above_covering_mm=400)  # fmt: skip
    wide = narrow.model_copy(update={"width_m": 1.8})
    ground = budget.Ground(LEVEL, (zone(),))
    inside, outside = (beside.items((h,), (), plans.plan())[0] for h in (narrow, wide))
    falls = plans.falls()
    assert budget.left(inside, build, 120, falls, COVERING, ground).value == pytest.approx(
        400 - STACK + 60 - 150
    )
    assert budget.left(outside, build, 120, falls, COVERING, ground).value == pytest.approx(
        400 - STACK - 150
    )


def test_boards_are_ordered_in_each_thickness_and_fill_the_roof():
    job = rooms.changed(
        rooms.job("rear-extension"),
        **{"design.thickness_mm": 150, "design.thin_zones": [STRIP | {"in_m": 3.2}]},
    )
    w = rooms.taken_off(job)
    assert [line.id for line in w.boards.order] == ["board:pir-foil:150", "board:pir-foil:60"]
    assert sum(line.bought for line in w.boards.order) == w.boards.bought
    assert {p.total_mm for p in w.boards.pieces} == {150, 60}
    numbers = [p.number for p in w.boards.pieces]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len({p.board for p in w.boards.pieces}) == w.boards.bought
    assert len([i for i in w.order if i.id.startswith("screw:")]) == 2


# --- what is offered ---

US = {60: 0.31, 100: 0.19, 120: 0.15}


def offered(above_mm: float, target: float = 0.17, side: str = "C-D", **more: object):
    height = Height(name="it", kind="sill", side=side, along_m=2.0, width_m=0.8,
                    above_covering_mm=above_mm)  # fmt: skip
    roof = offering.Roof(
        plans.build(plans.job()), COVERING, plans.plan(), plans.falls(), budget.Ground(DOWN),
        beside.items((height,), (), plans.plan()), US, measured(target, "W/(m2K)", "target"),
    )  # fmt: skip
    return offering.offer(replace(roof, **more))


AT_100 = STACK - 20 + 150


def test_a_zone_is_offered_that_drains_and_is_warm_enough_on_the_whole():
    found = offered(AT_100)
    assert found is not None
    assert (found.field_mm, found.thinnest_mm) == (120, 100)
    assert 0.15 < found.u.value <= 0.17
    (strip,) = found.changes[1].value
    assert strip["side"] == "C-D"
    assert strip["in_m"] >= 4.1  # down to the eaves


def test_nothing_is_offered_where_an_even_board_fits_or_where_no_zone_is_warm_enough():
    assert offered(AT_100 + 20) is None
    assert offered(AT_100, target=0.151) is None
    assert offered(100.0) is None  # nothing sold fits there


def test_at_the_low_side_a_shallow_zone_will_do():
    found = offered(AT_100, side="A-B")
    assert found is not None
    (strip,) = found.changes[1].value
    assert strip["in_m"] == pytest.approx(offering.BEHIND_M)


def test_the_offer_is_told_and_clears_what_is_short_in_a_real_job():
    job = rooms.changed(
        rooms.job("rear-extension"),
        **{"survey.windows[scullery-window].sill_above_covering_mm": 352,
           "design.thickness_mm": 150},
    )  # fmt: skip
    w = rooms.designed(job)
    held = one(w.windows.findings, "window-held")
    assert "A thinner zone" in held.says
    again = rooms.designed(rooms.cured(job, held))
    assert "window-held" not in codes(again.windows.findings)
    assert again.rise.row.passes_u


def test_heights_without_a_zone_are_as_if_there_were_none():
    one_item = (Height(name="it", kind="dpc", side="C-D", along_m=2.0, above_covering_mm=500),)
    build = plans.build(plans.job())
    even = heights.work(120, build, COVERING, one_item, (), plans.plan(), plans.falls(), Zones(),
                        LEVEL)  # fmt: skip
    elsewhere = heights.work(
        120, build, COVERING, one_item, (), plans.plan(), plans.falls(),
        Zones((zone(from_m=4.0, to_m=5.0),)), LEVEL,
    )  # fmt: skip
    assert even.items == elsewhere.items
