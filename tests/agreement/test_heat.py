"""Heat: each formula beside a second way of working it out."""

import numpy as np
import pytest
from numpy.polynomial.legendre import leggauss

from evenfall.calc.physics import tapered
from evenfall.calc.physics.transmittance import Bridge, Layer, combined_method

NODES, WEIGHTS = (x / 2 for x in leggauss(40))
NODES = NODES + 0.5  # on 0 to 1


def integral_over_rectangle(R0, R1):
    """Mean of 1/R over the length."""
    return float(np.sum(WEIGHTS / (R0 + R1 * NODES)))


def integral_over_triangle(R0, R1, R2):
    """Mean of 1/R over a triangle whose corners have R0, R0 + R1 and R0 + R2."""
    x = NODES[:, None]  # away from the first corner
    y = NODES[None, :]  # across
    R = R0 + x * (R1 + (R2 - R1) * y)
    return float(np.sum(WEIGHTS[:, None] * WEIGHTS[None, :] * 2 * x / R))


CASES = [(1.24, 1.6, 3.2), (3.085, 0.71, 3.03), (0.36, 0.002, 0.003), (2.5, 0.0, 4.1)]


@pytest.mark.parametrize(("R0", "R1", "R2"), CASES)
def test_triangle_is_the_integral_of_its_conductance(R0, R1, R2):
    witness = integral_over_triangle(R0, R1, R2)
    assert tapered.corners_differ(R0, R1, R2) == pytest.approx(witness, rel=1e-13)


@pytest.mark.parametrize(("R0", "R1", "_"), CASES)
def test_rectangle_is_the_integral_of_its_conductance(R0, R1, _):
    assert tapered.rectangle(R0, R1) == pytest.approx(integral_over_rectangle(R0, R1), rel=1e-13)


@pytest.mark.parametrize(("R0", "R1"), [(1.24, 3.2), (3.085, 0.71), (0.5, 0.01)])
def test_forms_of_the_annex_are_the_same_as_those_that_compute(R0, R1):
    for shape in ("rectangle", "thickest_at_apex", "thinnest_at_apex"):
        computed, printed = getattr(tapered, shape), getattr(tapered, f"{shape}_formula")
        assert computed(R0, R1) == pytest.approx(printed(R0, R1), rel=1e-10)


@pytest.mark.parametrize(("R0", "R1", "R2"), CASES[:2])
def test_general_form_of_the_annex_is_the_same_as_the_one_that_computes(R0, R1, R2):
    printed = tapered.corners_differ_formula(R0, R1, R2)
    assert tapered.corners_differ(R0, R1, R2) == pytest.approx(printed, rel=1e-12)


def test_limits_of_the_combined_method_enclose_a_network_of_resistances():
    """Half-way between: the joined nodes of a network with a cross-link of middling resistance."""
    f, outer, wool, wood, inner, link = 0.1, 1.3, 2.4, 0.8, 0.9, 0.5
    joists = Bridge("joists", f, resistance=wood)
    roof = [
        Layer("outer", resistance=outer),
        Layer("quilt", resistance=wool, bridge=joists),
        Layer("inner", resistance=inner),
    ]
    found = combined_method(roof, R_si=0.0, R_se=0.0)
    # nodes: outside of wool, of wood; inside of wool, of wood; cold side 0, warm side 1
    a, b = 1 - f, f
    links = [(0, 1, 1 / link), (2, 3, 1 / link), (0, 2, a / wool), (1, 3, b / wood)]
    matrix, source = np.zeros((4, 4)), np.zeros(4)
    for i, j, g in links:
        matrix[[i, j], [i, j]] += g
        matrix[[i, j], [j, i]] -= g
    for i, g in ((0, a / outer), (1, b / outer)):
        matrix[i, i] += g
    for i, g in ((2, a / inner), (3, b / inner)):
        matrix[i, i] += g
        source[i] += g
    theta = np.linalg.solve(matrix, source)
    R = 1 / (a / outer * theta[0] + b / outer * theta[1])
    assert found.R_lower < R < found.R_upper
