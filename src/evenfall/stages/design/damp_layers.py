"""The finished roof as water over time sees it: what holds, and what only resists."""

from __future__ import annotations

from functools import cache

from evenfall.calc.physics.transient.materials import (
    Array,
    Material,
    cups,
    stored,
    tabulated,
    wood_equilibrium,
)
from evenfall.calc.physics.transient.section import Section, Sheet, Slab, even, surface
from evenfall.calc.physics.transmittance import Layer
from evenfall.model.choice import BuildUp
from evenfall.model.job import Below, Deck, Joists
from evenfall.stages.design import layering
from evenfall.standards import en_15026, iso_13788, wood_moisture
from evenfall.standards.iso_10456 import INSULATIONS, MATERIALS

CELLS = {"overlay board": 2, "insulation": 4, "deck": 6, "quilt": 3, "ceiling": 2}
"""Cells of each layer that holds water; four times as many in the deck move 20 days by 0.2."""

DECK = "deck"


def section(
    chosen_mm: int, build: BuildUp, deck: Deck, below: Below, joists: Joists
) -> tuple[Section, float]:
    """Cut the finished roof, between two joists, into cells.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    deck, below, joists : Deck, Below, Joists
        What stays [-].

    Returns
    -------
    Section
        The cells [-].
    float
        Density of the dry deck [kg/m3].
    """
    slabs: list[Slab] = []
    between: list[tuple[Sheet, ...]] = [(surface("outside", iso_13788.R_SE),)]
    for layer in layering.finished(build, chosen_mm, deck, below, joists):
        if layer.name not in CELLS:
            between[-1] += (Sheet(layer.name, float(layer.R), float(layer.s_d)),)
            continue
        material = _material(layer, deck.kind, float(build.board.mu))
        face = build.layers * build.board.facing_sd_m if layer.name == "insulation" else 0.0
        sheet = (Sheet("facing", 0.0, face),) if face else ()
        between[-1] += sheet
        slabs.append(Slab(layer.name, material, even(float(layer.thickness), CELLS[layer.name])))
        between.append(sheet)
    between[-1] += (surface("inside", iso_13788.R_SI_UPWARDS),)
    return Section(tuple(slabs), tuple(between)), _density(deck.kind)


def _density(kind: str) -> float:
    if kind in layering.DECK_MATERIAL:
        return float(MATERIALS[layering.DECK_MATERIAL[kind]].density)
    return float(wood_moisture.HOLDS["slab"].density)


def _material(layer: Layer, kind: str, board_mu: float) -> Material:
    conductivity = float(layer.conductivity or 0.0)
    if layer.name == "overlay board":
        return _wood("plywood 500")
    if layer.name == DECK and kind in layering.DECK_MATERIAL:
        return _wood(layering.DECK_MATERIAL[kind])
    if layer.name == DECK:
        mu = float(layer.s_d / layer.thickness)
        return _holding("slab", conductivity, mu, mu)
    if layer.name == "insulation":
        return _holding("foam", conductivity, board_mu, board_mu)
    if layer.name == "quilt":
        wool = INSULATIONS["mineral wool"]
        return _holding("quilt", conductivity, float(wool.mu_dry), float(wool.mu_wet))
    board = MATERIALS[layering.CEILING]
    return _holding("plasterboard", conductivity, float(board.mu_dry), float(board.mu_wet))


@cache
def _wood(name: str) -> Material:
    """Solid wood, or a board that holds a share of what wood holds."""
    known = MATERIALS[name]
    solid = name.startswith("timber")
    share = 1.0 if solid else float(wood_moisture.PANEL_SHARE)
    density = float(known.density)
    at = wood_moisture.coefficients(float(en_15026.THETA_REFERENCE))

    def held(phi: Array) -> Array:
        return share * density * wood_equilibrium(phi, *at)

    return tabulated(
        name, density * float(known.heat_capacity), (float(known.conductivity), 0.0), held,
        cups(float(known.mu_dry), float(known.mu_wet)),
    )  # fmt: skip


@cache
def _holding(what: str, conductivity: float, mu_dry: float, mu_wet: float) -> Material:
    holds = wood_moisture.HOLDS[what]

    def held(phi: Array) -> Array:
        return stored(phi, float(holds.w_free), float(holds.w_80))

    return tabulated(
        what, holds.density * holds.heat, (conductivity, 0.0), held, cups(mu_dry, mu_wet)
    )
