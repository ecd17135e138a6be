"""Heat through a roof: resistances, transmittance and combined method (ISO 6946)."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfall.calc.physics.corrections import corrected as corrected
from evenfall.calc.physics.corrections import correction_fasteners as correction_fasteners
from evenfall.calc.physics.corrections import correction_gaps as correction_gaps
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_6946, iso_13788
from evenfall.standards.iso_6946 import Direction
from evenfall.working import Basis, Working, formula, total


@formula("R", "m2K/W", "ISO 6946, plain layer")
def resistance(d: float, lambda_: float) -> float:
    """Resistance of a plain layer.

    Parameters
    ----------
    d : float
        Thickness [m].
    lambda_ : float
        Thermal conductivity [W/(m K)].

    Returns
    -------
    float
        Thermal resistance [m2K/W].

    Examples
    --------
    >>> resistance(0.120, 0.022)
    5.4545
    """
    return d / lambda_


@formula("U", "W/(m2K)", "ISO 6946, thermal transmittance")
def transmittance(R_T: float) -> float:
    """Thermal transmittance.

    Parameters
    ----------
    R_T : float
        Total thermal resistance, surfaces included [m2K/W].

    Returns
    -------
    float
        Thermal transmittance [W/(m2K)].

    Examples
    --------
    >>> transmittance(5.8124)
    0.17205
    """
    return 1 / R_T


@dataclass(frozen=True, slots=True)
class Bridge:
    """What crosses a layer on part of its area, such as joists across a quilt.

    Layers whose bridges have the same name are crossed by the same thing in the same place.

    Parameters
    ----------
    name : str
        What it is [-].
    fraction : float
        Its share of the area, more than 0 and less than 1 [-].
    conductivity : float, optional
        Its thermal conductivity; give this or the resistance [W/(m K)].
    resistance : float, optional
        Its resistance over the thickness of the layer [m2K/W].
    """

    name: str
    fraction: float
    conductivity: float | None = None
    resistance: float | None = None

    def __post_init__(self) -> None:
        if not 0 < self.fraction < 1:
            raise InvalidInput(
                f"fraction {self.fraction}", "more than 0, less than 1", where=self.name
            )
        _one_of(self.name, self.conductivity, self.resistance)


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a roof, with its heat and its vapour.

    Parameters
    ----------
    name : str
        What it is [-].
    thickness : float
        Its thickness [m].
    conductivity : float, optional
        Its thermal conductivity; give this or the resistance [W/(m K)].
    resistance : float, optional
        Its thermal resistance, for layers that are given so [m2K/W].
    bridge : Bridge, optional
        What crosses it [-].
    s_d : float
        Equivalent air-layer thickness of its vapour resistance [m].
    source : str
        Where its values come from [-].
    basis : str
        How they are known [-].
    """

    name: str
    thickness: float = 0.0
    conductivity: float | None = None
    resistance: float | None = None
    bridge: Bridge | None = None
    s_d: float = 0.0
    source: str = "the layer's data sheet"
    basis: Basis = "declared"

    def __post_init__(self) -> None:
        _one_of(self.name, self.conductivity, self.resistance)
        for what, value in (("thickness", self.thickness), ("s_d", self.s_d)):
            if not value >= 0:
                raise InvalidInput(f"{what} {value}", "0 or more", where=self.name)

    @property
    def R(self) -> float:
        """Resistance beside the bridge [m2K/W]."""
        return _resistance(self.thickness, self.conductivity, self.resistance)

    @property
    def R_bridge(self) -> float:
        """Resistance through the bridge, or of the plain layer where nothing crosses it [m2K/W]."""
        if self.bridge is None:
            return self.R
        return _resistance(self.thickness, self.bridge.conductivity, self.bridge.resistance)

    @property
    def working(self) -> Working:
        """How the resistance beside the bridge comes about."""
        if self.conductivity is None:
            return Working(self.name, "R", "m2K/W", self.source, self.R, own_basis=self.basis)
        of = (("d", "m", self.thickness), ("lambda_", "W/(m K)", self.conductivity))
        text = resistance.expression
        return Working(self.name, "R", "m2K/W", self.source, self.R, of, text, self.basis)


