"""Timber joists by EN 1995-1-1, EN 338 and the older span tables.

TIMBER-1: Benoit, Legrand, Tastet, "Calcul de structures en bois" (2008), example 2.3.1 (published).
SPAN-1: published, second-hand. SPAN-2: Approved Document A (1992) Table A17, from memory, confirmed
by re-derivation. 4.5: computed with general-purpose open-source libraries. EN 338: published,
second-hand. Ponding: Marino 1966, from memory, values computed.
"""

import math

import pytest

from evenfall.calc.loads.beams import bending_deflection, end_rotation, moment, moment_of_point
from evenfall.calc.loads.joists import Joist, deflection, stresses
from evenfall.calc.loads.lateral_buckling import (
    buckling_length,
    critical_stress,
    lateral_factor,
    relative_slenderness,
)
from evenfall.calc.loads.ponding import amplification, ponding_factor, two_way_ponding
from evenfall.calc.loads.sections import (
    second_moment,
    section_modulus,
    self_weight,
    shear_area,
    torsion_constant,
)
from evenfall.calc.loads.span_tables import span
from evenfall.calc.loads.timber import (
    bearing_area,
    depth_factor,
    design_strength,
    final_deflection,
    shear_stress,
    strength_class,
)
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import bs_5268, en_1990
from evenfall.standards import en_1995_1_1 as en


def printed(value, digits):
    return pytest.approx(value, abs=0.5001 * 10**-digits)


# --- 4.1 classes and factors -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "n_mm2", "densities"),
    [
        ("C16", (16, 8.5, 17, 2.2, 3.2, 8000, 5400, 270, 500), (310, 370)),
        ("C24", (24, 14.5, 21, 2.5, 4.0, 11000, 7400, 370, 690), (350, 420)),
    ],
)
def test_strength_classes(name, n_mm2, densities):
    c = strength_class(name)
    strengths = (c.f_m_k, c.f_t_0_k, c.f_c_0_k, c.f_c_90_k, c.f_v_k)
    moduli = (c.E_0_mean, c.E_05, c.E_90_mean, c.G_mean)
    assert [float(v) / 1e6 for v in strengths + moduli] == pytest.approx(n_mm2)
    assert (c.rho_k, c.rho_mean) == densities


def test_k_mod_and_k_def_keep_their_bases():
    assert [float(en.K_MOD[d]) for d in en.K_MOD] == [0.6, 0.7, 0.8, 0.9, 1.1]
    assert [float(en.K_DEF[c]) for c in (1, 2, 3)] == [0.6, 0.8, 2.0]
    assert en.K_MOD["medium"].basis == "published, second-hand"
    assert en.K_MOD["permanent"].basis == "from memory"


@pytest.mark.parametrize(
    ("h", "expected"), [(0.150, 1.0), (0.220, 1.0), (0.097, (150 / 97) ** 0.2), (0.030, 1.3)]
)
def test_depth_factor(h, expected):
    assert depth_factor(h) == pytest.approx(expected)


def test_bearing_counts_up_to_30_mm_further_on_each_free_side():
    assert bearing_area(0.047, 0.075) == pytest.approx(0.047 * 0.105)
    assert bearing_area(0.047, 0.075, sides=2) == pytest.approx(0.047 * 0.135)
    assert bearing_area(0.047, 0.020) == pytest.approx(0.047 * 0.040)


# --- 4.2 checks ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("slenderness", "expected"),
    [(0.75, 1.0), (0.7501, 0.997425), (1.0, 0.81), (1.4, 0.51), (1.4001, 1 / 1.4001**2)],
)
def test_lateral_factor_on_each_branch(slenderness, expected):
    assert lateral_factor(slenderness).value == pytest.approx(expected)


def test_lateral_buckling_of_a_slim_joist():
    """Computed, own case, not an authority: 47 × 195 mm, C24, free over 4 m, by hand."""
    l_ef = buckling_length(4.0, 0.195)
    sigma = critical_stress(0.047, 0.195, 7.4e9, l_ef)
    assert l_ef == pytest.approx(0.9 * 4.0 + 2 * 0.195)
    assert sigma == pytest.approx(0.78 * 0.047**2 * 7.4e9 / (0.195 * 3.99))
    assert relative_slenderness(24e6, sigma) == pytest.approx(math.sqrt(24e6 / sigma))


