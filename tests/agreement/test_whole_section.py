"""Sum of U A and of psi L against a whole roof, wall to wall, solved anew: nothing twice."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve
from tests.unit import edges

from evenfall.calc.physics.edge_values import HEAT, values

WIDTH, AIR, STRIP, STEP = 3.0, 0.05, 0.01, 0.02
BOARD, DECK, VOID, CEILING = 0.123, 0.019, 0.171, 0.0125  # as `edges.roof` has them
LEAVES = ((0.013, 0.4), (0.104, 0.56), (0.053, 0.29), (0.1025, 0.77))  # from inside
UNDER = -DECK - VOID - CEILING
MIXED = 0.047 / 0.402 * 0.13 + (1 - 0.047 / 0.402) * VOID / 0.16


def side(face, way, foot, out, slot, kerb):
    """Boxes of one side, drawn from its inner face outwards: x, x, z, z, conductivity."""
    x = face
    for thickness, lambda_ in LEAVES:
        yield x, x + way * thickness, foot, -DECK - slot, lambda_
        x += way * thickness
    if slot:
        yield face, x, -DECK - slot, -DECK, 0.04
    end = x + way * out
    inner = end - way * 0.05
    yield face, end, -DECK, 0.0, 0.13
    yield end, inner, 0.0, BOARD + kerb, 0.13
    yield inner, face, 0.0, BOARD, 0.0222
    yield end, end + way * 0.019, -DECK, BOARD, 0.13


def lines(points):
    """Grid lines through all points, with steps of at most STEP."""
    told = sorted({round(p, 9) for p in points})
    parts = [np.linspace(a, b, 1 + int(np.ceil((b - a) / STEP)))[1:] for a, b in pairwise(told)]
    return np.concatenate([told[:1], *parts])


def heat_through(boxes, foot):
    """Heat from a room at 1 to air at 0, per metre, by finite volumes written for this test."""
    ends = [v for b in boxes for v in b[:2]]
    X = lines([*ends, min(ends) - AIR, max(ends) + AIR, STRIP, WIDTH - STRIP])
    Z = lines([*(v for b in boxes for v in b[2:4]), BOARD + 0.08 + AIR, foot])
    x, z, dx, dz = (X[1:] + X[:-1]) / 2, (Z[1:] + Z[:-1]) / 2, np.diff(X), np.diff(Z)
    k = np.zeros((len(x), len(z)))
    for a, b, low, high, lambda_ in boxes:
        k[np.ix_((x > min(a, b)) & (x < max(a, b)), (z > low) & (z < high))] = lambda_
    room = (k == 0) & ((x > 0) & (x < WIDTH))[:, None] & (z < UNDER)[None, :]
    film = np.where((x < STRIP) | (x > WIDTH - STRIP), 0.13, 0.10)
    number = np.cumsum(k > 0).reshape(k.shape) - 1
    n = int((k > 0).sum())
    rows, columns, entries, warm = [], [], [], np.zeros(n)
    for i, j in np.argwhere(k > 0):
        p = number[i, j]
        for u, v in ((i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)):
            if not (0 <= u < len(x) and 0 <= v < len(z)):
                continue  # a cut: no heat
            face, own, next_ = (dz[j], dx[i], dx[u]) if u != i else (dx[i], dz[j], dz[v])
            half = own / 2 / k[i, j]
            if k[u, v] > 0:
                rest = next_ / 2 / k[u, v]
            else:
                rest = film[u] if room[u, v] else 0.04
            g = face / (half + rest)
            rows.append(p), columns.append(p), entries.append(g)
            if k[u, v] > 0:
                rows.append(p), columns.append(number[u, v]), entries.append(-g)
            elif room[u, v]:
                warm[p] += g
    t = spsolve(csc_matrix((entries, (rows, columns)), shape=(n, n)), warm)
    return float(np.sum(warm * (1 - t)))


def test_the_heat_of_a_roof_from_wall_to_wall_is_its_field_its_two_edges_and_its_walls():
    roof, wall = edges.roof(), edges.wall()
    foot = UNDER - wall.cut
    boxes = [
        *side(0.0, -1, foot, 0.096, 0.041, 0.0), *side(WIDTH, 1, foot, 0.03, 0.0, 0.08),
        (0.0, WIDTH, -DECK, 0.0, 0.13), (0.0, WIDTH, 0.0, BOARD, 0.0222),
        (0.0, WIDTH, -DECK - VOID, -DECK, MIXED), (0.0, WIDTH, UNDER, UNDER + CEILING, 0.25),
    ]  # fmt: skip
    eaves, verge = edges.eaves("filled", roof), edges.eaves(None, roof, kerb=0.08, out=0.03)
    psi = sum(values(e, HEAT).psi.best for e in (eaves, verge))
    summed = roof.U(HEAT) * WIDTH + psi + 2 * wall.U(HEAT) * wall.cut
    assert summed == pytest.approx(heat_through(boxes, foot), rel=1e-3)
