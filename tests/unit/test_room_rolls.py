"""The rolls room: strips that cover the roof and its turn-ups, laid from the low side."""

import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union
from tests.unit import plans, rooms
from tests.unit.plans import codes

from evenfall.model.choice import Vcl
from evenfall.model.job import Deck
from evenfall.stages.takeoff import rolls

VCL = plans.build(plans.job()).vcl
DECK = plans.job().survey.deck


def worked(vcl: Vcl = VCL, mm: int = 140, deck: Deck = DECK):
    return rolls.work(plans.plan(), plans.falls(), vcl, mm, deck, "demo", 90.0)


def test_the_strips_cover_deck_and_turn_ups():
    found = worked()
    roof = box(-200, -200, 6400, 4300)  # 140 of board and 60 over it
    laid = unary_union([Polygon(s.ring) for s in found.strips])
    assert roof.difference(laid).area == pytest.approx(0)


def test_the_area_is_that_of_the_strips_with_their_laps():
    found = worked()
    assert found.area.value == pytest.approx(sum(s.length_mm * 1.08 for s in found.strips[:-1])
                                             / 1000 + found.strips[-1].length_mm
                                             * _width(found.strips[-1].ring) / 1e6)  # fmt: skip


def _width(ring) -> float:
    ys = [y for _, y in ring]
    return max(ys) - min(ys)


def test_the_first_strip_lies_at_the_low_side():
    lows = [min(y for _, y in s.ring) for s in worked().strips]
    assert lows[0] == -200
    assert lows == sorted(lows)


def test_the_rolls_bought_cover_the_strips():
    line = worked().order[0]
    assert line.bought >= line.need.value
    assert line.packs == ((2, 21.6, "roll of 1.08 × 20 m"),)


def test_a_thicker_board_asks_for_a_higher_turn_up():
    assert worked(mm=160).area.value > worked(mm=100).area.value


@pytest.mark.parametrize(("gap_mm", "told"), [(5.0, []), (5.1, ["vcl-gap"])])
def test_a_gap_wider_than_the_vcl_spans_is_to_be_agreed(gap_mm, told):
    deck = DECK.model_copy(update={"widest_gap_mm": gap_mm})
    found = worked(deck=deck).findings
    assert codes(found) == told
    assert [f.level for f in found] == ["agree"] * len(told)


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_the_deck_of_each_example_is_covered(name):
    w = rooms.taken_off(rooms.job(name))
    laid = unary_union([Polygon(s.ring) for s in w.rolls.strips]).buffer(1)  # whole millimetres
    deck = Polygon([(1000 * x, 1000 * y) for x, y in w.plan.deck])
    assert deck.difference(laid).area < 1
