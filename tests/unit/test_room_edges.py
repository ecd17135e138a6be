"""The edges room: what each edge loses, the whole roof, the coldest spot, and what details do."""

from dataclasses import replace

import pytest
from tests.unit import rooms
from tests.unit.plans import one

from evenfall.calc.physics.details import Wall
from evenfall.calc.physics.edge_values import values
from evenfall.errors import InvalidInput
from evenfall.stages.design.edge_parts import wall_of
from evenfall.standards import edge_practice

EXTENSION = rooms.job("rear-extension")
GARAGE = rooms.job("garage")
COURTYARD = rooms.job("courtyard")


def worked(job=EXTENSION, **changes: object):
    return rooms.designed(rooms.changed(job, **changes)).edges


def by_id(edges):
    return {e.id: e for e in edges.edges}


def test_each_side_and_each_rooflight_is_an_edge_with_the_length_of_its_inner_face():
    w = rooms.designed(EXTENSION)
    listed = {e.id: e.length_m for e in w.edges.edges}
    assert list(listed) == [*(s.id for s in w.plan.sides), "opening:rooflight"]
    eaves_back, verge_back = 0.271 + 0.115 - 0.019, 0.275 + 0.058 - 0.020
    assert listed["side:B-C"] == pytest.approx(w.plan.side("B-C").length_m - eaves_back, abs=0.01)
    assert listed["side:C-D"] == pytest.approx(w.plan.side("C-D").length_m - verge_back, abs=0.01)
    kerb = 0.047
    assert listed["opening:rooflight"] == pytest.approx(2 * (1.16 + 0.94 - 4 * kerb))


def test_the_whole_roof_is_the_field_and_its_edges_and_each_has_its_share():
    found = worked()
    field = float(found.whole.of[0][2])
    at_edges = [e.psi.value * e.length_m for e in found.edges]
    assert found.whole.value == pytest.approx(field + sum(at_edges))
    shares = field / found.whole.value * 100 + sum(e.share_percent for e in found.edges)
    assert shares == pytest.approx(100)
    assert [row[0] for row in found.table.rows] == ["field", *(e.id[5:] for e in found.edges[:-1]),
                                                    "rooflight"]  # fmt: skip


def test_psi_lies_in_its_bracket_which_is_half_a_percent_of_the_heat_that_flows():
    for edge in worked().edges:
        assert edge.psi_low < edge.psi.value < edge.psi_high
        through = float(edge.psi.of[0][2])
        assert (edge.psi_high - edge.psi_low) / 2 <= 0.005 * through


def test_two_jobs_give_two_values():
    ours, theirs = (by_id(worked(j))["side:B-C"].psi.value for j in (EXTENSION, GARAGE))
    assert abs(ours - theirs) > 0.05


@pytest.mark.parametrize(
    ("do", "state", "codes"),
    [
        ("fill", "open", []), ("leave", "filled", []), ("leave", "part_filled", ["agree"]),
        ("leave", "open", ["agree"]),
    ],
)  # fmt: skip
def test_a_wall_head_that_stays_open_is_to_be_agreed(do, state, codes):
    found = worked(**{"design.wall_head": do, "survey.sides[A-B].wall_head.state": state})
    assert [f.level for f in found.findings if f.code == "wall-head-open"] == codes


def test_filling_the_wall_head_clears_it():
    job = rooms.changed(EXTENSION, **{"design.wall_head": "leave"})
    found = one(rooms.designed(job).edges.findings, "wall-head-open")
    mended = rooms.designed(rooms.cured(job, found)).edges.findings
    assert "wall-head-open" not in {f.code for f in mended}


def test_what_filling_is_worth_is_the_same_said_from_either_side():
    done = by_id(worked())["side:A-B"]
    left = by_id(worked(**{"design.wall_head": "leave"}))["side:A-B"]
    assert done.worth_w_k == pytest.approx(-left.worth_w_k, rel=0.02)
    assert done.worth_w_k == pytest.approx(
        (left.psi.value - done.psi.value) * done.length_m, rel=0.02
    )
    assert done.worth_pence > 0
    assert left.coldest_c < done.coldest_c


