"""Extra work on site: what was found, at the rate agreed beforehand, and what it does to the job.

The quantity that the price already holds is taken off first, slip after slip.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

from evenfall.model.choice import pick
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Calendar, Crew
from evenfall.model.priced import Extras, Price, SlipOf
from evenfall.model.rates import Provisional
from evenfall.model.recorded import Accepted, Extra
from evenfall.model.surveyed import Plan
from evenfall.stages.price import vat as tax
from evenfall.stages.price.contract import moved
from evenfall.stages.price.price import percent_of, times_rate
from evenfall.stages.programme.gang import works
from evenfall.working import Basis, Known, Working, formula, measured, total

MOST_DAYS = 400  # a search for a working day that goes on longer has found a calendar of holidays
WHERE = "record.extras"


@formula("allowed", "m2", "share of the gross area")
def deck_allowed(gross: float, renewed: float) -> float:
    """Deck whose renewal is in the price, to the square decimetre, as the slip prints it.

    Parameters
    ----------
    gross : float
        Gross area [m2].
    renewed : float
        Share that the survey allowed for [%].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> deck_allowed(30, 20)
    6.0
    """
    return round(gross * renewed / 100, 2)


@formula("charged", "unit", "what was found beyond what the price holds")
def beyond(found: float, allowed: float) -> float:
    """Quantity that is charged, with the decimals that the slip prints.

    Parameters
    ----------
    found, allowed : float
        What was found, and what is left of what the price holds [unit].

    Returns
    -------
    float
        Never below nought [unit].

    Examples
    --------
    >>> beyond(5.5, 2.0), beyond(1.0, 2.0)
    (3.5, 0.0)
    """
    return round(max(found - allowed, 0.0), 2)


@formula("days", "d", "hours over the hours of a crew's day, and whole days")
def days_added(quantity: float, hours: float, people: float, hours_a_day: float) -> float:
    """Days that extra work adds to the programme.

    Parameters
    ----------
    quantity : float
        Work charged [unit].
    hours : float
        Person-hours for one unit [h/unit].
    people : float
        Crew [-].
    hours_a_day : float
        Hours of a day [h].

    Returns
    -------
    float
        Days [d].

    Examples
    --------
    >>> days_added(10, 0.6, 3, 8)
    0.25
    """
    return quantity * hours / (people * hours_a_day)


@dataclass(frozen=True, slots=True)
class Site:
    """Who works when, and until when the programme goes without extra work."""

    crew: Crew
    calendar: Calendar
    nation: str  # whose public holidays are kept
    finish_on: date
    renew_percent: float


def work(
    extras: tuple[Extra, ...], accepted: Accepted | None, price: Price, plan: Plan, site: Site,
    vat_case: str, agreed: tuple[Provisional, ...], basis: Basis,
) -> Extras:  # fmt: skip
    """Price the extra work, and say when the job is done with it.

    Parameters
    ----------
    extras : tuple of Extra
        What was found on site [-].
    accepted : Accepted or None
        The quotation as the client accepted it [-].
    price : Price
        The price as it stands [-].
    plan : Plan
        Area [-].
    site : Site
        Crew, calendar, last day [-].
    vat_case : str
        The declared case [-].
    agreed : tuple of Provisional
        Rates agreed beforehand [-].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Extras
        Slips, the new total, the new last day, and findings [pence].

    Raises
    ------
    InvalidInput
        An extra names a rate that was not agreed.
    """
    net, whole = _contract(accepted, price)
    slips = tuple(_slips(extras, whole, plan, site, vat_case, agreed, basis))
    signed = [s for s in slips if s.signed_on]
    parts = [("contract", whole), *((s.id, s.total) for s in signed)]
    return Extras(
        net, whole, slips, total("Contract and signed work", "total", "pence", parts),
        finish(site, sum(s.days.value for s in signed)),
        (*moved(accepted, price, vat_case, site.finish_on),
         *(f for s in slips for f in _findings(s))),
        accepted.on if accepted else None,
    )  # fmt: skip


def _contract(accepted: Accepted | None, price: Price) -> tuple[Working, Working]:
    if accepted is None:
        return price.net, price.total
    return (
        Working("Accepted, without VAT", "net", "pence", "record.accepted",
                float(accepted.net_pence), own_basis="measured"),
        Working("Accepted, with VAT", "total", "pence", "record.accepted",
                float(accepted.total_pence), own_basis="measured"),
    )  # fmt: skip


def _slips(
    extras: tuple[Extra, ...],
    whole: Working,
    plan: Plan,
    site: Site,
    case: str,
    agreed: tuple[Provisional, ...],
    basis: Basis,
) -> Iterator[SlipOf]:
    renewed = measured(site.renew_percent, "%", "survey.deck.renew_percent")
    used: dict[str, float] = defaultdict(float)
    so_far: list[tuple[str, Working]] = [("contract", whole)]
    days = 0.0
    percent = tax.rate(case, site.finish_on)
    for extra in extras:
        rate = pick(agreed, extra.rate, f"{WHERE}[{extra.name}].rate")
        held = deck_allowed.show(plan.gross, renewed) if rate.beyond == "deck" else None
        one = _slip(extra, rate, held, used[rate.name], percent, site, basis)
        used[rate.name] += extra.found
        new_total = total("Contract, signed work and this", "total", "pence",
                          [*so_far, (one.id, one.total)])  # fmt: skip
        finished = finish(site, days + one.days.value)
        one = replace(one, new_total=new_total, new_finish=finished)
        if extra.signed:
            so_far.append((one.id, one.total))
            days += one.days.value
        yield one


def _slip(
    extra: Extra, rate: Provisional, held: Working | None, used: float, percent: Known,
    site: Site, basis: Basis,
) -> SlipOf:  # fmt: skip
    key = f"{WHERE}[{extra.name}]"
    found = Working("Found", "found", rate.unit, key, extra.found, own_basis="measured")
    left = None
    if held is not None:
        left = beyond.show(held, Working("Found before", "used", rate.unit, WHERE, used,
                                         own_basis="measured"))  # fmt: skip
    charged = beyond.show(found, left if left is not None else 0.0)
    each = measured(rate.price_pence, f"pence/{rate.unit}", f"the rates: {rate.name}", basis)
    net = times_rate.show(charged, each)
    vat = percent_of.show(net, percent)
    whole = total("Extra work with VAT", "total", "pence", [("net", net), ("VAT", vat)])
    return SlipOf(
        f"extra:{extra.name}", extra.name, rate.says, rate.unit, extra.where, extra.found_on,
        extra.photo.file if extra.photo else "", extra.photo.sha256 if extra.photo else "",
        found, left, charged, rate.price_pence, net, vat, whole,
        _days(charged, rate, site, basis), extra.signed.by if extra.signed else "",
        extra.signed.on if extra.signed else None, whole, site.finish_on,
    )  # fmt: skip


def _days(charged: Working, rate: Provisional, site: Site, basis: Basis) -> Working:
    """Turn extra work into days; a rate by the day is so many days."""
    if rate.unit == "day":
        return Working("Days", "days", "d", "a rate by the day", charged.value,
                       (("charged", "d", charged),), "charged")  # fmt: skip
    hours = measured(rate.hours, f"h/{rate.unit}", f"the rates: {rate.name}, hours", basis)
    return days_added.show(charged, hours, site.crew.people, site.crew.hours_a_day)


def finish(site: Site, days: float) -> date:
    """Find the last day of the work with some days more.

    Parameters
    ----------
    site : Site
        Calendar, and the last day without them [-].
    days : float
        Days more; a part of a day takes one [d].

    Returns
    -------
    date
        A working day [-].
    """
    left, on = ceil(round(days, 6)), site.finish_on
    for _ in range(MOST_DAYS):
        if not left:
            break
        on += timedelta(days=1)
        left -= works(on, site.calendar, site.nation)
    return on


def _findings(slip: SlipOf) -> Iterator[Finding]:
    if slip.signed_on is None:
        says = f"{slip.where}: {slip.says.lower()}. Held until the client has signed the slip."
        yield Finding("extra-unsigned", slip.id, "agree", says, WHERE, "measured",
                      remedy=Remedy("Do not go on there before the slip is signed."))  # fmt: skip
    if not slip.photo:
        says = f"{slip.where}: no photo was taken before the repair."
        yield Finding("extra-without-photo", slip.id, "agree", says, WHERE, "measured",
                      remedy=Remedy("Take one and name its file in the job, or agree "
                                     "in writing to go without."))  # fmt: skip
