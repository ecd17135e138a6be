"""The plan room: areas, faces, openings and what the tapes say of each other."""

from math import dist, hypot, pi

import pytest
from tests.unit import rooms
from tests.unit.plans import codes, one

from evenfall.errors import InvalidInput
from evenfall.model.job import Opening, Side, Tape
from evenfall.model.surveyed import Plan
from evenfall.stages.survey import plan

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


@pytest.mark.parametrize(("along_m", "told"), [(4.59, []), (4.61, ["opening-outside"])])
def test_an_opening_past_the_edge_is_stopped(along_m, told):
    found = worked(openings=(ROOFLIGHT.model_copy(update={"along_m": along_m}),))
    assert codes(found.findings) == told


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
