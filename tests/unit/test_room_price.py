"""The price room: every line a quantity times a rate, and sums that agree to the penny."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from tests.unit import rooms
from tests.unit.plans import codes, one

from evenfall.errors import InvalidInput
from evenfall.stages.price import notices, price
from evenfall.stages.price.lookup import Lookup

NAMES = ("garage", "rear-extension", "courtyard")


def worked(name="garage", rates=None, **changes: object):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes), rates)


def priced(name="garage", rates=None, **changes: object):
    return rooms.priced(worked(name, rates, **changes))


def line(found, id_: str):
    return next(x for x in found.lines if x.id == id_)


@pytest.mark.parametrize("name", NAMES)
def test_the_cost_is_the_sum_of_the_lines_and_the_total_that_of_its_parts(name):
    found = priced(name)
    cost = sum(x.pence for x in found.lines)
    assert found.cost.value == cost
    assert found.overhead.value == round(cost * 12.5 / 100)
    assert found.margin.value == round((cost + found.overhead.value) * 14 / 100)
    net = cost + found.overhead.value + found.margin.value
    assert found.net.value == net
    assert found.total.value == net + round(net * found.vat_percent / 100)


@pytest.mark.parametrize("name", NAMES)
def test_the_stages_add_up_to_the_last_penny(name):
    found = priced(name)
    assert sum(s.pence for s in found.stages) == found.total.value
    assert sum(s.percent for s in found.stages) == pytest.approx(100)


@pytest.mark.parametrize("name", NAMES)
def test_every_line_is_its_quantity_times_its_rate(name):
    for x in priced(name).lines:
        assert abs(x.quantity.value * x.rate_pence - x.pence) <= 0.5 + 1e-6
        assert x.pence == int(x.pence)
        assert x.basis == "demo"


@pytest.mark.parametrize("name", NAMES)
def test_every_order_line_is_priced_once_as_it_is_bought(name):
    w = worked(name)
    lines = [x for x in rooms.priced(w).lines if x.block == "materials"]
    assert [(x.id, x.quantity.value) for x in lines] == [(o.id, o.bought) for o in w.order]


def test_packs_are_priced_as_the_rates_have_them():
    w, found = worked("rear-extension"), priced("rear-extension")
    assert line(found, "board:pir-foil:140").pence == w.boards.bought * 7560
    assert line(found, "item:primer").pence == 4190 + 2380  # 5 and 2.5 litres
    assert line(found, "screw:120").pence == 7950
    sheet = w.sheet.order[0]
    assert line(found, sheet.id).pence == round(sheet.bought * 894)
    assert line(found, "length:downpipe-68").pence == round(4.0 * 425)


def test_an_order_line_of_no_rate_is_refused():
    w = worked()
    with pytest.raises(InvalidInput, match="item:gold"):
        Lookup(w.rates).pence(replace(w.items.order[0], id="item:gold"))


def test_bays_of_one_task_make_one_line_and_no_hours_make_none():
    found = priced()
    labour = {x.id: x for x in found.lines if x.block == "labour"}
    assert set(labour) == {"task:strip", "task:sheet"}
    assert labour["task:strip"].pence == round(9.5 * 3180)
    assert labour["task:sheet"].pence == round(5.25 * 3180)


def test_charges_go_by_their_units():
    w, found = worked(), priced()  # 7 to 14 December: four days, eight in the calendar, two weeks
    assert line(found, "charge:van").quantity.value == 4
    assert line(found, "charge:toilet").quantity.value == 2
    assert line(found, "charge:night-cover").quantity.value == 3
    assert line(found, "charge:delivery").quantity.value == 1
    assert line(found, "charge:scaffold").quantity.value == w.plan.perimeter.value


@pytest.mark.parametrize(("last", "weeks"), [(date(2026, 12, 13), 1), (date(2026, 12, 14), 2)])
def test_a_week_is_seven_days_of_the_calendar(last, weeks):
    found = rooms.priced(worked(), days=(date(2026, 12, 7), last))
    assert line(found, "charge:toilet").quantity.value == weeks


def test_only_the_skip_that_was_chosen_is_charged():
    w, found = worked(), priced()
    skips = [x for x in found.lines if x.id.startswith("charge:skip-") and x.block == "strip"]
    assert [x.id for x in skips] == [f"charge:{w.strip.skip}"]
    assert skips[0].quantity.value == w.strip.skips.value


def test_a_charge_of_the_strip_that_is_no_skip_is_charged_too():
    charges = rooms.demo_rates().model_dump(mode="json")["charges"]
    chute = {"name": "chute", "says": "Rubble chute", "block": "strip", "unit": "day",
             "price_pence": 1250}  # fmt: skip
    found = priced(rates=rooms.rates_with(charges=[*charges, chute]))
    assert line(found, "charge:chute").pence == 4 * 1250


@pytest.mark.parametrize(("scheme", "charged"), [(True, False), (False, True)])
def test_the_building_notice_is_paid_outside_of_a_scheme(scheme, charged):
    rates = rooms.rates_with(firm__competent_person_scheme=scheme)
    ids = [x.id for x in priced(rates=rates).lines]
    assert ("charge:building-notice" in ids) is charged


def test_felt_that_was_not_sampled_is_charged_a_sample():
    ids = [x.id for x in priced("courtyard").lines]
    assert "charge:asbestos-sample" in ids
    assert "charge:asbestos-sample" not in [x.id for x in priced("garage").lines]


def test_the_minimum_charge_is_the_least():
    low = priced(rates=rooms.rates_with(terms__minimum_charge_pence=1_200_000))
    assert low.net.value == 1_200_000
    assert sum(s.pence for s in low.stages) == low.total.value == 1_440_000


def test_the_price_of_a_square_metre_is_without_vat():
    w = worked()
    found = rooms.priced(w)
    assert found.per_m2.value == pytest.approx(found.net.value / w.plan.gross.value)


def test_provisional_rates_are_told_and_not_in_the_total():
    found = priced()
    dear = rooms.demo_rates().model_dump(mode="json")["provisional"]
    more = priced(rates=rooms.rates_with(provisional=[p | {"price_pence": 99999} for p in dear]))
    assert more.total == found.total
    assert {p.pence for p in more.provisional} == {99999}


HELD_UNTIL = date(2026, 11, 2) + timedelta(days=45)


@pytest.mark.parametrize(("late", "told"), [(0, []), (1, ["prices-old"])])
def test_prices_are_old_a_day_after_they_held(late, told):
    found = rooms.priced(worked(), on=HELD_UNTIL + timedelta(days=late))
    assert [c for c in codes(found.findings) if c == "prices-old"] == told


def test_a_quotation_after_its_prices_and_its_first_day_is_stopped():
    late = rooms.priced(worked(), on=date(2027, 1, 20))
    assert one(late.findings, "prices-old").level == "stop"
    assert one(late.findings, "start-past").level == "stop"
    assert not {"prices-old", "start-past"} & set(codes(rooms.priced(worked()).findings))


def test_what_was_accepted_needs_no_price_or_day_that_still_holds():
    accepted = {"on": "2026-11-21", "net_pence": 100, "total_pence": 120, "prices": "0" * 12}
    late = rooms.priced(worked(**{"record.accepted": accepted}), on=date(2027, 1, 20))
    assert one(late.findings, "prices-old").level == "note"
    assert "start-past" not in codes(late.findings)


@pytest.mark.parametrize(
    ("on", "until"),
    [(date(2026, 11, 3), date(2026, 12, 3)), (date(2026, 12, 10), HELD_UNTIL)],
)
def test_the_quotation_holds_30_days_or_as_long_as_the_prices(on, until):
    assert rooms.priced(worked(), on=on).valid_until == until


def test_a_declared_zero_rate_without_a_reason_is_stopped():
    found = priced(**{"design.vat.case": "insulation_zero"})
    assert (found.vat_percent, found.vat.value) == (0, 0)
    assert one(found.findings, "vat-reason").level == "stop"


def test_a_line_is_rounded_to_the_whole_penny():
    assert price.times_rate(1.2345, 1000) == 1234
    assert price.percent_of(10005, 12.5) == 1251


@pytest.mark.parametrize(
    ("checked", "business", "told"),
    [(None, False, ["cancellation-unchecked"]), ("2026-11-01", False, []), (None, True, [])],
)
def test_the_firm_is_told_to_have_the_notice_of_cancellation_read(checked, business, told):
    firm = rooms.rates_with(firm__cancellation_checked_on=checked).firm
    found = tuple(notices.findings(firm, business))
    assert codes(found) == told
    assert all(f.basis == "from memory" for f in found)
    assert all("cancellation_checked_on" in f.remedy.says for f in found if f.remedy)
