"""Price: every line a quantity times a rate; from cost to the last penny of VAT."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from evenfall.model.choice import pick
from evenfall.model.job import Vat
from evenfall.model.priced import Block, Price, PriceLine, ProvisionalOf, StageOf
from evenfall.model.programmed import Programme, Task, Tasks
from evenfall.model.rates import Charge, Rates, Stage
from evenfall.model.standing import Windows
from evenfall.model.surveyed import Plan
from evenfall.model.taken_off import Boards, Items, Lengths, OrderLine, Rolls, Sheet, Strip
from evenfall.stages.price import holds, notices
from evenfall.stages.price import vat as tax
from evenfall.stages.price.lookup import Lookup
from evenfall.stages.price.upkeep import upkeep
from evenfall.working import Basis, Known, Working, formula, measured, total, weakest

DAYS_A_WEEK = 7  # hire goes by the calendar week
PERCENT = 100


@formula("pence", "pence", "quantity times rate")
def times_rate(quantity: float, rate: float) -> float:
    """Cost of one line, to the whole penny.

    Parameters
    ----------
    quantity : float
        How much [unit].
    rate : float
        Price of one [pence].

    Returns
    -------
    float
        Cost [pence].

    Examples
    --------
    >>> times_rate(3.5, 1001)
    3504
    """
    return round(quantity * rate)


@formula("part", "pence", "percentage")
def percent_of(base: float, percent: float) -> float:
    """Part of a sum, to the whole penny.

    Parameters
    ----------
    base : float
        The sum [pence].
    percent : float
        Share [%].

    Returns
    -------
    float
        Part [pence].

    Examples
    --------
    >>> percent_of(10001, 12)
    1200
    """
    return round(base * percent / 100)


@formula("net", "pence", "cost, overhead and margin, at least the minimum charge")
def net_price(cost: float, overhead: float, margin: float, minimum: float) -> float:
    """Price without VAT.

    Parameters
    ----------
    cost, overhead, margin : float
        What it costs, and what the firm adds [pence].
    minimum : float
        Minimum charge of the firm [pence].

    Returns
    -------
    float
        Price [pence].

    Examples
    --------
    >>> net_price(1000, 100, 200, 5000)
    5000
    """
    return max(cost + overhead + margin, minimum)


@formula("per_m2", "pence/m2", "division")
def per_square_metre(net: float, A: float) -> float:
    """Price for a square metre.

    Parameters
    ----------
    net : float
        Price without VAT [pence].
    A : float
        Gross area [m2].

    Returns
    -------
    float
        Price [pence/m2].

    Examples
    --------
    >>> per_square_metre(757300, 25.42)
    29791.5
    """
    return net / A


def work(
    boards: Boards,
    sheet: Sheet,
    rolls: Rolls,
    lengths: Lengths,
    windows: Windows,
    items: Items,
    strip: Strip,
    tasks: Tasks,
    programme: Programme,
    plan: Plan,
    rates: Rates,
    vat: Vat,
    on: date,
    sampled: bool,
    fascia: str | None = None,
    agreed: bool = False,
) -> Price:
    """Price the job.

    Parameters
    ----------
    boards, sheet, rolls, lengths, windows, items, strip : take-off
        What is bought and what comes off [-].
    tasks, programme : Tasks, Programme
        Hours and days [-].
    plan : Plan
        Area and perimeter [-].
    rates : Rates
        The firm's prices and terms [-].
    vat : Vat
        The declared case [-].
    on : date
        Date of the quotation [-].
    sampled : bool
        Whether the felt has been sampled for asbestos [-].
    fascia : str, optional
        Material of the new fascia [-].
    agreed : bool
        Whether the client has accepted or work has begun, so that no quotation goes out [-].

    Returns
    -------
    Price
        Lines, totals, stages and findings; whole pence [pence].
    """
    finish = pick(rates.fascias, fascia, "design.fascia_finish") if fascia else None
    look = Lookup(rates, finish.price_percent if finish else PERCENT)
    order = (*boards.order, *sheet.order, *rolls.order, *lengths.order, *windows.order,
             *items.order)  # fmt: skip
    lines = (
        *(_material(o, look, rates.basis) for o in order),
        *_labour(tasks.tasks, rates),
        *_charges(rates, plan, programme, strip, sampled),
    )
    terms = rates.terms
    cost = _sum("Cost", "cost", lines)
    overhead = percent_of.show(cost, _term(terms.overhead_percent, "overhead_percent", rates))
    margin = percent_of.show(
        total("Cost and overhead", "base", "pence", [("cost", cost), ("overhead", overhead)]),
        _term(terms.margin_percent, "margin_percent", rates),
    )
    least = measured(
        terms.minimum_charge_pence, "pence", "the rates: minimum_charge_pence", rates.basis
    )
    net = net_price.show(cost, overhead, margin, least)
    percent = tax.rate(vat.case, programme.finish_on)
    due = percent_of.show(net, percent)
    whole = total("Total with VAT", "total", "pence", [("net", net), ("VAT", due)])
    oldest = min([rates.rates.priced_on, *(x.priced_on for x in lines if x.priced_on)])
    return Price(
        lines=lines,
        cost=cost,
        overhead=overhead,
        margin=margin,
        net=net,
        vat_percent=float(percent),
        vat_reason=vat.reason,
        vat=due,
        total=whole,
        per_m2=per_square_metre.show(net, plan.gross),
        stages=split(rates.terms.stages, round(whole.value)),
        provisional=tuple(
            ProvisionalOf(p.name, p.says, p.unit, p.price_pence) for p in rates.provisional
        ),
        valid_until=min(
            on + timedelta(days=terms.valid_days),
            oldest + timedelta(days=rates.rates.hold_days),
        ),
        prices_on=oldest,
        mark=rates.mark,
        upkeep=upkeep(finish, lengths, whole, tax.for_others(vat.case), rates.basis),
        findings=(
            *holds.findings(rates, oldest, programme.days[0].on, on, agreed=agreed),
            *tax.findings(
                vat,
                registered=rates.firm.vat_registered,
                start_on=programme.days[0].on,
                finish_on=programme.finish_on,
                rates_basis=rates.basis,
            ),
            *notices.findings(rates.firm, business=vat.case == "reverse_charge"),
        ),
    )


def _term(value: float, key: str, rates: Rates) -> Known:
    return measured(value, "%", f"the rates: {key}", rates.basis)


def _sum(title: str, symbol: str, lines: tuple[PriceLine, ...]) -> Working:
    blocks: dict[str, int] = defaultdict(int)
    for line in lines:
        blocks[line.block] += line.pence
    found = total(title, symbol, "pence", sorted(blocks.items()))
    return replace(found, own_basis=weakest([x.basis for x in lines]))


def _line(
    block: Block, id_: str, says: str, quantity: Working, unit: str, rate: float, rates: Rates
) -> PriceLine:
    pence = times_rate.show(quantity, measured(rate, "pence", f"the rates: {id_}", rates.basis))
    return PriceLine(block, id_, says, quantity, unit, rate, round(pence.value), pence.basis)


def _material(order: OrderLine, look: Lookup, basis: Basis) -> PriceLine:
    """Price an order line as it is bought, in packs."""
    pence = look.pence(order)
    rate = pence / order.bought if order.bought else 0.0
    bought = Working(
        f"Bought: {order.says}", "bought", order.unit, "packs that cover the need", order.bought,
        (("need", order.unit, order.need),), "need, rounded up to packs",
    )  # fmt: skip
    return PriceLine(
        "materials", order.id, order.says, bought, order.unit, rate, pence,
        weakest([order.basis, basis]), look.packs(order), look.priced_on(order),
    )  # fmt: skip


def _labour(tasks: tuple[Task, ...], rates: Rates) -> Iterator[PriceLine]:
    """One line for each kind of task, all bays together."""
    kinds: dict[str, list[Task]] = defaultdict(list)
    for task in tasks:
        kinds[task.id.split("@", 1)[0]].append(task)
    for id_, group in kinds.items():
        parts = [(t.id, t.hours) for t in group]
        hours = group[0].hours if len(group) == 1 else total("Hours", "hours", "h", parts)
        if hours.value:
            rate = rates.terms.labour_pence_hour
            yield _line("labour", id_, group[0].says, hours, "h", rate, rates)


def _charges(
    rates: Rates, plan: Plan, programme: Programme, strip: Strip, sampled: bool
) -> Iterator[PriceLine]:
    """Access, skip, fees: each by its unit, where this job needs it."""
    days = len(programme.days)
    weeks = -(-((programme.finish_on - programme.days[0].on).days + 1) // DAYS_A_WEEK)
    by_unit = {
        "m": plan.perimeter,
        "m2": plan.gross,
        "day": _count("Days on site", days),
        "week": _count("Weeks on site", weeks),
        "night": _count("Nights", max(0, days - 1)),
        "job": _count("For the job", 1),
        "each": _count("Number", 1),
    }
    for charge in rates.charges:
        if charge.holds_m3 is not None:  # a skip: only the one that was chosen
            if charge.name == strip.skip:
                yield _charge(charge, strip.skips, rates)
        elif _needed(charge, rates, sampled):
            yield _charge(charge, by_unit[charge.unit], rates)


def _needed(charge: Charge, rates: Rates, sampled: bool) -> bool:
    if charge.when == "not_in_scheme":
        return not rates.firm.competent_person_scheme
    return not sampled if charge.when == "felt_not_sampled" else True


def _charge(charge: Charge, quantity: Working, rates: Rates) -> PriceLine:
    id_ = f"charge:{charge.name}"
    rate = charge.price_pence
    return _line(charge.block, id_, charge.says, quantity, charge.unit, rate, rates)


def _count(title: str, number: float) -> Working:
    return Working(title, "n", "-", "the programme", float(number))


def split(stages: tuple[Stage, ...], pence: int) -> tuple[StageOf, ...]:
    """Split a sum into the stages of payment; the last one takes what rounding leaves.

    Parameters
    ----------
    stages : tuple of Stage
        Shares that add up to the whole [%].
    pence : int
        The sum [pence].

    Returns
    -------
    tuple of StageOf
        Parts that add up to it exactly [pence].

    Examples
    --------
    >>> thirds = (Stage(name="a", says="A", percent=33.3), Stage(name="b", says="B", percent=66.7))
    >>> [s.pence for s in split(thirds, 1001)]
    [333, 668]
    """
    found, left = [], pence
    for stage in stages[:-1]:
        part = round(pence * stage.percent / PERCENT)
        left -= part
        found.append(StageOf(stage.name, stage.says, stage.percent, part))
    last = stages[-1]
    return (*found, StageOf(last.name, last.says, last.percent, left))
