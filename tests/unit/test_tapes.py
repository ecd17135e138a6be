"""What the tapes of a roof tell, and which of them are refused."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from evenfall.calc.geometry.polygon import Polygon, reflex_corners
from evenfall.calc.geometry.tapes import Adjusted, Corner, Station, Tape, adjust
from evenfall.errors import InvalidInput

QUAD = ((0.0, 0.0), (6.21, 0.0), (6.18, 4.12), (-0.02, 4.09))
L_SHAPE = ((0.0, 0.0), (6.2, 0.0), (6.22, 3.1), (2.9, 3.05), (2.93, 5.6), (-0.03, 5.63))
T_SHAPE = (
    (0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (4.0, 2.1), (4.0, 5.0), (1.9, 5.1), (2.0, 2.0), (0.0, 2.05),
)  # fmt: skip
NAMES = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdef"


def ring(n: int) -> tuple[str, ...]:
    return tuple(NAMES[i] + NAMES[(i + 1) % n] for i in range(n))


def read(plan: Polygon, *pairs: str, wrong: dict[str, float] | None = None) -> tuple[Tape, ...]:
    at = dict(zip(NAMES, plan, strict=False))
    wrong = wrong or {}
    return tuple(
        Tape(p, p[0], p[1], round(math.dist(at[p[0]], at[p[1]]) + wrong.get(p, 0.0), 3))
        for p in pairs
    )


def plan_of(plan: Polygon, *pairs: str, wrong: dict[str, float] | None = None) -> Adjusted:
    n = len(plan)
    return adjust(tuple(NAMES[:n]), read(plan, *ring(n), *pairs, wrong=wrong))


def all_pairs(plan: Polygon) -> tuple[str, ...]:
    taped = {frozenset(p) for p in ring(len(plan))}
    found = ("".join(p) for p in combinations(NAMES[: len(plan)], 2))
    return tuple(p for p in found if frozenset(p) not in taped)


def close_to(found: Polygon, plan: Polygon, within: float = 0.002) -> bool:
    n = range(len(plan))
    return all(
        abs(math.dist(found[i], found[j]) - math.dist(plan[i], plan[j])) < within
        for i in n
        for j in n
    )


@pytest.mark.parametrize("plan", [QUAD[:3], QUAD, L_SHAPE, T_SHAPE])
def test_a_fully_taped_outline_comes_out_as_it_is(plan: Polygon) -> None:
    found = plan_of(plan, *all_pairs(plan))
    assert close_to(found.polygon, plan)
    assert found.ambiguous == ()
    assert not found.detected


def test_an_l_taped_from_its_inner_corner_keeps_that_corner_inside() -> None:
    found = plan_of(L_SHAPE, "DA", "DB", "DF", "AC", "AE", "BF")
    assert close_to(found.polygon, L_SHAPE, 0.004)
    assert reflex_corners(found.polygon) == (3,)


def test_an_l_with_its_inner_corner_on_two_tapes_may_be_folded_out_and_says_so() -> None:
    found = plan_of(L_SHAPE, "CE", "AC", "AE", "BE", "BF", "CF")
    assert close_to(found.polygon, L_SHAPE, 0.004)
    assert found.ambiguous == ("D",)
    assert found.next_tape == ("A", "D")


def test_the_tape_that_was_asked_for_settles_a_folded_corner() -> None:
    found = plan_of(L_SHAPE, "CE", "AC", "AE", "BE", "BF", "CF", "AD")
    assert close_to(found.polygon, L_SHAPE, 0.004)
    assert found.ambiguous == ()


def test_a_dart_is_found_when_its_short_diagonal_is_taped() -> None:
    dart = ((0.0, 0.0), (5.0, -1.0), (1.5, 1.2), (0.4, 5.0))
    found = plan_of(dart, "AC", "BD")
    assert close_to(found.polygon, dart)
    assert reflex_corners(found.polygon) == (2,)


def test_five_tapes_of_a_rectangle_are_not_checked_and_the_other_diagonal_is_asked_for() -> None:
    found = plan_of(QUAD, "AC")
    assert (found.dof, found.limit) == (0, None)
    assert found.t == pytest.approx(0, abs=1e-9)
    assert all(c.least_seen is None and c.error is None for c in found.tapes)
    assert found.next_tape == ("B", "D")


def test_no_corner_is_taken_to_be_exact() -> None:
    found = plan_of(QUAD, "AC", "BD")
    assert all(c.sigma > 0.001 for c in found.corners)
    assert found.sigma_mm == pytest.approx(1000 * max(c.sigma for c in found.corners))


@pytest.mark.parametrize(
    ("xx", "yy", "xy", "long", "short", "turn"),
    [
        (9.0, 4.0, 0.0, 3.0, 2.0, 0.0),
        (4.0, 9.0, 0.0, 3.0, 2.0, 90.0),
        (6.5, 6.5, 2.5, 3.0, 2.0, 45.0),
        (6.5, 6.5, -2.5, 3.0, 2.0, 135.0),
    ],
)
def test_the_ellipse_of_a_corner_has_its_axes_and_lies_the_right_way(
    xx: float, yy: float, xy: float, long: float, short: float, turn: float
) -> None:
    corner = Corner("A", 0.0, 0.0, math.sqrt(xx), math.sqrt(yy), xy)
    assert corner.ellipse == pytest.approx((long, short, turn))
    assert corner.sigma == pytest.approx(long)


@pytest.mark.parametrize("by", [0.02, 0.06, 0.2])
def test_a_blunder_of_a_well_checked_diagonal_is_located(by: float) -> None:
    found = plan_of(L_SHAPE, *all_pairs(L_SHAPE), wrong={"AD": by})
    assert found.detected
    assert found.located
    assert found.suspects == ("AD",)
    (bad,) = (c for c in found.tapes if c.tape.name == "AD")
    assert bad.error == pytest.approx(by, abs=0.004)


def test_a_blunder_of_a_rectangle_is_reported_not_refused_and_not_located() -> None:
    found = plan_of(QUAD, "AC", "BD", wrong={"AB": 0.2})
    assert found.detected
    assert not found.located
    assert len(found.suspects) == 6


def test_two_blunders_are_not_said_to_be_one() -> None:
    found = plan_of(L_SHAPE, *all_pairs(L_SHAPE), wrong={"AD": 0.09, "CF": -0.07})
    assert found.detected
    assert not found.located


def test_a_repeated_reading_locates_the_wrong_one_of_three() -> None:
    tapes = (
        *read(QUAD, *ring(4), "AC", "BD"),
        Tape("AC2", "A", "C", 7.425),
    )
    again = (*tapes, Tape("AC3", "C", "A", 7.485))
    found = adjust(("A", "B", "C", "D"), again)
    assert found.suspects == ("AC3",)
    assert found.located


def test_a_plan_with_a_blunder_is_not_said_to_be_as_good_as_one_without() -> None:
    good, bad = plan_of(QUAD, "AC", "BD"), plan_of(QUAD, "AC", "BD", wrong={"AC": 0.05})
    assert bad.sigma_mm > 3 * good.sigma_mm


def test_corners_are_fixed_from_two_known_points() -> None:
    at = {"P": (-1.0, -1.5), "Q": (7.0, -1.2)} | dict(zip("ABCD", QUAD, strict=True))
    pairs = [p + c for p in "PQ" for c in "ABCD"] + ["AB", "CD"]
    tapes = tuple(Tape(p, p[0], p[1], round(math.dist(at[p[0]], at[p[1]]), 3)) for p in pairs)
    known = tuple(Station(p, *at[p]) for p in "PQ")
    found = adjust(tuple("ABCD"), tapes, known)
    assert found.polygon[2] == pytest.approx(QUAD[2], abs=0.002)
    assert found.dof == 2


def test_a_corner_along_a_straight_side_needs_a_tape_from_off_that_line() -> None:
    plan = ((0.0, 0.0), (3.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))
    with pytest.raises(InvalidInput, match="corner B held by tapes that lie in one line"):
        plan_of(plan, "AC", "AD", "CE")


def test_a_corner_along_a_straight_side_is_held_by_a_tape_from_off_that_line() -> None:
    plan = ((0.0, 0.0), (3.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))
    assert close_to(plan_of(plan, "AC", "AD", "CE", "BD").polygon, plan)


def test_thirty_corners_are_adjusted() -> None:
    plan = tuple(
        ((4 + i % 2) * math.cos(math.tau * i / 30), 5 * math.sin(math.tau * i / 30))
        for i in range(30)
    )
    chords = {"".join(sorted((NAMES[i], NAMES[(i + s) % 30]))) for i in range(30) for s in (2, 7)}
    assert close_to(plan_of(plan, *sorted(chords)).polygon, plan, 0.006)


def refused(*tapes: Tape, corners: str = "ABCD", fixed: tuple[Station, ...] = ()) -> str:
    with pytest.raises(InvalidInput) as caught:
        adjust(tuple(corners), tapes, fixed, where="survey.tapes")
    return str(caught.value)


def test_a_missing_diagonal_is_named() -> None:
    told = refused(*read(QUAD, *ring(4)))
    assert "survey.tapes: missing a diagonal: tape A-C or B-D" in told
    assert "5 distances" in told


def test_a_corner_that_hangs_on_its_two_sides_alone_is_given_a_diagonal() -> None:
    pentagon = ((0.0, 0.0), (4.0, -0.5), (6.0, 2.0), (4.0, 4.5), (0.5, 4.0))
    assert "missing a diagonal: tape A-D or B-D or B-E or C-E" in refused(
        *read(pentagon, *ring(5), "AC"), corners="ABCDE"
    )


def test_three_long_diagonals_of_a_hexagon_make_no_triangle() -> None:
    told = refused(*read(L_SHAPE, *ring(6), "AD", "BE", "CF"), corners="ABCDEF")
    assert "missing a diagonal: tape A-C" in told


def test_a_side_not_taped_is_named() -> None:
    assert "side C-D not taped" in refused(*read(QUAD, "AB", "BC", "DA", "AC", "BD"))


def test_a_triangle_that_cannot_close_names_its_tapes() -> None:
    told = refused(*read(QUAD[:3], *ring(3), wrong={"AB": 14.0}), corners="ABC")
    assert "cannot close: A-B 20.210 m, A-C" in told


def test_corners_out_of_order_are_seen_by_the_crossing_sides() -> None:
    mixed = (QUAD[0], QUAD[2], QUAD[1], QUAD[3])
    told = refused(*read(mixed, *ring(4), "AC", "BD"))
    assert "polygon crosses itself: sides A-B and C-D" in told


@pytest.mark.parametrize(
    ("tape", "said"),
    [
        (Tape("x", "A", "Z", 1.0), "tape x from A to Z"),
        (Tape("x", "A", "A", 1.0), "tape x from A to A"),
        (Tape("x", "A", "C", 0.0), "tape x of 0.0 m"),
        (Tape("x", "A", "C", math.nan), "tape x of nan m"),
        (Tape("x", "A", "C", 7.4, 0.0), "tape x good to 0.0 m"),
        (Tape("AB", "A", "C", 7.4), "tape AB named twice"),
    ],
)
def test_a_tape_that_is_no_reading_is_refused(tape: Tape, said: str) -> None:
    assert said in refused(*read(QUAD, *ring(4), "BD"), tape)


def test_corners_that_are_no_outline_are_refused() -> None:
    assert "2 corners" in refused(*read(QUAD, "AB"), corners="AB")
    assert "a corner named twice" in refused(*read(QUAD, "AB"), corners="ABCA")
    told = refused(*read(QUAD, "AB"), corners="BCD", fixed=(Station("A", 0, 0),))
    assert "one known point" in told


def test_a_corner_out_of_reach_of_the_known_points_is_named() -> None:
    known = (Station("A", 0.0, 0.0), Station("B", 6.21, 0.0))
    told = refused(*read(QUAD, "AD", "BD", "CD"), corners="ABCD", fixed=known)
    assert "missing a tape: tape B-C or A-C" in told


def test_a_round_bay_taped_as_a_fan_is_not_folded_up() -> None:
    plan = tuple(
        (5 * math.cos(math.tau * i / 11), 4 * math.sin(math.tau * i / 11)) for i in range(11)
    )
    found = plan_of(plan, *("A" + c for c in NAMES[2:10]))
    assert close_to(found.polygon, plan, 0.02)
    assert found.ambiguous  # nothing but the eye says so


def test_a_blunder_that_makes_a_folded_plan_fit_better_leaves_the_fold_open() -> None:
    found = plan_of(L_SHAPE, "AC", "AD", "BD", "BE", "CF", wrong={"CF": -0.19})
    assert found.detected
    assert found.ambiguous == ("E",)
    assert plan_of(L_SHAPE, "AC", "AD", "BD", "BE", "CF").ambiguous == ()


def test_a_chevron_whose_largest_taped_triangle_lies_outside_goes_anticlockwise() -> None:
    plan = ((0.0, 0.0), (6.0, 5.0), (5.5, 5.4), (0.0, 0.9), (-5.4, 5.5), (-6.1, 5.0))
    found = plan_of(plan, "BD", "DF", "AD", "CE")
    assert close_to(found.polygon, plan, 0.01)
    assert found.polygon[2][1] > 0


def test_a_straight_side_that_is_too_short_in_parts_is_loose_too() -> None:
    plan = ((0.0, 0.0), (3.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))
    told = refused(*read(plan, *ring(5), "AC", "AD", wrong={"AB": -0.003}), corners="ABCDE")
    assert "corner B held by tapes that lie in one line" in told
