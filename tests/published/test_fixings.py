"""Screws and adhesion of boards.

Least numbers: board makers' guides (common practice, indicative only), ID/1/2009 as remembered,
a merchant's page (published, second-hand). Method in the form of ETAG 006, from memory. The numbers
per board of 2.2 are computed, own case, not an authority.
"""

import pytest

from evenfall.calc.loads.fixings import (
    adjusted_test_load,
    bead_centres,
    bead_strength,
    bond_needed,
    design_resistance,
    embedment_mm,
    fixings_by_admissible,
    fixings_for_wind,
    fixings_per_board,
    least_fixings,
    least_screw_mm,
)
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import fixing_practice as practice


@pytest.mark.parametrize(
    ("area", "n_min", "expected"),
    [(2.88, 6, (6, 9, 13, 18)), (0.72, 4, (4, 4, 4, 5))],
)
def test_numbers_per_board_of_the_own_case(area, n_min, expected):
    """Computed, own case, not an authority: R_d = 400 N, gamma_Q = 1.5, exact integers."""
    suctions = (-460.0, -790.0, -1190.0, -1650.0)
    assert tuple(max(n_min, fixings_for_wind(w, area, 400.0)) for w in suctions) == expected


def by_source(length, width, thickness, adhered, perimeter=False):
    found = least_fixings(length, width, thickness, adhered, perimeter)
    return {n.source: int(n) for n in found}


@pytest.mark.parametrize(
    ("length", "width", "before_wind", "makers"),
    [(1200, 600, 4, 4), (1200, 1000, 5, 4), (1200, 1200, 5, 4), (2400, 1200, 6, 6)],
)
def test_lists_by_size_stand_side_by_side(length, width, before_wind, makers):
    found = by_source(length, width, 100, adhered=False)
    assert (found[practice.FIELD_LIST], found[practice.MAKERS]) == (before_wind, makers)


@pytest.mark.parametrize(
    ("thickness", "number"), [(30, 16), (40, 16), (41, 12), (50, 12), (51, 8), (100, 8), (140, 8)]
)
def test_adhered_sheet_asks_by_thickness(thickness, number):
    assert by_source(2400, 1200, thickness, adhered=True)[practice.MAKERS_ADHERED] == number


def test_membrane_guides_ask_more_at_the_perimeter():
    field = by_source(2440, 1220, 100, adhered=True)[practice.MEMBRANE]
    assert field == 8
    assert by_source(2440, 1220, 100, True, perimeter=True)[practice.MEMBRANE] == 16


def test_a_sheet_with_its_own_fixings_is_not_asked_for_the_adhered_number():
    assert practice.MAKERS_ADHERED not in by_source(2400, 1200, 40, adhered=False)


def test_a_small_board_takes_its_share_of_the_large_one():
    assert by_source(1200, 600, 40, adhered=True)[practice.MAKERS_ADHERED] == 5


@pytest.mark.parametrize(
    ("source", "basis"),
    [
        (practice.FIELD_LIST, "from memory"),
        (practice.MAKERS, "common practice"),
        (practice.MEMBRANE, "published, second-hand"),
        (practice.MAKERS_ADHERED, "common practice"),
    ],
)
def test_every_source_keeps_its_basis(source, basis):
    found = {n.source: n for n in least_fixings(2400, 1200, 50, adhered=True)}
    assert found[source].basis == basis


def test_the_largest_source_governs_a_calm_roof():
    found = fixings_per_board(
        fixings_for_wind.show(-300.0, 2.88, 400.0), least_fixings(2400, 1200, 50, adhered=True)
    )
    assert found.number == 12
    assert found.governs.startswith(practice.MAKERS_ADHERED)
    assert len(found.least) == 4


def test_wind_governs_an_exposed_corner():
    found = fixings_per_board(
        fixings_for_wind.show(-1650.0, 2.88, 400.0), least_fixings(2400, 1200, 120, adhered=True)
    )
    assert (found.number, found.governs) == (18, "wind")


