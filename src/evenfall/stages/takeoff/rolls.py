"""Rolls: the VCL, strip by strip, lapped the way the water runs: it is tonight's roof."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.calc.layout.rolls import RollPlan, plan_rolls
from evenfall.model.choice import Vcl
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Deck
from evenfall.model.surveyed import Falls, OpeningAt, Plan
from evenfall.model.taken_off import KerbPiece, OrderLine, Rolls, RollStrip
from evenfall.stages.takeoff.boards import in_mm
from evenfall.standards import take_off_practice, vcl_practice
from evenfall.working import Basis, Table, Working, formula, measured, total

MM = 1000
KERBED = ("rooflight", "chimney")
WAYS = ("across the fall", "with the fall")


@formula("A_patch", "m2", "geometry")
def patched(length: float, width: float) -> float:
    """Deck patched along a joint that gapes.

    Parameters
    ----------
    length : float
        Length of the joint [m].
    width : float
        Width of the patch [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> patched(6.2, 0.5)
    3.1
    """
    return length * width


def work(
    plan: Plan, falls: Falls, vcl: Vcl, chosen_mm: int, deck: Deck, basis: Basis, sold_mm: float
) -> Rolls:  # fmt: skip
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
    sold_mm : float
        Widest gap that any VCL of the rates spans [mm].

    Returns
    -------
    Rolls
        Strips in laying order, area with laps, the order, findings [mm].
    """
    turn_up = _turn_up(plan, falls, chosen_mm)
    found, ways = _laid(plan, falls, vcl, round(turn_up.value))
    of = (
        ("A_turned", "m2", measured(found.net_area_mm2 / MM**2, "m2", "the plan with turn-ups")),
        ("side lap", "mm", measured(vcl.side_lap_mm, "mm", "the rates", basis)),
        ("end lap", "mm", measured(vcl.end_lap_mm, "mm", "the rates", basis)),
        ("turn-up", "mm", turn_up),
    )
    area = Working(
        "VCL with turn-ups and laps", "A_vcl", "m2", "the roll plan", found.laid_area_mm2 / MM**2,
        of, "strips as laid, and a strip to each side of a kerb",
    )  # fmt: skip
    roll = vcl.width_mm * vcl.length_mm / MM**2
    words = f"roll of {vcl.width_mm / MM:.2f} × {vcl.length_mm / MM:.0f} m"
    order = OrderLine(
        f"vcl:{vcl.name}", vcl.says, area, "m2", ((found.rolls, roll, words),),
        found.rolls * roll, area.basis, _note(found),
    )  # fmt: skip
    strips = tuple(
        RollStrip(p.number, p.corners, p.length_mm, p.width_mm, p.strip, p.roll)
        for p in found.pieces
    )
    patch = _patch(plan, vcl, deck)
    findings = (*_gap(vcl, deck, patch, basis, sold_mm), *_doubtful(vcl, deck))
    return Rolls(
        vcl.name, strips, area, (order,), findings, turn_up, _kerb_pieces(plan, found), ways, patch
    )


def _turn_up(plan: Plan, falls: Falls, chosen_mm: int) -> Working:
    """Go up past the insulation where it is thickest, and over the edge timber."""
    tapered = falls.kind == "tapered"
    taper = max(0.0, *(falls.added_at(p) for p in plan.deck)) if tapered else 0.0
    parts = [
        ("insulation", measured(chosen_mm, "mm", "the chosen boards")),
        *([("tapers", measured(taper, "mm", "the tapered boards"))] if taper else []),
        ("over it and the edge timber", take_off_practice.TURN_OVER_MM),
    ]
    return total("Turn-up of the VCL", "h_up", "mm", parts)


def _laid(plan: Plan, falls: Falls, vcl: Vcl, turn_up: int) -> tuple[RollPlan, Table]:
    """Lay the strips across the fall and with it; fewer rolls win, then across: every lap sheds."""
    x, y = falls.downhill
    low, across = (round(x * MM), round(y * MM)), (round(-y * MM), round(x * MM))
    holes = [in_mm(o.hole) for o in _kerbs(plan)]
    tried = [
        plan_rolls(
            in_mm(plan.deck), turn_up, (vcl.width_mm, vcl.length_mm), along, low, holes=holes,
            side_lap_mm=vcl.side_lap_mm, end_lap_mm=vcl.end_lap_mm,
        )
        for along in (across, low)
    ]  # fmt: skip
    columns = (("strips laid", "-"), ("rolls", "each"), ("pieces", "each"), ("with laps", "m2"))
    rows = tuple(
        (way, float(t.rolls), float(len(t.pieces)), t.laid_area_mm2 / MM**2)
        for way, t in zip(WAYS, tried, strict=True)
    )
    table = Table("VCL, two ways to lay it", columns, rows, "the roll plan", "measured")
    return min(tried, key=lambda t: t.rolls), table


def _kerbs(plan: Plan) -> list[OpeningAt]:
    return [o for o in plan.openings if o.kind in KERBED and o.diameter_mm is None]


def _kerb_pieces(plan: Plan, found: RollPlan) -> tuple[KerbPiece, ...]:
    names = [o.name for o in _kerbs(plan)]
    return tuple(
        KerbPiece(s.number, names[s.hole], s.length_mm, s.width_mm, s.roll, s.goes_under, s.lap)
        for s in found.kerb_strips
    )


def _note(found: RollPlan) -> str:
    """Say how each roll is cut, in the order of laying."""
    rolls: dict[int, list[str]] = {}
    for piece in found.pieces:
        rolls.setdefault(piece.roll, []).append(f"{piece.length_mm} (strip {piece.strip})")
    told = "; ".join(f"roll {n}: {', '.join(cuts)}" for n, cuts in rolls.items())
    kerbs = ", ".join(f"{s.length_mm} × {s.width_mm} (roll {s.roll})" for s in found.kerb_strips)
    return f"cut {told}" + (f"; round kerbs, from the rests: {kerbs}" if kerbs else "")


def _patch(plan: Plan, vcl: Vcl, deck: Deck) -> Working | None:
    """Patch one joint along the longest side, where the boarding gapes too wide for the VCL."""
    if deck.widest_gap_mm <= vcl.bridges_mm:
        return None
    longest = max(plan.sides, key=lambda side: side.length_m)
    length = measured(longest.length_m, "m", f"plan: {longest.name}, the longest side")
    return patched.show(length, vcl_practice.PATCH_WIDTH)


def _gap(
    vcl: Vcl, deck: Deck, patch: Working | None, basis: Basis, sold_mm: float
) -> Iterator[Finding]:  # fmt: skip
    if patch is None:
        return
    says = (
        f"The boarding gapes {deck.widest_gap_mm:.0f} mm; this VCL spans {vcl.bridges_mm:.0f}. It "
        f"would sag and tear there. {patch.value:.1f} m² of deck patches are in the price, for one "
        "joint as long as the longest side."
    )
    spanned = deck.widest_gap_mm <= sold_mm
    other = (
        f", or take the one that spans {sold_mm:.0f} mm." if spanned else "; none sold spans it."
    )
    cure = Remedy(f"Patch the deck there before the VCL{other}")
    yield Finding(
        "vcl-gap", "deck", "agree", says, f"the rates: {vcl.name}", basis, deck.widest_gap_mm,
        vcl.bridges_mm, "mm", cure,
    )  # fmt: skip


def _doubtful(vcl: Vcl, deck: Deck) -> Iterator[Finding]:
    """Ask for the data sheet where the span declared is beyond that of any strong kind."""
    most = vcl_practice.GAP_STRONG_MM
    if most < deck.widest_gap_mm <= vcl.bridges_mm:
        says = (
            f"The rates say that this VCL spans {vcl.bridges_mm:.0f} mm; strong reinforced kinds "
            f"span about {most:.0f}. Have its data sheet in hand before it spans "
            f"{deck.widest_gap_mm:.0f}."
        )
        cure = Remedy("Ask the maker in writing, or patch the deck.")
        yield Finding(
            "vcl-span-doubtful", "deck", "note", says, most.source, most.basis,
            deck.widest_gap_mm, most.value, "mm", cure,
        )  # fmt: skip
