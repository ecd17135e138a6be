"""What the parts of the roof weigh on the joists, each with where its number is from."""

from __future__ import annotations

from evenfall.model.choice import BuildUp
from evenfall.model.job import Below, Covering, Deck, Joists
from evenfall.standards import dead_loads, en_1991_1_1, en_1995_1_1
from evenfall.standards.en_338 import StrengthClass
from evenfall.working import Known, Working, formula, measured, total

MM = 1000
Part = tuple[str, Known | Working]


@formula("m", "kg/m2", "sample weighed on the roof")
def sampled_mass(m_sample: float, A_sample: float = dead_loads.SAMPLE_M2) -> float:
    """Mass of the old covering, from a sample.

    Parameters
    ----------
    m_sample : float
        Mass of the sample [kg].
    A_sample : float
        Area of the sample [m2].

    Returns
    -------
    float
        Mass [kg/m2].

    Examples
    --------
    >>> sampled_mass(0.99)
    11.0
    """
    return m_sample / A_sample


@formula("m", "kg/m2", "thickness and density")
def layer_mass(d: float, rho: float) -> float:
    """Mass of a layer.

    Parameters
    ----------
    d : float
        Thickness [m].
    rho : float
        Density [kg/m3].

    Returns
    -------
    float
        Mass [kg/m2].

    Examples
    --------
    >>> layer_mass(0.018, 640.0)
    11.52
    """
    return d * rho


@formula("m", "kg/m2", "timbers at their spacing")
def timber_mass(b: float, h: float, s: float, rho: float) -> float:
    """Mass of timbers spread over the roof.

    Parameters
    ----------
    b, h, s : float
        Width, depth, spacing [m].
    rho : float
        Density [kg/m3].

    Returns
    -------
    float
        Mass [kg/m2].

    Examples
    --------
    >>> timber_mass(0.047, 0.145, 0.4, 370.0)
    6.3
    """
    return b * h / s * rho


@formula("g", "Pa", "mass times gravity")
def weight(m: float, g: float = en_1991_1_1.G) -> float:
    """Weight of a mass on the roof.

    Parameters
    ----------
    m : float
        Mass [kg/m2].
    g : float
        Gravity [m/s2].

    Returns
    -------
    float
        Weight [Pa].

    Examples
    --------
    >>> weight(11.0)
    107.9
    """
    return m * g


@formula("g", "Pa", "water as deep as a sagging cover holds it", "planning seed")
def water_weight(d: float, gamma: float = en_1995_1_1.WATER_WEIGHT) -> float:
    """Weight of standing water.

    Parameters
    ----------
    d : float
        Depth [m].
    gamma : float
        Unit weight of water [N/m3].

    Returns
    -------
    float
        Weight [Pa].

    Examples
    --------
    >>> water_weight(0.025)
    245.25
    """
    return d * gamma


@formula("g", "Pa", "boards of one pack on each other", "planning seed")
def stack_weight(n: float, m_board: float, g: float = en_1991_1_1.G) -> float:
    """Weight of a pack of boards where it lies.

    Parameters
    ----------
    n : float
        Boards on each other [-].
    m_board : float
        Mass of one board by its area [kg/m2].
    g : float
        Gravity [m/s2].

    Returns
    -------
    float
        Weight [Pa].

    Examples
    --------
    >>> stack_weight(10.0, 4.24)
    415.9
    """
    return n * m_board * g


@formula("m", "kg/m2", "addition of the layers")
def build_up_mass(
    d: float, rho: float, facings: float, vcl: float, sheet: float, d_o: float, rho_o: float
) -> float:
    """Mass of the new build-up.

    Parameters
    ----------
    d : float
        Thickness of the insulation [m].
    rho : float
        Its density [kg/m3].
    facings : float
        Its facings [kg/m2].
    vcl, sheet : float
        The other layers [kg/m2].
    d_o : float
        Thickness of an overlay board, 0 for none [m].
    rho_o : float
        Its density [kg/m3].

    Returns
    -------
    float
        Mass on the deck [kg/m2].

    Examples
    --------
    >>> build_up_mass(0.12, 32, 0.4, 2.5, 1.4, 0.018, 640)
    19.66
    """
    return d * rho + facings + vcl + sheet + d_o * rho_o


@formula("m", "kg/m2", "addition of the layers")
def bare_mass(d: float, rho: float, facings: float, vcl: float, sheet: float) -> float:
    """Mass of the new build-up without an overlay board.

    Parameters
    ----------
    d : float
        Insulation [m].
    rho : float
        Its foam [kg/m3].
    facings, vcl, sheet : float
        Facings of all boards, vapour control layer, rubber [kg/m2].

    Returns
    -------
    float
        Mass [kg/m2].

    Examples
    --------
    >>> round(bare_mass(0.1, 32, 0.4, 1.5, 1.4), 2)
    6.5
    """
    return d * rho + facings + vcl + sheet