def test_an_edge_says_what_its_heat_hangs_on():
    said = {e.id: e.says for e in worked().edges}
    assert said["side:A-B"].startswith("eaves, wall head filled, cavity wall 271 mm")
    assert said["side:C-D"].startswith("wall abutment, against brick")
    assert "taken so" in said["side:C-D"]
    assert said["opening:rooflight"] == "rooflight kerb on the deck, kerb insulated"
    job = {"survey.openings[rooflight].stands_on": "boards", "design.rooflight_kerbs": "leave"}
    assert worked(**job).edges[-1].says == "rooflight kerb on the boards, kerb not insulated"


def test_a_kerb_left_bare_is_told_with_its_remedy():
    job = rooms.changed(EXTENSION, **{"design.rooflight_kerbs": "leave"})
    found = one(rooms.designed(job).edges.findings, "kerb-bare")
    assert found.value > 0.3
    mended = rooms.designed(rooms.cured(job, found)).edges.findings
    assert "kerb-bare" not in {f.code for f in mended}


def test_a_parapet_of_solid_brick_is_worth_insulating_and_the_boards_are_ordered():
    sides = {f"survey.sides[{s}].wall_thickness_mm": 215.0 for s in ("P-Q", "Q-R", "R-S")}
    found = by_id(worked(COURTYARD, **sides))["side:P-Q"]
    assert found.other_says == "parapet insulated"
    assert found.worth_w_k < 0
    assert found.other_coldest_c >= found.coldest_c
    job = rooms.changed(COURTYARD, **{"design.parapets": "insulate"})
    plain, lined = (rooms.taken_off(j).items.order for j in (COURTYARD, job))
    assert not [line for line in plain if "kerb-insulation" in line.id]
    assert [line for line in lined if "kerb-insulation" in line.id]


def test_mould_is_told_where_the_wall_is_too_cold_and_not_where_it_is_insulated():
    cold = worked(**{"survey.sides[B-C].wall_thickness_mm": 110.0})
    warm = worked(**{"survey.sides[B-C].wall_cavity": "filled"})
    assert "side:B-C" in {f.subject for f in cold.findings if f.code == "edge-mould"}
    assert "side:B-C" not in {f.subject for f in warm.findings if f.code == "edge-mould"}
    assert by_id(cold)["side:B-C"].f_rsi < by_id(warm)["side:B-C"].f_rsi


def test_an_open_wall_head_that_grows_mould_is_cured_by_filling_it():
    job = rooms.changed(
        EXTENSION, **{"design.wall_head": "leave", "survey.sides[A-B].wall_cavity": "filled"}
    )
    found = [f for f in rooms.designed(job).edges.findings if f.subject == "side:A-B"]
    assert {f.code for f in found} == {"wall-head-open", "edge-mould"}
    told = next(f for f in found if f.code == "edge-mould")
    assert told.remedy.changes[0].path == "design.wall_head"
    assert told.value < told.limit


def test_edges_built_alike_are_solved_once_and_others_moved_from_their_curve():
    w = rooms.designed(EXTENSION)
    solves = {c.id: c.solves for c in w.edge_curves.curves}
    assert solves["side:A-B"] <= 8
    assert solves["side:F-A"] == 1  # a verge like B-C, but for overhang and fascia
    assert solves["side:E-F"] == 1  # a wall like C-D, 8 mm thicker
    again = rooms.designed(
        rooms.changed(EXTENSION, **{"survey.sides[E-F].wall_thickness_mm": None})
    )
    points = {c.id: c.points for c in again.edge_curves.curves}
    assert points["side:C-D"] == points["side:E-F"]


def test_the_curves_hold_every_thickness_on_sale_and_agree_with_the_exact_answer():
    w = rooms.designed(EXTENSION)
    at = dict(w.edge_curves.at(w.rise.chosen_mm))
    assert {c.sound for c in w.edge_curves.curves} == {True}
    for edge in w.edges.edges:
        point = at[edge.id]
        assert point.low - 0.002 <= edge.psi.value <= point.high + 0.002
        assert point.f_rsi == pytest.approx(edge.f_rsi, abs=0.006)
    assert [p.thickness_mm for p in w.edge_curves.curves[0].points] == [
        r.thickness_mm for r in w.rise.rows
    ]


