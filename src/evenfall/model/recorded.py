"""What was agreed, answered and proved on paper."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from evenfall.model.kinds import Metres, Name, Pence, Record, TaskName, Words
from evenfall.model.logbook import Log

RoofClass = Literal["BROOF(t4)", "CROOF(t4)", "DROOF(t4)", "EROOF(t4)", "FROOF(t4)"]


class Agreement(Record):
    """A departure that somebody agreed in writing; it holds while its value gets no worse.

    What stops for a structural engineer is settled only with ``reference``, the number of the
    engineer's letter or calculation, and with the ``value`` that the engineer saw.
    """

    finding: Name
    subject: str
    by: Words
    on: date
    value: float | None = None
    reference: Words | None = None


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


class BoughtLine(Record):
    """What a line of the order really took: as the delivery notes say, and what was left over.

    Both in the unit of the line; left is what is whole and can be used again.
    """

    line: Annotated[str, StringConstraints(pattern=r"^[a-z]+:[A-Za-z0-9:-]{1,80}$")]
    bought: Annotated[float, Field(gt=0, le=100_000)]
    left: Annotated[float, Field(ge=0, le=100_000)] = 0
    paid_pence: Pence | None = None  # for all of it, without VAT


class Photo(Record):
    """A picture file, named from the folder of the job, and the SHA-256 of its bytes."""

    file: Annotated[str, Field(min_length=1, max_length=200)]
    sha256: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]


class Signature(Record):
    """Who signed, and when."""

    by: Words
    on: date


class Extra(Record):
    """Work found on site: what a rate agreed beforehand is charged for, and how much of it.

    It waits until the client has signed; the photo is taken before anything is mended.
    """

    name: Name
    rate: Name  # of the provisional rates
    found: Annotated[float, Field(gt=0, le=100_000)]  # in the unit of the rate
    where: Words
    found_on: date
    photo: Photo | None = None
    signed: Signature | None = None


class Accepted(Record):
    """The quotation that the client accepted: its sums, and the mark of its prices."""

    on: date
    net_pence: Pence
    total_pence: Pence
    prices: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{12}$")]


class Invoice(Record):
    """An invoice that was sent, or is to be: a stage of payment by its name."""

    number: Name
    stage: Name
    on: date


class SiteRecord(Record):
    """What the site recorded."""

    agreed: tuple[Agreement, ...] = ()
    fire_tests: tuple[FireTest, ...] = ()
    answers: tuple[Answer, ...] = ()
    booked: tuple[Booked, ...] = ()
    done: tuple[DoneWork, ...] = ()
    covers: tuple[CoverOnSite, ...] = ()
    hours: tuple[HoursUsed, ...] = ()
    bought: tuple[BoughtLine, ...] = ()
    finished_on: date | None = None
    accepted: Accepted | None = None
    extras: tuple[Extra, ...] = ()
    invoices: tuple[Invoice, ...] = ()
    log: Log = ()

    @property
    def begun(self) -> bool:
        """Whether the client has accepted, or work has begun: no quotation is open any more."""
        on_site = self.done or self.hours or self.log or self.extras or self.invoices
        return bool(self.accepted or self.finished_on or on_site)
