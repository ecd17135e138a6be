"""Firrings from stock timbers: as wide as the joist, deep enough, two from one where it saves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor

from evenfall.calc.layout.nesting import Timber, Wedge, alone, nest
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Joists
from evenfall.model.surveyed import Falls, Firring
from evenfall.model.taken_off import FirringTimber
from evenfall.stages.takeoff.sections import Section, of_kind
from evenfall.standards import take_off_practice

KIND = "firring-timber"


def timbers(
    falls: Falls, joists: Joists, sold: tuple[Section, ...], paired: bool
) -> tuple[FirringTimber, ...]:
    """Choose the timber of every firring.

    Parameters
    ----------
    falls : Falls
        Firrings with their heights [mm].
    joists : Joists
        Width of the joists [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    paired : bool
        Whether two may be sawn from one timber, turned end for end [-].

    Returns
    -------
    tuple of FirringTimber
        None where the rates tell no depth of firring timber [mm].
    """
    stock = {round(s.depth_mm or 0): s for s in fitting(joists, sold)}
    if not stock or not falls.firrings:
        return ()
    depths, kerf = tuple(stock), float(max(s.kerf_mm for s in stock.values()))
    longest = max(mm for s in stock.values() for mm in s.lengths_mm)
    wedges, feet = list[Wedge](), list[Timber]()
    for firring in falls.firrings:
        for piece in _pieces(firring, longest):
            for upper, whole in _built_up(piece, depths):
                wedges.append(upper)
                feet += whole
    found = nest(wedges, depths, kerf) if paired else tuple(alone(w, depths) for w in wedges)
    return tuple(
        FirringTimber(
            stock[t.depth_mm].name, t.length_mm, tuple(w.name for w in t.wedges), t.need_mm,
            t.depth_mm,
        )
        for t in (*feet, *found)
    )  # fmt: skip


def fitting(joists: Joists, sold: tuple[Section, ...]) -> list[Section]:
    """Pick the timbers that are as wide as the joist, else the next wider, else the widest.

    Parameters
    ----------
    joists : Joists
        Width of the joists [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].

    Returns
    -------
    list of Section
        All of one width, the shallowest first [mm].
    """
    stock = of_kind(KIND, sold)
    least = joists.width_mm - take_off_practice.FIRRING_NARROWER_MM
    widths = sorted({s.width_mm or 0.0 for s in stock})
    width = next((w for w in widths if w >= least), widths[-1] if widths else 0.0)
    return [s for s in stock if (s.width_mm or 0.0) == width]


def _pieces(firring: Firring, longest_mm: int) -> Iterator[Wedge]:
    """Give a firring as a wedge, in equal pieces where it is longer than any timber."""
    heights = firring.heights or ((0, firring.thin_mm), (firring.length_mm, firring.thick_mm))
    whole = Wedge(firring.name, heights)
    number = max(1, ceil(whole.length_mm / longest_mm))
    if number == 1:
        yield whole
        return
    ends = [round(n * whole.length_mm / number) for n in range(number + 1)]
    for n, (start, end) in enumerate(pairwise(ends), 1):
        yield _stretch(whole, start, end, f"{firring.name}/{n}")


def _built_up(wedge: Wedge, depths_mm: Sequence[int]) -> Iterator[tuple[Wedge, list[Timber]]]:
    """Cut a firring where it outgrows the deepest timber; whole timbers lie under the high part.

    Each is no deeper than it must be, so that the wedge on it has a body of timber at both ends.
    """
    deepest = max(depths_mm)
    for part in _parted(wedge, deepest):
        if part.thick_mm <= deepest:
            yield part, []
            continue
        deep = min((d for d in depths_mm if part.thick_mm - d <= deepest), default=deepest)
        foot = Wedge(f"{part.name}, under it", ((0, deep), (part.length_mm, deep)))
        upper = tuple((s, max(0, high - deep)) for s, high in part.heights)
        under = [Timber((foot,), deep, float(deep))]
        for left, feet in _built_up(Wedge(part.name, upper), depths_mm):
            yield left, [*under, *feet]
            under = []


def _parted(wedge: Wedge, level_mm: int) -> tuple[Wedge, ...]:
    """Cut a wedge across wherever its top passes a level."""
    cuts = [0, wedge.length_mm]
    for (s0, h0), (s1, h1) in pairwise(wedge.heights):
        if min(h0, h1) <= level_mm < max(h0, h1):
            at = s0 + (s1 - s0) * (level_mm - h0) / (h1 - h0)
            cuts.append(floor(at) if h1 > h0 else ceil(at))  # the low part is never over it
    ends = sorted(set(cuts))
    if len(ends) <= 2:
        return (wedge,)
    return tuple(
        _stretch(wedge, start, end, f"{wedge.name}, part {n}")
        for n, (start, end) in enumerate(pairwise(ends), 1)
    )


def _stretch(wedge: Wedge, start: int, end: int, name: str) -> Wedge:
    """Take a stretch out of a wedge, its heights rounded up."""
    at = sorted({start, *(s for s, _ in wedge.heights if start < s < end), end})
    return Wedge(name, tuple((s - start, ceil(round(wedge.at(s), 6))) for s in at))


def findings(
    falls: Falls, joists: Joists, sold: tuple[Section, ...], timbers_: tuple[FirringTimber, ...]
) -> Iterator[Finding]:
    """Say where the timber of the firrings is not known, too narrow or built up.

    Parameters
    ----------
    falls : Falls
        Firrings [mm].
    joists : Joists
        Width of the joists [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    timbers_ : tuple of FirringTimber
        As chosen [mm].

    Yields
    ------
    Finding
        None where the roof has no firrings [-].
    """
    if not falls.firrings:
        return
    rule = take_off_practice.FIRRING_NARROWER_MM
    if not timbers_:
        says = (
            "The rates name firring timber without its depth: lengths are ordered, but neither "
            "price nor weight follows how high the firrings are."
        )
        cure = Remedy("Give each firring-timber section of the rates its width_mm and depth_mm.")
        yield Finding("firring-unknown", "fall:field", "agree", says, "the rates", "declared",
                      remedy=cure)  # fmt: skip
        return
    width = fitting(joists, sold)[0].width_mm or 0.0
    if width < joists.width_mm - rule:
        says = (
            f"The widest firring timber of the rates is {width:.0f} mm, the joists are "
            f"{joists.width_mm:.0f}: the deck bears on less than the joist."
        )
        cure = Remedy("Order firrings as wide as the joists, and add them to the rates.")
        yield Finding("firring-narrow", "fall:field", "agree", says, rule.source, rule.basis,
                      width, joists.width_mm, "mm", cure)  # fmt: skip
    under = {name for t in timbers_ for name in t.firrings if name.endswith("under it")}
    if under:
        deepest = max(t.depth_mm for t in timbers_)
        says = (
            f"{len(under)} firrings are higher than the deepest timber sold, {deepest:.0f} mm: "
            "each is cut where it outgrows it, and a whole timber lies under its high part. Tall "
            "ones tip over: nog between them."
        )
        cure = Remedy("Ask a structural engineer how they are held, or add less fall.")
        yield Finding("firring-tall", "fall:field", "agree", says, "take-off practice",
                      "planning seed", deepest, None, "mm", cure)  # fmt: skip
