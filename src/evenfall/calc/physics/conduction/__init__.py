"""Steady heat flow through any arrangement of boxes, in two or three dimensions (ISO 10211)."""

from evenfall.calc.physics.conduction.bracket import Bracket
from evenfall.calc.physics.conduction.detail import Box, Detail, Surround
from evenfall.calc.physics.conduction.picture import flow_lines, isotherms
from evenfall.calc.physics.conduction.results import (
    linear_transmittance,
    point_transmittance,
    temperature_factor,
    thermal_coupling,
)
from evenfall.calc.physics.conduction.solve import Solution, solve

__all__ = [
    "Box",
    "Bracket",
    "Detail",
    "Solution",
    "Surround",
    "flow_lines",
    "isotherms",
    "linear_transmittance",
    "point_transmittance",
    "solve",
    "temperature_factor",
    "thermal_coupling",
]
