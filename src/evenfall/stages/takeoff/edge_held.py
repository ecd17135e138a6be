"""What one screw of a trim or of edge timber holds: withdrawal from the timber it stands in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.calc.loads.edge_fixings import timber_design_n, withdrawal_n
from evenfall.model.finding import Finding
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import en_338, fixing_practice
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Basis, Cited, Known, Working, measured

TIMBER = en_338.CLASSES["C16"]
"""Edge timber is bought without a class: the weakest usual one."""


@dataclass(frozen=True, slots=True)
class TimberScrew:
    """A screw of the rates that stands in timber; None where the rates do not say."""

    name: str
    length_mm: float | None = None
    diameter_mm: float | None = None
    f_ax_n_mm2: float | None = None
    basis: Basis = "from memory"


TRIM, TIMBERS = TimberScrew("trim-screws"), TimberScrew("wood-screws")


@dataclass(frozen=True, slots=True)
class EdgeScrews:
    """The screws along the edges."""

    trim: TimberScrew = TRIM
    timber: TimberScrew = TIMBERS


LEAST_MM = 1.0  # so that no screw of nought is divided by
UNKNOWN = EdgeScrews()
"""Rates that say nothing of either."""


def trim_holds(screw: TimberScrew) -> Working:
    """Work out what one screw of a trim holds in edge timber.

    Parameters
    ----------
    screw : TimberScrew
        Its length, thread and withdrawal strength [mm, N/mm2].

    Returns
    -------
    Working
        Design resistance; `tell` stops a point too short for the formula [N].
    """
    over = fixing_practice.OVER_TRIM_TIMBER_MM
    long = screw.length_mm or float(fixing_practice.TRIM_SCREW_MM)
    basis: Basis = screw.basis if screw.length_mm else fixing_practice.TRIM_SCREW_MM.basis
    where = f"{screw.name}, {long:g} mm less {over:g} mm of trim and sheet"
    return _holds(screw, measured(max(long - over, LEAST_MM), "mm", where, basis))


def course_holds(screw: TimberScrew) -> Working:
    """Work out what one screw holds of a course of edge timber in the course below it.

    Parameters
    ----------
    screw : TimberScrew
        Its thread and withdrawal strength [mm, N/mm2].

    Returns
    -------
    Working
        Design resistance [N].
    """
    return _holds(screw, fixing_practice.TIMBER_POINT_MM)


def _holds(screw: TimberScrew, l_ef: Known) -> Working:
    d = _or(screw.diameter_mm, fixing_practice.THREAD_MM, f"{screw.name}, thread", screw.basis)
    f_ax = _or(screw.f_ax_n_mm2, fixing_practice.F_AX_N_MM2, f"{screw.name}, f_ax,k", screw.basis)
    return timber_design_n.show(withdrawal_n.show(f_ax, d, l_ef, TIMBER.rho_k))


def _or(value: float | None, usual: Cited, where: str, basis: Basis) -> Known:
    return usual if value is None else measured(value, usual.unit, where, basis)


def tell(screws: EdgeScrews) -> Iterator[Finding]:
    """Ask for what the rates do not say, and stop a screw that is too short to count.

    Parameters
    ----------
    screws : EdgeScrews
        The screws along the edges [-].

    Yields
    ------
    Finding
        At most two [-].
    """
    by = fixing_practice.F_AX_N_MM2
    asked = [s.name for s in (screws.trim, screws.timber) if s.f_ax_n_mm2 is None]
    if asked:
        says = (
            f"The rates give no withdrawal strength for {' and '.join(asked)}: {by:g} N/mm² is "
            "taken in edge timber, lower than makers usually declare."
        )
        ask = cure("Enter f_ax_n_mm2 and diameter_mm from the maker's declaration (EN 14592).")
        yield finding("edge-screw-undeclared", "edges", "note", says, by, by.value, ask)
    d = float(screws.trim.diameter_mm or fixing_practice.THREAD_MM)
    long = float(screws.trim.length_mm or fixing_practice.TRIM_SCREW_MM)
    least, stands = en.POINT_DIAMETERS * d, long - fixing_practice.OVER_TRIM_TIMBER_MM
    if stands < least:
        limit = Cited(least, "mm", en.SOURCE, en.POINT_DIAMETERS.where, en.POINT_DIAMETERS.basis)
        says = (
            f"The screws of the trims stand {stands:.0f} mm in edge timber; their thread must have "
            f"6 d, {least:.0f} mm, or they may not be counted on."
        )
        yield finding("trim-screw-short", "edges", "stop", says, limit, stands,
                      cure("Take longer screws for trims, and enter their length."))  # fmt: skip
