"""The plan room: areas, faces, openings and what the tapes say of each other."""

from math import dist, hypot, pi

import pytest
from tests.unit import rooms
from tests.unit.plans import codes, one
from tests.unit.test_tapes import L_SHAPE
from tests.unit.test_tapes import plan_of as plan_of_tapes

from evenfall.errors import InvalidInput
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.job import Job, Offset, Opening, Side, Tape, Tie
from evenfall.model.surveyed import Plan
from evenfall.stages.survey import plan, plan_words

CORNERS = ("A", "B", "C", "D")
OBLONG = ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (0.0, 4.1))
SIDES = tuple(
    Side(side=f"{a}-{b}", kind="verge", boundary_m=3.3) for a, b in zip("ABCD", "BCDA", strict=True)
)
ROOFLIGHT = Opening(
    name="light", kind="rooflight", side="A-B", along_m=2.3, in_m=1.2, length_m=1.6, width_m=1.1
)  # fmt: skip


def tapes(ring=OBLONG, **longer_m: float) -> tuple[Tape, ...]:
    """Tape all distances of four corners exactly; a keyword makes one longer, such as AC=0.06."""
    at = dict(zip(CORNERS, ring, strict=True))
    return tuple(
        Tape(between=f"{a}-{b}", length_m=dist(at[a], at[b]) + longer_m.get(a + b, 0.0))
        for a, b in ("AB", "BC", "CD", "DA", "AC", "BD")
    )


def worked(read=None, openings: tuple[Opening, ...] = (), sides=SIDES) -> Plan:
    return plan.work(CORNERS, read or tapes(), 3.0, sides, openings)


def plan_of(job: Job) -> Plan:
    """Work the plan of an example and of nothing else."""
    s = job.survey
    return plan.work(
        s.corners, s.tapes, s.tape_accuracy_mm, s.sides, s.openings, s.points, s.offsets
    )


def leaning(by_m: float) -> tuple[tuple[float, float], ...]:
    """Lean the oblong until its diagonals differ by so much."""
    low, high = 0.0, 1.0
    for _ in range(60):
        lean = (low + high) / 2
        short, long = hypot(6.2 - lean, 4.1), hypot(6.2 + lean, 4.1)
        low, high = (lean, high) if long - short < by_m else (low, lean)
    return ((0.0, 0.0), (6.2, 0.0), (6.2 + lean, 4.1), (lean, 4.1))


def test_gross_is_the_whole_deck_and_net_is_without_the_rooflight():
    found = worked(openings=(ROOFLIGHT,))
    assert found.gross.value == pytest.approx(25.42)
    assert found.net.value == pytest.approx(25.42 - 1.76)
    assert found.perimeter.value == pytest.approx(20.6)


def test_boards_run_under_a_kerb_that_stands_on_them():
    on = ROOFLIGHT.model_copy(update={"stands_on": "boards"})
    found = worked(openings=(on,))
    assert found.net.value == pytest.approx(25.42 - (1.6 - 0.094) * (1.1 - 0.094))
    assert found.openings[0].area_m2 == pytest.approx(1.76)  # its outline stays


def test_a_post_on_the_boards_has_no_kerb_and_keeps_its_hole():
    post = Opening(
        name="post", kind="post", side="B-C", along_m=1.0, in_m=0.5, length_m=0.09, width_m=0.08,
        stands_on="boards",
    )  # fmt: skip
    found = worked(openings=(post,))
    assert found.gross.value - found.net.value == pytest.approx(0.09 * 0.08)


def test_a_pipe_is_a_circle_in_area_and_edge():
    pipe = Opening(name="pipe", kind="pipe", side="C-D", along_m=2.0, in_m=1.0, diameter_mm=110)
    found = worked(openings=(pipe,))
    assert found.openings[0].area_m2 == pytest.approx(pi * 0.055**2)
    assert found.openings[0].perimeter_m == pytest.approx(pi * 0.11)
    assert found.openings[0].centre == pytest.approx((4.2, 3.1))
    assert 0.95 < (found.gross.value - found.net.value) / (pi * 0.055**2) < 1


