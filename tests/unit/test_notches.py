"""Notches of the sheet: free of the roof, apart from one another, and none where there is none."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from evenfall.calc.layout.notches import _apart, _tried, notches

U = [(0, 0), (9000, 0), (9000, 4000), (6500, 4000), (6500, 1500), (2400, 1500), (2400, 4000),
     (0, 4000)]  # fmt: skip
T = [(0, 3000), (2100, 3000), (2100, 0), (5200, 0), (5200, 3000), (8000, 3000), (8000, 5000),
     (0, 5000)]  # fmt: skip


@pytest.mark.parametrize(
    ("ring", "expected"),
    [(U, [(4100, 2500)]), (T, [(2800, 3000), (2100, 3000)]),
     ([(0, 0), (5000, 0), (5000, 3000), (0, 3000)], [])],
)  # fmt: skip
def test_the_notches_of_plain_letters(ring, expected):
    assert [lot[3:] for lot in notches([ring])] == expected


@given(st.integers(600, 5400), st.integers(600, 4400), st.integers(0, 900))
def test_what_is_left_over_never_exceeds_what_the_roof_leaves(x, y, lean):
    """A leaning letter L: all notches fit into the rectangle beside the roof."""
    ring = [(0, 0), (6000, 0), (6000 - lean / 9, y), (x, y + lean / 7), (x, 5000), (0, 5000)]
    roof = shapely.Polygon(ring).buffer(0)
    free = shapely.box(*roof.bounds).area - roof.area
    assert sum(lot.along_mm * lot.across_mm for lot in notches([ring])) <= free + 1


@pytest.mark.parametrize("ring", [U, T])
def test_each_notch_lies_where_it_is_told_beside_the_roof(ring):
    for _, x, y, along, across in notches([ring]):
        box = shapely.box(x, y, x + along, y + across)
        assert box.intersection(shapely.Polygon(ring)).area == 0
        assert box.within(shapely.box(*shapely.Polygon(ring).bounds))


def test_boxes_that_overlap_are_told_from_those_that_touch():
    assert _apart((0, 0, 1, 1), (1, 0, 2, 1))
    assert not _apart((0, 0, 2, 2), (1, 1, 3, 3))
    assert len(list(_tried(shapely.box(0, 0, 1, 1)))) == 4 * 4 + 4 * 6
