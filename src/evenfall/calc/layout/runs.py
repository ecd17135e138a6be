"""Runs longer than the stock: in equal pieces, or in whole lengths and a rest, as it costs less."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from math import ceil

from evenfall.calc.layout.cost_bound import Demand, levels
from evenfall.calc.layout.lengths import CuttingPlan, plan_lengths
from evenfall.errors import InvalidInput

MIXED = 4  # runs longer than the stock, of which every mixture of ways to split is tried


def split_run(length_mm: int, stock_mm: int, gap_mm: int) -> tuple[int, ...]:
    """Split a run that is longer than the stock into pieces as equal as can be.

    Parameters
    ----------
    length_mm : int
        Length of the run, end to end [mm].
    stock_mm : int
        Longest piece there is [mm].
    gap_mm : int
        Gap left open at each joint [mm].

    Returns
    -------
    tuple of int
        Lengths of the pieces, the longer ones first; with the gaps they make the run [mm].

    Examples
    --------
    >>> split_run(6214, 2500, 3)
    (2070, 2069, 2069)
    >>> split_run(2500, 2500, 3)
    (2500,)
    """
    if length_mm <= 0 or stock_mm <= 0 or gap_mm < 0:
        raise InvalidInput(
            f"run {length_mm}, stock {stock_mm}, gap {gap_mm}", "lengths above 0", where="split_run"
        )
    number = ceil((length_mm + gap_mm) / (stock_mm + gap_mm))
    each, longer = divmod(length_mm - (number - 1) * gap_mm, number)
    return (each + 1,) * longer + (each,) * (number - longer)


def whole_lengths(length_mm: int, stock_mm: int, gap_mm: int, least_mm: int) -> tuple[int, ...]:
    """Split a run into whole stock lengths and a rest.

    Parameters
    ----------
    length_mm : int
        Length of the run, end to end [mm].
    stock_mm : int
        Longest piece there is [mm].
    gap_mm : int
        Gap left open at each joint [mm].
    least_mm : int
        Shortest end piece; the length beside a shorter rest gives up what it lacks [mm].

    Returns
    -------
    tuple of int
        Lengths of the pieces, the rest last; with the gaps they make the run [mm].

    Examples
    --------
    >>> whole_lengths(6214, 2500, 3, 300)
    (2500, 2500, 1208)
    >>> whole_lengths(5100, 2500, 3, 300)
    (2500, 2294, 300)
    """
    number = len(split_run(length_mm, stock_mm, gap_mm))
    if number == 1:
        return (length_mm,)
    rest = length_mm - (number - 1) * (stock_mm + gap_mm)
    lacks = min(max(0, least_mm - rest), stock_mm - least_mm)
    return (*(stock_mm,) * (number - 2), stock_mm - lacks, rest + lacks)


def plan_runs(
    runs: Sequence[tuple[str, int]],
    stock: Sequence[tuple[int, int]],
    kerf_mm: int,
    gap_mm: int,
    least_mm: int,
) -> CuttingPlan:
    """Cut runs, however long, from stock lengths: each in equal pieces or in whole lengths.

    Parameters
    ----------
    runs : sequence of (str, int)
        Name and length of each run [mm].
    stock : sequence of (int, int)
        Length and price of each stock length [mm, pence].
    kerf_mm, gap_mm, least_mm : int
        Saw cut, gap at a joint, shortest end piece [mm].

    Returns
    -------
    CuttingPlan
        The cheapest found; equal pieces where they cost no more. Where a run is split its bound
        holds for every way of splitting [mm, pence].

    Examples
    --------
    >>> equal = plan_lengths([("a", 2894), ("a", 2893), ("b", 2500)], [(5000, 50)], 3)
    >>> mixed = plan_runs([("a", 5787), ("b", 2500)], [(5000, 50)], 3, 0, 300)
    >>> equal.cost_pence, mixed.cost_pence
    (150, 100)
    """
    longest = max(length for length, _ in stock)
    long_ = [i for i, (_, length) in enumerate(runs) if length > longest]
    if not long_:
        return plan_lengths(runs, stock, kerf_mm)
    best = None
    for whole in _choices(long_):
        pieces = [
            (name, part)
            for i, (name, length) in enumerate(runs)
            for part in (
                whole_lengths(length, longest, gap_mm, least_mm)
                if i in whole
                else split_run(length, longest, gap_mm)
            )
        ]
        plan = plan_lengths(pieces, stock, kerf_mm)
        if best is None or plan.cost_pence < best.cost_pence:
            best, uncut = plan, sum(length for _, length in pieces)
    assert best is not None
    sold = sorted(set(stock), reverse=True)
    lengths, prices = tuple(s for s, _ in sold), tuple(p for _, p in sold)
    bound = levels(Demand((1,), (uncut,), lengths, prices), best.cost_pence)[0].cost
    return replace(best, lower_bound_pence=bound)


def _choices(runs: list[int]) -> list[set[int]]:
    """List which of the long runs are cut in whole lengths; of many runs none, all and each."""
    if len(runs) <= MIXED:
        return [set(c) for n in range(len(runs) + 1) for c in combinations(runs, n)]
    return [set(), set(runs), *({i} for i in runs)]
