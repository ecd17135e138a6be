"""Counts before ratios: which rooms an edit works again."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.entries import entry

from evenfall.flow import WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.logbook import Entry
from evenfall.rooms import ROOMS
from evenfall.stages.record.changed import changed

SOLVED = {"edge_curves", "edge_details"}
HEAT = {"thicknesses", "heat", "moisture", "edges", "drying"} | SOLVED
CUTTING = {"boards", "sheet", "rolls", "lengths"}


def edited(case: Case, path: str, value: object) -> Case:
    return replace(case, job=apply(case.job, (Change(path, value),)))


def priced(case: Case) -> Case:
    """Raise the price of every board by a pound."""
    boards = tuple(
        b.model_copy(
            update={
                "sizes": tuple(
                    s.model_copy(update={"price_pence": s.price_pence + 100}) for s in b.sizes
                )
            }
        )
        for b in case.rates.boards
    )
    return replace(case, rates=case.rates.model_copy(update={"boards": boards}))


def rooms(case: Case, base: WorkedJob) -> set[str]:
    return set(work_out(case, base).worked)


def test_working_a_job_again_unchanged_works_nothing(cases, worked):
    assert rooms(cases["garage"], worked["garage"]) == set()


def test_a_first_working_works_every_room(worked):
    assert set(worked["garage"].worked) == {r.key for r in ROOMS}


def test_a_note_works_nothing(cases, worked):
    case = edited(cases["garage"], "job.note", "ring before eight")
    assert rooms(case, worked["garage"]) == set()


def test_a_price_works_no_heat_and_no_cutting(cases, worked):
    found = rooms(priced(cases["garage"]), worked["garage"])
    assert found == {"rise", "price", "margins", "extras", "invoices"}
    assert not found & (HEAT | CUTTING)


def written(case: Case, *log: Entry) -> Case:
    """The case with some entries in the log of the roof."""
    record = case.job.record.model_copy(update={"log": tuple(log)})
    return replace(case, job=case.job.model_copy(update={"record": record}))


def test_an_entry_that_changes_nothing_works_the_record_alone(cases, worked):
    done = entry("d", "done", bay=1)
    rain = entry("w", "weather", when="evening", sky="rain", air_c=7.0, wind="calm")
    begun = work_out(written(cases["garage"], done), worked["garage"])
    assert set(begun.worked) == {"record", "price"}  # of begun work no quotation goes out late
    case = written(cases["garage"], done, rain)
    first = work_out(case, begun)
    assert set(first.worked) == {"record"}
    assert rooms(case, first) == set()


def test_a_pull_out_of_the_roof_works_the_wind_and_no_survey(cases, worked):
    weak = [entry(f"p{n}", "reading", what="pull_out", value=610 + 37 * n, unit="N", name=f"s{n}")
            for n in range(3)]  # fmt: skip
    again = work_out(written(cases["garage"], *weak), worked["garage"])
    assert {"wind", "record"} <= set(again.worked)
    assert not set(again.worked) & {"plan", "levels", "falls", "water", "fire"}
    assert any(" more screw" in line for line in changed(worked["garage"], again))


def test_the_job_that_is_kept_is_not_changed_by_what_the_log_says(cases, worked):
    gap = entry("g", "reading", what="gap", value=34, unit="mm")
    again = work_out(written(cases["garage"], gap), worked["garage"])
    assert again.case.job.survey.deck.widest_gap_mm == 34
    assert again.given.job.survey == cases["garage"].job.survey


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_a_tape_works_the_plan_and_what_hangs_on_it_but_no_moisture(cases, worked, name):
    tape = cases[name].job.survey.tapes[0]
    path = f"survey.tapes[{tape.between}].length_m"
    found = rooms(edited(cases[name], path, tape.length_m + 0.004), worked[name])
    assert {"plan", "boards", "price"} <= found
    assert "moisture" not in found
    assert "drying" not in found
    assert not found & SOLVED


def test_only_heat_solves_an_edge(cases, worked, monkeypatch):
    """Dearer heat, a longer crew and another client count the edges again, and solve none."""
    from evenfall.calc.physics import edge_values

    def refuse(*args, **kwargs):
        raise AssertionError("an edge was solved")

    case = cases["garage"]
    terms = case.rates.terms.model_copy(update={"heat_price_pence_kwh": 41.5})
    dearer = replace(case, rates=case.rates.model_copy(update={"terms": terms}))
    edge_values.values.cache_clear()
    monkeypatch.setattr(edge_values, "solve", refuse)
    assert "edges" in rooms(dearer, worked["garage"])
    rooms(edited(case, "crew.people", 3), worked["garage"])
    rooms(edited(case, "survey.below.humidity_class", 4), worked["garage"])
    with pytest.raises(AssertionError, match="an edge was solved"):
        rooms(edited(case, "survey.sides[B-C].wall_thickness_mm", 215.0), worked["garage"])


def test_a_thickness_works_no_survey(cases, worked):
    base = worked["garage"]
    other = next(r.thickness_mm for r in base.rise.rows if r.thickness_mm != base.rise.chosen_mm)
    each = other // cases["garage"].job.design.layers
    found = rooms(edited(cases["garage"], "design.thickness_mm", each), base)
    assert {"rise", "heights", "heat", "moisture", "boards", "price"} <= found
    assert not found & {"plan", "levels", "falls", "fire"}  # water: the edge timbers hold more


def test_a_room_that_gives_an_equal_answer_stops_the_change(cases, worked):
    """The sag of the joists changes a finding, and nothing that is cut or priced."""
    case = edited(cases["garage"], "survey.joists.sag_mm", 1.5)
    found = rooms(case, worked["garage"])
    assert "joists" in found
    assert not found & {"boards", "sheet", "price"}


def test_the_flow_names_every_room_file_of_the_stages():
    from pathlib import Path

    import evenfall.stages as stages

    folder = Path(stages.__file__).parent
    with_work = {
        p.stem
        for p in folder.rglob("*.py")
        if p.parent.name != "papers" and "\ndef work(" in p.read_text(encoding="utf-8")
    }
    assert with_work == {r.key for r in ROOMS} | {"options"}
