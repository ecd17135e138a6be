"""Laws of the fixing plan, for any piece and any wind."""

import math
from itertools import combinations

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from evenfall.calc.layout.fixing_pattern import NEAR_MM, pattern
from evenfall.calc.loads.edge_fixings import edge_centres_mm
from evenfall.calc.loads.fixings import fixings_in_piece
from evenfall.errors import InvalidInput

SIZES = st.floats(160.0, 2400.0)
SKEWS = st.floats(-60.0, 60.0)


@st.composite
def pieces(draw):
    """Rectangles with corners off square, turned any way; some with a corner cut out."""
    w, h = draw(SIZES), draw(st.floats(160.0, 1200.0))
    ring = [(0.0, 0.0), (w, draw(SKEWS)), (w + draw(SKEWS), h), (draw(SKEWS), h + draw(SKEWS))]
    shape = shapely.Polygon(ring)
    assume(shape.is_valid)
    if draw(st.booleans()) and min(w, h) > 500:
        cut = shapely.box(w - 0.4 * w, h - 0.4 * h, w + 200, h + 200)
        shape = shape.difference(cut)
        assume(shape.geom_type == "Polygon")
    turn = draw(st.floats(0.0, 180.0))
    shape = shapely.affinity.rotate(shape, turn, origin=(0, 0))
    return tuple(shape.exterior.coords[:-1])


@given(pieces(), st.integers(1, 24))
def test_screws_are_enough_inside_and_off_the_edges(ring, number):
    places = pattern(ring, number, 100.0)
    assert len(places) >= number
    shape = shapely.Polygon(ring)
    inner = shapely.maximum_inscribed_circle(shape).length
    least = min(100.0, 2 * inner / 3)
    for place in places:
        point = shapely.Point(place)
        assert shape.contains(point)
        assert shape.exterior.distance(point) > least - 1


@given(pieces(), st.integers(1, 24))
def test_no_two_screws_share_a_place(ring, number):
    places = pattern(ring, number, 100.0)
    assert len({(round(x, 3), round(y, 3)) for x, y in places}) == len(places)


@given(st.integers(4, 16), st.floats(0.01, 2.88), st.integers(0, 8))
def test_more_screws_in_a_board_are_never_fewer_in_a_piece(n, area, more):
    assert fixings_in_piece(n + more, area, 2.88) >= fixings_in_piece(n, area, 2.88)
    assert fixings_in_piece(n, area, 2.88) * 2.88 >= n * area * (1 - 1e-6)


@given(st.floats(0.0, 5000.0), st.floats(0.0, 3000.0))
def test_more_wind_never_widens_the_centres_along_an_edge(suction, more):
    one, other = (edge_centres_mm(-s, 550.0, 300.0) for s in (suction, suction + more))
    assert other <= one <= 300.0
    assert other * 1.5 * (suction + more) * 0.3 <= 550_000 * (1 + 1e-9)


@pytest.mark.parametrize(
    ("ring", "number", "edge"),
    [
        (((0, 0), (1, 0), (1, 1)), 0, 100.0),
        (((0, 0), (1, 0)), 4, 100.0),
        (((0, 0), (500, 0), (900, 0)), 4, 100.0),
        (((0, 0), (500, 0), (500, 500), (0, 500)), 4, 0.0),
        (((0, 0), (500, 500), (500, 0), (0, 500)), 4, 50.0),
    ],
)
def test_what_is_no_piece_is_refused(ring, number, edge):
    with pytest.raises(InvalidInput):
        pattern(ring, number, edge)


def test_a_whole_board_has_the_outer_screws_where_the_trade_wants_them():
    board = ((0.0, 0.0), (2400.0, 0.0), (2400.0, 1200.0), (0.0, 1200.0))
    for number in range(4, 17):
        places = pattern(board, number, 100.0)
        from_edge = [min(x, y, 2400 - x, 1200 - y) for x, y in places]
        assert math.isclose(min(from_edge), 100.0)
        assert len(places) <= number * 1.25


def test_in_a_narrow_arm_no_two_screws_touch():
    piece = ((4007, 1904), (4016, 0), (5216, 0), (5212, 970), (4230, 970), (4230, 1905))
    places = pattern(piece, 9, 100.0)
    assert len(places) >= 9
    assert min(math.dist(a, b) for a, b in combinations(places, 2)) >= NEAR_MM
