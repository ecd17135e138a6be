"""The level room: the plane through the spots, and the dishes below it."""

import pytest
from tests.unit.plans import codes, plan

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
