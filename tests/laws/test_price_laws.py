"""Laws of money: nothing is lost or made by rounding, whatever the sums."""

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit import rooms

from evenfall.model.job import Calendar, Crew
from evenfall.model.rates import Stage
from evenfall.model.recorded import Accepted, Extra, Invoice, Signature
from evenfall.stages.papers.groups import share_out
from evenfall.stages.price import extras, invoices
from evenfall.stages.price.price import percent_of, split

PENCE = st.integers(0, 50_000_000)
SITE = extras.Site(
    Crew(people=2, hours_a_day=7.5),
    Calendar(start_on=date(2026, 12, 7)),
    "england",
    date(2026, 12, 18),
    14.0,
)
STAGES = ("deposit", "watertight", "membrane", "handover")


@st.composite
def stages(draw):
    cuts = sorted(draw(st.lists(st.integers(1, 9999), min_size=0, max_size=6, unique=True)))
    ends = [0, *cuts, 10_000]
    return tuple(
        Stage(name=f"s{i}", says=f"S{i}", percent=(b - a) / 100)
        for i, (a, b) in enumerate(pairwise(ends))
    )


@given(stages(), PENCE)
def test_stages_come_to_the_whole_sum(shares, pence):
    assert sum(s.pence for s in split(shares, pence)) == pence


@given(stages(), PENCE)
def test_no_stage_is_off_its_share_by_more_than_the_pence_of_the_others(shares, pence):
    for i, s in enumerate(split(shares, pence)):
        most = 0.5 if i < len(shares) - 1 else 0.5 * len(shares)
        assert abs(s.pence - pence * s.percent / 100) <= most + 1e-6


@given(PENCE, st.dictionaries(st.text("abcdef", min_size=1, max_size=3), PENCE, min_size=1))
def test_groups_come_to_the_net_price(net, weights):
    assert sum(share_out(net, weights).values()) == net


@pytest.fixture(scope="module")
def garage():
    w = rooms.taken_off(rooms.job("garage"))
    return w, rooms.priced(w)


FOUND = st.floats(0.01, 90, allow_nan=False).map(lambda v: round(v, 2))
RATES = ("hidden-deck", "joist-repair", "wet-quilt", "second-felt", "extra-day")


@given(
    net=st.integers(1, 9_000_000),
    found=st.lists(st.tuples(st.sampled_from(RATES), FOUND, st.integers(1, 28), st.booleans()),
                   max_size=5),
    days=st.lists(st.integers(1, 28), min_size=4, max_size=4),
)  # fmt: skip
def test_whatever_is_found_the_invoices_come_to_contract_and_signed_work(garage, net, found, days):
    w, price = garage
    done = date(2026, 12, 30)
    work = tuple(
        Extra(name=f"x{i}", rate=rate, found=q, where="W", found_on=date(2026, 12, d),
              signed=Signature(by="C", on=date(2026, 12, d)) if signed else None)
        for i, (rate, q, d, signed) in enumerate(found)
    )  # fmt: skip
    total = net + round(percent_of(net, 20))
    accepted = Accepted(on=done, net_pence=net, total_pence=total, prices="0" * 12)
    e = extras.work(work, accepted, price, w.plan, SITE, "standard", w.rates.provisional, "demo")
    bills = [Invoice(number=f"R{i}", stage=s, on=date(2026, 12, d))
             for i, (s, d) in enumerate(zip(STAGES, days, strict=True))]  # fmt: skip
    bills[-1] = bills[-1].model_copy(update={"on": done})
    made = invoices.work(tuple(bills), e, "standard", w.rates.terms.stages).invoices
    assert sum(i.total.value for i in made) == e.total.value
    assert made[-1].left_pence == 0
    for one in made:
        assert sum(x.net_pence + x.vat_pence for x in one.lines) == one.total.value
