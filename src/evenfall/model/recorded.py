"""What was agreed, answered and proved on paper."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from evenfall.model.kinds import Metres, Name, Record, TaskName, Words

RoofClass = Literal["BROOF(t4)", "CROOF(t4)", "DROOF(t4)", "EROOF(t4)", "FROOF(t4)"]


class Agreement(Record):
    """A departure that somebody agreed in writing; it holds while its value gets no worse."""

    finding: Name
    subject: str
    by: Words
    on: date
    value: float | None = None


class FireTest(Record):
    """A report of a test of fire from outside, and the build-up that was tested."""

    document: Words
    fire_class: RoofClass
    sheet: Name
    board: Name
    deck: Literal["osb", "plywood", "planks", "chipboard", "strawboard", "woodwool"]
    boards_held_by: Literal["adhesive", "screws"]
    overlay_mm: float = 0


class Answer(Record):
    """What was answered where the sources differ, by whose word counts.

    That is building control for notice and weight, the council's planners for planning, and who is
    registered for the appliance for a flue.
    """

    about: Literal["notice", "weight", "planning", "flue"]
    needed: bool
    by: Words
    on: date
    reference: Words | None = None


class Booked(Record):
    """Something of the rates' bookings, or a window, that is ordered or here."""

    name: Name
    ordered_on: date
    here_on: date | None = None  # or promised for


class DoneWork(Record):
    """What is really done: a whole bay up to its VCL, or a task by its name."""

    bay: Annotated[int, Field(ge=1, le=200)] | None = None
    task: TaskName | None = None
    on: date


class CoverOnSite(Record):
    """A cover that lies on the roof, ready."""

    length_m: Metres
    width_m: Metres


class HoursUsed(Record):
    """Hours really used for one kind of work on one day: so many people, so long."""

    task: Name
    on: date
    people: Annotated[int, Field(ge=1, le=20)]
    hours: Annotated[float, Field(gt=0, le=16)]


class SiteRecord(Record):
    """What the site recorded."""

    agreed: tuple[Agreement, ...] = ()
    fire_tests: tuple[FireTest, ...] = ()
    answers: tuple[Answer, ...] = ()
    booked: tuple[Booked, ...] = ()
    done: tuple[DoneWork, ...] = ()
    covers: tuple[CoverOnSite, ...] = ()
    hours: tuple[HoursUsed, ...] = ()
    finished_on: date | None = None
