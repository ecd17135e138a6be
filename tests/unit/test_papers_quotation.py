"""What the client reads: complete, in plain words, and nothing of what the firm pays."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest
from tests.unit.papers import NAMES, changed, words, worked

from evenfall.drawing import Group
from evenfall.flow import WorkedJob, work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change, Finding
from evenfall.stages.papers.drawings import draw_client_plan
from evenfall.stages.papers.marking import place
from evenfall.stages.papers.quotation import quotation
from evenfall.stages.papers.telling import CLIENT, FIRM_ONLY, for_client, told

HIDDEN = ("margin", "overhead", "crew", "labour", "person-hour", "man-hour", "profit", "per hour")


@pytest.mark.parametrize("name", NAMES)
def test_no_word_of_what_the_firm_adds(name: str) -> None:
    text = words(quotation(worked(name))).lower()
    assert [w for w in HIDDEN if re.search(rf"\b{w}", text)] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_number_of_what_the_firm_pays_or_adds(name: str) -> None:
    price, terms = worked(name).price, worked(name).case.rates.terms
    text = words(quotation(worked(name)))
    hidden = [round(v.value) for v in (price.cost, price.overhead, price.margin)]
    hidden += [terms.labour_pence_hour, *(x.pence for x in price.lines if x.pence > 1000)]
    told_numbers = set(re.findall(r"\d+", text.replace(",", "")))
    shown = {g.pence for g in quotation(worked(name)).money.groups}
    shown |= {r.pence for r in quotation(worked(name)).money.rates}
    assert [h for h in hidden if str(h) in told_numbers and h not in shown] == []


def test_a_planted_cost_would_be_seen() -> None:
    price = worked("garage").price
    text = words((quotation(worked("garage")), f"cost {round(price.cost.value)}"))
    assert str(round(price.cost.value)) in set(re.findall(r"\d+", text))


@pytest.mark.parametrize("name", NAMES)
def test_sums_agree_to_the_penny(name: str) -> None:
    money = quotation(worked(name)).money
    assert sum(g.pence for g in money.groups) == money.net_pence
    assert money.net_pence + money.vat_pence == money.total_pence
    assert sum(s.pence for s in money.stages) == money.total_pence


@pytest.mark.parametrize("name", NAMES)
def test_each_matter_is_told_once_and_numbered_through(name: str) -> None:
    q = quotation(worked(name))
    told_ = [*q.stops, *q.agree, *q.rules, *q.know]
    assert sorted(t.number for t in told_) == list(range(1, len(told_) + 1))


@pytest.mark.parametrize("name", NAMES)
def test_nothing_that_must_be_settled_is_kept_from_the_client(name: str) -> None:
    codes = {f.code for f in worked(name).findings if f.level in ("stop", "agree")}
    told_codes = {f.code for f in for_client(worked(name))}
    assert codes - told_codes <= FIRM_ONLY


def test_what_only_the_firm_settles_is_no_stop_in_any_words() -> None:
    assert not FIRM_ONLY & CLIENT.keys()


@pytest.mark.parametrize("name", NAMES)
def test_marks_on_the_plan_bear_the_numbers_of_the_text(name: str) -> None:
    job = worked(name)
    found = for_client(job)
    layers = draw_client_plan(job).layers
    marks = next((x.items for x in layers if x.name == "chalk marks"), ())
    drawn = {g.key for g in marks if isinstance(g, Group)}
    placed = [t.number for t, f in zip(told(found), found, strict=True) if place(job, f.subject)]
    assert drawn == {f"finding:{n}" for n in placed}


def test_layers_stand_from_the_top_down() -> None:
    names = [x.name for x in quotation(worked("courtyard")).layers]
    assert names == ["Rubber sheet", "Overlay board", "Insulation", "Vapour control layer",
                     "Boarding", "Firrings", "Old roof"]  # fmt: skip


def test_two_layers_of_boards_are_said_so() -> None:
    layer = next(x for x in quotation(worked("courtyard")).layers if x.name == "Insulation")
    assert layer.thickness == "2 × 75 mm"


@pytest.mark.parametrize("name", NAMES)
def test_every_edge_and_opening_is_in_the_scope(name: str) -> None:
    job, q = worked(name), quotation(worked(name))
    named = " ".join(p.name for p in q.parts)
    assert all(s.name in named for s in job.plan.sides)
    assert Counter(o.name for o in job.plan.openings) == Counter(
        o.name for o in job.plan.openings if o.name.replace("-", " ") in named.lower()
    )


@pytest.mark.parametrize("name", NAMES)
def test_each_day_says_what_keeps_the_rain_out(name: str) -> None:
    days = quotation(worked(name)).days
    assert len(days) == len(worked(name).programme.days)
    assert all(("felt" in d.evening) or ("layer" in d.evening) or ("sheet" in d.evening)
               for d in days)  # fmt: skip


def test_a_job_with_a_stop_is_told_to_be_a_draft() -> None:
    kept = changed("rear-extension", ("design.gutter", "keep"))
    stops = {t.code for t in quotation(kept).stops}
    assert stops >= {"timber-wet", "gutter-small"}
    assert quotation(worked("garage")).stops == ()


def test_the_reason_for_no_vat_stands_beside_it() -> None:
    assert "reverse charge" in quotation(worked("courtyard")).money.vat_says
    assert quotation(worked("garage")).money.vat_says == ""


def test_the_insulation_rate_is_told_with_its_last_day() -> None:
    case = {"case": "insulation_zero", "reason": "asked"}
    said = quotation(_with_vat(case)).money.vat_says
    assert "31 March 2027" in said
    assert "5 %" in said


def _with_vat(vat: dict[str, str]) -> WorkedJob:
    before = worked("garage")
    job = apply(before.case.job, [Change("design.vat", vat), Change("design.options", [])])
    return work_out(replace(before.case, job=job), before)


def test_a_business_is_told_no_right_to_cancel() -> None:
    assert quotation(worked("courtyard")).words.cancel == ()
    assert quotation(worked("garage")).words.cancel != ()


def test_every_part_of_the_notice_to_cancel_is_there() -> None:
    q = quotation(worked("garage")).words
    told = " ".join([*q.cancel, q.start_early])
    for part in ("within 14 days without giving a reason", "day after the contract is made",
                 "letter, email or telephone", "the form below", "before the time is over",
                 "at the latest 14 days after", "the way you paid it", "ask for it here in writing",
                 "part of the price for what has been done"):  # fmt: skip
        assert part in told


def test_the_notice_of_cancellation_names_its_days() -> None:
    assert "14 days" in quotation(worked("garage")).words.cancel[0]


def test_a_kept_roof_without_falls_or_options_is_told_too() -> None:
    job = changed("garage", ("design.falls.kind", "keep"), ("design.options", ()))
    q = quotation(job)
    assert "Firrings" not in [x.name for x in q.layers]
    assert q.money.choices == ()


def test_planning_rise_is_told_with_its_numbers() -> None:
    said = next(t for t in quotation(worked("rear-extension")).rules if t.code == "planning-rise")
    rise = worked("rear-extension").rules.rise.value
    assert f"{rise:.0f} mm" in said.says
    assert "150 mm" in said.says


def test_a_quotation_whose_prices_ran_out_is_a_draft_in_the_clients_words() -> None:
    w = worked("garage")
    over = Finding("prices-old", "price", "stop", "Ask for new ones.", "the rates", "demo")
    assert quotation(w).stops == ()
    (stop,) = quotation(replace(w, findings=(over, *w.findings))).stops
    assert (stop.code, stop.says) == ("prices-old", CLIENT["prices-old"](over))