def mass(build: BuildUp, mm: int) -> Working:
    """Add up what the new build-up weighs.

    Parameters
    ----------
    build : BuildUp
        The layers [-].
    mm : int
        Insulation [mm].

    Returns
    -------
    Working
        Mass on the deck [kg/m2].
    """
    b = build.board
    said = [
        measured(v, u, f"the rates: {w}", build.basis)
        for v, u, w in (
            (b.density_kg_m3, "kg/m3", b.name),
            (b.facing_kg_m2 * build.layers, "kg/m2", b.name),
            (build.vcl.mass_kg_m2, "kg/m2", build.vcl.name),
            (build.rubber.mass_kg_m2, "kg/m2", build.rubber.name),
        )
    ]
    if not build.overlay_mm:
        return bare_mass.show(mm / MM, *said)
    d_o = measured(build.overlay_mm / MM, "m", "design.overlay_mm", "declared")
    return build_up_mass.show(mm / MM, *said, d_o, dead_loads.OVERLAY_KG_M3)


def old_covering(covering: Covering) -> Working:
    """Weigh the old felt by its sample.

    Parameters
    ----------
    covering : Covering
        With the sample of 300 by 300 mm [kg].

    Returns
    -------
    Working
        Mass [kg/m2].
    """
    key = "survey.covering.sample_300_by_300_kg"
    return sampled_mass.show(measured(covering.sample_300_by_300_kg, "kg", key))


def new_covering(
    build: BuildUp, chosen_mm: int, joists: Joists, fall_kind: str, added_mm: tuple[float, ...]
) -> Working:
    """Add up all that is laid on the deck: layers, glue, and what makes the fall.

    Parameters
    ----------
    build : BuildUp
        The layers [-].
    chosen_mm : int
        Insulation, all layers [mm].
    joists : Joists
        Width and spacing, for firrings [mm].
    fall_kind : str
        keep, firrings or tapered [-].
    added_mm : tuple of float
        What firrings or tapers add at the corners [mm].

    Returns
    -------
    Working
        Mass [kg/m2].
    """
    parts: list[Part] = [("layers", mass(build, chosen_mm)), ("glue", dead_loads.ADHESIVE_KG_M2)]
    mean = measured(sum(added_mm) / max(len(added_mm), 1) / MM, "m", "design.falls", "declared")
    if fall_kind in ("firrings", "shims"):
        b, s = joists.width_mm / MM, joists.spacing_mm / MM
        firrings = timber_mass.show(b, mean, s, dead_loads.FIRRING_KG_M3)
        parts.append(("firrings", firrings))
    elif fall_kind == "tapered":
        rho = measured(build.board.density_kg_m3, "kg/m3", build.board.name, build.basis)
        parts.append(("tapers", layer_mass.show(mean, rho)))
    return total("What is laid on the deck", "m_new", "kg/m2", parts)


def staying(deck: Deck, below: Below, joists: Joists, timber: StrengthClass) -> tuple[Part, ...]:
    """List what stays: deck, ceiling where there is one, the joists themselves.

    Parameters
    ----------
    deck, below, joists : Deck, Below, Joists
        What was found [-].
    timber : StrengthClass
        For the density of the joists [-].

    Returns
    -------
    tuple
        Name and weight of each [Pa].
    """
    d = measured(deck.thickness_mm / MM, "m", "survey.deck.thickness_mm")
    b = measured(joists.width_mm / MM, "m", "survey.joists.width_mm")
    h = measured(joists.depth_mm / MM, "m", "survey.joists.depth_mm")
    s = measured(joists.spacing_mm / MM, "m", "survey.joists.spacing_mm")
    board = layer_mass.show(
        measured(below.ceiling_mm / MM, "m", "survey.below.ceiling_mm"),
        dead_loads.PLASTERBOARD_KG_M3,
    )
    ceiling = (("ceiling", weight.show(board)),) if below.ceiling_mm else ()
    return (
        ("deck", weight.show(layer_mass.show(d, dead_loads.DECK_KG_M3[deck.kind]))),
        *ceiling,
        ("joists", weight.show(timber_mass.show(b, h, s, timber.rho_mean))),
    )


def quilt(below: Below) -> tuple[Part, ...]:
    """Weigh the old quilt, wet or dry; nothing where there is none.

    Parameters
    ----------
    below : Below
        The void [mm].

    Returns
    -------
    tuple
        Name and weight [Pa].
    """
    if not below.quilt_mm:
        return ()
    d = measured(below.quilt_mm / MM, "m", "survey.below.quilt_mm")
    rho = dead_loads.QUILT_WET_KG_M3 if below.quilt_wet else dead_loads.QUILT_KG_M3
    return (("quilt", weight.show(layer_mass.show(d, rho))),)


def vcl(build: BuildUp) -> tuple[Part, ...]:
    """Weigh the vapour control layer, tonight's roof.

    Parameters
    ----------
    build : BuildUp
        The layers [-].

    Returns
    -------
    tuple
        Name and weight [Pa].
    """
    of = measured(build.vcl.mass_kg_m2, "kg/m2", build.vcl.name, build.basis)
    return (("VCL", weight.show(of)),)


def stack(build: BuildUp, chosen_mm: int) -> Working:
    """Weigh a pack of boards where it is laid down.

    Parameters
    ----------
    build : BuildUp
        The board [-].
    chosen_mm : int
        Insulation, all layers [mm].

    Returns
    -------
    Working
        Weight under the pack [Pa].
    """
    board = build.board
    one = max(build.boards(chosen_mm)) / MM * board.density_kg_m3 + board.facing_kg_m2
    mass_of = measured(one, "kg/m2", board.name, build.basis)
    return stack_weight.show(dead_loads.STACK_BOARDS, mass_of)
