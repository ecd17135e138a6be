"""Morning: from what is really done and a fresh forecast, what to open and when to stop."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from evenfall.model.forecast import Forecast
from evenfall.model.gated import Gates
from evenfall.model.morning import Morning, Opening
from evenfall.model.programmed import Programme, Task
from evenfall.model.surveyed import Plan, Point, Ring
from evenfall.stages.programme.gang import span, works
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.site import START, kind
from evenfall.stages.weather import loading, lying_open, telling, under_vcl
from evenfall.stages.weather.asked import joined, roofing
from evenfall.stages.weather.gates import permits_of
from evenfall.stages.weather.laid import Begun, closes, light
from evenfall.stages.weather.opening import STRIPPING, Ask, ask_of, opening, reach
from evenfall.stages.weather.replan import Closes, Replanned, replan
from evenfall.stages.weather.rest import SITE, Piece, Rest, left
from evenfall.stages.weather.situation import Situation, fresh
from evenfall.stages.weather.sky import Sky, clock_date, clock_hour, look
from evenfall.stages.weather.today import Today, bond_window
from evenfall.stages.weather.verdict import verdict


@dataclass(frozen=True, slots=True)
class Site:
    """The job, as far as a morning sees it."""

    plan: Plan
    programme: Programme
    tasks: tuple[Task, ...]
    when: When
    fall: tuple[Point, float]  # the way the water runs, and rainfall intensity, l/(s m2)
    nights: int  # that the VCL stands


def answer(site: Site, forecast: Forecast, now: Situation) -> Morning:
    """Answer for this morning.

    Parameters
    ----------
    site : Site
        Plan, programme, tasks, crew [-].
    forecast : Forecast
        Made within the last three hours [-].
    now : Situation
        The hour, what is done, hands, covers [-].

    Returns
    -------
    Morning
        What to open, when to stop, with whom, under what; what moved. The roofer decides [-].

    Raises
    ------
    InvalidInput
        The forecast cannot speak of this morning.
    """
    issued = fresh(forecast, now.at)
    when = site.when
    today = _today(when, look(forecast, when.latitude, when.longitude), now)
    rest = left(site.programme.days, site.tasks, now.done, when.crew.start_hour, now.contact)
    begun = Begun(
        site.plan, site.programme, site.tasks,
        replace(when, permits=permits_of(forecast, when.latitude, when.longitude),
                covers=now.covers), site.fall, site.nights, now.done,
        under_vcl.since(site.tasks, site.programme, now.done, dict(now.closed), today.on),
        (today.on, now.people),
    )  # fmt: skip

    @cache
    def closed(on: date, work: tuple[Piece, ...]) -> bool:
        begins = today.begins if on == today.on else 0.0
        return closes(begun, light(begun.when, on, begins), work)

    by_id = {t.id: t for t in site.tasks}

    def placed(closed: Closes) -> Replanned:
        return replan(rest, site.tasks, when, today.sky, today.on, today.begins, closed,
                      (site.nights, begun.since))  # fmt: skip

    def shut(on: date, work: tuple[Piece, ...]) -> bool:
        return closed(on, work) and not (on == today.on and _strips(work, by_id))

    moved = placed(closed)
    chosen = moved.of_day(today.on)
    first = chosen or (rest[0] if rest and _working(when, today.on) else None)
    ask = _ask(site, first, by_id, today, now)
    bays = _bays(first, by_id) if ask else ()
    late = moved.beyond or under_vcl.too_late(
        under_vcl.under(rest, site.tasks, begun.since), moved.on, bays, today.on, site.nights
    )
    open_ = lying_open.lying(site.tasks, now.done, chosen)
    may, fewer = _answers(ask, now, first, today, bool(late or open_))
    held = bool(open_) or (ask is not None and may is not None and _held(ask, may))
    if chosen and held and _strips(chosen.day.work, by_id):
        moved = placed(shut)  # what may not be opened today is not planned for today
        chosen = moved.of_day(today.on)
        open_ = lying_open.lying(site.tasks, now.done, chosen)
    stands_first = (*lying_open.first_of_all(open_), *under_vcl.told(late))
    does = _liftable(chosen, begun, today.on)
    asked = _bonded(chosen or first, by_id, now.contact)
    bond, bond_why = bond_window(asked, today)
    return Morning(
        on=today.on, asked=now.at, issued=issued, source=forecast.source,
        says=(*lying_open.asked(open_), *telling.said(does, may, by_id)),
        why=stands_first or _few(begun, today, first, chosen, ask)
        or telling.why(rest, first, chosen, today, ask, may),
        bays=bays,
        rings=tuple(b.ring for b in site.programme.bays if b.number in bays),
        closed=_closed(site, now), deck=site.plan.deck,
        bay_m2=ask.area_m2 if ask else 0.0, opening=may, fewer=fewer, begins=today.begins,
        ends=today.light.closes, dusk=today.light.dusk, reach_m2=reach(now.covers),
        covers=telling.covers(now.covers), water=telling.water(site.plan, site.programme),
        bond=bond, bond_why=bond_why,
        load=tuple(dict.fromkeys((*_load(_closing(first, open_, by_id), None, None, None, by_id),
                                  *_load(does, first, ask, may, by_id)))),
        hold=telling.hold(first if may and may.area_m2 else chosen, by_id),
        figures=telling.figures(first.gates if first else Gates(), today, may),
        hours=today.hours(asked), moves=moved.moves,
        finish_was=site.programme.finish_on, finish_on=_finish(moved, today.on),
        faults=verdict(begun, moved, today.on, today.begins), fewest=moved.fewest,
    )  # fmt: skip


def _closed(site: Site, now: Situation) -> tuple[Ring, ...]:
    """Find the bays of which all work up to the VCL is done."""
    open_ = {t.bay for t in site.tasks if t.bay is not None and t.id not in now.done}
    return tuple(b.ring for b in site.programme.bays if b.number not in open_)


def _today(when: When, sky: Sky, now: Situation) -> Today:
    on = clock_date(now.at)
    light = span(on, when.crew, when.latitude, when.longitude)
    return Today(on, light, max(light.opens, clock_hour(now.at)), sky)


def _working(when: When, on: date) -> bool:
    return works(on, when.calendar, when.nation)


def _finish(moved: Replanned, today: date) -> date | None:
    if not moved.rest:
        return today
    return max(moved.on) if moved.on else None


def _liftable(chosen: Rest | None, begun: Begun, on: date) -> Rest | None:
    """Leave out what the hands of today cannot lift."""
    if chosen is None:
        return None
    return replace(chosen, day=replace(chosen.day, work=begun.liftable(on, chosen.day.work)))


def _few(
    begun: Begun, today: Today, first: Rest | None, chosen: Rest | None, ask: Ask | None
) -> tuple[str, ...]:  # fmt: skip
    """Say that the hands are too few, where the whole crew could do what comes next."""
    crew, here = begun.when.crew.people, begun.people(today.on)
    if chosen is not None or first is None or ask is not None or here >= crew:
        return ()
    hours = light(begun.when, today.on, today.begins)
    if not closes(replace(begun, here=None), hours, first.day.work):
        return ()
    says = f"{here} of the crew of {crew} are there, too few for the next work"
    return (f"{says}: {first.day.says}.",)


def _closing(
    rest: Rest | None, bays: tuple[int, ...], by_id: dict[str, Task]
) -> Rest | None:  # fmt: skip
    """Keep the work that closes bays which lie open."""
    if rest is None or not bays:
        return None
    work = tuple((i, h) for i, h in rest.day.work if by_id[i].bay in bays)
    return replace(rest, day=replace(rest.day, work=work))


def _strips(work: tuple[Piece, ...], by_id: dict[str, Task]) -> bool:
    """Whether some work opens felt that is still closed."""
    return any(by_id[i].bay is not None and kind(i) in STRIPPING for i, _ in work)


def _held(ask: Ask, may: Opening) -> bool:
    """Whether nothing is opened, or no more than the covers reach over."""
    return not may.area_m2 or ask.reach_m2 < ask.area_m2


def _work(rest: Rest | None, by_id: dict[str, Task]) -> tuple[tuple[Task, float], ...]:
    return tuple((by_id[i], h) for i, h in rest.day.work) if rest else ()


def _bays(rest: Rest | None, by_id: dict[str, Task]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(t.bay for t, _ in _work(rest, by_id) if t.bay is not None))


def _bonded(rest: Rest | None, by_id: dict[str, Task], contact: bool) -> Gates | None:
    """Find what today's bonding asks for, if there is any."""
    found = [t.gates for t, _ in roofing(_work(rest, by_id)) if t.gates.dew_k]
    if not found:
        return None
    asked = joined(found)
    return replace(asked, then_h=0.0) if contact else asked


