"""Law of the trade: no evening with an open roof, or a stop that says why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import programme_roofs as roofs
from tests.unit.plans import plan

from evenfall.app.loading import load
from evenfall.flow import work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_follow import Stands
from evenfall.stages.programme.evening_water import Rain

EXAMPLES = Path(__file__).parents[2] / "examples"
NIGHTS = ("less than an hour", "sealed after dusk", "the crew has", " is open on ")
ALLOWED = {
    "bay-open": NIGHTS,
    "boards-bare": (*NIGHTS, "lie bare"),
    "vcl-nights": ("under its VCL for night",),
    "hands-short": ("takes 2 people",),
    "no-way-out": ("no way out", "is a bath"),
    "bath": ("is a bath",),
}
"""What each stop is an honest word for; any other fault is the planner's."""


def faults(of, time, outputs=roofs.OUTPUTS):
    """Faults of a programme that no stop of its own tells."""
    tasks, days = roofs.planned(of, time, outputs)
    stops = {f.code for f in (*tasks.findings, *days.findings) if f.level == "stop"}
    told = tuple(words for code in stops for words in ALLOWED[code])
    rain, stands = Rain(of.downhill, roofs.RAIN), Stands(of.vcl.nights)
    found = check(days, of.plan, tasks.tasks, time, rain, stands=stands)
    return [f for f in found if not any(words in f for words in told)], stops


LENGTHS = st.floats(1.4, 9.3).map(lambda v: round(v, 2))


@st.composite
def plans(draw):
    """An oblong or an L, leaning a little, perhaps with a rooflight in its foot."""
    x, y = draw(LENGTHS), draw(LENGTHS)
    lean = draw(st.sampled_from([0.0, 0.13]))
    openings = ()
    if min(x, y) > 2.9 and draw(st.booleans()):
        openings = (roofs.opening("rooflight", "light", 0.9, 0.8, 1.07, 0.83),)
    if draw(st.booleans()):
        ring = ((0.0, 0.0), (x, lean), (x - lean, y), (0.0, y))
        return plan(ring, ("eaves", "verge", "wall", "verge"), (0, 0, 2.7, 0), openings=openings)
    across, up = (draw(st.floats(0.35, 0.75)) for _ in range(2))
    if openings:
        across, up = max(across, 2.2 / x), max(up, 1.9 / y)
    u, v = round(x * across, 3), round(y * up, 3)
    ring = ((0.0, 0.0), (x, 0.0), (x, v), (u, v), (u, y), (0.0, y + lean))
    return plan(ring, roofs.L_KINDS, roofs.L_WALLS, openings=openings)


def outputs(factors):
    """Outputs of which each kind of work is quicker or slower by a factor of its own."""
    return tuple(
        o.model_copy(update={k: getattr(o, k) * f for k in ("low", "typical", "high")})
        for o, f in zip(roofs.OUTPUTS, factors, strict=True)
    )


FACTORS = st.lists(
    st.floats(0.4, 2.1), min_size=len(roofs.OUTPUTS), max_size=len(roofs.OUTPUTS)
).map(outputs)


@settings(max_examples=40)
@given(
    of=plans(),
    people=st.integers(1, 4),
    hours=st.sampled_from([5.0, 7.5, 10.0]),
    start=st.dates(date(2026, 12, 1), date(2027, 11, 30)),
    rates=FACTORS,
    saturdays=st.booleans(),
    nights=st.sampled_from([0, 1, 19, 19, 19]),
    downhill=st.sampled_from([(0.0, -1.0), (0.0, -1.0), (0.6, -0.8), (0.0, 1.0)]),
)
def test_every_evening_is_closed_or_a_stop_says_why(
    of, people, hours, start, rates, saturdays, nights, downhill
):
    roof = roofs.roof(of, vcl=replace(roofs.STICKY, nights=nights), downhill=downhill)
    time = roofs.when(people, start.isoformat(), hours, saturdays=saturdays)
    left, _ = faults(roof, time, rates)
    assert left == []


@settings(max_examples=15)
@given(of=plans(), people=st.integers(2, 4), which=st.integers(0, 99), bath=st.booleans())
def test_a_planted_open_evening_or_bath_is_always_caught(of, people, which, bath):
    roof, time = roofs.roof(of), roofs.when(people)
    tasks, days = roofs.planned(roof, time)
    begun = [n for n, d in enumerate(days.days) if any(c == "vcl" for _, c in d.evening.covers)]
    if not begun:
        return
    n = begun[which % len(begun)]
    evening = days.days[n].evening
    covers = [list(c) for c in evening.covers]
    if not bath:
        covers[which % len(covers)][1] = "open"
    kinds = {"eaves": "parapet"} if bath else {}
    sides = tuple(replace(s, kind=kinds.get(s.kind, s.kind)) for s in of.sides)
    changed = replace(evening, covers=tuple(map(tuple, covers)))
    spoilt = replace(days, days=tuple(
        replace(d, evening=changed) if i == n else d for i, d in enumerate(days.days)
    ))  # fmt: skip
    found = check(spoilt, replace(of, sides=sides), tasks.tasks, time, Rain(roofs.DOWN, roofs.RAIN))
    assert any(("is a bath" if bath else " is open on ") in f for f in found)


def test_a_plain_roof_and_an_ordinary_crew_need_no_stop():
    """The law above does not hold by stopping everything."""
    for of in (None, roofs.letter_l(), roofs.oblong(5.3, 5.8)):
        for people in (2, 3, 4):
            assert faults(roofs.roof(of), roofs.when(people)) == ([], set())


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
@pytest.mark.parametrize("people", [2, 3])
def test_an_example_is_closed_every_evening(name, people):
    case = load(EXAMPLES / name, date(2026, 11, 25)).case
    job = apply(case.job, (Change("design.options", []), Change("crew.people", people)))
    done = work_out(replace(case, job=job))
    time = roofs.When(job.crew, job.calendar, job.site.latitude_deg, job.site.longitude_deg)
    rain = Rain(done.falls.downhill, done.water.rain.value)
    assert check(done.programme, done.plan, done.tasks.tasks, time, rain) == ()
