"""ISO 6946 (2007 and 2017): resistances, combined method, corrections.

Worked example of a timber-frame wall: inputs and section totals published in the Scottish
technical standards, appendix on U-value calculation, read in a public copy; results beyond the
section totals computed from them. Fasteners and plain roofs: computed by us from the formulas
(published, second-hand; from memory), not printed in any document.
"""

import math

import pytest

from evenfall.calc.physics.corrections import corrected, correction_fasteners, correction_gaps
from evenfall.calc.physics.transmittance import (
    Bridge,
    Layer,
    air_layer,
    combined_method,
    resistance,
    total_resistance,
    transmittance,
)
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_6946

PRINTED = 0.0005  # half of the last digit of three decimals

STUDS = Bridge("studs", 0.095, resistance=1.077)
WALL = (
    Layer("brick", resistance=0.132),
    Layer("air cavity", resistance=0.090),
    Layer("plywood", resistance=0.146),
    Layer("mineral wool", resistance=3.333, bridge=STUDS),
    Layer("plasterboard", resistance=0.100),
)

BASE = 0.10 + 0.04 + 0.0125 / 0.25 + 0.018 / 0.13 + 0.005 / 0.17
"""Surfaces, plasterboard, plywood and membranes of the plain roof."""

STEEL = math.pi / 4 * 0.0048**2
R_T_H = 5.812418757712876


@pytest.fixture(scope="module")
def wall():
    return combined_method(WALL, R_si=iso_6946.R_SI["horizontal"])


def test_sections_through_wool_and_studs_have_the_published_resistances(wall):
    assert wall.sections == (
        (pytest.approx(0.905), pytest.approx(3.971, abs=PRINTED)),
        (pytest.approx(0.095), pytest.approx(1.715, abs=PRINTED)),
    )


def test_upper_limit_of_the_wall(wall):
    assert wall.R_upper == pytest.approx(3.530, abs=PRINTED)


def test_lower_limit_of_the_wall(wall):
    assert wall.R_lower == pytest.approx(3.418, abs=PRINTED)


def test_bridged_layer_of_the_wall(wall):
    rest = 0.13 + 0.04 + 0.132 + 0.090 + 0.146 + 0.100
    assert wall.R_lower - rest == pytest.approx(2.780, abs=PRINTED)


def test_total_resistance_of_the_wall_is_the_mean(wall):
    found = wall.R_T
    assert found == pytest.approx(3.474, abs=PRINTED)


def test_relative_error_of_the_wall_is_half_the_gap_by_the_mean(wall):
    assert wall.error == pytest.approx((3.530 - 3.418) / (2 * 3.474), abs=PRINTED)


def test_transmittance_of_the_wall(wall):
    found = wall.U
    assert found == pytest.approx(0.288, abs=PRINTED)


def test_total_without_bridges_is_the_section_through_the_wool():
    total = total_resistance(WALL, R_si=iso_6946.R_SI["horizontal"])
    assert total.value == pytest.approx(3.971, abs=PRINTED)


def test_gaps_of_level_1_in_the_wool_use_the_wall_without_studs():
    assert correction_gaps(1, 3.333, 3.971).value == pytest.approx(0.00704, abs=0.000005)


def test_the_bridged_values_would_give_another_gap_correction():
    assert correction_gaps(1, 2.780, 3.474).value == pytest.approx(0.00640, abs=0.000005)


def test_gaps_of_the_wall_stay_below_3_per_cent_and_are_not_added(wall):
    gaps = correction_gaps(1, 3.333, 3.971)
    assert gaps.value / wall.U == pytest.approx(0.024, abs=PRINTED)
    assert corrected(wall.U, gaps).U_c == wall.U


@pytest.mark.parametrize(("level", "delta"), [(0, 0.00), (1, 0.01), (2, 0.04)])
def test_gap_levels(level, delta):
    assert correction_gaps(level, 2.5, 5.0).value == pytest.approx(delta / 4)


