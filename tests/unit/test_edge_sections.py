"""Sections of edges: parts that neither overlap nor leave a gap, flanks, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from tests.unit import edges
from tests.unit.edges import EVERY

from evenfall.calc.physics.conduction import Box
from evenfall.calc.physics.details import Course, Head, Parapet, Timbers, Wall
from evenfall.calc.physics.details.parts import section
from evenfall.calc.physics.edge_values import HEAT, MOULD
from evenfall.errors import InvalidInput


def area(part):
    return (part.upper[0] - part.lower[0]) * (part.upper[1] - part.lower[1])


def shared(a, b):
    width = min(a.upper[0], b.upper[0]) - max(a.lower[0], b.lower[0])
    height = min(a.upper[1], b.upper[1]) - max(a.lower[1], b.lower[1])
    return max(width, 0.0) * max(height, 0.0)


@pytest.mark.parametrize("name", EVERY)
def test_no_part_of_a_section_lies_in_another(name):
    boxes = EVERY[name].section(HEAT).detail.boxes
    assert [(a.name, b.name) for a, b in combinations(boxes, 2) if shared(a, b) > 1e-9] == []


@pytest.mark.parametrize("name", EVERY)
def test_a_section_has_no_gap_between_deck_and_surface(name):
    """From the cut to the wall every height of the roof is filled, once."""
    edge = EVERY[name]
    boxes = edge.section(HEAT).detail.boxes
    x = edge.roof.cut - 0.01
    column = sorted((b.lower[1], b.upper[1]) for b in boxes if b.lower[0] < x < b.upper[0])
    assert column[0][0] == pytest.approx(edge.roof.inside)
    assert column[-1][1] == pytest.approx(edge.roof.top)
    assert all(a[1] == pytest.approx(b[0]) for a, b in pairwise(column))


@pytest.mark.parametrize("name", EVERY)
def test_a_section_is_cut_a_metre_away_or_three_times_as_far_as_it_is_thick(name):
    edge = EVERY[name]
    thick = replace(edge, roof=edges.roof(0.29))
    for one in (edge, thick):
        far = max(b.upper[0] for b in one.section(HEAT).detail.boxes)
        assert far == pytest.approx(max(1.0, 3 * (one.roof.top - one.roof.inside)))


def test_the_flanks_are_of_the_same_courses_and_films():
    roof, wall = edges.roof(), edges.wall()
    flanks = {f.name: f for f in edges.eaves().section(HEAT).flanks}
    between = 1 / (0.047 / 0.402 * 0.13 + (1 - 0.047 / 0.402) * 0.171 / 0.16) * 0.171
    by_hand = 0.10 + 0.123 / 0.0222 + 0.019 / 0.13 + between + 0.0125 / 0.25 + 0.04
    assert pytest.approx(1 / by_hand) == flanks["roof"].U
    assert (
        pytest.approx(0.13 + 0.1025 / 0.77 + 0.053 / 0.29 + 0.104 / 0.56 + 0.013 / 0.4 + 0.04)
        == 1 / flanks["wall"].U
    )
    damp = {f.name: f.U for f in edges.eaves().section(MOULD).flanks}
    assert damp["roof"] == pytest.approx(1 / (by_hand + 0.15))
    assert flanks["roof"].length == roof.cut
    assert flanks["wall"].length == wall.cut


def test_a_joist_along_the_edge_is_drawn_and_one_to_it_is_spread():
    along = edges.eaves(None, edges.roof(way="along")).section(HEAT).detail.boxes
    to = edges.eaves(None, edges.roof(way="to")).section(HEAT).detail.boxes
    joist = next(b for b in along if b.name == "joist")
    assert joist.upper[0] - joist.lower[0] == pytest.approx(0.047)
    assert "joist" not in {b.name for b in to}


def test_outside_air_fills_an_open_wall_head_as_far_as_the_inner_face():
    slots = {}
    for state in ("open", "half", "filled"):
        found = edges.eaves(state).section(HEAT).detail
        slots[state] = [
            s.upper[0] for s in found.surrounds
            if s.name == "outside" and s.resistance == HEAT.sheltered
        ]  # fmt: skip
    assert slots["open"] == [0.0]
    assert slots["half"] == [pytest.approx(-edges.wall().thickness / 2)]
    assert slots["filled"] == []


def test_a_kerb_stands_on_the_deck_or_on_the_boards():
    feet = {}
    for on_boards in (False, True):
        boxes = edges.kerb(on_boards=on_boards).section(HEAT).detail.boxes
        feet[on_boards] = next(b.lower[1] for b in boxes if b.name == "kerb")
    assert feet == {False: 0.0, True: pytest.approx(edges.roof().top)}


@pytest.mark.parametrize(("thickness", "lambda_"), [(0.0, 0.1), (-0.02, 0.1), (0.1, 0.0),
                                                    (0.1, -1.0), (float("nan"), 0.1),
                                                    (0.1, float("inf"))])  # fmt: skip
def test_a_course_without_thickness_or_conductivity_is_refused_by_its_name(thickness, lambda_):
    with pytest.raises(InvalidInput, match="old cork"):
        Course("old cork", thickness, lambda_)


def test_parts_that_overlap_are_refused_and_both_are_named():
    boxes = [Box("deck", (0.0, 0.0), (1.0, 0.02), 0.13), Box("plinth", (0.9, 0.01), (1, 0.1), 0.77)]
    with pytest.raises(InvalidInput, match="plinth: lies in deck"):
        section(boxes, [], [])


def test_a_wide_edge_timber_in_a_narrow_roof_is_no_overlap_but_a_wide_joist_is_refused():
    with pytest.raises(InvalidInput, match="joists"):
        Timbers(0.5, 0.4, 0.13)
    with pytest.raises(InvalidInput, match="wall"):
        Wall(())


def test_a_slot_deeper_than_the_joists_is_refused():
    deep = replace(edges.eaves(), head=Head(0.25, 0.04, "filled"))
    with pytest.raises(InvalidInput, match=r"wall head: slot of 0\.25 m"):
        deep.section(HEAT)
    with pytest.raises(InvalidInput, match="wall head"):
        replace(deep, head=Head(-0.01, 0.04, "open")).section(HEAT)


def test_a_parapet_below_the_surface_is_refused():
    with pytest.raises(InvalidInput, match="parapet"):
        Parapet(edges.roof(), edges.wall(), 0.1).section(HEAT)


def test_a_kerb_below_the_surface_is_refused():
    with pytest.raises(InvalidInput, match="rooflight kerb"):
        replace(edges.kerb(), above=0.0).section(HEAT)
