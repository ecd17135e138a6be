"""What the papers may see of a worked job; `flow.WorkedJob` is one."""

from __future__ import annotations

from datetime import date
from typing import Protocol

from evenfall.model import designed, edged, priced, programmed, standing, surveyed, taken_off
from evenfall.model.case import Case
from evenfall.model.finding import Finding
from evenfall.model.roof_log import Logged


class Meta(Protocol):
    """What stands at the head of every paper."""

    @property
    def reference(self) -> str:
        """Reference of the job."""

    @property
    def revision(self) -> str:
        """Which issue of its papers this is."""

    @property
    def title(self) -> str:
        """Title of the job."""

    @property
    def client(self) -> str:
        """Whose roof."""

    @property
    def address(self) -> str:
        """Where."""

    @property
    def surveyed_on(self) -> date:
        """When it was measured."""

    @property
    def on(self) -> date:
        """When it was worked."""

    @property
    def invented(self) -> bool:
        """Whether it is all invented."""

    @property
    def firm(self) -> str:
        """Who does the work."""


class WorkedRoof(Protocol):
    """The rooms that are drawn and told on paper."""

    @property
    def meta(self) -> Meta:
        """Head."""

    @property
    def case(self) -> Case:
        """Job, rates and date."""

    @property
    def plan(self) -> surveyed.Plan:
        """Plan."""

    @property
    def levels(self) -> surveyed.Levels:
        """Levels."""

    @property
    def falls(self) -> surveyed.Falls:
        """Falls."""

    @property
    def heights(self) -> standing.Heights:
        """Height budget."""

    @property
    def edge_details(self) -> edged.EdgeDetails:
        """Every edge solved."""

    @property
    def edges(self) -> edged.Edges:
        """Heat at the edges."""

    @property
    def zones(self) -> standing.Zones:
        """Thinner zones."""

    @property
    def windows(self) -> standing.Windows:
        """Windows beside the roof."""

    @property
    def rise(self) -> designed.Rise:
        """Rise stick."""

    @property
    def heat(self) -> designed.Heat:
        """Heat."""

    @property
    def moisture(self) -> designed.Moisture:
        """Moisture."""

    @property
    def drying(self) -> designed.Drying:
        """Drying."""

    @property
    def wind(self) -> designed.Wind:
        """Wind."""

    @property
    def joists(self) -> designed.Joists:
        """Joists."""

    @property
    def water(self) -> designed.Water:
        """Rain."""

    @property
    def boards(self) -> taken_off.Boards:
        """Board plan."""

    @property
    def fixings(self) -> taken_off.Fixings:
        """Fixing plan."""

    @property
    def sheet(self) -> taken_off.Sheet:
        """Sheet."""

    @property
    def rolls(self) -> taken_off.Rolls:
        """VCL."""

    @property
    def lengths(self) -> taken_off.Lengths:
        """Trims and timber."""

    @property
    def items(self) -> taken_off.Items:
        """Screws and tubes."""

    @property
    def strip(self) -> taken_off.Strip:
        """What comes off."""

    @property
    def tasks(self) -> programmed.Tasks:
        """Work."""

    @property
    def programme(self) -> programmed.Programme:
        """Days."""

    @property
    def price(self) -> priced.Price:
        """Price."""

    @property
    def extras(self) -> priced.Extras:
        """Extra work."""

    @property
    def invoices(self) -> priced.Invoices:
        """Invoices."""

    @property
    def record(self) -> Logged:
        """The log of the roof, read."""

    @property
    def given(self) -> Case:
        """The case as it is kept, without what the log says."""

    @property
    def options(self) -> priced.Options:
        """Options."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, the heaviest first."""