@pytest.mark.parametrize(("n_f", "delta"), [(4, 0.0212478), (6, 0.0318717), (8, 0.0424956)])
def test_fasteners_all_through_the_board(n_f, delta):
    found = correction_fasteners(n_f, 50, STEEL, 0.12, None, 0.12 / 0.022, R_T_H)
    assert found.value == pytest.approx(delta, abs=1e-7)


@pytest.mark.parametrize(("lambda_f", "delta"), [(50, 0.0108452), (17, 0.0036874)])
def test_recessed_fasteners_have_the_length_inside_in_the_denominator(lambda_f, delta):
    found = correction_fasteners(6, lambda_f, STEEL, 0.12, 0.07, 0.07 / 0.022, R_T_H)
    assert found.value == pytest.approx(delta, abs=1e-7)


@pytest.mark.parametrize(("lambda_f", "less"), [(50, 0.0063264), (17, 0.0021510)])
def test_the_other_edition_would_correct_less(lambda_f, less):
    found = correction_fasteners(6, lambda_f, STEEL, 0.12, 0.07, 0.07 / 0.022, R_T_H)
    assert found.value * 0.07 / 0.12 == pytest.approx(less, abs=1e-7)


def test_roof_of_the_fasteners_without_them():
    board = Layer("rigid insulation", 0.120, 0.022)
    rest = Layer("base", resistance=BASE - 0.14)
    total = total_resistance([board, rest])
    assert total.value == pytest.approx(R_T_H, rel=1e-14)
    assert transmittance(total.value) == pytest.approx(0.172045415, abs=5e-10)


WARM_DECKS = {
    0.022: (0.2504, 0.2248, 0.2039, 0.1866, 0.1720, 0.1596, 0.1488, 0.1394),
    0.025: (0.2811, 0.2527, 0.2295, 0.2102, 0.1939, 0.1799, 0.1678, 0.1573),
    0.026: (0.2911, 0.2618, 0.2379, 0.2179, 0.2011, 0.1866, 0.1741, 0.1632),
}
CELLS = [
    (lambda_, 80 + 10 * i, U) for lambda_, row in WARM_DECKS.items() for i, U in enumerate(row)
]


@pytest.mark.parametrize(("lambda_", "thickness_mm", "U"), CELLS)
def test_plain_warm_deck(lambda_, thickness_mm, U):
    roof = (
        Layer("membranes", 0.005, 0.17),
        Layer("rigid insulation", thickness_mm / 1000, lambda_),
        Layer("plywood", 0.018, 0.13),
        Layer("plasterboard", 0.0125, 0.25),
    )
    assert transmittance(total_resistance(roof).value) == pytest.approx(U, abs=0.00005)


@pytest.mark.parametrize(
    ("thickness_mm", "direction", "R"),
    [
        (5, "upwards", 0.11),
        (15, "horizontal", 0.17),
        (25, "downwards", 0.19),
        (50, "downwards", 0.21),
        (300, "upwards", 0.16),
        (300, "downwards", 0.23),
    ],
)
def test_air_layers_of_the_table(thickness_mm, direction, R):
    found = air_layer("void", thickness_mm / 1000, direction).R
    assert found == pytest.approx(R, abs=1e-12)


def test_air_layer_between_two_lines_is_read_on_the_straight_line():
    found = air_layer("void", 0.008, "horizontal").R
    assert found == pytest.approx(0.13 + 0.02 / 3)


def test_air_layer_tells_that_it_is_remembered():
    assert air_layer("void", 0.05).basis == "from memory"


@pytest.mark.parametrize("thickness", [0.0049, 0.301])
def test_air_layer_beyond_the_table_is_refused(thickness):
    with pytest.raises(OutOfScope, match="air layer"):
        air_layer("void", thickness)


def test_fasteners_with_metal_at_both_ends_are_refused():
    with pytest.raises(OutOfScope, match="metal at both ends"):
        correction_fasteners(6, 50, STEEL, 0.12, None, 5.4, 5.8, metal_at_both_ends=True)


