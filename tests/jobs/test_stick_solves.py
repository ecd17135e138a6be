"""The rise stick counts its exact solves: few to each edge, none where nothing hot changed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit import rooms

from evenfall.flow import work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.stages.design import edge_curves, edge_details

MOST = 8  # exact solves of one edge over the whole stick
NAMES = ("rear-extension", "garage", "courtyard")


@pytest.fixture
def solves(monkeypatch) -> list[str]:
    """Count every answer that is worked in two dimensions."""
    made: list[str] = []
    for module in (edge_curves, edge_details):
        plain = module.values

        def counted(*args, plain=plain, where=module.__name__, **more):
            made.append(where)
            return plain(*args, **more)

        monkeypatch.setattr(module, "values", counted)
    return made


@pytest.mark.parametrize("name", NAMES)
def test_no_edge_takes_more_than_eight_exact_solves(name, worked):
    found = worked[name].edge_curves.curves
    assert found
    assert max(c.solves for c in found) <= MOST
    assert all(len(c.points) == len(worked[name].rise.rows) for c in found)


def test_a_stick_of_24_steps_takes_no_more(solves):
    sizes = [
        {"thickness_mm": mm, "lambda_w_mk": 0.0233 if mm < 90 else 0.0224, "price_pence": 30 * mm}
        for mm in range(50, 170, 5)
    ]
    board = rooms.demo_rates().boards[0].model_dump(mode="json") | {"sizes": sizes}
    w = rooms.designed(rooms.job("garage"), rooms.rates_with(boards=[board]))
    assert len(w.rise.rows) == 24
    assert max(c.solves for c in w.edge_curves.curves) <= MOST
    over_stick = sum(where.endswith("edge_curves") for where in solves)
    assert over_stick == sum(c.solves for c in w.edge_curves.curves) > 0


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("survey.heights[house-cable].above_covering_mm", 871.0),
        ("crew.people", 1),
        ("survey.covering.laid_year", 1988),
    ],
)
def test_nothing_is_solved_where_no_heat_changed(path, value, cases, worked, solves):
    case = cases["garage"]
    job = apply(case.job, (Change(path, value),))
    assert work_out(replace(case, job=job), worked["garage"]).worked
    assert solves == []


def test_a_price_solves_nothing_and_a_thicker_ceiling_does(cases, worked, solves):
    case, base = cases["garage"], worked["garage"]
    terms = case.rates.terms.model_copy(update={"heat_price_pence_kwh": 9.1})
    dearer = replace(case, rates=case.rates.model_copy(update={"terms": terms}))
    again = work_out(dearer, base)
    assert again.rise.rows[-1].payback_years != base.rise.rows[-1].payback_years
    assert solves == []
    job = apply(case.job, (Change("survey.below.ceiling_mm", 15),))
    work_out(replace(case, job=job), base)
    assert solves


@pytest.mark.parametrize("name", NAMES)
def test_the_stick_agrees_with_the_exact_answer_at_the_step_taken(name, worked):
    """Each edge within its own bracket; the whole roof within the sum of them."""
    w = worked[name]
    exact = {d.id: d.state for d in w.edge_details.details}
    lost = {e.id: e.length_m for e in w.edges.edges}
    wide = 0.0
    for id_, point in w.edge_curves.at(w.rise.chosen_mm):
        state = exact[id_]
        reach = max(point.high - point.low, state.high - state.low)
        assert abs(point.psi - state.psi.value) <= reach + 1e-9, id_
        wide += reach * lost[id_]
    area = float({s: v for s, _, v in w.edges.whole.of[0][2].of}["A"])
    assert w.rise.row.u_edges is not None
    assert w.rise.row.u_edges == pytest.approx(w.edges.whole.value / area, abs=wide / area + 1e-9)
