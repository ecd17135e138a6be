"""How edges, measures, chalk marks and the rise stick are drawn."""

import math
from itertools import pairwise
from typing import get_args

import pytest

from evenfall.drawing import (
    Area,
    Break,
    Circle,
    Corner,
    Dimension,
    Gutter,
    Inset,
    Key,
    Label,
    Line,
    Mark,
    NightLine,
    Outlet,
    Pipe,
    Pool,
    Rain,
    Reading,
    Rooflight,
    Staff,
    Tape,
    Text,
    Verge,
    beside,
    corners,
    parapet,
    wall,
    wall_opening,
    water_out,
)
from evenfall.drawing.chalk import MarkKind
from evenfall.drawing.dimensions import reading
from evenfall.drawing.edges import along, outward
from evenfall.drawing.inks import Paper
from evenfall.drawing.sheet import box_of, drawn_out
from evenfall.errors import InvalidInput

PAPER = Paper(10.0)


def parts(sign, kind=object, paper=PAPER):
    return [p for p in drawn_out(sign, paper) if isinstance(p, kind)]


def test_outside_is_on_the_right_hand_of_a_side():
    assert outward((0, 0), (7, 0)) == (0, -1)
    assert outward((7, 0), (7, 5)) == (1, 0)


def test_a_side_of_no_length_is_refused():
    with pytest.raises(InvalidInput, match="two different ends"):
        along((3, 4), (3, 4))


def test_a_line_beside_another_turns_its_corners_at_the_same_distance():
    line = [(0, 0), (0, -3100), (-2650, -3100)]
    far = beside(line, -217)
    assert far == ((217, 0), (217, -3317), (-2650, -3317))


def test_a_wall_lies_outside_the_roof():
    area, face = wall([(3904, 5604), (3904, 2806), (0, 2806)], 320)
    assert area.hatch == "wall"
    assert face.weight == "cut"
    assert (3584.0, 3126.0) in [tuple(map(float, p)) for p in area.rings[0]]


def test_a_wall_opening_reaches_through_the_wall():
    ground, *lines = wall_opening((2100, 2806), (900, 2806), 320)
    assert box_of(ground.rings[0]) == (900, 2806, 2100, 3126)
    assert len(lines) == 4


def test_a_parapet_has_a_second_cut_line():
    cut = [i for i in parapet([(0, 0), (4000, 0)], 215) if isinstance(i, Line)]
    assert [line.weight for line in cut] == ["cut", "cut"]
    assert cut[1].points == ((0, -215), (4000, -215))


def test_verge_ticks_point_out_and_keep_their_length_on_paper():
    for paper in (Paper(10.0), Paper(23.0)):
        ticks = parts(Verge((0, 0), (2000, 0)), Line, paper)
        assert {line.points[1][1] for line in ticks} == {-7 * paper.mm_per_px}


def test_a_gutter_lies_outside_the_eaves_and_hides_what_is_below_it():
    (trough,) = parts(Gutter((0, 0), (5000, 0)))
    box = box_of(trough.rings[0])
    assert box.y1 < 0
    assert trough.hatch == "plain"


def test_the_teeth_of_the_night_line_stand_the_way_it_sheds():
    for left, sign in ((False, -1), (True, 1)):
        teeth = parts(NightLine(((0, 0), (3000, 0)), left=left), Area)
        tips = [ring[2][1] for tooth in teeth for ring in tooth.rings]
        assert len(tips) == 19
        assert all(tip * sign > 0 for tip in tips)


def test_the_second_line_of_finished_sheet_lies_inside():
    (inner,) = parts(Inset(((0, 0), (5000, 0), (5000, 3000), (0, 3000))))
    assert box_of(inner.rings[0]) == (70, 70, 4930, 2930)


def test_an_area_too_narrow_for_a_second_line_has_none():
    assert parts(Inset(((0, 0), (5000, 0), (5000, 100), (0, 100)))) == []


def test_letters_of_corners_stand_outside_even_at_an_inner_corner():
    ring = [(0, 0), (7412, 0), (7412, 5604), (3904, 5604), (3904, 2806), (0, 2806)]
    out = {c.name: c.out for c in corners(ring, "ABCDEF")}
    assert out["A"] == (-1, -1)
    assert out["E"] == (-1, 1)  # into the house, where the roof turns round it


