"""Days of work placed again on the days that the weather leaves: earliest end, fewest changes."""

from __future__ import annotations

from dataclasses import dataclass

Due = tuple[tuple[int, int], ...]
"""Days of work that are waited for, each with the last calendar day on which it may be done."""
Ways = dict[tuple[int, int, Due], "Way"]
"""By what is done, what was done the day before where something must follow it, what is due."""
Way = tuple[tuple[int, int], tuple[int, ...]]
"""Days of work moved and by how much; which was done on each day, -1 for none."""

FREE = 12  # days of work that may change places where not all can; later ones keep their order
MOST_WAYS = 6000  # states kept between two days, above which not every order is gone through


class _TooManyWays(Exception):
    """More states than are gone through."""


@dataclass(frozen=True, slots=True)
class Placing:
    """Days of work, and the days there are.

    Parameters
    ----------
    fits : tuple of tuple of bool
        Whether a day of work can be done on a day: work by days [-].
    before : tuple of frozenset of int
        Days of work that must be done earlier, for each [-].
    planned : tuple of int
        Day on which each was planned; below nought is past [d].
    next_to : dict
        Day of work that must come on the very next day, by the one before it [-].
    apart : tuple of int
        Calendar days from the first day to each day [d].
    within : tuple of (one, other, int)
        Of two days of work, the most calendar days from the first to the second [d].
    """

    fits: tuple[tuple[bool, ...], ...]
    before: tuple[frozenset[int], ...]
    planned: tuple[int, ...]
    next_to: dict[int, int]
    apart: tuple[int, ...]
    within: tuple[tuple[int, int, int], ...] = ()


def place(of: Placing) -> tuple[tuple[int, ...] | None, bool]:
    """Place every day of work: earliest end first, then fewest moved, then moved the least.

    Every order is gone through while that stays in bounds; else later days keep theirs.

    Parameters
    ----------
    of : Placing
        Days of work and days [-].

    Returns
    -------
    (days, every order)
        Day of each, by its number, None where they do not fit into the days there are; and whether
        every order was gone through, so that none is better [-].

    Examples
    --------
    >>> rain_first = ((False, True, True), (True, True, True))
    >>> either = (frozenset(), frozenset())
    >>> place(Placing(rain_first, either, (0, 1), {}, (0, 1, 2)))
    ((1, 0), True)
    >>> place(Placing(rain_first, (frozenset(), frozenset({0})), (0, 1), {}, (0, 1, 2)))
    ((1, 2), True)
    """
    if not all(map(any, of.fits)):
        return None, True
    for free in (len(of.fits), FREE):
        try:
            return _placed(of, free), free == len(of.fits)
        except _TooManyWays:
            continue
    return _placed(of, 0), False


def _placed(of: Placing, free: int) -> tuple[int, ...] | None:
    """Place the days; from the number ``free`` on each keeps behind the one before it."""
    count = len(of.fits)
    if not count:
        return ()
    before = [b | ({n - 1} if n >= free else set()) for n, b in enumerate(of.before)]
    for one, other in of.next_to.items():
        before[other] |= {one}
    masks = tuple(sum(1 << b for b in group) for group in before)
    ways: Ways = {(0, -1, ()): ((0, 0), ())}
    for day in range(len(of.apart)):
        ways = _next(of, masks, ways, day)
        if free and len(ways) > MOST_WAYS:
            raise _TooManyWays
        done = [w for (mask, *_), w in ways.items() if mask == (1 << count) - 1]
        if done:
            return _unfolded(min(done)[1], count)
    return None


def _next(of: Placing, masks: tuple[int, ...], ways: Ways, day: int) -> Ways:
    """Go on by one day from each state: what is done, and what was done on the day before."""
    found: Ways = {}

    def keep(state: tuple[int, int, Due], way: Way) -> None:
        if state not in found or way < found[state]:
            found[state] = way

    for (mask, last, due), (cost, chosen) in ways.items():
        if any(until < of.apart[day] for _, until in due):
            continue
        bound = of.next_to.get(last)
        if bound is not None:
            if of.apart[day] != of.apart[day - 1] + 1 or not of.fits[bound][day]:
                continue
            choices = [bound]
        else:
            choices = _ready(of, masks, mask, day)
            keep((mask, -1, due), (cost, (*chosen, -1)))
        for n in choices:
            moved = abs(of.planned[n] - of.apart[day])
            total = (cost[0] + bool(moved), cost[1] + moved)
            waited = _waited(of, due, n, of.apart[day])
            keep((mask | 1 << n, n if n in of.next_to else -1, waited), (total, (*chosen, n)))
    return found


def _waited(of: Placing, due: Due, n: int, today: int) -> Due:
    """Say what is due when one more day of work is done: what it starts the count for."""
    if not of.within:
        return due
    until = {m: d for m, d in due if m != n}
    for one, other, days in of.within:
        if one == n:
            until[other] = min(until.get(other, today + days), today + days)
    return tuple(sorted(until.items()))


def _ready(of: Placing, masks: tuple[int, ...], mask: int, day: int) -> list[int]:
    return [
        n
        for n in range(len(of.fits))
        if not mask >> n & 1 and masks[n] & ~mask == 0 and of.fits[n][day]
    ]


def _unfolded(chosen: tuple[int, ...], count: int) -> tuple[int, ...]:
    at = {n: day for day, n in enumerate(chosen) if n >= 0}
    return tuple(at[n] for n in range(count))
