"""Projects: two that end at once free what both held; weights of what can run together."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.layout.branching import search
from evenfall.calc.layout.project import Project
from evenfall.calc.layout.project_plans import ends, placed, quick
from evenfall.calc.layout.projects import _Model
from evenfall.calc.layout.together import WHOLE, sets_together, weights


def test_two_that_end_at_once_both_make_room():
    of = Project((2, 2, 6, 4, 1), ((1,), (1,), (1,), (2,), (0,)), ((), (), (), (), (3,)), (3,))
    model = _Model(of)
    assert search(model, model.root(), 1000).cost == (6,)


@settings(max_examples=25)
@given(st.lists(st.tuples(st.integers(1, 7), st.integers(1, 5)), min_size=3, max_size=7))
def test_no_set_that_runs_together_weighs_more_than_a_whole(work):
    durations, takes = [d for d, _ in work], [(t,) for _, t in work]
    sets = sets_together(durations, takes, (6,), [0] * len(work))
    found = weights(sets, durations)
    for s in sets:
        assert sum(work[j][1] for j in s) <= 6
        assert sum(found[j] for j in s) <= WHOLE
    whole = -(-sum(w * d for w, d in zip(found, durations, strict=True)) // WHOLE)
    of = Project(tuple(durations), tuple(takes), ((),) * len(work), (6,))
    assert max(durations) <= max(whole, max(durations)) <= ends(of, quick(of, 3))


def test_a_plan_made_at_once_grows_no_longer_by_more_rounds():
    of = Project((3, 4, 2, 5, 1), ((2,), (1,), (2,), (1,), (3,)), ((2,), (4,), (), (), ()), (3,))
    plain = ends(of, placed(of, [-t for t in of.tails]))
    assert ends(of, quick(of, 40)) <= ends(of, quick(of, 1)) <= plain
