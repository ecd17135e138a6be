"""Upstand strips of the sheet: cut from what is left of it, else from a longer cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from evenfall.errors import InvalidInput


@dataclass(frozen=True, slots=True)
class UpstandPlan:
    """How the upstand strips are found."""

    from_rest: int  # strips cut from what is left beside the sheet
    from_cut: int  # strips cut across a further cut of the roll
    cut_mm: int  # length of that further cut, whole steps; 0 where none is needed
    joined: int  # strips that had to be made of two or more
    from_notch: int = 0  # strips cut from the notches of the sheet


def plan_upstands(
    strips: Sequence[tuple[int, int]],
    rest: tuple[int, int],
    roll_mm: int,
    step_mm: int,
    lap_mm: int,
    notches: Sequence[tuple[int, int]] = (),
) -> UpstandPlan:
    """Find the strips that are dressed up kerbs.

    Parameters
    ----------
    strips : sequence of (int, int)
        Length and width of each [mm].
    rest : tuple of (int, int)
        Length and width of what is left beside the sheet; 0 for nothing [mm].
    roll_mm, step_mm : int
        Width of the roll, and the steps in which it is cut [mm].
    lap_mm : int
        Lap of two strips that are joined to one [mm].
    notches : sequence of (int, int)
        Rectangles of the sheet that lie beside the roof, as in the corner of an L [mm].

    Returns
    -------
    UpstandPlan
        What comes from the rest, and the further cut [mm].

    Examples
    --------
    >>> plan_upstands([(1100, 250)] * 4, (4500, 940), 7620, 100, 100)
    UpstandPlan(from_rest=4, from_cut=0, cut_mm=0, joined=0, from_notch=0)
    >>> plan_upstands([(1100, 250)] * 4, (4500, 200), 7620, 100, 100).cut_mm
    300
    """
    if min(roll_mm, step_mm, *(n for s in strips for n in s)) <= 0 or lap_mm >= roll_mm:
        raise InvalidInput(f"strips {list(strips)}", "sizes above 0 and a lap below the roll")
    if not strips:
        return UpstandPlan(0, 0, 0, 0)
    wide = max(w for _, w in strips)
    longest = max(roll_mm, rest[0] if rest[1] >= wide else 0)
    cuts = [part for long, _ in strips for part in _parts(long, longest, lap_mm)]
    beside = _packed(sorted(cuts, reverse=True), [rest[0]] * (rest[1] // wide))
    left = _packed(beside, [lane for notch in notches for lane in _lanes(notch, wide, beside)])
    across: list[int] = []
    for part in left:
        i = next((i for i, free in enumerate(across) if free >= part), len(across))
        across[i:] = [*across[i:]] or [roll_mm]
        across[i] -= part
    further = ceil(len(across) * wide / step_mm) * step_mm
    return UpstandPlan(
        len(cuts) - len(beside), len(left), further, len(cuts) - len(strips),
        len(beside) - len(left),
    )  # fmt: skip


def _parts(long: int, longest: int, lap: int) -> list[int]:
    """Cut a strip into as few parts as there must be, all alike."""
    number = 1 if long <= longest else ceil((long - lap) / (longest - lap))
    return [ceil((long + (number - 1) * lap) / number)] * number


def _lanes(notch: tuple[int, int], wide: int, cuts: list[int]) -> list[int]:
    """Divide a notch into lanes along it or across it, whichever gives more strips."""
    ways = [[along] * (across // wide) for along, across in (notch, notch[::-1])]
    return min(ways, key=lambda lanes: len(_packed(cuts, list(lanes))))


def _packed(cuts: list[int], lanes: list[int]) -> list[int]:
    """Take what fits into the lanes, the longest first; give back what does not."""
    left = []
    for cut in cuts:
        i = next((i for i, free in enumerate(lanes) if free >= cut), None)
        if i is None:
            left.append(cut)
        else:
            lanes[i] -= cut
    return left
