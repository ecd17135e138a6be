"""The rise stick: every buyable thickness against all that hangs on it; one is taken."""

from __future__ import annotations

from evenfall.model.choice import BuildUp
from evenfall.model.designed import Rise, RiseRow, Thickness, Thicknesses
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Covering, Height, Window
from evenfall.model.standing import ZoneOffer, Zones
from evenfall.model.surveyed import Falls, Plan, Slope
from evenfall.stages.design import beside, budget, offering, zoning
from evenfall.standards import vcl_practice
from evenfall.working import Known

MM = 1000


def work(
    thicknesses: Thicknesses,
    build: BuildUp,
    covering: Covering,
    heights: tuple[Height, ...],
    windows: tuple[Window, ...],
    plan: Plan,
    falls: Falls,
    prices: tuple[tuple[int, int], ...],
    zones: Zones,
    plane: Slope,
) -> Rise:
    """Set every thickness against the heights and the prices, and take one.

    Parameters
    ----------
    thicknesses : Thicknesses
        Heat, moisture, weight and screw of each [-].
    build : BuildUp
        The layers; its thickness is the owner's choice, if he made one [-].
    covering : Covering
        The old covering [mm].
    heights, windows : tuple
        Everything that sets a ceiling [mm].
    plan, falls : Plan, Falls
        Where the items are, and what the falls add there [-].
    prices : tuple of (mm, pence)
        Price of one board by its thickness [pence].
    zones : Zones
        Parts of the roof with thinner insulation; U is weighted by area [-].
    plane : Slope
        The old surface [mm].

    Returns
    -------
    Rise
        The stick, the thickness taken, and what governs it [-].
    """
    items = beside.items(heights, windows, plan)
    ground = budget.Ground(plane, zones.zones)
    mixed = zoning.mixed(thicknesses.rows, zones.zones, plan.net.value)
    rows = tuple(
        _row(t, items, build, covering, falls, dict(prices), thicknesses.target_u, ground)
        for t in mixed
    )
    known = {r.thickness_mm: r.u for r in rows if _holds(r, build) and r.moisture != "c"}
    roof = offering.Roof(build, covering, plan, falls, ground, items, known, thicknesses.target_u)
    zone = None if zones.zones else offering.offer(roof)
    fitting = [r.thickness_mm for r in rows if r.fits]
    screwed = build.hold_boards_by == "screws"
    own = build.thickness_mm
    chosen = own * build.layers if own else _proposal(rows, screwed)
    row = next(r for r in rows if r.thickness_mm == chosen)
    return Rise(
        rows=rows,
        chosen_mm=chosen,
        chosen_by="owner" if build.thickness_mm else "proposed",
        governs=_governs(row, rows, thicknesses.target_u),
        target_u=thicknesses.target_u,
        thickest_that_fits_mm=max(fitting, default=None),
        before_u=thicknesses.before_u,
        zone=zone,
        findings=_findings(row, rows, thicknesses.target_u, build, zone),
    )


