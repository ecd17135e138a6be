"""Extra work and invoices: quantities beyond what is paid, days, and sums to the penny."""

from datetime import date
from types import SimpleNamespace

import pytest
from tests.unit import rooms
from tests.unit.plans import codes

from evenfall.errors import InvalidInput
from evenfall.model.job import Calendar, Crew
from evenfall.model.recorded import Accepted, Extra, Invoice, Photo, Signature
from evenfall.stages.price import extras, invoices

FOUND = date(2026, 12, 8)
SITE = extras.Site(
    Crew(people=2, hours_a_day=7.5),
    Calendar(start_on=date(2026, 12, 7)),
    "england",
    date(2026, 12, 18),
    14.0,
)


def extra(name, found, rate="hidden-deck", signed=True, on=FOUND, photo=True):
    return Extra(
        name=name, rate=rate, found=found, where="By the gutter", found_on=on,
        photo=Photo(file="a.jpg", sha256="0" * 64) if photo else None,
        signed=Signature(by="Mr Pryce", on=on) if signed else None,
    )  # fmt: skip


def worked(*found, accepted=None, case="standard", bills=(), site=SITE):
    w = rooms.taken_off(rooms.job("garage"))
    price = rooms.priced(w)
    e = extras.work(found, accepted, price, w.plan, site, case, w.rates.provisional, "demo")
    i = invoices.work(tuple(bills), e, case, w.rates.terms.stages)
    return SimpleNamespace(price=price, w=w, extras=e, invoices=i.invoices, findings=i.findings)


def allowed():
    return round(worked().w.plan.gross.value * 0.14, 2)


def test_deck_is_charged_beyond_what_the_price_holds_slip_after_slip():
    first, second = worked(extra("one", allowed() - 1.5), extra("two", 4.0)).extras.slips
    assert first.charged.value == 0
    assert first.total.value == 0
    assert second.charged.value == pytest.approx(2.5)
    assert second.net.value == round(2.5 * 6150)


def test_another_rate_is_charged_from_the_first():
    (slip,) = worked(extra("timber", 3.2, "joist-repair")).extras.slips
    assert slip.allowed is None
    assert slip.net.value == round(3.2 * 3420)
    assert slip.vat.value == round(slip.net.value * 0.2)


def test_an_unsigned_slip_is_held_and_not_in_the_total():
    e = worked(extra("timber", 3.2, "joist-repair", signed=False)).extras
    assert codes(e.findings) == ["extra-unsigned"]
    assert e.total.value == e.contract_total.value
    assert e.slips[0].new_total.value == e.contract_total.value + e.slips[0].total.value


def test_a_repair_without_a_photo_is_told():
    e = worked(extra("timber", 3.2, "joist-repair", photo=False)).extras
    assert [(f.code, f.level) for f in e.findings] == [("extra-without-photo", "agree")]


def test_days_move_the_finish_over_the_weekend():
    assert SITE.finish_on.weekday() == 4
    (slip,) = worked(extra("rain", 2, "extra-day")).extras.slips
    assert slip.new_finish == date(2026, 12, 22)
    (slip,) = worked(extra("timber", 3.2, "joist-repair")).extras.slips
    assert slip.days.value == pytest.approx(3.2 * 0.45 / 15)
    assert slip.new_finish == date(2026, 12, 21)


def test_parts_of_a_day_are_gathered_before_they_are_rounded_up():
    found = [extra(f"t{i}", 3.2, "joist-repair") for i in range(3)]
    assert worked(*found).extras.finish_on == date(2026, 12, 21)


def test_a_rate_that_was_not_agreed_is_refused():
    with pytest.raises(InvalidInput, match="hidden-deck"):
        worked(extra("gold", 1.0, "gilding"))


def bill(number, stage, on):
    return Invoice(number=number, stage=stage, on=on)


STAGES = ("deposit", "watertight", "membrane", "handover")
ALL = [bill(f"R{i}", s, date(2026, 12, 1 + 5 * i)) for i, s in enumerate(STAGES)]


def test_all_invoices_come_to_contract_and_signed_work_to_the_penny():
    w = worked(extra("a", 9.33), extra("b", 2.7, "joist-repair"), bills=ALL)
    assert sum(i.total.value for i in w.invoices) == w.extras.total.value
    assert w.invoices[-1].left_pence == 0
    assert [i.final for i in w.invoices] == [False, False, False, True]


def test_each_stage_comes_to_what_the_quotation_says():
    w = worked(bills=ALL)
    assert [round(i.total.value) for i in w.invoices] == [s.pence for s in w.price.stages]
    assert sum(i.net.value for i in w.invoices) == w.price.net.value
    for one in w.invoices:
        assert abs(one.vat.value - one.net.value * 0.2) <= 1


def test_a_slip_is_billed_once_with_the_invoice_after_its_signature():
    w = worked(extra("b", 2.7, "joist-repair"), bills=reversed(ALL))
    billed = [[x.id for x in i.lines] for i in w.invoices]
    assert billed == [["stage:deposit"], ["stage:watertight"], ["stage:membrane", "extra:b"],
                      ["stage:handover"]]  # fmt: skip


