"""The slip for extra work, and the invoice, as data: what the client reads and signs or pays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from evenfall.errors import InvalidInput
from evenfall.model.priced import InvoiceOf, SlipOf
from evenfall.model.words import day, pounds
from evenfall.stages.papers.quotation import SHORT, Head, head
from evenfall.stages.papers.words import sentence
from evenfall.stages.papers.worked import WorkedRoof

REVERSE = (
    "Reverse charge: no VAT is charged here. You account to the tax office for VAT at the rate of "
    "the supply."
)

HOLD_BACK = ("accepted-other-prices", "accepted-sums", "accepted-vat-moved")
"""Findings that no slip or invoice goes out with, unless they are agreed."""


@dataclass(frozen=True, slots=True)
class Line:
    """Words and what stands on the right of them."""

    says: str
    amount: str


@dataclass(frozen=True, slots=True)
class SlipPaper:
    """A slip for extra work."""

    head: Head
    name: str
    what: str
    where: str
    found_on: date
    photo: str
    photo_sha256: str
    reckoned: tuple[Line, ...]
    to_pay: str
    before: str
    new_total: str
    finish_before: date
    new_finish: date
    later: bool
    signed_by: str
    signed_on: date | None


@dataclass(frozen=True, slots=True)
class Billed:
    """One line of an invoice."""

    says: str
    net: str
    vat: str
    vat_pence: str


@dataclass(frozen=True, slots=True)
class InvoicePaper:
    """An invoice."""

    head: Head
    number: str
    final: bool
    on: date
    due_on: date
    lines: tuple[Billed, ...]
    sums: tuple[Line, ...]
    to_pay: str
    account: tuple[Line, ...]
    vat_number: str
    pay_to: str
    says: str


def slip_paper(worked: WorkedRoof, name: str) -> SlipPaper:
    """Gather what a slip says.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    name : str
        Name of the extra work in the job file [-].

    Returns
    -------
    SlipPaper
        Its data; money in pounds at agreed rates only [-].

    Raises
    ------
    InvalidInput
        The job has no such extra work.
    """
    slips = worked.extras.slips
    slip = next((s for s in slips if s.name == name), None)
    if slip is None:
        known = ", ".join(s.name for s in slips) or "none yet; write it into record.extras"
        raise InvalidInput(f'"{name}"', f"extra work of the job: {known}", where="record.extras")
    _as_accepted(worked)
    before = worked.extras.contract_total.value + sum(
        s.total.value for s in slips[: slips.index(slip)] if s.signed_on
    )
    finish = worked.programme.finish_on
    return SlipPaper(
        head(worked), slip.name, sentence(slip.says)[:-1], sentence(slip.where), slip.found_on,
        slip.photo, slip.photo_sha256, tuple(_reckoned(slip)), pounds(slip.total.value),
        pounds(before), pounds(slip.new_total.value), finish, slip.new_finish,
        slip.new_finish > finish, slip.signed_by, slip.signed_on,
    )  # fmt: skip


def _reckoned(slip: SlipOf) -> list[Line]:
    unit = SHORT.get(slip.unit, slip.unit)
    lines = [Line("Found", f"{slip.found.value:g} {unit}")]
    if slip.allowed is not None:
        lines.append(Line("Of this in the price already, and not used up before",
                          f"{slip.allowed.value:.2f} {unit}"))  # fmt: skip
    lines.append(Line("Charged", f"{slip.charged.value:.2f} {unit}"))
    lines.append(Line(f"At the rate agreed, for one {unit}", pounds(slip.rate_pence)))
    lines.append(Line("Without VAT", pounds(slip.net.value)))
    lines.append(Line("VAT", pounds(slip.vat.value)))
    return lines


def invoice_paper(worked: WorkedRoof, number: str) -> InvoicePaper:
    """Gather what an invoice says.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    number : str
        Number of the invoice in the job file [-].

    Returns
    -------
    InvoicePaper
        Its data [-].

    Raises
    ------
    InvalidInput
        The job has no such invoice, nobody accepted the quotation, or something that an invoice
        must say is missing.
    """
    made = worked.invoices.invoices
    one = next((m for m in made if m.number == number), None)
    if one is None:
        known = ", ".join(m.number for m in made) or "none yet; write it into record.invoices"
        raise InvalidInput(f'"{number}"', f"an invoice of the job: {known}",
                           where="record.invoices")  # fmt: skip
    _ready(worked)
    firm, terms = worked.case.rates.firm, worked.case.rates.terms
    business = worked.case.job.design.vat.case == "reverse_charge"
    return InvoicePaper(
        replace(head(worked), on=one.on), one.number, one.final, one.on,
        one.on + timedelta(days=terms.pay_days),
        tuple(
            Billed(_in_words(x.says), pounds(x.net_pence), f"{x.vat_percent:g} %",
                   pounds(x.vat_pence))
            for x in one.lines
        ),
        (Line("Without VAT", pounds(one.net.value)), Line("VAT", pounds(one.vat.value))),
        pounds(one.total.value), tuple(_account(worked, one)),
        (firm.vat_number or "") if firm.vat_registered else "", firm.pay_to or "",
        REVERSE if business else "",
    )  # fmt: skip


def _as_accepted(worked: WorkedRoof) -> None:
    """Refuse what would go by other prices or VAT than were accepted, until that is agreed."""
    for f in worked.findings:
        if f.code in HOLD_BACK and f.level in ("stop", "agree"):
            raise InvalidInput(
                f.says, "what the client accepted", where=f.source,
                do=f"{f.remedy.says if f.remedy else ''} Agreed is what stands in record.agreed "
                f"with finding: {f.code}, subject: {f.subject}",
            )  # fmt: skip


def _in_words(says: str) -> str:
    """Say what a line is for, its unit as it is printed."""
    for unit, shown in SHORT.items():
        says = says.replace(f" {unit}:", f" {shown}:")
    return sentence(says)[:-1]


def _account(worked: WorkedRoof, one: InvoiceOf) -> list[Line]:
    """Show where the whole account stands after this invoice, all with VAT."""
    contract, signed = worked.extras.contract_total.value, worked.extras.accepted_on
    on = f" on {day(signed)}" if signed else ""
    vat = one.vat_moved_pence
    return [
        Line(f"Quotation as accepted{on}", pounds(contract)),
        Line("Extra work signed up to this day", pounds(one.account_pence - contract)),
        *([Line("VAT other than accepted", pounds(vat))] if vat else ()),
        Line("Billed before", pounds(-one.before_pence)),
        Line("This invoice", pounds(-one.total.value)),
        Line("Still to come", pounds(one.left_pence)),
    ]


def _ready(worked: WorkedRoof) -> None:
    """Refuse an invoice with a hole in it."""
    _as_accepted(worked)
    firm, price = worked.case.rates.firm, worked.price
    if worked.case.job.record.accepted is None:
        raise InvalidInput(
            "a quotation that nobody has accepted", "record.accepted", where="record.invoices",
            do=f"write into record: accepted: {{on: <day>, net_pence: {price.net.value:.0f}, "
            f"total_pence: {price.total.value:.0f}, prices: \"{price.mark}\"}}",
        )  # fmt: skip
    if firm.vat_registered and not firm.vat_number:
        raise InvalidInput("no VAT number", "the number that a VAT invoice must show",
                           where="the rates: firm.vat_number")  # fmt: skip
    if not firm.pay_to:
        raise InvalidInput("nowhere to pay to", "bank and account", where="the rates: firm.pay_to")
