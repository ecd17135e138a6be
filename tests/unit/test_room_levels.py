"""The level room: the plane through the spots, and the dishes below it."""

import pytest
from tests.unit.plans import codes, outlet, plan

from evenfall.errors import InvalidInput
from evenfall.model.job import SpotLevel
from evenfall.model.surveyed import Levels
from evenfall.stages.survey import levels

PLACES = {"A": (0.0, 0.0), "B": (6.2, 0.0), "C": (6.2, 4.1), "D": (0.0, 4.1)}


def read(x_mm_m: float, y_mm_m: float, middle_mm: float = 0.0) -> tuple[SpotLevel, ...]:
    """Read the corners of a plane from a line 900 over A, and a middle that lies off the plane."""
    corners = [
        SpotLevel(name=f"at-{n}", corner=n, below_line_mm=900 - x_mm_m * x - y_mm_m * y)
        for n, (x, y) in PLACES.items()
    ]
    low = 900 - x_mm_m * 3.1 - y_mm_m * 2.05 - middle_mm
    middle = SpotLevel(name="middle", side="A-B", along_m=3.1, in_m=2.05, below_line_mm=low)
    return (*corners, middle)


def worked(*spots: SpotLevel) -> Levels:
    return levels.work(spots, plan())


def test_the_plane_comes_back_from_its_readings():
    found = worked(*read(3.0, 12.0))
    assert (found.plane.x_mm_m, found.plane.y_mm_m) == pytest.approx((3.0, 12.0))
    assert found.fall.value == pytest.approx(153**0.5)
    assert found.steepest_one_in == pytest.approx(1000 / 153**0.5)
    assert found.towards == pytest.approx((-3 / 153**0.5, -12 / 153**0.5))


def test_levels_count_up_from_the_lowest_spot():
    found = worked(*read(3.0, 12.0))
    assert min(s.z_mm for s in found.spots) == 0
    assert {s.name: s.z_mm for s in found.spots}["at-C"] == pytest.approx(3 * 6.2 + 12 * 4.1)


def test_a_spot_stands_along_a_side_and_in_from_it():
    spot = SpotLevel(name="s", side="B-C", along_m=1.2, in_m=0.9, below_line_mm=100)
    assert levels.place(spot, plan()) == pytest.approx((5.3, 1.2))


def test_a_level_roof_has_no_steepest_fall():
    found = worked(*read(0.0, 0.0))
    assert found.steepest_one_in is None
    assert found.towards == (0.0, 0.0)


@pytest.mark.parametrize(("deep_mm", "told"), [(12.4, []), (12.6, ["dish"])])
def test_a_dish_is_named_when_it_lies_more_than_10_mm_below_the_plane(deep_mm, told):
    """Five spots: the plane gives way by a fifth, so 12.5 mm at the middle are 10 below it."""
    found = worked(*read(3.0, 12.0, middle_mm=-deep_mm))
    assert found.dish_mm == pytest.approx(0.8 * deep_mm)
    assert codes(found.findings) == told
    assert [f.subject for f in found.findings] == ["level:middle"] * len(told)


def test_a_hump_is_no_dish():
    assert worked(*read(3.0, 12.0, middle_mm=40.0)).findings == ()


def test_spots_in_one_line_make_no_plane():
    line = tuple(
        SpotLevel(name=f"s{i}", side="A-B", along_m=1.0 + i, in_m=1.0, below_line_mm=300 + i)
        for i in range(3)
    )
    with pytest.raises(InvalidInput) as told:
        worked(*line)
    assert told.value.where == "survey.levels"


def test_a_spot_at_no_corner_or_side_is_refused_with_its_path():
    with pytest.raises(InvalidInput) as told:
        worked(*read(3.0, 12.0), SpotLevel(name="odd", corner="E", below_line_mm=100))
    assert told.value.where == "survey.levels[odd].corner"
    stray = SpotLevel(name="odd", side="A-C", along_m=1, in_m=1, below_line_mm=100)
    with pytest.raises(InvalidInput, match="A-C"):
        worked(*read(3.0, 12.0), stray)


def test_a_dish_with_no_way_out_is_a_pond_of_its_own_depth_area_and_litres():
    """A pyramid of 40 mm over the whole roof, up to the level of its eaves."""
    found = worked(*read(0.0, 0.0, middle_mm=-40.0)).ponds
    assert [p.id for p in found] == ["pond:before-1"]
    assert found[0].depth_mm == pytest.approx(40)
    assert found[0].area_m2 == pytest.approx(6.2 * 4.1, rel=1e-4)
    assert found[0].volume_l == pytest.approx(6.2 * 4.1 * 40 / 3, rel=1e-4)
    assert found[0].deepest == pytest.approx((3.1, 2.05))


def test_a_dish_on_a_slope_keeps_what_is_lower_than_its_rim_on_the_way_down():
    """The dip lies 3.1 mm/m x 2.05 m over the eaves as a plane, and 30 mm under that plane."""
    found = worked(*read(0.0, 3.1, middle_mm=-30.0))
    assert found.ponds[0].depth_mm == pytest.approx(30 - 3.1 * 2.05)
    assert "pond-before" in codes(found.findings)
    assert found.ponds[0].spills_at[1] == pytest.approx(0)  # over the eaves


def test_a_roof_that_falls_keeps_no_water_and_has_contours_and_arrows():
    found = worked(*read(3.0, 12.0))
    assert found.ponds == ()
    assert {round(a.one_in, 3) for a in found.arrows} == {round(1000 / 153**0.5, 3)}
    assert all(a.towards == pytest.approx(found.towards) for a in found.arrows)
    assert 5 <= len(found.contours) <= 10
    for contour in found.contours:
        for line in contour.lines:
            assert [3 * x + 12 * y for x, y in line] == pytest.approx([contour.z_mm] * len(line))
    assert found.back_m2 == 0


def test_a_roof_that_falls_away_from_its_eaves_falls_back_all_over():
    assert worked(*read(0.0, -9.0)).back_m2 == pytest.approx(6.2 * 4.1, rel=1e-4)


def test_an_outlet_higher_than_the_roof_beside_it_is_named():
    roof = plan(kinds=("parapet", "verge", "wall", "verge"), openings=(outlet("drain", 3.1, 1.0),))
    spots = (*read(0.0, 0.0), SpotLevel(name="o", side="A-B", along_m=3.1, in_m=1.0,
                                        below_line_mm=883.0))  # fmt: skip
    found = levels.work(spots, roof)
    assert "outlet-high" in codes(found.findings)
    assert found.findings[-1].value == pytest.approx(17)
    lower = (*read(0.0, 0.0), spots[-1].model_copy(update={"below_line_mm": 917.0}))
    assert "outlet-high" not in codes(levels.work(lower, roof).findings)


def test_a_level_beside_the_roof_is_refused_by_name():
    stray = SpotLevel(name="stray", side="A-B", along_m=6.9, in_m=1.0, below_line_mm=700)
    with pytest.raises(InvalidInput, match="beside the roof") as told:
        worked(*read(3.0, 12.0), stray)
    assert told.value.where == "survey.levels[stray]"
    on_edge = stray.model_copy(update={"along_m": 6.23})
    assert worked(*read(3.0, 12.0), on_edge).spots[-1].name == "stray"


def test_two_levels_in_one_place_are_refused_and_both_are_named():
    twin = SpotLevel(name="twin", side="A-B", along_m=3.1, in_m=2.06, below_line_mm=700)
    with pytest.raises(InvalidInput, match="middle") as told:
        worked(*read(3.0, 12.0), twin)
    assert told.value.where == "survey.levels[twin]"
