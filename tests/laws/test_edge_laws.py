"""What holds at the edge of any roof: the detail done never loses more, thicker is never colder."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import edges

from evenfall.calc.physics.details import Abutment, Course, Edge, Parapet
from evenfall.calc.physics.edge_values import HEAT, MOULD, values

FEW = settings(max_examples=6, deadline=None)
LAID_OFF = 0.004  # how far the coarse mesh lets the coldest spot be out
boards = st.sampled_from([0.05, 0.083, 0.12, 0.16])
ways = st.sampled_from(["to", "along"])


def look(edge: Edge, films=HEAT):
    return values(edge, films, quick=True)


@FEW
@given(boards, ways, st.floats(0.0, 0.3), st.sampled_from([0.012, 0.041, 0.1]))
def test_a_filled_wall_head_never_loses_more_than_an_open_one(board, way, out, slot):
    over = edges.roof(board, way=way)
    found = []
    for state in ("open", "half", "filled"):
        edge = edges.eaves(state, over, out=round(out, 3))
        found.append(look(replace(edge, head=replace(edge.head, height=slot))))
    open_, half, filled = found
    assert filled.psi.low <= half.psi.high
    assert half.psi.low <= open_.psi.high
    assert filled.psi.best < open_.psi.best
    assert filled.factor >= open_.factor - LAID_OFF


@FEW
@given(boards, st.booleans())
def test_an_insulated_kerb_loses_less_and_is_warmer_inside(board, on_boards):
    over = edges.roof(board)
    bare, lined = (look(edges.kerb(done, on_boards, over)) for done in (False, True))
    assert lined.psi.high < bare.psi.low
    assert lined.factor > bare.factor


@FEW
@given(boards, ways)
def test_a_lined_parapet_never_loses_more(board, way):
    over = edges.roof(board, way=way)
    bare, lined = (look(Parapet(over, edges.wall(), 0.41, d)) for d in (None, edges.LINING))
    assert lined.coupling.low <= bare.coupling.high
    assert lined.psi.best < bare.psi.best


@pytest.mark.parametrize("films", [HEAT, MOULD], ids=["heat", "mould"])
@pytest.mark.parametrize(
    "make",
    [edges.eaves, lambda s, r: Abutment(r, edges.wall()), lambda s, r: edges.kerb(over=r)],
    ids=["eaves", "wall", "kerb"],
)
def test_a_thicker_board_never_gives_a_colder_inside_surface(make, films):
    factors = [look(make("filled", edges.roof(d)), films).factor for d in (0.05, 0.09, 0.13, 0.16)]
    assert all(b >= a - LAID_OFF for a, b in itertools.pairwise(factors))


@FEW
@given(st.sampled_from(["open", "filled"]), st.floats(1.1, 8.0))
def test_a_better_conductor_never_loses_less(state, times):
    """Rayleigh: whatever part conducts better, the whole section passes more heat."""
    edge = edges.eaves(state)
    leaves = tuple(
        Course(c.name, c.thickness, c.conductivity * times) if c.name == "inner leaf" else c
        for c in edge.wall.leaves
    )
    hot = replace(edge, wall=type(edge.wall)(leaves))
    assert look(hot).coupling.high > look(edge).coupling.low


@FEW
@given(boards, st.booleans())
def test_heat_passes_at_least_by_the_paths_that_a_hand_can_add(board, lined):
    """Cutting a section into strips that pass no heat between them never raises its heat."""
    edge = edges.kerb(lined, over=edges.roof(board))
    roof, t = edge.roof, edge.timber
    face = 0.13 + t / edges.WOOD + (edges.LINING.R if lined else 0.0) + 0.04
    strips = roof.U(HEAT) * (roof.cut - max(t, roof.joists.width)) + edge.above / face
    assert look(edge).coupling.high >= strips


def test_an_edge_that_is_no_edge_loses_nothing_more():
    """A party line whose timber is of the board and whose wall passes no heat is plane roof."""
    roof = edges.roof()
    plain = type(edges.EVERY["party line"])(
        roof, type(edges.wall())((Course("foam", 1e-3, 1e-9),)), 1e-4, 0.0222
    )
    found = look(plain)
    assert abs(found.psi.best) < 0.001
    assert found.factor == pytest.approx(1 - 0.10 * roof.U(HEAT), abs=1e-3)
