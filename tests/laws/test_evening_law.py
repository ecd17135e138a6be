"""Law of the trade: no evening with an open roof, or a stop that says why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.app.loading import load
from evenfall.flow import work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.roof import When

EXAMPLES = Path(__file__).parents[2] / "examples"
CASES = {
    name: load(EXAMPLES / name, date(2026, 11, 25)).case
    for name in ("garage", "rear-extension", "courtyard")
}
WHY = {"bay-open", "boards-bare", "vcl-nights", "hands-short", "no-way-out"}
PROVED = {"open", "sealed after dusk", "lie bare", "called", "no way out", "the crew has"}


@settings(max_examples=20)
@given(
    name=st.sampled_from(sorted(CASES)),
    people=st.integers(1, 5),
    hours=st.sampled_from([5.0, 7.5, 10.0]),
    start=st.dates(date(2026, 12, 1), date(2027, 8, 31)),
    slowness=st.sampled_from([0.6, 1.0, 1.7]),
    vcl=st.sampled_from(["bitumen-aluminium", "aluminium-polythene", "polythene"]),
)
def test_every_evening_is_closed_or_a_stop_says_why(name, people, hours, start, slowness, vcl):
    case = CASES[name]
    job = apply(
        case.job,
        (
            Change("design.options", []),
            Change("crew.people", people),
            Change("crew.hours_a_day", hours),
            Change("calendar.start_on", start.isoformat()),
            Change("design.vcl", vcl),
        ),
    )
    outputs = tuple(
        o.model_copy(update={k: getattr(o, k) * slowness for k in ("low", "typical", "high")})
        for o in case.rates.outputs
    )
    rates = case.rates.model_copy(update={"outputs": outputs})
    worked = work_out(replace(case, job=job, rates=rates))
    site = job.site
    when = When(job.crew, job.calendar, site.latitude_deg, site.longitude_deg)
    faults = check(worked.programme, worked.plan, worked.tasks.tasks, when)
    stops = {f.code for f in worked.findings if f.level == "stop"}
    if stops & WHY:
        assert all(any(word in fault for word in PROVED) for fault in faults), faults
    else:
        assert not faults
