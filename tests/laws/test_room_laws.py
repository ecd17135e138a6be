"""Laws of the rooms: areas add up, orders cover, prices add up, thicker is warmer and higher."""

from dataclasses import replace
from math import dist, hypot, isclose

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.unit import plans, rooms

from evenfall.model.choice import Board
from evenfall.model.job import Falls as Chosen
from evenfall.model.job import Height, Opening, Side, SpotLevel, Tape, ThinZone
from evenfall.model.surveyed import Plan, Slope
from evenfall.stages.design import beside, budget, thicknesses, zoning
from evenfall.stages.price import price
from evenfall.stages.survey import falls, levels, plan
from evenfall.stages.takeoff import boards, items, lengths, rolls, sheet

FEW = settings(max_examples=25, deadline=None)
METRES = st.floats(2.6, 9.0)
KINDS = st.sampled_from(["wall", "eaves", "verge", "parapet", "party_line", "step"])


def surveyed(a: float, b: float, lean: float, openings=(), kinds=("verge",) * 4) -> Plan:
    """Tape a leaning four-sided roof exactly."""
    ring = ((0.0, 0.0), (a, 0.0), (a + lean, b), (lean / 2, b))
    names = "ABCD"
    tapes = tuple(
        Tape(between=f"{names[i]}-{names[j]}", length_m=dist(ring[i], ring[j]))
        for i, j in ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))
    )
    sides = tuple(
        Side(
            side=f"{p}-{q}", kind=kind, boundary_m=4.0,
            parapet_height_mm=310 if kind == "parapet" else None,
        )
        for p, q, kind in zip(names, names[1:] + "A", kinds, strict=True)
    )  # fmt: skip
    return plan.work(tuple(names), tapes, 3.0, sides, openings)


@st.composite
def light(draw):
    """A rooflight that lies well inside of the smallest roof."""
    return Opening(
        name="light", kind="rooflight", side="A-B", along_m=draw(st.floats(0.7, 0.9)),
        in_m=draw(st.floats(0.5, 0.8)), length_m=draw(st.floats(0.3, 1.1)),
        width_m=draw(st.floats(0.3, 1.2)), stands_on=draw(st.sampled_from(["deck", "boards"])),
    )  # fmt: skip


@given(METRES, METRES, st.floats(0.0, 0.4), light())
@FEW
def test_net_and_openings_make_up_the_gross(a, b, lean, opening):
    found = surveyed(a, b, lean, (opening,))
    kerb = 0.047 if opening.stands_on == "boards" else 0.0
    hole = (opening.length_m - 2 * kerb) * (opening.width_m - 2 * kerb)
    assert isclose(found.gross.value, b * (a + a + lean / 2) / 2, rel_tol=1e-6)
    assert isclose(found.net.value + hole, found.gross.value, rel_tol=1e-9)
    assert 0 < found.net.value < found.gross.value


@given(METRES, METRES, st.floats(0.0, 0.4), st.tuples(KINDS, KINDS, KINDS, KINDS))
@FEW
def test_sheet_and_vcl_cover_what_the_roof_needs(a, b, lean, kinds):
    roof = surveyed(a, b, lean, kinds=kinds)
    build = plans.build(plans.job())
    stock = replace(build.rubber, widths_m=(3.05, 6.1, 9.15), step_m=0.1)
    found = sheet.work(roof, stock, "demo")
    assert found.order[0].bought >= found.order[0].need.value - 1e-9
    assert found.area.value >= found.need_mm[0] * found.need_mm[1] / 1e6
    assert min(found.need_mm) > 1000 * min(a, b)
    deck = plans.job().survey.deck
    vcl = rolls.work(roof, plans.falls(), build.vcl, 120, deck, "demo", 90.0).order[0]
    assert vcl.bought >= vcl.need.value - 1e-9
    assert vcl.need.value >= roof.gross.value


