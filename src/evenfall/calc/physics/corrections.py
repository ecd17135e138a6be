"""What gaps and fasteners add to the transmittance (ISO 6946, 2007 Annex D, 2017 Annex F)."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_6946
from evenfall.working import Working, formula


@formula("ΔU_g", "W/(m2K)", "ISO 6946, air gaps", "from memory")
def gap_correction(delta_U: float, R1: float, R_T_h: float) -> float:
    """Correction for air gaps.

    Parameters
    ----------
    delta_U : float
        Correction of the level of the gaps, ``iso_6946.GAP_LEVELS`` [W/(m2K)].
    R1 : float
        Resistance of the layer with the gaps [m2K/W].
    R_T_h : float
        Total resistance without thermal bridges [m2K/W].

    Returns
    -------
    float
        Addition to the transmittance [W/(m2K)].

    Examples
    --------
    >>> gap_correction(0.01, 3.333, 3.971)
    0.00704
    """
    return delta_U * (R1 / R_T_h) ** 2


def correction_gaps(level: int, R1: float, R_T_h: float) -> Working:
    """Work out the correction for air gaps of a level.

    Parameters
    ----------
    level : int
        0 two staggered layers, 1 one butt-jointed layer, 2 air moves on the warm side [-].
    R1 : float
        Resistance of the layer with the gaps [m2K/W].
    R_T_h : float
        Total resistance without thermal bridges [m2K/W].

    Returns
    -------
    Working
        Addition to the transmittance [W/(m2K)].

    Examples
    --------
    >>> round(correction_gaps(1, 3.333, 3.971).value, 5)
    0.00704

    References
    ----------
    ISO 6946 (2007 Annex D, 2017 Annex F), from memory.
    """
    if level not in iso_6946.GAP_LEVELS:
        raise InvalidInput(f"level {level}", "0, 1 or 2", where="air gaps")
    _within(R1, R_T_h)
    return gap_correction.show(iso_6946.GAP_LEVELS[level], R1, R_T_h)


@formula("ΔU_f", "W/(m2K)", "ISO 6946:2017 F.3.2, approximate form", "published, second-hand")
def fastener_correction(
    n_f: float,
    lambda_f: float,
    A_f: float,
    d0: float,
    d1: float,
    R1: float,
    R_T_h: float,
    alpha: float = iso_6946.FASTENER_ALPHA,
) -> float:
    """Correction for mechanical fasteners.

    Parameters
    ----------
    n_f : float
        Fasteners per area [1/m2].
    lambda_f : float
        Conductivity of the fastener [W/(m K)].
    A_f : float
        Cross-section of one fastener [m2].
    d0 : float
        Thickness of the insulation [m].
    d1 : float
        Length of the fastener inside the insulation [m].
    R1 : float
        Resistance of the insulation that is penetrated [m2K/W].
    R_T_h : float
        Total resistance without thermal bridges [m2K/W].
    alpha : float
        Factor of a fully penetrating fastener [-].

    Returns
    -------
    float
        Addition to the transmittance [W/(m2K)].

    Examples
    --------
    >>> fastener_correction(6, 50, 1.80956e-5, 0.12, 0.12, 5.454545, 5.812419)
    0.03187
    """
    return alpha * (d1 / d0) * lambda_f * A_f * n_f / d1 * (R1 / R_T_h) ** 2


def correction_fasteners(
    n_f: float,
    lambda_f: float,
    A_f: float,
    d0: float,
    d1: float | None,
    R1: float,
    R_T_h: float,
    *,
    metal_at_both_ends: bool = False,
) -> Working:
    """Work out the correction for fasteners that go all through the insulation or part of it.

    A recessed one has ``d1`` in the denominator; the editions differ, and this is the safe choice
    (``d0`` gives less). No fastener is exempted, however few or poorly conducting.

    Parameters
    ----------
    n_f : float
        Fasteners per area [1/m2].
    lambda_f : float
        Conductivity of the fastener [W/(m K)].
    A_f : float
        Cross-section of one fastener [m2].
    d0 : float
        Thickness of the insulation [m].
    d1 : float, optional
        Length of a recessed fastener inside the insulation; none goes all through [m].
    R1 : float
        Resistance of the insulation that is penetrated, over ``d1`` if recessed [m2K/W].
    R_T_h : float
        Total resistance without thermal bridges [m2K/W].
    metal_at_both_ends : bool
        Whether both ends touch sheets of metal [-].

    Returns
    -------
    Working
        Addition to the transmittance [W/(m2K)].

    Raises
    ------
    OutOfScope
        If both ends touch metal (ISO 10211 is then asked), or ``d1`` is more than ``d0``.

    Examples
    --------
    >>> steel = correction_fasteners(6, 50, 1.80956e-5, 0.12, 0.07, 0.07 / 0.022, 5.812419)
    >>> round(steel.value, 5)
    0.01085

    References
    ----------
    ISO 6946:2017 F.3.2 and ISO/DIS 6946:2015 F.5, published, second-hand.
    """
    if metal_at_both_ends:
        raise OutOfScope(
            "fastener", "metal at both ends", "at most one end", fastener_correction.source
        )
    length = d0 if d1 is None else d1
    if not 0 < length <= d0:
        raise OutOfScope("d1 [m]", d1, f"0 to d0 = {d0}", fastener_correction.source)
    _within(R1, R_T_h)
    return fastener_correction.show(n_f, lambda_f, A_f, d0, length, R1, R_T_h)


def _within(R1: float, R_T_h: float) -> None:
    if not 0 < R1 < R_T_h:
        raise InvalidInput(
            f"R1 {R1}", f"more than 0, less than R_T,h = {R_T_h}", where="insulation"
        )


@dataclass(frozen=True, slots=True)
class Corrected:
    """Transmittance with its corrections.

    Parameters
    ----------
    U : float
        Before the corrections [W/(m2K)].
    delta_U : float
        All corrections together [W/(m2K)].
    applied : bool
        Whether they reach the share of U from which they count [-].
    """

    U: float
    delta_U: float
    applied: bool

    @property
    def U_c(self) -> float:
        """Corrected transmittance [W/(m2K)]."""
        return self.U + self.delta_U if self.applied else self.U


def corrected(
    U: float,
    *corrections: float | Working,
    share: float = iso_6946.CORRECTION_SHARE,
) -> Corrected:
    """Add the corrections if together they are at least 3 % of the transmittance.

    Parameters
    ----------
    U : float
        Transmittance before the corrections [W/(m2K)].
    *corrections : float or Working
        Each correction, zero or more [W/(m2K)].
    share : float
        Share of U from which they are applied [-].

    Returns
    -------
    Corrected
        Transmittance with and without them [W/(m2K)].

    Examples
    --------
    >>> corrected(0.288, 0.00704).U_c, corrected(0.172, 0.0319, 0.0088).U_c
    (0.288, 0.2127)

    References
    ----------
    ISO 6946 (2007 Annex D, 2017 Annex F), from memory.
    """
    delta = math.fsum(float(c) for c in corrections)
    if any(float(c) < 0 for c in corrections):
        raise InvalidInput(f"corrections {corrections}", "0 or more", where="corrections")
    return Corrected(float(U), delta, delta >= share * U)
