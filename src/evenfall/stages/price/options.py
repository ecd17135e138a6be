"""Options side by side: each is the whole job worked out with its changes."""

from __future__ import annotations

from evenfall.model.job import Design
from evenfall.model.priced import Facts, OptionOf, Options, Price
from evenfall.model.rates import Rates

WHY_EMPTY = "The job names no options."


def facts(
    price: Price, days: int, u: float, stops: int, boards_mm: tuple[int, ...], kerbed: bool,
    design: Design, rates: Rates,
) -> Facts:  # fmt: skip
    """Gather what a roof is compared by.

    Parameters
    ----------
    price : Price
        Its price [-].
    days : int
        Days on the roof [d].
    u : float
        Heat that it lets through [W/m2K].
    stops : int
        Findings that stop it [-].
    boards_mm : tuple of int
        Its boards from the deck up [mm].
    kerbed : bool
        Whether any edge is raised by a kerb [-].
    design : Design
        What was chosen [-].
    rates : Rates
        What its sheet and the firm stand for [-].

    Returns
    -------
    Facts
        Total, days, heat, build-up, guarantee and upkeep [-].
    """
    years = next((s.guarantee_years for s in rates.sheets if s.name == design.sheet), None)
    return Facts(
        round(price.total.value), days, u, stops, boards_mm,
        design.kerb_height_mm if kerbed else None, years,
        rates.terms.workmanship_years, price.upkeep,
    )  # fmt: skip


def work(named: tuple[tuple[str, str], ...], here: Facts, there: tuple[Facts, ...]) -> Options:
    """Set the options beside the job as it stands.

    Parameters
    ----------
    named : tuple of (name, says)
        The options of the job [-].
    here : Facts
        The job as it stands [-].
    there : tuple of Facts
        Each option worked out [-].

    Returns
    -------
    Options
        Price, difference, days and heat of each [-].

    Examples
    --------
    >>> here = Facts(10_000, 5, 0.16, 0, (120,), 75, 20, 10)
    >>> there = Facts(13_000, 5, 0.14, 0, (140,), 75, 20, 10)
    >>> work((("thicker", "20 mm more"),), here, (there,)).options[0].more_pence
    3000
    """
    found = tuple(
        OptionOf(name, says, f, f.total_pence - here.total_pence)
        for (name, says), f in zip(named, there, strict=True)
    )
    return Options(found, here, "" if found else WHY_EMPTY)
