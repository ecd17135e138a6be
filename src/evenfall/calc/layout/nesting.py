"""Firrings out of timbers: alone, or two sawn from one by a cut along it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from evenfall.errors import InvalidInput


@dataclass(frozen=True, slots=True)
class Wedge:
    """A piece with one straight face; its height at places along it, from one end."""

    name: str
    heights: tuple[tuple[int, int], ...]  # along it, height there [mm]

    @property
    def length_mm(self) -> int:
        """Length of the piece."""
        return self.heights[-1][0]

    @property
    def thick_mm(self) -> int:
        """Height of its thickest place."""
        return max(high for _, high in self.heights)

    def at(self, along: float) -> float:
        """Height at a place; nothing beyond its ends."""
        if not 0 <= along <= self.length_mm:
            return 0.0
        for (s0, h0), (s1, h1) in pairwise(self.heights):
            if along <= s1:
                return h0 + (h1 - h0) * (along - s0) / max(s1 - s0, 1)
        return float(self.heights[-1][1])


@dataclass(frozen=True, slots=True)
class Timber:
    """One piece of timber and the wedges that are sawn out of it."""

    wedges: tuple[Wedge, ...]
    depth_mm: int  # as sold
    need_mm: float

    @property
    def length_mm(self) -> int:
        """Length of the piece."""
        return max(w.length_mm for w in self.wedges)

    @property
    def cost(self) -> int:
        """Depth times length: what timber is paid by [mm2]."""
        return self.depth_mm * self.length_mm


def pair_depth(one: Wedge, other: Wedge, kerf_mm: float) -> float:
    """Find how deep a timber must be for two wedges, the second turned end for end.

    Both have their straight face on an outside of the timber; the saw runs between.

    Parameters
    ----------
    one, other : Wedge
        The wedges [mm].
    kerf_mm : float
        Width of the cut [mm].

    Returns
    -------
    float
        Depth, in the better of two places of the shorter one [mm].

    Examples
    --------
    >>> a = Wedge("a", ((0, 20), (3000, 60)))
    >>> pair_depth(a, a, 4)
    84.0
    """
    spare = one.length_mm - other.length_mm
    return min(_together(one, other, kerf_mm, shift) for shift in {0, spare})


def _together(one: Wedge, other: Wedge, kerf_mm: float, shift: int) -> float:
    """Depth with the thick end of the second that far from the first end of the first."""
    end = shift + other.length_mm
    places = {float(s) for s, _ in one.heights} | {float(end - s) for s, _ in other.heights}
    deep = float(max(one.thick_mm, other.thick_mm))
    for s in places:
        if 0 <= s <= one.length_mm and shift <= s <= end:
            deep = max(deep, one.at(s) + other.at(end - s) + kerf_mm)
    return deep


def nest(wedges: Sequence[Wedge], depths_mm: Sequence[int], kerf_mm: float) -> tuple[Timber, ...]:
    """Saw wedges from timbers, two from one where that takes less timber than one from each.

    Of each pair of neighbours, ordered by length and by height, the best pairing is found by
    going through them once; the better of the two orders is taken.

    Parameters
    ----------
    wedges : sequence of Wedge
        The pieces; none thicker than the deepest timber [mm].
    depths_mm : sequence of int
        Depths that are sold [mm].
    kerf_mm : float
        Width of the cut between two [mm].

    Returns
    -------
    tuple of Timber
        Every wedge in one of them [mm].

    Examples
    --------
    >>> a = Wedge("a", ((0, 20), (3000, 60)))
    >>> [(len(t.wedges), t.depth_mm) for t in nest([a, a, a], [50, 75, 100], 4)]
    [(2, 100), (1, 75)]
    """
    orders = (
        sorted(wedges, key=lambda w: (w.length_mm, w.thick_mm)),
        sorted(wedges, key=lambda w: (w.thick_mm, w.length_mm)),
    )
    found = (_paired(order, depths_mm, kerf_mm) for order in orders)
    return min(found, key=lambda timbers: sum(t.cost for t in timbers))


def alone(wedge: Wedge, depths_mm: Sequence[int]) -> Timber:
    """Saw one wedge from the shallowest timber that is deep enough.

    Parameters
    ----------
    wedge : Wedge
        The piece [mm].
    depths_mm : sequence of int
        Depths that are sold [mm].

    Returns
    -------
    Timber
        Timber and wedge [mm].

    Examples
    --------
    >>> alone(Wedge("a", ((0, 20), (3000, 60))), [50, 75]).depth_mm
    75
    """
    deep = _sold(wedge.thick_mm, depths_mm)
    if deep is None:
        raise InvalidInput(f"a wedge of {wedge.thick_mm} mm", f"at most {max(depths_mm)} mm",
                           where=wedge.name)  # fmt: skip
    return Timber((wedge,), deep, float(wedge.thick_mm))


def _sold(need: float, depths_mm: Sequence[int]) -> int | None:
    return min((d for d in depths_mm if d >= need), default=None)


def _paired(
    order: list[Wedge], depths_mm: Sequence[int], kerf_mm: float
) -> tuple[Timber, ...]:  # fmt: skip
    best: list[tuple[int, tuple[Timber, ...]]] = [(0, ())]
    for n, wedge in enumerate(order):
        single = alone(wedge, depths_mm)
        choice = best[n][0] + single.cost, (*best[n][1], single)
        if n:
            need = pair_depth(order[n - 1], wedge, kerf_mm)
            deep = _sold(need, depths_mm)
            if deep is not None:
                two = Timber((order[n - 1], wedge), deep, need)
                both = best[n - 1][0] + two.cost, (*best[n - 1][1], two)
                choice = min(choice, both, key=lambda found: found[0])
        best.append(choice)
    return best[-1][1]
