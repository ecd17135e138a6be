"""Bays: they tile the deck, spare every kerb, and each closes in its day."""

from __future__ import annotations

from math import dist

import pytest
from tests.unit import programme_roofs as roofs
from tests.unit.plans import plan

from evenfall.calc.geometry.polygon import area
from evenfall.stages.programme.bays import banded, cut, zones
from evenfall.stages.programme.slices import between, common, deck, rates, slice_along

UPSIDE_DOWN_U = (
    (0.0, 0.0), (2.1, 0.0), (2.1, 2.3), (5.2, 2.3), (5.2, 0.0), (7.4, 0.0), (7.4, 4.6), (0.0, 4.6),
)  # fmt: skip
U = ((0.0, 0.0), (7.4, 0.0), (7.4, 4.6), (5.2, 4.6), (5.2, 2.2), (2.1, 2.2), (2.1, 4.6), (0.0, 4.6))
ACROSS, ALONG = (0.0, -1.0), (1.0, 0.0)


def hours(part):
    """One hour for a square metre, half an hour for a metre of edge, and the night joint."""
    return (
        part.gross + 0.5 * sum(part.edges) + 2.0 * len(part.openings)
        + 1.1 * part.nights + 0.25 * part.night_m
    )  # fmt: skip


def cuts(of, room, ways=(ACROSS,), set_up=99.0):
    return cut(of, ways, rates(of, hours), set_up, room)


def eight(ring):
    return plan(ring, ("eaves", *["wall"] * 7), (0.0,) * 8)


def test_the_whole_roof_is_one_bay_where_a_day_is_long_enough():
    found = cuts(roofs.letter_l(), 99.0)
    assert [c.bay.ring for c in found.cut] == [roofs.letter_l().deck]
    assert found.cut[0].bay.night_line is None


def test_hours_before_the_end_of_a_slice_are_those_of_the_whole_deck():
    light = roofs.opening("rooflight", "light", 1.2, 3.1, 0.9, 1.3)
    of = roofs.letter_l((light,))
    sliced = slice_along(deck(of), (0.6, -0.8), rates(of, hours))
    assert sliced.work[-1] == pytest.approx(hours(deck(of).part()))
    assert list(sliced.work) == sorted(sliced.work)


def test_bays_begin_at_the_high_end():
    found = cuts(roofs.oblong(6.2, 4.1), 14.0)
    heights = [min(y for _, y in c.bay.ring) for c in found.cut]
    assert len(heights) > 2
    assert heights == sorted(heights, reverse=True)


def test_each_bay_closes_in_its_day():
    found = cuts(roofs.letter_l(), 15.0)
    assert found.short is None
    assert max(hours(c.part) for c in found.cut) <= 15.0


def test_no_fewer_bays_would_do():
    of = roofs.oblong(6.2, 4.1)
    assert len(cuts(of, 18.0).cut) == 3
    assert hours(deck(of).part()) > 2 * 18.0 - 2 * (1.1 + 0.25 * 6.2)


def test_bays_are_evened_out():
    sizes = [c.bay.area_m2 for c in cuts(roofs.oblong(6.2, 9.7), 24.0).cut]
    assert max(sizes) < 1.35 * min(sizes)


def test_bays_tile_the_deck():
    of = roofs.letter_l()
    for room in (8.0, 11.0, 19.0):
        found = cuts(of, room, (ACROSS, ALONG))
        assert sum(area(c.bay.ring) for c in found.cut) == pytest.approx(of.gross.value)
        edges = [sum(m) for m in zip(*(c.part.edges for c in found.cut), strict=True)]
        assert edges == pytest.approx([s.length_m for s in of.sides])


def test_a_night_line_spares_a_rooflight_by_the_width_of_its_lap():
    light = roofs.opening("rooflight", "light", 2.0, 1.35, 1.2, 1.1)
    found = cuts(roofs.oblong(6.2, 4.1, openings=(light,)), 17.0)
    at = [c.bay.night_line[0][1] for c in found.cut if c.bay.night_line]
    assert at
    assert not any(1.35 - 0.15 + 1e-6 < y < 2.45 + 0.15 - 1e-6 for y in at)
    assert sum(len(c.part.openings) for c in found.cut) == 1


