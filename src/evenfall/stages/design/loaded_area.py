"""Loaded area: why the suction of 1 m² is taken everywhere, and what a larger area would allow."""

from __future__ import annotations

from evenfall.calc.loads.pressure_coefficients import Coefficients, coefficient, coefficient_uk
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Table, weakest

AREAS_M2 = (2.0, 5.0)
"""Between the two ends of the figure: two that a person can picture."""
WHY = (
    "One screw, bead or hand of rubber carries less than 1 m², and a glued roof peels from its "
    "weakest place and cannot be strengthened there: c_pe,1 is taken everywhere. The other columns "
    "are a comparison and are used nowhere"
)


def compare(table: tuple[Coefficients, ...], board_m2: float) -> Table | None:
    """Set the coefficient taken beside those that a larger loaded area would have.

    Parameters
    ----------
    table : tuple of Coefficients
        Of each zone [-].
    board_m2 : float
        One board [m2].

    Returns
    -------
    Table or None
        None where the user read the coefficients, and only those of 1 m² [-].
    """
    if all(c.c_pe_1 is c.c_pe_10 for c in table):
        return None
    areas = sorted({*AREAS_M2, board_m2})
    rows = tuple(
        (c.zone, c.c_pe_1.value, *(coefficient(a, c).value for a in areas), c.c_pe_10.value,
         coefficient_uk(board_m2, c).value)
        for c in table
    )  # fmt: skip
    columns = (
        ("zone", "-"), ("taken: 1 m²", "-"), *((_named(a, board_m2), "-") for a in areas),
        ("10 m²", "-"), ("one board, UK rule", "-"),
    )  # fmt: skip
    basis = weakest(("from memory", *(c.c_pe_1.basis for c in table)))
    return Table(
        "Suction by loaded area, for comparison only", columns, rows,
        f"{WHY}. {en.SOURCE} Figure 7.2; the UK rule as remembered", basis,
    )  # fmt: skip


def _named(area: float, board_m2: float) -> str:
    return f"one board, {area:.2f} m²" if area == board_m2 else f"{area:g} m²"
