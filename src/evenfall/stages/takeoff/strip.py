"""Strip: what comes off the roof, what it weighs, and the skips it fills."""

from __future__ import annotations

from math import ceil

from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding
from evenfall.model.job import Below, Covering, Deck
from evenfall.model.surveyed import Plan
from evenfall.model.taken_off import Strip
from evenfall.standards import dead_loads, take_off_practice
from evenfall.working import Known, Table, Working, formula, measured, total

MM, PERCENT = 1000, 100
STREAMS = {
    "felt": "bituminous felt, by itself", "deck": "timber", "quilt": "insulation",
    "edges": "timber and metal",
}  # fmt: skip
BAGGED = ("felt", "quilt")


@formula("m_felt", "kg", "sample of 300 by 300 mm")
def felt_mass(m_sample: float, A_sample: float, A_gross: float) -> float:
    """Mass of the old covering.

    Parameters
    ----------
    m_sample : float
        Mass of the sample [kg].
    A_sample : float
        Area of the sample [m2].
    A_gross : float
        Area of the deck [m2].

    Returns
    -------
    float
        Mass [kg].

    Examples
    --------
    >>> felt_mass(0.99, 0.09, 25.42)
    279.6
    """
    return m_sample / A_sample * A_gross


@formula("m", "kg", "density")
def layer_mass(A: float, d: float, rho: float) -> float:
    """Mass of a layer that comes off.

    Parameters
    ----------
    A : float
        Area [m2].
    d : float
        Thickness [m].
    rho : float
        Density [kg/m3].

    Returns
    -------
    float
        Mass [kg].

    Examples
    --------
    >>> layer_mass(25.42, 0.018, 640)
    292.8
    """
    return A * d * rho


@formula("V", "m3", "loose bulk")
def loose(m: float, rho_loose: float) -> float:
    """Volume of what lies loose in the skip.

    Parameters
    ----------
    m : float
        Mass [kg].
    rho_loose : float
        Loose bulk density [kg/m3].

    Returns
    -------
    float
        Volume [m3].

    Examples
    --------
    >>> loose(280, 350)
    0.8
    """
    return m / rho_loose


def work(
    plan: Plan,
    covering: Covering,
    deck: Deck,
    below: Below,
    quilt: str,
    charges: tuple[tuple[str, str, float | None], ...],
) -> Strip:
    """Weigh what comes off and choose the skips.

    Parameters
    ----------
    plan : Plan
        Area and edges [m2].
    covering, deck, below : Covering, Deck, Below
        What was found [-].
    quilt : str
        ``remove`` or ``keep`` [-].
    charges : tuple of (name, says, m3 or None)
        Charges of the rates; those that hold something are skips [m3].

    Returns
    -------
    Strip
        Mass, volume, skips and a table by layer [kg, m3].
    """
    parts = _parts(plan, covering, deck, below, quilt)
    mass = total("Mass that comes off", "m", "kg", [(name, m) for name, m, _ in parts])
    volume = total("Loose volume", "V", "m3", [(name, v) for name, _, v in parts])
    thrown = [(name, v) for name, _, v in parts if not _apart(name, covering)]
    filled = total("Loose volume for the skip", "V", "m3", thrown or [("nothing", 0.0)])
    skip, size = _skip(filled.value, charges)
    holds = measured(size, "m3", f"the rates: {skip}", "declared")
    number = ceil(filled.value / size)
    of = (("V", "m3", filled), ("V_skip", "m3", holds))
    skips = Working("Skips", "n", "each", "division, rounded up", number, of, "V / V_skip, up")
    columns = (("what", "-"), ("mass", "kg"), ("loose", "m3"))
    rows = tuple((name, m.value, v.value) for name, m, v in parts)
    table = Table("What comes off", columns, rows, "take-off practice", volume.basis)
    return Strip(mass, volume, skips, skip, table, _findings(covering), _streams(parts, covering))


