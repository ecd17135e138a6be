"""Invoices: stages of the quotation and signed extra work, to the penny."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding, Remedy
from evenfall.model.priced import Extras, InvoiceLine, InvoiceOf, Invoices, SlipOf
from evenfall.model.rates import Stage
from evenfall.model.recorded import Invoice
from evenfall.stages.price import vat as tax
from evenfall.stages.price.price import percent_of, split
from evenfall.working import total

WHERE = "record.invoices"
WHY_EMPTY = "No invoice has been written yet."


def work(
    invoices: tuple[Invoice, ...],
    extras: Extras,
    quoted: float,
    vat_case: str,
    stages: tuple[Stage, ...],
) -> Invoices:
    """Make the invoices from the contract and the slips.

    A signed slip is billed with the first invoice of that day or later; the last stage is final.
    Where the rate of VAT is that of the contract, a stage comes to what the quotation says, to the
    penny; where it has changed by the day of the invoice, VAT is reckoned anew.

    Parameters
    ----------
    invoices : tuple of Invoice
        Number, stage and day of each [-].
    extras : Extras
        The contract and the slips [-].
    quoted : float
        Rate of VAT of the quotation [%].
    vat_case : str
        The declared case [-].
    stages : tuple of Stage
        Stages of payment [-].

    Returns
    -------
    Invoices
        In the order of their days [pence].

    Raises
    ------
    InvalidInput
        A stage that the rates do not have, or one that is billed twice.
    """
    _checked(invoices, stages)
    made = tuple(_made(invoices, extras, quoted, vat_case, stages))
    return Invoices(made, "" if made else WHY_EMPTY, tuple(_findings(made, extras)))


def _checked(invoices: tuple[Invoice, ...], stages: tuple[Stage, ...]) -> None:
    known, numbers = {s.name for s in stages}, set[str]()
    seen: dict[str, str] = {}
    for one in invoices:
        where = f"{WHERE}[{one.number}]"
        if one.stage not in known:
            names = ", ".join(s.name for s in stages)
            raise InvalidInput(f'stage "{one.stage}"', f"one of the rates: {names}", where=where)
        if one.stage in seen:
            raise InvalidInput(
                f"the stage {one.stage} again", f"each stage once; {seen[one.stage]} has it",
                where=where,
            )  # fmt: skip
        if one.number in numbers:
            raise InvalidInput(f"the number {one.number} again", "a number of its own", where=where)
        seen[one.stage] = one.number
        numbers.add(one.number)


def _made(
    invoices: tuple[Invoice, ...],
    extras: Extras,
    quoted: float,
    case: str,
    stages: tuple[Stage, ...],
) -> Iterator[InvoiceOf]:
    last = stages[-1].name
    ordered = sorted(enumerate(invoices), key=lambda pair: (pair[1].on, pair[0]))
    billed, before = set[str](), 0
    for _, one in ordered:
        due = [s for s in extras.slips
               if s.id not in billed and s.signed_on is not None and s.signed_on <= one.on
               and s.net.value]  # fmt: skip
        lines = (_stage(one, extras, quoted, case, stages), *(_extra(s, one.on, case) for s in due))
        billed |= {s.id for s in due}
        known = [s for s in extras.slips if s.signed_on is not None and s.signed_on <= one.on]
        account = round(extras.contract_total.value + sum(s.total.value for s in known))
        made = _invoice(one, lines, before, account, one.stage == last)
        before += round(made.total.value)
        yield made


def _stage(
    one: Invoice, extras: Extras, quoted: float, case: str, stages: tuple[Stage, ...]
) -> InvoiceLine:
    """Bill a stage; its share of the net price, and its VAT."""
    place = next(i for i, s in enumerate(stages) if s.name == one.stage)
    net = split(stages, round(extras.contract_net.value))[place].pence
    gross = split(stages, round(extras.contract_total.value))[place].pence
    percent = float(tax.rate(case, one.on))
    as_quoted = percent == quoted
    vat = gross - net if as_quoted else round(percent_of(net, percent))
    says = f"{stages[place].says}: {stages[place].percent:g} % of the price accepted"
    return InvoiceLine(f"stage:{one.stage}", says, net, percent, vat)


def _extra(slip: SlipOf, on: date, case: str) -> InvoiceLine:
    percent = float(tax.rate(case, on))
    net = round(slip.net.value)
    says = f"{slip.says}, {slip.charged.value:.2f} {slip.unit}: {slip.where}"
    return InvoiceLine(slip.id, says, net, percent, round(percent_of(net, percent)))


def _invoice(
    one: Invoice, lines: tuple[InvoiceLine, ...], before: int, account: int, final: bool
) -> InvoiceOf:
    net = total("Without VAT", "net", "pence", [(x.id, float(x.net_pence)) for x in lines])
    vat = total("VAT", "vat", "pence", [(x.id, float(x.vat_pence)) for x in lines])
    whole = total("To pay", "total", "pence", [("net", net), ("VAT", vat)])
    return InvoiceOf(one.number, one.stage, final, one.on, lines, net, vat, whole, before, account)


def _findings(made: tuple[InvoiceOf, ...], extras: Extras) -> Iterator[Finding]:
    """Say what the final invoice leaves out."""
    final = next((m for m in made if m.final), None)
    if final is None:
        return
    for slip in extras.slips:
        if slip.signed_on is None and slip.net.value:
            says = f"The final invoice {final.number} leaves out {slip.name}, which nobody signed."
            yield Finding("extra-not-billed", slip.id, "note", says, WHERE, "measured",
                          remedy=Remedy("Have the slip signed, or let it go."))  # fmt: skip