def test_what_nobody_signed_is_left_out_and_told():
    w = worked(extra("b", 2.7, "joist-repair", signed=False), bills=ALL)
    assert codes(w.findings) == ["extra-not-billed"]
    assert sum(i.total.value for i in w.invoices) == w.extras.contract_total.value


def test_the_contract_is_what_was_accepted_even_when_the_job_has_moved():
    old = Accepted(on=FOUND, net_pence=1_000_001, total_pence=1_200_001, prices="0" * 12)
    w = worked(accepted=old, bills=ALL)
    assert sum(i.total.value for i in w.invoices) == 1_200_001
    assert codes(w.extras.findings) == ["accepted-moved", "accepted-other-prices"]


def as_accepted(**changed):
    price = worked().price
    told = {"on": FOUND, "net_pence": round(price.net.value),
            "total_pence": round(price.total.value), "prices": price.mark}  # fmt: skip
    return Accepted(**{**told, **changed})


def test_what_was_accepted_as_it_stands_is_not_worth_a_word():
    assert codes(worked(accepted=as_accepted()).extras.findings) == []


def test_other_prices_than_the_accepted_ones_are_to_be_agreed():
    (found,) = worked(accepted=as_accepted(prices="1" * 12)).extras.findings
    assert (found.code, found.level) == ("accepted-other-prices", "agree")
    assert "rates-111111111111.yaml" in found.remedy.says


def test_sums_that_no_rate_of_vat_joins_stop():
    total = round(worked().price.net.value * 1.13)
    found = worked(accepted=as_accepted(total_pence=total)).extras.findings
    assert ("accepted-sums", "stop") in [(f.code, f.level) for f in found]


def test_a_reverse_charge_declared_after_acceptance_bills_no_vat_and_is_told():
    found = [extra("b", 2.7, "joist-repair")]
    w = worked(*found, accepted=as_accepted(), case="reverse_charge", bills=ALL)
    assert codes(w.extras.findings) == ["accepted-vat-moved"]
    for one in w.invoices:
        assert {(x.vat_percent, x.vat_pence) for x in one.lines} == {(0, 0)}
        assert one.total.value == one.net.value
    assert [i.left_pence for i in w.invoices][-1] == 0
    net = round(worked().price.net.value)
    assert w.invoices[0].left_pence == net - w.invoices[0].net.value


def test_a_stage_on_no_invoice_is_told_with_its_sum():
    w = worked(bills=ALL[:2] + ALL[3:])
    (found,) = w.findings
    assert (found.code, found.level) == ("account-open", "agree")
    assert round(found.value * 100) == w.invoices[-1].left_pence == w.price.stages[2].pence
    assert f"£{found.value:,.2f} is on no invoice" in found.says
    assert "membrane" in found.says


def test_a_slip_signed_after_the_final_invoice_is_told_with_its_sum():
    w = worked(extra("b", 2.7, "joist-repair", on=date(2026, 12, 20)), bills=ALL)
    (found,) = w.findings
    assert found.code == "account-open"
    assert round(found.value * 100) == w.extras.slips[0].total.value


def test_a_stage_after_the_end_of_a_rate_bears_the_new_rate():
    late = [bill("R1", "deposit", date(2027, 3, 31)), bill("R2", "handover", date(2027, 4, 1))]
    w = rooms.taken_off(rooms.changed(
        rooms.job("garage"), **{"design.vat": {"case": "insulation_zero", "reason": "asked"}}
    ))  # fmt: skip
    price = rooms.priced(w)
    e = extras.work((), None, price, w.plan, SITE, "insulation_zero", w.rates.provisional, "demo")
    first, last = invoices.work(tuple(late), e, "insulation_zero", w.rates.terms.stages).invoices
    assert (first.vat.value, first.lines[0].vat_percent) == (0, 0)
    assert (last.vat.value, last.lines[0].vat_percent) == (round(last.net.value * 0.05), 5)


def test_no_vat_is_billed_under_the_reverse_charge():
    w = rooms.taken_off(rooms.changed(rooms.job("garage"), **{"design.vat.case": "reverse_charge"}))
    price = rooms.priced(w)
    e = extras.work(
        (extra("b", 2.7, "joist-repair"),),
        None,
        price,
        w.plan,
        SITE,
        "reverse_charge",
        w.rates.provisional,
        "demo",
    )
    made = invoices.work(tuple(ALL), e, "reverse_charge", w.rates.terms.stages).invoices
    assert {i.vat.value for i in made} == {0}


@pytest.mark.parametrize(
    ("bills", "told"),
    [
        ([bill("R1", "topping-out", FOUND)], "deposit, watertight"),
        ([bill("R1", "deposit", FOUND), bill("R2", "deposit", FOUND)], "R1 has it"),
        ([bill("R1", "deposit", FOUND), bill("R1", "membrane", FOUND)], "a number of its own"),
    ],
)
def test_a_wrong_invoice_is_refused(bills, told):
    with pytest.raises(InvalidInput, match=told):
        worked(bills=bills)