def _streams(parts: list[tuple[str, Working, Working]], covering: Covering) -> Table:
    """Keep the kinds apart: felt by itself, timber, quilt in bags; suspicion stops the line."""
    bag = take_off_practice.FELT_BAG_KG
    rows = []
    for name, mass, volume in parts:
        bags = float(ceil(mass.value / bag)) if name in BAGGED else 0.0
        rows.append((STREAMS[name], name, mass.value, volume.value, bags, _way(name, covering)))
    columns = (("stream", "-"), ("what", "-"), ("mass", "kg"), ("loose", "m3"),
               ("bags, if no skip", "each"), ("how", "-"))  # fmt: skip
    return Table("What is kept apart", columns, tuple(rows), bag.source, bag.basis)


def _apart(name: str, covering: Covering) -> bool:
    """Tell what never goes into the skip: felt in which asbestos was found."""
    return name == "felt" and covering.asbestos == "found"


def _way(name: str, covering: Covering) -> str:
    if name != "felt" or covering.asbestos == "none_found":
        return "into the skip; nothing is thrown"
    if _apart(name, covering):
        return "stopped: only as the asbestos surveyor says, double-wrapped, never in this skip"
    return "stopped until a sample is tested"


def _parts(
    plan: Plan, covering: Covering, deck: Deck, below: Below, quilt: str
) -> list[tuple[str, Working, Working]]:
    practice = take_off_practice
    sample = measured(covering.sample_300_by_300_kg, "kg", "survey.covering.sample_300_by_300_kg")
    felt = felt_mass.show(sample, dead_loads.SAMPLE_M2, plan.gross)
    parts = [("felt", felt, loose.show(felt, practice.FELT_BULK))]
    if deck.renew_percent:
        share = plan.gross.value * deck.renew_percent / PERCENT
        area = total("Deck renewed", "A", "m2", [("share of A_gross", share)])
        d = measured(deck.thickness_mm / MM, "m", "survey.deck.thickness_mm")
        rho = dead_loads.DECK_KG_M3[deck.kind]
        m = layer_mass.show(area, d, rho)
        parts.append(("deck", m, loose.show(m, rho / practice.DECK_BULK_FACTOR)))
    if quilt == "remove" and below.quilt_mm:
        d = measured(below.quilt_mm / MM, "m", "survey.below.quilt_mm")
        rho = dead_loads.QUILT_WET_KG_M3 if below.quilt_wet else dead_loads.QUILT_KG_M3
        m = layer_mass.show(plan.gross, d, rho)
        parts.append(("quilt", m, loose.show(m, rho / practice.QUILT_BULK_FACTOR)))
    edges = _edges(plan)
    if edges:
        parts.append(("edges", *edges))
    return parts


def _edges(plan: Plan) -> tuple[Working, Working] | None:
    practice = take_off_practice
    length = sum(s.length_m for s in plan.of_kind("eaves", "verge"))
    if not length:
        return None
    run = measured(length, "m", "plan: eaves and verges")

    def by_metre(title: str, symbol: str, unit: str, each: Known) -> Working:
        of = (("L", "m", run), ("each", each.unit, each))
        return Working(title, symbol, unit, each.source, length * each, of, "L × each")

    return (
        by_metre("Old edges", "m", "kg", practice.EDGE_KG_M),
        by_metre("Old edges, loose", "V", "m3", practice.EDGE_BULK_M3_M),
    )


def _skip(volume: float, charges: tuple[tuple[str, str, float | None], ...]) -> tuple[str, float]:
    """Take the smallest skip that holds it all, else the largest that heavy waste may fill."""
    skips = sorted((m3, name) for name, _, m3 in charges if m3 is not None)
    allowed = [s for s in skips if s[0] <= take_off_practice.LARGEST_SKIP_M3]
    if not allowed:
        raise InvalidInput(
            "no skip", "a charge with holds_m3", where="the rates: charges", do="add a skip"
        )
    m3, name = next((s for s in allowed if s[0] >= volume), allowed[-1])
    return name, m3


def _findings(covering: Covering) -> tuple[Finding, ...]:
    limit = take_off_practice.FELT_LAYERS
    if covering.layers <= limit:
        return ()
    says = f"{covering.layers} layers of felt: a second system under the first. Priced as found."
    return (
        Finding(
            "second-system", "roof", "note", says, limit.source, limit.basis, covering.layers,
            limit.value, "each",
        ),
    )  # fmt: skip
