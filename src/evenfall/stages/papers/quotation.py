"""The quotation as data: what the client reads, and nothing of what the firm pays or adds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.model.words import day, near
from evenfall.stages.papers import terms
from evenfall.stages.papers.choices import Choices, choices
from evenfall.stages.papers.groups import PriceGroup, price_groups
from evenfall.stages.papers.scope import Layer, Part, days_of, layers, opening, parts
from evenfall.stages.papers.telling import Told, for_client, told
from evenfall.stages.papers.words import sentence
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards import vat_notice_708_6 as notice

SHORT = {"m2": "m²", "m": "m", "each": "each", "day": "day", "job": "job"}


@dataclass(frozen=True, slots=True)
class Head:
    """Who offers what to whom, and until when."""

    firm: str
    firm_address: str
    telephone: str
    email: str
    reference: str
    title: str
    client: str
    address: str
    surveyed_on: date
    on: date
    valid_until: date
    invented: bool


@dataclass(frozen=True, slots=True)
class Figure:
    """One quiet number at the head of the paper; ``id`` is its place in the worked job."""

    id: str
    before: str
    value: str
    unit: str


@dataclass(frozen=True, slots=True)
class DayTold:
    """One day as the client lives through it."""

    on: date
    does: str
    notice: str
    evening: str


@dataclass(frozen=True, slots=True)
class Payment:
    """One stage of payment; ``id`` is its place in the worked job."""

    id: str
    says: str
    percent: float
    pence: int


@dataclass(frozen=True, slots=True)
class Rate:
    """A rate agreed beforehand for what cannot be seen yet, without VAT."""

    id: str
    says: str
    unit: str
    pence: int


@dataclass(frozen=True, slots=True)
class Money:
    """The price."""

    groups: tuple[PriceGroup, ...]
    net_pence: int
    vat_percent: float
    vat_pence: int
    vat_says: str
    total_pence: int
    stages: tuple[Payment, ...]
    rates: tuple[Rate, ...]
    choices: tuple[Choices, ...]
    prices_on: date
    mark: str


@dataclass(frozen=True, slots=True)
class NormalTold:
    """Something that is normal to see; ``key`` names its picture."""

    key: str
    name: str
    says: str


@dataclass(frozen=True, slots=True)
class Words:
    """What stands in every quotation."""

    left_out: tuple[str, ...]
    house: tuple[str, ...]
    weather: str
    normal: tuple[NormalTold, ...]
    not_normal: str
    care: tuple[str, ...]
    cancel: tuple[str, ...]  # empty where the client is a business
    start_early: str
    conditions: tuple[str, ...]
    not_design: str
    guarantee: str


@dataclass(frozen=True, slots=True)
class Quotation:
    """All of it."""

    head: Head
    opening: str
    figures: tuple[Figure, ...]
    layers: tuple[Layer, ...]
    parts: tuple[Part, ...]
    assumed: tuple[str, ...]
    stops: tuple[Told, ...]
    agree: tuple[Told, ...]
    know: tuple[Told, ...]
    rules: tuple[Told, ...]
    money: Money
    days: tuple[DayTold, ...]
    reserve: str
    words: Words


RULES = ("planning-", "notice-", "party-wall", "rules-of-")


def quotation(worked: WorkedRoof) -> Quotation:
    """Gather what the client reads.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Quotation
        Typed page data; money in whole pence at selling prices only [pence].
    """
    said = told(for_client(worked))
    rules = tuple(t for t in said if t.code.startswith(RULES))
    rest = tuple(t for t in said if not t.code.startswith(RULES))
    return Quotation(
        head=head(worked),
        opening=opening(worked),
        figures=_figures(worked),
        layers=layers(worked),
        parts=parts(worked),
        assumed=_assumed(worked),
        stops=tuple(t for t in said if t.level == "stop"),
        agree=tuple(t for t in rest if t.level == "agree"),
        know=tuple(t for t in rest if t.level == "note"),
        rules=tuple(t for t in rules if t.level != "stop"),
        money=_money(worked),
        days=tuple(
            DayTold(d.on, d.does, d.notice, d.evening) for d in days_of(worked.programme)
        ),
        reserve=_reserve(worked),
        words=_words(worked),
    )  # fmt: skip


def head(worked: WorkedRoof) -> Head:
    """Gather what stands at the head of a paper for the client.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Head
        Firm, client, roof and days [-].
    """
    meta, firm = worked.meta, worked.case.rates.firm
    return Head(
        firm.name, firm.address, firm.telephone, firm.email, meta.reference, meta.title,
        meta.client, meta.address, meta.surveyed_on, meta.on, worked.price.valid_until,
        meta.invented,
    )  # fmt: skip


def _figures(worked: WorkedRoof) -> tuple[Figure, ...]:
    price, days = worked.price, len(worked.programme.days)
    taxed = "the price with VAT" if price.vat.value else "the price, no VAT charged"
    return (
        Figure("price.total", "", f"£{price.total.value / 100:,.2f}", taxed),
        Figure("programme.days", "", f"{days}", "working days" if days > 1 else "working day"),
        Figure(
            "heat.u",
            f"{worked.rise.before_u.value:.2f}",
            near(worked.heat.u.value, worked.rise.target_u),
            "W/m²K of heat let through",
        ),
        Figure(
            "heights.rise_at_edge",
            "",
            f"{worked.heights.rise_at_edge.value:.0f}",
            "mm higher at the edge, at most",
        ),
    )


def _assumed(worked: WorkedRoof) -> tuple[str, ...]:
    survey = worked.case.job.survey
    sound = 100 - survey.deck.renew_percent
    felt = f"{survey.covering.layers} layers" if survey.covering.layers > 1 else "one layer"
    found = [
        f"That about {sound:.0f} % of the boarding is sound; replacing the rest is in the price.",
        f"That the old covering is {felt} of felt, about {survey.covering.thickness_mm:.0f} mm "
        "thick.",
    ]
    if survey.covering.asbestos == "none_found":
        found.append("The felt was sampled for asbestos and none was found.")
    return tuple(found)


def _money(worked: WorkedRoof) -> Money:
    price = worked.price
    net = round(price.net.value)
    return Money(
        groups=price_groups(price.lines, net),
        net_pence=net,
        vat_percent=price.vat_percent,
        vat_pence=round(price.vat.value),
        vat_says=_vat(worked),
        total_pence=round(price.total.value),
        stages=tuple(
            Payment(f"price.stages[{s.name}].pence", sentence(s.says)[:-1], s.percent, s.pence)
            for s in price.stages
        ),
        rates=tuple(
            Rate(f"price.provisional[{p.name}].pence", p.says, SHORT.get(p.unit, p.unit), p.pence)
            for p in price.provisional
        ),
        choices=choices(worked.options),
        prices_on=price.prices_on,
        mark=price.mark,
    )  # fmt: skip


def _vat(worked: WorkedRoof) -> str:
    """Say why VAT is what it is; the case was declared by the firm."""
    case = worked.case.job.design.vat.case
    turns = (
        f" The rate holds for work up to {day(notice.ZERO_UNTIL)}; what is invoiced or done later "
        f"bears {notice.REDUCED_PERCENT:.0f} %."
    )
    return {
        "standard": "",
        "insulation_zero": "Charged at the rate for installing energy-saving materials. Should the "
        "tax office see it otherwise, the difference is charged." + turns,
        "reverse_charge": "No VAT is charged here: you account for it yourself (reverse charge).",
        "not_registered": "We are not registered for VAT and charge none.",
    }[case]


def _reserve(worked: WorkedRoof) -> str:
    programme, spare = worked.programme, worked.programme.wet_reserve.value
    first, last = programme.days[0].on, programme.finish_on
    kept = f" We keep {spare:g} more in hand for the weather." if spare else ""
    day = "day" if len(programme.days) == 1 else "days"
    span = f"{first.day} {first:%B} to {last.day} {last:%B %Y}"
    return f"{len(programme.days)} working {day}, planned for {span}.{kept}"


def _words(worked: WorkedRoof) -> Words:
    firm = worked.case.rates.terms
    business = worked.case.job.design.vat.case == "reverse_charge"
    return Words(
        left_out=terms.LEFT_OUT,
        house=terms.HOUSE,
        weather=terms.WEATHER,
        normal=tuple(NormalTold(*n) for n in terms.NORMAL),
        not_normal=terms.NOT_NORMAL,
        care=terms.CARE,
        cancel=() if business else terms.CANCEL,
        start_early=terms.START_EARLY,
        conditions=firm.conditions,
        not_design=terms.NOT_DESIGN,
        guarantee=_guarantee(firm.workmanship_years, worked.options.here.sheet_years),
    )


def _guarantee(work_years: int, sheet_years: int | None) -> str:
    sheet = "The maker's guarantee of the sheet comes with the handover file."
    if sheet_years:
        sheet = f"The maker stands for the sheet for {sheet_years} years; his paper comes with " \
                "the handover file."  # fmt: skip
    return (
        f"We stand for our work for {work_years} years from handover. {sheet} Neither covers "
        "walking and storage on the roof, holes made by others, or movement of the building."
    )
