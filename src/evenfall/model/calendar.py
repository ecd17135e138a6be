"""Who works on the job, and on which days."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import Field

from evenfall.model.kinds import Record, Words


class Crew(Record):
    """Who works, and for how long a day."""

    people: Annotated[int, Field(ge=1, le=8)]
    hours_a_day: Annotated[float, Field(ge=4, le=12)] = 8
    start_hour: Annotated[float, Field(ge=5, le=11)] = 8


class HandDay(Record):
    """A day of a programme written by hand: ``bay 1``, ``sheet``, a task by name, or ``rest``."""

    on: date
    work: Annotated[tuple[Words, ...], Field(min_length=1)]


class Calendar(Record):
    """When the work may be done; ``by_hand`` takes the place of the planner's own days.

    Sundays are off, and the public holidays of the job's nation, unless ``works_holidays``.
    Holidays that have no rule (a jubilee, a local one) stand in ``days_off``.
    """

    start_on: date
    days_off: tuple[date, ...] = ()
    saturdays: bool = False
    works_holidays: bool = False
    by_hand: tuple[HandDay, ...] = ()
