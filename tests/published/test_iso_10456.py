"""ISO 10456:2007 design values: the whole table from memory; single rows against the reference."""

import math

import pytest

from evenfall.standards.iso_10456 import INSULATIONS, MATERIALS, SHEETS


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("plywood 500", (500, 0.13, 1600, 200, 70)),
        ("OSB", (650, 0.13, 1700, 50, 30)),
        ("gypsum plasterboard 900", (900, 0.25, 1000, 10, 4)),
        ("EPDM", (1150, 0.25, 1000, 6000, 6000)),
        ("bitumen felt or sheet", (1100, 0.23, 1000, 50000, 50000)),
        ("lead", (11300, 35, 130, math.inf, math.inf)),
        ("concrete reinforced 1 %", (2300, 2.3, 1000, 130, 80)),
    ],
)
def test_material_has_the_remembered_row(name, row):
    m = MATERIALS[name]
    assert (m.density, m.conductivity, m.heat_capacity, m.mu_dry, m.mu_wet) == row


def test_table_holds_every_material_once():
    assert (len(MATERIALS), len(INSULATIONS), len(SHEETS)) == (48, 12, 12)


def test_every_value_says_that_it_is_remembered():
    values = [m.conductivity for m in MATERIALS.values()] + list(SHEETS.values())
    values += [m.mu_dry for m in INSULATIONS.values()]
    assert {value.basis for value in values} == {"from memory"}


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("rigid PUR/PIR", (1400, 60, 60)),
        ("cork", (1560, 10, 5)),
        ("cellular glass", (1000, math.inf, math.inf)),
    ],
)
def test_insulation_has_the_remembered_row(name, row):
    m = INSULATIONS[name]
    assert (m.heat_capacity, m.mu_dry, m.mu_wet) == row


@pytest.mark.parametrize(
    ("name", "s_d"), [("polyethylene 0.15 mm", 50), ("breather membrane", 0.2)]
)
def test_sheet_has_the_remembered_vapour_resistance(name, s_d):
    assert SHEETS[name] == s_d
