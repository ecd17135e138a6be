"""The fire room: distance of every edge against the class of the covering."""

import pytest
from tests.unit import plans

from evenfall.stages.design import fire


def worked(boundary_m: float, building: str = "house"):
    sides = plans.job().survey.sides
    far = [s.model_copy(update={"boundary_m": 40.0}) for s in sides]
    far[1] = far[1].model_copy(update={"boundary_m": boundary_m})
    return fire.work(tuple(far), building)


@pytest.mark.parametrize(
    ("boundary_m", "code", "level"),
    [
        (0.0, "fire-proof-missing", "agree"),
        (5.99, "fire-proof-missing", "agree"),
        (6.0, "fire-class", "note"),
        (19.99, "fire-class", "note"),
        (20.0, "fire-far", "fine"),
    ],
)
def test_the_nearest_edge_decides_what_must_be_proved(boundary_m, code, level):
    told = worked(boundary_m).findings[0]
    assert (told.code, told.level, told.subject) == (code, level, "side:B-C")


@pytest.mark.parametrize(
    ("boundary_m", "lowest"),
    [
        (5.99, "BROOF(t4)"),
        (6.0, "CROOF(t4)"),
        (11.99, "CROOF(t4)"),
        (12.0, "EROOF(t4)"),
        (20.0, "EROOF(t4)"),  # class F never covers a whole roof
    ],
)
def test_each_class_has_its_distance(boundary_m, lowest):
    assert fire.lowest_class(boundary_m) == lowest


def test_every_side_stands_in_the_table():
    found = worked(3.2)
    assert [row[0] for row in found.table.rows] == ["A-B", "B-C", "C-D", "D-A"]
    assert found.nearest_m.where == "survey.sides[B-C].boundary_m"


def test_a_terrace_is_mentioned_for_houses_only():
    assert "fire-terrace" in plans.codes(worked(3.2).findings)
    assert "fire-terrace" not in plans.codes(worked(3.2, "garage").findings)


def test_distances_from_memory_say_so():
    assert {f.basis for f in worked(3.2, "garage").findings} == {"from memory"}
