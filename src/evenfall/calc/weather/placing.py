"""Days of work placed again on the days that the weather leaves: earliest end, fewest changes."""

from __future__ import annotations

from dataclasses import dataclass

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
    """

    fits: tuple[tuple[bool, ...], ...]
    before: tuple[frozenset[int], ...]
    planned: tuple[int, ...]
    next_to: dict[int, int]
    apart: tuple[int, ...]


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
    try:
        return _placed(of, len(of.fits)), True
    except _TooManyWays:
        return _placed(of, FREE), False


def _placed(of: Placing, free: int) -> tuple[int, ...] | None:
    """Place the days; from the number ``free`` on each keeps behind the one before it."""
    count = len(of.fits)
    if not count:
        return ()
    before = [b | ({n - 1} if n >= free else set()) for n, b in enumerate(of.before)]
    for one, other in of.next_to.items():
        before[other] |= {one}
    masks = tuple(sum(1 << b for b in group) for group in before)
    ways: dict[tuple[int, int], Way] = {(0, -1): ((0, 0), ())}
    for day in range(len(of.apart)):
        ways = _next(of, masks, ways, day)
        if free > FREE and len(ways) > MOST_WAYS:
            raise _TooManyWays
        done = [w for (mask, _), w in ways.items() if mask == (1 << count) - 1]
        if done:
            return _unfolded(min(done)[1], count)
    return None


def _next(
    of: Placing, masks: tuple[int, ...], ways: dict[tuple[int, int], Way],
    day: int,
) -> dict[tuple[int, int], Way]:  # fmt: skip
    """Go on by one day from each state: what is done, and what was done on the day before."""
    found: dict[tuple[int, int], Way] = {}

    def keep(state: tuple[int, int], way: Way) -> None:
        if state not in found or way < found[state]:
            found[state] = way

    for (mask, last), (cost, chosen) in ways.items():
        bound = of.next_to.get(last)
        if bound is not None:
            if of.apart[day] != of.apart[day - 1] + 1 or not of.fits[bound][day]:
                continue
            choices = [bound]
        else:
            choices = _ready(of, masks, mask, day)
            keep((mask, -1), (cost, (*chosen, -1)))
        for n in choices:
            moved = abs(of.planned[n] - of.apart[day])
            total = (cost[0] + bool(moved), cost[1] + moved)
            keep((mask | 1 << n, n if n in of.next_to else -1), (total, (*chosen, n)))
    return found


def _ready(of: Placing, masks: tuple[int, ...], mask: int, day: int) -> list[int]:
    return [
        n
        for n in range(len(of.fits))
        if not mask >> n & 1 and masks[n] & ~mask == 0 and of.fits[n][day]
    ]


def _unfolded(chosen: tuple[int, ...], count: int) -> tuple[int, ...]:
    at = {n: day for day, n in enumerate(chosen) if n >= 0}
    return tuple(at[n] for n in range(count))
