"""The rise stick: a hole for each thickness that can be bought, and what hangs on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import ceil

from evenfall.app.summary import near
from evenfall.app.web.words import money
from evenfall.model.designed import Rise, RiseRow

WET = {"a": "none", "b": "dries", "c": "stays"}
"""Winter water in the build-up, in a word."""
TOO_HIGH = 2
"""Holes that show too high; those above them are folded away."""


@dataclass(frozen=True, slots=True)
class Hole:
    """One thickness."""

    thickness: str = field(metadata={"help": "Thickness in mm."})
    boards: str = field(metadata={"help": "The boards from the deck up, mm; one alone is one."})
    u: str = field(metadata={"help": "Heat lost, W/m²K."})
    left: str = field(metadata={"help": "mm left at the tightest item."})
    at: str = field(metadata={"help": "The tightest item."})
    wet: str = field(metadata={"help": "Winter water: none, dries or stays."})
    edges: str = field(metadata={"help": "Heat lost with the edges counted in, W/m²K."})
    spot: str = field(metadata={"help": "Temperature factor of the coldest spot inside."})
    weight: str = field(metadata={"help": "kg a square metre more than the old felt."})
    screws: str = field(metadata={"help": "Shortest and longest screw, mm."})
    price: str = field(metadata={"help": "Boards and fixing, £ a square metre."})
    saves: str = field(metadata={"help": "Heat saved, kWh a year."})
    carbon: str = field(metadata={"help": "Carbon dioxide saved, kg a year."})
    pays: str = field(metadata={"help": "Years to pay back against the next thinner."})
    verdict: str = field(metadata={"help": "taken, and what speaks most against it."})
    against: str = field(metadata={"help": "All that speaks against it."})
    taken: bool = field(metadata={"help": "Whether the clip stands here."})
    cannot: bool = field(metadata={"help": "Whether the stick carries the red hatch here."})


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that hangs on the thickness taken."""

    name: str = field(metadata={"help": "What it is."})
    text: str = field(metadata={"help": "What it comes to, with its unit."})


def holes(rise: Rise) -> tuple[Hole, ...]:
    """List the holes of the stick from the top down.

    Parameters
    ----------
    rise : Rise
        Every thickness that can be bought [-].

    Returns
    -------
    tuple of Hole
        The thickest first [-].
    """
    return _holes(rise.rows, rise)


def others(rise: Rise) -> tuple[Hole, ...]:
    """List the holes of the other stick: two layers instead of one, or one instead of two.

    Parameters
    ----------
    rise : Rise
        Every thickness that can be bought [-].

    Returns
    -------
    tuple of Hole
        The thickest first [-].
    """
    return _holes(rise.other_rows, rise, "about ")


def folded(rise: Rise) -> int:
    """Count the holes at the top that are far too high to matter.

    Parameters
    ----------
    rise : Rise
        Every thickness that can be bought [-].

    Returns
    -------
    int
        How many are folded away; never the one taken [-].
    """
    rows = sorted(rise.rows, key=lambda r: -r.thickness_mm)
    high = 0
    while high < len(rows) and not rows[high].fits and rows[high].thickness_mm != rise.chosen_mm:
        high += 1
    return max(0, high - TOO_HIGH)


def _holes(rows: tuple[RiseRow, ...], rise: Rise, about: str = "") -> tuple[Hole, ...]:
    falling = sorted(rows, key=lambda r: -r.thickness_mm)
    return tuple(_hole(r, r is rise.row, float(rise.target_u), about) for r in falling)


def _hole(row: RiseRow, taken: bool, target: float, about: str) -> Hole:
    """Tell one thickness; edges solved in the other number of layers hold about."""
    left, u, factor = row.least_margin_mm, row.u_edges, row.edge_factor
    return Hole(
        thickness=f"{row.thickness_mm}",
        boards=row.says,
        u=near(row.u, target),
        left="free" if left is None else f"{left:.0f}" if left >= 0 else f"−{ceil(-left)}",
        at=_name(row),
        wet=WET[row.moisture],
        edges="–" if u is None else f"{about}{u:.2f}",
        spot="–" if factor is None else f"{about}{min(row.f_rsi, factor):.2f}",
        weight=f"{round(row.added_kg_m2, 1) + 0.0:+.1f}".replace("-", "−"),
        screws=row.screws,
        price=money(row.cost_pence_m2).removeprefix("£"),
        saves=f"{row.saved_kwh:.0f}",
        carbon=f"{row.saved_co2_kg:.0f}",
        pays="–" if row.payback_years is None else f"{row.payback_years:.0f}",
        verdict=", ".join((("taken",) if taken else ()) + row.against[:1]),
        against=", ".join(row.against),
        taken=taken,
        cannot=not row.fits,
    )


def _name(row: RiseRow) -> str:
    return row.governs.split(":", 1)[-1].replace("-", " ")


def facts(rise: Rise, *, screwed: bool) -> tuple[Fact, ...]:
    """List what hangs on the thickness taken.

    Parameters
    ----------
    rise : Rise
        Every thickness that can be bought [-].
    screwed : bool
        Whether screws hold the boards [-].

    Returns
    -------
    tuple of Fact
        With units [-].
    """
    return tuple(Fact(name, text) for name, text in _facts(rise.row, screwed))


def _facts(row: RiseRow, screwed: bool) -> Iterator[tuple[str, str]]:
    if len(row.boards) > 1:
        yield "boards, from the deck up", f"{row.says} mm, joints staggered"
    if row.u_edges is not None and row.edge_factor is not None:
        yield "heat lost, edges counted in", f"{row.u_edges:.2f} W/m²K of roof inside the walls"
        where = row.edge.split(":", 1)[-1]
        yield "coldest spot", f"at {where}: factor {row.edge_factor:.2f}, ceiling {row.f_rsi:.2f}"
    yield "weight", f"{row.mass_kg_m2:.1f} kg/m² new, {_more(row.added_kg_m2)} the old felt"
    if screwed:
        yield "screws that reach and harm nothing", f"{row.screws} mm"
    boards, fixing = money(row.price_pence_m2), money(row.fixing_pence_m2)
    yield "cost", f"boards {boards}, fixing {fixing} a m²"
    yield "saves in a year", f"{row.saved_kwh:.0f} kWh, {row.saved_co2_kg:.0f} kg of CO₂"
    if row.payback_years is not None:
        yield "pays back what it costs over the next thinner", f"in {row.payback_years:.0f} years"


def _more(kg_m2: float) -> str:
    return f"{abs(kg_m2):.1f} {'more' if kg_m2 >= 0 else 'less'} than"


def says(rise: Rise) -> str:
    """Say what is asked for and what was before.

    Parameters
    ----------
    rise : Rise
        The rise stick [-].

    Returns
    -------
    str
        One sentence [-].
    """
    by = "Proposed by the tool" if rise.chosen_by == "proposed" else "Chosen by you"
    target, before = float(rise.target_u), rise.before_u.value
    return f"{by}: {rise.row.says} mm. {target:.2f} W/m²K is asked for; it was {before:.2f}."