def test_an_opening_is_set_along_its_side_and_square_in():
    beside = ROOFLIGHT.model_copy(update={"side": "B-C", "along_m": 0.4, "in_m": 0.7})
    ring = worked(openings=(beside,)).openings[0].ring
    assert ring[0] == pytest.approx((6.2 - 0.7, 0.4))
    assert ring[2] == pytest.approx((6.2 - 0.7 - 1.1, 0.4 + 1.6))


@pytest.mark.parametrize(
    ("face", "deck_beyond_m"), [("deck_edge", 0.0), ("fascia", -0.02), ("wall_face", 0.18)]
)
def test_the_deck_lies_behind_the_fascia_and_beyond_the_wall(face, deck_beyond_m):
    first = SIDES[0].model_copy(
        update={"taped_at": face, "fascia_thickness_mm": 20, "overhang_mm": 200}
    )
    found = worked(sides=(first, *SIDES[1:]))
    assert found.gross.value == pytest.approx(6.2 * (4.1 + deck_beyond_m))
    assert found.deck[0][1] - found.fascia[0][1] == pytest.approx(0.02)
    assert found.wall[0][1] - found.fascia[0][1] == pytest.approx(0.2)


def test_sides_look_outwards_and_know_their_places():
    found = worked()
    assert [s.outwards for s in found.sides] == [
        pytest.approx(v, abs=1e-9) for v in ((0, -1), (1, 0), (0, 1), (-1, 0))
    ]
    assert found.side("B-C").place(1.5, 0.5) == pytest.approx((5.7, 1.5))


def test_good_tapes_give_no_finding():
    assert worked().findings == ()


def test_a_blunder_is_stopped_and_named_where_the_tapes_can_tell():
    job = rooms.job("garage")
    good = job.survey.tapes[0].length_m
    read = tuple(
        t.model_copy(update={"length_m": good + 0.08}) if i == 0 else t
        for i, t in enumerate(job.survey.tapes)
    )
    s = job.survey
    found = plan.work(s.corners, read, s.tape_accuracy_mm, s.sides, s.openings)
    told = one(found.findings, "tape-wrong")
    assert told.level == "stop"
    assert told.value is not None
    assert told.limit is not None
    assert told.value > told.limit
    assert "A-B" in told.says


def test_a_blunder_that_cannot_be_pinned_down_names_the_suspects():
    found = worked(tapes(AC=0.06))
    told = one(found.findings, "tape-wrong")
    assert told.subject == "plan"
    assert "A-C" in told.says
    assert told.value is not None
    assert told.limit is not None
    assert told.value > told.limit


def test_the_largest_error_that_passes_for_taping_passes():
    """With one tape more than needed, a blunder shows from where the test of one tape says."""
    seen = [worked(tapes(AC=mm / 1000)).findings != () for mm in range(1, 40)]
    first = seen.index(True)
    assert 8 < first < 20
    assert all(seen[first:])


@pytest.mark.parametrize(("by_m", "told"), [(0.049, []), (0.051, ["out-of-square"])])
def test_diagonals_are_named_from_50_mm_on(by_m, told):
    assert codes(worked(tapes(leaning(by_m))).findings) == told


@pytest.mark.parametrize(
    ("along_m", "told"), [(4.59, ["opening-at-edge"]), (4.61, ["opening-outside"])]
)
def test_an_opening_past_the_edge_is_stopped(along_m, told):
    found = worked(openings=(ROOFLIGHT.model_copy(update={"along_m": along_m}),))
    assert codes(found.findings) == told


