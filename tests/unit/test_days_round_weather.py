"""The planner goes round the weather: what a forecast does not leave hours for is moved."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.model.gated import Permit
from evenfall.stages.programme import gates
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_water import Rain

DRY_WORK = tuple(g for g in gates.ALL if g.dry)


def wet(on: str, *hours: tuple[float, float]) -> tuple[Permit, ...]:
    """A day of which only some hours are dry."""
    return tuple(Permit(date.fromisoformat(on), g, hours) for g in DRY_WORK)


def planned(*permits: Permit, people: int = 3):
    of, time = roofs.roof(), replace(roofs.when(people), permits=permits)
    tasks, days = roofs.planned(of, time)
    assert check(days, of.plan, tasks.tasks, time, Rain(of.downhill, roofs.RAIN)) == ()
    return days


def stripped(days) -> date:
    return next(d.on for d in days.days if any("strip-felt@1" in i for i, _ in d.work))


def test_no_bay_is_opened_on_a_day_of_rain():
    dry = planned()
    on = stripped(dry)
    days = planned(*wet(str(on)))
    assert stripped(days) > on
    assert len(days.days) >= len(dry.days)


def test_a_shower_at_one_o_clock_moves_the_bay_to_another_day():
    """The morning is dry, and so is the evening."""
    on = stripped(planned())
    assert stripped(planned(*wet(str(on), (0.0, 13.0), (13.5, 24.0)))) > on


def test_a_day_that_is_dry_long_enough_is_used():
    on = stripped(planned())
    assert stripped(planned(*wet(str(on), (0.0, 21.0)))) == on


def test_bonding_waits_for_the_dew_to_go():
    plain = planned()
    on = next(d.on for d in plain.days if any("sheet-field" in i for i, _ in d.work))
    late = tuple(Permit(on, g, ((11.0, 24.0),)) for g in DRY_WORK if g.dew_k)
    days = planned(*late)
    day = next(d for d in days.days if any(s.task == "task:sheet-field" for s in d.steps))
    starts = min(s.starts for s in day.steps if s.task == "task:sheet-field")
    assert day.on > on or starts >= 11.0


@pytest.mark.parametrize("n", [0, 2, 4])
def test_a_drier_forecast_never_finishes_later(n):
    on = str(planned().days[n].on)
    finishes = [
        planned(*wet(on)).finish_on, planned(*wet(on, (0.0, 12.0))).finish_on, planned().finish_on
    ]  # fmt: skip
    assert finishes == sorted(finishes, reverse=True)


def test_more_hands_never_finish_later():
    finishes = [planned(people=n).finish_on for n in (2, 3, 4, 5, 6)]
    assert finishes == sorted(finishes, reverse=True)
