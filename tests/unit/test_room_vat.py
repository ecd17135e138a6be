"""VAT: rates by declared case and date, and what each declaration needs."""

from datetime import date

import pytest
from tests.unit.plans import codes

from evenfall.model.finding import Finding
from evenfall.model.job import Vat
from evenfall.stages.price import vat

MARCH, APRIL = date(2027, 3, 31), date(2027, 4, 1)


def told(
    case: str, reason: str = "asked", registered: bool = True, start: date = MARCH,
    finish: date = MARCH,
) -> tuple[Finding, ...]:  # fmt: skip
    return tuple(
        vat.findings(
            Vat(case=case, reason=reason), registered=registered, start_on=start, finish_on=finish,  # type: ignore[arg-type]
            rates_basis="declared",
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("case", "finish", "percent"),
    [
        ("standard", MARCH, 20), ("standard", APRIL, 20), ("insulation_zero", MARCH, 0),
        ("insulation_zero", APRIL, 5), ("reverse_charge", APRIL, 0), ("not_registered", APRIL, 0),
    ],
)  # fmt: skip
def test_each_case_has_its_rate_and_the_insulation_rate_turns_on_1_april_2027(
    case, finish, percent
):
    assert vat.rate(case, finish) == percent


def test_the_standard_case_needs_nothing():
    assert told("standard", reason="") == ()


@pytest.mark.parametrize("case", ["insulation_zero", "reverse_charge"])
def test_a_lower_rate_needs_a_reason_and_the_standard_case_clears_it(case):
    found = next(f for f in told(case, reason="") if f.code == "vat-reason")
    assert found.level == "stop"
    assert found.remedy is not None
    assert [(c.path, c.value) for c in found.remedy.changes] == [("design.vat.case", "standard")]
    assert told("standard", reason="") == ()
    assert "vat-reason" not in codes(told(case))


def test_the_insulation_rate_is_said_to_be_contested():
    assert codes(told("insulation_zero")) == ["vat-contested"]


@pytest.mark.parametrize(
    ("start", "finish", "turns"),
    [(MARCH, MARCH, False), (MARCH, APRIL, True), (APRIL, APRIL, False)],
)
def test_work_over_the_turn_of_the_rate_is_named(start, finish, turns):
    assert ("vat-turns" in codes(told("insulation_zero", start=start, finish=finish))) is turns


@pytest.mark.parametrize(
    ("case", "registered", "cure"),
    [("not_registered", True, "standard"), ("standard", False, "not_registered"),
     ("reverse_charge", False, "not_registered")],
)  # fmt: skip
def test_a_case_that_the_rates_contradict_is_stopped_and_its_remedy_clears_it(
    case, registered, cure
):
    found = told(case, registered=registered)
    assert codes(found) == ["vat-registration"]
    assert found[0].remedy is not None
    assert found[0].remedy.changes[0].value == cure
    assert told(cure, registered=registered) == ()