@pytest.mark.parametrize(
    ("in_m", "told"),
    [(0.0, ["opening-at-edge"]), (0.05, ["opening-at-edge"]), (0.199, ["opening-at-edge"]),
     (0.2, []), (2.8, []), (2.801, ["opening-at-edge"])],
)  # fmt: skip
def test_a_rooflight_leaves_room_for_an_edge_timber_and_a_piece_of_board(in_m, told):
    found = worked(openings=(ROOFLIGHT.model_copy(update={"in_m": in_m}),))
    assert codes(found.findings) == told


def test_an_opening_at_an_edge_names_the_side_and_both_distances():
    found = worked(openings=(ROOFLIGHT.model_copy(update={"in_m": 0.05}),))
    finding = one(found.findings, "opening-at-edge")
    assert (finding.level, finding.subject) == ("stop", "opening:light")
    assert finding.value == pytest.approx(50)
    assert (finding.limit, finding.basis) == (200, "planning seed")
    assert "Between light and A-B 50 mm" in finding.says
    assert "200 mm" in finding.says
    assert "part of the edge" in finding.remedy.says


@pytest.mark.parametrize("kind", ["pipe", "outlet", "flue"])
def test_a_pipe_close_to_an_edge_is_no_kerb(kind):
    pipe = Opening(name="p", kind=kind, side="C-D", along_m=2.0, in_m=0.06, diameter_mm=110)
    assert codes(worked(openings=(pipe,)).findings) == []


@pytest.mark.parametrize(("side", "told"), [("wall", []), ("verge", ["opening-at-edge"])])
def test_a_chimney_may_stand_against_a_wall_and_not_at_a_verge(side, told):
    stack = ROOFLIGHT.model_copy(update={"kind": "chimney", "in_m": 0.0})
    wall = {"kind": side, "wall_height_m": 3.0}
    sides = (SIDES[0].model_copy(update=wall), *SIDES[1:])
    assert codes(worked(openings=(stack,), sides=sides).findings) == told


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_no_opening_of_an_example_is_at_an_edge(name):
    assert "opening-at-edge" not in codes(plan_of(rooms.job(name)).findings)


def test_a_missing_diagonal_is_named():
    with pytest.raises(InvalidInput) as told:
        worked(tapes()[:4])
    assert told.value.where == "survey.tapes"
    assert "A-C or B-D" in str(told.value)


def test_tapes_that_cannot_close_are_refused():
    with pytest.raises(InvalidInput) as told:
        worked(tapes(AC=1.4))
    assert told.value.where == "survey.tapes"


def test_a_side_without_an_entry_is_refused():
    with pytest.raises(InvalidInput, match="C-D"):
        worked(sides=(*SIDES[:2], SIDES[3]))


def test_tapes_that_fit_two_plans_are_stopped_with_the_tape_that_settles_it():
    """Corner D hangs on two tapes from A and C: it could lie on the other side of A-C."""
    ring = ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (4.3, 1.9))
    found = worked(tapes(ring)[:5])
    told = one(found.findings, "plan-folds")
    assert told.level == "stop"
    assert told.remedy is not None
    assert "B-D" in told.remedy.says
    assert "plan-folds" not in codes(worked(tapes(ring)).findings)


def test_an_opening_at_no_side_is_refused_with_its_path():
    with pytest.raises(InvalidInput) as told:
        worked(openings=(ROOFLIGHT.model_copy(update={"side": "A-C"}),))
    assert told.value.where == "survey.openings[light].side"


def test_a_side_that_is_none_is_refused_with_those_that_are():
    with pytest.raises(InvalidInput, match="D-A"):
        worked().side("A-C")


def told(read, **changes) -> Plan:
    """Work the oblong with other things than its tapes changed."""
    return plan.work(CORNERS, read, changes.pop("accuracy", 3.0), SIDES, (), **changes)