def test_fastener_longer_than_the_board_is_refused():
    with pytest.raises(OutOfScope, match="d1"):
        correction_fasteners(6, 50, STEEL, 0.12, 0.13, 5.4, 5.8)


def test_insulation_that_resists_more_than_the_whole_roof_is_refused():
    with pytest.raises(InvalidInput, match="R_T,h"):
        correction_gaps(1, 5.9, 5.8)


def test_unknown_gap_level_is_refused():
    with pytest.raises(InvalidInput, match="level 3"):
        correction_gaps(3, 5.4, 5.8)


def test_corrections_at_3_per_cent_are_added():
    assert corrected(0.2, 0.004, 0.002).U_c == pytest.approx(0.206)


def test_corrections_just_below_3_per_cent_are_left_out():
    assert corrected(0.2, 0.0039, 0.002).U_c == 0.2


def test_negative_correction_is_refused():
    with pytest.raises(InvalidInput, match="corrections"):
        corrected(0.2, -0.01)


def test_joists_that_cross_two_layers_in_the_same_place_make_two_sections():
    joists = Bridge("joists", 0.1, conductivity=0.13)
    roof = (Layer("quilt", 0.1, 0.04, bridge=joists), Layer("void", 0.05, 0.3, bridge=joists))
    shares = [share for share, _ in combined_method(roof).sections]
    assert shares == pytest.approx([0.9, 0.1])


def test_bridges_of_two_names_cross_each_other():
    roof = (
        Layer("quilt", 0.1, 0.04, bridge=Bridge("joists", 0.1, conductivity=0.13)),
        Layer("battened", 0.05, 0.04, bridge=Bridge("battens", 0.2, conductivity=0.13)),
    )
    shares = [share for share, _ in combined_method(roof).sections]
    assert shares == pytest.approx([0.72, 0.18, 0.08, 0.02])


def test_one_bridge_with_two_fractions_is_refused():
    roof = (
        Layer("quilt", 0.1, 0.04, bridge=Bridge("joists", 0.1, conductivity=0.13)),
        Layer("void", 0.05, 0.3, bridge=Bridge("joists", 0.2, conductivity=0.13)),
    )
    with pytest.raises(InvalidInput, match="joists"):
        combined_method(roof)


def test_combined_method_is_refused_where_metal_crosses_the_insulation():
    steel = Bridge("steel", 0.01, conductivity=50)
    with pytest.raises(OutOfScope, match=r"R_upper / R_lower"):
        combined_method([Layer("quilt", 0.2, 0.04, bridge=steel)])


@pytest.mark.parametrize(
    "wrong",
    [
        {"conductivity": 0.022, "resistance": 5.0},
        {},
        {"conductivity": 0.0},
        {"conductivity": -0.022},
        {"resistance": -1.0},
        {"conductivity": 0.022, "thickness": -0.12},
        {"conductivity": 0.022, "s_d": math.nan},
    ],
)
def test_layer_without_sense_is_refused_by_its_name(wrong):
    with pytest.raises(InvalidInput, match="board"):
        Layer("board", **wrong)


@pytest.mark.parametrize("fraction", [0.0, 1.0, -0.1])
def test_bridge_without_sense_is_refused(fraction):
    with pytest.raises(InvalidInput, match="fraction"):
        Bridge("joists", fraction, conductivity=0.13)


def test_working_of_the_total_carries_the_weakest_basis_of_its_layers():
    board = Layer("board", 0.12, 0.022, basis="demo")
    assert total_resistance([board]).basis == "demo"


def test_working_of_the_total_names_each_layer():
    board, deck = Layer("board", 0.12, 0.022), Layer("deck", 0.018, 0.13)
    line = "R_T = R_se + board + deck + R_si = 0.04 + 5.455 + 0.1385 + 0.1 = 5.733 m2K/W"
    assert total_resistance([board, deck]).line == line


def test_resistance_of_a_plain_layer_shows_its_numbers():
    assert resistance.show(0.12, 0.022).line == "R = d / lambda_ = 0.12 / 0.022 = 5.455 m2K/W"
