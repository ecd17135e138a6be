"""Wood Handbook (USDA Forest Products Laboratory): moisture of wood in equilibrium with air.

Equation and table from memory; at 70 F (21.1 C) the remembered table and the remembered equation
confirm each other to the printed tenth.
"""

import pytest

from evenfall.calc.physics.transient.materials import wood_equilibrium
from evenfall.standards.wood_moisture import coefficients

TABLE_70_F = {
    0.30: 6.2, 0.40: 7.7, 0.50: 9.2, 0.60: 11.0, 0.70: 13.1, 0.80: 16.0, 0.90: 20.5, 0.95: 23.9,
}  # fmt: skip


@pytest.mark.parametrize(("phi", "percent"), TABLE_70_F.items())
def test_softwood_holds_what_the_table_says(phi, percent):
    found = 100 * float(wood_equilibrium(phi, *coefficients(21.1)))
    assert found == pytest.approx(percent, abs=0.06)


def test_the_fibres_are_full_near_28_per_cent():
    assert 0.27 < float(wood_equilibrium(1.0, *coefficients(20.0))) < 0.30
