"""What the price rooms hand on; whole pence, every line names its quantity and its rate."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenfall.model.finding import Finding
from evenfall.working import Basis, Working

Block = Literal["access", "strip", "materials", "labour", "prelims", "fees"]


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of cost."""

    block: Block
    id: str  # item:primer, task:strip, charge:skip-6
    says: str
    quantity: Working
    unit: str
    rate_pence: float
    pence: int
    basis: Basis
    packs: tuple[tuple[int, str, int], ...] = ()  # count, words, price of each [pence]
    priced_on: date | None = None  # of the price; None for what the firm sets itself


@dataclass(frozen=True, slots=True)
class StageOf:
    """One payment."""

    name: str
    says: str
    percent: float
    pence: int


@dataclass(frozen=True, slots=True)
class ProvisionalOf:
    """A rate agreed in advance for what cannot be known yet; not in the total."""

    name: str
    says: str
    unit: str
    pence: int


@dataclass(frozen=True, slots=True)
class Upkeep:
    """What the fascia asks for in the years after; prices of today with VAT, as the client pays."""

    fascia: str  # what it is made of
    repaint_years: int | None  # None: never
    length: Working  # m
    times: int  # that it is painted again
    each: Working  # pence, one painting
    whole: Working  # pence: this roof, and painting it again


@dataclass(frozen=True, slots=True)
class Price:
    """The price, from cost to the last penny of VAT. Cost and margin are for the owner only."""

    lines: tuple[PriceLine, ...]
    cost: Working  # pence
    overhead: Working
    margin: Working
    net: Working
    vat_percent: float
    vat_reason: str  # as declared
    vat: Working
    total: Working
    per_m2: Working  # pence without VAT
    stages: tuple[StageOf, ...]
    provisional: tuple[ProvisionalOf, ...]
    valid_until: date
    prices_on: date  # the oldest price in it
    mark: str  # of the price book that it was made with
    upkeep: Upkeep | None = None  # where the fascia is renewed and its material chosen
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Event:
    """Something that may go otherwise than priced, and what it leaves of the profit."""

    id: str  # event:rotten-deck
    says: str
    costs: Working  # pence
    left: Working  # pence of profit, if the firm bears it
    back: Working | None = None  # pence that the rate agreed beforehand brings back
    left_charged: Working | None = None  # pence of profit, if it is charged by that rate


@dataclass(frozen=True, slots=True)
class Margins:
    """What the firm keeps, and what would eat it. For the owner only."""

    profit: Working  # pence
    share: Working  # % of the net price
    per_day: Working  # pence for a day on the roof
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class SlipOf:
    """Extra work found on site, as its slip tells it; net and VAT are whole pence."""

    id: str  # extra:rot-by-gutter
    name: str
    says: str  # what the agreed rate is for
    unit: str
    where: str
    found_on: date
    photo: str  # file, or nothing
    photo_sha256: str
    found: Working
    allowed: Working | None  # what the price held already, and earlier slips have not used up
    charged: Working
    rate_pence: int
    net: Working
    vat: Working
    total: Working
    days: Working  # that it adds
    signed_by: str
    signed_on: date | None
    new_total: Working  # pence: all signed work and this
    new_finish: date  # with all signed work and this


@dataclass(frozen=True, slots=True)
class Extras:
    """Extra work: its slips in the order of the file, and what the job comes to with them."""

    contract_net: Working  # pence, as accepted, or as it stands
    contract_total: Working
    slips: tuple[SlipOf, ...]
    total: Working  # pence: contract and all that was signed
    finish_on: date
    findings: tuple[Finding, ...] = ()
    accepted_on: date | None = None


@dataclass(frozen=True, slots=True)
class InvoiceLine:
    """One line of an invoice."""

    id: str  # stage:deposit, extra:rot-by-gutter
    says: str
    net_pence: int
    vat_percent: float
    vat_pence: int


@dataclass(frozen=True, slots=True)
class InvoiceOf:
    """One invoice; its lines add up to it, and all invoices to the account."""

    number: str
    stage: str
    final: bool
    on: date
    lines: tuple[InvoiceLine, ...]
    net: Working  # pence
    vat: Working
    total: Working
    before_pence: int  # billed on earlier invoices
    account_pence: int  # contract and signed work, as far as it is known on that day
    vat_moved_pence: int = 0  # VAT billed and to come, less that of the account

    @property
    def left_pence(self) -> int:
        """What is still to be billed after this one."""
        account = self.account_pence + self.vat_moved_pence
        return account - self.before_pence - round(self.total.value)


@dataclass(frozen=True, slots=True)
class Invoices:
    """The account: invoices in the order of their days."""

    invoices: tuple[InvoiceOf, ...]
    why_empty: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Facts:
    """What options are compared by."""

    total_pence: int
    days: int
    u: float
    stops: int
    boards_mm: tuple[int, ...]
    kerb_mm: float | None  # None where no edge has one
    sheet_years: int | None  # guarantee of its maker
    work_years: int
    upkeep: Upkeep | None = None


@dataclass(frozen=True, slots=True)
class OptionOf:
    """One option beside the job as it stands."""

    name: str
    says: str
    facts: Facts
    more_pence: int

    @property
    def total_pence(self) -> int:
        """Price with VAT."""
        return self.facts.total_pence

    @property
    def days(self) -> int:
        """Days on the roof."""
        return self.facts.days

    @property
    def u(self) -> float:
        """Heat let through, W/(m2 K)."""
        return self.facts.u

    @property
    def stops(self) -> int:
        """Findings that stop it."""
        return self.facts.stops


@dataclass(frozen=True, slots=True)
class Options:
    """Options side by side."""

    options: tuple[OptionOf, ...]
    here: Facts
    why_empty: str = ""
    findings: tuple[Finding, ...] = ()
