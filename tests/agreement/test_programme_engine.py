"""Programmes by our engine, by brute force, and by HiGHS on the bare model."""

from __future__ import annotations

from itertools import permutations

import pytest
from benchmarks.programme_model import Model
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import programme_roofs as roofs

from evenfall.calc.layout.project import Project
from evenfall.calc.layout.projects import shortest
from evenfall.stages.programme.days import lay_out
from evenfall.stages.programme.draft import site_of
from evenfall.stages.programme.gang import Gang
from evenfall.stages.programme.site import Work

SITE = Gang(2, 0.5, 0.7)


def brute_force(of: Project) -> int:
    """Start the pieces in every order, each as soon as it can: one of them is the best."""
    best = sum(of.durations)
    for order in permutations(range(len(of.durations))):
        ends: dict[int, int] = {}
        begins: dict[int, int] = {}
        for j in order:
            before = [i for i, f in enumerate(of.followers) if j in f]
            if any(i not in ends for i in before):
                break
            at = max((ends[i] for i in before), default=0)
            while any(
                sum(of.takes[i][k] for i in ends if begins[i] <= t < ends[i]) + of.takes[j][k] > c
                for t in range(at, at + of.durations[j])
                for k, c in enumerate(of.there_is)
            ):
                at += 1
            begins[j], ends[j] = at, at + of.durations[j]
        else:
            best = min(best, max(ends.values()))
    return best


@st.composite
def projects(draw: st.DrawFn) -> Project:
    n = draw(st.integers(2, 6))
    there = (draw(st.integers(3, 5)), draw(st.integers(2, 4)))
    takes = tuple(tuple(draw(st.integers(0, c)) for c in there) for _ in range(n))
    followers = tuple(
        tuple(j for j in range(i + 1, n) if draw(st.integers(0, 3)) == 0) for i in range(n)
    )
    return Project(tuple(draw(st.integers(1, 5)) for _ in range(n)), takes, followers, there)


@settings(max_examples=60)
@given(of=projects())
def test_a_small_project_is_solved_as_by_brute_force(of):
    found = shortest(of, 10_000, rounds=2)
    assert found.proven
    assert found.cost == (brute_force(of),)


@settings(max_examples=40)
@given(of=projects(), k=st.integers(0, 1))
def test_more_of_a_resource_never_makes_a_project_longer(of, k):
    more = tuple(c + (i == k) for i, c in enumerate(of.there_is))
    longer = Project(of.durations, of.takes, of.followers, more)
    assert shortest(longer, 10_000, rounds=2).cost <= shortest(of, 10_000, rounds=2).cost


def site(plan, people: int = 2, start_on: str = "2027-04-13") -> Work:
    time = roofs.when(people, start_on)
    tasks, _ = roofs.planned(roofs.roof(plan), time)
    return site_of(tasks.tasks, tasks.bays, Gang(people, 0.5, 0.7), time, roofs.STICKY.nights)


ROOFS = {
    "an L": roofs.letter_l(),
    "a small oblong": roofs.oblong(4.3, 3.2),
    "an oblong with a rooflight": roofs.oblong(
        5.1, 3.7, openings=(roofs.opening("rooflight", "light", 1.3, 1.1, 1.02, 0.84),)
    ),
}


@pytest.mark.parametrize("name", ROOFS)
def test_the_days_are_as_few_as_highs_finds_and_the_vcl_lies_no_longer(name):
    """The bare model knows no clock: it can only be as good or better."""
    work = site(ROOFS[name], 3)
    laid = lay_out(work, 2_000)
    days, exposure = Model(work, int(laid.cost[1]) + 1).solve()
    assert laid.proven
    assert laid.cost[0] == 0
    assert (days, pytest.approx(exposure, abs=1e-3)) == laid.cost[1:]


def test_the_bound_of_a_search_is_never_above_what_is_found():
    for name, plan in ROOFS.items():
        for steps in (0, 3, 2_000):
            laid = lay_out(site(plan), steps)
            assert laid.bound <= laid.cost, name


def test_the_same_search_gives_the_same_days():
    assert lay_out(site(ROOFS["an L"]), 50) == lay_out(site(ROOFS["an L"]), 50)
