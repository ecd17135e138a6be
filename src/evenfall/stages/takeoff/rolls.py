"""Rolls: the VCL, strip by strip, lapped the way the water runs: it is tonight's roof."""

from __future__ import annotations

from evenfall.calc.layout.rolls import plan_rolls
from evenfall.model.choice import Vcl
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Deck
from evenfall.model.surveyed import Falls, Plan
from evenfall.model.taken_off import OrderLine, Rolls, RollStrip
from evenfall.stages.takeoff.boards import in_mm
from evenfall.standards import take_off_practice
from evenfall.working import Basis, Working, measured

MM = 1000


def work(plan: Plan, falls: Falls, vcl: Vcl, chosen_mm: int, deck: Deck, basis: Basis) -> Rolls:
    """Lay the VCL and count the rolls.

    Parameters
    ----------
    plan, falls : Plan, Falls
        Deck, and which way the water runs [m].
    vcl : Vcl
        Roll, laps and what gap it spans [mm].
    chosen_mm : int
        Insulation that the turn-up must pass [mm].
    deck : Deck
        Widest gap in the boarding [mm].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Rolls
        Strips in laying order, area with laps, the order, findings [mm].
    """
    turn_up = chosen_mm + int(take_off_practice.TURN_OVER_MM)
    x, y = falls.downhill
    low, along = (round(x * MM), round(y * MM)), (round(-y * MM), round(x * MM))
    found = plan_rolls(
        in_mm(plan.deck), turn_up, (vcl.width_mm, vcl.length_mm), along, low,
        side_lap_mm=vcl.side_lap_mm, end_lap_mm=vcl.end_lap_mm,
    )  # fmt: skip
    of = (
        ("A_turned", "m2", measured(found.net_area_mm2 / MM**2, "m2", "the plan with turn-ups")),
        ("side lap", "mm", measured(vcl.side_lap_mm, "mm", "the rates", basis)),
        ("end lap", "mm", measured(vcl.end_lap_mm, "mm", "the rates", basis)),
    )
    area = Working(
        "VCL with turn-ups and laps", "A_vcl", "m2", "the roll plan", found.laid_area_mm2 / MM**2,
        of, "strips as laid",
    )  # fmt: skip
    roll = vcl.width_mm * vcl.length_mm / MM**2
    words = f"roll of {vcl.width_mm / MM:.2f} × {vcl.length_mm / MM:.0f} m"
    order = OrderLine(
        f"vcl:{vcl.name}", vcl.says, area, "m2", ((found.rolls, roll, words),),
        found.rolls * roll, area.basis,
    )  # fmt: skip
    strips = tuple(RollStrip(p.number, p.corners, p.length_mm) for p in found.pieces)
    return Rolls(vcl.name, strips, area, (order,), _gap(vcl, deck, basis))


def _gap(vcl: Vcl, deck: Deck, basis: Basis) -> tuple[Finding, ...]:
    if deck.widest_gap_mm <= vcl.bridges_mm:
        return ()
    says = (
        f"The boarding gapes {deck.widest_gap_mm:.0f} mm; this VCL spans {vcl.bridges_mm:.0f}. It "
        "would sag and tear there."
    )
    cure = Remedy("Patch the deck there before the VCL, or take a reinforced one.")
    return (
        Finding(
            "vcl-gap", "deck", "agree", says, f"the rates: {vcl.name}", basis, deck.widest_gap_mm,
            vcl.bridges_mm, "mm", cure,
        ),
    )  # fmt: skip