def _ask(
    site: Site, rest: Rest | None, by_id: dict[str, Task], today: Today, now: Situation
) -> Ask | None:
    """Add up the bays that were to be opened; None where none was."""
    bays = _bays(rest, by_id)
    if not bays or rest is None:
        return None
    area = sum(b.area_m2 for b in site.programme.bays if b.number in bays)
    tasks = [t for t, _ in _work(rest, by_id) if t.bay is not None or kind(t.id) in START]
    closing = joined(t.gates for t in tasks if t.bay is not None)
    dry_until = today.fails_from(Gates(dry=True, wind_m_s=closing.wind_m_s))
    dark = min(today.light.closes, today.light.dusk)
    hours = (today.begins, dry_until, dark)
    return ask_of(tasks, area, _site_hours(site.tasks), hours, reach(now.covers))


def _site_hours(tasks: tuple[Task, ...]) -> float:
    """Hours that opening the site costs each person on a slow day."""
    task = next((t for t in tasks if kind(t.id) == SITE), None)
    return task.hours_high / task.quantity.value if task and task.quantity.value else 0.0


def _load(
    chosen: Rest | None, first: Rest | None, ask: Ask | None, answer: Opening | None,
    by_id: dict[str, Task],
) -> tuple[str, ...]:  # fmt: skip
    """List what to load; for a part of a bay its share."""
    if chosen is not None:
        return loading.to_load(chosen.day, by_id)
    if first is None or ask is None or answer is None or not answer.area_m2:
        return ()
    share = answer.area_m2 / ask.area_m2
    part = tuple((i, h * share) for i, h in first.day.work if by_id[i].bay is not None)
    return loading.to_load(replace(first.day, work=part), by_id)


def _answers(
    ask: Ask | None, now: Situation, rest: Rest | None, today: Today, waits: bool
) -> tuple[Opening | None, Opening | None]:
    """Say how much to open, and how much with one person less."""
    if ask is None or rest is None:
        return None, None
    if not telling.can_stick(rest, today):
        ask = replace(ask, reach_m2=0.0)
    answer = opening(ask, now.people)
    if waits:  # a VCL lies too long already: no more is opened
        return replace(answer, area_m2=0.0), None
    fewer = opening(ask, now.people - 1) if now.people > 1 and answer.area_m2 else None
    return answer, fewer
