"""The checker apart from the planner: every named fault, planted in a sound plan, is caught."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.model.gated import Permit
from evenfall.model.programmed import Booking, Day, Programme, Step, Tasks
from evenfall.model.surveyed import Plan, SashAt
from evenfall.stages.programme import gates
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_follow import Stands
from evenfall.stages.programme.evening_water import Rain
from evenfall.stages.programme.roof import When

LIGHT = roofs.opening("rooflight", "light", 1.1, 0.9, 1.06, 0.87)
PIPE = roofs.opening("pipe", "soil", 3.4, 1.2, 0.11, 0.11)
PANTRY = SashAt("window:pantry", "pantry", "side:C-D", (4.2, 2.9), "leave")
RAIN = Rain(roofs.DOWN, roofs.RAIN)
STANDS = Stands(roofs.STICKY.nights)


@dataclass(frozen=True)
class Case:
    plan: Plan
    tasks: Tasks
    programme: Programme
    when: When
    stands: Stands = STANDS


@pytest.fixture(scope="module")
def sound() -> Case:
    plan = replace(roofs.letter_l((LIGHT, PIPE)), sashes=(PANTRY,))
    time = roofs.when(3)
    tasks, programme = roofs.planned(roofs.roof(plan), time)
    return Case(plan, tasks, programme, time)


def faults(case: Case) -> str:
    return "; ".join(check(
        case.programme, case.plan, case.tasks.tasks, case.when, RAIN, stands=case.stands
    ))  # fmt: skip


def opening(case: Case) -> int:
    """The day on which bay 1 is stripped."""
    return next(n for n, d in enumerate(case.programme.days) if "strip-felt@1" in str(d.work))


def sheeting(case: Case) -> int:
    return next(n for n, d in enumerate(case.programme.days) if "sheet-unroll" in str(d.work))


def on_day(case: Case, n: int, change: Callable[[Day], Day]) -> Case:
    days = tuple(change(d) if i == n else d for i, d in enumerate(case.programme.days))
    return replace(case, programme=replace(case.programme, days=days))


def evening(case: Case, n: int, **changes: object) -> Case:
    return on_day(case, n, lambda d: replace(d, evening=replace(d.evening, **changes)))


def covered(case: Case, n: int, bay: int, cover: str) -> Case:
    covers = case.programme.days[n].evening.covers
    return evening(case, n, covers=tuple((b, cover if b == bay else c) for b, c in covers))


def stepped(case: Case, n: int, change: Callable[[Step], Step]) -> Case:
    return on_day(case, n, lambda d: replace(d, steps=tuple(map(change, d.steps))))


def unholed(case: Case, kind: str) -> Case:
    """Take the cover of one hole away on every evening."""
    days = tuple(
        replace(d, evening=replace(d.evening, holes=tuple(
            h for h in d.evening.holes if kind not in h.at)))
        for d in case.programme.days
    )  # fmt: skip
    return replace(case, programme=replace(case.programme, days=days))


def unshut(case: Case) -> Case:
    """Shut the windows at the end of the first day on which felt is cut."""
    n, shut = opening(case), ("task:shut-windows", 0.0)
    days = [replace(d, work=tuple(w for w in d.work if w != shut)) for d in case.programme.days]
    days[n] = replace(days[n], work=(*days[n].work, shut))
    return replace(case, programme=replace(case.programme, days=tuple(days)))


def torn(case: Case, n: int, start: str) -> Case:
    """Move some work of a day to the next morning."""
    first, second = case.programme.days[n : n + 2]
    late = tuple(w for w in first.work if w[0].startswith(start))
    days = list(case.programme.days)
    days[n] = replace(first, work=tuple(w for w in first.work if w not in late), steps=())
    days[n + 1] = replace(second, work=(*late, *second.work), steps=())
    return replace(case, programme=replace(case.programme, days=tuple(days)))


def weather(case: Case, n: int, *hours: tuple[float, float], of: str = "strip-felt@1") -> Case:
    """Forecast a day: only these hours are fit for the work named."""
    gates = next(t.gates for t in case.tasks.tasks if of in t.id)
    permit = Permit(case.programme.days[n].on, gates, hours)
    return replace(case, when=replace(case.when, permits=(permit,)))


def dropped(case: Case, task: str) -> Case:
    """Leave one piece of work, that takes no hours, out of a plan."""
    days = tuple(
        replace(d, work=tuple(w for w in d.work if w[0] != task),
                steps=tuple(s for s in d.steps if s.task != task))
        for d in case.programme.days
    )  # fmt: skip
    assert days != case.programme.days
    return replace(case, programme=replace(case.programme, days=days))


def rained_on_boards(case: Case) -> Case:
    """It rains for six minutes after the last board, before the sheet is unrolled."""
    n = sheeting(case)
    steps = case.programme.days[n].steps
    until = max(s.ends for s in steps if "cut-edges" in s.task or "boards" in s.task)
    down = max(s.ends for s in steps if "sheet-unroll" in s.task)
    late = stepped(case, n, lambda s: later(0.1)(s) if s.starts > until - 1e-6 else s)
    assert down > until
    permit = Permit(case.programme.days[n].on, gates.DRY, ((0.0, until), (until + 0.1, 24.0)))
    return replace(late, when=replace(late.when, permits=(permit,)))


def bonded_late(case: Case, days_later: int) -> Case:
    """Bond the sheet some days after it is laid loose, and all that follows as much later."""
    n, bonding = sheeting(case), ("sheet-field", "push-air", "second-pass")
    day = case.programme.days[n]
    late = tuple(w for w in day.work if w[0].removeprefix("task:").startswith(bonding))
    after = {i for i, _ in late}
    kept = replace(day, work=tuple(w for w in day.work if w[0] not in after), steps=())
    bonds = replace(day, on=day.on + timedelta(days=days_later), work=late, steps=())
    rest = tuple(replace(d, on=d.on + timedelta(days=7)) for d in case.programme.days[n + 1 :])
    days = (*case.programme.days[:n], kept, bonds, *rest)
    return replace(case, programme=replace(case.programme, days=days))


def awaiting(case: Case, before: str = "strip") -> Case:
    first = opening(case) if before == "strip" else sheeting(case)
    ready = case.programme.days[first].on + timedelta(days=1)
    late = Booking("scaffold", "Scaffold", "hired", 9, before, None, ready)
    return replace(case, when=replace(case.when, bookings=(late,)))


def other_bay(case: Case) -> Case:
    """Two gangs on bay 1: one strips while the other already lays VCL there."""
    n = opening(case)
    day = case.programme.days[n]
    vcl = next(s for s in day.steps if "vcl-adhesive@1" in s.task)
    strip = next(s for s in day.steps if "strip-felt@1" in s.task)
    moved = replace(vcl, starts=strip.starts, ends=strip.starts + vcl.ends - vcl.starts, gang=2)
    return stepped(case, n, lambda s: moved if s is vcl else s)


def alone(step: Step) -> Step:
    """Leave the sheet to one person, for as much longer as that takes."""
    if "sheet-field" not in step.task:
        return step
    return replace(step, people=1, ends=step.starts + step.people * (step.ends - step.starts))


def relaxed_less(case: Case) -> Case:
    n = sheeting(case)
    unrolled = next(s.ends for s in case.programme.days[n].steps if "sheet-unroll" in s.task)

    def early(s: Step) -> Step:
        if "sheet-field" not in s.task:
            return s
        return replace(s, starts=unrolled, ends=unrolled + s.ends - s.starts)

    return stepped(case, n, early)


def put_off(case: Case, nights: int) -> Case:
    """Put boards and sheet, and all after them, off by some days."""
    n = sheeting(case)
    days = tuple(
        replace(d, on=d.on + timedelta(days=nights)) if i >= n else d
        for i, d in enumerate(case.programme.days)
    )
    return replace(case, programme=replace(case.programme, days=days))


def later(hours: float) -> Callable[[Step], Step]:
    return lambda s: replace(s, starts=s.starts + hours, ends=s.ends + hours)


def walled(case: Case) -> Case:
    """The gutter side turns out to be a parapet: nothing leaves there."""
    first, *rest = case.plan.sides
    return replace(case, plan=replace(case.plan, sides=(replace(first, kind="parapet"), *rest)))


def dammed(_: Case) -> Case:
    """The lowest bay of a deep roof has boards and sheet while the rest lies under VCL."""
    plan, time = roofs.oblong(3.9, 8.3), roofs.when(2)
    case = Case(plan, *roofs.planned(roofs.roof(plan), time), time)
    low = min(case.programme.bays, key=lambda b: min(y for _, y in b.ring)).number
    return covered(case, sheeting(case) - 1, low, "sheet")


MUTATIONS: dict[str, tuple[Callable[[Case], Case], str]] = {
    "a bay is left open": (lambda c: covered(c, opening(c), 1, "open"), "bay 1 is open"),
    "stripped felt is told as felt": (
        lambda c: covered(c, opening(c), 1, "felt"), "bay 1 is called felt"),
    "a shower at one o'clock in a dry-evening plan": (
        lambda c: weather(c, opening(c), (0.0, 13.0), (13.5, 24.0)), "not dry until"),
    "rain while the felt comes off": (
        lambda c: weather(c, opening(c), (11.0, 24.0)), "the weather is not fit for it"),
    "dew while the sheet is bonded": (
        lambda c: weather(c, sheeting(c), (0.0, 9.0), of="sheet-field"), "not fit for it"),
    "the rooflight kerb has no cover tonight": (
        lambda c: unholed(c, "opening:light"), "nothing covers opening:light"),
    "a window over the open roof is not shut": (
        lambda c: unholed(c, "window:pantry"), "nothing says that window:pantry is shut"),
    "the windows are shut only after the first cut": (
        lambda c: unshut(c), "begins before task:shut-windows has ended"),
    "the covers on site are taken away": (
        lambda c: replace(c, when=replace(c.when, covers=((3.1, 3.2),))), "reaches 0.0"),
    "the gutter is off for the night": (
        lambda c: unholed(c, "side:A-B"), "nothing closes side:A-B"),
    "the gap in the edge timber is too short": (
        lambda c: evening(c, opening(c), gaps=()), "is too short"),
    "a low bay is boarded before the high ones": (dammed, "stands in the way"),
    "the only eaves is a parapet": (walled, "its water has no way out"),
    "water is told to leave by a verge": (
        lambda c: evening(c, opening(c), drains=tuple(
            replace(d, leaves_by="side:B-C") for d in c.programme.days[0].evening.drains)),
        "leaves by side:A-B"),
    "boards lie bare overnight": (
        lambda c: torn(c, sheeting(c), "task:sheet-unroll"), "lie bare"),
    "the VCL is finished the next morning": (
        lambda c: torn(c, opening(c), "task:vcl-edges@1"), "is not closed"),
    "boards and sheet come after the VCL has stood its nights": (
        lambda c: put_off(c, 21), "it stands 19"),
    "a VCL that may not be the roof for a night": (
        lambda c: replace(c, stands=Stands(0)), "bay 1 lies under its VCL for night 1"),
    "work goes on after dark": (
        lambda c: stepped(c, opening(c), later(7.5)), "ends after dark"),
    "two gangs on one spot": (other_bay, "two gangs on one spot"),
    "more hands than there are": (
        lambda c: stepped(c, opening(c), lambda s: replace(s, people=s.people + 1)), "more hands"),
    "one person lays the sheet": (lambda c: stepped(c, sheeting(c), alone), "is left to 1"),
    "the sheet has not relaxed": (relaxed_less, "rests 0.5 hours"),
    "no cover on the roof": (
        lambda c: on_day(c, opening(c), lambda d: replace(d, cover_m=(0.0, 0.0), people=1)),
        "the cover reaches 0.0"),
    "felt is cut before the scaffold is there": (awaiting, "scaffold is there on"),
    "boards and sheet are laid before they are delivered": (
        lambda c: awaiting(c, "sheet"), "boards or sheet are laid on"),
    "hold point 0 is left out": (
        lambda c: dropped(c, "task:before-strip"), "task:before-strip is neither done nor named"),
    "the well of the rooflight is never boarded": (
        lambda c: dropped(c, "task:board-well"), "task:board-well is neither done nor named"),
    "the windows are never shut": (
        lambda c: dropped(c, "task:shut-windows"), "task:shut-windows is neither done nor named"),
    "the last photographs are left out": (
        lambda c: dropped(c, "task:last-photographs"), "neither done nor named on any day"),
    "a shower on bare boards": (rained_on_boards, "does not stay dry until the sheet is down"),
    "a sheet lies loose for two nights": (lambda c: bonded_late(c, 2), "is not bonded by"),
    "a sheet lies loose for six nights": (lambda c: bonded_late(c, 6), "is not bonded by"),
    "a roof said to be shut an hour before it is": (
        lambda c: evening(c, opening(c), sealed_by=c.programme.days[opening(c)].evening.sealed_by
                          - 1), "is said to be shut"),
}  # fmt: skip


def test_the_plan_as_it_stands_has_no_fault(sound):
    assert faults(sound) == ""


def test_a_sheet_bonded_on_the_very_next_day_is_no_fault_of_its_own(sound):
    assert "is not bonded by" not in faults(bonded_late(sound, 1))


@pytest.mark.parametrize("name", MUTATIONS)
def test_a_planted_fault_is_caught(sound, name):
    mutate, told = MUTATIONS[name]
    assert told in faults(mutate(sound))


def test_the_checker_imports_nothing_that_makes_programmes():
    """Its own modules, the model, calc, standards, and who works when: no more."""
    import ast
    from pathlib import Path

    import evenfall.stages.programme as rooms

    allowed = {"evening_follow", "evening_clock", "evening_water", "roof"}
    for name in ("evening_check", *sorted(allowed)):
        source = Path(rooms.__path__[0]) / f"{name}.py"
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and "stages.programme" in (node.module or ""):
                assert node.module.rpartition(".")[2] in allowed