def test_a_moved_curve_holds_at_both_ends():
    w = rooms.designed(EXTENSION)
    edges, roofs = w.seen["edge_curves"]
    given = next(e.given for e in edges if e.id == "side:F-A")
    points = next(c.points for c in w.edge_curves.curves if c.id == "side:F-A")
    for n in (0, -1):
        exact = values(given.edge(roofs[n][1]))
        assert points[n].low <= exact.psi.best <= points[n].high


def test_a_wall_is_built_from_what_was_measured():
    side = next(s for s in EXTENSION.survey.sides if s.side == "A-B")

    def of(**changes):
        return wall_of(side.model_copy(update=changes))

    found, says = of()
    assert [c.name for c in found.leaves] == ["outer leaf", "cavity", "inner leaf", "plaster"]
    assert found.thickness == pytest.approx(0.271)
    assert "as its head" in says
    solid, _ = of(wall_thickness_mm=220.0)
    assert [c.name for c in solid.leaves] == ["brickwork", "plaster"]
    single, _ = of(wall_thickness_mm=103.0)
    assert [c.name for c in single.leaves] == ["brickwork"]
    filled, _ = of(wall_cavity="filled")
    assert isinstance(filled, Wall)
    assert sum(c.R for c in filled.leaves) > sum(c.R for c in found.leaves) + 1
    usual, says = of(wall_head=None)
    assert usual.thickness == pytest.approx(edge_practice.WALL_NOT_MEASURED)
    assert "taken so" in says


def test_a_filled_cavity_in_a_wall_without_one_is_refused_by_its_key():
    side = next(s for s in GARAGE.survey.sides if s.side == "A-B")
    with pytest.raises(InvalidInput, match=r"survey.sides\[A-B\].wall_cavity"):
        wall_of(side.model_copy(update={"wall_cavity": "filled"}))


def test_a_slot_higher_than_the_joists_are_deep_is_refused():
    with pytest.raises(InvalidInput, match="wall head"):
        worked(**{"survey.sides[A-B].wall_head.slot_height_mm": 320.0})


def test_a_side_shorter_than_its_walls_are_thick_is_counted_along_the_deck():
    from evenfall.stages.design.edges import inner_faces

    w = rooms.designed(EXTENSION)
    thick = tuple(replace(d, out_m=2.9) for d in w.edge_details.details)
    lengths, area = inner_faces(tuple((d.id, d.out_m) for d in thick), w.plan)
    assert lengths["side:A-B"] == w.plan.side("A-B").length_m
    assert area < w.plan.gross.value


def test_the_worth_of_a_wall_head_is_the_least_that_it_can_be():
    left = one(worked(**{"design.wall_head": "leave"}).findings, "wall-head-open")
    assert "at least" in left.says
    assert "Wind" in left.says


def test_a_room_too_damp_is_not_told_to_insulate_a_wall_that_is_not_there():
    found = worked(**{"survey.below.humidity_class": 5}).findings
    told = {f.subject: f.remedy.says for f in found if f.code == "edge-mould"}
    assert "wall" not in told["opening:rooflight"]
    assert "wall" not in told["side:D-E"]
    assert "insulate the wall" in told["side:B-C"]


def test_a_parapet_that_the_roof_grows_past_is_to_be_built_up():
    low = {"survey.sides[P-Q].parapet_height_mm": 20.0}
    told = [f for f in worked(COURTYARD, **low).findings if f.code == "parapet-low"]
    assert [f.subject for f in told] == ["side:P-Q"]
    by = f"Build it up by {-told[0].value:.0f} mm"
    assert told[0].remedy.says.startswith(by)
    mended = {"survey.sides[P-Q].parapet_height_mm": 20.0 - told[0].value}
    assert "parapet-low" not in {f.code for f in worked(COURTYARD, **mended).findings}