@given(METRES, METRES, light())
@settings(max_examples=8, deadline=None)
def test_the_boards_bought_cover_the_roof(a, b, opening):
    roof = surveyed(a, b, 0.0, (opening,))
    found = boards.work(roof, plans.build(plans.job()).board, (120,), False, "demo")
    assert found.bought >= found.bound
    assert found.bought * 2.88 >= roof.net.value - 1e-3
    assert 0 <= found.waste_percent < 100


@given(METRES, METRES, st.tuples(KINDS, KINDS, KINDS, KINDS), st.integers(40, 330))
@FEW
def test_lengths_cover_every_edge_and_courses_its_height(a, b, kinds, boards_mm):
    roof = surveyed(a, b, 0.0, kinds=kinds)
    sold = tuple(
        lengths.Section(
            x.name, x.says, x.lengths_mm, x.depth_mm, x.joint_gap_mm, x.width_mm, None,
            tuple((f.name, f.says) for f in x.fittings),
        )
        for x in rooms.demo_rates().lengths
    )  # fmt: skip
    s = plans.job().survey
    sides = tuple(x.model_copy(update={"fascia_depth_mm": 150.0}) for x in s.sides)
    found = lengths.work(
        roof, plans.falls(), sides, s.joists, 18.0, (), ("fascia",), boards_mm, sold, "demo"
    )
    for run, line in zip(found.runs, found.order, strict=True):
        assert line.bought >= line.need.value - 1e-9
        assert sum(bar.stock_mm for bar in run.bars) / 1000 >= run.bound_m - 1e-9
    cut = sum(mm for r in found.runs if "edge-timber" in r.id for b in r.bars for _, mm in b.cuts)
    assert cut == sum(c.length_mm for c in found.courses)
    for side in roof.of_kind("eaves", "verge", "party_line", "step"):
        stack = [c for c in found.courses if c.side == side.name]
        assert sum(c.thick_mm - c.planed_mm for c in stack) >= boards_mm
        assert all(c.screw_mm[0] >= c.thick_mm + 30 for c in stack)
    for kind in ("drip-trim", "kerb-trim", "parapet-capping"):
        runs = [r for r in found.runs if r.id == f"length:{kind}"]
        pieces = [where for r in runs for bar in r.bars for where, _ in bar.cuts]
        joined = [f.need.value for f in found.fitted if (f.section, f.name) == (kind, "joint")]
        assert sum(joined) >= len(pieces) - len(set(pieces))
    assert not [f for f in found.findings if f.code.endswith(("unknown", "not-in-rates"))]


JOBS = st.sampled_from(["garage", "rear-extension", "courtyard"])
EDITS = {
    "survey.deck.renew_percent": st.sampled_from([0.0, 7.5, 33.0, 100.0]),
    "survey.joists.ends": st.sampled_from(["sound", "soft"]),
    "survey.covering.sample_300_by_300_kg": st.floats(0.3, 3.5),
    "design.quilt": st.sampled_from(["keep", "remove"]),
    "design.wall_head": st.sampled_from(["fill", "leave"]),
    "design.overlay_mm": st.sampled_from([0.0, 9.0, 18.0]),
    "design.hold_boards_by": st.sampled_from(["adhesive", "screws"]),
    "design.fascia": st.sampled_from(["keep", "renew"]),
    "design.gutter": st.sampled_from(["keep", "renew"]),
    "design.soffit": st.sampled_from(["keep", "renew"]),
    "design.kerb_height_mm": st.integers(50, 140),
    "design.falls.kind": st.sampled_from(["firrings", "tapered"]),
    "design.vcl": st.sampled_from(["polythene", "bitumen-plain"]),
    "survey.covering.asbestos": st.sampled_from(["none_found", "not_sampled", "found"]),
}


@st.composite
def edited(draw):
    """An example with some of its keys changed."""
    keys = draw(st.lists(st.sampled_from(sorted(EDITS)), max_size=4, unique=True))
    return rooms.changed(rooms.job(draw(JOBS)), **{k: draw(EDITS[k]) for k in keys})


