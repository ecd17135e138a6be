"""Courses: strips, runs and cells of awkward roofs."""

from shapely import Polygon

from evenfall.calc.layout.courses import cells, roof_less_openings, runs, turned

SQUARE = ((0, 0), (1000, 0), (1000, 1000), (0, 1000))


def test_a_run_goes_round_an_opening_that_does_not_divide_its_course():
    hole = ((400, 300), (600, 300), (600, 600), (400, 600))
    frame = turned(roof_less_openings(SQUARE, [hole]), (0, 0), (1000, 0))
    assert [(r.x0, r.x1) for r in runs(frame, 0.0, 1000.0)] == [(0.0, 1000.0)]
    assert [(r.x0, r.x1) for r in runs(frame, 300.0, 600.0)] == [(0.0, 400.0), (600.0, 1000.0)]


def test_an_opening_divides_a_cell_in_two():
    hole = ((400, 300), (600, 300), (600, 1000), (400, 1000))
    frame = turned(roof_less_openings(SQUARE, [hole]), (0, 0), (1000, 0))
    (run,) = runs(frame, 0.0, 1000.0)
    assert [c.size for c in cells(run, frame, [])] == [(1000, 1000)]
    upper = runs(frame, 300.0, 1000.0)
    assert [c.size for r in upper for c in cells(r, frame, [])] == [(400, 700), (400, 700)]


def test_only_the_outside_makes_a_piece_a_perimeter_piece():
    hole = ((400, 300), (600, 300), (600, 600), (400, 600))
    frame = turned(roof_less_openings(SQUARE, [hole]), (0, 0), (1000, 0))
    (left, right) = runs(frame, 300.0, 600.0)
    assert [c.outer for c in cells(left, frame, [200.0])] == [True, False]
    assert [c.outer for c in cells(right, frame, [800.0])] == [False, True]


def test_an_edge_that_lies_level_makes_perimeter_pieces_of_the_whole_course():
    frame = turned([Polygon(SQUARE)], (0, 0), (1000, 0))
    (run,) = runs(frame, 0.0, 300.0)
    assert [c.outer for c in cells(run, frame, [300.0, 700.0])] == [True, True, True]
    (inner,) = runs(frame, 300.0, 600.0)
    assert [c.outer for c in cells(inner, frame, [300.0, 700.0])] == [True, False, True]


def test_a_turned_point_comes_back_to_its_place():
    frame = turned([Polygon(SQUARE)], (7, 11), (307, 411))
    assert frame.plan(500.0, 0.0) == (307, 411)
