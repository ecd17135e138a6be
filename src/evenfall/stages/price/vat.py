"""VAT: the rate of the declared case, and what its declaration needs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Vat
from evenfall.standards import vat as law
from evenfall.standards import vat_notice_708_6 as notice
from evenfall.working import Basis, Cited


def rate(case: str, finish_on: date) -> Cited:
    """Give the rate of a declared case.

    Parameters
    ----------
    case : str
        ``standard``, ``insulation_zero``, ``reverse_charge`` or ``not_registered`` [-].
    finish_on : date
        When the supply is finished [-].

    Returns
    -------
    Cited
        Rate of tax [%].

    Examples
    --------
    >>> float(rate("insulation_zero", date(2027, 3, 31)))
    0.0
    >>> float(rate("insulation_zero", date(2027, 4, 1)))
    5.0
    """
    if case == "standard":
        return law.STANDARD
    if case == "insulation_zero":
        return notice.ZERO_PERCENT if finish_on <= notice.ZERO_UNTIL else notice.REDUCED_PERCENT
    return law.NONE_CHARGED


def for_others(case: str) -> Cited:
    """Give the rate that the client will pay to others for ordinary work.

    Parameters
    ----------
    case : str
        The declared case; under the reverse charge the client is a business [-].

    Returns
    -------
    Cited
        Rate of tax [%].

    Examples
    --------
    >>> float(for_others("insulation_zero")), float(for_others("reverse_charge"))
    (20.0, 0.0)
    """
    return law.NONE_CHARGED if case == "reverse_charge" else law.STANDARD


def findings(
    vat: Vat, *, registered: bool, start_on: date, finish_on: date, rates_basis: Basis
) -> Iterator[Finding]:
    """Say what the declared case still needs.

    Parameters
    ----------
    vat : Vat
        The declared case and its reason [-].
    registered : bool
        Whether the rates say that the firm is registered [-].
    start_on, finish_on : date
        First and last day of the work [-].
    rates_basis : str
        Basis of the rates [-].

    Yields
    ------
    Finding
        Each with its remedy [-].
    """
    percent = rate(vat.case, finish_on)
    source, basis = percent.source, percent.basis
    if vat.case in ("insulation_zero", "reverse_charge") and not vat.reason:
        cure = Remedy("Charge 20 %.", (Change("design.vat.case", "standard"),))
        says = f"VAT at {percent:.0f} % has no reason written down. Give one, or charge 20 %."
        limit = law.STANDARD.value
        yield Finding("vat-reason", "price", "stop", says, source, basis, percent, limit, "%", cure)
    if vat.case == "insulation_zero":
        says = f"The insulation rate is contested for a whole roof. {law.CONTESTED}"
        yield Finding("vat-contested", "price", "agree", says, source, basis)
        if start_on <= notice.ZERO_UNTIL < finish_on:
            until = f"{notice.ZERO_UNTIL:%d %b %Y}"
            says = f"The rate holds until {until} and work goes on after it: mind the tax point."
            yield Finding("vat-turns", "price", "agree", says, source, basis)
    if (vat.case == "not_registered") == registered:
        says = (
            "The rates say the firm is registered for VAT; the job charges none."
            if registered
            else "The rates say the firm is not registered for VAT; the job charges it."
        )
        case = "standard" if registered else "not_registered"
        cure = Remedy("Declare it as the rates have it.", (Change("design.vat.case", case),))
        yield Finding(
            "vat-registration", "price", "stop", says, "the rates", rates_basis, remedy=cure
        )
