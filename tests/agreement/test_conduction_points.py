"""Points in three dimensions beside the corrections of ISO 6946, and the lines of the picture."""

import math
from dataclasses import replace

import numpy as np
import pytest

from evenfall.calc.physics.conduction import Box, Detail, Surround, flow_lines, isotherms, solve
from evenfall.calc.physics.conduction.kerb import Kerb, chi_of_kerb_corner, kerb_detail, psi_of_kerb
from evenfall.calc.physics.conduction.points import Screw, Sheet, chi_of_screw
from evenfall.calc.physics.corrections import fastener_correction
from evenfall.errors import InvalidInput

STEEL = math.pi / 4 * 0.0048**2
LAYERS = (
    Sheet("plasterboard", 0.0125, 0.25),
    Sheet("deck", 0.018, 0.13),
    Sheet("board", 0.120, 0.022),
    Sheet("sheet", 0.005, 0.17),
)
R_T = 0.14 + sum(s.thickness / s.conductivity for s in LAYERS)
BOARD = 0.120 / 0.022
THROUGH = Screw(STEEL, 50.0, top=0.1505, tip=0.0125)
RECESSED = replace(THROUGH, top=0.0305 + 0.070, tube_side=0.012, tube_conductivity=0.1)


def annex(d1):
    """One fastener per square metre by ISO 6946, so that the correction is its chi."""
    return fastener_correction(1, 50, STEEL, 0.12, d1, BOARD * d1 / 0.12, R_T)


METAL_DECK = (Sheet("steel deck", 0.0007, 50.0), *LAYERS[2:])
R_METAL = 0.14 + sum(s.thickness / s.conductivity for s in METAL_DECK)
PLATED = Screw(STEEL, 50.0, top=0.1207, tip=0.0, plate_side=0.04, plate_thickness=0.001)


def test_a_screw_from_plate_to_metal_deck_loses_what_the_correction_of_iso_6946_says():
    """Good contact at both ends is what the factor 0.8 of the approximate form stands for."""
    chi = chi_of_screw(METAL_DECK, PLATED, 0.10, 0.04, accuracy=0.01)
    one = fastener_correction(1, 50, STEEL, 0.12, 0.12, BOARD, R_METAL)
    assert chi.best == pytest.approx(one, rel=0.1)


def test_the_correction_is_on_the_safe_side_for_a_bare_screw_into_a_timber_deck():
    """Timber passes little heat to the tip."""
    chi = chi_of_screw(LAYERS, THROUGH, 0.10, 0.04, accuracy=0.01)
    assert 0.2 * annex(0.12) < chi.low < chi.high < annex(0.12)


@pytest.mark.long
def test_a_recessed_screw_loses_less_than_one_all_through_and_than_either_edition_says():
    full = chi_of_screw(LAYERS, THROUGH, 0.10, 0.04, accuracy=0.01)
    part = chi_of_screw(LAYERS, RECESSED, 0.10, 0.04, accuracy=0.01)
    assert 0 < part.high < full.low
    assert part.high < annex(0.07) * 0.07 / 0.12 < annex(0.07)


def test_a_screw_as_good_as_the_board_loses_nothing():
    board = Screw(STEEL, 0.022, top=0.1505, tip=0.0305)
    chi = chi_of_screw(LAYERS, board, 0.10, 0.04)
    assert chi.best == pytest.approx(0, abs=1e-9)


def test_a_screw_that_sticks_out_is_refused():
    with pytest.raises(InvalidInput, match="screw"):
        chi_of_screw(LAYERS, replace(THROUGH, top=0.2), 0.10, 0.04)


KERB = Kerb(LAYERS, 0.045, 0.13, 0.3, 2, 0.10, 0.13, 0.04)


@pytest.mark.long
def test_the_corner_of_a_kerb_takes_away_little_of_what_its_sides_lose():
    psi = psi_of_kerb(KERB, 1.0)
    chi = chi_of_kerb_corner(KERB, 1.0, psi.best, accuracy=0.02)
    assert psi.low > 0
    assert abs(chi.best) < psi.best * 0.3  # less than 30 cm of kerb


