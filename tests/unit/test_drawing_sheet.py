"""The drawing model: what it holds, what it refuses, how signs are drawn out."""

import pytest

from evenfall.drawing import (
    Area,
    Box,
    Drawing,
    Group,
    Label,
    Layer,
    Line,
    Text,
    Verge,
    frame_plan,
    lay_out,
)
from evenfall.drawing.inks import Paper
from evenfall.drawing.sheet import drawn_out, piece_box, pieces_of
from evenfall.errors import InvalidInput

EDGE = Line(((0, 0), (6143, 0), (6143, 2877)), weight="cut")


def drawing(*items, **more):
    return Drawing(
        "Edge", "Two edges of a roof", (Layer("roof outline", items or (EDGE,)),), **more
    )


@pytest.mark.parametrize(("title", "alt"), [("", "words"), ("words", ""), ("words", " \n")])
def test_a_drawing_without_words_is_refused(title, alt):
    with pytest.raises(InvalidInput, match="without words"):
        Drawing(title, alt, (Layer("roof outline", (EDGE,)),))


def test_an_empty_drawing_is_refused():
    with pytest.raises(InvalidInput, match="empty drawing"):
        Drawing("Edge", "Two edges", (Layer("roof outline"),))


@pytest.mark.parametrize("scale", [0, -50, float("nan")])
def test_a_scale_that_is_not_above_nought_is_refused(scale):
    with pytest.raises(InvalidInput, match="scale"):
        drawing(scale=scale)


@pytest.mark.parametrize(
    "points", [((0, 0),), (), ((0, 0), (float("nan"), 3)), ((0, 0), (float("inf"), 3))]
)
def test_a_line_needs_two_finite_points(points):
    with pytest.raises(InvalidInput, match="line of"):
        Line(points)


def test_an_area_needs_three_points():
    with pytest.raises(InvalidInput, match="ring of 2"):
        Area((((0, 0), (5, 5)),))


def test_an_ink_of_no_bottle_is_refused_with_the_list():
    with pytest.raises(InvalidInput, match=r'ink "green".*one of ink, pencil, chalk'):
        Line(((0, 0), (1, 1)), "green")


def test_lettering_in_the_hairline_grey_is_refused():
    """The hairline grey does not reach 4.5:1."""
    with pytest.raises(InvalidInput, match="readable ink"):
        Text(0, 0, "faint", ink="hair")


def test_bounds_take_in_the_lettering():
    plain = drawing().bounds()
    lettered = drawing(EDGE, Text(6143, 0, "downpipe", anchor="start")).bounds()
    assert plain == Box(0, 0, 6143, 2877)
    assert lettered.x1 > 6143 + 500


def test_the_ground_of_turned_lettering_is_turned_with_it():
    flat = piece_box(Text(0, 0, "landing window"), Paper(10))
    turned = piece_box(Text(0, 0, "landing window", angle=90), Paper(10))
    assert (turned.width, turned.height) == pytest.approx((flat.height, flat.width))


def test_a_shift_is_told_in_paper_units_and_worked_in_at_the_size_of_the_sheet():
    (text,) = drawn_out(Text(100, 40, "A", shift=(3, -2)), Paper(7.0))
    assert (text.x, text.y, text.shift) == (121, 26, (0, 0))


def test_signs_inside_groups_are_drawn_out_too():
    group = Group("side:A-B", "side A to B", (Verge((0, 0), (700, 0)), EDGE))
    pieces = list(pieces_of(drawing(group), Paper(10)))
    assert len(pieces) == 6
    assert all(isinstance(p, Line) for p in pieces)


def test_a_sheet_of_given_width_is_filled_by_what_is_drawn():
    laid = lay_out(drawing(), width_px=306)
    assert laid.size_px == pytest.approx((306, 2877 / 6143 * 300 + 6))


def test_a_sheet_of_given_height_and_width_holds_the_drawing_in_its_middle():
    laid = lay_out(drawing(), width_px=900, height_px=206)
    assert laid.size_px == pytest.approx((900, 206))
    assert laid.view.centre == pytest.approx((6143 / 2, 2877 / 2))


def test_signs_keep_their_size_while_the_world_grows():
    """The same circle of paper size and the same lettering on a sheet twice as wide."""
    label = Text(3000, 2877, "eaves, gutter")
    small, large = (lay_out(drawing(EDGE, label), width_px=w) for w in (300, 600))
    assert small.paper.mm_per_px > 1.9 * large.paper.mm_per_px
    boxes = [
        piece_box(p, laid.paper).height / laid.paper.mm_per_px
        for laid in (small, large)
        for p in laid.layers[0][1]
        if isinstance(p, Text)
    ]
    assert boxes[0] == pytest.approx(boxes[1], rel=0.15)


@pytest.mark.parametrize("width", [0, -3, float("nan"), float("inf")])
def test_a_width_that_is_no_width_is_refused(width):
    with pytest.raises(InvalidInput, match="width_px"):
        lay_out(drawing(), width_px=width)


def test_without_a_size_the_scale_of_the_drawing_is_kept():
    laid = lay_out(drawing(scale=20), "print")
    assert laid.paper.mm_per_px == pytest.approx(20 * 25.4 / 96)


def test_the_bars_of_the_frame_start_at_corner_a():
    laid = lay_out(frame_plan(drawing(), (143, 77)), width_px=740)
    bars = [p for p in laid.frame if isinstance(p, Area) and p.hatch == "solid"]
    starts = {round(x, 6) for b in bars for x, _ in b.rings[0]}
    assert {143.0, 643.0, 1143.0, 1643.0} <= starts
    assert len(bars) == 20


@pytest.mark.parametrize(("width", "words"), [(2600, "0.10"), (740, "0.50"), (300, "1.00")])
def test_the_bars_are_chosen_by_the_zoom_and_the_frame_says_which(width, words):
    laid = lay_out(frame_plan(drawing(), (0, 0)), width_px=width)
    assert [p.text for p in laid.notes] == [f"frame bars {words} m"]


def test_north_stands_inside_the_frame():
    laid = lay_out(frame_plan(drawing(), (0, 0), north=-30), width_px=500)
    letter = next(p for p in laid.notes if isinstance(p, Text) and p.text == "N")
    assert laid.view.grown(-7 * laid.paper.mm_per_px).holds(piece_box(letter, laid.paper))


def test_a_label_without_room_is_listed_below_the_picture():
    labels = tuple(Label(50, 50, f"board {i} of the first row") for i in range(40))
    ring = Area((((0, 0), (900, 0), (900, 900), (0, 900)),))
    laid = lay_out(drawing(ring, *labels), width_px=300, height_px=120)
    shown = [p.text for p in (*laid.layers[0][1], *laid.notes) if isinstance(p, Text)]
    assert laid.left
    assert {label.text for label in labels} <= set(shown)
    listed = [p for p in laid.notes if isinstance(p, Text) and p.text in laid.left]
    assert all(laid.view.holds(piece_box(p, laid.paper)) for p in listed)
