"""Fittings: counted by hand on an L, on the examples, and never fewer than joints and corners."""

from math import ceil
from types import SimpleNamespace

import pytest
from tests.unit import rooms

from evenfall.model.surveyed import SideAt
from evenfall.model.taken_off import Bar, Run
from evenfall.stages.takeoff import fittings
from evenfall.stages.takeoff.sections import Section
from evenfall.working import Working

L_SHAPE = ((0, 0), (6, 0), (6, 3), (3.5, 3), (3.5, 5), (0, 5))
NEED = Working("by hand", "L", "m", "by hand", 1.0)


def worked(name: str, rates=None, **changes: object):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes), rates)


def plan(ring=L_SHAPE):
    sides = []
    for n, (a, b) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
        long = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
        out = ((b[1] - a[1]) / long, (a[0] - b[0]) / long)
        sides.append(SideAt(f"side:{n}", f"{n}", "verge", a, b, long, out, 0.0, 0.0, 5.0))
    return SimpleNamespace(sides=tuple(sides), openings=())


def run(name: str, *cuts: tuple[str, int]) -> Run:
    return Run(f"length:{name}", name, NEED, (Bar(9999, cuts, 0),), 1.0)


def counted(found) -> dict[str, float]:
    return {f"{f.section}:{f.name}": f.need.value for f in found}


def test_a_trim_all_round_an_l_turns_five_outer_corners_and_one_inner_and_has_no_end():
    trim = run("kerb-trim", ("0", 3000), ("0", 3000), ("1", 3000), ("2", 2500), ("3", 2000),
               ("4", 3500), ("5", 2500), ("5", 2500))  # fmt: skip
    sold = (Section("kerb-trim", "trim", (3000,), 90, 4),)
    found = counted(fittings.fitted(plan(), (trim,), (), sold))
    assert found == {"kerb-trim:corner-out": 5, "kerb-trim:corner-in": 1, "kerb-trim:joint": 2}


def test_a_mirrored_roof_turns_the_same_corners():
    back = plan(tuple((-x, y) for x, y in reversed(L_SHAPE)))
    trim = run("kerb-trim", *((f"{n}", 1000) for n in range(6)))
    sold = (Section("kerb-trim", "trim", (3000,), 90, 4),)
    there = counted(fittings.fitted(plan(), (trim,), (), sold))
    assert counted(fittings.fitted(back, (trim,), (), sold)) == there


def test_a_trim_that_stops_has_two_ends_and_two_sides_in_line_have_a_joint():
    sold = (Section("kerb-trim", "trim", (3000,), 90, 4),)
    alone = counted(fittings.fitted(plan(), (run("kerb-trim", ("1", 3000)),), (), sold))
    assert alone == {"kerb-trim:end": 2}
    bent = plan(((0, 0), (3, 0), (6, 0.1), (6, 3), (0, 3)))
    two = counted(fittings.fitted(bent, (run("kerb-trim", ("0", 3000), ("1", 3002)),), (), sold))
    assert two == {"kerb-trim:joint": 1, "kerb-trim:end": 2}


def test_two_fascia_boards_one_over_the_other_have_covers_and_corners_of_their_own():
    boards = run("fascia-250", *[("0", 3000)] * 4, ("1", 3000), ("1", 3000))
    sold = (Section("fascia-250", "fascia", (5000,), 250, 9),)
    found = counted(fittings.fitted(plan(), (boards,), (), sold))
    assert found == {"fascia-250:joint": 2, "fascia-250:corner-out": 2}


def test_gutter_and_pipe_of_the_garage_are_fitted_by_hand():
    """5.41 m in two pieces between two verges, one pipe of 2.32 m in one piece."""
    w = worked("garage")
    found = counted(w.lengths.fitted)
    assert {n: v for n, v in found.items() if n.startswith(("gutter", "downpipe"))} == {
        "gutter-112:joint": 1, "gutter-112:end": 2, "gutter-112:outlet": 1,
        "gutter-112:bracket": ceil(5.412 / 0.8) + 1 + 2,
        "downpipe-68:bend": 2, "downpipe-68:shoe": 1, "downpipe-68:bracket": 3,
    }  # fmt: skip


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_every_fitting_is_ordered_priced_weighed_and_told_where_it_goes(name):
    w = worked(name)
    lines = {o.id: o for o in w.items.order if o.id.startswith("fitting:")}
    assert set(lines) == {f.id for f in w.lengths.fitted}
    priced = {x.id: x for x in rooms.priced(w).lines}
    for f in w.lengths.fitted:
        line = lines[f.id]
        assert line.bought >= f.need.value
        assert priced[f.id].pence > 0
        assert ": " in line.note
    for kind in ("gutter", "drip-trim", "kerb-trim", "parapet-capping", "fascia"):
        runs = [r for r in w.lengths.runs if r.id.startswith(f"length:{kind}")]
        pieces = [where for r in runs for b in r.bars for where, _ in b.cuts]
        joints = sum(f.need.value for f in w.lengths.fitted
                     if f.section.startswith(kind) and f.name == "joint")  # fmt: skip
        if len({r.id for r in runs}) == 1 and len(runs) == 1:
            assert joints >= len(pieces) - 2 * len(set(pieces))


def test_brackets_and_clips_have_their_screws():
    w = worked("garage")
    line = next(o for o in w.items.order if o.id == "item:trim-screws")
    held = sum(f.need.value for f in w.lengths.fitted if f.name == "bracket")
    parts = {n: float(v) for n, _, v in line.need.of[0][2].of}
    assert parts["brackets and clips"] == 2 * held


def test_fittings_that_the_rates_lack_are_said_and_nothing_is_ordered_for_them():
    table = rooms.demo_rates().model_dump(mode="json")["lengths"]
    bare = [x | {"fittings": []} for x in table]
    w = worked("garage", rooms.rates_with(lengths=bare))
    told = rooms.one(w.lengths.findings, "fittings-not-in-rates")
    assert "10 × bracket of gutter-112" in told.says
    assert not [o for o in w.items.order if o.id.startswith("fitting:")]


def test_gutter_and_pipe_that_stay_have_no_new_fittings():
    w = worked("garage", **{"design.gutter": "keep", "design.fascia": "keep"})
    assert not [f for f in w.lengths.fitted if f.section.startswith(("gutter", "down", "fascia"))]