CHIMNEY = {"name": "stack", "kind": "chimney", "side": "B-C", "along_m": 1.9, "in_m": 1.7,
           "length_m": 0.9, "width_m": 0.5}  # fmt: skip
CHOSEN = {
    "garage": {"design.fascia": "keep", "survey.deck.renew_percent": 33.0,
               "survey.joists.ends": "soft", "design.hold_boards_by": "adhesive",
               "design.soffit": "renew", "survey.openings": [CHIMNEY]},
    "rear-extension": {"design.overlay_mm": 18.0, "design.gutter": "keep",
                       "design.soffit": "renew", "design.kerb_height_mm": 137,
                       "survey.openings[rooflight].stands_on": "boards",
                       "survey.covering.sample_300_by_300_kg": 3.5},
    "courtyard": {"design.quilt": "remove", "design.wall_head": "leave",
                  "design.hold_boards_by": "screws", "survey.deck.renew_percent": 100.0},
}  # fmt: skip
"""Each key that buys more or less, once; any of them together under the long law."""


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_every_order_line_covers_its_need_and_every_price_is_a_sum(name):
    covers_and_adds_up(rooms.changed(rooms.job(name), **CHOSEN[name]))


@pytest.mark.long
@given(edited())
@settings(max_examples=60, deadline=None)
def test_whatever_is_changed_orders_cover_and_prices_add_up(job):
    covers_and_adds_up(job)


def never_short(w):
    """What is bought does the work, by the worse label, and every stretch is cut to its length."""
    bought = {line.id: line.bought for line in w.order}
    told = {f.subject for f in w.items.findings} | {"item:butyl-separation-strip"}
    sold = {i.name: min(i.covers, i.covers_other_label or i.covers) for i in w.rates.items}
    for name, need in items.wants(w.roof):
        if need.value and f"item:{name}" not in told:
            assert bought[f"item:{name}"] * sold[name] >= need.value - 1e-6, name
    gaps = {f"length:{x.name}": x.joint_gap_mm for x in w.rates.lengths}
    stock = {f"length:{x.name}": x.lengths_mm for x in w.rates.lengths}
    for run in w.lengths.runs:
        pieces = [piece for bar in run.bars for piece in bar.cuts]
        assert all(bar.stock_mm in stock[run.id] for bar in run.bars)
        for bar in run.bars:
            kerfs = 3 * (len(bar.cuts) - 1)  # no blade is thinner
            assert sum(mm for _, mm in bar.cuts) + kerfs <= bar.stock_mm
        for side in w.plan.sides if "pipe" not in run.id else ():
            mine = [mm for where, mm in pieces if where == side.name]
            if mine:  # trims, bars, flashings, cappings and gutters reach along the whole side
                open_mm = (len(mine) - 1) * gaps[run.id]
                inner = 150 if "capping" in run.id or "trim" in run.id else 2
                assert sum(mine) + open_mm >= side.length_m * 1000 - inner, (run.id, side.name)
    for c in (*w.lengths.courses, *w.lengths.kerbs):
        run = next(r for r in w.lengths.runs if r.id == f"length:{c.section}")
        cut = [mm for bar in run.bars for where, mm in bar.cuts
               if where == f"{c.side} course {c.number}"]  # fmt: skip
        assert sum(cut) == c.length_mm


def covers_and_adds_up(job):
    """Go over every line that is bought, and every sum of the price."""
    w = rooms.taken_off(job)
    for line in w.order:
        assert line.bought >= line.need.value - 1e-9, line.id
        assert line.need.value > 0, line.id
        assert isclose(line.bought, sum(n * size for n, size, _ in line.packs)), line.id
    assert len({line.id for line in w.order}) == len(w.order)
    never_short(w)
    found = rooms.priced(w)
    cost = sum(x.pence for x in found.lines)
    net = cost + found.overhead.value + found.margin.value
    assert found.cost.value == cost
    assert found.net.value == max(net, w.rates.terms.minimum_charge_pence)
    assert found.total.value == found.net.value + found.vat.value
    assert sum(s.pence for s in found.stages) == found.total.value
    assert w.plan.net.value <= w.plan.gross.value
    assert isclose(w.strip.mass.value, sum(row[1] for row in w.strip.table.rows))


