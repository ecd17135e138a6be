"""Screws per board and strength of adhesion: wind, every practice source, the larger governs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from evenfall.calc.loads.limits import positive, within
from evenfall.errors import OutOfScope
from evenfall.standards import en_1990
from evenfall.standards import fixing_practice as practice
from evenfall.working import Cited, Known, Working, formula


@formula("R_d", "N", "method in the form of ETAG 006", "from memory")
def design_resistance(R_k: float, gamma_m: float = practice.GAMMA_M) -> float:
    """Resistance of one fixing for design.

    Parameters
    ----------
    R_k : float
        Characteristic resistance, the least of pull-out, fixing, plate and pull-through [N].
    gamma_m : float
        Partial factor of the resistance [-].

    Returns
    -------
    float
        Resistance to set against 1.5 times the characteristic load [N].

    Examples
    --------
    >>> design_resistance(600.0)
    400.0
    """
    return R_k / gamma_m


@formula("R_k", "N", "method in the form of ETAG 006", "from memory")
def adjusted_test_load(W_test: float, C_a: float, C_d: float) -> float:
    """Characteristic resistance from a system test.

    Parameters
    ----------
    W_test : float
        Load of the test per fixing [N].
    C_a, C_d : float
        Adjustment factors of the test [-].

    Returns
    -------
    float
        Resistance before the partial factor [N].

    Examples
    --------
    >>> adjusted_test_load(800.0, 0.9, 0.95)
    684.0
    """
    return W_test * C_a * C_d


@formula("n", "-", "method in the form of ETAG 006", "from memory")
def fixings_for_wind(w: float, A: float, R_d: float, gamma_Q: float = en_1990.GAMMA_Q) -> int:
    """Screws in one board that the wind asks for.

    Parameters
    ----------
    w : float
        Net pressure; suction is negative [Pa].
    A : float
        Area of the board [m2].
    R_d : float
        Design resistance of one fixing [N].
    gamma_Q : float
        Partial factor of the load [-].

    Returns
    -------
    int
        Number, rounded up [-].

    Examples
    --------
    >>> fixings_for_wind(-790.0, 2.88, 400.0)
    9
    """
    return ceil(gamma_Q * max(-w, 0) * A / R_d)


@formula("n", "-", "share of the board, rounded up", "common practice")
def fixings_in_piece(
    n_board: float, A: float, A_board: float, least: float = practice.PIECE_LEAST
) -> int:
    """Screws in a piece that was cut from a board.

    Parameters
    ----------
    n_board : float
        Screws in a whole board where the piece lies [-].
    A, A_board : float
        Area of the piece and of the board [m2].
    least : float
        Screws in any piece [-].

    Returns
    -------
    int
        Number [-].

    Examples
    --------
    >>> fixings_in_piece(8.0, 1.0, 2.88), fixings_in_piece(8.0, 0.1, 2.88)
    (3, 2)
    """
    return max(ceil(round(n_board * A / A_board, 9)), ceil(least))


@formula("n", "-", "admissible load, no partial factor", "from memory")
def fixings_by_admissible(w: float, A: float, W_adm: float) -> int:
    """Screws in one board against the admissible load, which holds all of the safety.

    Parameters
    ----------
    w : float
        Net pressure; suction is negative [Pa].
    A : float
        Area of the board [m2].
    W_adm : float
        Admissible load of one fixing, from the test report [N].

    Returns
    -------
    int
        Number, rounded up [-].

    Examples
    --------
    >>> fixings_by_admissible(-790.0, 2.88, 267.0)
    9
    """
    return ceil(max(-w, 0) * A / W_adm)


def least_fixings(
    length_mm: int,
    width_mm: int,
    thickness_mm: int,
    adhered: bool,
    perimeter: bool = False,
    upper_mm: int | None = None,
) -> tuple[Cited, ...]:
    """Least number of screws per board, every source side by side.

    The numbers under an adhered sheet go by thickness. No source says which thickness is meant
    where two boards lie on one another, so both are given: that of all boards together, and that of
    the upper board, which the sheet pulls on and which bends between its screws.

    Parameters
    ----------
    length_mm, width_mm, thickness_mm : int
        The board; the thickness of all its layers together [mm].
    adhered : bool
        The sheet is glued to the board, so that the board's screws carry all of the wind [-].
    perimeter : bool
        The board lies at the edge of the roof [-].
    upper_mm : int, optional
        The upper board of two layers, without an overlay on it; None for a single layer [mm].

    Returns
    -------
    tuple of Cited
        Numbers; a source that lists sizes gives that of its next larger board, one that lists a
        single large board gives a smaller board its share by area, and a board larger than a
        source lists keeps its last number, up to the largest board of all lists [-].

    Examples
    --------
    >>> [n.value for n in least_fixings(2400, 1200, 50, adhered=True)]
    [6.0, 6.0, 8.0, 12.0]
    >>> [n.value for n in least_fixings(2400, 1200, 140, adhered=True, upper_mm=50)]
    [6.0, 6.0, 8.0, 8.0, 12.0]
    """
    upper = upper_mm if upper_mm is not None else thickness_mm
    sizes = (length_mm, width_mm, thickness_mm, upper)
    for name, value in zip(("length", "width", "thickness", "upper"), sizes, strict=True):
        positive(f"{name}_mm", value, "mm")
    within("upper board in mm", upper, 0, thickness_mm, "all layers together")
    area_mm2 = length_mm * width_mm
    largest = practice.BY_SIZE_OWN_FIXINGS[-1]
    largest_mm2 = largest.length_mm * largest.width_mm
    within("board in mm2", area_mm2, 0, largest_mm2, largest.number.source)
    membrane = practice.MEMBRANE_PERIMETER if perimeter else practice.MEMBRANE_FIELD
    found = [
        _next_larger(practice.BY_SIZE, area_mm2),
        _next_larger(practice.BY_SIZE_OWN_FIXINGS, area_mm2),
        _share(membrane[0].number, area_mm2, membrane[0].length_mm * membrane[0].width_mm),
    ]
    if adhered:
        found += _adhered(area_mm2, thickness_mm, upper_mm)
    return tuple(found)


def _adhered(area_mm2: int, thickness_mm: int, upper_mm: int | None) -> Iterator[Cited]:
    """Give the numbers under an adhered sheet, by both readings of the thickness of two layers."""
    listed_mm2 = practice.ADHERED_BOARD_MM[0] * practice.ADHERED_BOARD_MM[1]
    if upper_mm is None:
        yield _share(_by_thickness(thickness_mm), area_mm2, listed_mm2)
        return
    for mm, of in ((thickness_mm, "both layers together"), (upper_mm, "the upper board")):
        number = _share(_by_thickness(mm), area_mm2, listed_mm2)
        where = f"{number.where} ({of}, {mm} mm)"
        yield Cited(float(number), "-", number.source, where, number.basis)


def _next_larger(rows: tuple[practice.SizeRow, ...], area_mm2: int) -> Cited:
    for row in rows:
        if area_mm2 <= row.length_mm * row.width_mm:
            return row.number
    return rows[-1].number


def _by_thickness(thickness_mm: int) -> Cited:
    for up_to, number in practice.BY_THICKNESS:
        if thickness_mm <= up_to:
            return number
    return practice.BY_THICKNESS[-1][1]


def _share(number: Cited, area_mm2: float, listed_mm2: float) -> Cited:
    """Share of a smaller board, rounded up; a larger one keeps the number printed."""
    if area_mm2 >= listed_mm2:
        return number
    share = ceil(number * area_mm2 / listed_mm2)
    return Cited(share, "-", number.source, f"{number.where}, by area", number.basis)


@dataclass(frozen=True, slots=True)
class PerBoard:
    """Screws in one board: the number, what governs it, and all that was asked."""

    number: int
    governs: str
    wind: Working
    least: tuple[Cited, ...]
    safety: str = practice.SAFETY


def fixings_per_board(
    wind: Working, least: tuple[Cited, ...], safety: str = practice.SAFETY
) -> PerBoard:
    """Screws in one board: the largest of the wind's number and every source's least.

    Parameters
    ----------
    wind : Working
        Number that the wind asks for, by one of the two safety formats [-].
    least : tuple of Cited
        Least numbers, of `least_fixings` [-].
    safety : str
        The safety format used, in words [-].

    Returns
    -------
    PerBoard
        Number and what governs; wind, where it asks as many [-].

    Examples
    --------
    >>> wind = fixings_for_wind.show(-460.0, 2.88, 400.0)
    >>> fixings_per_board(wind, least_fixings(2400, 1200, 120, adhered=True)).number
    8
    """
    most = max(least, key=float)
    if wind.value >= most:
        return PerBoard(round(wind.value), "wind", wind, least, safety)
    return PerBoard(round(most), f"{most.source}: {most.where}", wind, least, safety)


def embedment_mm(deck: str = "timber") -> Cited:
    """Depth of the screw in the deck: the larger of the sources.

    Parameters
    ----------
    deck : str
        timber or steel [-].

    Returns
    -------
    Cited
        Depth of the point below the top of the deck [mm].

    Examples
    --------
    >>> embedment_mm().value
    30.0
    """
    if deck not in practice.EMBEDMENTS_MM:
        raise OutOfScope("deck", deck, " or ".join(practice.EMBEDMENTS_MM), "board makers' guides")
    return max(practice.EMBEDMENTS_MM[deck], key=float)


@formula("l_s", "mm", "geometry")
def least_screw_mm(above_deck_mm: float, embedment_mm: float) -> float:
    """Shortest screw that reaches.

    Parameters
    ----------
    above_deck_mm : float
        Layers between the top of the deck and the head of the screw [mm].
    embedment_mm : float
        Depth in the deck [mm].

    Returns
    -------
    float
        Length [mm].

    Examples
    --------
    >>> least_screw_mm(122.5, 30.0)
    152.5
    """
    return above_deck_mm + embedment_mm


@formula("f_a", "Pa", "EN 1990 (6.10) on adhesion", "from memory")
def bond_needed(w: float, gamma_Q: float = en_1990.GAMMA_Q) -> float:
    """Strength that each glued face must have; take the corner's suction for the whole roof.

    Parameters
    ----------
    w : float
        Net pressure of the corner; suction is negative [Pa].
    gamma_Q : float
        Partial factor of the load [-].

    Returns
    -------
    float
        Strength [Pa].

    Examples
    --------
    >>> bond_needed(-1318.0)
    1977.0
    """
    return gamma_Q * max(-w, 0)


@formula("f_b", "Pa", "geometry of the beads", "from memory")
def bead_strength(n: float, width: float, f: float, spacing: float) -> float:
    """Strength of a pattern of beads over the whole area.

    Parameters
    ----------
    n : float
        Beads in one strip; 1 where the spacing is from centre to centre [-].
    width : float
        Width of one bead when pressed [m].
    f : float
        Strength of the bead itself [Pa].
    spacing : float
        Width of the strip that holds the n beads [m].

    Returns
    -------
    float
        Strength per area of roof [Pa].

    Examples
    --------
    >>> bead_strength(1, 0.020, 100000.0, 0.150)
    13333.3
    """
    return n * width * f / spacing


def bead_centres(zone: str) -> Known:
    """Centres of beads by the zone of the roof.

    Parameters
    ----------
    zone : str
        field, perimeter or corner [-].

    Returns
    -------
    Known
        Centres, from memory [m].

    Examples
    --------
    >>> bead_centres("corner").value
    0.150
    """
    if zone not in practice.BEAD_CENTRES:
        raise OutOfScope("zone", zone, ", ".join(practice.BEAD_CENTRES), "the trade handbook")
    return practice.BEAD_CENTRES[zone]
