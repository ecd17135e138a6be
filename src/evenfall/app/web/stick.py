"""The rise stick: a hole for each thickness that can be bought, and what hangs on it."""

from __future__ import annotations

from dataclasses import dataclass, field

from evenfall.app.web.words import money
from evenfall.model.designed import Rise, RiseRow

WET = {"a": "none", "b": "dries", "c": "stays"}
"""Winter water in the build-up, in a word."""


@dataclass(frozen=True, slots=True)
class Hole:
    """One thickness."""

    thickness: str = field(metadata={"help": "Thickness in mm."})
    u: str = field(metadata={"help": "Heat lost, W/m²K."})
    left: str = field(metadata={"help": "mm left at the tightest item."})
    wet: str = field(metadata={"help": "Winter water: none, dries or stays."})
    price: str = field(metadata={"help": "Boards, £ a square metre."})
    verdict: str = field(metadata={"help": "taken, or why it cannot be taken; else empty."})
    taken: bool = field(metadata={"help": "Whether the clip stands here."})
    cannot: bool = field(metadata={"help": "Whether the stick carries the red hatch here."})


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
    rows = sorted(rise.rows, key=lambda r: -r.thickness_mm)
    return tuple(_hole(r, r.thickness_mm == rise.chosen_mm) for r in rows)


def _hole(row: RiseRow, taken: bool) -> Hole:
    left = row.least_margin_mm
    return Hole(
        f"{row.thickness_mm}",
        f"{row.u:.2f}",
        "free" if left is None else f"{left:.0f}".replace("-", "−"),
        WET[row.moisture],
        money(row.price_pence_m2).removeprefix("£"),
        ", ".join((("taken",) if taken else ()) + row.against),
        taken,
        not row.fits,
    )


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
    return f"{by}: {rise.chosen_mm} mm. {target:.2f} W/m²K is asked for; it was {before:.2f}."
