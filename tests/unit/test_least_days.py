"""What is proven of the number of days, worked by hand and said plainly."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.app.loading import load
from evenfall.flow import work_out
from evenfall.model.programmed import Search
from evenfall.stages.programme.draft import QUICK, draft
from evenfall.stages.programme.least import least_days
from evenfall.stages.programme.outputs import Outputs

EXAMPLES = Path(__file__).parents[2] / "examples"
RATES = Outputs(roofs.OUTPUTS, "planning seed")


def test_a_shed_that_one_long_day_strips_and_sheets_is_proven_over_all_bays():
    """Boards and sheet cannot come before the bays: what is found cannot be beaten."""
    roof, time = roofs.roof(roofs.oblong(2.3, 1.7)), roofs.when(4, hours=9.5)
    laid = draft(roof, time, RATES, 4, QUICK).laid
    assert least_days(roof, time, RATES, 4) == len(laid.slots)


def test_half_the_hands_need_more_days_at_the_least():
    roof = roofs.roof(roofs.oblong(6.3, 5.2))
    few, many = (least_days(roof, roofs.when(n), RATES, n) for n in (2, 4))
    assert few > many


def test_setting_up_takes_its_hours_before_the_first_bay():
    """A day of setting up more puts every bay off by a day."""
    roof, time = roofs.roof(roofs.oblong(6.3, 5.2)), roofs.when(3)
    longer = tuple(
        o.model_copy(update={k: getattr(o, k) + 22.5 for k in ("low", "typical", "high")})
        if o.task == "set-up" else o
        for o in roofs.OUTPUTS
    )  # fmt: skip
    more = least_days(roof, time, Outputs(longer, "planning seed"), 3)
    assert more == least_days(roof, time, RATES, 3) + 1


@pytest.mark.parametrize(("name", "days", "least"), [("rear-extension", 8, 8), ("garage", 12, 10)])
def test_an_example_takes_the_days_that_are_told(name, days, least):
    """Example (a) is proven over every number, order and size of bays; the garage is not."""
    case = load(EXAMPLES / name, date(2026, 11, 25)).case
    search = work_out(case).tasks.search
    assert (search.days, search.least_days) == (days, least)


FOUND = Search(0, 10, 149.6, 0, 10, 149.6, 5, 7)


@pytest.mark.parametrize(
    ("search", "says"),
    [
        (FOUND, "no order of these bays takes fewer; other bays 7 at the least"),
        (replace(FOUND, least_days=10), "no number, order or size of bays takes fewer"),
        (replace(FOUND, bound_days=9), "best found; these bays take 9 at the least"),
        (replace(FOUND, stops=1), ""),
    ],
)
def test_no_more_is_said_than_is_proven(search, says):
    assert search.says == says
