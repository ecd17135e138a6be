"""Cutting by two methods: our answers, and those of another program or of brute force."""

import random
from collections import Counter
from itertools import product
from math import ceil

import pytest
from ortools.sat.python import cp_model

from evenfall.calc.layout.guillotine import area_bound, saw_boards
from evenfall.calc.layout.lengths import plan_lengths
from evenfall.calc.layout.packs import to_packs

LISTS = {
    "trims": ([2050, 2050, 1430, 900, 310, 1777, 640, 2210, 455], [(2500, 1100), (3000, 1300)], 3),
    "fascia": ([3110, 3105, 4100, 2060, 2055, 870, 1260], [(5000, 2450)], 4),
    "firrings": ([4100] * 2 + [1290] * 3 + [2730] * 2, [(4800, 900), (3600, 690), (2400, 480)], 4),
    "gutter": ([3990, 2210, 1790, 410, 620], [(2000, 830), (4000, 1490)], 2),
}


def _by_assignment(lengths, stock, kerf):
    """Assign each piece to a bar with a constraint solver; bars are of any stock."""
    model = cp_model.CpModel()
    bars = range(len(lengths))
    kind = [[model.new_bool_var("") for _ in stock] for _ in bars]
    held = [[model.new_bool_var("") for _ in bars] for _ in lengths]
    for row in held:
        model.add_exactly_one(row)
    for b in bars:
        model.add_at_most_one(kind[b])
        room = sum(k * (s + kerf) for k, (s, _) in zip(kind[b], stock, strict=True))
        model.add(sum(h[b] * (s + kerf) for h, s in zip(held, lengths, strict=True)) <= room)
    model.minimize(sum(k * p for row in kind for k, (_, p) in zip(row, stock, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("name", LISTS)
def test_a_constraint_solver_finds_the_same_cost_of_lengths(name):
    lengths, stock, kerf = LISTS[name]
    plan = plan_lengths([(f"p{i}", s) for i, s in enumerate(lengths)], stock, kerf)
    assert plan.optimal
    assert plan.cost_pence == _by_assignment(lengths, stock, kerf)


@pytest.mark.parametrize("seed", range(6))
def test_a_constraint_solver_finds_no_cheaper_mix_of_random_lengths(seed):
    rnd = random.Random(seed)
    stock = [[(2500, 940), (3000, 1100)], [(2400, 480), (3600, 690), (4800, 900)]][seed % 2]
    lengths = [rnd.randint(150, stock[-1][0]) for _ in range(6 + seed % 4)]
    plan = plan_lengths([(f"p{i}", s) for i, s in enumerate(lengths)], stock, 3)
    assert plan.optimal
    assert plan.cost_pence == _by_assignment(lengths, stock, 3)


@pytest.mark.parametrize(
    ("need", "packs"),
    [
        (8470, [(2500, 2900), (5000, 4900), (10000, 8600), (15000, 12100)]),
        (33100, [(7600, 1090), (15000, 1990), (30000, 3750)]),
        (417, [(100, 899), (250, 1990)]),
    ],
)
def test_brute_force_finds_no_cheaper_packs(need, packs):
    counts = [range(ceil(need / size) + 1) for size, _ in packs]
    ways = [
        sum(n * price for n, (_, price) in zip(way, packs, strict=True))
        for way in product(*counts)
        if sum(n * size for n, (size, _) in zip(way, packs, strict=True)) >= need
    ]
    assert to_packs(need, packs).cost_pence == min(ways)


def test_pieces_sawn_from_known_boards_go_back_into_as_many():
    """Three boards cut up by hand: the pieces are known to come out of three."""
    pieces = [
        (1396, 1200), (1000, 1200),
        (2400, 596), (800, 600), (800, 600), (792, 600),
        (1800, 1200), (596, 700), (596, 496),
    ]  # fmt: skip
    boards = saw_boards(pieces, (2400, 1200), 4, steps=200)
    assert area_bound(pieces, (2400, 1200), 4) == len(boards) == 3
    assert Counter(p.piece for b in boards for p in b.placed) == Counter(range(len(pieces)))
