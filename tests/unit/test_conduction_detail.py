"""Details that cannot be solved are refused by the name of the part."""

import math
from dataclasses import replace

import pytest

from evenfall.calc.physics.conduction import Box, Detail, Surround, solve, temperature_factor
from evenfall.errors import InvalidInput

BOARD = Box("board", (0.0, 0.0), (1.3, 0.12), 0.022)
INSIDE = Surround("inside", (0.0, -0.2), (1.3, 0.0), 20.0, 0.10)
OUTSIDE = Surround("outside", (0.0, 0.12), (1.3, 0.3), -3.0, 0.04)


@pytest.mark.parametrize("value", [0.0, -0.022, math.nan, math.inf])
def test_a_conductivity_without_sense_is_refused(value):
    with pytest.raises(InvalidInput, match=r"board: conductivity"):
        replace(BOARD, conductivity=value)


@pytest.mark.parametrize(
    ("lower", "upper"),
    [
        ((0.0, 0.12), (1.3, 0.12)),
        ((0.0, 0.12), (1.3, 0.0)),
        ((0.0, math.nan), (1.3, 0.12)),
        ((0.0,), (1.3,)),
        ((0.0, 0.0), (1.3, 0.12, 1.0)),
    ],
)
def test_a_part_without_a_size_is_refused(lower, upper):
    with pytest.raises(InvalidInput, match=r"board: "):
        replace(BOARD, lower=lower, upper=upper)


def test_a_negative_surface_resistance_is_refused():
    with pytest.raises(InvalidInput, match=r"inside: surface resistance"):
        replace(INSIDE, resistance=-0.1)


def test_a_temperature_that_is_no_number_is_refused():
    with pytest.raises(InvalidInput, match=r"inside: temperature"):
        replace(INSIDE, temperature=math.nan)


def test_a_detail_without_air_or_without_solid_is_refused():
    with pytest.raises(InvalidInput, match="no air"):
        Detail((BOARD,), ())
    with pytest.raises(InvalidInput, match="no solid"):
        Detail((), (INSIDE,))


def test_a_part_of_other_dimensions_is_refused():
    kerb = Box("kerb", (0.0, 0.12, 0.0), (0.1, 0.2, 0.1), 0.13)
    with pytest.raises(InvalidInput, match="kerb: 3 dimensions"):
        Detail((BOARD, kerb), (INSIDE,))


def test_a_solid_that_reaches_into_the_air_is_refused_with_both_names():
    with pytest.raises(InvalidInput, match=r"board: overlaps outside"):
        Detail((replace(BOARD, upper=(1.3, 0.121)),), (INSIDE, OUTSIDE))


def test_two_airs_in_one_place_are_refused_with_both_names():
    with pytest.raises(InvalidInput, match=r"inside: overlaps outside"):
        Detail((BOARD,), (INSIDE, replace(OUTSIDE, lower=(1.0, -0.1), upper=(1.2, 0.0))))


def test_one_name_with_two_temperatures_is_refused():
    with pytest.raises(InvalidInput, match=r"inside: .*one temperature"):
        Detail((BOARD,), (INSIDE, replace(OUTSIDE, name="inside")))


def test_one_name_may_have_two_surface_resistances():
    wall = replace(INSIDE, lower=(-0.2, 0.0), upper=(0.0, 0.12), resistance=0.13)
    assert Detail((BOARD,), (INSIDE, wall, OUTSIDE)).names == ("inside", "outside")


def test_a_box_that_later_ones_hide_is_refused():
    left = Box("left", (0.0, 0.0), (0.7, 0.12), 0.1)
    right = Box("right", (0.7, 0.0), (1.3, 0.12), 0.2)
    with pytest.raises(InvalidInput, match="board: wholly covered"):
        solve(Detail((BOARD, left, right), (INSIDE, OUTSIDE)))


def test_a_box_that_is_cut_off_from_every_air_is_refused():
    island = Box("island", (3.0, 0.0), (3.3, 0.12), 0.1)
    with pytest.raises(InvalidInput, match="island: has a part cut off"):
        solve(Detail((BOARD, island), (INSIDE, OUTSIDE)))


def test_boxes_that_meet_in_a_corner_only_are_not_joined():
    island = Box("island", (1.3, 0.12), (1.4, 0.2), 0.1)
    short = replace(OUTSIDE, upper=(1.2, 0.3))
    with pytest.raises(InvalidInput, match="island: has a part cut off"):
        solve(Detail((BOARD, island), (INSIDE, short)))


def test_an_air_that_touches_no_solid_is_refused():
    with pytest.raises(InvalidInput, match="outside: touches no solid"):
        solve(Detail((BOARD,), (INSIDE, replace(OUTSIDE, lower=(0.0, 0.2)))))


@pytest.mark.parametrize("accuracy", [0.0, 1.0, math.nan])
def test_an_accuracy_without_sense_is_refused(accuracy):
    with pytest.raises(InvalidInput, match="accuracy"):
        solve(Detail((BOARD,), (INSIDE, OUTSIDE)), accuracy=accuracy)


def test_lines_that_differ_by_rounding_are_one_line():
    upper = Box("upper", (0.0, 0.1 + 0.02), (1.3, 0.3), 0.05)
    outside = replace(OUTSIDE, lower=(0.0, 0.3), upper=(1.3, 0.4))
    found = solve(Detail((BOARD, upper), (INSIDE, outside)))
    R = 0.10 + 0.12 / 0.022 + 0.18 / 0.05 + 0.04
    assert found.flows["inside"].best == pytest.approx(23 / R * 1.3, rel=1e-9)


def test_a_detail_in_one_temperature_has_no_heat_and_no_factor():
    found = solve(Detail((BOARD,), (INSIDE, replace(OUTSIDE, temperature=20.0))))
    assert found.flows["inside"].best == pytest.approx(0, abs=1e-9)
    with pytest.raises(InvalidInput, match="warmer"):
        temperature_factor(found, "inside")


def test_the_factor_of_an_unknown_air_is_refused():
    found = solve(Detail((BOARD,), (INSIDE, OUTSIDE)))
    with pytest.raises(InvalidInput, match="attic"):
        temperature_factor(found, "attic")
    assert temperature_factor(found, "inside") == pytest.approx(
        1 - 0.10 / (0.14 + 0.12 / 0.022), rel=1e-9
    )
