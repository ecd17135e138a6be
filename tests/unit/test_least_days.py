"""What is proven of the number of days, worked by hand and said plainly."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.model.programmed import Search
from evenfall.stages.programme.draft import QUICK, draft
from evenfall.stages.programme.least import least_days
from evenfall.stages.programme.outputs import Outputs

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
