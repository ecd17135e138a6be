"""What the tapes are worth, for the calculation sheets: tests, each tape, each corner."""

from __future__ import annotations

from math import sqrt

from evenfall.calc.geometry.tapes import Adjusted, TapeCheck
from evenfall.standards.survey_practice import DELTA_0, ONE_MORE, W_CRITICAL
from evenfall.working import Table, Working, formula

MM = 1000
THEORY = "least squares; Baarda's test of each tape"
ANY = "any"


@formula("dof", "-", "least-squares theory", "from memory")
def more_than_needed(n: float, p: float) -> float:
    """Count of readings more than are needed for the plan.

    Parameters
    ----------
    n : float
        Readings; an offset counts as two [-].
    p : float
        Corners and points, of two coordinates each; the plan as a whole may lie anywhere [-].

    Returns
    -------
    float
        Degrees of freedom [-].

    Examples
    --------
    >>> more_than_needed(6, 4)
    1
    """
    return n - (2 * p - 3)


@formula("s_0", "-", "least-squares theory", "from memory")
def unit_weight(T: float, dof: float) -> float:
    """Error of unit weight: 1 if the tapes are as good as they were said to be.

    Parameters
    ----------
    T : float
        Weighted sum of squares [-].
    dof : float
        Readings more than needed [-].

    Returns
    -------
    float
        s0 [-].

    Examples
    --------
    >>> unit_weight(4.0, 4)
    1.0
    """
    return sqrt(T / dof)


@formula("hides", "mm", "W. Baarda, A testing procedure for use in geodetic networks, 1968",
         "from memory")  # fmt: skip
def least_blunder(delta_0: float, sigma: float, r: float) -> float:
    """Smallest blunder of the least checked tape that would show, four times in five.

    Parameters
    ----------
    delta_0 : float
        What a fully checked tape would show, in standard errors [-].
    sigma : float
        Standard error of the tape [mm].
    r : float
        Redundancy number of the tape [-].

    Returns
    -------
    float
        Blunder [mm].

    Examples
    --------
    >>> least_blunder(4.132, 3.0, 0.25)
    24.8
    """
    return delta_0 * sigma / sqrt(r)


def tapes(found: Adjusted) -> Table:
    """Tabulate every reading.

    Parameters
    ----------
    found : Adjusted
        The plan [m].

    Returns
    -------
    Table
        One row to a tape, two to an offset [m, mm].
    """
    columns = (
        ("reading", "-"), ("read", "m"), ("good to", "mm"), ("adjusted", "m"),
        ("difference", "mm"), ("checked by others", "-"), ("w", "-"), ("could hide", "mm"),
        ("not told from", "-"),
    )  # fmt: skip
    rows = tuple(_row(c, found.left_out) for c in found.readings)
    return Table("Tapes", columns, rows, THEORY, "measured")


def _row(check: TapeCheck, left_out: str | None) -> tuple[float | str, ...]:
    tape = check.tape
    hides = ANY if check.least_seen is None else round(check.least_seen * MM, 1)
    told = "LEFT OUT" if tape.name == left_out else check.twin or "-"
    return (
        tape.name, float(tape.length), float(tape.sigma) * MM, round(check.adjusted, 4),
        round(check.residual * MM, 2), round(check.redundancy, 4), round(check.w, 3), hides, told,
    )  # fmt: skip


def corners(found: Adjusted) -> Table:
    """Tabulate every corner and point with its standard ellipse.

    Parameters
    ----------
    found : Adjusted
        The plan [m].

    Returns
    -------
    Table
        Places in the frame of the taped faces [m, mm, deg].
    """
    columns = (
        ("corner", "-"), ("x", "m"), ("y", "m"), ("in x", "mm"), ("in y", "mm"),
        ("long half axis", "mm"), ("short half axis", "mm"), ("turned from x", "deg"),
    )  # fmt: skip
    rows: list[tuple[float | str, ...]] = []
    for c in (*found.corners, *found.points):
        long, short, turn = c.ellipse
        errors = (round(v * MM, 2) for v in (c.sigma_x, c.sigma_y, long, short))
        rows.append((c.name, round(c.x, 4), round(c.y, 4), *errors, round(turn, 1)))
    return Table(
        "Corners as taped, one standard error; none is taken to be exact", columns, tuple(rows),
        "least squares, inner datum", "measured",
    )  # fmt: skip


def shown(found: Adjusted, accuracy_mm: float) -> tuple[Working | Table, ...]:
    """Give the tests and the corners in the order of the calculation sheets.

    Parameters
    ----------
    found : Adjusted
        The plan [m].
    accuracy_mm : float
        What a tape is said to be good to [mm].

    Returns
    -------
    tuple of Working or Table
        What a reader needs to check the plan [-].
    """
    places = len(found.corners) + len(found.points)
    dof = more_than_needed.show(len(found.readings), places)
    lines: list[Working | Table] = [corners(found), dof]
    if found.limit is not None:
        T = Working(
            "All tapes together", "T", "-", ONE_MORE.source, found.t,
            (("dof", "-", dof), ("limit", "-", found.limit)),
            "sum of (difference / good to)², to be at most limit", "from memory",
        )  # fmt: skip
        lines += [T, unit_weight.show(T, dof), _worst(found)]
    checked = [c for c in found.readings if c.redundancy > 0]
    if checked:
        least = min(checked, key=lambda c: c.redundancy)
        lines.append(least_blunder.show(DELTA_0, float(least.tape.sigma) * MM, least.redundancy))
    area = Working(
        "Area of the deck, one standard error", "s_A", "m2", "least squares", found.sigma_area,
        (("good to", "mm", accuracy_mm),), "", "measured",
    )  # fmt: skip
    return (*lines, area)


def _worst(found: Adjusted) -> Working:
    worst = max(found.readings, key=lambda c: abs(c.w))
    return Working(
        f"Tape of largest standardised residual: {worst.tape.name}", "w_max", "-",
        W_CRITICAL.source, abs(worst.w), (("w_critical", "-", W_CRITICAL),),
        "|difference| / (good to × √checked), to be at most w_critical", "from memory",
    )  # fmt: skip
