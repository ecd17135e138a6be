"""Which tape to add: the one that tells which is wrong, or that checks the least checked.

With a new tape the cofactors of the residuals change by one term, so that every candidate is
weighed without an adjustment of its own. Distances that stay on the roof come first: across an
inner corner there often is a house.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from scipy.special import ndtr

from evenfall.calc.geometry.blunders import Verdict, standardised
from evenfall.calc.geometry.lines_of_sight import on_roof
from evenfall.calc.geometry.network import CHECKED, Array, Network, Solution
from evenfall.calc.geometry.polygon import Polygon
from evenfall.standards.survey_practice import CORRELATED, ONE_MORE, W_CRITICAL

Found = tuple[int, int, bool, float]  # both ends, taped before, chance that it tells

LIKELY = 0.5  # a tape that tells more often than not is taken before one that leaves the roof


def next_tape(net: Network, s: Solution, ring: Polygon, verdict: Verdict) -> Found | None:
    """Choose the tape that helps most.

    Parameters
    ----------
    net : Network
        What was read [m].
    s : Solution
        The plan that it makes [m].
    ring : tuple of (x, y)
        Outline in the frame of the plan; empty where there is none [m].
    verdict : Verdict
        What seems wrong [-].

    Returns
    -------
    (end, end, again, chance) or None
        None where everything is taped and nothing is wrong [-].
    """
    doubt = verdict.detected and not verdict.located
    best: Found | None = None
    for pairs, again in _groups(net, s, bool(ring), doubt):
        if not pairs:
            continue
        worth = chances(net, s, pairs, verdict) if doubt else _strength(net, s, pairs)
        k = int(worth.round(9).argmax())
        if best is None or worth[k] > best[3]:
            best = (*pairs[k], again, float(worth[k]))
        if not doubt:
            return (*pairs[k], again, 0.0)
        if best[3] >= LIKELY:
            break
    return best


def _groups(
    net: Network, s: Solution, outline: bool, doubt: bool
) -> list[tuple[list[tuple[int, int]], bool]]:
    """Distances on the roof that are not taped, others, and in doubt those that are."""
    taped = {frozenset(p) for p in zip(net.a.tolist(), net.b.tolist(), strict=True)}
    held = {i for i, _, _ in net.known}
    new = [
        p
        for p in combinations(range(len(net.names)), 2)
        if frozenset(p) not in taped and not set(p) <= held
    ]
    on = on_roof(s.xy, net.corners, new) if outline else [True] * len(new)
    groups = [
        ([p for p, good in zip(new, on, strict=True) if good], False),
        ([p for p, good in zip(new, on, strict=True) if not good], False),
    ]
    if doubt:
        groups.append(([(min(p), max(p)) for p in taped], True))
    return groups


def _gains(net: Network, s: Solution, pairs: list[tuple[int, int]]) -> tuple[Array, Array]:
    """Work out what each new tape shares with each reading, and its own share, over its sigma."""
    a, b = np.array(pairs).T
    way = s.xy[a] - s.xy[b]
    unit = way / np.hypot(way[:, 0], way[:, 1])[:, None]
    rows = np.zeros((len(pairs), s.xy.size))
    at = np.arange(len(pairs))
    for k in (0, 1):
        rows[at, 2 * a + k], rows[at, 2 * b + k] = unit[:, k], -unit[:, k]
    rows /= np.median(net.sigma)
    spread = rows @ s.cofactor
    shared: Array = s.design @ spread[:, net.free].T
    return shared, 1 + (spread * rows).sum(axis=1)


def _strength(net: Network, s: Solution, pairs: list[tuple[int, int]]) -> Array:
    """Redundancy of the least checked reading, with each new tape."""
    shared, own = _gains(net, s, pairs)
    least: Array = (s.redundancy[:, None] + shared**2 / own).min(axis=0)
    return least


def chances(net: Network, s: Solution, pairs: list[tuple[int, int]], verdict: Verdict) -> Array:
    """Chance with each new tape that the wrong reading can be named.

    Each suspect is taken to be the wrong one, by as much as it seems, and weighed by how well it
    explains what is seen. With the new tape its w has the mean d and that of another reading rho
    d, both of spread 1; it is named if its square is larger by the difference that is asked for.
    With (w + w') and (w - w'), which are independent, this is a product; its chance is taken to
    first order.

    Parameters
    ----------
    net : Network
        What was read [m].
    s : Solution
        The plan that it makes [m].
    pairs : list of (int, int)
        The candidates [-].
    verdict : Verdict
        The suspects [-].

    Returns
    -------
    array
        One for each candidate [-].

    References
    ----------
    .. [1] Separability of two alternatives in Baarda's test; own approximation, checked by trial
       in the benchmarks.
    """
    shared, own = _gains(net, s, pairs)
    w = standardised(s)
    found, weights = np.zeros(len(pairs)), 0.0
    for i in verdict.suspects:
        weight = float(np.exp((w[i] ** 2 - np.max(w**2)) / 2))
        size = abs(w[i]) / np.sqrt(s.redundancy[i])  # of the blunder, over its sigma
        found += weight * _told_apart(s, shared, own, i, size)
        weights += weight
    return found / weights


def _told_apart(s: Solution, shared: Array, own: Array, i: int, size: float) -> Array:
    """Chance that reading i is named if it is wrong by so much, with each new tape."""
    r = np.vstack([s.redundancy[:, None] + shared**2 / own, 1 / own])
    cross = np.vstack([s.cross[i][:, None] + shared[i] * shared / own, -shared[i] / own])
    mean = size * np.sqrt(r[i])
    checked = r > CHECKED
    rho = np.minimum(np.abs(cross) / np.sqrt(np.where(checked, r, 1.0) * r[i]), 1.0) * checked
    rho[i] = 0.0
    more, less = np.sqrt((1 + rho) / 2) * mean, np.sqrt((1 - rho) / 2) * mean
    ask = float(ONE_MORE) / (2 * np.sqrt(np.maximum(1 - rho**2, CHECKED)) * np.maximum(more, 1))
    chance = np.where(rho > CORRELATED, 0.0, ndtr(less - ask))
    chance[i] = 1.0
    named: Array = chance.min(axis=0) * ndtr(mean - float(W_CRITICAL))
    return named