def _one_of(name: str, conductivity: float | None, R: float | None) -> None:
    if (conductivity is None) == (R is None):
        raise InvalidInput("neither or both", "either a conductivity or a resistance", where=name)
    if conductivity is not None and not conductivity > 0:
        raise InvalidInput(f"conductivity {conductivity}", "more than 0", where=name)
    if R is not None and not R >= 0:
        raise InvalidInput(f"resistance {R}", "0 or more", where=name)


def _resistance(d: float, lambda_: float | None, R: float | None) -> float:
    return float(resistance(d, lambda_) if lambda_ is not None else R or 0.0)


def total_resistance(
    layers: Iterable[Layer],
    R_si: float = iso_6946.R_SI["upwards"],
    R_se: float = iso_6946.R_SE,
) -> Working:
    """Add the resistances of plain layers and both surfaces; bridges are left out.

    Parameters
    ----------
    layers : iterable of Layer
        The roof from outside to inside [-].
    R_si, R_se : float
        Surface resistances inside and outside [m2K/W].

    Returns
    -------
    Working
        Total thermal resistance, ``R_T`` or ``R_T,h`` of the corrections [m2K/W].

    Examples
    --------
    >>> board = Layer("board", 0.120, 0.022)
    >>> print(total_resistance([board]).line)
    R_T = R_se + board + R_si = 0.04 + 5.455 + 0.1 = 5.595 m2K/W

    References
    ----------
    ISO 6946, from memory.
    """
    parts = [("R_se", R_se), *((a.name, a.working) for a in layers), ("R_si", R_si)]
    return total("Total thermal resistance", "R_T", "m2K/W", parts)


@dataclass(frozen=True, slots=True)
class Combined:
    """Result of the combined method for layers that are crossed by something.

    Parameters
    ----------
    R_upper, R_lower : float
        Limits of the total resistance [m2K/W].
    sections : tuple
        Share of the area and total resistance of each way through [m2K/W].
    """

    R_upper: float
    R_lower: float
    sections: tuple[tuple[float, float], ...]

    @property
    def R_T(self) -> float:
        """Total resistance, the mean of both limits [m2K/W]."""
        return combined_resistance(self.R_upper, self.R_lower)

    @property
    def error(self) -> float:
        """Greatest relative error of the total resistance [-]."""
        return (self.R_upper - self.R_lower) / (2 * self.R_T)

    @property
    def U(self) -> float:
        """Thermal transmittance [W/(m2K)]."""
        return transmittance(self.R_T)


@formula("R_T", "m2K/W", "ISO 6946, combined method", "from memory")
def combined_resistance(R_upper: float, R_lower: float) -> float:
    """Total resistance of a roof with layers that are crossed by something.

    Parameters
    ----------
    R_upper, R_lower : float
        Limits of the total resistance [m2K/W].

    Returns
    -------
    float
        Their mean [m2K/W].

    Examples
    --------
    >>> combined_resistance(3.530, 3.418)
    3.474
    """
    return (R_upper + R_lower) / 2