@given(st.integers(1, 10_000_000), st.floats(0, 40), st.floats(0, 60))
def test_a_net_price_is_never_below_the_cost(cost, overhead, margin):
    one = price.percent_of(cost, overhead)
    two = price.percent_of(cost + one, margin)
    assert price.net_price(cost, one, two, 0) >= cost


@given(
    st.floats(0.018, 0.045), st.sampled_from(["adhesive", "screws"]), st.sampled_from([0.0, 40.0]),
    st.floats(0.0, 200.0), st.integers(1, 2),
)  # fmt: skip
@FEW
def test_a_thicker_board_is_never_colder(lambda_, held, tube_mm, quilt_mm, layers):
    sizes = tuple((mm, lambda_) for mm in range(40, 170, 10))
    job = rooms.changed(
        plans.job(), **{"design.hold_boards_by": held, "survey.below.quilt_mm": quilt_mm,
                        "design.quilt": "keep"}
    )  # fmt: skip
    plain = plans.build(job, layers=layers)  # type: ignore[arg-type]
    build = replace(
        plain, board=Board("b", "b", 2400, 1200, 32.0, 0.4, 90.0, 60.0, sizes),
        screw=replace(plain.screw, tube_mm=tube_mm),
    )  # fmt: skip
    s = job.survey
    found = thicknesses.work(
        build, s.deck, s.below, s.covering, s.joists, job.site, "england", None, plans.plan(),
        s.sides, plans.ADHESIVE,
    )  # fmt: skip
    rows = [r for r in found.rows if len(r.boards) == layers]
    us, heat, mass = ([getattr(r, k) for r in rows] for k in ("u", "heat_kwh", "mass_kg_m2"))
    assert us == sorted(us, reverse=True)
    assert heat == sorted(heat, reverse=True)
    assert mass == sorted(mass)


@given(
    st.sampled_from(["sill", "threshold", "dpc", "flue", "cable"]), st.floats(-50, 900),
    st.floats(0.1, 6.0), st.floats(20, 300), st.floats(0.1, 90),
)  # fmt: skip
def test_the_margin_falls_one_for_one_with_the_thickness(kind, above, along, mm, more):
    height = Height(name="it", kind=kind, side="C-D", along_m=along, above_covering_mm=above)
    job = plans.job()
    item = beside.items((height,), (), plans.plan())[0]
    at = [
        budget.left(item, plans.build(job), t, plans.falls(), job.survey.covering).value
        for t in (mm, mm + more)
    ]
    assert isclose(at[0] - at[1], more, abs_tol=1e-9)


@given(st.floats(-20, 40), st.floats(-20, 40), st.integers(25, 120), st.floats(20, 60))
@FEW
def test_firrings_are_never_thinner_than_their_thin_end_and_never_take_fall_away(
    x, y, one_in, thin
):
    roof = plans.plan()
    at = {"A": (0.0, 0.0), "B": (6.2, 0.0), "C": (6.2, 4.1), "D": (0.0, 4.1)}
    spots = tuple(
        SpotLevel(name=n, corner=n, below_line_mm=1000 - x * p - y * q) for n, (p, q) in at.items()
    )
    chosen = Chosen(kind="firrings", low_side="A-B", one_in=one_in, thin_end_mm=thin)
    old = levels.work(spots, roof)
    found = falls.work(chosen, plans.job().survey.joists, roof, old, (2, 80.0))
    assume(found.firrings)
    assert min(f.thin_mm for f in found.firrings) > thin - 0.51  # whole millimetres
    assert all(f.thick_mm >= f.thin_mm for f in found.firrings)
    assert found.finished.value >= max(y, 1000 / one_in) - 1e-9
    assert min(found.added_at(p) for p in roof.deck) == pytest.approx(thin)


