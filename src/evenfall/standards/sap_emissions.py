"""SAP 10.2 Table 12: carbon dioxide of heat from mains gas. Remembered, not read."""

from __future__ import annotations

from evenfall.working import Cited

SOURCE = "SAP 10.2"

MAINS_GAS = Cited(
    0.210, "kg/kWh", SOURCE, "Table 12, mains gas, CO2 equivalents by fuel burnt", "from memory"
)
BOILER = Cited(
    0.9, "-", "heating practice", "useful heat of the gas burnt, condensing boiler", "planning seed"
)
