"""Heat of tapered boards: the plan's own parts, its openings, its table and its weight."""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np
import pytest
import shapely
from tests.unit import plans, rooms

from evenfall.calc.layout.board_plan import BoardRules
from evenfall.calc.layout.tapered_check import check_tapered_plan
from evenfall.calc.layout.tapered_plan import Slant, TaperedBoards
from evenfall.calc.physics.tapered import rectangle
from evenfall.calc.physics.transmittance import total_resistance
from evenfall.model.standing import Zones
from evenfall.model.surveyed import Slope, Taper
from evenfall.stages.design import heat, layering, tapers, thicknesses
from evenfall.stages.takeoff import tapered_boards
from evenfall.stages.takeoff.boards import in_mm
from evenfall.working import Table, Working

JOB = plans.job()
BUILD = plans.build(JOB)  # 120 mm, glued
RING = ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (0.0, 4.1))
TAPER = Taper(RING, (0.0, 0.0, 82.0, 82.0), Slope(0.0, 0.0, 20.0))
SURVEY = JOB.survey


def rows(tapered=(TAPER,), build=BUILD):
    s = SURVEY
    found = thicknesses.work(
        build, s.deck, s.below, s.covering, s.joists, JOB.site, "england", None, plans.plan(RING),
        s.sides, plans.ADHESIVE, tapered,
    )  # fmt: skip
    return [r for r in found.rows if len(r.boards) == 1]


def room(tapered=(TAPER,), openings=()):
    s, plain = SURVEY, Working("U", "U", "W/(m2K)", "by hand", 1.3)
    return heat.work(
        120, BUILD, s.deck, s.below, s.covering, s.joists, JOB.site, plain_target(), NET, plain,
        0.0, 8.0, Zones(()), tapered, openings,
    )  # fmt: skip


def plain_target():
    return rooms.designed(rooms.job("garage")).thicknesses.target_u


NET = Working("Net", "A_net", "m2", "by hand", 25.42, own_basis="measured")


def test_the_roof_is_warmer_by_its_taper_and_by_the_formula_of_the_rectangle():
    layers = layering.finished(BUILD, 120, SURVEY.deck, SURVEY.below, SURVEY.joists)
    R0, R1 = thicknesses.total_r(layers).value, 0.082 / 0.022
    R_T_h = total_resistance(layers).value
    gaps = 0.01 * ((0.12 / 0.022 + R1) / (R_T_h + R1)) ** 2  # at the thick end, the safe one
    by_hand = rectangle(R0, R1)
    assert gaps / by_hand > 0.03
    assert rows()[2].u == pytest.approx(by_hand + gaps, rel=1e-6)
    assert rows()[2].u < rows(())[2].u


def test_stick_and_heat_room_agree_over_tapered_boards():
    assert room().u.value == pytest.approx(rows()[2].u, rel=1e-12)


def test_the_parts_of_the_plan_are_listed():
    shown = next(p for p in room().parts if isinstance(p, Table) and "tapered" in p.title)
    assert [row[:4] for row in shown.rows] == [("rectangle", 25.42, 120, 202)]
    assert not [p for p in room(()).parts if isinstance(p, Table) and "tapered" in p.title]


def test_an_opening_is_taken_off_its_own_part():
    w = rooms.survey(rooms.job("rear-extension"))
    box = next(o for o in w.plan.openings if o.diameter_mm is None)
    low, high = box.hole[0], box.hole[2]
    deck = (low[0] - 1, low[1] - 1), (high[0] + 1, low[1] - 1), (high[0] + 1, high[1] + 1), (
        low[0] - 1, high[1] + 1)  # fmt: skip
    slope = Slope(300.0, 10.0, 0.0)
    found = tapers.cuts((Taper(deck, tuple(slope.at(p) for p in deck), slope),), (box,))
    whole = (high[0] - low[0] + 2) * (high[1] - low[1] + 2)
    assert sum(c.area for c in found) == pytest.approx(whole - abs(
        (high[0] - low[0]) * (high[1] - low[1])))  # fmt: skip
    assert any(c.area < 0 for c in found)


def test_the_taper_weighs_by_its_mean_thickness():
    more = rows()[2].mass_kg_m2 - rows(())[2].mass_kg_m2
    assert more == pytest.approx(0.041 * 32)


def test_the_screw_of_the_thick_end_is_the_one_that_must_reach():
    screwed = replace(BUILD, hold_boards_by="screws")
    assert (rows((), screwed)[1].screw_mm, rows(build=screwed)[1].screw_mm) == (150, None)


def test_a_job_with_tapered_boards_is_warm_by_what_lies_over_each_spot_of_its_plan():
    changes = {"design.falls.kind": "tapered", "design.thickness_mm": 110}
    w = rooms.designed(rooms.changed(rooms.job("rear-extension"), **changes))
    plan, falls, STEP = w.plan, w.falls, 0.04
    roof = shapely.Polygon(plan.deck, [])
    for o in plan.openings:
        roof = roof.difference(shapely.Polygon(o.hole))
    (x0, y0, x1, y1) = roof.bounds
    grid = [(x, y) for x in np.arange(x0, x1, STEP) for y in np.arange(y0, y1, STEP)]
    spots = [p for p in grid if shapely.contains_xy(roof, *p)]
    plain = next(v for name, _, v in w.heat.u.of if name == "U")
    R_0, lambda_ = (float(v) for _, _, v in plain.of)
    by_spots = np.mean([1 / (R_0 + falls.added_at(p) / 1000 / lambda_) for p in spots])
    assert plain.value == pytest.approx(by_spots, rel=2e-3)
    assert plain.value < 0.9 / R_0  # as even boards alone it would be a tenth worse
    assert w.rise.row.u == pytest.approx(w.heat.u.value, rel=1e-12)


