"""Random roofs for the figures of cutting: rectangles and L, 15 to 150 m2, 0 to 2 openings."""

from __future__ import annotations

import random

Ring = tuple[tuple[int, int], ...]
Roof = tuple[Ring, tuple[Ring, ...]]

SEED = 2026
AREA_M2 = (15.0, 150.0)
NARROWEST_MM = 2400
CLEAR_MM = 400  # openings keep this far off edges and each other, as a kerb can be built
OPENING_MM = (400, 1500)
TRIES = 40  # for the place of an opening; then it is left out


def random_roofs(number: int = 200, seed: int = SEED) -> list[Roof]:
    """Draw roofs; the same seed gives the same roofs."""
    rnd = random.Random(seed)
    roofs: list[Roof] = []
    while len(roofs) < number:
        area = rnd.uniform(*AREA_M2) * 1e6
        ratio = rnd.uniform(1, 2.5)
        shape = rnd.choice("RL")
        wide, deep = (rnd.uniform(0.3, 0.7) for _ in range(2))
        full = area / (1 - (wide * deep if shape == "L" else 0))
        w, d = round((full * ratio) ** 0.5), round((full / ratio) ** 0.5)
        if d < NARROWEST_MM:
            continue
        ring: Ring = ((0, 0), (w, 0), (w, d), (0, d))
        if shape == "L":
            x, y = round(w * (1 - wide)), round(d * (1 - deep))
            ring = ((0, 0), (w, 0), (w, y), (x, y), (x, d), (0, d))
        roofs.append((ring, _openings(rnd, ring, rnd.randint(0, 2))))
    return roofs


def _openings(rnd: random.Random, ring: Ring, number: int) -> tuple[Ring, ...]:
    holes: list[Ring] = []
    w, d = max(x for x, _ in ring), max(y for _, y in ring)
    for _ in range(number):
        for _ in range(TRIES):
            hw, hd = rnd.randint(*OPENING_MM), rnd.randint(*OPENING_MM)
            x, y = rnd.randint(CLEAR_MM, w), rnd.randint(CLEAR_MM, d)
            hole = ((x, y), (x + hw, y), (x + hw, y + hd), (x, y + hd))
            if all(_inside(p, ring, w, d) for p in hole) and all(_apart(hole, h) for h in holes):
                holes.append(hole)
                break
    return tuple(holes)


def _inside(point: tuple[int, int], ring: Ring, w: int, d: int) -> bool:
    x, y = point
    within = CLEAR_MM <= x <= w - CLEAR_MM and CLEAR_MM <= y <= d - CLEAR_MM
    if len(ring) == 4:
        return within
    return within and (x <= ring[3][0] - CLEAR_MM or y <= ring[3][1] - CLEAR_MM)


def _apart(a: Ring, b: Ring) -> bool:
    return (
        a[2][0] + CLEAR_MM <= b[0][0]
        or b[2][0] + CLEAR_MM <= a[0][0]
        or a[2][1] + CLEAR_MM <= b[0][1]
        or b[2][1] + CLEAR_MM <= a[0][1]
    )
