"""Random roofs with their tapes, and what linear theory says of them, without the program.

The theory is that of least squares: with the design matrix A of the true plan (divided by the
standard errors) the residuals are f = -R (e + b), where R = I - A pinv(A'A) A', e is noise of
spread 1 and b the blunder over its standard error. Whatever depends on f alone can be drawn from it
as often as one likes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from evenfall.calc.geometry.polygon import is_simple

SIGMA = 0.005  # m, of a tape
BLUNDER = 0.100  # m
W, CHANCE, ALIKE = 3.2905, 0.05, 0.9  # limit of one tape, risk of all together, correlation
BETTER = 3.8415  # by so much the square of w must be larger to be named
NEAREST = 0.25  # m, corners no nearer than this


@dataclass(frozen=True)
class Roof:
    """Corners in m and the pairs that are taped."""

    xy: np.ndarray
    pairs: tuple[tuple[int, int], ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(str(i) for i in range(len(self.xy)))

    @property
    def lengths(self) -> np.ndarray:
        a, b = np.array(self.pairs).T
        return np.hypot(*(self.xy[a] - self.xy[b]).T)

    @property
    def design(self) -> np.ndarray:
        """Rows of the tapes over their standard error."""
        a, b = np.array(self.pairs).T
        unit = (self.xy[a] - self.xy[b]) / self.lengths[:, None] / SIGMA
        rows = np.zeros((len(a), 2 * len(self.xy)))
        at = np.arange(len(a))
        for k in (0, 1):
            rows[at, 2 * a + k], rows[at, 2 * b + k] = unit[:, k], -unit[:, k]
        return rows

    @property
    def residual_maker(self) -> np.ndarray:
        """R, the cofactors of the residuals."""
        a = self.design
        return np.eye(len(a)) - a @ np.linalg.pinv(a.T @ a, rcond=1e-9, hermitian=True) @ a.T

    @property
    def held(self) -> bool:
        """Whether the tapes hold every corner, and none of them loosely."""
        a = self.design
        values = np.linalg.eigvalsh(a.T @ a)
        return bool(values[3] > 1e-9 * values[-1] and values[3] ** -0.5 < 20 * SIGMA)

    @property
    def untaped(self) -> tuple[tuple[int, int], ...]:
        return tuple(p for p in combinations(range(len(self.xy)), 2) if p not in self.pairs)


def roof(draw: np.random.Generator, corners: int, diagonals: int) -> Roof:
    """Draw a star-shaped outline, reflex corners included, with some of its diagonals."""
    while True:
        angles = (np.arange(corners) + draw.uniform(-0.3, 0.3, corners)) * math.tau / corners
        sizes = draw.uniform(2.0, 6.0, corners)
        xy = np.stack([sizes * np.cos(angles), sizes * np.sin(angles)], axis=1)
        if not is_simple(tuple(map(tuple, xy.tolist()))):
            continue
        sides = {tuple(sorted((i, (i + 1) % corners))) for i in range(corners)}
        others = [p for p in combinations(range(corners), 2) if p not in sides]
        chosen = {others[i] for i in draw.permutation(len(others))[:diagonals]}
        found = Roof(xy, tuple(p for p in combinations(range(corners), 2) if p in sides | chosen))
        if found.lengths.min() > NEAREST and found.held:
            return found


def drawn(found: Roof, tape: int, draw: np.random.Generator, times: int) -> tuple[float, float]:
    """Give the chances by theory that a blunder of a tape is seen, and that the tape is named."""
    from scipy.special import chdtri

    maker = found.residual_maker
    r = maker.diagonal()
    dof = len(r) - 2 * len(found.xy) + 3
    e = draw.normal(size=(times, len(r)))
    e[:, tape] += BLUNDER / SIGMA * draw.choice((-1, 1), times)
    f = e @ maker
    t = (f**2).sum(axis=1)
    checked = r > 1e-6
    w = np.abs(f) * checked / np.sqrt(np.where(checked, r, 1.0))
    seen = (t > chdtri(dof, CHANCE)) | (w.max(axis=1) > W)
    if dof < 2 or alike(maker)[tape] > ALIKE:
        return float(seen.mean()), 0.0
    others = np.delete(w, tape, axis=1).max(axis=1)
    named = (w[:, tape] > W) & (w[:, tape] ** 2 - others**2 > BETTER)
    named &= t - w[:, tape] ** 2 <= chdtri(dof - 1, CHANCE)
    return float(seen.mean()), float(named.mean())


def alike(maker: np.ndarray) -> np.ndarray:
    """Give for each tape the largest correlation of its residual with another's."""
    r = maker.diagonal()
    checked = r > 1e-6
    size = np.sqrt(np.where(checked, r, 1.0))
    rho = np.abs(maker) / size / size[:, None] * checked * checked[:, None]
    np.fill_diagonal(rho, 0.0)
    return rho.max(axis=1)


def baarda(redundancy: float) -> float:
    """Give the chance that the w of a tape with the blunder passes the limit."""
    from scipy.special import ndtr

    shift = BLUNDER / SIGMA * math.sqrt(max(redundancy, 0.0))
    return float(ndtr(shift - W) + ndtr(-shift - W))


def laid_over(xy: np.ndarray, onto: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Shift and turn a plan so that it lies best on another; give it and the turn."""
    a, b = xy - xy.mean(axis=0), onto - onto.mean(axis=0)
    angle = math.atan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum())
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, -s], [s, c]])
    return a @ turn.T + onto.mean(axis=0), turn
