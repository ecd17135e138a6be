"""What a hold point means on this roof: the values that somebody looks for before work goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from evenfall.model.choice import build_up
from evenfall.stages.papers.words import listed, spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards import programme_practice as practice

MM = 1000
MINUTES = 30  # the sheet lies at least so long before it is bonded, as hold point 5 says
RESULT = {
    "not_sampled": "asbestos result: not in hand, nothing is stripped without it",
    "none_found": "asbestos result: none found",
    "found": "asbestos result: found; only as its surveyor wrote",
}


def hold_values(worked: WorkedRoof, number: int) -> tuple[str, ...]:
    """Tell the values of this roof at a hold point.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    number : int
        Number of the hold point [-].

    Returns
    -------
    tuple of str
        Short lines; none where the roof adds nothing to the rule [-].
    """
    return tuple(_OF[number](worked)) if number < len(_OF) else ()


def _start(worked: WorkedRoof) -> Iterator[str]:
    yield RESULT[worked.case.job.survey.covering.asbestos]


def _deck(worked: WorkedRoof) -> Iterator[str]:
    survey = worked.case.job.survey
    read = [f"{spoken(r.name)} {r.percent:g} %" for r in survey.readings]
    yield f"read at the survey: {listed(read)}" if read else "no reading was taken at the survey"
    old = survey.covering
    yield (f"the old covering was taken as {old.thickness_mm:g} mm thick, give or take "
           f"{old.thickness_give_or_take_mm:g}: measure it")  # fmt: skip
    if survey.deck.renew_percent:
        area = worked.plan.gross.value * survey.deck.renew_percent / 100
        yield f"new boarding in the price: {area:.1f} m²; count what is really replaced"


def _edges(worked: WorkedRoof) -> Iterator[str]:
    firrings = worked.falls.firrings
    if firrings:
        low, high = min(f.thin_mm for f in firrings), max(f.thick_mm for f in firrings)
        yield f"firrings {low} to {high} mm, thin end at {worked.falls.low_side}; see drawing P7"
    tight = worked.heights.items[:3]
    for item in tight:
        yield (f"{spoken(item.name)}: {item.available.value:.0f} mm above the deck, finished roof "
               f"{item.build_up.value:.0f}, {item.margin.value:.0f} to spare")  # fmt: skip


def _vcl(worked: WorkedRoof) -> Iterator[str]:
    stock = build_up(worked.case.job.design, worked.case.rates).vcl
    sold = next((v for v in worked.case.rates.vcls if v.name == stock.name), None)
    if sold is not None:
        yield f"laps {sold.side_lap_mm} mm at the sides, {sold.end_lap_mm} at the ends"
    if worked.rolls.turn_up is not None:
        yield f"turned up {worked.rolls.turn_up.value:.0f} mm"
    yield f"sealed {practice.NIGHT_LAP * MM:.0f} mm on each side of the night line"


def _boards(worked: WorkedRoof) -> Iterator[str]:
    laid = " + ".join(f"{mm}" for mm in worked.boards.layers_mm)
    yield f"{laid} mm, {len(worked.boards.pieces)} pieces; see drawing P2"
    under = worked.boards.tapered
    if under is not None:
        yield (f"under them {len(under.pieces)} tapered pieces, thin edge to "
               f"{worked.falls.low_side}; see drawing P8")  # fmt: skip
    zones: dict[str, str] = {}
    for z in sorted(worked.wind.zones, key=lambda z: z.zone):
        told = f"{z.per_board} screws a board" if worked.fixings.pieces else f"beads {z.bead_mm} mm"
        zones.setdefault(z.zone, told)
    yield "; ".join(f"zone {zone}: {told}" for zone, told in zones.items())


def _before_sheet(worked: WorkedRoof) -> Iterator[str]:
    yield (f"{practice.BOND_COLDEST:.0f} °C or more, {practice.DEW_MARGIN:.0f} °C above the dew "
           f"point, relaxed {MINUTES} minutes")  # fmt: skip
    yield f"heaviest piece {worked.sheet.mass.value:.0f} kg"


def _seams(worked: WorkedRoof) -> Iterator[str]:
    chosen = worked.sheet.chosen
    yield f"seams {chosen.seam_mm / MM:.1f} m, {chosen.t_joints} crossings to patch"
    yield f"corners {len(worked.plan.corners)}, through the roof {len(worked.plan.openings)}"


def _water(worked: WorkedRoof) -> Iterator[str]:
    for hung in worked.water.hung:
        yield f"gutter {hung.side}: {hung.width_mm:.0f} mm, pipe {hung.pipe_mm:.0f} mm"
    for o in worked.plan.openings:
        if o.kind == "outlet":
            yield f"outlet {spoken(o.name)}: water poured in runs away"


def _finish(worked: WorkedRoof) -> Iterator[str]:
    slope = worked.falls.finished.value
    if slope > 0:
        yield f"falls 1 in {MM / slope:.0f} to {worked.falls.low_side}"
    for pond in worked.falls.ponds:
        yield f"water up to {pond.depth_mm:.0f} mm stands where the plan shows it"


def _nothing(worked: WorkedRoof) -> Iterator[str]:
    return iter(())


_OF: tuple[Callable[[WorkedRoof], Iterator[str]], ...] = (
    _start, _deck, _edges, _vcl, _boards, _before_sheet, _nothing, _seams, _water, _finish,
)  # fmt: skip
"""By the number of the hold point."""
