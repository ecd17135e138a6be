"""The least that a thing of the trade can cost: a price below it was meant in pounds.

All are bounds of plausibility, `common practice`: well below what anybody is asked, and above the
same price written in pounds.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.rates import Charge, Provisional, Rates, WindowWork

LEAST_PENCE = {
    "boards": 200, "tapers": 200, "sheets": 50, "vcls": 500, "items": 40, "lengths": 20,
    "fittings": 20,
}  # fmt: skip
"""What is bought, by its table of the price book [pence]."""
LEAST_BY_UNIT = {
    "m": 100, "m2": 100, "l": 50, "kg": 50, "each": 1000, "job": 2000, "day": 500,
    "person_day": 5000, "night": 500, "week": 1000,
}  # fmt: skip
"""A charge, or a rate agreed beforehand, by its unit [pence]."""
LEAST_SKIP, LEAST_CREW_DAY = 5000, 5000
"""A skip that comes and goes; a further day of a crew [pence]."""
LEAST_WINDOW = {"raise_sill": 10000, "rehang": 2000, "fix_glass": 5000, "fix_shut": 1000}
LEAST_WINDOW_M, LEAST_REPAINT_M = 1000, 200
"""A joiner's work by the window, by the metre of it; a metre of fascia painted again [pence]."""
LEAST_HOUR, LEAST_CHARGE, LEAST_KWH = 1000, 10000, 1.0
"""An hour of a roofer, the least that a firm comes out for, a unit of heat [pence]."""


def by_the_unit(rates: Rates) -> Iterator[tuple[str, float, float]]:
    """Go through the charges and the rates agreed beforehand.

    Parameters
    ----------
    rates : Rates
        The price book [-].

    Yields
    ------
    tuple of (path, price, least)
        Such as ``charges[van].price_pence`` [pence].
    """
    for charge in rates.charges:
        yield f"charges[{charge.name}].price_pence", charge.price_pence, _charge(charge)
    for rate in rates.provisional:
        yield f"provisional[{rate.name}].price_pence", rate.price_pence, _provisional(rate)


def _charge(charge: Charge) -> int:
    return LEAST_SKIP if charge.holds_m3 is not None else LEAST_BY_UNIT[charge.unit]


def _provisional(rate: Provisional) -> int:
    return LEAST_CREW_DAY if rate.unit == "day" else LEAST_BY_UNIT[rate.unit]


def of_the_terms(rates: Rates) -> Iterator[tuple[str, float, float]]:
    """Go through windows, paint and the firm's terms.

    Parameters
    ----------
    rates : Rates
        The price book [-].

    Yields
    ------
    tuple of (path, price, least)
        Such as ``terms.labour_pence_hour`` [pence].
    """
    for window in rates.windows:
        yield from _window(window)
    for fascia in rates.fascias:
        if fascia.repaint_years is not None or fascia.repaint_pence_m:
            yield f"fascias[{fascia.name}].repaint_pence_m", fascia.repaint_pence_m, LEAST_REPAINT_M
    terms = rates.terms
    yield "terms.minimum_charge_pence", terms.minimum_charge_pence, LEAST_CHARGE
    yield "terms.labour_pence_hour", terms.labour_pence_hour, LEAST_HOUR
    yield "terms.heat_price_pence_kwh", terms.heat_price_pence_kwh, LEAST_KWH


def _window(work: WindowWork) -> Iterator[tuple[str, float, float]]:
    path = f"windows[{work.name}]"
    yield f"{path}.price_pence", work.price_pence, LEAST_WINDOW[work.name]
    if work.price_pence_m:  # nought: it is priced by the window alone
        yield f"{path}.price_pence_m", work.price_pence_m, LEAST_WINDOW_M