def test_one_safety_format_is_stated_and_safety_is_not_taken_twice():
    """Trap: 1.5 × load against R_k/1.5, or the load against W_adm; never 1.5 × load on W_adm."""
    R_k = 600.0
    factored = fixings_for_wind(-1190.0, 2.88, design_resistance(R_k))
    admissible = fixings_by_admissible(-1190.0, 2.88, R_k / 1.5**2)
    assert factored == admissible == 13
    assert fixings_for_wind(-1190.0, 2.88, R_k / 1.5**2) > factored
    least = least_fixings(2400, 1200, 120, adhered=False)
    wind = fixings_for_wind.show(-1190.0, 2.88, design_resistance.show(R_k))
    assert "gamma_m" in fixings_per_board(wind, least).safety


def test_pressure_that_pushes_down_asks_for_no_screw():
    assert fixings_for_wind(230.0, 2.88, 400.0) == 0


def test_system_test_load_is_adjusted_before_the_partial_factor():
    assert design_resistance(adjusted_test_load(800.0, 0.9, 0.95)) == pytest.approx(456.0)


def test_deeper_embedment_governs_and_both_are_kept():
    assert embedment_mm("timber") == 30
    assert [float(e) for e in practice.EMBEDMENTS_MM["timber"]] == [25, 30]
    assert embedment_mm("steel") == 15
    assert least_screw_mm(121.2, embedment_mm()) == pytest.approx(151.2)


def test_screws_stand_50_to_150_mm_from_the_edges():
    assert (practice.EDGE_LEAST_MM, practice.EDGE_MOST_MM) == (50, 150)
    assert practice.EDGE_LEAST_MM.basis == "from memory"


def test_adhesion_needs_the_factored_corner_suction_everywhere():
    assert bond_needed(-1318.0) == pytest.approx(1977.0)
    assert "corner" in practice.ADHERED_SAYS


def test_beads_by_zone_and_their_strength():
    centres = [float(bead_centres(zone)) for zone in ("field", "perimeter", "corner")]
    assert centres == [0.300, 0.200, 0.150]
    assert bead_strength(2, 0.015, 80000.0, 0.600) == pytest.approx(4000.0)


@pytest.mark.parametrize(
    ("call", "mistake"),
    [
        (lambda: least_fixings(3000, 1200, 100, adhered=False), OutOfScope),
        (lambda: least_fixings(1200, 0, 100, adhered=False), InvalidInput),
        (lambda: embedment_mm("concrete"), OutOfScope),
        (lambda: bead_centres("ridge"), OutOfScope),
    ],
)
def test_boards_and_decks_that_no_source_lists_are_refused(call, mistake):
    with pytest.raises(mistake):
        call()


@pytest.mark.parametrize(
    ("boards", "taken"),
    [((90, 50), 12), ((100, 40), 16), ((80, 60), 8), ((60, 60), 8), ((25, 25), 16), ((140,), 8)],
)
def test_of_two_layers_the_upper_board_is_asked_as_well_and_the_larger_governs(boards, taken):
    """Common practice speaks of one board; the sheet pulls on the upper one of two."""
    upper = boards[-1] if len(boards) > 1 else None
    found = least_fixings(2400, 1200, sum(boards), adhered=True, upper_mm=upper)
    asked = [n for n in found if n.source == practice.MAKERS_ADHERED]
    assert (
        max(asked)
        == taken
        == fixings_per_board(fixings_for_wind.show(-100.0, 2.88, 400.0), found).number
    )
    if upper is not None:
        assert [f"({of}, {mm} mm)" in n.where for n, of, mm in zip(
            asked, ("both layers together", "the upper board"), (sum(boards), upper), strict=True
        )] == [True, True]  # fmt: skip


def test_an_upper_board_thicker_than_all_layers_is_refused():
    with pytest.raises(OutOfScope):
        least_fixings(2400, 1200, 100, adhered=True, upper_mm=120)