def test_a_free_compression_edge_weakens_the_joist():
    joist = Joist(0.047, 0.195, 4.0, 0.4, strength_class("C24"))
    held = stresses(joist, 900.0, en.K_MOD["short"], 0.075)
    free = stresses(joist, 900.0, en.K_MOD["short"], 0.075, free_length=4.0)
    assert free.bending.value == pytest.approx(
        held.bending.value / lateral_factor(1.2102).value, rel=1e-3
    )
    assert free.shear.value == held.shear.value


def test_cracks_widen_the_shear_stress():
    assert shear_stress(1000.0, 0.05, 0.2) == pytest.approx(1.5 * 1000 / (0.67 * 0.01))


def test_end_rotation_of_a_joist():
    assert end_rotation(750.0, 4.5, 11e9, 5e-5) == pytest.approx(750 * 4.5**3 / (24 * 11e9 * 5e-5))


def test_self_weight_per_metre():
    assert self_weight(0.047, 0.195, 420.0) == pytest.approx(0.047 * 0.195 * 420 * 9.81)


def test_combination_factors_of_the_published_uk_sheet():
    assert pytest.approx(0.75) == en_1990.GAMMA_Q * en_1990.PSI_0_SNOW
    assert pytest.approx(1.05) == en_1990.GAMMA_Q * en_1990.PSI_0_ROOF


# --- 4.3 TIMBER-1 ----------------------------------------------------------------------------


@pytest.fixture
def timber_1():
    return Joist(0.075, 0.200, 4.5, 0.5, strength_class("C24"))


W_ULS = (1.35 * 500.0 + 1.5 * 1500.0) * 0.5  # N/m


def test_timber_1_load_and_moment():
    assert pytest.approx(1462.5) == W_ULS
    assert moment(W_ULS, 4.5) == pytest.approx(3701.95, abs=0.005)


def test_timber_1_bending_utilisation(timber_1):
    found = stresses(timber_1, W_ULS, en.K_MOD["medium"], 0.075, en.K_SYS)
    assert found.bending.value == pytest.approx(0.4557328658, rel=1e-6)


@pytest.mark.parametrize(
    ("w", "mm"), [(750.0, 7.5010480), (1000.0, 10.0013973), (306.0, 3.0604276)]
)
def test_timber_1_deflection_with_shear(timber_1, w, mm):
    assert deflection(timber_1, w).value * 1000 == pytest.approx(mm, rel=1e-6)


def test_timber_1_creep_load_and_final_deflection(timber_1):
    """The source takes 0.57 kN/m2 of permanent load for creep, 0.5 for strength."""
    creep = en.K_DEF[1] * (570.0 + 0.3 * 1500.0) * 0.5
    assert creep == pytest.approx(306.0)
    final = deflection(timber_1, 1000.0).value + deflection(timber_1, creep).value
    assert final * 1000 == pytest.approx(13.0618, abs=0.00005)


def test_creep_by_its_formula_is_the_creep_load_at_once(timber_1):
    u_G, u_Q = deflection(timber_1, 285.0).value, deflection(timber_1, 750.0).value
    creep = final_deflection(u_G, u_Q, en.K_DEF[1], 0.3) - (u_G + u_Q)
    assert creep * 1000 == pytest.approx(3.0604276, rel=1e-6)


# --- 4.4 span tables -------------------------------------------------------------------------

SPAN_1 = {97: (1.84, 1.81, 1.74), 120: (2.43, 2.39, 2.27), 145: (3.08, 3.02, 2.87)}
REDERIVED_1 = {
    97: (1.847, 1.819, 1.746),
    120: (2.434, 2.392, 2.282),
    145: (3.089, 3.029, 2.875),
}
SPACINGS = (0.400, 0.450, 0.600)


@pytest.mark.parametrize("h_mm", SPAN_1)
@pytest.mark.parametrize("column", range(3))
def test_span_1(h_mm, column):
    """Dead load band 0.5 to 0.75 kN/m2 deduced by fit; density 370 kg/m3."""
    found = span(0.047, h_mm / 1000, SPACINGS[column], 750.0, 370.0)
    assert found == pytest.approx(SPAN_1[h_mm][column], rel=0.007)
    assert 0 <= REDERIVED_1[h_mm][column] - found < 0.0101


SPAN_2 = {
    (38, 97): ((1.74, 1.72, 1.67), (1.67, 1.64, 1.58), (1.61, 1.58, 1.51)),
    (38, 122): ((2.37, 2.34, 2.25), (2.25, 2.21, 2.11), (2.16, 2.11, 2.01)),
    (38, 147): ((3.02, 2.97, 2.85), (2.85, 2.80, 2.66), (2.72, 2.66, 2.51)),
    (47, 97): ((1.92, 1.90, 1.84), (1.84, 1.81, 1.74), (1.77, 1.74, 1.65)),
    (47, 122): ((2.60, 2.57, 2.47), (2.47, 2.43, 2.31), (2.37, 2.31, 2.19)),
    (47, 147): ((3.30, 3.25, 3.12), (3.12, 3.06, 2.90), (2.97, 2.90, 2.74)),
}


