"""Heat flow: our solver beside scikit-fem, beside closed forms, and beside itself on finer meshes.

The witness sees the same boxes and airs, makes its own mesh and its own integrals.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.sparse.linalg import spsolve
from skfem import (
    Basis,
    BilinearForm,
    ElementHex1,
    ElementQuad1,
    ElementQuad2,
    FacetBasis,
    Functional,
    LinearForm,
    MeshHex,
    MeshQuad,
)
from skfem.helpers import dot, grad
from skfem.mapping import MappingIsoparametric

from evenfall.calc.physics.conduction import (
    Box,
    Detail,
    Surround,
    elements,
    finite_volume,
    mesh,
    solve,
)


class Mapping(MappingIsoparametric):
    """The witness seeks places on facets to 1e-12 of a cell, which long thin cells cannot give."""

    def invF(self, x, tind=None, newton_max_iters=50, newton_tol=1e-8):
        return super().invF(x, tind, newton_max_iters, newton_tol)


def witness(detail, lines, element):
    """Work out the heat of each air with scikit-fem on a mesh of the given lines."""
    make = MeshQuad.init_tensor if detail.dimensions == 2 else MeshHex.init_tensor
    full = make(*lines)
    middle = full.p[:, full.t].mean(axis=1)

    def inside(part, at):
        ends = zip(part.lower, part.upper, at, strict=True)
        return np.all([(lo - 1e-9 < x) & (x < up + 1e-9) for lo, up, x in ends], axis=0)

    k = np.zeros(middle.shape[1])
    for box in detail.boxes:
        k[inside(box, middle)] = box.conductivity
    solid = full.restrict(np.flatnonzero(k > 0))
    k = k[k > 0]
    basis = Basis(solid, element)
    matrix = BilinearForm(lambda u, v, w: w.k * dot(grad(u), grad(v))).assemble(
        basis, k=np.repeat(k[:, None], basis.X.shape[-1], axis=1)
    )
    edge = solid.boundary_facets()
    where = solid.p[:, solid.facets[:, edge]].mean(axis=1)
    places = Mapping(solid, solid.elem(), solid.bndelem)
    right, films = np.zeros(matrix.shape[0]), []
    for air in detail.surrounds:
        touched = edge[inside(air, where)]
        if touched.size:
            part = FacetBasis(solid, element, mapping=places, facets=touched)
            h = 1 / air.resistance
            matrix = matrix + BilinearForm(lambda u, v, w, h=h: h * u * v).assemble(part)
            right += LinearForm(lambda v, w, g=h * air.temperature: g * v).assemble(part)
            films.append((air, part))
    temperature = spsolve(matrix.tocsc(), right)
    heat = dict.fromkeys(detail.names, 0.0)
    for air, part in films:
        gap = Functional(lambda w, t=air.temperature: t - w.u)
        heat[air.name] += gap.assemble(part, u=part.interpolate(temperature)) / air.resistance
    return heat


def graded(lines, cells):
    """Crowd the lines towards the ends of each gap; not the rule that our solver uses."""
    share = (1 - np.cos(np.pi * np.arange(cells) / cells)) / 2
    return [np.r_[(x[:-1, None] + np.diff(x)[:, None] * share).ravel(), x[-1]] for x in lines]


conductivities = st.sampled_from([0.022, 0.04, 0.13, 0.25, 0.77, 2.3, 17.0, 160.0])
gaps = st.integers(12, 400).map(lambda mm: mm / 1000)  # the witness loses digits in thinner ones


@st.composite
def details(draw):
    """A patchwork of unequal blocks with a step cut out, between two or three airs."""
    x = np.r_[0.0, np.cumsum(draw(st.lists(gaps, min_size=2, max_size=3)))]
    y = np.r_[0.0, np.cumsum(draw(st.lists(gaps, min_size=2, max_size=3)))]
    boxes = []
    for i in range(len(x) - 1):
        for j in range(len(y) - 1):
            if (i, j) == (0, len(y) - 2) and draw(st.booleans()):
                continue  # a void in the corner
            lower, upper = (float(x[i]), float(y[j])), (float(x[i + 1]), float(y[j + 1]))
            boxes.append(Box(f"block {i}{j}", lower, upper, draw(conductivities)))
    w, h = float(x[-1]), float(y[-1])
    R = st.sampled_from([0.04, 0.10, 0.13, 0.17])
    airs = [
        Surround("below", (0.0, -1.0), (w, 0.0), 20.0, draw(R)),
        Surround("above", (float(x[1]), h), (w, h + 1.0), -4.0, draw(R)),
    ]
    if draw(st.booleans()):
        airs.append(Surround("beside", (w, 0.0), (w + 1.0, float(y[1])), 8.0, draw(R)))
    return Detail(tuple(boxes), tuple(airs))


MOST = 6000
"""Cells; where four materials of very unlike kinds meet in a point no mesh closes the bracket."""


@settings(max_examples=15, deadline=None)
@given(details())
def test_heat_of_a_finer_witness_lies_in_the_bracket(detail):
    """As far as the witness is sure of itself: twice what its own refinement still changes."""
    found = solve(detail, accuracy=0.02, most_cells=MOST)
    lines = mesh.part_lines(detail)
    before, other = (witness(detail, graded(lines, n), ElementQuad2()) for n in (5, 9))
    for name, flow in found.flows.items():
        slack = 2 * abs(other[name] - before[name]) + 1e-9 * found.heat.best
        assert flow.low - slack <= other[name] <= flow.high + slack


@settings(max_examples=15, deadline=None)
@given(details())
def test_elements_of_the_witness_on_our_mesh_give_our_upper_bound(detail):
    found = solve(detail, accuracy=0.2, most_cells=MOST)
    t = np.array(detail.temperatures)
    other = witness(detail, found.lines, ElementQuad1())
    for name, ours in zip(detail.names, found.upper @ t, strict=True):
        assert other[name] == pytest.approx(ours, rel=1e-6, abs=1e-6 * found.heat.best)


@settings(max_examples=15, deadline=None)
@given(details())
def test_brackets_of_finer_meshes_lie_in_those_of_coarser_ones(detail):
    coarse = solve(detail, accuracy=0.2, most_cells=MOST)
    fine = solve(detail, accuracy=0.005, most_cells=MOST)
    slack = 1e-8 * fine.heat.best
    for name, flow in fine.flows.items():
        before = coarse.flows[name]
        assert before.low - slack <= flow.best <= before.high + slack
        assert not fine.met or flow.half_width <= 0.005 * fine.heat.best + slack


@settings(max_examples=15, deadline=None)
@given(details())
def test_for_every_set_of_temperatures_the_elements_lose_more_than_the_volumes(detail):
    found = solve(detail, accuracy=0.1, most_cells=MOST)
    least = np.linalg.eigvalsh(found.upper - found.lower).min()
    assert least >= -1e-8 * abs(found.upper).max()


BLOCK = Detail(
    (
        Box("block", (0.0, 0.0, 0.0), (0.3, 0.2, 0.15), 0.6),
        Box("bar", (0.1, 0.05, 0.0), (0.13, 0.09, 0.15), 17.0),
    ),
    (
        Surround("in", (0.0, 0.0, -0.1), (0.3, 0.2, 0.0), 20.0, 0.10),
        Surround("out", (0.0, 0.0, 0.15), (0.3, 0.2, 0.3), 0.0, 0.04),
        Surround("side", (0.3, 0.0, 0.05), (0.4, 0.2, 0.15), 5.0, 0.13),
    ),
)


def test_elements_of_the_witness_in_three_dimensions_give_our_upper_bound():
    found = solve(BLOCK, accuracy=0.05)
    other = witness(BLOCK, found.lines, ElementHex1())
    for name, ours in zip(BLOCK.names, found.upper @ BLOCK.temperatures, strict=True):
        assert other[name] == pytest.approx(ours, rel=1e-7)


def pair(detail, lines):
    """Solve on one mesh both ways: conductance between the first air and the rest."""
    painted = mesh.painted(detail, lines)
    lower, _ = finite_volume.solved(finite_volume.network(detail, painted))
    system = elements.assembled(detail, painted)
    upper = system.between(elements.solved(system))
    return lower[0, 0], upper[0, 0]


def uniform(detail, parts):
    lines = mesh.part_lines(detail)
    return tuple(mesh.divided(x, np.full(len(x) - 1, parts)) for x in lines)


def order(detail, parts=(16, 32)):
    """Observed order of the width of the bracket, from one mesh to that of half the width."""
    coarse, fine = (pair(detail, uniform(detail, n)) for n in parts)
    return math.log2((coarse[1] - coarse[0]) / (fine[1] - fine[0]))


SQUARE = Detail(
    (Box("square", (0.0, 0.0), (1.0, 1.0), 1.0),),
    (
        Surround("cold", (0.0, -1.0), (1.0, 0.0), 0.0, 0.5),
        Surround("warm", (-1.0, 0.0), (0.0, 1.0), 20.0, 0.5),
    ),
)


def square_exact():
    """Sum the series of a square with films on two sides that meet.

    Between the mean of both airs and half their difference: the field is odd about the diagonal.
    Solved by separation along x, with the other air as a film at the far end of each mode.
    """
    h, modes = 2.0, 400
    # eigenvalues of -u'' on (0, 1): u'(1) = 0, u'(0) = h u(0): b tan b = h
    b = np.array([_root(n, h) for n in range(modes)])
    # unit warm air at x = 0, cold films at y = 0: T = sum c_n X(x) cos(b_n (1 - y))
    norm = (1 + np.sin(2 * b) / (2 * b)) / 2
    mean = np.sin(b) / b
    c = mean / norm  # 1 as a series in y
    # along x each mode: (film 1/h at x = 0, warm) then tanh: g = h b tanh b / (h + b tanh b)
    g = h * b * np.tanh(b) / (h + b * np.tanh(b))
    return float(np.sum(c * mean * g))


def _root(n, h):
    return brentq(lambda x: x * math.sin(x) - h * math.cos(x), n * math.pi, (n + 0.5) * math.pi)


@pytest.mark.parametrize("side", [0, 1])
def test_order_of_both_bounds_is_2_where_the_field_is_smooth(side):
    coarse, fine = (pair(SQUARE, uniform(SQUARE, n))[side] - square_exact() for n in (16, 32))
    assert math.log2(coarse / fine) == pytest.approx(2, abs=0.1)


def test_both_bounds_of_a_smooth_field_enclose_the_series():
    low, high = pair(SQUARE, uniform(SQUARE, 8))
    assert low < square_exact() < high


CORNER = Detail(
    (Box("one leg", (0.0, 0.0), (3.0, 1.0), 1.0), Box("other leg", (0.0, 1.0), (1.0, 3.0), 1.0)),
    (
        Surround("in", (1.0, 1.0), (3.0, 3.0), 1.0, 0.0),
        Surround("out", (0.0, -1.0), (3.0, 0.0), 0.0, 0.0),
        Surround("out", (-1.0, 0.0), (0.0, 3.0), 0.0, 0.0),
    ),
)


def test_order_at_a_corner_that_points_inwards_is_4_thirds():
    """The field goes as r to the 2/3 there, the energy as its square."""
    assert order(CORNER) == pytest.approx(4 / 3, abs=0.1)


def test_a_detail_drawn_out_in_the_third_direction_loses_the_same_to_the_metre():
    def out(part):
        return replace(part, lower=(*part.lower, 0.0), upper=(*part.upper, 0.7))

    flat = Detail(
        (
            Box("wall", (0.0, 0.0), (0.2, 0.5), 0.77),
            Box("deck", (0.0, 0.5), (0.8, 0.55), 0.13),
            Box("board", (0.1, 0.55), (0.8, 0.67), 0.022),
        ),
        (
            Surround("in", (0.2, 0.0), (0.8, 0.5), 20.0, 0.10),
            Surround("out", (0.1, 0.67), (0.8, 0.8), 0.0, 0.04),
            Surround("out", (-0.2, 0.0), (0.0, 0.6), 0.0, 0.04),
        ),
    )
    solid = Detail(tuple(map(out, flat.boxes)), tuple(map(out, flat.surrounds)))
    lines = mesh.graded(mesh.part_lines(flat), 4)
    deep = (*lines, np.array([0.0, 0.1, 0.7]))
    assert pair(solid, deep) == pytest.approx([0.7 * x for x in pair(flat, lines)], rel=1e-8)
