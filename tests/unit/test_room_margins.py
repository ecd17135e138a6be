"""Margins: the profit, and what mishaps leave of it, each from its lines."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from tests.unit import rooms

from evenfall.model.job import Crew
from evenfall.stages.price import margins

NAMES = ("garage", "rear-extension", "courtyard")
CREW = Crew(people=3, hours_a_day=7.5)


def kept(name="garage", crew=CREW, rates=None, **changes: object):
    w = rooms.taken_off(rooms.changed(rooms.job(name), **changes), rates)
    price = rooms.priced(w)
    found = margins.work(price, w.plan, w.job.survey.deck, crew, rooms.programme(*rooms.DAYS),
                         w.rates)  # fmt: skip
    return SimpleNamespace(price=price, w=w, found=found)


def event(k, name: str):
    return next(e for e in k.found.events if e.id == f"event:{name}")


@pytest.mark.parametrize("name", NAMES)
def test_profit_is_the_net_price_less_its_lines_and_the_overhead(name):
    k = kept(name)
    lines = sum(x.pence for x in k.price.lines)
    assert k.found.profit.value == k.price.net.value - lines - k.price.overhead.value
    assert k.found.per_day.value == k.found.profit.value / 4
    assert k.found.share.value == pytest.approx(100 * k.found.profit.value / k.price.net.value)


def test_a_minimum_charge_is_profit_too():
    k = kept(rates=rooms.rates_with(terms__minimum_charge_pence=1_900_000))
    assert k.found.profit.value > k.price.margin.value


def test_rotten_deck_is_what_the_job_costs_more_when_its_deck_is_worked_so():
    base, more = kept(), rooms.taken_off(
        rooms.changed(rooms.job("garage"), **{"survey.deck.renew_percent": 34.0})
    )  # fmt: skip
    before = next(x for x in base.w.items.order if x.id == "item:deck-board")
    after = next(x for x in more.items.order if x.id == "item:deck-board")
    bought = event(base, "rotten-deck").costs.of[0][2]
    one = 2755
    assert abs(float(bought) - (after.bought - before.bought) * one) <= one


def test_a_deck_that_is_mostly_renewed_has_less_left_to_rot():
    k = kept(**{"survey.deck.renew_percent": 93.0})
    assert "7" not in event(k, "rotten-deck").says.split("m²")[0].split()[-1][:1]
    gross = k.w.plan.gross.value
    assert f"{gross * 0.07:.1f} m²" in event(k, "rotten-deck").says


def test_a_wet_week_pays_the_crew_and_keeps_the_hire():
    k = kept()
    day = 3890 + 2160 + (8200 + 4350) / 7
    assert event(k, "wet-week").costs.value == round(3 * 7.5 * 5 * 3180) + round(5 * day)
    assert event(k, "wet-week").back.value == 5 * 41800


def test_dearer_boards_are_a_tenth_of_the_boards():
    k = kept("rear-extension")
    boards = sum(x.pence for x in k.price.lines if x.id.startswith("board:"))
    assert event(k, "dearer-board").costs.value == round(boards / 10)
    assert event(k, "dearer-board").left_charged is None


@pytest.mark.parametrize("name", ["rotten-deck", "wet-week"])
def test_what_is_charged_as_agreed_is_kept(name):
    e = event(kept(), name)
    assert e.left_charged.value == e.left.value + e.back.value


def test_without_an_agreed_rate_the_firm_bears_it():
    k = kept()
    bare = k.w.rates.model_copy(update={"provisional": ()})
    found = margins.work(k.price, k.w.plan, k.w.job.survey.deck, CREW,
                         rooms.programme(*rooms.DAYS), bare)  # fmt: skip
    assert [e.left_charged for e in found.events] == [None, None, None]
    assert replace(found, events=()).profit == k.found.profit
