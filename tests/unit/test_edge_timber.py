"""Edge timber course by course, the screws through it, and firrings two from one timber."""

from dataclasses import replace
from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import rooms

from evenfall.calc.layout.nesting import Wedge, alone, nest, pair_depth
from evenfall.calc.layout.stacks import stack_up
from evenfall.errors import InvalidInput
from evenfall.stages.takeoff import edge_timber, firring_timber, wood_screws

SOLD = (25, 38, 47, 50, 63, 75, 100)


def worked(name: str, rates=None, **changes: object):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes), rates)


@given(st.floats(10, 420), st.sets(st.sampled_from(SOLD), min_size=1))
@settings(max_examples=60, deadline=None)
def test_a_stack_is_never_lower_than_the_boards_and_the_thickest_lies_lowest(height, sold):
    found = stack_up(height, tuple(sold), 6)
    assert sum(found) >= height
    assert sum(found) - min(found) < height + 6  # no course could be left out and do as well
    assert list(found) == sorted(found, reverse=True)
    assert set(found) <= sold


def test_a_height_of_nothing_or_no_timber_is_refused():
    with pytest.raises(InvalidInput, match="above 0"):
        stack_up(0, SOLD, 6)
    with pytest.raises(InvalidInput, match="above 0"):
        stack_up(90, (), 6)


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_every_open_side_is_built_up_to_its_boards_and_every_course_is_cut_and_screwed(name):
    w = worked(name)
    high = w.rise.chosen_mm + w.build.overlay_mm
    cut = sum(r.need.value for r in w.lengths.runs if "edge-timber" in r.id)
    assert cut == pytest.approx(sum(c.length_mm for c in w.lengths.courses) / 1000, abs=0.01)
    for side in w.plan.of_kind("eaves", "verge", "party_line", "step"):
        mine = [c for c in w.lengths.courses if c.side == side.name]
        assert sum(c.thick_mm - c.planed_mm for c in mine) == ceil(high)
        assert all(c.planed_mm == 0 for c in mine[:-1])
    bought = {o.id: o for o in w.items.order}
    found, _ = wood_screws.choose(w.lengths.courses, w.rates.items)
    for screw, courses in found.items():
        need = sum(c.length_mm / w.fixings.edge_timber.value for c in courses)
        assert bought[f"item:{screw}"].bought >= need
        for c in courses:
            assert float(screw.rpartition("-")[2]) >= c.thick_mm + 30  # it bites 30 below


def test_thicker_boards_cost_more_edge_timber_and_weigh_more():
    thin, thick = (worked("garage", **{"design.thickness_mm": mm}) for mm in (90, 150))
    metres = [sum(r.need.value for r in w.lengths.runs if "edge-timber" in r.id)
              for w in (thin, thick)]  # fmt: skip
    assert [c.thick_mm for c in thick.lengths.courses if c.side == "A-B"] == [75, 75]
    price = [sum(x.pence for x in rooms.priced(w).lines if "edge-timber" in x.id)
             for w in (thin, thick)]  # fmt: skip
    assert metres[0] == pytest.approx(metres[1])  # two courses each, of thicker timber
    assert price[1] > price[0] * 1.4


def test_edge_timber_under_tapered_boards_is_as_high_as_they_are_along_each_side():
    w = worked("garage", **{"design.falls.kind": "tapered"})
    tops = {c.side: (c.low_mm, c.high_mm) for c in w.lengths.courses}
    low = w.falls.low_side
    assert tops[low][1] < max(high for _, high in tops.values())
    for side in w.plan.of_kind("eaves", "verge"):
        stack = [c.thick_mm for c in w.lengths.courses if c.side == side.name]
        assert sum(stack) >= tops[side.name][1]
    told = [o.note for o in w.lengths.order if "edge-timber" in o.id]
    assert any("sawn to the fall" in note for note in told)
    assert any(f.code == "taper-rows" and f.level == "note" for f in w.falls.findings)


def test_no_screw_long_enough_stops_the_order_and_one_too_long_is_said_before_ordering():
    w = worked("garage")
    short = tuple(i for i in w.rates.items if not i.name.startswith("wood-screws-"))
    found, far = wood_screws.choose(w.lengths.courses, short)
    [told] = wood_screws.findings(found, far, w.fixings.edge_timber)
    assert (told.code, told.level, told.limit) == ("edge-screw-short", "stop", 77)
    first = replace(w.lengths.courses[0], screw_mm=(77.0, 79.0))
    found, far = wood_screws.choose((first,), w.rates.items)
    [told] = wood_screws.findings(found, far, w.fixings.edge_timber)
    assert (told.code, told.level) == ("edge-screw-far", "agree")
    assert list(found) == list(far) == ["wood-screws-80"]


