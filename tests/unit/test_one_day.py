"""Planned backwards: the smallest crew that seals the whole roof in one day."""

from __future__ import annotations

import re

from tests.unit import programme_roofs as roofs

from evenfall.stages.programme.draft import draft
from evenfall.stages.programme.outputs import Outputs

SMALL = roofs.oblong(4.2, 3.9)


def told(plan, people: int = 2) -> str | None:
    tasks, _ = roofs.planned(roofs.roof(plan), roofs.when(people))
    return next((f.says for f in tasks.findings if f.code == "one-day-crew"), None)


def strip_days(plan, people: int) -> int:
    """Count the days of a crew's first draft that open roof; the search may spread them again."""
    rates = Outputs(roofs.OUTPUTS, "planning seed")
    return sum(
        bool(s.opened) for s in draft(roofs.roof(plan), roofs.when(people), rates, people).slots
    )


def test_the_crew_that_is_named_opens_the_roof_on_one_day_and_a_smaller_one_does_not():
    says = told(SMALL)
    people = int(re.match(r"(\d+) people would seal", says)[1])
    assert strip_days(SMALL, people) == 1
    assert strip_days(SMALL, people - 1) > 1


def test_a_crew_that_seals_it_in_a_day_already_is_told_nothing():
    assert told(roofs.oblong(2.3, 2.1), 3) is None


def test_a_roof_too_large_for_any_crew_with_room_to_stand_says_so():
    assert told(roofs.oblong(11.7, 5.6)).startswith("No crew that has room on this roof")


def test_one_person_is_told_what_takes_two_hands():
    tasks, _ = roofs.planned(roofs.roof(), roofs.when(1))
    says = next(f.says for f in tasks.findings if f.code == "hands-short")
    assert "Two-handed are: roll the sheet out, bond the sheet" in says