def test_a_guessed_corner_is_pencil_with_a_broken_ring():
    ring, letter = parts(Corner((0, 0), "C", known=False))
    assert (ring.ink, ring.dash, letter.ink) == ("pencil", "ring", "pencil")


@pytest.mark.parametrize(
    ("b", "angle"),
    [((9, 0), 0), ((-9, 0), 0), ((0, 9), 90), ((0, -9), 90), ((5, -5), -45), ((-5, 5), -45)],
)
def test_numbers_are_read_from_below_or_from_the_right(b, angle):
    assert reading((0, 0), b) == angle


def test_a_dimension_lies_outside_and_is_parted_round_its_number():
    first, second = [
        p for p in parts(Dimension((0, 0), (7412, 0), "7.412", 44), Line) if p.weight == "thin"
    ]
    (number,) = parts(Dimension((0, 0), (7412, 0), "7.412", 44), Text)
    assert first.points[0] == (0, -440)
    assert first.points[1][0] < number.x - 150 < number.x + 150 < second.points[0][0]


def test_dimension_ticks_lean_at_45_degrees():
    ticks = [p for p in parts(Dimension((0, 0), (0, 5604), "5.604")) if p.__class__ is Line]
    leaning = [t for t in ticks if t.weight == "line"]
    slopes = [(q[1] - p[1]) / (q[0] - p[0]) for p, q in (t.points for t in leaning)]
    assert [abs(s) for s in slopes] == pytest.approx([1, 1])


def test_a_number_too_wide_for_its_dimension_stands_clear_of_the_line():
    dimension = Dimension((0, 0), (120, 0), "0.120", 44)
    (number,) = parts(dimension, Text)
    (line,) = [p for p in parts(dimension, Line) if p.weight == "thin"]
    assert line.points == ((0, -440), (120, -440))
    assert max(y for _, y in number.corners(PAPER)) < -440


def test_what_is_taped_is_bold_and_a_guess_is_pencil_dots():
    (taped,) = parts(Dimension((0, 0), (3508, 0), "3.508"), Text)
    guess = Dimension((0, 0), (3508, 0), "about 3.5", surety="guess")
    (told,) = parts(guess, Text)
    assert taped.bold
    assert (told.bold, told.italic, told.ink) == (False, True, "pencil")
    assert [p.dash for p in parts(guess, Line) if p.weight == "line"][:2] == ["guess", "guess"]


def test_a_tape_too_long_bows_as_deep_as_a_tape_of_that_length_lies():
    tape = Tape((0, 0), (4490, 0), 4590, "taped 4.59")
    (curve,) = [p for p in parts(tape, Line) if p.ink == "chalk"]
    length = sum(math.dist(p, q) for p, q in pairwise(curve.points))
    assert length == pytest.approx(4590, abs=3)
    assert curve.points[-1] == pytest.approx((4490, 0))


def test_a_tape_too_short_stops_short_of_the_corner():
    (line,) = [
        p for p in parts(Tape((0, 0), (4490, 0), 4290, "taped 4.29"), Line) if p.ink == "chalk"
    ]
    assert line.points == ((0, 0), (4290, 0))


def test_a_tape_a_hair_too_short_still_shows_a_gap():
    (line,) = [
        p for p in parts(Tape((0, 0), (4490, 0), 4489, "taped 4.489"), Line) if p.ink == "chalk"
    ]
    assert line.points[1][0] == 4490 - 120


@pytest.mark.parametrize("kind", get_args(MarkKind))
def test_no_two_kinds_of_chalk_mark_look_alike_in_black(kind):
    def shape(k):
        return [
            (type(p).__name__, getattr(p, "weight", ""), len(getattr(p, "points", ())),
             getattr(p, "hatch", ""), getattr(p, "fill", "") is not None)
            for p in parts(Mark(0, 0, k, "3"))
        ]  # fmt: skip

    assert [k for k in get_args(MarkKind) if shape(k) == shape(kind)] == [kind]