def wedges():
    return st.lists(
        st.tuples(st.integers(800, 5900), st.integers(20, 60), st.integers(60, 110)),
        min_size=1, max_size=7,
    ).map(lambda all_: [Wedge(f"firring-{n}", ((0, thin), (long // 2, (thin + thick) // 2 + 3),
                                              (long, thick)))
                        for n, (long, thin, thick) in enumerate(all_, 1)])  # fmt: skip


@given(wedges())
@settings(max_examples=40, deadline=None)
def test_nested_firrings_lie_in_their_timber_with_the_saw_cut_between_and_take_no_more(found):
    depths = (75, 100, 125, 150, 175)
    timbers = nest(found, depths, 4)
    assert sorted(w.name for t in timbers for w in t.wedges) == sorted(w.name for w in found)
    for t in timbers:
        assert t.depth_mm >= t.need_mm
        assert t.length_mm >= max(w.length_mm for w in t.wedges)
        if len(t.wedges) == 2:
            one, other = t.wedges
            for shift in (0, one.length_mm - other.length_mm):
                end = shift + other.length_mm
                places = range(max(0, shift), min(one.length_mm, end), 37)
                gap = min(t.need_mm - one.at(s) - other.at(end - s) for s in places)
                if gap >= 4 - 1e-6:
                    break
            else:
                pytest.fail("the two overlap wherever the shorter one is laid")
    singles = sum(alone(w, depths).cost for w in found)
    assert sum(t.cost for t in timbers) <= singles


def test_two_alike_take_thin_and_thick_end_and_the_cut():
    one = Wedge("a", ((0, 23), (3000, 78)))
    assert pair_depth(one, one, 4) == 23 + 78 + 4


def test_a_firring_higher_than_any_timber_has_a_whole_timber_under_it():
    w = worked("garage", **{"design.falls.one_in": 20, "design.falls.kind": "firrings"})
    few = tuple(s for s in w.seen["lengths"][8] if s.name != "firring-timber-225")
    low = tuple(s for s in few if not s.name.startswith("firring") or (s.depth_mm or 0) <= 100)
    timbers = firring_timber.timbers(w.falls, w.job.survey.joists, low, True)
    tall = {f.name for f in w.falls.firrings if f.thick_mm > 100}
    assert tall
    assert {n.partition(",")[0] for t in timbers for n in t.firrings if "under it" in n} == tall
    codes = rooms.codes(tuple(firring_timber.findings(w.falls, w.job.survey.joists, low, timbers)))
    assert codes == ["firring-tall"]


def test_firrings_as_wide_as_the_joist_are_picked_and_narrow_ones_are_said():
    w = worked("garage")
    sold = w.seen["lengths"][8]
    wide = w.job.survey.joists.model_copy(update={"width_mm": 75.0})
    timbers = firring_timber.timbers(w.falls, wide, sold, True)
    assert rooms.codes(tuple(firring_timber.findings(w.falls, wide, sold, timbers))) == [
        "firring-narrow"
    ]


def test_screws_of_the_lowest_course_may_go_as_deep_as_those_of_the_boards():
    deck = rooms.job("garage").survey.deck
    assert edge_timber.under(deck, True).most_mm == deck.thickness_mm + 15
    assert edge_timber.under(deck, False).most_mm == deck.thickness_mm + 40


def face(wedge: Wedge) -> float:
    """Area of its side [mm2]."""
    return sum((s1 - s0) * (h0 + h1) / 2 for (s0, h0), (s1, h1) in pairwise(wedge.heights))


@given(
    st.lists(st.integers(20, 900), min_size=2, max_size=4),
    st.sets(st.sampled_from((50, 75, 100, 150, 225)), min_size=1),
)
@settings(max_examples=60, deadline=None)
def test_parts_and_feet_of_a_tall_firring_fill_its_shape_and_no_more(highs, sold):
    whole = Wedge("firring-7", tuple((n * 1700, mm) for n, mm in enumerate(highs)))
    made = list(firring_timber._built_up(whole, sorted(sold)))
    assert all(part.thick_mm <= max(sold) for part, _ in made)
    feet = [foot for _, under in made for foot in under]
    assert {foot.depth_mm for foot in feet} <= sold
    filled = sum(face(part) for part, _ in made) + sum(f.depth_mm * f.length_mm for f in feet)
    assert filled == pytest.approx(face(whole), abs=whole.length_mm + 900 * len(made))


def test_the_low_part_of_a_tall_firring_is_not_lifted_by_the_timber_under_its_high_part():
    whole = Wedge("firring-1", ((0, 20), (6000, 300)))
    (low, none), (high, (foot,)) = firring_timber._built_up(whole, (100, 150, 225))
    assert (low.name, none) == ("firring-1, part 1", [])
    assert low.heights == ((0, 20), (4392, 225))
    assert (foot.depth_mm, foot.length_mm) == (100, 6000 - 4392)
    assert high.heights == ((0, 125), (1608, 200))


def test_only_the_courses_that_the_fall_cuts_are_sawn_and_their_screws_end_sooner():
    side = worked("garage").plan.of_kind("eaves")[0]
    sold = {47: "edge-timber-47", 75: "edge-timber-75"}
    first, top = edge_timber._side(side, (100.0, 150.0), sold, 6.0, edge_timber.Under(30.0, 33.0))
    assert (first.thick_mm, first.falls_mm, first.screw_mm) == (75, 0, (105.0, 108.0))
    assert (top.base_mm, top.falls_mm) == (75, 50)
    assert top.screw_mm == (75 + 30, 100 + 33)
    assert edge_timber.told((first, top), "edge-timber-75").count("sawn to the fall") == 1
    low, _ = edge_timber._side(side, (40.0, 150.0), sold, 6.0, edge_timber.Under(30.0, 33.0))
    assert low.screw_mm == (105.0, 73.0)
    [told] = wood_screws.findings(
        {}, {"wood-screws-110": [low]}, worked("garage").fixings.edge_timber
    )
    assert "105 mm long at the high end" in told.says
    assert "73 mm at most at the low end" in told.says
