"""Rooms against a second method: heat by hand, areas by shapely, packs by trial."""

from itertools import product
from math import ceil, pi

import numpy as np
import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union
from tests.unit import rooms

NAMES = ("garage", "rear-extension", "courtyard")


@pytest.fixture(scope="module", params=NAMES)
def worked(request):
    return rooms.taken_off(rooms.job(request.param))


def test_the_areas_are_those_of_another_geometry(worked):
    deck = Polygon(worked.plan.deck)
    holes = unary_union([Polygon(o.hole) for o in worked.plan.openings])
    assert worked.plan.gross.value == pytest.approx(deck.area)
    assert worked.plan.net.value == pytest.approx(deck.difference(holes).area)
    assert worked.plan.perimeter.value == pytest.approx(deck.length)


def test_the_old_plane_is_that_of_another_least_squares(worked):
    spots = worked.levels.spots
    rows = np.array([(1.0, *s.at) for s in spots])
    found, *_ = np.linalg.lstsq(rows, np.array([s.z_mm for s in spots]), rcond=None)
    plane = worked.levels.plane
    assert (plane.z_mm, plane.x_mm_m, plane.y_mm_m) == pytest.approx(tuple(found))


def test_every_firring_fits_under_a_straight_finished_plane(worked):
    """Level and added thickness together: all spots, dips with them, lie on the finished fall."""
    falls, spots = worked.falls, worked.levels.spots
    u, v = falls.downhill
    top = np.array([s.z_mm + falls.added_at(s.at) for s in spots])
    rows = np.array([(1.0, -(u * x + v * y), u * y - v * x) for x, y in (s.at for s in spots)])
    found, *_ = np.linalg.lstsq(rows, top, rcond=None)
    assert found[1] == pytest.approx(falls.finished.value, abs=1e-6)
    assert np.abs(top - rows @ found).max() < 0.01  # mm


def test_the_u_value_is_that_of_the_combined_method_by_hand():
    """The extension: 140 mm of board in one layer, screws of the wind, joists across the void."""
    w = rooms.designed(rooms.job("rear-extension"))
    R1 = 0.140 / 0.0222
    above = 0.04 + 0.0012 / 0.25 + R1 + 0.0013 / 0.23 + 0.019 / 0.13
    inside = 0.0125 / 0.25 + 0.10
    share, air, timber = 47 / 402, 0.16, 0.170 / 0.13
    upper = 1 / ((1 - share) / (above + air + inside) + share / (above + timber + inside))
    lower = above + 1 / ((1 - share) / air + share / timber) + inside
    U = 2 / (upper + lower)
    R_h = above + air + inside
    d1 = 0.140 - 0.055
    R_pierced = R1 * d1 / 0.140
    n_f = rooms.screws_per_m2(w)
    gaps = 0.01 * (R1 / R_h) ** 2
    screws = 0.8 * (d1 / 0.140) * 50 * pi * 0.0048**2 / 4 * n_f / d1 * (R_pierced / R_h) ** 2
    assert gaps + screws > 0.03 * U
    assert w.heat.u.value == pytest.approx(U + gaps + screws, rel=1e-9)


def test_the_margin_is_that_of_two_heights_above_the_deck(worked):
    """Height of each item over the finished surface, both taken from the lowest old spot."""
    job, falls = worked.job, worked.falls
    items = [*job.survey.heights, *job.survey.windows]
    by_name = {i.name: i for i in items}
    build, covering = worked.build, job.survey.covering
    for at in worked.heights.items:
        given = by_name[at.name]
        above = (
            given.above_covering_mm
            if hasattr(given, "above_covering_mm")
            else given.sash_above_covering_mm
            if at.kind == "sash"
            else given.sill_above_covering_mm
        )
        old = worked.levels.plane.at(at.at)
        deck = old - covering.thickness_mm
        u, v = worked.plan.side(given.side).along
        half = (getattr(given, "width_m", None) or 0.0) / 2
        ends = [(at.at[0] + t * u, at.at[1] + t * v) for t in (-half, 0.0, half)]
        highest = max(worked.levels.plane.at(p) + falls.rise.at(p) for p in ends)
        finished = (
            deck + falls.added_at(at.at) + highest - old - falls.rise.at(at.at)
            + build.vcl.thickness_mm + worked.rise.chosen_mm + build.overlay_mm + 2
        )  # fmt: skip
        assert at.margin.value == pytest.approx(old + above - finished - at.required)


def cheapest(need_mm: int, packs: list[tuple[int, int]]) -> int:
    """Try every number of every pack."""
    most = [range(ceil(need_mm / size) + 1) for size, _ in packs]
    return min(
        sum(n * price for n, (_, price) in zip(numbers, packs, strict=True))
        for numbers in product(*most)
        if sum(n * size for n, (size, _) in zip(numbers, packs, strict=True)) >= need_mm
    )


def test_no_choice_of_packs_is_cheaper(worked):
    items = {f"item:{i.name}": i for i in worked.rates.items}
    for line in worked.items.order:
        if line.id not in items:
            continue  # screws come in one box
        sold = {p.size: p.price_pence for p in items[line.id].packs}
        paid = sum(n * sold[size] for n, size, _ in line.packs)
        packs = [(round(1000 * size), price) for size, price in sold.items()]
        assert paid == cheapest(ceil(round(1000 * line.need.value, 6)), packs), line.id


def test_the_cuts_of_every_length_are_the_sides_they_are_for(worked):
    """Trims by side, from the plan itself; what turns outer corners reaches round them."""
    sides = {s.name: s.length_m for s in worked.plan.sides}
    ring = worked.plan.fascia
    outer = {
        s.name: float(np.hypot(*np.subtract(a, b)))
        for s, a, b in zip(worked.plan.sides, ring, (*ring[1:], ring[0]), strict=True)
    }
    thick = max([s.wall_thickness_mm or 0 for s in worked.job.survey.sides]) / 1000
    for run in worked.lengths.runs:
        if run.id in ("length:drip-trim", "length:wall-bar", "length:parapet-capping"):
            cut: dict[str, int] = {}
            for bar in run.bars:
                for where, mm in bar.cuts:
                    name = where.split()[0]
                    cut[name] = cut.get(name, 0) + mm
            for name, mm in cut.items():
                gap = 0.02  # joints between lengths
                most = {
                    "length:drip-trim": max(outer[name], sides[name]),
                    "length:parapet-capping": sides[name] + 2 * thick,
                }.get(run.id, sides[name])
                assert sides[name] - gap <= mm / 1000 <= most + 0.001