@given(
    st.sampled_from(["sill", "threshold", "dpc", "cavity_tray", "flue", "overflow", "party_line"]),
    st.floats(0, 900), st.floats(0.1, 6.0), st.floats(0, 300), st.floats(0, 2.0),
)  # fmt: skip
def test_raising_an_item_never_lowers_what_is_left_there(kind, above, along, more, width):
    job = plans.job()
    build, flat = plans.build(job), budget.Ground(Slope(3.0, -11.0, 17.0))
    low = Height(name="it", kind=kind, side="C-D", along_m=along, width_m=width or None,
                 above_covering_mm=above)  # fmt: skip
    high = low.model_copy(update={"above_covering_mm": above + more})
    left, room = (
        [f(i) for h in (low, high) for i in beside.items((h,), (), plans.plan())]
        for f in (
            lambda i: budget.left(i, build, 120, plans.falls(), job.survey.covering, flat).value,
            lambda i: budget.room(i, build, plans.falls(), job.survey.covering, flat).value,
        )
    )
    assert isclose(left[1] - left[0], more, abs_tol=1e-9)
    assert isclose(room[1] - room[0], more, abs_tol=1e-9)


@given(st.floats(150, 700), st.floats(0.1, 6.0), st.floats(-30, 30), st.floats(-30, 30))
def test_the_thickest_board_that_is_told_fits_and_the_next_that_is_sold_does_not(above, at, x, y):
    job = plans.job()
    build, ground = plans.build(job), budget.Ground(Slope(0.0, x, y))
    height = Height(name="it", kind="sill", side="C-D", along_m=at, width_m=1.3,
                    above_covering_mm=above)  # fmt: skip
    (item,) = beside.items((height,), (), plans.plan())

    def fits(mm: float) -> bool:
        left = budget.left(item, build, mm, plans.falls(), job.survey.covering, ground)
        return left.value >= budget.FITS

    room = budget.room(item, build, plans.falls(), job.survey.covering, ground).value
    told = budget.fitting(build.totals(), room)
    assert told is None or fits(told)
    assert not any(fits(mm) for mm in build.totals() if told is None or mm > told)
    assert room <= 1 or (fits(room - 0.01) and not fits(room + 0.01))


@given(
    st.lists(st.tuples(st.floats(0.1, 1.5), st.floats(0.05, 60)), min_size=1, max_size=6),
)  # fmt: skip
def test_the_mean_u_lies_between_the_best_and_the_worst_part(parts):
    mean = zoning.mean_u((f"part {n}", u, a) for n, (u, a) in enumerate(parts)).value
    us = [u for u, _ in parts]
    assert min(us) - 1e-9 <= mean <= max(us) + 1e-9


@given(st.integers(0, 110), st.floats(0.2, 4.1), st.floats(-25, 25), st.floats(-25, 25))
@FEW
def test_no_more_water_stands_in_a_zone_than_its_step_is_high(step, deep, x, y):
    """And a strip that runs down to the eaves holds none, whatever the slope towards them."""
    thin = ThinZone(name="z", side="C-D", from_m=1.0, to_m=2.5, in_m=deep, thickness_mm=120)
    zone = zoning.placed(thin, plans.plan())
    held = zoning.held_back(zone, 120 + step, plans.plan(), plans.falls(), Slope(0.0, x, y))
    slope = hypot(x, y) * hypot(1.5, deep)  # a zone lies on a slope: its lowest corner counts
    assert 0 <= held <= step + slope
    down = zoning.placed(thin.model_copy(update={"in_m": 5.0}), plans.plan())
    straight = Slope(0.0, 0.0, abs(y))
    assert zoning.held_back(down, 120 + step, plans.plan(), plans.falls(), straight) == 0