def test_the_night_line_of_an_l_is_as_long_as_the_deck_is_wide_there():
    found = cuts(roofs.letter_l(), 15.0)
    for c in found.cut[:-1]:
        y = c.bay.night_line[0][1]
        assert c.bay.night_m == pytest.approx(3.1 if y > 2.9 else 7.3)


def test_a_roof_that_falls_apart_at_a_cut_gives_two_bays_of_one_band():
    found = cuts(eight(U), 20.0)
    assert [c.band for c in found.cut][:2] == [0, 0]
    left, right = found.cut[0].bay, found.cut[1].bay
    assert {round(left.night_m, 6), round(right.night_m, 6)} == {2.1, 2.2}


def test_a_piece_over_two_legs_meets_felt_on_both():
    of = eight(UPSIDE_DOWN_U)
    sliced = slice_along(deck(of), ACROSS, rates(of, hours))
    top, *rest = between(sliced, 0, 31)  # 3.1 m from the top, 1.5 from the feet
    assert not rest
    assert sorted(round(dist(*line), 6) for line in top.nights) == [2.1, 2.2]
    assert top.part().night_m == pytest.approx(4.3)


def test_an_edge_of_the_deck_on_the_line_of_a_cut_is_no_night_line():
    """The foot of the notch lies on the cut: only the legs below it go on."""
    of = eight(UPSIDE_DOWN_U)
    sliced = slice_along(deck(of), ACROSS, rates(of, hours))
    top = between(sliced, 0, 23)[0]
    assert top.part().night_m == pytest.approx(4.3)
    assert top.part().edges[2] == pytest.approx(3.1)


def test_a_band_too_long_for_a_day_is_cut_the_other_way():
    found = cuts(roofs.oblong(11.3, 3.9), 8.5)
    assert found.short is None
    assert len({c.band for c in found.cut}) < len(found.cut)
    assert max(hours(c.part) for c in found.cut) <= 8.5


def test_along_the_fall_is_tried_before_bands_are_cut_again():
    found = cuts(roofs.oblong(11.3, 3.9), 8.5, (ACROSS, ALONG))
    assert len({c.band for c in found.cut}) == len(found.cut)


def test_bands_of_several_bays_are_fewer_than_straight_ones_past_a_kerb():
    """A light in the foot keeps some straight cuts away: two bays side by side pass it."""
    of = roofs.letter_l((roofs.opening("rooflight", "light", 1.2, 0.9, 1.1, 0.9),))
    straight = cuts(of, 20.0, (ALONG,))
    (fewest,) = banded(of, (ALONG,), rates(of, hours), 99.0, 20.0, len(straight.cut))
    assert (len(straight.cut), len(fewest.cut)) == (4, 3)
    assert max(hours(c.part) for c in fewest.cut) <= 20.0
    assert sum(area(c.bay.ring) for c in fewest.cut) == pytest.approx(of.gross.value)


def test_no_bands_are_made_of_more_bays_than_are_asked_for():
    of = roofs.letter_l()
    assert not list(banded(of, (ACROSS, ALONG), rates(of, hours), 99.0, 15.0, 2))


def test_where_nothing_closes_the_hours_wanted_and_there_are_told():
    wanted, there, _ = cuts(roofs.oblong(6.2, 4.1), 2.1).short
    assert wanted > there == 2.1


def test_the_first_bay_leaves_time_for_the_set_up_if_that_costs_no_bay():
    of = roofs.oblong(6.2, 4.1)
    found = cuts(of, 18.0, set_up=4.0)
    assert hours(found.cut[0].part) <= 18.0 - 4.0
    assert len(found.cut) == len(cuts(of, 18.0).cut)


def test_zones_are_whole_bands():
    assert zones((0, 0, 1, 1, 2), (3.0, 3.0, 4.0, 4.0, 7.0), 3) == ((1, 2), (3, 4), (5,))
    assert zones((0, 0, 0, 1), (3.0, 3.0, 3.0, 1.0), 2) == ((1, 2, 3), (4,))


def test_a_line_that_only_touches_a_ring_has_nothing_in_common_with_it():
    assert list(common(((0, 0), (4, 0), (4, 3), (0, 3)), ((4.0, 3.0), (4.0, 5.0)))) == []
