"""Wall heads, fascias, screws, separation and streams, as the take-off tells them."""

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.stages.takeoff import fascias, items, strip
from evenfall.stages.takeoff.packings import packings

SKIPS = (("small", "small", 1.5), ("large", "large", 6.1))


def worked(name, **changes):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes))


def test_a_packing_is_as_long_as_centres_less_joist():
    w = worked("garage")
    (found,) = packings(w.plan, w.roof.sides, w.roof.joists)
    assert (found.side, found.height_mm, found.depth_mm) == ("A-B", 34, 103)
    assert found.length_mm == pytest.approx(455 - 44, abs=1)
    assert found.number == 12  # 5.41 m at 455 mm


def test_the_packings_are_told_on_the_order_and_foamed():
    order = {line.id: line for line in worked("garage").items.order}
    assert "A-B: 12 × 411 × 34 × 103 mm" in order["item:wall-head-packing"].note
    wants = dict(items.wants(worked("garage").roof))
    left = dict(items.wants(worked("garage", **{"design.wall_head": "leave"}).roof))
    more = wants["foam-can"].value - left["foam-can"].value
    assert more == pytest.approx(12 * 2 * (0.411 + 0.034))


def test_the_screw_line_tells_between_which_lengths_it_lies():
    line = next(x for x in worked("garage").items.order if x.id.startswith("screw:"))
    low, high = (int(n) for n in line.note.split("allowed ")[1].split(" mm")[0].split(" to "))
    assert low <= int(line.id.partition(":")[2])
    assert low < high


def test_bitumen_without_a_separation_strip_stops_the_roof():
    rates = rooms.demo_rates()
    bare = tuple(i for i in rates.items if i.name != items.SEPARATION)
    found = items.work(worked("garage").roof, bare, rates.screw, "demo")
    assert one(found.findings, "bitumen-on-rubber").level == "stop"
    assert not codes(items.work(worked("garage").roof, rates.items, rates.screw, "demo").findings)


def test_the_overlay_board_makes_the_fascia_deeper():
    plain, thick = worked("garage"), worked("garage", **{"design.overlay_mm": 18})
    assert thick.seen["lengths"][7] - plain.seen["lengths"][7] == 18
    assert [w.seen["lengths"][7] for w in (plain, thick)] == [90, 108]


@pytest.mark.parametrize(("need", "names"), [
    (200.0, ("b",)), (201.0, ("c",)), (310.0, ("b", "a")), (470.0, ("c", "b")), (600.0, ("c",) * 3),
])  # fmt: skip
def test_a_fascia_deeper_than_any_board_is_made_of_two_or_more(need, names):
    depths = [(150.0, "a"), (200.0, "b"), (300.0, "c")]
    assert fascias.boards_for(need, depths, 25) == names


@pytest.mark.parametrize(("asbestos", "word"), [
    ("none_found", "skip"), ("not_sampled", "stopped"), ("found", "double-wrapped"),
])  # fmt: skip
def test_suspicion_of_asbestos_stops_the_felt(asbestos, word):
    s = plans.job(survey__covering__asbestos=asbestos).survey
    found = strip.work(plans.plan(), s.covering, s.deck, s.below, "remove", SKIPS)
    rows = {str(r[1]): r for r in found.streams.rows}
    assert word in str(rows["felt"][5])
    assert rows["felt"][4] == -(-float(rows["felt"][2]) // 20)
    assert all("stopped" not in str(r[5]) for n, r in rows.items() if n != "felt")


def test_the_drip_trim_and_the_pipe_tell_by_how_much_the_edge_rises():
    w = worked("garage")
    lines = {line.id: line.note for line in w.lengths.order}
    hung = w.water.hung[0]
    side = w.plan.side(hung.side)
    up = w.rise.chosen_mm + max(w.falls.added_at(side.a), w.falls.added_at(side.b))
    assert f"{hung.side}: the edge shows {up:.0f} mm more" in lines["length:drip-trim"]
    pipe = next(note for id_, note in lines.items() if id_.startswith("length:downpipe"))
    assert f"{hung.side}: {hung.lift.value:.0f} mm longer than the old one" in pipe
