"""An edge over every thickness: few exact answers, checked half-way; what is refused."""

from __future__ import annotations

from dataclasses import replace
from math import exp

import pytest
from tests.unit import edges

from evenfall.calc.physics.conduction import Bracket
from evenfall.calc.physics.edge_curves import FACTOR_SLACK, MOST, curve, shifted
from evenfall.calc.physics.edge_values import EdgeValues, values
from evenfall.errors import InvalidInput

STEPS = range(20, 260, 10)  # 24 thicknesses


def made(psi, factor=lambda t: 0.8, half=0.002):
    asked = []

    def values_of(t):
        asked.append(t)
        p = psi(t)
        return EdgeValues(Bracket(1, 1, 1), Bracket(p - half, p, p + half), factor(t), (0.0, 0.0))

    return values_of, asked


def test_a_smooth_edge_takes_five_answers_for_24_thicknesses():
    values_of, asked = made(lambda t: 0.2 + 0.1 * exp(-t / 200))
    found = curve(values_of, STEPS)
    assert (found.solves, found.sound, len(asked)) == (5, True, 5)
    assert all(abs(p.psi - (0.2 + 0.1 * exp(-p.thickness / 200))) < 0.002 for p in found.points)
    assert [p.thickness for p in found.points if p.exact] == sorted(asked)


def test_a_bent_edge_takes_more_answers_and_never_more_than_eight():
    values_of, asked = made(lambda t: 0.2 + 0.1 * exp(-t / 12), half=1e-4)
    found = curve(values_of, STEPS)
    assert 5 < found.solves <= MOST
    assert len(asked) == len(set(asked)) == found.solves


def test_a_curve_that_eight_answers_do_not_settle_says_so():
    values_of, _ = made(lambda t: 0.2 + 0.05 * (t % 40 > 15), half=1e-5)
    assert not curve(values_of, STEPS).sound


def test_a_coldest_spot_off_the_curve_is_seen_too():
    values_of, _ = made(lambda t: 0.2, lambda t: 0.7 + 0.1 * (t > 150))
    assert curve(values_of, STEPS).solves > 5
    slight, _ = made(lambda t: 0.2, lambda t: 0.7 + FACTOR_SLACK / 3 * (t > 150))
    assert curve(slight, STEPS).solves == 5


def test_the_curve_makes_no_hump_between_exact_answers():
    values_of, _ = made(lambda t: 0.3 if t < 130 else 0.2, half=0.2)
    found = curve(values_of, STEPS)
    assert all(0.2 <= p.psi <= 0.3 for p in found.points)


@pytest.mark.parametrize("steps", [[50], [50, 60], [50, 60, 80]])
def test_few_thicknesses_are_all_exact(steps):
    values_of, _ = made(lambda t: 0.01 * t)
    found = curve(values_of, steps)
    assert all(p.exact for p in found.points)
    assert found.at(steps[-1]).psi == pytest.approx(0.01 * steps[-1])


@pytest.mark.parametrize(("steps", "most"), [([], 8), ([60, 50], 8), ([50, 50], 8), ([50, 60], 2)])
def test_thicknesses_that_do_not_rise_are_refused(steps, most):
    with pytest.raises(InvalidInput, match="edge curve"):
        curve(made(lambda t: 0.1)[0], steps, most)


def test_a_thickness_that_is_not_sold_is_refused():
    with pytest.raises(InvalidInput, match="thickness 55"):
        curve(made(lambda t: 0.1)[0], [50, 60]).at(55)


def test_a_real_edge_read_from_the_curve_lies_in_the_bracket_of_the_exact_answer():
    def solve(mm):
        return values(edges.eaves("filled", edges.roof(mm / 1000)), quick=True)

    found = curve(solve, range(50, 170, 10))
    assert found.sound
    read = next(p for p in found.points if not p.exact)
    exact = solve(read.thickness)
    assert exact.psi.low <= read.psi <= exact.psi.high
    assert read.factor == pytest.approx(exact.factor, abs=FACTOR_SLACK)


def test_an_edge_that_differs_in_its_overhang_is_moved_by_one_answer():
    def solve(out):
        return lambda mm: values(
            replace(edges.eaves("filled", edges.roof(mm / 1000)), out=out), quick=True
        )

    moved = shifted(curve(solve(0.096), range(60, 170, 20)), solve(0.03))
    assert moved.solves == 1
    for mm in (60, 160):
        assert moved.at(mm).low <= solve(0.03)(mm).psi.best <= moved.at(mm).high
