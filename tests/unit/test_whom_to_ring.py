"""Whom to ring: a number that the firm has tried stands in place of the one from memory."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from pydantic import ValidationError
from tests.unit import rooms
from tests.unit.entries import entry
from tests.unit.papers import worked

from evenfall.model.rates import EmergencyLine
from evenfall.stages.papers.day_sheets import day_sheets
from evenfall.stages.papers.stop_cards import stop_cards
from evenfall.stages.record.record import work
from evenfall.stages.record.whom_to_ring import rings
from evenfall.standards.emergency_numbers import LINES

GAS = {"danger": "gas", "who": "gas line", "telephone": "01632 960 111", "tried_on": "2026-11-20"}
HURT = GAS | {"danger": "hurt", "who": "ambulance", "telephone": "01632 960 999"}
SURVEYOR = GAS | {"danger": "asbestos", "who": "our surveyor", "telephone": "+44 1632 960555"}


def firm(*emergency):
    return rooms.rates_with(firm__emergency=list(emergency)).firm


def remedy(*emergency, danger="gas"):
    log = (entry("s", "stop", danger=danger),)
    return work(log, (), (), (), "wales", firm(*emergency).emergency).findings[0].remedy.says


def test_a_number_that_the_firm_has_tried_takes_the_place_of_the_one_from_memory():
    assert "0800 111 999 (from memory)" in remedy()
    told = remedy(GAS)
    assert "gas line: 01632 960 111;" in told
    assert "0800 111 999" not in told
    assert "999 (from memory)" in told  # the other number is still remembered


def test_with_every_number_tried_nothing_is_said_to_be_from_memory():
    assert "memory" not in remedy(GAS, HURT)
    card = next(c for c in stop_cards("wales", firm(GAS, HURT)) if c.danger == "gas")
    assert [r.telephone for r in card.ring][:2] == ["01632 960 111", "01632 960 999"]
    assert "tried on 20 November 2026" in card.ring[0].source
    assert not any(r.remembered for r in card.ring)


def test_a_number_of_another_danger_changes_nothing():
    assert remedy(SURVEYOR) == remedy()
    assert "our surveyor: +44 1632 960555." in remedy(SURVEYOR, danger="asbestos")
    assert "memory" not in remedy(SURVEYOR, danger="asbestos")


@pytest.mark.parametrize("danger", ["gas", "cable", "structure", "other"])
@pytest.mark.parametrize("nation", ["england", "wales", "scotland", "northern_ireland"])
def test_every_nation_has_somebody_to_ring_for_a_danger_to_life(danger, nation):
    assert rings(danger, nation)
    assert rings(danger, nation)[-1].telephone == "999"


def test_every_remembered_line_can_be_replaced_by_one_that_was_tried():
    for line in LINES:
        own = EmergencyLine.model_validate_json(
            f'{{"danger": "{line.of}", "who": "us", "telephone": "01632 7", '
            '"tried_on": "2026-11-20"}'
        )
        for danger in line.dangers:
            told = [r.telephone for r in rings(danger, line.nations[0], (own,))]
            assert "01632 7" in told
            assert line.telephone not in told


@pytest.mark.parametrize("telephone", ["call us", "9", "0800-1", ""])
def test_what_no_telephone_can_dial_is_refused(telephone):
    with pytest.raises(ValidationError):
        firm(GAS | {"telephone": telephone})


def test_numbers_of_emergencies_are_no_prices():
    assert rooms.rates_with(firm__emergency=[GAS]).mark == rooms.rates_with().mark


def test_the_day_sheet_names_first_the_number_that_the_firm_has_tried():
    assert {s.trouble for s in day_sheets(worked("garage"))} == {"999"}
    job = worked("garage")
    line = EmergencyLine.model_validate_json(json.dumps(HURT))
    known = job.case.rates.firm.model_copy(update={"emergency": (line,)})
    rates = job.case.rates.model_copy(update={"firm": known})
    own = replace(job, case=replace(job.case, rates=rates))
    assert {s.trouble for s in day_sheets(own)} == {"01632 960 999"}
