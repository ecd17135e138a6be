"""The edges room: every edge with its length, and wall heads left open."""

import pytest
from tests.unit import rooms
from tests.unit.plans import one

EXTENSION = rooms.job("rear-extension")


def worked(**changes: object):
    return rooms.designed(rooms.changed(EXTENSION, **changes)).edges


def test_each_side_and_each_rooflight_is_an_edge_with_its_length():
    w = rooms.designed(EXTENSION)
    listed = {e.id: e.length_m for e in w.edges.edges}
    assert list(listed) == [*(s.id for s in w.plan.sides), "opening:rooflight"]
    assert listed["side:B-C"] == pytest.approx(3.047, abs=0.01)
    assert listed["opening:rooflight"] == pytest.approx(2 * (1.16 + 0.94))


def test_a_kerb_says_what_it_stands_on():
    job = {"survey.openings[rooflight].stands_on": "boards"}
    assert worked().edges[-1].says == "rooflight kerb on the deck"
    assert worked(**job).edges[-1].says == "rooflight kerb on the boards"


def test_the_reason_for_no_psi_value_is_given():
    assert "ISO 10211" in worked().why_empty


@pytest.mark.parametrize(
    ("do", "state", "told"),
    [
        ("fill", "open", 0), ("leave", "filled", 0), ("leave", "part_filled", 1),
        ("leave", "open", 1),
    ],
)  # fmt: skip
def test_an_open_wall_head_that_stays_open_is_to_be_agreed(do, state, told):
    found = worked(**{"design.wall_head": do, "survey.sides[A-B].wall_head.state": state})
    assert [(f.code, f.level) for f in found.findings] == [("wall-head-open", "agree")] * told


def test_filling_the_wall_head_clears_it():
    job = rooms.changed(EXTENSION, **{"design.wall_head": "leave"})
    found = one(rooms.designed(job).edges.findings, "wall-head-open")
    assert rooms.designed(rooms.cured(job, found)).edges.findings == ()


def test_an_edge_says_what_its_heat_hangs_on():
    said = {e.id: e.says for e in worked().edges}
    assert said["side:A-B"] == "eaves, wall head 41 × 271 mm filled"
    assert said["side:C-D"] == "wall abutment, against brick"
    left = {e.id: e.says for e in worked(**{"design.wall_head": "leave"}).edges}
    assert left["side:A-B"].endswith("left open")
