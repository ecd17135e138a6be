"""Own waste and prices of finished jobs beside the rates: with spread, offered, never taken."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.test_papers_record import built

from evenfall.app.commands.hours import told_materials
from evenfall.errors import InvalidInput
from evenfall.model.recorded import BoughtLine
from evenfall.weather import own_materials

PRIMER = "item:primer"


def job(*bought, finished=True):
    """The porch with what it bought; its need of primer is 2.2269 l with 10 % of waste."""
    worked = built()
    record = worked.case.job.record.model_copy(update={
        "bought": tuple(BoughtLine(**b) for b in bought),
        **({} if finished else {"finished_on": None}),
    })  # fmt: skip
    case = replace(worked.case, job=worked.case.job.model_copy(update={"record": record}))
    return replace(worked, case=case)


def primer(bought, left=0.0, paid=None):
    return {"line": PRIMER, "bought": bought, "left": left, "paid_pence": paid}


def test_waste_is_what_was_used_over_the_need_before_waste():
    (own,) = own_materials((job(primer(2.5, 0.25, 2380)),))
    assert own.waste.seed == 10
    assert own.waste.own[1] == pytest.approx(100 * (2.25 / (2.2269381307 / 1.1) - 1))
    assert own.price.seed == pytest.approx(2380 / 2.5)
    assert own.price.own == (952.0, 952.0, 952.0)
    assert not own.waste_offered


def test_three_jobs_are_offered_with_their_spread_and_two_are_not():
    jobs = (job(primer(2.5, 0.5, 2380)), job(primer(2.5, 0, 2600)), job(primer(5, 2.6, 4400)))
    (two,), (three,) = own_materials(jobs[:2]), own_materials(jobs)
    assert (two.waste_offered, two.price_offered) == (False, False)
    assert (three.waste_offered, three.price_offered) == (True, True)
    low, together, high = three.price.own
    assert (low, high) == (880.0, 1040.0)
    assert together == pytest.approx((2380 + 2600 + 4400) / 10)
    assert three.price.spread == pytest.approx(80.0, abs=0.5)
    lines = list(told_materials((three,)))
    assert lines[-2].strip().startswith("item:primer: waste_percent: ")
    assert lines[-1].strip() == f"item:primer: its price_pence times {938 / 952:.3f}"


def test_boards_that_are_laid_out_one_by_one_have_no_waste_to_be_offered():
    (line,) = built().boards.order
    entry = {"line": line.id, "bought": line.bought + 2, "left": 1}
    (own,) = own_materials((job(entry),) * 3)
    assert own.waste.seed == 0
    assert own.waste.own[1] > 0
    assert not own.waste_offered
    assert own.price is None


def test_an_unfinished_job_tells_nothing():
    assert own_materials((job(primer(2.5), finished=False),)) == ()
    assert "record.bought" in next(iter(told_materials(())))


@pytest.mark.parametrize(
    ("entry", "where"),
    [(primer(2.5, 2.5), "record.bought[0].left"),
     ({"line": "item:thatch", "bought": 1}, "record.bought[0].line")],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_place(entry, where):
    with pytest.raises(InvalidInput) as wrong:
        own_materials((job(entry),))
    assert wrong.value.where == where
