"""Flues: what the risen roof leaves above each, and whose word counts; fuels are asked apart."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.finding import Finding
from evenfall.model.job import Height
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import approved_document_j as flues
from evenfall.working import Known, Working

MM = 1000


def tell(through: tuple[str, ...], heights: tuple[Height, ...], rise: Working) -> Iterator[Finding]:
    """Say what each flue has left above the new roof.

    Parameters
    ----------
    through : tuple of str
        Names of the flues through the roof [-].
    heights : tuple of Height
        The flues whose height was measured [mm].
    rise : Working
        The most that the roof surface rises [mm].

    Returns
    -------
    iterator of Finding
        A stop where nobody measured; what is to be agreed where gas and solid fuel are asked
        differently; else a note [-].
    """
    if through and not heights:
        above = flues.ABOVE_ROOF_MM
        says = (
            f"Nobody measured how far {', '.join(through)} ends above the felt; "
            f"{above:.0f} mm must be left above the new roof."
        )
        ask = cure("Measure it and enter it under heights, kind flue.")
        yield finding("flue-unmeasured", f"opening:{through[0]}", "stop", says, above, remedy=ask)
    for flue in heights:
        yield _one(flue, flue.above_covering_mm - rise.value)


def _one(flue: Height, left: float) -> Finding:
    gas, solid, guard = flues.ABOVE_ROOF_MM, flues.SOLID_FUEL_ABOVE_MM, flues.GUARD_BELOW_M
    subject, ends = f"height:{flue.name}", f"{flue.name} ends {left:.0f} mm above the new roof"
    fit = left < guard * MM
    if left >= solid:
        says = (
            f"{ends}: have a registered engineer look at it{' and fit a guard' if fit else ''}. "
            "Never seal its air vents."
        )
        return finding("flue-engineer", subject, "note", says, _in_mm(guard), left)
    says = (
        f"{ends}: gas asks {gas:.0f} mm, solid fuel {solid:.0f} mm. A registered engineer says "
        "which, and fits a guard. Never seal its air vents."
    )
    ask = cure("Have it in writing, and enter it under the answers on record.")
    return finding("flue-engineer", subject, "agree", says, solid, left, ask)


def _in_mm(metres: Known) -> Known:
    return type(metres)(metres * MM, "mm", metres.source, metres.where, metres.basis)
