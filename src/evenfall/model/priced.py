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
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class OptionOf:
    """One option beside the job as it stands."""

    name: str
    says: str
    total_pence: int
    more_pence: int
    days: int
    u: float
    stops: int


@dataclass(frozen=True, slots=True)
class Options:
    """Options side by side."""

    options: tuple[OptionOf, ...]
    why_empty: str = ""
    findings: tuple[Finding, ...] = ()
