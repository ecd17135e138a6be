"""A rough price by telephone, marked as such: the same roof worked out with luck and without.

It is no quotation. The firm's own rates price a roof of the size that was told, completed by the
shown defaults; what nobody can know by telephone is taken once at its good end and once at its bad.
"""

from __future__ import annotations

import copy
import math
from dataclasses import dataclass
from datetime import date
from typing import Any

from evenfall.drafting.complete import complete
from evenfall.drafting.enquiry import Answers, document
from evenfall.flow import WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.rates import Rates

OUT = 0.15
"""A size told by telephone is out by about a seventh either way."""
LONG = 1.5
"""A roof of unknown shape is taken to be half as long again as it is wide."""
DECK = (5.0, 50.0)
"""Share of the deck that is renewed, in percent: a good roof, and one that leaked for years."""
LAYERS = (3, 6)
"""Layers of felt where nobody knows whether it was covered over."""
STEP = 50_000
"""Pence; the band is told in steps of 500 pounds, the low end down and the high end up."""


@dataclass(frozen=True, slots=True)
class Band:
    """From so much to so much, in pence with VAT; and why it is so wide."""

    low_pence: int
    high_pence: int
    days: tuple[int, int]
    says: str
    why: tuple[str, ...]


def band(answers: Answers, rates: Rates, on: date) -> Band | None:
    """Work out a rough price.

    Parameters
    ----------
    answers : Answers
        What the caller said; without a size there is no price [-].
    rates : Rates
        The firm's rates [-].
    on : date
        The day of the call [-].

    Returns
    -------
    Band or None
        None without a size [pence].
    """
    if answers.area_m2 is None:
        return None
    luck, none = (_worked(answers, rates, on, bad) for bad in (False, True))
    if luck is None or none is None:
        return None
    low = math.floor(luck.price.total.value / STEP) * STEP
    high = math.ceil(none.price.total.value / STEP) * STEP
    days = len(luck.programme.days), len(none.programme.days)
    invented = " of the invented rates" if rates.rates.invented else ""
    says = (
        f"Rough, no quotation: £{low // 100:,} to £{high // 100:,} with VAT at the prices"
        f"{invented}, {days[0]} to {days[1]} days."
    )
    return Band(low, high, days, says, tuple(_why(answers)))


def _worked(a: Answers, rates: Rates, on: date, bad: bool) -> WorkedJob | None:
    data = sized(document(a), (a.area_m2 or 0) * (1 + OUT if bad else 1 - OUT))
    survey = data["survey"]
    survey["deck"] = {"renew_percent": DECK[bad]}
    if a.covered_over is None:
        survey["covering"] = {**survey.get("covering", {}), "layers": LAYERS[bad]}
    job = complete(data, rates, on).job
    return work_out(Case(job, rates, on)) if job else None


def sized(data: dict[str, Any], area_m2: float) -> dict[str, Any]:
    """Give a document a roof of a size, its house wall along the longer side.

    Parameters
    ----------
    data : dict
        A job document, which stays as it is [-].
    area_m2 : float
        Area of the roof [m2].

    Returns
    -------
    dict
        The document with two tapes [-].

    Examples
    --------
    >>> [t["length_m"] for t in sized({}, 24.0)["survey"]["tapes"]]
    [6.0, 4.0]
    """
    found = copy.deepcopy(data)
    long = round(math.sqrt(area_m2 * LONG), 3)
    tapes = [{"between": "A-B", "length_m": long},
             {"between": "B-C", "length_m": round(area_m2 / long, 3)}]  # fmt: skip
    found.setdefault("survey", {}).update(corners=["A", "B", "C", "D"], tapes=tapes)
    return found


def _why(a: Answers) -> list[str]:
    told = [
        f"the size, {a.area_m2:g} m² as told, is taken {OUT:.0%} smaller and larger",
        f"{DECK[0]:g} to {DECK[1]:g} % of the deck to renew: nobody knows before the felt is off",
    ]
    if a.covered_over is None:
        told.append("one system of felt or two to strip")
    return [*told, "its shape, its edges and heights are the usual ones until it is measured"]