@pytest.mark.parametrize("joist", SPAN_2)
@pytest.mark.parametrize("band", range(3))
@pytest.mark.parametrize("column", range(3))
def test_span_2(joist, band, column):
    b_mm, h_mm = joist
    dead = (500.0, 750.0, 1000.0)[band]
    found = span(b_mm / 1000, h_mm / 1000, SPACINGS[column], dead, bs_5268.DENSITY_SC3)
    assert found == pytest.approx(SPAN_2[joist][band][column], rel=0.007)


# --- 4.5 independent programs ----------------------------------------------------------------


def test_moment_against_a_frame_program():
    assert moment(1000.0, 4.5) == pytest.approx(2531.25)


def test_deflection_against_an_exact_frame_program():
    assert bending_deflection(1000.0, 4.5, 11e9, 5e-5) * 1000 == pytest.approx(9.70792, abs=5e-6)


def test_deflection_against_a_frame_program_that_samples_along_the_member():
    assert bending_deflection(1000.0, 4.5, 11e9, 5e-5) * 1000 == pytest.approx(9.7067, rel=2e-4)


def test_section_against_a_section_program():
    assert second_moment(0.075, 0.200) == pytest.approx(5.0e-5)
    assert section_modulus(0.075, 0.200) == pytest.approx(5.0e-4)
    assert shear_area(0.075, 0.200) == pytest.approx(0.0125)
    assert torsion_constant(0.075, 0.200) == pytest.approx(2.148e-5, abs=0.0005e-5)


# --- 6.3 ponding -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("b", "h", "s", "L", "C_mean", "enlarged", "C_05"),
    [
        (0.047, 0.195, 0.4, 4.0, 0.03228, 1.0334, 0.0480),
        (0.047, 0.145, 0.6, 3.5, 0.06904, 1.0742, 0.1026),
        (0.047, 0.147, 0.4, 3.0, 0.02384, 1.0244, 0.0354),
    ],
)
def test_ponding_of_c24_joists(b, h, s, L, C_mean, enlarged, C_05):
    """Computed from Marino's formula (from memory)."""
    c24 = strength_class("C24")
    C = ponding_factor(s, L, c24.E_0_mean, second_moment(b, h))
    assert printed(C_mean, 5) == C
    assert amplification(C).value == printed(enlarged, 4)
    assert ponding_factor(s, L, c24.E_05, second_moment(b, h)) == printed(C_05, 4)


def test_ponding_reproduces_the_metric_constant_for_steel():
    """AISC prints 504 × s × L^4 / I with s and L in m and I in mm4, E = 200 GPa; 503.5 here."""
    assert ponding_factor(1.0, 1.0, 200e9, 1e-12) == pytest.approx(503.5, abs=0.05)


def test_two_way_ponding_figure():
    assert two_way_ponding(0.10, 0.15) == pytest.approx(0.235)
    assert en.PONDING_TWO_WAY == 0.25


# --- guards ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("call", "mistake"),
    [
        (lambda: strength_class("C99"), InvalidInput),
        (lambda: Joist(0.047, 0.0, 4.0, 0.4, strength_class("C16")), InvalidInput),
        (lambda: Joist(0.047, 0.195, float("inf"), 0.4, strength_class("C16")), InvalidInput),
        (lambda: amplification(1.0), OutOfScope),
        (lambda: amplification(-0.01), OutOfScope),
        (lambda: lateral_factor(0.0), InvalidInput),
        (lambda: span(0.0, 0.147, 0.4, 500.0, 540.0), InvalidInput),
    ],
)
def test_what_no_joist_can_be_is_refused(call, mistake):
    with pytest.raises(mistake):
        call()


def test_the_working_of_a_joist_says_that_it_is_remembered():
    joist = Joist(0.047, 0.195, 4.0, 0.4, strength_class("C16"))
    assert stresses(joist, 800.0, en.K_MOD["short"], 0.05).bending.basis == "from memory"
    assert design_strength.show(16e6, en.K_MOD["short"]).line.startswith("f_d = k_mod × k_sys")
    assert moment_of_point(900.0, 4.0) == 900.0