@functools.cache
def rowed():
    changes = {"design.falls.kind": "tapered", "design.falls.one_in": 60, "design.options": []}
    return rooms.taken_off(rooms.changed(rooms.job("garage"), **changes))


def checked(w):
    """Check the rows of a room against the roof, by a checker that knows no room."""
    rows, deck = w.falls.rows, in_mm(w.plan.deck)
    holes = [in_mm(o.hole) for o in w.plan.openings if o.diameter_mm is None]
    stock = rows.stock
    sold = TaperedBoards(stock.one_in, stock.width_mm, stock.length_mm, stock.kinds)
    slant = Slant(in_mm((rows.foot,))[0], w.falls.downhill, rows.first_cut_mm)
    found, _, _ = tapered_boards.lay(w.plan, rows, w.falls.downhill, w.build.board, 4)
    return check_tapered_plan(found, deck, holes, sold, slant, BoardRules())


def test_tapered_boards_are_laid_in_rows_filled_up_and_ordered_by_kind():
    w = rowed()
    laid = w.boards.tapered
    assert checked(w) == ()
    assert laid.breaches == ()
    assert (laid.stock, laid.one_in) == ("tapered-pir-80", 80)  # the old deck falls by the rest
    lines = {o.id: o.bought for o in w.order if o.id.startswith("taper:")}
    assert lines == {f"taper:{laid.stock}:{k.thin_mm}": k.bought for k in laid.kinds}
    assert all(k.bought >= k.bound for k in laid.kinds)
    assert sum(k.bought for k in laid.kinds) <= len(laid.pieces)
    assert {p.total_mm for p in laid.fill} == {60}
    assert any(o.id == "board:pir-foil:60" for o in w.order)
    assert not {p.number for p in laid.fill} & {p.number for p in w.boards.pieces}


def test_the_rows_hold_as_much_foam_as_heat_takes():
    w = rowed()
    cut = tapers.cuts(w.falls.tapers, w.plan.openings)
    laid = w.boards.tapered
    volume = area = 0.0
    for p in laid.pieces:
        shape = shapely.Polygon(p.ring)
        low = min(p.ring, key=lambda q: up(w, q))
        rise = (up(w, shape.centroid.coords[0]) - up(w, low)) / laid.one_in
        volume += shape.area * (p.fill_mm + p.low_mm + rise)
        area += shape.area
    assert volume / area == pytest.approx(tapers.mean_mm(cut), abs=0.3)  # edges in whole mm
    board = w.build.board.conductivity(w.rise.row.boards[-1])
    assert tapers.conductivity(w.seen["heat"][1], w.rise.chosen_mm) == max(board, 0.0251)


def up(w, point):
    (x, y), (u, v) = point, w.falls.downhill
    return -(x * u + y * v)


def test_glue_and_hours_count_the_rows_and_what_fills_up_under_them():
    w = rowed()
    found = dict(tapered_boards.tapered_m2(w.boards.tapered))
    assert found["tapered boards"] == pytest.approx(w.plan.net.value, rel=2e-3)
    assert 0 < found["fill-up"] < found["tapered boards"] / 3
    glue = dict(tapered_boards.tapered_faces(w.boards.tapered, 150.0))
    assert glue["fill-up, at 150"] == pytest.approx(2 * found["fill-up"])
    assert tapered_boards.tapered_m2(None) == ()


def test_fill_up_that_no_boards_make_stops_the_price():
    w = rowed()
    thick = replace(w.build.board, sizes=((100, 0.022),))
    _, fills, [told] = tapered_boards.lay(w.plan, w.falls.rows, w.falls.downhill, thick, 4)
    assert fills == ()
    assert (told.code, told.level, told.value) == ("fill-not-sold", "stop", 60.0)
    assert "boards[pir-foil].sizes" in told.remedy.says


def test_a_ridge_behind_a_kerb_and_boards_not_sold_stop_the_price():
    steep = {"design.falls.kind": "tapered", "design.falls.one_in": 40}
    w = rooms.survey(rooms.changed(rooms.job("rear-extension"), **steep))
    stops = [f for f in w.falls.findings if f.code == "cricket-by-scheme"]
    assert [f.level for f in stops] == ["stop"]
    assert "rooflight" in stops[0].says
    steepest = rooms.changed(rooms.job("garage"), **{**steep, "design.falls.one_in": 20})
    codes = rooms.codes(rooms.survey(steepest).falls.findings)
    assert "taper-by-scheme" in codes
    assert "taper-rows" not in codes


def test_over_tapers_each_thickness_has_its_length_of_screw():
    changes = {"design.falls.kind": "tapered", "design.thickness_mm": 80}
    found = rooms.designed(rooms.changed(rooms.job("rear-extension"), **changes)).wind.findings
    near = next(f for f in found if f.code == "screw-near-cables")
    by_length = next(f for f in found if f.code == "screws-by-length")
    assert near.value <= 60  # one length for all would end 134 mm below the top of the deck
    assert "by how thick they are there" in by_length.says