def test_a_kerb_below_the_roof_is_refused():
    with pytest.raises(InvalidInput, match="kerb"):
        kerb_detail(replace(KERB, height=0.15), 1.0)


WALL = Detail(
    (Box("wall", (0.0, 0.0), (0.2, 0.7), 0.77), Box("roof", (0.2, 0.5), (0.9, 0.7), 0.05)),
    (
        Surround("in", (0.2, 0.0), (0.9, 0.5), 20.0, 0.13),
        Surround("out", (-0.2, 0.0), (0.0, 0.7), 0.0, 0.04),
        Surround("out", (0.0, 0.7), (0.9, 0.9), 0.0, 0.04),
    ),
)


def test_the_temperature_on_an_isotherm_is_its_own():
    found = solve(WALL)
    for level, lines in isotherms(found, [4.0, 10.0, 15.5]).items():
        assert lines
        for x, y in (p for line in lines for p in line):
            assert _at(found, x, y) == pytest.approx(level, abs=1e-6)


def _at(found, x, y):
    i, j = (
        min(max(int(np.searchsorted(line, v)) - 1, 0), len(line) - 2)
        for line, v in zip(found.lines, (x, y), strict=True)
    )
    (x0, x1), (y0, y1) = (line[n : n + 2] for line, n in zip(found.lines, (i, j), strict=True))
    s, t = (x - x0) / (x1 - x0), (y - y0) / (y1 - y0)
    f = found.temperature
    corners = [f[i, j] * (1 - s) * (1 - t), f[i + 1, j] * s * (1 - t)]
    corners += [f[i, j + 1] * (1 - s) * t, f[i + 1, j + 1] * s * t]
    return sum(c for c in corners if not math.isnan(c))


def test_every_way_of_the_heat_runs_from_the_warm_air_to_the_cold_one():
    found = solve(WALL)
    ways = flow_lines(found, 12)
    assert len(ways) == 12
    for way in ways:
        (x0, y0), (x1, y1) = way[0], way[-1]
        assert math.isclose(x0, 0.2) or math.isclose(y0, 0.5)
        assert math.isclose(x1, 0.0, abs_tol=1e-9) or math.isclose(y1, 0.7)


def test_a_ring_of_equal_temperature_closes():
    warm = Surround("core", (0.4, 0.4), (0.6, 0.6), 20.0, 0.0)
    sides = (
        ((0.0, 0.0), (1.0, 0.4)), ((0.0, 0.6), (1.0, 1.0)),
        ((0.0, 0.4), (0.4, 0.6)), ((0.6, 0.4), (1.0, 0.6)),
    )  # fmt: skip
    boxes = tuple(Box(f"box {n}", lo, up, 1.0) for n, (lo, up) in enumerate(sides))
    around = (
        ((-1.0, 0.0), (0.0, 1.0)), ((1.0, 0.0), (2.0, 1.0)),
        ((0.0, -1.0), (1.0, 0.0)), ((0.0, 1.0), (1.0, 2.0)),
    )  # fmt: skip
    cold = tuple(Surround("out", lo, up, 0.0, 0.1) for lo, up in around)
    found = solve(Detail(boxes, (warm, *cold)), accuracy=0.02)
    (line,) = isotherms(found, [15.0])[15.0]
    assert line[0] == line[-1]
    assert all(0 < x < 1 and 0 < y < 1 for x, y in line)


def test_a_picture_of_three_dimensions_is_refused():
    block = Detail(
        (Box("b", (0.0, 0.0, 0.0), (1.0, 1.0, 1.0), 1.0),),
        (Surround("a", (0.0, 0.0, -1.0), (1.0, 1.0, 0.0), 20.0, 0.1),),
    )
    with pytest.raises(InvalidInput, match="section"):
        flow_lines(solve(block), 3)
