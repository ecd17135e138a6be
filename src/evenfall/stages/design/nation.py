"""The rules of the nation on heat and notices: what triggers them, and what they ask."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from evenfall.errors import InvalidInput
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.thicknesses import NATIONS
from evenfall.standards import building_regulations as council
from evenfall.standards import site_duties as duties
from evenfall.standards import thermal_limits as limits
from evenfall.working import Cited, Known, Working, formula, measured

Triggered = Literal["due", "open", "not due"]
"""``open``: neither share is reached, and one of them is not known."""

PART = 0.95
"""A whole smaller than this share of the roof is a slip; areas are paced and rounded [-]."""

REST_M2 = 1.0
"""Less than this of the roof left beside is rounding [m2]."""

ASSUMED = "assumed: this roof is the whole; job.element_area_m2 is not entered"


@dataclass(frozen=True, slots=True)
class Renewed:
    """The roof as the rules of the nation see it.

    Parameters
    ----------
    gross : Working
        Area that is renewed, openings left in [m2].
    element_m2, envelope_m2 : float, optional
        The whole roof that it is a part of, and the outside of the building [m2].
    u, before_u : Working
        Transmittance as finished and as found [W/(m2K)].
    asked, target : Known
        What the nation asks for, and what the roof is built to [W/(m2K)].
    deck_percent : float
        Share of the deck that is renewed [%].
    better : tuple
        Thickness, transmittance and what chooses it, of those that do all that is asked [mm].
    """

    gross: Working
    element_m2: float | None
    envelope_m2: float | None
    u: Working
    before_u: Working
    asked: Known
    target: Known
    deck_percent: float
    better: tuple[tuple[int, float, tuple[Change, ...]], ...] = ()

    @property
    def rest_m2(self) -> float:
        """Area of the roof beside this one [m2]."""
        return max((self.element_m2 or 0.0) - self.gross.value, 0.0)


@formula("share", "%", "area renewed over the whole, as seen from outside", "published")
def share_of_roof(A: float, whole: float) -> float:
    """Share of the whole roof that is renewed.

    Parameters
    ----------
    A : float
        Area of this roof [m2].
    whole : float
        Area of the whole roof, this one in it [m2].

    Returns
    -------
    float
        Share, at most 100 [%].

    Examples
    --------
    >>> share_of_roof(20.7, 82.8)
    25.0
    """
    return 100 * min(A / whole, 1)


@formula("share", "%", "area renewed over the envelope, as seen from outside", "published")
def share_of_outside(A: float, envelope: float) -> float:
    """Share of the outside of the building that is renewed.

    Parameters
    ----------
    A : float
        Area of this roof [m2].
    envelope : float
        Area of walls, windows, roofs and lowest floor [m2].

    Returns
    -------
    float
        Share, at most 100 [%].

    Examples
    --------
    >>> share_of_outside(28.7, 287.0)
    10.0
    """
    return 100 * min(A / envelope, 1)


def shares(roof: Renewed) -> tuple[Working, Working | None]:
    """Work out which share of the roof, and of the outside of the building, is renewed.

    Parameters
    ----------
    roof : Renewed
        Areas of this roof, of the whole roof and of the building [m2].

    Returns
    -------
    tuple of Working
        Of the roof; of the outside, or None where that area is not entered [%].

    Raises
    ------
    InvalidInput
        A whole smaller than this roof.
    """
    given = (("element", roof.element_m2), ("envelope", roof.envelope_m2))
    for name, whole in given:
        if whole is not None and whole < PART * roof.gross.value:
            raise InvalidInput(
                f"{whole:g} m2, and the tapes give {roof.gross.value:.1f} m2 for this roof alone",
                "the whole that this roof is a part of", where=f"job.{name}_area_m2",
                do="measure the whole, or leave it out",
            )  # fmt: skip
    whole = measured(roof.gross.value, "m2", ASSUMED, "planning seed")
    if roof.element_m2 is not None:
        whole = measured(roof.element_m2, "m2", "job.element_area_m2")
    of_roof = share_of_roof.show(roof.gross, whole)
    if roof.envelope_m2 is None:
        return of_roof, None
    outside = measured(roof.envelope_m2, "m2", "job.envelope_area_m2")
    return of_roof, share_of_outside.show(roof.gross, outside)


def triggered(
    of_roof: Working, of_outside: Working | None, element: float | None, envelope: float | None
) -> Triggered:
    """Tell whether the shares bring a duty.

    Parameters
    ----------
    of_roof, of_outside : Working
        Shares that are renewed [%].
    element, envelope : float, optional
        Shares above which the duty comes; None where the nation's are not known [%].

    Returns
    -------
    str
        ``due``, ``not due``, or ``open`` where a share or its limit is not known [-].
    """
    pairs = ((of_roof, element), (of_outside, envelope))
    if any(s is not None and limit is not None and s.value > limit for s, limit in pairs):
        return "due"
    return "open" if any(s is None or limit is None for s, limit in pairs) else "not due"


def in_percent(share: Cited | None) -> Cited | None:
    """Say a share of a document in per cent.

    Parameters
    ----------
    share : Cited, optional
        As the document has it [-].

    Returns
    -------
    Cited or None
        The same [%].

    Examples
    --------
    >>> in_percent(limits.TRIGGER_ELEMENT).value
    50.0
    """
    if share is None:
        return None
    return Cited(100 * share, "%", share.source, share.where, share.basis)


def heat_rule(nation: str, roof: Renewed) -> tuple[Triggered, Cited | None, Cited | None]:
    """Tell whether renewing this roof brings the duty to insulate it.

    Parameters
    ----------
    nation : str
        Whose rules apply [-].
    roof : Renewed
        This roof [-].

    Returns
    -------
    tuple
        Whether it does, and the shares above which it does [%].
    """
    asks = limits.ROOF_LIMITS[NATIONS[nation]]
    element, envelope = in_percent(asks.element), in_percent(asks.envelope)
    return triggered(*shares(roof), element, envelope), element, envelope


def findings(nation: str, building: str, self_certifies: bool, roof: Renewed) -> Iterator[Finding]:
    """Say what the nation's rules on notices and heat mean for this roof.

    Parameters
    ----------
    nation, building : str
        Whose rules apply, and whether it is a house, a flat or a garage [-].
    self_certifies : bool
        The firm is in a competent-person scheme [-].
    roof : Renewed
        This roof [-].

    Yields
    ------
    Finding
        With a remedy where there is something to do [-].
    """
    yield from _england(nation)
    if building == "garage":
        says = (
            "A detached garage without heating is not reported to building control; one that is "
            "heated or joined to the house is."
        )
        yield finding("notice-garage", "roof", "note", says, duties.DETACHED_GARAGE)
        return
    yield _notice(self_certifies, *shares(roof), roof)
    yield from _heat(nation, roof)


def _england(nation: str) -> Iterator[Finding]:
    if nation == "england":
        return
    name = NATIONS[nation]
    says = (
        f"The notices, fire and planning limits here are England's; the limits of heat are "
        f"{name}'s. Ask building control there for the rest."
    )
    ask = cure("Have the local building control confirm the limits in writing.")
    yield finding("rules-of-england", "roof", "agree", says, duties.OTHER_NATION, remedy=ask)


def _renewed(of_roof: Working, of_outside: Working | None, roof: Renewed) -> str:
    """Say both shares in words, and what was assumed."""
    taken = " (taken as all of it)" if roof.element_m2 is None else ""
    if of_outside is None:
        return f"{of_roof.value:.0f} % of the roof{taken} is renewed; of the outside, not entered."
    shares = f"{of_roof.value:.0f} % of the roof{taken} and {of_outside.value:.0f} % of the outside"
    return f"{shares} are renewed."


def _notice(
    self_certifies: bool, of_roof: Working, of_outside: Working | None, roof: Renewed
) -> Finding:
    half, quarter = council.HALF_OF_ROOF, council.QUARTER_OF_ENVELOPE
    told = _renewed(of_roof, of_outside, roof)
    limit = f"{half:.0f} % or {quarter:.0f} %"
    value, due = of_roof.value, triggered(of_roof, of_outside, half, quarter)
    if due == "due" and self_certifies:
        days = council.CERTIFICATE_DAYS
        says = f"{told} Above {limit} notice is due: you certify it within {days:.0f} days."
        return finding("notice-own", "roof", "note", says, half, value)
    if due == "due":
        hours = council.NOTICE_HOURS
        says = f"{told} Above {limit} notice is due: give it {hours:.0f} hours before you start."
        ask = cure("Give the notice, pay the fee, and keep the council's answer.")
        return finding("notice-council", "roof", "agree", says, half, value, ask)
    if due == "open":
        says = f"{told} Notice is due above {limit}."
        ask = cure("Enter job.envelope_area_m2, or give the notice all the same.")
        return finding("notice-open", "roof", "agree", says, half, value, ask)
    old = council.QUARTER_OF_ROOF
    if value > old:
        says = f"{told} Notice is due above {limit}; some councils go by {old:.0f} % of the roof."
        return finding("notice-by-council", "roof", "agree", says, old, value, cure("Ask yours."))
    says = f"{told} Notice is due above {limit}: none here."
    return finding("notice-none", "roof", "note", says, half, value)


def _heat(nation: str, roof: Renewed) -> Iterator[Finding]:
    """Compare the finished roof with what the nation asks, where it asks."""
    due, element, envelope = heat_rule(nation, roof)
    asked, value = roof.asked, roof.u.value
    if _good_before(nation, roof) or due == "not due":
        why = "The old roof is warm enough" if _good_before(nation, roof) else "The shares are low"
        says = f"{why}: no U-value is asked for. The roof is built to {roof.target:.2f} W/m²K."
        yield finding("upgrade-not-due", "roof", "note", says, asked, value)
        return
    above = " or ".join(f"{s:.0f} % of the {n}" for s, n in
                        ((element, "roof"), (envelope, "outside")) if s is not None)  # fmt: skip
    rule = f"Renewing more than {above}" if above else "Renewing a roof (shares: ask)"
    if value > asked and roof.target > asked:
        says = (
            f"{rule} asks for {asked:.2f} W/m²K; this roof, built to your own target, {value:.2f}."
        )
        yield finding("upgrade-missed", "roof", "agree", says, asked, value, _thicker(roof))
    elif value <= asked:
        says = f"{rule} asks for {asked:.2f} W/m²K; this roof has {value:.2f}."
        yield finding("upgrade-done", "roof", "fine", says, asked, value)
    if due == "due" and roof.rest_m2 > REST_M2:
        says = (
            f"The whole of the roof is to reach {asked:.2f} W/m²K: its other {roof.rest_m2:.0f} m² "
            "as well."
        )
        ask = cure(
            "Show building control that the rest reaches it, insulate it too, or agree why not: "
            f"not feasible, or not paid back in {limits.PAYBACK_YEARS:.0f} years."
        )
        yield finding("upgrade-rest", "roof", "agree", says, asked, remedy=ask)


def _good_before(nation: str, roof: Renewed) -> bool:
    asks = limits.ROOF_LIMITS[NATIONS[nation]]
    return (
        asks.threshold is not None
        and not asks.in_all_cases
        and roof.before_u.value <= asks.threshold
    )


def _thicker(roof: Renewed) -> Remedy:
    """Offer the thinnest board that reaches what is asked and does all else."""
    good = [(mm, changes) for mm, u, changes in roof.better if u <= roof.asked]
    if good:
        mm, changes = min(good, key=lambda one: one[0])
        return Remedy(f"Take {mm} mm, which reaches it and does all that is asked.", changes)
    return cure(
        "Agree the reason with building control: not feasible, or the cost is not paid back in "
        f"{limits.PAYBACK_YEARS:.0f} years."
    )
