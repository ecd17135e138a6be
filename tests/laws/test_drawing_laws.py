"""Laws of the drawing: labels never meet, nothing leaves the sheet, every text is well-formed."""

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evenfall.drawing import (
    Area,
    Box,
    Dimension,
    Drawing,
    Label,
    Layer,
    Mark,
    Request,
    Text,
    Verge,
    corners,
    frame_plan,
    lay_out,
    place_labels,
    to_svg,
)
from evenfall.drawing.inks import Paper
from evenfall.drawing.sheet import piece_box

coordinates = st.floats(0, 1000, allow_nan=False)
boxes = st.builds(
    lambda x, y, w, h: Box(x, y, x + w, y + h),
    coordinates, coordinates, st.floats(1, 200), st.floats(1, 90),
)  # fmt: skip
requests = st.builds(
    Request, coordinates, coordinates, st.floats(5, 160), st.floats(8, 40),
    st.sampled_from(["on", "beside"]), st.floats(0, 20),
)  # fmt: skip
segments = st.tuples(st.tuples(coordinates, coordinates), st.tuples(coordinates, coordinates))
FRAME = Box(0, 0, 1000, 1000)
many = st.lists


@st.composite
def roofs(draw):
    """A star-shaped roof of three to nine corners, counter-clockwise, in whole millimetres."""
    count = draw(st.integers(3, 9))
    reach = [draw(st.integers(900, 9000)) for _ in range(count)]
    turn = [2 * math.pi * (i + draw(st.floats(-0.3, 0.3))) / count for i in range(count)]
    polar = zip(reach, turn, strict=True)
    ring = [(round(r * math.cos(t)), round(r * math.sin(t))) for r, t in polar]
    assume(len(set(ring)) == count)
    return tuple(ring)


def plan(ring):
    sides = [*zip(ring, (*ring[1:], ring[0]), strict=True)]
    words = [Label(x / 2, y / 2, f"board {i}", bold=True) for i, (x, y) in enumerate(ring)]
    doubles = [Label(0, 0, "rooflight 1.20 × 0.90", seat="beside") for _ in range(3)]
    marks = [Mark(*ring[0], "stop", "1"), Mark(*ring[0], "agree", "2"), Mark(0, 0, "note", "3")]
    layers = (
        Layer("roof outline", (Area((ring,), "felt", weight="cut"), *(Verge(*s) for s in sides))),
        Layer("dimensions", tuple(Dimension(*s, f"{math.dist(*s) / 1000:.3f}") for s in sides)),
        Layer("words", (*words, *doubles, *corners(ring, "ABCDEFGHI"[: len(ring)]))),
        Layer("chalk marks", tuple(marks)),
    )
    return frame_plan(Drawing("Plan", "A roof of some corners", layers), ring[0], north=10)


@given(many(requests, max_size=25), many(boxes, max_size=12), many(segments, max_size=8))
def test_no_two_labels_meet_none_covers_an_obstacle_and_none_leaves_the_frame(asked, taken, lines):
    found = [p.box for p in place_labels(asked, taken, FRAME, lines) if p]
    assert not [1 for a, b in combinations(found, 2) if a.meets(b)]
    assert not [1 for a in found for b in taken if a.meets(b)]
    assert all(FRAME.holds(b) for b in found)


@given(st.lists(requests, min_size=1, max_size=15))
def test_a_label_keeps_its_size_and_a_far_one_has_a_leader_to_its_point(asked):
    for place in place_labels(asked, [], FRAME):
        if place is None:
            continue
        r, box = place.request, place.box
        assert math.isclose(box.width, r.width)
        assert math.isclose(box.height, r.height)
        near = (min(max(r.x, box.x0), box.x1), min(max(r.y, box.y0), box.y1))
        far = math.dist(near, (r.x, r.y)) > r.clear + r.height
        assert (place.leader is not None) == far


@given(requests)
def test_alone_in_the_middle_of_a_wide_frame_a_label_sits_where_it_wants(request):
    (place,) = place_labels([request], [], Box(-9999, -9999, 9999, 9999))
    assert place.leader is None
    if request.seat == "on":
        assert math.dist(place.box.centre, (request.x, request.y)) < 1e-9


@settings(max_examples=12)
@given(roofs(), st.integers(420, 1100))
def test_on_a_roof_of_any_shape_no_label_meets_another_nor_a_mark(ring, width):
    """Lettering of labels, of marks and of the frame, by the boxes they are drawn in."""
    laid = lay_out(plan(ring), width_px=width)
    shown = [
        piece_box(p, laid.paper)
        for layer, pieces in laid.layers
        for p in pieces
        if isinstance(p, Text) and (layer.name == "chalk marks" or p.text.startswith(("bo", "ro")))
    ]
    listed = len(laid.left)
    assert len(shown) + listed >= len(ring) + 6
    assert not [1 for a, b in combinations(shown, 2) if a.meets(b)]


@settings(max_examples=12)
@given(roofs(), st.integers(420, 1100))
def test_nothing_with_a_fixed_place_leaves_the_sheet(ring, width):
    laid = lay_out(plan(ring), width_px=width)
    sheet = laid.view.grown(1e-6 * width)
    assert all(sheet.holds(piece_box(p, laid.paper)) for _, pieces in laid.layers for p in pieces)
    assert laid.size_px[0] >= width * (1 - 1e-6)


@settings(max_examples=12)
@given(roofs(), st.integers(120, 1100), st.sampled_from(["paper", "css", "print"]))
def test_every_drawing_is_well_formed_and_legible(ring, width, light):
    text = to_svg(plan(ring), width, light)
    ET.fromstring(text)
    least = 10.7 if light == "print" else 13
    assert min(float(s) for s in re.findall(r'font-size="([^"]+)"', text)) >= least
    assert "nan" not in text
    assert not re.search(r"\de[-+]\d", text)  # no number as 1e-05; an id may end in 9e


@settings(max_examples=30)
@given(st.text(min_size=1).filter(str.strip))
def test_any_words_can_be_lettered(words):
    drawing = Drawing(words, words, (Layer(words, (Text(0, 0, words), Label(0, 900, words))),))
    ET.fromstring(to_svg(drawing, 400).encode("utf-8"))


@given(st.floats(0.01, 500), st.floats(1, 60))
def test_lettering_never_falls_below_what_can_be_read(mm_per_px, size):
    assert Paper(mm_per_px, 0.6).text_px(size) >= 13
