"""The lengths room: what each edge wants, cutting lists that add up, and the new fascia."""

from collections import Counter

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes

from evenfall.errors import InvalidInput
from evenfall.model.surveyed import Slope
from evenfall.stages.takeoff import items, lengths
from evenfall.stages.takeoff.fascias import fascia_need

NAMES = ("garage", "rear-extension", "courtyard")
JOB = plans.job()


def worked(name: str, **changes: object):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes))


def needs(w) -> dict[str, float]:
    return {r.id.removeprefix("length:"): r.need.value for r in w.lengths.runs}


def test_each_edge_gets_the_sections_of_its_kind():
    w = worked("rear-extension")
    of = {k: sum(s.length_m for s in w.plan.of_kind(k)) for k in ("eaves", "verge", "wall")}
    found = needs(w)
    assert found["drip-trim"] == pytest.approx(of["eaves"] + 2 * 0.020, abs=0.01)  # two corners
    assert found["kerb-trim"] == pytest.approx(of["verge"] + 2 * 0.019, abs=0.01)
    assert found["wall-bar"] == pytest.approx(of["wall"], abs=0.02)
    assert found["edge-timber-47"] == pytest.approx(3 * (of["eaves"] + of["verge"]), abs=0.01)
    assert found["kerb-timber-47"] == pytest.approx(of["verge"], abs=0.01)  # 47 and 38: 80 high
    box = 2 * (1.16 + 0.94) - 4 * 0.047  # two of four stand between the others
    assert found["kerb-timber-100"] == pytest.approx(3 * box, abs=0.01)


def test_parapets_get_cappings_and_no_edge_timber():
    w = worked("courtyard")
    parapets = sum(s.length_m for s in w.plan.of_kind("parapet"))
    grown = needs(w)["parapet-capping"] - parapets  # along the outer face, round two corners
    assert 0.23 + 0.23 < grown < 1.0
    timber = {n: m for n, m in needs(w).items() if n.startswith("edge-timber")}
    assert timber["edge-timber-63"] == pytest.approx(w.plan.side("S-T").length_m, abs=0.01)
    assert timber["edge-timber-47"] == pytest.approx(2 * w.plan.side("S-T").length_m, abs=0.01)
    assert not [n for n in needs(w) if n.startswith("fascia")]


@pytest.mark.parametrize("name", NAMES)
def test_every_bar_holds_its_cuts_with_a_saw_cut_between(name):
    for run in worked(name).lengths.runs:
        for bar in run.bars:
            assert sum(mm for _, mm in bar.cuts) + bar.left_mm <= bar.stock_mm
            assert bar.left_mm >= 0


@pytest.mark.parametrize("name", NAMES)
def test_the_cuts_add_up_to_the_need_and_no_plan_beats_the_bound(name):
    for run in worked(name).lengths.runs:
        cut = sum(mm for bar in run.bars for _, mm in bar.cuts) / 1000
        bought = sum(bar.stock_mm for bar in run.bars) / 1000
        assert cut == pytest.approx(run.need.value)
        assert cut <= run.bound_m + 1e-9 <= bought + 2e-9


@pytest.mark.parametrize("name", NAMES)
def test_the_order_is_the_bars_by_their_lengths(name):
    w = worked(name)
    for run, line in zip(w.lengths.runs, w.lengths.order, strict=True):
        bars = Counter(bar.stock_mm for bar in run.bars)
        assert {round(1000 * size): n for n, size, _ in line.packs} == dict(bars)
        assert line.bought >= line.need.value


def test_every_firring_is_sawn_from_one_timber_and_no_timber_is_too_shallow():
    w = worked("garage")
    sawn = [name for t in w.lengths.firrings for name in t.firrings]
    assert sorted(sawn) == sorted(f.name for f in w.falls.firrings)
    assert all(t.need_mm <= t.depth_mm for t in w.lengths.firrings)
    cuts = sum(len(b.cuts) for r in w.lengths.runs if "firring" in r.id for b in r.bars)
    assert cuts == len(w.lengths.firrings) < len(sawn)  # two from one


