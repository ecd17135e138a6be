"""Law of the trade: no evening with an open roof, or a stop that says why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
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
from evenfall.model.gated import Permit
from evenfall.stages.programme import gates
from evenfall.stages.programme.draft import QUICK, THOROUGH, draft
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_follow import Stands
from evenfall.stages.programme.evening_water import Rain, walked
from evenfall.stages.programme.least import least_days
from evenfall.stages.programme.outputs import Outputs

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


@settings(max_examples=24)
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


def told_open(days, n, bay):
    """Say of one bay on one evening that it is open."""
    covers = tuple((b, "open" if b == bay else c) for b, c in days.days[n].evening.covers)
    return on_evening(days, n, covers=covers)


def sheeted_early(days, n, bay):
    """Say of one bay on one evening that it has its sheet."""
    covers = tuple((b, "sheet" if b == bay else c) for b, c in days.days[n].evening.covers)
    return on_evening(days, n, covers=covers)


def on_evening(days, n, **changes):
    changed = replace(days.days[n], evening=replace(days.days[n].evening, **changes))
    return replace(days, days=tuple(changed if i == n else d for i, d in enumerate(days.days)))


def left_for_tomorrow(days, bay):
    """Take the VCL at the edges of a bay out of the day that opens it, into the next."""
    late = f"task:vcl-edges@{bay}"
    n = next(i for i, d in enumerate(days.days) if any(w == late for w, _ in d.work))
    mine = tuple(w for w in days.days[n].work if w[0] == late)
    made = list(days.days)
    made[n] = replace(made[n], work=tuple(w for w in made[n].work if w[0] != late), steps=())
    made[n + 1] = replace(made[n + 1], work=(*mine, *made[n + 1].work), steps=())
    return replace(days, days=tuple(made))


@settings(max_examples=20)
@given(
    of=plans(), people=st.integers(2, 4), which=st.integers(0, 99), rates=FACTORS,
    hours=st.sampled_from([6.5, 8.0, 9.5]),
    start=st.dates(date(2026, 12, 1), date(2027, 11, 30)),
    planted=st.sampled_from(["open", "not closed", "no way out", "a dam"]),
)  # fmt: skip
def test_a_planted_open_evening_or_bath_is_always_caught(
    of, people, which, rates, hours, start, planted
):
    """Over jobs of any shape, crew, outputs, hours and season."""
    roof, time = roofs.roof(of), roofs.when(people, start.isoformat(), hours)
    tasks, days = roofs.planned(roof, time, rates)
    rain = Rain(roofs.DOWN, roofs.RAIN)
    nights = [(n, d) for n, d in enumerate(days.days) if "vcl" in dict(d.evening.covers).values()]
    if not nights or any(f.level == "stop" for f in (*tasks.findings, *days.findings)):
        return  # a plan that says stop has its fault already
    n, day = nights[which % len(nights)]
    under = [b for b, c in day.evening.covers if c == "vcl"]
    bay, spoilt, plan_ = under[which % len(under)], days, of
    if planted == "open":
        spoilt = told_open(days, n, bay)
    elif planted == "not closed":
        spoilt = left_for_tomorrow(days, bay)
    elif planted == "no way out":
        sides = (replace(s, kind="parapet" if s.kind == "eaves" else s.kind) for s in of.sides)
        plan_ = replace(of, sides=tuple(sides))
    else:
        ways = walked(of, days.bays, roofs.DOWN)
        dams = [low for high in under for low in ways[high][1][1:] if low in under]
        if not dams:
            return
        spoilt = sheeted_early(days, n, dams[which % len(dams)])
    words = {"open": f"bay {bay} is open on", "not closed": f"bay {bay} is not closed on",
             "no way out": "is a bath", "a dam": "stands in the way"}  # fmt: skip
    assert check(days, of, tasks.tasks, time, rain) == ()
    assert any(words[planted] in f for f in check(spoilt, plan_, tasks.tasks, time, rain))


RAINY = st.dictionaries(
    st.integers(0, 11), st.sampled_from([(), ((0.0, 12.0),), ((11.0, 24.0),), ((0.0, 21.0),)]),
    max_size=6,
)  # fmt: skip


def sky_of(rainy):
    """The hours that some days leave dry; all other days are fair."""
    first = date(2027, 4, 12)
    return tuple(
        Permit(first + timedelta(days=n), g, hours)
        for n, hours in rainy.items() for g in gates.ALL if g.dry
    )  # fmt: skip


@settings(max_examples=10)
@given(
    of=plans(), people=st.integers(2, 4), rates=FACTORS, rainy=RAINY, dries=st.data(),
    steps=st.sampled_from([QUICK, THOROUGH]),
)  # fmt: skip
def test_more_hands_or_a_drier_forecast_never_finish_later(of, people, rates, rainy, dries, steps):
    """By the quick search and by the one to its proof; where neither has more evenings to stop."""
    gone = dries.draw(st.sets(st.sampled_from(sorted(rainy)))) if rainy else set()
    drier = {n: h for n, h in rainy.items() if n not in gone}

    def made(hands, rain):
        time = replace(roofs.when(hands), permits=sky_of(rain))
        return draft(roofs.roof(of), time, Outputs(rates, "planning seed"), hands, steps).laid

    plain = made(people, rainy)
    for better in (made(people + 1, rainy), made(people, drier)):
        if better.cost[0] <= plain.cost[0]:
            assert better.slots[-1].span.on <= plain.slots[-1].span.on


@settings(max_examples=25)
@given(
    of=plans(), people=st.integers(2, 4), rates=FACTORS, first_cut=st.booleans(),
    hours=st.sampled_from([6.5, 8.0, 10.0]), vcl=st.sampled_from([0, 2, 19]),
)  # fmt: skip
def test_no_cut_of_a_roof_takes_fewer_days_than_its_least(of, people, rates, first_cut, hours, vcl):
    """The bound over all bays, held against the bays of every cut that is tried."""
    roof = roofs.roof(of, vcl=replace(roofs.STICKY, nights=vcl))
    time, firm = roofs.when(people, hours=hours), Outputs(rates, "planning seed")
    laid = draft(roof, time, firm, people, QUICK, first_cut).laid
    if laid.cost[0] == 0:
        assert least_days(roof, time, firm, people) <= laid.cost[1]


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
    time = roofs.When(
        job.crew, job.calendar, job.job.nation, job.site.latitude_deg, job.site.longitude_deg
    )
    rain = Rain(done.falls.downhill, done.water.rain.value)
    assert check(done.programme, done.plan, done.tasks.tasks, time, rain) == ()