def _row(
    t: Thickness,
    items: tuple[beside.Item, ...],
    build: BuildUp,
    covering: Covering,
    falls: Falls,
    prices: dict[int, int],
    target: Known,
    ground: budget.Ground,
) -> RiseRow:
    margins = [
        (budget.left(i, build, t.thickness_mm, falls, covering, ground).value, i.id) for i in items
    ]
    least, governs = min(margins, default=(None, ""))
    area = build.board.length_mm * build.board.width_mm / MM**2
    one = prices.get(t.thickness_mm // build.layers, 0)
    return RiseRow(
        thickness_mm=t.thickness_mm,
        u=t.u,
        passes_u=t.u <= target,
        least_margin_mm=least,
        governs=governs,
        fits=least is None or least >= budget.FITS,
        moisture=t.moisture,
        mass_kg_m2=t.mass_kg_m2,
        screw_mm=t.screw_mm,
        price_pence_m2=round(one * build.layers / area),
        heat_kwh=t.heat_kwh,
    )


def _holds(row: RiseRow, build: BuildUp) -> bool:
    """Tell whether what holds the boards reaches through them."""
    return row.screw_mm is not None or build.hold_boards_by != "screws"


def _proposal(rows: tuple[RiseRow, ...], screwed: bool) -> int:
    """Take the thinnest that passes and fits, else the thickest that fits, else the thinnest."""
    held = [r for r in rows if r.screw_mm is not None or not screwed]
    good = [r for r in held if r.fits and r.passes_u and r.moisture != "c"]
    fits = [r for r in held if r.fits]
    passes = [r for r in rows if r.passes_u]
    for group, pick in ((good, min), (fits, max), (passes, min), (list(rows), min)):
        if group:
            return pick(r.thickness_mm for r in group)
    raise AssertionError("a board has at least one size")


def _governs(row: RiseRow, rows: tuple[RiseRow, ...], target: Known) -> str:
    """Say what keeps the board from being thicker, or what asks for so much."""
    thicker = next((r for r in rows if r.thickness_mm > row.thickness_mm), None)
    if not row.fits:
        what, short = _where(row)
        return f"{what} governs: {row.thickness_mm} is {short:.0f} mm too high there."
    if thicker is not None and not thicker.fits:
        what, short = _where(thicker)
        return f"{what} governs: {thicker.thickness_mm} would be {short:.0f} mm too high there."
    thinner = next((r for r in reversed(rows) if r.thickness_mm < row.thickness_mm), None)
    if row.passes_u and (thinner is None or not thinner.passes_u):
        return f"Heat governs: {row.thickness_mm} is the thinnest that reaches {target:.2f} W/m²K."
    return "Nothing stands in the way; the choice is the owner's."


def _where(row: RiseRow) -> tuple[str, float]:
    """Name what a thickness stands against, and by how much it is too high there, mm."""
    kind, name = row.governs.split(":", 1)
    what = f"The sash of {name}" if kind == "sash" else name
    return what, -(row.least_margin_mm or 0.0)


def _findings(
    row: RiseRow,
    rows: tuple[RiseRow, ...],
    target: Known,
    build: BuildUp,
    zone: ZoneOffer | None,
) -> tuple[Finding, ...]:
    found = []
    if not row.passes_u:
        found.append(_short_of_heat(row, rows, target, build, zone))
    if row.screw_mm is None and build.hold_boards_by == "screws":
        found.append(_too_long(row, build))
    if build.hold_boards_by == "adhesive" and not build.vcl.sticks:
        found.append(_on_loose_vcl())
    return tuple(found)


def _too_long(row: RiseRow, build: BuildUp) -> Finding:
    """No screw reaches: glue is a way out where the VCL below is itself bonded."""
    says = f"No screw that is sold reaches through {row.thickness_mm} mm into the deck. "
    glue = Remedy("Glue the boards.", (Change("design.hold_boards_by", "adhesive"),))
    cure = glue if build.vcl.sticks else Remedy("Order longer screws, or take thinner boards.")
    return Finding(
        "screw-too-short", "roof", "stop", says + cure.says, "the rates", build.basis,
        row.thickness_mm, max(build.screw.lengths_mm), "mm", cure,
    )  # fmt: skip


def _on_loose_vcl() -> Finding:
    holds = vcl_practice.LOOSE_HOLDS_PA
    says = (
        "The boards are to be glued, but this VCL only lies on the deck: wind would lift all of "
        "it. Screw the boards through it, or take a VCL that sticks to the deck."
    )
    cure = Remedy("Hold the boards with screws.", (Change("design.hold_boards_by", "screws"),))
    return Finding(
        "glue-on-loose-vcl", "roof", "stop", says, holds.source, holds.basis, remedy=cure
    )


def _short_of_heat(
    row: RiseRow,
    rows: tuple[RiseRow, ...],
    target: Known,
    build: BuildUp,
    zone: ZoneOffer | None,
) -> Finding:
    better = next((r for r in rows if r.passes_u and r.fits), None)
    says = f"{row.thickness_mm} mm reaches {row.u:.3f} W/m²K; {target:.2f} is asked for. "
    if better is None and zone is not None:
        says += "No even thickness of this board reaches it and fits; with a thinner zone it does."
        remedy = Remedy(f"{zone.says}.", zone.changes)
    elif better is None:
        says += (
            "No thickness of this board reaches it and fits: have the reason agreed with building "
            "control in writing."
        )
        remedy = Remedy("A board of lower conductivity, or building control's word in writing.")
    else:
        says += f"{better.thickness_mm} mm would reach it."
        each = better.thickness_mm // build.layers
        remedy = Remedy(f"Take {better.thickness_mm} mm.", (Change("design.thickness_mm", each),))
    return Finding(
        "heat-short", "roof", "agree", says, target.source, target.basis, row.u, target.value,
        "W/(m2K)", remedy,
    )  # fmt: skip