def test_a_diagonal_typed_in_feet_is_named_with_the_change_that_puts_it_right():
    job = rooms.job("garage")
    s = job.survey
    row = next(i for i, t in enumerate(s.tapes) if t.between == "A-C")
    feet = round(s.tapes[row].length_m / 0.3048, 3)
    bad = apply(job, (Change(f"survey.tapes[{row}].length_m", feet),))
    found = plan_of(bad)
    finding = one(found.findings, "tape-wrong")
    assert finding.subject == "tape:A-C"
    assert f"{feet:g} feet are 7.955 m" in finding.says
    assert finding.remedy is not None
    assert finding.remedy.changes == (Change(f"survey.tapes[{row}].length_m", 7.955),)
    assert "tape-wrong" not in codes(plan_of(apply(bad, finding.remedy.changes)).findings)


def test_the_second_reading_of_a_tape_is_put_right_not_the_first():
    job = rooms.job("garage")
    tapes_ = job.survey.tapes
    row = len(tapes_) - 1
    assert tapes_[row].between == tapes_[0].between == "A-B"
    bad = apply(job, (Change(f"survey.tapes[{row}].length_m", 17.766),))
    remedy = one(plan_of(bad).findings, "tape-wrong").remedy
    assert remedy is not None
    assert remedy.changes == (Change(f"survey.tapes[{row}].length_m", 5.415),)


def test_a_slip_that_may_be_another_is_asked_about_and_not_changed():
    job = rooms.job("courtyard")
    row = next(i for i, t in enumerate(job.survey.tapes) if t.between == "P-R")
    bad = apply(job, (Change(f"survey.tapes[{row}].length_m", 6.822),))
    finding = one(plan_of(bad).findings, "tape-wrong")
    assert "1 m misread on the tape? 5.822 would fit" in finding.says
    assert finding.remedy is not None
    assert finding.remedy.changes == ()


def test_two_tapes_of_which_one_is_far_out_are_named_with_the_tape_that_settles_it():
    job = rooms.job("rear-extension")
    row = next(i for i, t in enumerate(job.survey.tapes) if t.between == "A-E")
    with pytest.raises(InvalidInput) as wrong:
        plan_of(apply(job, (Change(f"survey.tapes[{row}].length_m", 5.653),)))
    assert "one is far out" in wrong.value.what
    assert "A-E by 1." in wrong.value.what
    assert "that settles it" in wrong.value.do


def test_tapes_that_all_fit_a_little_badly_may_be_said_to_be_less_good():
    job = rooms.job("rear-extension")
    bad = apply(job, (Change("survey.tape_accuracy_mm", 0.6),))
    finding = one(plan_of(bad).findings, "tape-wrong")
    assert finding.remedy is not None
    if finding.remedy.changes:
        (change,) = finding.remedy.changes
        assert change.path == "survey.tape_accuracy_mm"
        again = apply(bad, finding.remedy.changes)
        assert "tape-wrong" not in codes(plan_of(again).findings)


def test_just_enough_tapes_are_told_and_the_one_that_would_check_them():
    finding = one(told(tapes()[:5]).findings, "tapes-unchecked")
    assert finding.level == "note"
    assert "Tape B-D too" in finding.says


def test_a_tape_that_is_said_to_be_less_good_weighs_less():
    poor = (*tapes()[:4], Tape(between="A-C", length_m=7.433 + 0.02, accuracy_mm=25), tapes()[5])
    found = told(poor)
    assert codes(found.findings) == []
    (loose,) = (t for t in found.taped if t.name == "A-C")
    assert loose.off_mm == pytest.approx(-20, abs=1.5)
    assert codes(told((*tapes()[:4], poor[4].model_copy(update={"accuracy_mm": None}),
                       tapes()[5])).findings) == ["tape-wrong"]  # fmt: skip


