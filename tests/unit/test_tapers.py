"""Tapered boards on the example roofs: pieces, corners, crickets, and what is added by place."""

from __future__ import annotations

import math

import pytest
from tests.unit import rooms

from evenfall.calc.geometry.polygon import area, contains

THIN_EDGE_MM = 30  # of the tapered boards in the demo price book
NAMES = ("garage", "rear-extension", "courtyard")


def tapered(name: str, **changes: object):
    return rooms.survey(rooms.changed(rooms.job(name), design__falls__kind="tapered", **changes))


@pytest.mark.parametrize("name", NAMES)
def test_the_pieces_cover_the_roof_without_what_is_cut_out_of_it(name):
    w = tapered(name)
    cut = sum(area(o.hole) for o in w.plan.openings if o.diameter_mm is None)
    assert sum(area(t.ring) for t in w.falls.tapers) == pytest.approx(
        area(w.plan.deck) - cut, abs=1e-4
    )
    assert {len(t.ring) for t in w.falls.tapers} <= {3, 4}


@pytest.mark.parametrize("name", NAMES)
def test_each_corner_of_a_piece_is_as_high_as_what_is_added_there(name):
    falls = tapered(name).falls
    for taper in falls.tapers:
        for corner, added in zip(taper.ring, taper.added_mm, strict=True):
            assert falls.added_at(corner) == pytest.approx(added, abs=0.01)
            assert added > -1e-6


def test_to_an_open_side_the_boards_begin_there_and_rise_evenly():
    w = tapered("garage", design__falls__one_in=40)
    side = w.plan.side("A-B")
    old, laid = (part[2] for part in w.falls.finished.of)
    assert laid == pytest.approx(1000 / 60, abs=1e-3)  # the gentlest in stock that gives 1:40
    assert laid > 25 - old
    for run in (0.0, 1.3, 4.9):
        at = side.place(side.length_m / 2, run)
        assert w.falls.added_at(at) == pytest.approx(THIN_EDGE_MM + run * laid, abs=0.01)


def test_before_a_parapet_the_boards_fall_from_all_sides_to_the_outlet():
    w = tapered("courtyard", design__falls__one_in=40)
    drain = next(o.centre for o in w.plan.openings if o.kind == "outlet")
    assert w.falls.added_at(drain) == pytest.approx(0, abs=0.01)
    for corner in w.plan.deck:
        assert w.falls.added_at(corner) > 5
    assert w.falls.ponds == ()
    old, new = w.levels.plane, w.falls
    for turn in range(8):  # a stride from the outlet it is higher, all round
        at = (drain[0] + 0.3 * math.cos(turn * math.pi / 4),
              drain[1] + 0.3 * math.sin(turn * math.pi / 4))  # fmt: skip
        if contains(w.plan.deck, at):
            rise = old.at(at) + new.added_at(at) - old.at(drain) - new.added_at(drain)
            assert rise > 0.3 * 12.5


def test_behind_the_rooflight_a_ridge_parts_the_water():
    w = tapered("rear-extension")
    light = next(o for o in w.plan.openings if o.name == "rooflight")
    up = tuple(-v for v in w.falls.downhill)
    behind = sorted(light.ring, key=lambda p: p[0] * up[0] + p[1] * up[1])[2:]
    middle = tuple((behind[0][k] + behind[1][k]) / 2 for k in (0, 1))
    ends = [w.falls.added_at(p) for p in behind]
    half = math.dist(*behind) / 2
    assert w.falls.added_at(middle) == pytest.approx(sum(ends) / 2 + half * 25, abs=0.5)
    beyond = tuple(middle[k] + up[k] * (half + 0.2) for k in (0, 1))
    laid = w.falls.finished.of[1][2]
    assert w.falls.added_at(beyond) == pytest.approx(sum(ends) / 2 + (half + 0.2) * laid, abs=0.5)


def test_a_roof_that_falls_enough_needs_no_boards():
    w = tapered("garage", design__falls__one_in=120)
    assert max(w.falls.added_at(p) for p in w.plan.deck) == pytest.approx(0, abs=1e-6)
