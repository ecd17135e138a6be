"""The rules of the nation as tables: what they ask of this roof, and every limit with its basis."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.stages.design import layering
from evenfall.stages.design.nation import Renewed, heat_rule, in_percent, shares
from evenfall.stages.design.thicknesses import NATIONS
from evenfall.standards import thermal_limits as limits
from evenfall.working import Cited, Table, Working, weakest

Row = tuple[str, str, str, str, str]


def asked(nation: str, building: str, roof: Renewed) -> Table:
    """Set what the nation asks beside what this roof is.

    Parameters
    ----------
    nation, building : str
        Whose rules apply, and whether it is a house, a flat or a garage [-].
    roof : Renewed
        This roof [-].

    Returns
    -------
    Table
        One line to each trigger and limit [-].
    """
    of_roof, of_outside = shares(roof)
    garage = building == "garage"
    due, element, envelope = heat_rule(nation, roof)
    asks = limits.ROOF_LIMITS[NATIONS[nation]]
    new_deck = roof.deck_percent >= layering.PERCENT
    rows = (
        _share("share of the roof renewed", element, of_roof, roof.element_m2 is None),
        _share("share of the outside renewed", envelope, of_outside),
        ("so this roof is to be improved", "", "", "no, no heating" if garage else _SO[due], ""),
        _limit(_threshold_of(asks), asks.threshold, _compared(asks, roof)),
        _limit("finished roof, improved", asks.improved, roof.u, not new_deck),
        _limit("finished roof, as a new one (deck renewed whole)", asks.new, roof.u, new_deck),
    )
    columns = (("what", "-"), ("asked", "-"), ("this roof", "-"), ("so", "-"), ("source", "-"))
    cited = [c for c in (asks.improved, asks.threshold, asks.new, element, envelope) if c]
    told = f". {asks.says}" if asks.says else ""
    told = ". A detached garage without heating: none of it is asked" if garage else told
    title = f"What {NATIONS[nation]} asks of this roof{told}".removesuffix(".")
    return Table(title, columns, rows, asks.improved.source, weakest(c.basis for c in cited))


_SO = {"due": "yes", "not due": "no", "open": "not known: a share or its limit is missing"}


def _threshold_of(asks: limits.RoofLimits) -> str:
    return "finished roof, in all cases" if asks.in_all_cases else "old roof, worse is improved"


def _compared(asks: limits.RoofLimits, roof: Renewed) -> Working:
    return roof.u if asks.in_all_cases else roof.before_u


def _share(what: str, limit: Cited | None, found: Working | None, assumed: bool = False) -> Row:
    said = "not entered" if found is None else f"{found.value:.0f} %"
    said += " (assumed: this roof is the whole)" if assumed else ""
    if limit is None:
        return what, "not known here", said, "ask building control", ""
    so = "" if found is None else ("above" if found.value > limit else "not above")
    return what, f"above {limit:.0f} %", said, so, f"{limit.where}; {limit.basis}"


def _limit(what: str, limit: Cited | None, found: Working, holds: bool = True) -> Row:
    said = f"{found.value:.3f} W/(m²K)"
    if limit is None:
        return what, "none", said, "", ""
    so = "reached" if found.value <= limit else "worse"
    source = f"{limit.where}; {limit.basis}"
    return what, f"{limit:.2f} W/(m²K)", said, so if holds else f"not asked; {so}", source


def nations(nation: str) -> Table:
    """List every limit of every nation, each with its source and basis.

    Parameters
    ----------
    nation : str
        Whose rules apply; it comes first [-].

    Returns
    -------
    Table
        One line to each number [-].
    """
    own = NATIONS[nation]
    order = sorted(limits.ROOF_LIMITS, key=lambda name: name != own)
    rows = tuple(row for name in order for row in _of_nation(name))
    columns = (("nation", "-"), ("what", "-"), ("limit", "-"), ("source", "-"), ("basis", "-"))
    title = f"Limits of heat of every nation; here those of {own} hold"
    return Table(title, columns, rows, "as in each line", weakest(row[-1] for row in rows))


def _of_nation(name: str) -> Iterator[Row]:
    asks = limits.ROOF_LIMITS[name]
    for what, limit, unit in (
        ("flat roof, improved: at most", asks.improved, "W/(m²K)"),
        (f"{_threshold_of(asks)}: at most", asks.threshold, "W/(m²K)"),
        ("new roof: at most", asks.new, "W/(m²K)"),
        ("share of the roof above which", in_percent(asks.element), "%"),
        ("share of the outside above which", in_percent(asks.envelope), "%"),
    ):
        if limit is not None:
            number = f"{limit:.0f}" if unit == "%" else f"{limit:.2f}"
            source = f"{limit.source}; {limit.where}"
            yield name, what, f"{number} {unit}", source, limit.basis
