"""Bearing: the deck between the joists, and a kerb with its glass that stands on the boards."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from evenfall.model.choice import BuildUp
from evenfall.model.finding import Finding
from evenfall.model.job import Deck, Joists
from evenfall.model.surveyed import OpeningAt, Plan, Point, SideAt
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.structure import asked
from evenfall.standards import dead_loads, en_1991_1_1
from evenfall.working import Cited, Working, formula, measured

MM = 1000
NOMINAL_MM = 0.5
"""A board sold as 18 mm may measure half a millimetre less."""


@formula("p", "kPa", "weight over the foot of the kerb")
def kerb_pressure_kpa(
    A: float,
    P: float,
    s: float,
    m_glass: float = dead_loads.GLASS_KG_M2,
    m_kerb: float = dead_loads.KERB_KG_M,
    b: float = dead_loads.KERB_WIDTH,
    g: float = en_1991_1_1.G,
) -> float:
    """Pressure on the boards under a kerb, with the snow on its glass.

    Parameters
    ----------
    A, P : float
        Outer area and outer length of the kerb [m2], [m].
    s : float
        Snow [Pa].
    m_glass, m_kerb : float
        Mass of the glass [kg/m2], of the kerb [kg/m].
    b, g : float
        Width on which the kerb bears [m], gravity [m/s2].

    Returns
    -------
    float
        Pressure [kPa].

    Examples
    --------
    >>> kerb_pressure_kpa(1.09, 4.2, 480.0)
    6.0
    """
    return (A * (m_glass * g + s) / P + m_kerb * g) / b / 1000


class Drifted(NamedTuple):
    """Snow drifted against a side: deepest there, nothing at its reach."""

    side: SideAt
    deepest: Working  # Pa
    reach_m: float


@formula("s_x", "Pa", "EN 1991-1-3 Annex B, a drift falls evenly to nothing", "from memory")
def drift_at(s: float, x: float, l_s: float) -> float:
    """Load of a drift at a distance from the wall.

    Parameters
    ----------
    s : float
        Load at the wall [Pa].
    x, l_s : float
        Distance from the wall, length of the drift [m].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> drift_at(2400.0, 1.0, 4.0), drift_at(2400.0, 5.0, 4.0)
    (1800.0, 0.0)
    """
    return s * max(1 - x / l_s, 0.0)


def kerbs(
    plan: Plan, snow: Working, drifts: tuple[Drifted, ...] = ()
) -> tuple[tuple[OpeningAt, Working], ...]:
    """Work out the pressure under every kerb that stands on the boards.

    Parameters
    ----------
    plan : Plan
        The openings [m].
    snow : Working
        Snow on the roof [Pa].
    drifts : tuple of Drifted
        Against walls and parapets [Pa].

    Returns
    -------
    tuple
        Opening and pressure, with the deepest snow that lies on its glass [kPa].
    """
    return tuple(
        (o, kerb_pressure_kpa.show(
            measured(o.area_m2, "m2", o.id), measured(o.perimeter_m, "m", o.id),
            _on_glass(o, snow, drifts)))
        for o in plan.openings
        if o.kind == "rooflight" and o.on_boards
    )  # fmt: skip


def _on_glass(o: OpeningAt, snow: Working, drifts: tuple[Drifted, ...]) -> Working:
    """Take the even snow, or a drift as deep as where the glass is nearest to its wall."""
    found = [snow]
    for side, deepest, reach in drifts:
        near = min(_off(side, p) for p in o.ring)
        x = measured(max(near, 0.0), "m", f"the plan, {o.name} from {side.name}")
        found.append(drift_at.show(deepest, x, reach))
    return max(found, key=lambda s: s.value)


def _off(side: SideAt, p: Point) -> float:
    (x0, y0), (u, v) = side.a, side.outwards
    return (x0 - p[0]) * u + (y0 - p[1]) * v


def tell_kerbs(pressed: tuple[tuple[OpeningAt, Working], ...], build: BuildUp) -> Iterator[Finding]:
    """Compare the pressure under kerbs with what the board bears for good.

    Parameters
    ----------
    pressed : tuple
        Opening and pressure [kPa].
    build : BuildUp
        The board [kPa].

    Returns
    -------
    iterator of Finding
        What is too much, or not known [-].
    """
    share, declared = dead_loads.LASTING_SHARE, build.board.compressive_kpa
    for opening, p in pressed:
        path = (f"survey.openings[{opening.name}].stands_on", "deck")
        off = cure("Stand the kerb on the deck instead.", path)
        if declared is None:
            says = (
                f"Kerb {opening.name} presses the boards with {p.value:.0f} kN/m². What the board "
                "bears is not in the rates."
            )
            yield finding("kerb-bearing-unknown", opening.id, "agree", says, share, p.value, off)
            continue
        bears = Cited(share * declared, "kPa", share.source, share.where, share.basis)
        says = f"Kerb {opening.name} presses the boards with {p.value:.0f} kN/m²; "
        if p.value > bears:
            says += f"for good they bear {bears:.0f} (a quarter of {declared:.0f})."
            yield finding("kerb-crushes-boards", opening.id, "stop", says, bears, p.value, off)
        else:
            says += f"they bear {bears:.0f} for good."
            yield finding("kerb-bears", opening.id, "fine", says, bears, p.value)


def deck_reach_mm(kind: str, thickness_mm: float) -> Cited | None:
    """Find how far apart joists may be under a deck.

    Parameters
    ----------
    kind : str
        What the deck is made of [-].
    thickness_mm : float
        Its thickness [mm].

    Returns
    -------
    Cited or None
        Spacing; None where the deck is thinner than any listed [mm].

    Examples
    --------
    >>> deck_reach_mm("osb", 17.6).value, deck_reach_mm("osb", 11.0)
    (600.0, None)
    """
    rows = [
        span for least, span in dead_loads.DECK_SPANS_MM[kind] if thickness_mm + NOMINAL_MM >= least
    ]
    return rows[-1] if rows else None


def tell_deck(joists: Joists, deck: Deck) -> Iterator[Finding]:
    """Say where the deck is too thin for the spacing of its joists.

    Parameters
    ----------
    joists, deck : Joists, Deck
        What was found [mm].

    Returns
    -------
    iterator of Finding
        A finding, or nothing [-].
    """
    reach = deck_reach_mm(deck.kind, deck.thickness_mm)
    if reach is not None and joists.spacing_mm <= reach:
        return
    first = dead_loads.DECK_SPANS_MM[deck.kind][0]
    limit = reach or Cited(0.0, "mm", first[1].source, "thinner than any that is listed",
                           first[1].basis)  # fmt: skip
    needed = next((t for t, span in dead_loads.DECK_SPANS_MM[deck.kind]
                   if span >= joists.spacing_mm), None)  # fmt: skip
    many = deck.kind == "planks"
    carries = (
        f"{'carry' if many else 'carries'} {reach:.0f} mm"
        if reach
        else (f"{'are' if many else 'is'} thinner than any that is trusted")
    )
    says = (
        f"{deck.kind.upper() if deck.kind == 'osb' else deck.kind.capitalize()} of "
        f"{deck.thickness_mm:.0f} mm {carries}; the joists stand {joists.spacing_mm:.0f} mm apart. "
        "Tread on the joists only."
    )
    ask = cure(
        f"Lay new boarding of {needed:.0f} mm, or noggins between the joists."
        if needed else "Fit noggins between the joists."
    )  # fmt: skip
    yield asked("deck-thin", "deck", says, limit, joists.spacing_mm, ask, "mm")
