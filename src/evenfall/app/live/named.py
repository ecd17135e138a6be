"""The quiet numbers of the desk: what a person reads of an id, and the working behind any id.

They stand among the values of their rooms (`snapshot`), so that a number that moved is told to a
page and to a program in the same words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from evenfall.app.live.numbers import find
from evenfall.app.web import slips
from evenfall.app.web.slips import Row, Slip
from evenfall.app.web.words import measure
from evenfall.model.words import memory, near, pounds
from evenfall.working import Working, weakest

UNDER = {"sill": "under the sill of", "sash": "under the sash of", "threshold": "at the door"}
MM = 1000


@dataclass(frozen=True, slots=True)
class Number:
    """One number that may move when the job changes."""

    id: str = field(metadata={"help": "Name of the number, such as heat.u."})
    room: str = field(metadata={"help": "The room that works it out."})
    value: float = field(metadata={"help": "The bare number."})
    text: str = field(metadata={"help": "The number as printed."})
    unit: str = field(metadata={"help": "What stands beside it; empty where the text says it."})
    label: str = field(metadata={"help": "What it is, with its unit."})
    bad: bool = field(default=False, metadata={"help": "Whether it is wrong as it stands."})


HEAD = ("price.total", "programme.days", "heat.u", "programme.wet", "heights.items[")
"""How the ids of the numbers at the head begin; one that a job does not have is left out."""
SEES = {"heat": ("heat", "rise")}
"""Rooms whose numbers are told with a word of another; any other sees itself."""
ROOMS = ("plan", "falls", "rise", "heights", "heat", "edges", "boards", "tasks", "programme",
         "price")  # fmt: skip
"""Rooms that have numbers of their own, in the order of the work."""


def numbers(room: str, w: Any) -> tuple[Number, ...]:
    """Give the quiet numbers of one room, as soon as that room is worked.

    Parameters
    ----------
    room : str
        Name of the room [-].
    w : WorkedJob or namespace
        The rooms worked so far [-].

    Returns
    -------
    tuple of Number
        None where the room has no numbers of its own [-].
    """
    return tuple(_MADE[room](w)) if room in _MADE else ()


def all_numbers(worked: Any) -> dict[str, Number]:
    """Give every quiet number of a worked job by its id.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    dict of str to Number
        In the order of the work [-].
    """
    return {n.id: n for room in ROOMS for n in numbers(room, worked)}


def slip_of(worked: Any, id_: str) -> Slip:
    """Show how a number came about, as a slip of paper.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    id_ : str
        Any id of a number that was worked out [-].

    Returns
    -------
    Slip
        Its working; what is the owner's stays shut in the price [-].

    Raises
    ------
    KeyError
        There is no such number, or it has no working.
    """
    if id_ in _TOLD:
        return _TOLD[id_](worked)
    found = find(worked, id_)
    if not isinstance(found, Working):
        raise KeyError(id_)
    return slips.slip(found, slips.OWNER if id_.startswith("price.") else frozenset())


def _plain(id_: str, working: Working, text: str, unit: str, label: str) -> Number:
    return Number(id_, id_.split(".")[0], working.value, text, unit, label)


def _plan(w: Any) -> Iterator[Number]:
    yield _plain("plan.gross", w.plan.gross, f"{w.plan.gross.value:.1f}", "m²", "roof, m²")
    good = w.plan.good_to_mm
    yield Number("plan.good_to_mm", "plan", good, f"{good:.0f}", "mm", "corners good to, mm")


def _falls(w: Any) -> Iterator[Number]:
    slope = w.falls.finished
    text = f"1 in {MM / slope.value:.0f}" if slope.value > 0 else "level"
    yield _plain("falls.finished", slope, text, "", "finished fall")


def _rise(w: Any) -> Iterator[Number]:
    row = w.rise.row
    yield Number("rise.chosen_mm", "rise", row.thickness_mm, row.says, "mm", "boards, mm")
    cost = row.cost_pence_m2
    yield Number(
        "rise.cost_pence_m2", "rise", cost, pounds(cost), "a m²", "boards and fixing, a m²"
    )
    if row.payback_years is not None:
        years = row.payback_years
        yield Number(
            "rise.payback_years", "rise", years, f"{years:.0f}", "years", "pays back in, years"
        )


def _heights(w: Any) -> Iterator[Number]:
    if not w.heights.items:
        return
    tight = w.heights.items[0]
    left = tight.margin.value
    place = f"{UNDER.get(tight.kind, 'at')} {tight.name.replace('-', ' ')}"
    label = f"mm too high {place}" if left < 0 else f"mm left {place}"
    yield Number(
        f"heights.items[{tight.id}].margin", "heights", left, f"{abs(left):.0f}", "mm", label,
        left < 0 and not tight.agreed,
    )  # fmt: skip


def _heat(w: Any) -> Iterator[Number]:
    u, target = w.heat.u, w.rise.target_u
    label = f"heat lost, W/m²K ({float(target):.2f} asked for)"
    cold = u.value > target
    yield Number("heat.u", "heat", u.value, near(u.value, target), "W/m²K", label, cold)


def _edges(w: Any) -> Iterator[Number]:
    if not w.edges.edges:
        return
    cold = min(w.edges.edges, key=lambda e: e.coldest_c)
    told = f"coldest spot inside, °C; mould begins below {w.edges.least_c:.1f}"
    bad = cold.coldest_c < w.edges.least_c
    yield Number("edges.coldest", "edges", cold.coldest_c, f"{cold.coldest_c:.1f}", "°C", told, bad)


def _boards(w: Any) -> Iterator[Number]:
    under = w.boards.tapered
    bought = w.boards.bought + (sum(k.bought for k in under.kinds) if under else 0)
    yield Number("boards.bought", "boards", bought, f"{bought}", "", "boards to buy")


def _tasks(w: Any) -> Iterator[Number]:
    hours = w.tasks.hours
    yield _plain("tasks.hours", hours, f"{hours.value:.0f}", "h", "person-hours")


def _programme(w: Any) -> Iterator[Number]:
    programme = w.programme
    count = len(programme.days)
    people = max((d.people for d in programme.days), default=0)
    told = f"days, up to {people} people"
    yield Number("programme.days", "programme", count, f"{count}", "days", told)
    if programme.wet_evening:
        wet = float(programme.wet_evening)
        yield Number(
            "programme.wet",
            "programme",
            wet,
            _one_in(wet),
            "",
            f"wet evenings{memory(programme.wet_evening)}",
        )


def _one_in(wet: float) -> str:
    return f"about 1 in {1 / wet:.0f}"


def _wet(w: Any) -> Slip:
    chance = w.programme.wet_evening
    if not chance:
        raise KeyError("programme.wet")
    row = Row("chance", measure(float(chance), "-"), slips.told_of(chance))
    return Slip("Chance of a wet evening", "", "", _one_in(float(chance)), chance.source,
                chance.basis, (row,))  # fmt: skip


def _days(w: Any) -> Slip:
    """List the days with their hours; the count is theirs."""
    programme, hours, reserve = w.programme, w.tasks.hours, w.programme.wet_reserve
    rows = (
        *(
            Row(f"{d.on:%a} {d.on.day} {d.on:%b}", f"{d.people} × {d.hours:.1f} h", d.says)
            for d in programme.days
        ),
        Row("all hours", measure(hours.value, hours.unit), f"{hours.title} · {hours.basis}",
            slips.slip(hours)),
        Row("in reserve", measure(reserve.value, "days"), f"{reserve.title} · {reserve.basis}",
            slips.slip(reserve)),
    )  # fmt: skip
    basis = weakest([hours.basis, reserve.basis])
    return Slip("Days on the roof", "days = one line a day", "", str(len(programme.days)),
                "the programme", basis, rows)  # fmt: skip


def _price(w: Any) -> Iterator[Number]:
    price = w.price
    parts = (
        ("price.net", price.net, "without VAT"),
        ("price.vat", price.vat, f"VAT, {price.vat_percent:g} %"),
        ("price.total", price.total, "the price with VAT"),
        ("price.per_m2", price.per_m2, "a m², without VAT"),
    )
    for id_, working, label in parts:
        yield _plain(id_, working, pounds(working.value), "", label)


_MADE = {
    "plan": _plan, "falls": _falls, "rise": _rise, "heights": _heights, "heat": _heat,
    "edges": _edges, "boards": _boards, "tasks": _tasks, "programme": _programme, "price": _price,
}  # fmt: skip
_TOLD: dict[str, Callable[[Any], Slip]] = {"programme.days": _days, "programme.wet": _wet}