def test_a_corner_by_an_offset_to_the_left_lies_inside_and_to_the_right_outside():
    three = tapes()[:1]
    left = (Offset(point="C", line="A-B", along_m=6.2, left_m=4.1),
            Offset(point="D", line="A-B", along_m=0.0, left_m=4.1))  # fmt: skip
    assert told(three, offsets=left).gross.value == pytest.approx(25.42)
    marked = told(tapes(), points=("M",), offsets=(
        Offset(point="M", line="A-B", along_m=1.0, right_m=0.7),
    ))  # fmt: skip
    (mark,) = marked.points
    assert (mark.x_m, mark.y_m) == pytest.approx((1.0, -0.7))
    assert mark.give_or_take_mm > 5


def tied(*ties: Tie, **size) -> Plan:
    size = size or {"length_m": 1.6, "width_m": 1.1}
    light = Opening(name="light", kind="rooflight", side="A-B", ties=ties, **size)
    return worked(openings=(light,))


def test_an_opening_tied_from_two_corners_lies_where_its_offsets_would_have_it():
    at = ROOFLIGHT.model_copy()
    by_offset = worked(openings=(at,)).openings[0]
    ties = (Tie(point="A", to_corner=1, length_m=hypot(2.3, 1.2)),
            Tie(point="B", to_corner=2, length_m=hypot(6.2 - 3.9, 1.2)))  # fmt: skip
    found = tied(*ties)
    assert [c for p in found.openings[0].ring for c in p] == pytest.approx(
        [c for p in by_offset.ring for c in p], abs=1e-6
    )
    assert found.openings[0].give_or_take_mm == pytest.approx(7, abs=4)
    assert found.findings == ()


def test_ties_along_one_line_inside_the_roof_fit_two_places_and_ask_for_another():
    """From A and C both mirror images of the middle lie on the roof."""
    ties = (Tie(point="A", length_m=hypot(2.0, 2.2)), Tie(point="C", length_m=hypot(4.2, 1.9)))
    found = tied(*ties, diameter_mm=110)
    assert codes(found.findings) == ["opening-mirrored"]
    third = Tie(point="B", length_m=hypot(4.2, 2.2))
    sure = tied(*ties, third, diameter_mm=110)
    assert codes(sure.findings) == []
    assert sure.openings[0].centre == pytest.approx((2.0, 2.2), abs=1e-6)


def test_ties_that_do_not_meet_are_stopped():
    ties = (Tie(point="A", length_m=hypot(2.0, 2.2)), Tie(point="C", length_m=hypot(4.2, 1.9)),
            Tie(point="B", length_m=hypot(4.2, 2.2) + 0.06))  # fmt: skip
    finding = one(tied(*ties, diameter_mm=110).findings, "tie-wrong")
    assert finding.level == "stop"
    assert "light do not meet" in finding.says


def test_ties_that_never_reach_each_other_are_refused_with_their_place():
    ties = (Tie(point="A", length_m=1.0), Tie(point="C", length_m=1.0))
    with pytest.raises(InvalidInput) as wrong:
        tied(*ties, diameter_mm=110)
    assert wrong.value.where == "survey.openings[light].ties"


def test_an_l_tells_the_corner_that_leans_most():
    job = rooms.job("courtyard")
    told_ = one(plan_of(job).findings, "out-of-square")
    assert "Corner P" in told_.says
    assert told_.value is not None
    assert told_.limit is not None
    assert told_.value > told_.limit


def test_the_calculation_sheets_get_every_test_of_the_tapes():
    found = worked()
    titles = [line.title for line in found.quality]
    assert any("one standard error" in t for t in titles)
    assert "All tapes together" in titles
    assert found.tapes.columns[-2][0] == "could hide"
    assert found.gross_give_or_take_m2 == pytest.approx(0.013, abs=0.005)


def test_one_tape_more_than_needed_asks_for_another():
    """Ten tapes of an L: a slip would show, yet no tape could be named."""
    found = plan_of_tapes(L_SHAPE, "DA", "DB", "DF", "AE")
    assert found.dof == 1
    note = one(plan_words.about(found, lambda _: found), "tapes-unchecked")
    assert note.level == "note"
    assert "pinned down" in note.says
