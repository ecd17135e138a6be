"""What the client accepted, held against the job and the prices as they stand now."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from evenfall.model.finding import Finding, Remedy
from evenfall.model.priced import Price
from evenfall.model.recorded import Accepted
from evenfall.stages.price import vat as tax
from evenfall.stages.price.price import percent_of
from evenfall.standards import vat as law
from evenfall.standards import vat_notice_708_6 as notice

WHERE = "record.accepted"
PENNY = 1  # that rounding may move VAT by
RATES = (law.NONE_CHARGED, notice.REDUCED_PERCENT, law.STANDARD)


def vat_as_accepted(net: float, total: float, percent: float) -> bool:
    """Tell whether a rate of VAT is the one of the accepted sums.

    Parameters
    ----------
    net, total : float
        Accepted without and with VAT [pence].
    percent : float
        Rate of VAT [%].

    Returns
    -------
    bool
        Whether it gives that total, to the penny of rounding [-].

    Examples
    --------
    >>> vat_as_accepted(100_003, 120_004, 20), vat_as_accepted(100_003, 120_004, 0)
    (True, False)
    """
    return abs(total - net - percent_of(net, percent)) <= PENNY


def moved(accepted: Accepted | None, price: Price, case: str, on: date) -> Iterator[Finding]:
    """Say where job, prices or VAT are no longer those that the client accepted.

    Parameters
    ----------
    accepted : Accepted or None
        What was accepted [-].
    price : Price
        The price as it stands [pence].
    case : str
        The declared case of VAT [-].
    on : date
        When the work is finished [-].

    Yields
    ------
    Finding
        Each with its remedy [-].
    """
    if accepted is None:
        return
    if accepted.total_pence != round(price.total.value):
        yield _sum_moved(accepted, price)
    if accepted.prices != price.mark:
        yield _other_prices(accepted, price)
    yield from _vat(accepted, case, on)


def _sum_moved(accepted: Accepted, price: Price) -> Finding:
    says = (
        "The job as it stands no longer comes to what the client accepted. Slips and invoices go "
        "by what was accepted."
    )
    cure = Remedy(
        f"Work it with the prices kept under {accepted.prices}, or agree the difference in writing."
    )
    return Finding("accepted-moved", "price", "note", says, WHERE, "measured",
                   price.total.value / 100, accepted.total_pence / 100, "pounds", cure)  # fmt: skip


def _other_prices(accepted: Accepted, price: Price) -> Finding:
    says = (
        f"The client accepted the prices {accepted.prices}; the job is worked with {price.mark}. "
        "Rates agreed beforehand and stages of payment may be others."
    )
    cure = Remedy(
        f"Work it with the kept rates-{accepted.prices}.yaml, or agree the new ones in writing, "
        "before a slip or an invoice goes out."
    )
    return Finding("accepted-other-prices", "price", "agree", says, WHERE, "measured",
                   remedy=cure)  # fmt: skip


def _vat(accepted: Accepted, case: str, on: date) -> Iterator[Finding]:
    net, total, percent = accepted.net_pence, accepted.total_pence, float(tax.rate(case, on))
    if vat_as_accepted(net, total, percent):
        return
    found = (total - net) / 100
    if not any(vat_as_accepted(net, total, float(rate)) for rate in RATES):
        says = f"Net and total of what was accepted differ by £{found:,.2f}: no rate of VAT."
        yield Finding("accepted-sums", "price", "stop", says, WHERE, "measured", found,
                      percent_of(net, percent) / 100, "pounds",
                      Remedy("Write both as the signed quotation has them."))  # fmt: skip
        return
    says = (
        f"The client accepted £{found:,.2f} of VAT; by the case declared now it is {percent:g} % "
        "of the net sum. Invoices go by the case declared now."
    )
    cure = Remedy("Declare the case that was accepted, or agree the new total in writing.")
    yield Finding("accepted-vat-moved", "price", "agree", says, WHERE, "measured",
                  percent_of(net, percent) / 100, found, "pounds", cure)  # fmt: skip
