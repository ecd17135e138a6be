"""The shape of a roof while it is walked: a few tapes, square corners, the rest drawn from them."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, hypot, pi, sin
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares, lsq_linear

from evenfall.calc.geometry.polygon import Polygon
from evenfall.errors import InvalidInput

Pair = tuple[int, int]
TAPED = 0.01  # m, how far the drawing may leave a tape: a hundredth of what a guess may be out
GUESSED = 1.5  # m, a side that nobody taped may be longer or shorter by about so much
SQUARE = 0.03  # cosine of a corner that was meant to be square: a lean of 30 mm in a metre
SHORTEST = 0.3  # m, no side of a roof is shorter
FAR_OUT = 1.5  # m, no roof meant to be square leans so far: such a diagonal is a slip
CLOSES = 1e-4  # m, the ring closes to a tenth of a millimetre
ROUND = 2 * pi


def sketch(
    corners: int,
    inner: frozenset[int],
    tapes: Mapping[Pair, float],
    usual: float,
    reached: Mapping[int, float] = MappingProxyType({}),
) -> Polygon:
    """Draw a roof from the tapes there are, its other sides as square corners leave them.

    Parameters
    ----------
    corners : int
        How many corners; they go anticlockwise [-].
    inner : frozenset of int
        Indices of the corners at which the roof turns in [-].
    tapes : mapping of (int, int) to float
        Taped distances between two corners, by their indices [m].
    usual : float
        Length of a side of which nothing is known [m].
    reached : mapping of int to float
        How far along a side something was measured, by the index of the side [m].

    Returns
    -------
    tuple of (float, float)
        The corners, the first at the origin, the second on the x axis [m].

    Raises
    ------
    InvalidInput
        Fewer than three corners, or so many inner ones that nothing closes.

    Examples
    --------
    >>> sketch(4, frozenset(), {(0, 1): 6.2, (1, 2): 4.1}, 4.0)
    ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (0.0, 4.1))
    """
    if corners < 3 or len(inner) > corners - 3:
        raise InvalidInput(
            f"{corners} corners, {len(inner)} of them turning in", "three more that turn out",
            where="survey.inner_corners", do="look again which corners turn in",
        )  # fmt: skip
    length = {(min(i, j), max(i, j)): m for (i, j), m in tapes.items()}
    ways = _ways(corners, inner)
    around = [_side(length, i, corners) for i in range(corners)]
    least = [SHORTEST if m is not None else max(SHORTEST, reached.get(i, 0.0))
             for i, m in enumerate(around)]  # fmt: skip
    wished = [max(usual, low) if m is None else m for m, low in zip(around, least, strict=True)]
    sides = _closed(ways, wished, around, least)
    start = np.concatenate([[[0.0, 0.0]], np.cumsum(sides[:, None] * ways, axis=0)[:-1]])
    taped = [(i, j, m) for (i, j), m in length.items() if _near(start, i, j, m, around)]
    ring = _eased(start, taped, sides, around, _squares(ways))
    return _laid(ring)


def _near(
    start: NDArray[np.float64], i: int, j: int, read: float, around: list[float | None]
) -> bool:
    """Leave a diagonal out that the sides, all taped, could never reach."""
    if None in around or abs(i - j) in (1, len(start) - 1):
        return True
    return abs(float(np.hypot(*(start[i] - start[j]))) - read) < FAR_OUT


def _ways(corners: int, inner: frozenset[int]) -> NDArray[np.float64]:
    """Directions of the sides: inner corners turn back a quarter, the others share the rest."""
    out = (ROUND + len(inner) * pi / 2) / (corners - len(inner))
    turned, ways = 0.0, []
    for i in range(corners):
        turned += 0.0 if i == 0 else (-pi / 2 if i in inner else out)
        ways.append((cos(turned), sin(turned)))
    return np.array(ways)


def _side(length: Mapping[Pair, float], i: int, corners: int) -> float | None:
    j = (i + 1) % corners
    return length.get((min(i, j), max(i, j)))


def _closed(
    ways: NDArray[np.float64], wished: list[float], taped: list[float | None],
    least: list[float],
) -> NDArray[np.float64]:  # fmt: skip
    """Lengths of the sides that close the ring, nearest to what is known of each."""
    give = np.array([GUESSED if m is None else TAPED for m in taped])
    rows = np.concatenate([np.diag(1 / give), ways.T / CLOSES])
    right = np.concatenate([np.array(wished) / give, np.zeros(2)])
    return np.array(lsq_linear(rows, right, bounds=(np.array(least), np.inf)).x)


def _squares(ways: NDArray[np.float64]) -> NDArray[np.float64]:
    """Cosine between each side and the one before, as the drawing means it."""
    cosines: NDArray[np.float64] = (ways * np.roll(ways, 1, axis=0)).sum(axis=1)
    return cosines


def _eased(
    start: NDArray[np.float64], taped: list[tuple[int, int, float]],
    sides: NDArray[np.float64], around: list[float | None], meant: NDArray[np.float64],
) -> NDArray[np.float64]:  # fmt: skip
    """Move the corners until the tapes fit best; a tape far out does not drag the others."""
    a, b = (np.array([t[k] for t in taped], int) for k in (0, 1))
    read = np.array([t[2] for t in taped])
    loose = np.array([i for i, m in enumerate(around) if m is None], int)

    def gaps(flat: NDArray[np.float64]) -> Any:
        xy = flat.reshape(-1, 2)
        arms = np.roll(xy, -1, axis=0) - xy
        size = np.maximum(np.hypot(arms[:, 0], arms[:, 1]), CLOSES)
        unit = arms / size[:, None]
        off = np.hypot(*(xy[a] - xy[b]).T) - read if len(taped) else np.zeros(0)
        return np.concatenate([
            off / TAPED, (size - sides)[loose] / GUESSED, (_squares(unit) - meant) / SQUARE,
        ])  # fmt: skip

    found = least_squares(gaps, start.ravel(), loss="soft_l1", max_nfev=ROUNDS)
    return np.array(found.x).reshape(-1, 2)


ROUNDS = 60  # steps of the drawing; ten are usual


def _laid(ring: NDArray[np.float64]) -> Polygon:
    """Lay the first corner at the origin and the second on the x axis."""
    moved = ring - ring[0]
    x, y = moved[1] / max(hypot(*moved[1]), CLOSES)
    turned = moved @ np.array([[x, -y], [y, x]])
    return tuple((round(float(p), 4) + 0.0, round(float(q), 4) + 0.0) for p, q in turned)