def test_firrings_without_a_depth_in_the_rates_are_said_to_be_unknown():
    table = rooms.demo_rates().model_dump(mode="json")["lengths"]
    plain = [x for x in table if not x["name"].startswith(("firring", "edge-timber"))]
    plain += [{"name": n, "says": n, "lengths_mm": [4800], "price_pence_m": 540}
              for n in ("firring-timber", "edge-timber")]  # fmt: skip
    w = rooms.taken_off(rooms.job("garage"), rooms.rates_with(lengths=plain))
    assert {"firring-unknown", "edge-timber-unknown"} <= set(codes(w.lengths.findings))
    assert needs(w)["firring-timber"] == pytest.approx(
        sum(f.length_mm for f in w.falls.firrings) / 1000, abs=0.02
    )
    assert not w.lengths.courses
    assert any("edge timber" in n for n, _, _ in dict(items.wants(w.roof))["wood-screws"].of)


def test_what_is_kept_is_not_ordered():
    kept = needs(worked("garage", **{"design.fascia": "keep", "design.gutter": "keep"}))
    assert not [n for n in kept if n.startswith(("fascia", "gutter", "downpipe"))]


def test_gutter_and_pipe_have_their_lengths():
    found = needs(worked("garage"))
    assert found["gutter-112"] == pytest.approx(5.41 + 0.017 + 0.016, abs=0.01)
    lift = worked("garage").water.hung[0].lift.value / 1000
    assert lift > 0.1
    assert found["downpipe-68"] == pytest.approx(2.2 + lift, abs=0.001)


def test_the_new_fascia_covers_the_old_one_and_the_rise():
    """Old 172 deep, firrings of 22 to 30 along the side, 90 of board, 10 of cover."""
    side = plans.plan().side("B-C")
    falls = plans.falls()
    sloped = type(falls)("firrings", "A-B", falls.downhill, Slope(22.0, 0.0, 2.0), falls.finished,
                         (), ())  # fmt: skip
    assert fascia_need(side, 172, 163, sloped, 90) == pytest.approx(172 + 30.2 + 90 + 10)
    assert fascia_need(side, None, 163, sloped, 90) == pytest.approx(163 + 30.2 + 90 + 10)


def sections(*depths: float) -> tuple[lengths.Section, ...]:
    plain = ("kerb-timber", "drip-trim", "kerb-trim", "wall-bar", "cover-flashing",
             "gutter", "downpipe")  # fmt: skip
    return (
        *(lengths.Section(n, n, (3000,), None, 4) for n in plain),
        lengths.Section("edge-timber-60", "60 x 50", (3000,), 60, 0, 50),
        *(lengths.Section(f"fascia-{d:g}", "fascia", (5000,), d, 9) for d in depths),
    )


def fascias(*depths: float):
    s = JOB.survey
    return lengths.work(
        plans.plan(), plans.falls(), s.sides, s.joists, 18.0, (), ("fascia",), 120,
        sections(*depths), "demo",
    )  # fmt: skip


@pytest.mark.parametrize(("deepest", "told"), [(293, []), (292.9, ["fascia-deep"])])
def test_a_fascia_deeper_than_any_sold_is_noted(deepest, told):
    """Joist 145, deck 18, board 120, cover 10: 293."""
    found = set(codes(fascias(200, deepest).findings))
    found -= {"fittings-not-in-rates", "kerb-timber-unknown"}
    assert found == set(told)


def test_the_shallowest_fascia_that_is_deep_enough_is_taken():
    ids = {r.id for r in fascias(200, 300, 400).runs if "fascia" in r.id}
    assert ids == {"length:fascia-300"}


def test_a_section_that_is_not_sold_is_refused_by_name():
    s = JOB.survey
    few = tuple(x for x in sections(300) if x.name != "wall-bar")
    with pytest.raises(InvalidInput, match="wall-bar"):
        lengths.work(plans.plan(), plans.falls(), s.sides, s.joists, 18.0, (), ("fascia",),
                     120, few, "demo")  # fmt: skip