def combined_method(
    layers: Sequence[Layer],
    R_si: float = iso_6946.R_SI["upwards"],
    R_se: float = iso_6946.R_SE,
) -> Combined:
    """Work out the total resistance of layers of which some are crossed by something.

    Bridges of different names are taken to cross each other at random.

    Parameters
    ----------
    layers : sequence of Layer
        The roof from outside to inside [-].
    R_si, R_se : float
        Surface resistances inside and outside [m2K/W].

    Returns
    -------
    Combined
        Both limits, their mean and its error [m2K/W].

    Raises
    ------
    OutOfScope
        If the upper limit is more than 1.5 times the lower one.

    Examples
    --------
    >>> joists = Bridge("joists", 0.12, conductivity=0.13)
    >>> roof = [Layer("board", 0.1, 0.022), Layer("quilt", 0.1, 0.04, bridge=joists)]
    >>> found = combined_method(roof)
    >>> round(found.R_upper, 3), round(found.R_lower, 3), round(found.error, 4)
    (6.922, 6.654, 0.0197)

    References
    ----------
    ISO 6946, combined method, from memory.
    """
    surfaces = R_si + R_se
    sections = tuple(
        (share, surfaces + sum(a.R_bridge if _crossed(a, there) else a.R for a in layers))
        for share, there in _sections(layers)
    )
    upper = 1 / sum(share / R for share, R in sections)
    lower = surfaces + sum(_mean_resistance(a) for a in layers)
    if upper > iso_6946.COMBINED_RATIO_LIMIT * lower:
        limit = f"at most {iso_6946.COMBINED_RATIO_LIMIT.value:g}"
        raise OutOfScope("R_upper / R_lower", round(upper / lower, 2), limit, iso_6946.SOURCE)
    return Combined(float(upper), float(lower), sections)


def _sections(layers: Sequence[Layer]) -> Iterable[tuple[float, frozenset[str]]]:
    """Yield each way through: its share of the area and the names of the bridges in it."""
    shares: dict[str, float] = {}
    for bridge in (a.bridge for a in layers if a.bridge):
        if shares.setdefault(bridge.name, bridge.fraction) != bridge.fraction:
            raise InvalidInput(
                f"fraction {bridge.fraction}", f"{shares[bridge.name]} as before", where=bridge.name
            )
    for there in itertools.product((False, True), repeat=len(shares)):
        named = dict(zip(shares, there, strict=True))
        share = math.prod(f if named[name] else 1 - f for name, f in shares.items())
        yield share, frozenset(name for name in named if named[name])


def _crossed(layer: Layer, there: frozenset[str]) -> bool:
    return layer.bridge is not None and layer.bridge.name in there


def _mean_resistance(layer: Layer) -> float:
    """Resistance of a crossed layer by the mean of its conductances."""
    if layer.bridge is None:
        return layer.R
    f = layer.bridge.fraction
    return 1 / ((1 - f) / layer.R + f / layer.R_bridge)


def air_layer(name: str, thickness: float, direction: Direction = "upwards") -> Layer:
    """Make the layer of an unventilated air layer, its resistance read between two table lines.

    Parameters
    ----------
    name : str
        What it is [-].
    thickness : float
        Thickness in the direction of the heat flow, 0.005 to 0.3 [m].
    direction : str
        Direction of the heat flow [-].

    Returns
    -------
    Layer
        With resistance, s_d, source and basis [m2K/W].

    Raises
    ------
    OutOfScope
        If the table does not hold the thickness.

    Examples
    --------
    >>> round(air_layer("void", 0.075, "downwards").R, 3)
    0.215

    References
    ----------
    ISO 6946, unventilated air layers of high emissivity, from memory; s_d: ISO 13788.
    """
    table = iso_6946.AIR_LAYERS
    if not table[0].thickness <= thickness <= table[-1].thickness:
        limit = f"{table[0].thickness} to {table[-1].thickness} m"
        raise OutOfScope("air layer [m]", thickness, limit, table[0].upwards.where)
    low, high = next(p for p in itertools.pairwise(table) if thickness <= p[1].thickness)
    share = (thickness - low.thickness) / (high.thickness - low.thickness)
    r_low, r_high = getattr(low, direction), getattr(high, direction)
    R = r_low + share * (r_high - r_low)
    source = f"{iso_6946.SOURCE}, unventilated air layers, {direction}"
    s_d = iso_13788.AIR_LAYER_S_D
    return Layer(name, thickness, resistance=R, s_d=s_d, source=source, basis=r_low.basis)