def test_a_mark_that_moved_points_back_at_its_place():
    mark = Mark(0, 0, "note", "4").moved(500, 500, ((420, 420), (0, 0)))
    lines = [p for p in parts(mark, Line) if p.points == ((420, 420), (0, 0))]
    assert [p.ink for p in lines] == ["chalk"]


def test_a_mark_of_an_unknown_kind_is_refused():
    with pytest.raises(InvalidInput, match="mark"):
        Mark(0, 0, "warning", "1")


def test_water_crosses_the_edge_it_leaves_by():
    arrow = water_out((0, 0), (5000, 0), 0.3, 800)
    assert arrow.tail == (1500, 600)
    assert arrow.tip == (1500, -200)


def test_a_label_has_a_leader_only_where_it_was_given_one():
    label = Label(0, 0, "soil pipe")
    assert len(parts(label)) == 1
    assert len(parts(label.moved(9, 9, ((1, 1), (0, 0))))) == 3


def test_every_hole_of_the_staff_stands_at_its_height():
    staff = Staff(0, -20, 340, holes=(109, 129, 149))
    assert [c.y for c in parts(staff, Circle, Paper(1.2))] == [109, 129, 149]


def test_the_staff_is_red_above_its_limit_and_nowhere_else():
    red = [a for a in parts(Staff(0, -20, 340, limit=142), Area) if a.hatch == "cannot"]
    assert [box_of(a.rings[0])[1::2] for a in red] == [(142, 340)]
    assert not [a for a in parts(Staff(0, -20, 340, limit=400), Area) if a.hatch == "cannot"]


def test_the_clip_stands_at_the_build_up():
    clips = [a for a in parts(Staff(0, -20, 340, clip=129), Area) if a.hatch == "solid"]
    assert [box_of(a.rings[0]).centre[1] for a in clips] == [129]


@pytest.mark.parametrize("mm_per_px", [0.2, 0.5, 1.0, 2.5, 8.0])
def test_the_numbers_of_the_staff_are_round_and_never_touch(mm_per_px):
    paper = Paper(mm_per_px)
    texts = parts(Staff(0, -20, 900), Text, paper)
    heights = [t.y for t in texts]
    gaps = [b - a for a, b in pairwise(heights)]
    assert heights
    assert all(g > paper.text_mm("0", 15)[1] for g in gaps)
    assert all(h % 10 == 0 for h in heights)


def test_below_nought_the_staff_carries_a_true_minus():
    texts = [t.text for t in parts(Staff(0, -200, 200), Text, Paper(1.0))]
    assert "−100" in texts


def test_rain_has_five_strokes_one_heavy_for_each_chance_in_five():
    strokes = parts(Rain((0, 0), 2))
    assert [s.weight for s in strokes] == ["cut", "cut", "thin", "thin", "thin"]


def test_small_signs_are_made_of_what_their_words_say():
    assert [c.radius for c in parts(Pipe((0, 0), 110))] == [70, 31.5]
    assert [c.radius for c in parts(Pipe((0, 0), 400))] == [200, 90]
    assert [t.text for t in parts(Reading((0, 0), "24 %"), Text)] == ["24 %"]
    assert len(parts(Pool(((0, 0), (900, 0), (900, 700)), "9 deep"), Line)) == 2
    assert parts(Outlet((100, 0)), Circle)[0].y < 0
    assert parts(Break((0, 0), (500, 0)), Line)[0].points[-1] == (500, 0)


def test_the_glass_of_a_rooflight_lies_inside_its_kerb_however_small_the_picture():
    ring = ((0, 0), (600, 0), (600, 450), (0, 450))
    for paper in (Paper(5), Paper(60)):
        kerb, glass = parts(Rooflight(ring), Area, paper)
        inner = box_of(glass.rings[0])
        assert box_of(kerb.rings[0]).holds(inner)
        assert inner.height > 100


def test_a_key_has_a_swatch_and_words_to_each_hatch():
    key = Key((0, 0), (("felt", "old felt"), ("evening", "VCL, tonight's roof")))
    assert [a.hatch for a in parts(key, Area)] == ["felt", "evening"]
    assert [t.text for t in parts(key, Text)] == ["old felt", "VCL, tonight's roof"]
