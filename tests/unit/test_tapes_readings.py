"""Repeat readings, marks on the wall, right-angle offsets, and readings that are far out."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from tests.unit.test_tapes import L_SHAPE, QUAD, all_pairs, close_to, plan_of, read, refused, ring

from evenfall.calc.geometry.tapes import Offset, Tape, adjust
from evenfall.errors import InvalidInput

LONG = math.dist(QUAD[0], QUAD[2])


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (24.37, "24.37 feet are 7.428 m"),
        (292.5, "292.5 inches are 7.429 m"),
        (743.0, "743 centimetres are 7.430 m"),
        (7427.0, "7427 millimetres are 7.427 m"),
        (74.27, "the point slipped: 7.427 would fit"),
        (0.743, "the point slipped: 7.430 would fit"),
    ],
)
def test_a_diagonal_in_another_unit_is_left_out_and_recognised(typed: float, says: str) -> None:
    found = plan_of(QUAD, "AC", "BD", wrong={"AC": typed - LONG})
    assert (found.left_out, found.located, found.suspects) == ("AC", True, ("AC",))
    assert found.slip is not None
    assert (found.slip.says, found.slip.sure) == (says, True)
    assert found.slip.meant == pytest.approx(LONG, abs=0.005)
    assert close_to(found.polygon, QUAD, 0.003)


def test_a_side_in_feet_is_found_among_six_diagonals() -> None:
    feet = math.dist(L_SHAPE[1], L_SHAPE[2]) / 0.3048
    found = plan_of(L_SHAPE, "AC", "AD", "BD", "BE", "CF", "AE", wrong={"BC": feet - feet * 0.3048})
    assert found.left_out == "BC"
    assert found.slip is not None
    assert "feet" in found.slip.says
    (bad,) = (c for c in found.tapes if c.tape.name == "BC")
    assert bad.adjusted == pytest.approx(feet * 0.3048, abs=0.005)
    assert bad.w > 500


def test_a_tape_that_is_far_out_without_a_reason_is_left_out_where_the_rest_are_checked() -> None:
    found = plan_of(L_SHAPE, "AC", "AD", "BD", "BE", "CF", "AE", wrong={"AD": 0.7})
    assert (found.left_out, found.slip) == ("AD", None)
    assert close_to(found.polygon, L_SHAPE, 0.004)


def test_a_metre_misread_and_two_figures_swapped_are_only_asked_about() -> None:
    by = {"AD": 1.0}
    found = plan_of(L_SHAPE, "AC", "AD", "BD", "BE", "CF", "AE", wrong=by)
    assert found.slip is not None
    assert (found.slip.says[:11], found.slip.sure) == ("1 m misread", False)
    swapped = plan_of(L_SHAPE, *all_pairs(L_SHAPE), wrong={"AC": 6.59 - 6.95})
    assert swapped.slip is not None
    assert (swapped.slip.says, swapped.slip.sure) == ("two figures swapped? 6.950 would fit", False)


def test_two_tapes_that_are_far_out_cannot_close() -> None:
    wrong = {"AD": 1.0, "BC": 0.7}
    told = refused(*read(L_SHAPE, *ring(6), "AC", "AD", "BD", "BE", wrong=wrong), corners="ABCDEF")
    assert "tapes that cannot close: AC by" in told
    assert "feet typed as metres" in told


def test_of_two_readings_that_differ_grossly_the_wrong_one_is_left_out_if_others_tell() -> None:
    again = Tape("AC2", "A", "C", 4.7)
    found = adjust(tuple("ABCD"), (*read(QUAD, *ring(4), "AC", "BD"), again))
    assert found.left_out == "AC2"


def test_two_readings_of_one_distance_that_differ_grossly_are_refused_by_name() -> None:
    told = refused(*read(QUAD, *ring(4), "AC"), Tape("AC2", "A", "C", 4.7))
    assert "AC" in told
    assert "AC2 4.700 m are of one distance" in told
    assert "a third time" in told


def test_two_readings_that_differ_by_60_mm_are_both_suspects_and_a_third_distance_tells() -> None:
    again = Tape("AC2", "A", "C", LONG + 0.06)
    found = adjust(tuple("ABCD"), (*read(QUAD, *ring(4), "AC"), again))
    assert (found.detected, found.located) == (True, False)
    assert set(found.suspects) == {"AC", "AC2"}
    assert found.next_tape == ("B", "D")
    assert found.further is not None
    assert found.further.chance > 0.99


PLACES = {"P": (-1.0, -1.5), "Q": (7.0, -1.2)} | dict(zip("ABCD", QUAD, strict=True))


def taped(*pairs: str) -> tuple[Tape, ...]:
    return tuple(
        Tape(p, p[0], p[1], round(math.dist(PLACES[p[0]], PLACES[p[1]]), 3)) for p in pairs
    )


def offset(point: str, a: str, b: str, wrong: float = 0.0) -> Offset:
    (x, y), (u, v), (p, q) = PLACES[a], PLACES[b], PLACES[point]
    size = math.dist((x, y), (u, v))
    along = ((p - x) * (u - x) + (q - y) * (v - y)) / size
    left = ((q - y) * (u - x) - (p - x) * (v - y)) / size
    name = f"{point} from {a}-{b}"
    return Offset(name, point, a, b, round(along, 3), round(left + wrong, 3), 0.01, 0.01)


TIES = ("PQ", "PA", "QA", "PB", "QB", "PC", "QC", "PD", "QD")


def test_corners_are_placed_by_ties_from_two_marks_on_the_wall_without_a_side_taped() -> None:
    found = adjust(tuple("ABCD"), taped(*TIES), points=("P", "Q"))
    assert close_to(found.polygon, QUAD, 0.005)
    assert found.dof == 0
    assert [c.name for c in found.points] == ["P", "Q"]
    assert math.dist(*((c.x, c.y) for c in found.points)) == pytest.approx(
        math.dist(PLACES["P"], PLACES["Q"]), abs=0.001
    )


def test_a_mark_that_is_short_of_a_tie_is_told_which() -> None:
    with pytest.raises(InvalidInput, match="missing a tape: tape C-D or B-D or D-Q or A-D"):
        adjust(tuple("ABCD"), taped(*TIES[:-1]), points=("P", "Q"))


def test_a_roof_is_set_out_from_one_side_by_right_angle_offsets() -> None:
    offsets = (offset("C", "A", "B"), offset("D", "A", "B"))
    found = adjust(tuple("ABCD"), taped("AB"), offsets=offsets)
    assert close_to(found.polygon, QUAD, 0.002)
    assert found.dof == 0
    assert found.corners[2].sigma > 0.006  # no better than the offsets


def test_an_offset_to_the_right_lies_outside_and_decides_between_the_mirror_images() -> None:
    found = adjust(
        tuple("ABCD"), taped("AB", "BC", "CD", "DA", "AC", "PA"), points=("P",),
        offsets=(offset("P", "A", "B"),),
    )  # fmt: skip
    assert found.ambiguous == ()
    (p,) = found.points
    assert p.y < -1


def test_offsets_and_tapes_check_each_other_and_a_wrong_offset_shows() -> None:
    good = (offset("C", "A", "B"), offset("D", "A", "B"))
    bad = (offset("C", "A", "B", wrong=0.15), offset("D", "A", "B"))
    pairs = taped(*("".join(p) for p in combinations("ABCD", 2)))
    assert not adjust(tuple("ABCD"), pairs, offsets=good).detected
    found = adjust(tuple("ABCD"), pairs, offsets=bad)
    assert found.located
    assert found.suspects == ("C from A-B square",)
    assert close_to(found.polygon, QUAD, 0.02)


def test_an_offset_that_is_none_is_refused() -> None:
    wrong = Offset("C from A-A", "C", "A", "A", 1.0, 1.0, 0.01, 0.01)
    with pytest.raises(InvalidInput, match="a point and a line between two others"):
        adjust(tuple("ABCD"), taped("AB", "BC", "CD", "DA"), offsets=(wrong,))


def test_a_single_suspect_that_does_not_fail_the_test_of_one_tape_is_not_named() -> None:
    """The tapes together fail, but nothing alone is beyond doubt."""
    found = plan_of(L_SHAPE, *all_pairs(L_SHAPE), wrong={"AD": 0.01, "CF": 0.008, "BE": -0.008})
    worst = max(abs(c.w) for c in found.tapes)
    assert worst < 3.29
    assert not found.located


def test_a_tape_is_not_named_when_its_residual_goes_with_that_of_another() -> None:
    """D-A and A-B are checked by nothing but each other and B-D."""
    for by in (0.03, 0.1, 0.2):
        found = plan_of(QUAD, "AC", "BD", wrong={"BC": by})
        assert all(c.twin for c in found.tapes)
        assert not found.located


def test_the_next_tape_keeps_to_the_roof_while_there_is_one() -> None:
    found = plan_of(L_SHAPE, "DA", "DB", "DF", "AC", "BF")
    assert found.next_tape not in {("C", "E"), ("E", "C")}  # across the inner corner
