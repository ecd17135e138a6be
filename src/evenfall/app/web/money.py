"""The order list, the price in groups, and, apart from it, what is for the owner only."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from evenfall.app.web.slips import Slip, slip
from evenfall.app.web.words import measure, number, unit
from evenfall.flow import WorkedJob, price_groups
from evenfall.model.priced import Margins, Options, Price
from evenfall.model.taken_off import OrderLine
from evenfall.model.words import pounds

BLOCKS = {
    "access": "Scaffold and access",
    "strip": "Stripping and taking away",
    "materials": "Materials",
    "labour": "Work on the roof",
    "prelims": "Setting up and looking after the site",
    "fees": "Notices, tests and fees",
}


@dataclass(frozen=True, slots=True)
class Order:
    """One thing to buy."""

    says: str = field(metadata={"help": "What it is."})
    note: str = field(metadata={"help": "Cutting list, or what the counter must know."})
    need: str = field(metadata={"help": "How much is needed."})
    buy: str = field(metadata={"help": "In which packs it is bought."})


@dataclass(frozen=True, slots=True)
class Group:
    """Lines of the order that belong together."""

    title: str = field(metadata={"help": "What they are for."})
    lines: tuple[Order, ...] = field(metadata={"help": "The lines."})


@dataclass(frozen=True, slots=True)
class Line:
    """Words and an amount of money."""

    says: str = field(metadata={"help": "What it is for."})
    amount: str = field(metadata={"help": "Pounds and pence."})
    more: str = field(default="", metadata={"help": "What belongs beside it."})


@dataclass(frozen=True, slots=True)
class Offer:
    """One option."""

    says: str = field(metadata={"help": "What it is."})
    total: str = field(metadata={"help": "Price with VAT."})
    more: str = field(metadata={"help": "Difference to the job as it stands."})
    days: str = field(metadata={"help": "Days on the roof."})
    u: str = field(metadata={"help": "Heat lost, W/m²K."})
    stops: str = field(metadata={"help": "Findings that stop it."})


@dataclass(frozen=True, slots=True)
class Cost:
    """One line of cost."""

    block: str = field(metadata={"help": "Group of the price."})
    says: str = field(metadata={"help": "What it is."})
    quantity: str = field(metadata={"help": "Quantity with unit."})
    rate: str = field(metadata={"help": "Rate of one."})
    amount: str = field(metadata={"help": "Cost."})


@dataclass(frozen=True, slots=True)
class Mishap:
    """Something that may go otherwise than priced."""

    says: str = field(metadata={"help": "What happens."})
    costs: str = field(metadata={"help": "What it costs."})
    left: str = field(metadata={"help": "Profit left if the firm bears it."})
    charged: str = field(metadata={"help": "Profit left if it is charged by the agreed rate."})


@dataclass(frozen=True, slots=True)
class Owner:
    """What no client sees."""

    lines: tuple[Cost, ...] = field(metadata={"help": "Every line of cost."})
    sums: tuple[Line, ...] = field(metadata={"help": "Cost, overhead, margin, net."})
    kept: tuple[Line, ...] = field(metadata={"help": "Profit, its share, the profit of a day."})
    mishaps: tuple[Mishap, ...] = field(metadata={"help": "What would eat the profit."})
    workings: tuple[Slip, ...] = field(metadata={"help": "How the price came about."})


def order(worked: WorkedJob) -> tuple[Group, ...]:
    """List what to order, room by room.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    tuple of Group
        Groups with at least one line [-].
    """
    parts = (
        ("Boards", worked.boards.order),
        ("Sheet", worked.sheet.order),
        ("VCL", worked.rolls.order),
        ("Trims and timber", worked.lengths.order),
        ("Screws, tubes, litres", worked.items.order),
    )
    return tuple(Group(title, tuple(_order(o) for o in lines)) for title, lines in parts if lines)


def _order(line: OrderLine) -> Order:
    packs = " + ".join(_kept(_pack(count, words)) for count, _, words in line.packs)
    said = "" if line.unit == "each" else f" {unit(line.unit)}"
    return Order(line.says, line.note, f"{number(round(line.told, 1))}{said}", packs)


def _kept(words: str) -> str:
    """Keep each number with its unit on one line."""
    return re.sub(r"(?<=\d) ", "\N{NO-BREAK SPACE}", words)


def _pack(count: int, words: str) -> str:
    """Say how many packs; a pack of one is no pack."""
    if words == "pack of 1":
        return f"{count}"
    return words if count == 1 and words[:1].isdigit() else f"{count} × {words}"


def groups(worked: WorkedJob) -> tuple[Line, ...]:
    """List the price without VAT in groups, as the quotation does.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    tuple of Line
        Groups whose amounts add up to the net price [-].
    """
    return tuple(Line(g.says, pounds(g.pence)) for g in price_groups(worked))


def sums(price: Price) -> tuple[Line, ...]:
    """List net price, VAT and total.

    Parameters
    ----------
    price : Price
        The price [-].

    Returns
    -------
    tuple of Line
        From the net price to the last penny [-].
    """
    per_m2 = f"{pounds(price.per_m2.value)} a m²"
    return (
        Line("without VAT", pounds(price.net.value), per_m2),
        Line(f"VAT, {price.vat_percent:g} %", pounds(price.vat.value)),
        Line("with VAT", pounds(price.total.value)),
    )


def stages(price: Price) -> tuple[Line, ...]:
    """List the payments.

    Parameters
    ----------
    price : Price
        The price [-].

    Returns
    -------
    tuple of Line
        One for each payment [-].
    """
    return tuple(Line(s.says, pounds(s.pence), f"{s.percent:g} %") for s in price.stages)


def provisional(price: Price) -> tuple[Line, ...]:
    """List the rates agreed in advance.

    Parameters
    ----------
    price : Price
        The price [-].

    Returns
    -------
    tuple of Line
        One for each rate [-].
    """
    return tuple(Line(p.says, f"{pounds(p.pence)} a {unit(p.unit)}") for p in price.provisional)


def offers(options: Options) -> tuple[Offer, ...]:
    """Set the options side by side.

    Parameters
    ----------
    options : Options
        The options [-].

    Returns
    -------
    tuple of Offer
        One for each [-].
    """
    return tuple(
        Offer(
            o.says, pounds(o.total_pence), pounds(o.more_pence) if o.more_pence < 0 else
            f"+{pounds(o.more_pence)}", str(o.days), f"{o.u:.2f}",
            f"{o.stops} to stop for" if o.stops else "nothing to stop for",
        )
        for o in options.options
    )  # fmt: skip


def owner(price: Price, margins: Margins) -> Owner:
    """Gather what is for the owner only.

    Parameters
    ----------
    price : Price
        The price [-].
    margins : Margins
        What the firm keeps [-].

    Returns
    -------
    Owner
        Cost, overhead, margin and their workings [-].
    """
    lines = tuple(
        Cost(
            BLOCKS[line.block], line.says, measure(line.quantity.value, line.unit),
            pounds(line.rate_pence), pounds(line.pence),
        )
        for line in price.lines
    )  # fmt: skip
    added = (
        Line("cost", pounds(price.cost.value)),
        Line("overhead", pounds(price.overhead.value)),
        Line("margin", pounds(price.margin.value)),
        Line("without VAT", pounds(price.net.value)),
    )
    share = f"{margins.share.value:.1f} % of the price"
    kept = (
        Line("profit", pounds(margins.profit.value), share),
        Line("profit of a day on the roof", pounds(margins.per_day.value)),
    )
    return Owner(lines, added, kept, tuple(_mishaps(margins)), tuple(_workings(price, margins)))


def _mishaps(margins: Margins) -> Iterator[Mishap]:
    for e in margins.events:
        charged = pounds(e.left_charged.value) if e.left_charged else "no rate agreed"
        yield Mishap(e.says, pounds(e.costs.value), pounds(e.left.value), charged)


def _workings(price: Price, margins: Margins) -> Iterator[Slip]:
    yield slip(price.total)
    yield slip(margins.per_day)
    for event in margins.events:
        yield slip(event.left_charged or event.left)
    yield slip(price.per_m2)
