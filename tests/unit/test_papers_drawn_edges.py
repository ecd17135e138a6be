"""Edges in section: each edge once, two ways side by side, lines that agree with the field."""

from __future__ import annotations

import pytest
from tests.unit import edges

from evenfall.calc.physics.edge_picture import picture
from evenfall.calc.physics.edge_values import HEAT, MOULD, solved
from evenfall.drawing import Circle, Line, Text, to_svg
from evenfall.flow import DRAWINGS

SHARES = (0.3, 0.55, 0.8)


def test_far_from_the_edge_a_line_of_one_temperature_lies_where_the_courses_say():
    edge = edges.eaves()
    shown = picture(edge, HEAT, SHARES)
    roof, U = edge.roof, edge.roof.U(HEAT)
    for share, lines in zip(SHARES[:2], shown.isotherms, strict=False):
        ends = [p for line in lines for p in line if abs(p[0] - shown.window[1]) < 1e-6]
        into_board = (share / U - HEAT.outside) * roof.above[0].conductivity
        assert min(abs(z - (roof.top - into_board)) for _, z in ends) < 0.006


def test_heat_goes_from_the_room_up_through_the_roof_and_out_through_the_wall():
    edge = edges.eaves()
    ways = picture(edge, HEAT, SHARES).ways
    through_roof = [w for w in ways if w[0][0] > 0.3]
    through_wall = [w for w in ways if w[0][0] < 0.01]
    assert through_roof
    assert through_wall
    assert all(w[-1][1] > w[0][1] for w in through_roof)
    assert all(w[-1][0] < w[0][0] - 0.2 for w in through_wall)


@pytest.mark.parametrize("name", edges.EVERY)
def test_a_picture_keeps_to_its_window(name):
    shown = picture(edges.EVERY[name], MOULD, SHARES)
    x0, x1, z0, z1 = shown.window
    points = [p for lines in shown.isotherms for line in lines for p in line]
    points += [p for _, low, high in shown.parts for p in (low, high)]
    assert points
    assert all(x0 - 1e-9 <= x <= x1 + 1e-9 and z0 - 1e-9 <= z <= z1 + 1e-9 for x, z in points)


def test_a_line_of_one_temperature_passes_where_the_field_has_it():
    edge = edges.kerb()
    shown = picture(edge, HEAT, (0.6,))
    _, found = solved(edge.section(HEAT), quick=True)
    x, z = found.lines
    for px, pz in shown.isotherms[0][0]:
        i = min(max(int((x < px).sum()) - 1, 0), len(x) - 2)
        j = min(max(int((z < pz).sum()) - 1, 0), len(z) - 2)
        near = found.temperature[i : i + 2, j : j + 2]
        assert near.min() - 0.05 <= 0.6 <= near.max() + 0.05


def test_every_edge_is_drawn_and_one_that_can_be_done_in_two_ways_twice(worked_roof):
    drawn = DRAWINGS["edges"](worked_roof)
    heads = [d.title for d in drawn]
    assert heads[0] == "A-B, eaves: wall head filled"
    assert heads[1] == "A-B, eaves: wall head left open"
    assert len(set(heads)) == len(heads)
    for d in worked_roof.edge_details.details:
        name = d.id.partition(":")[2]
        assert any(name in head for head in heads)


def test_a_section_shows_the_coldest_spot_the_line_of_mould_and_says_what_it_shows(worked_roof):
    one = DRAWINGS["edges"](worked_roof)[0]
    items = [i for layer in one.layers for i in layer.items]
    state = worked_roof.edge_details.details[0].state
    assert [(i.x, i.y) for i in items if isinstance(i, Circle)] == [state.coldest]
    assert any(isinstance(i, Line) and i.dash == "limit" for i in items)
    words = [i.text for i in items if isinstance(i, Text)]
    assert any(w.startswith("mould ") for w in words)
    assert "coldest inside" in one.alt
    assert to_svg(one, 330).count("<path") > 20


@pytest.fixture(scope="module")
def worked_roof():
    from datetime import date

    from tests.unit import rooms

    from evenfall.flow import work_out
    from evenfall.model.case import Case

    return work_out(Case(rooms.job("rear-extension"), rooms.demo_rates(), date(2026, 11, 20)))
