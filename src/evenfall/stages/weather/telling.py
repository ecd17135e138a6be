"""The words of a morning: what is done, why less is opened, covers, water, hold point, figures."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.gated import Gates
from evenfall.model.morning import Opening, ToldFigure
from evenfall.model.programmed import Programme, Task
from evenfall.model.surveyed import Plan
from evenfall.model.words import clock
from evenfall.stages.weather.gates import passes, worst
from evenfall.stages.weather.opening import LEAST, Ask
from evenfall.stages.weather.replan import bonding
from evenfall.stages.weather.rest import Rest
from evenfall.stages.weather.sky import clock_hour
from evenfall.stages.weather.today import Today
from evenfall.standards import programme_practice as practice
from evenfall.standards import take_off_practice


def said(
    chosen: Rest | None, answer: Opening | None, tasks: dict[str, Task]
) -> tuple[str, ...]:  # fmt: skip
    """Say what is done today, in the order of the work.

    Parameters
    ----------
    chosen : Rest, optional
        What the plan has for today [-].
    answer : Opening, optional
        What may be opened [-].
    tasks : dict
        Tasks by id [-].

    Returns
    -------
    tuple of str
        Each kind of work once [-].
    """
    if chosen is None:
        return ("open part of the next bay, and close it",) if answer and answer.area_m2 else ()
    return tuple(dict.fromkeys(tasks[i].says for i, _ in chosen.day.work))


def why(
    rest: tuple[Rest, ...], first: Rest | None, chosen: Rest | None, day: Today, ask: Ask | None,
    answer: Opening | None,
) -> tuple[str, ...]:  # fmt: skip
    """Say why nothing is opened, or less than the whole of today's bays.

    Parameters
    ----------
    rest : tuple of Rest
        What is left of the plan [-].
    first, chosen : Rest, optional
        What would come next, and what the weather lets be done today [-].
    day : Today
        The day [-].
    ask : Ask, optional
        What the bays take [-].
    answer : Opening, optional
        What may be opened [-].

    Returns
    -------
    tuple of str
        Reasons; none where all goes by the plan [-].
    """
    return tuple(_why(rest, first, chosen, day, ask, answer))


def _why(
    rest: tuple[Rest, ...], first: Rest | None, chosen: Rest | None, day: Today, ask: Ask | None,
    answer: Opening | None,
) -> Iterator[str]:  # fmt: skip
    if not rest:
        yield "All work is done."
        return
    if first is None:
        yield "Nobody works today, by the calendar."
        return
    if ask and answer and answer.area_m2 < ask.area_m2:
        yield from _less(ask, answer, first, day)
    elif chosen is None:
        yield f"The weather does not let the next work be done: {first.day.says}."


def _less(ask: Ask, answer: Opening, first: Rest, day: Today) -> Iterator[str]:
    """Say what holds the opening down."""
    if not can_stick(first, day):
        yield "The VCL could not be stuck today: too cold, or too near the dew point."
    elif ask.reach_m2 < LEAST:
        yield "No cover on the roof reaches over an open part: no cover, nothing opened."
    elif ask.reach_m2 < ask.area_m2 and answer.area_m2 + 1 > ask.reach_m2:
        yield f"The covers reach over {ask.reach_m2:.1f} m² of the {ask.area_m2:.1f}."
    extra = float(practice.DRY_WINDOW_EXTRA)
    if ask.dry_until - extra < ask.dark_at:
        wind = day.fails_from(Gates(dry=True)) > ask.dry_until
        until = "The wind lets it lie open only until" if wind else "Dry only until"
        shut = f"the roof must be shut {extra:.0f} hours before"
        by = f"by {clock(answer.seal_by)}" if answer.area_m2 else "too soon to open any of it"
        yield f"{until} {clock(ask.dry_until)}; {shut}, {by}."
    elif answer.area_m2 < min(ask.area_m2, ask.reach_m2) - 1:
        yield f"What is left of the day until {clock(answer.seal_by)} closes no more."


def can_stick(rest: Rest, day: Today) -> bool:
    """Tell whether the day has the hours for the bonding that closes a bay.

    Parameters
    ----------
    rest : Rest
        What is to be done [-].
    day : Today
        The day [-].

    Returns
    -------
    bool
        Whether half of the hours that it takes are there: a part of the bay takes less [-].
    """
    asked = rest.need
    if not asked.bond_h:
        return True
    may = passes(day.sky, bonding(rest.gates, asked.warm_night))
    hours = int(may[day.span(day.begins, day.light.closes)].sum())
    return 2 * hours >= asked.bond_h


def covers(on_roof: tuple[tuple[float, float], ...]) -> tuple[str, ...]:
    """Name the covers, and what holds them.

    Parameters
    ----------
    on_roof : tuple of (length, width)
        Covers that lie on the roof [m].

    Returns
    -------
    tuple of str
        One line each [-].
    """
    if not on_roof:
        return ()
    edge = float(take_off_practice.COVER_BEYOND)
    named = (f"a cover of {a:.1f} × {b:.1f} m, on the roof, ready" for a, b in on_roof)
    return (*named, f"battens, sandbags, sealant; {edge:g} m of cover all round the open part")


def water(plan: Plan, of: Programme) -> tuple[tuple[str, tuple[float, float]], ...]:
    """Say where tonight's water leaves, and which way that is.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    of : Programme
        The plan of the days [-].

    Returns
    -------
    tuple of (words, place)
        One entry for each way out [m].
    """
    sides = {s.id: s for s in plan.sides}
    openings = {o.id: o for o in plan.openings}
    ways = of.days[0].evening.water_leaves_by if of.days else ()
    found = []
    for id_ in ways:
        if id_ in sides:
            side = sides[id_]
            words = f"over {side.name} into the gutter, the gap in the edge timber open"
            found.append((words, side.place(side.length_m / 2)))
        elif id_ in openings:
            words = f"by the outlet {openings[id_].name}, swept, its plug out, its guard on"
            found.append((words, openings[id_].centre))
    return tuple(found)


def hold(rest: Rest | None, tasks: dict[str, Task]) -> str:
    """Name the first hold point of the day.

    Parameters
    ----------
    rest : Rest, optional
        What is done today [-].
    tasks : dict
        Tasks by id [-].

    Returns
    -------
    str
        Its number, when it is due and what must be true; empty where there is none [-].
    """
    for id_, _ in rest.day.work if rest else ():
        number = tasks[id_].hold_point
        if number is not None:
            point = practice.HOLD_POINTS[number]
            return f"Hold point {number}, {point.when}: {point.passes}."
    return ""


def figures(gates: Gates, day: Today, answer: Opening | None) -> tuple[ToldFigure, ...]:
    """List the least safe figure of each kind in the hours that matter.

    Parameters
    ----------
    gates : Gates
        What today's work asks for [-].
    day : Today
        The day [-].
    answer : Opening, optional
        What is opened; its dry window is looked at with two hours more [-].

    Returns
    -------
    tuple of ToldFigure
        Those that fail first [any].
    """
    end = day.light.closes
    if answer and answer.area_m2:
        end = max(end, answer.seal_by + float(practice.DRY_WINDOW_EXTRA))
    hours = day.span(day.begins, max(end, day.begins + 1))
    if hours.start >= min(hours.stop, len(day.sky.air)):
        return ()
    return tuple(
        ToldFigure(w.says, w.value, w.limit, w.unit, clock_hour(w.at), w.passes)
        for w in worst(day.sky, gates, hours)
    )
