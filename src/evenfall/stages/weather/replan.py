"""The rest of the plan placed again by a forecast: earliest end, fewest days moved.

A day of the plan moves whole, so that what it opens it still closes. Past the end of the forecast
every working day is taken to serve; the reserve for wet stands beside the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import product

from evenfall.calc.weather.placing import Placing, place
from evenfall.model.gated import Gates
from evenfall.model.morning import Move
from evenfall.model.programmed import Task
from evenfall.stages.programme.gang import span, works
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.site import SHEETING, kind
from evenfall.stages.weather.gates import passes
from evenfall.stages.weather.rest import Piece, Rest
from evenfall.stages.weather.sky import Sky, at_clock, light_day
from evenfall.stages.weather.under_vcl import Beyond, Since, Under, beyond, in_time, under
from evenfall.standards import programme_practice as practice

LOOKED = 60  # working days into which the rest of the plan must fit
MOST = 400  # calendar days looked through for them
MINUTES = 60
Closes = Callable[[date, tuple[Piece, ...]], bool]


@dataclass(frozen=True, slots=True)
class Replanned:
    """What is left, and the day of each part; None where it does not fit."""

    rest: tuple[Rest, ...]
    on: tuple[date, ...] | None
    every_order: bool = True  # whether all orders were gone through
    beyond: tuple[Beyond, ...] = ()  # bays that no order sheets while their VCL stands

    def of_day(self, on: date) -> Rest | None:
        """Find what is planned for a day."""
        for rest, day in zip(self.rest, self.on or (), strict=False):
            if day == on:
                return rest
        return None

    @property
    def fewest(self) -> bool:
        """Whether no other order of these days ends sooner, or as soon with fewer of them moved."""
        return self.on is not None and self.every_order

    @property
    def moves(self) -> tuple[Move, ...]:
        """What moved, and from when to when."""
        days = self.on or (None,) * len(self.rest)
        return tuple(
            Move(r.day.says, r.day.on, on)
            for r, on in zip(self.rest, days, strict=True) if on != r.day.on
        )  # fmt: skip


def replan(
    rest: tuple[Rest, ...], tasks: tuple[Task, ...], when: When, sky: Sky | None, now: date,
    begins: float = 0.0, closes: Closes = lambda on, pieces: True,
    vcl: tuple[int, Since] | None = None,
) -> Replanned:  # fmt: skip
    """Place what is left on the days that the forecast leaves.

    No bay lies under its VCL for longer than that stands; where no order of the days keeps to it,
    the days are placed without, and the bays are told that lie too long.

    Parameters
    ----------
    rest : tuple of Rest
        Days with work left [-].
    tasks : tuple of Task
        All work, with what comes before what [-].
    when : When
        Crew, calendar and place [-].
    sky : Sky, optional
        The forecast; without one every working day serves [-].
    now : date
        Today [-].
    begins : float
        Hour by the clock at which work can begin today [h].
    closes : callable
        Tells of a day and its work whether the clock and the weather let it be closed [-].
    vcl : (int, tuple of (bay, date)), optional
        Nights that the VCL stands, and since when closed bays lie under it [-].

    Returns
    -------
    Replanned
        The day of each part [-].
    """
    waiting = under(rest, tasks, vcl[1]) if vcl else ()
    days = tuple(_working(when, now))
    fits = [
        [d >= there and _fits(r, d, when, sky, begins if d == now else 0.0) for d in days]
        for r, there in ((r, _there(r, when)) for r in rest)
    ]
    problem = Placing(
        tuple(map(tuple, fits)), _before(rest, tasks), tuple((r.day.on - now).days for r in rest),
        _pairs(rest, tasks), tuple((d - now).days for d in days),
    )  # fmt: skip
    if vcl is None:
        return Replanned(rest, *_closed(problem, days, rest, closes))
    on, every = _closed(_kept_short(problem, waiting, days, vcl[0]), days, rest, closes)
    if on is not None:
        return Replanned(rest, on, every)
    on, every = _closed(problem, days, rest, closes)
    return Replanned(rest, on, every, beyond(waiting, on, vcl[0]) if on else ())


def _kept_short(
    problem: Placing, waiting: tuple[Under, ...], days: tuple[date, ...], nights: int
) -> Placing:
    """Ask that the sheet of every bay comes while its VCL stands."""
    fits = [list(row) for row in problem.fits]
    for u, (n, day) in product(waiting, enumerate(days)):
        fits[u.sheeting][n] &= in_time(u, day, nights)
    within = tuple(
        (u.closing, u.sheeting, nights)
        for u in waiting if u.closing is not None and u.closing != u.sheeting
    )  # fmt: skip
    return replace(problem, fits=tuple(map(tuple, fits)), within=within)


def _closed(
    problem: Placing, days: tuple[date, ...], rest: tuple[Rest, ...], closes: Closes,
) -> tuple[tuple[date, ...] | None, bool]:  # fmt: skip
    """Place the parts; the clock is asked only of days that are chosen, each it refuses is out."""
    fits = [list(row) for row in problem.fits]
    while True:
        placed, every = place(replace(problem, fits=tuple(map(tuple, fits))))
        if placed is None:
            return None, every
        open_ = [(n, d) for n, d in enumerate(placed) if not closes(days[d], rest[n].day.work)]
        if not open_:
            return tuple(days[d] for d in placed), every
        for n, d in open_:
            fits[n][d] = False


def _there(rest: Rest, when: When) -> date:
    """Find the first day on which all is there that a part waits for."""
    kinds = {kind(i) for i, _ in rest.day.work}
    strips = any(k.startswith("strip-") for k in kinds)
    return max(
        when.from_when("strip") if strips else date.min,
        when.from_when("sheet") if kinds & SHEETING else date.min,
    )


def _working(when: When, now: date) -> Iterator[date]:
    count = 0
    for n in range(MOST):
        on = now + timedelta(days=n)
        if works(on, when.calendar, when.nation):
            yield on
            count += 1
        if count == LOOKED:
            return


def _fits(rest: Rest, on: date, when: When, sky: Sky | None, begins: float) -> bool:
    """Tell whether light and weather of a day let a part be done."""
    light = span(on, when.crew, when.latitude, when.longitude)
    planned = span(rest.day.on, when.crew, when.latitude, when.longitude)
    late = max(light.opens, begins) - planned.opens
    if rest.need.opens:
        margin = practice.SEAL_MARGIN / MINUTES
        if rest.day.evening.sealed_by + late > min(light.closes, light.dusk) - margin + 1e-6:
            return False
    elif begins >= light.closes:
        return False
    return sky is None or weather_lets(rest, on, sky, late)


def weather_lets(rest: Rest, on: date, sky: Sky, late: float = 0.0) -> bool:
    """Tell whether the forecast of a day lets a part be done.

    Parameters
    ----------
    rest : Rest
        What is left of a day of the plan [-].
    on : date
        Which day [-].
    sky : Sky
        The forecast [-].
    late : float
        How much later than planned work begins [h].

    Returns
    -------
    bool
        Whether it does; True for a day that is not in the forecast [-].
    """
    if not sky.covers(*light_day(on)):
        return True
    asked, gates = rest.need, rest.gates
    first, shut = asked.first + late, asked.shut + late
    hours = sky.slice(at_clock(on, first), at_clock(on, max(shut, first + 1)))
    dry = passes(sky, Gates(dry=True))
    window = sky.slice(at_clock(on, first), at_clock(on, shut + asked.after))
    if asked.opens and not dry[window].all():
        return False
    if asked.shut > asked.first and (~dry[hours]).sum() > asked.wet_most:
        return False
    if not passes(sky, Gates(wind_m_s=gates.wind_m_s))[hours].all():
        return False
    warm = passes(sky, bonding(gates, asked.warm_night))
    return not asked.bond_h or int(warm[hours].sum()) >= asked.bond_h


def bonding(gates: Gates, warm_night: bool) -> Gates:
    """Keep what bonding asks for of some gates.

    Parameters
    ----------
    gates : Gates
        All gates [-].
    warm_night : bool
        Whether the night must be warm too [-].

    Returns
    -------
    Gates
        Dry, warm, clear of the dew point [-].
    """
    return Gates(
        True, gates.least_c, float(practice.STILL_COLD) if warm_night else 0.0, gates.dew_k
    )


def _before(rest: tuple[Rest, ...], tasks: tuple[Task, ...]) -> tuple[frozenset[int], ...]:
    """Find which parts must come before each: some of its work waits for some of theirs."""
    at: dict[str, set[int]] = {}
    for n, r in enumerate(rest):
        for id_, _ in r.day.work:
            at.setdefault(id_, set()).add(n)
    after = {t.id: t.after for t in tasks}
    found = []
    for n, r in enumerate(rest):
        first = {m for id_, _ in r.day.work for m in at[id_] if m < n}
        first |= {m for id_, _ in r.day.work for b in after.get(id_, ()) for m in at.get(b, ())}
        found.append(frozenset(m for m in first if m < n))
    return tuple(found)


def _pairs(rest: tuple[Rest, ...], tasks: tuple[Task, ...]) -> dict[int, int]:
    """Find the days that must follow one another: a sheet laid loose is bonded on the next."""
    zones = {t.id: t.bays for t in tasks if t.bays}
    found = {}
    for n in range(len(rest) - 1):
        one, two = ({zones[i] for i, _ in r.day.work if i in zones} for r in rest[n : n + 2])
        if one & two:
            found[n] = n + 1
    return found
