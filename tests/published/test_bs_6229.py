"""BS 6229, clause 4.7: the winter spell that a warm roof is checked against.

Temperature and days published, second-hand (a supplier's note); humidity of the air and the limit
from memory. The water is checked by hand (computed), with the formula of one plane.
"""

import pytest

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.psychrometrics import saturation_pressure, vapour_pressure
from evenfall.calc.physics.spells import gathered, margins, months_to_dry
from evenfall.errors import InvalidInput
from evenfall.standards import bs_6229

P_E = vapour_pressure(-5.0, 0.9)
P_I = P_E + 810
SPELL = Month("spell", 60, -5.0, P_E, 20.0, P_I)
LOOSE = (("sheet", 0.0048, 60.0), ("board", 0.12 / 0.022, 7.2), ("ply", 0.14, 2.7))


def test_the_spell_is_sixty_days_at_five_below():
    assert (float(bs_6229.SPELL_C), float(bs_6229.SPELL_DAYS)) == (-5, 60)


def test_the_water_of_the_spell_is_that_of_the_hand():
    R_T = 0.04 + 0.0048 + 0.12 / 0.022 + 0.14 + 0.10
    p_c = saturation_pressure(-5 + 25 * 0.0448 / R_T)
    flow = 2e-10 * ((P_I - p_c) / 9.9 - (p_c - P_E) / 60)
    assert gathered(LOOSE, SPELL) == pytest.approx(flow * 60 * 86400, rel=1e-9)
    assert 0.05 < gathered(LOOSE, SPELL) < float(bs_6229.SPELL_LIMIT)


def test_a_tight_vcl_lets_nothing_gather():
    assert gathered((*LOOSE[:2], ("VCL", 0.0, 1500.0), LOOSE[2]), SPELL) == 0


def test_where_water_gathers_no_margin_is_left():
    (margin,) = margins(LOOSE, [SPELL])
    assert margin.where == "sheet | board"
    assert margin.left == pytest.approx(0, abs=1e-9)


def test_water_shut_into_a_layer_leaves_the_faster_the_looser_its_inside():
    year = [Month("M", 30, 10.0, 900.0, 20.0, 1200.0)] * 12
    quick, slow = (
        months_to_dry((("sheet", 0, 60), ("deck", 0.14, 1.0), ("ceiling", 0.05, s)), year, "deck")
        for s in (0.1, 2.0)
    )
    assert quick < slow
    shut = (("sheet", 0, 60), ("deck", 0.14, 1.0), ("foil", 0.0, 1500.0))
    assert months_to_dry(shut, year, "deck") is None


def test_an_unknown_layer_is_refused_by_name():
    with pytest.raises(InvalidInput, match="straw"):
        months_to_dry(LOOSE, [SPELL] * 12, "straw")
