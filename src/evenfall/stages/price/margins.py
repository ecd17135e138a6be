"""Margins: the profit, the profit of a day, and what three common mishaps would leave of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.model.finding import Finding as Finding
from evenfall.model.job import Crew, Deck
from evenfall.model.priced import Event, Margins, Price
from evenfall.model.programmed import Programme
from evenfall.model.rates import Provisional, Rates
from evenfall.model.surveyed import Plan
from evenfall.stages.price.price import percent_of, times_rate
from evenfall.stages.programme.outputs import Outputs, person_hours
from evenfall.stages.takeoff.packed import in_packs, units
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Known, Working, formula, measured, total

ROTTEN_PERCENT = 20.0  # more of the deck than the survey allowed for: a fifth is often hidden
WET_DAYS = 5.0  # a wet week is one in which nobody can open a roof from Monday to Friday
DEARER_PERCENT = 10.0  # a usual step of a board price between quotation and order
DAYS_A_WEEK = 7  # hire goes by the calendar week
PERCENT = 100
DECK_BOARD, PATCH, NEW_DECK = "deck-board", "patch-deck", "new-deck"


@formula("profit", "pence", "price less cost and overhead")
def profit_of(net: float, cost: float, overhead: float) -> float:
    """Profit: what is left of the price without VAT.

    Parameters
    ----------
    net, cost, overhead : float
        Price without VAT, what the job costs, the running cost of the firm [pence].

    Returns
    -------
    float
        Profit, below nought where the price does not cover them [pence].

    Examples
    --------
    >>> profit_of(757300, 588000, 70560)
    98740
    """
    return net - cost - overhead


@formula("share", "%", "division")
def share_of(profit: float, net: float) -> float:
    """Profit in a hundred of the price.

    Parameters
    ----------
    profit, net : float
        Profit, and price without VAT [pence].

    Returns
    -------
    float
        Share [%].

    Examples
    --------
    >>> share_of(50, 1000)
    5.0
    """
    return profit / net * 100


@formula("per_day", "pence/d", "division")
def per_day(profit: float, days: float) -> float:
    """Profit of a day on the roof.

    Parameters
    ----------
    profit : float
        Profit [pence].
    days : float
        Working days [d].

    Returns
    -------
    float
        Profit a day [pence/d].

    Examples
    --------
    >>> per_day(70000, 7)
    10000.0
    """
    return profit / days


@formula("left", "pence", "profit less what the mishap costs")
def left_of(profit: float, costs: float, back: float) -> float:
    """Profit that is left after a mishap.

    Parameters
    ----------
    profit, costs, back : float
        Profit as priced, what the mishap costs, what is charged for it [pence].

    Returns
    -------
    float
        Profit, below nought where it is a loss [pence].

    Examples
    --------
    >>> left_of(100, 150, 20)
    -30
    """
    return profit - costs + back


@formula("area", "m2", "share of the deck, at most what was held to be sound")
def more_deck(gross: float, share: float, sound: float) -> float:
    """Deck to renew beyond what the survey allowed for.

    Parameters
    ----------
    gross : float
        Gross area [m2].
    share, sound : float
        Share that proves rotten, and the share that was held to be sound [%].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> more_deck(30, 20, 86), more_deck(30, 20, 10)
    (6.0, 3.0)
    """
    return gross * min(share, sound) / 100


@formula("days", "d", "hours over the hours of a crew's day")
def crew_days(hours: float, people: float, hours_a_day: float) -> float:
    """Days that a crew takes.

    Parameters
    ----------
    hours : float
        Person-hours [h].
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
    >>> crew_days(24, 3, 8)
    1.0
    """
    return hours / (people * hours_a_day)


@formula("idle", "h", "crew times hours times days")
def idle_hours(people: float, hours_a_day: float, days: float) -> float:
    """Hours that are paid while nobody can work.

    Parameters
    ----------
    people : float
        Crew [-].
    hours_a_day : float
        Hours of a day [h].
    days : float
        Days [d].

    Returns
    -------
    float
        Person-hours [h].

    Examples
    --------
    >>> idle_hours(3, 8, 5)
    120
    """
    return people * hours_a_day * days


def work(
    price: Price, plan: Plan, deck: Deck, crew: Crew, programme: Programme, rates: Rates
) -> Margins:
    """Reckon what the firm keeps, and what would be left after a mishap.

    Parameters
    ----------
    price : Price
        The price [-].
    plan : Plan
        Area [-].
    deck : Deck
        What the survey allowed for [-].
    crew : Crew
        Who works [-].
    programme : Programme
        Days [-].
    rates : Rates
        Prices, outputs, rates agreed beforehand [-].

    Returns
    -------
    Margins
        Profit, and three mishaps beside it [pence].
    """
    profit = profit_of.show(price.net, price.cost, price.overhead)
    days = Working("Days on site", "days", "d", "the programme", float(len(programme.days)))
    return Margins(
        profit, share_of.show(profit, price.net), per_day.show(profit, days),
        (
            _rotten(profit, plan, deck, crew, rates),
            _wet(profit, crew, rates),
            _dearer(profit, price, rates.basis),
        ),
    )  # fmt: skip


def _event(
    id_: str, says: str, profit: Working, costs: Working, back: Working | None = None
) -> Event:
    left = left_of.show(profit, costs, 0)
    charged = left_of.show(profit, costs, back) if back else None
    return Event(f"event:{id_}", says, costs, left, back, charged)


def _own(value: float, unit: str, key: str, rates: Rates) -> Known:
    return measured(value, unit, f"the rates: {key}", rates.basis)


def _labour(hours: Working, rates: Rates) -> Working:
    return times_rate.show(hours, _own(rates.terms.labour_pence_hour, "pence/h",
                                       "labour_pence_hour", rates))  # fmt: skip


def _day_on_site(rates: Rates) -> Iterator[tuple[str, float]]:
    """Give what one more day on site costs beside the crew, charge by charge."""
    for charge in rates.charges:
        if charge.unit in ("day", "night"):
            yield charge.name, float(charge.price_pence)
        elif charge.unit == "week":
            yield charge.name, charge.price_pence / DAYS_A_WEEK


def _site(days: Working, rates: Rates) -> Working:
    one = replace(total("A day on site", "day", "pence", list(_day_on_site(rates))),
                  own_basis=rates.basis)  # fmt: skip
    return times_rate.show(days, one)


def _provisional(rates: Rates, beyond: str | None, unit: str) -> Provisional | None:
    return next((p for p in rates.provisional if p.unit == unit and p.beyond == beyond), None)


def _rotten(profit: Working, plan: Plan, deck: Deck, crew: Crew, rates: Rates) -> Event:
    """Renew a fifth more of the deck: boards in packs, hours, and the days that they add."""
    renewed = measured(deck.renew_percent, "%", "survey.deck.renew_percent")
    sound = Working("Deck held to be sound", "sound", "%", "the survey", PERCENT - renewed,
                    (("renewed", "%", renewed),), "100 − renewed")  # fmt: skip
    area = more_deck.show(plan.gross, ROTTEN_PERCENT, sound)
    task = NEW_DECK if deck.renew_percent >= practice.WHOLE_DECK else PATCH
    output = Outputs(rates.outputs, rates.basis).of(task, "m2")
    hours = person_hours.show(area, _own(output.typical, "h/m2", f"outputs[{task}].typical", rates))
    days = crew_days.show(hours, crew.people, crew.hours_a_day)
    boards = _boards(area, rates)
    costs = total("What it costs", "costs", "pence", [
        ("boards", boards), ("hours", _labour(hours, rates)), ("days on site", _site(days, rates)),
    ])  # fmt: skip
    agreed = _provisional(rates, "deck", "m2")
    back = times_rate.show(area, _own(agreed.price_pence, "pence/m2", f"provisional[{agreed.name}]",
                                      rates)) if agreed else None  # fmt: skip
    says = f"Rotten deck on {ROTTEN_PERCENT:.0f} % more of the roof: {area.value:.1f} m²."
    return _event("rotten-deck", says, profit, costs, back)


def _boards(area: Working, rates: Rates) -> Working:
    """Price the boards of a patch as they are bought."""
    item = next((i for i in rates.items if i.name == DECK_BOARD), None)
    if item is None:
        return Working("Deck boards", "boards", "pence", "the rates name none", 0.0)
    wanted = units.show(
        area,
        _own(item.covers, "m2", f"items[{DECK_BOARD}].covers", rates),
        _own(item.waste_percent, "%", f"items[{DECK_BOARD}].waste", rates),
    )
    prices = {p.size: p.price_pence for p in item.packs}
    packs, _ = in_packs(wanted.value, item)
    parts = [(f"{n} × {says}", float(n * prices[size])) for n, size, says in packs]
    found = total("Deck boards, in packs", "boards", "pence", parts)
    return replace(found, own_basis=rates.basis)


def _wet(profit: Working, crew: Crew, rates: Rates) -> Event:
    """Stand still for a week: the crew is paid, and what is hired stays."""
    days = Working("Days lost", "days", "d", "a wet week", WET_DAYS)
    hours = idle_hours.show(crew.people, crew.hours_a_day, days)
    costs = total("What it costs", "costs", "pence", [
        ("hours paid", _labour(hours, rates)), ("days on site", _site(days, rates)),
    ])  # fmt: skip
    agreed = _provisional(rates, None, "day")
    back = times_rate.show(days, _own(agreed.price_pence, "pence/d", f"provisional[{agreed.name}]",
                                      rates)) if agreed else None  # fmt: skip
    says = f"A wet week: {WET_DAYS:.0f} days lost, the crew paid and the hire running on."
    return _event("wet-week", says, profit, costs, back)


def _dearer(profit: Working, price: Price, basis: Basis) -> Event:
    """Buy the boards dearer than they were quoted."""
    lines = [(x.id, float(x.pence)) for x in price.lines if x.id.startswith(("board:", "taper:"))]
    boards = replace(total("Boards as priced", "base", "pence", lines), own_basis=basis)
    costs = percent_of.show(boards, measured(DEARER_PERCENT, "%", "a usual step", basis))
    says = f"Boards {DEARER_PERCENT:.0f} % dearer when they are ordered."
    return _event("dearer-board", says, profit, costs)
