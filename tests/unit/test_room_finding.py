"""Findings: the heaviest come first, else they stay in order."""

from itertools import permutations

from evenfall.model.finding import LEVELS, Finding, heaviest


def of(code: str, level: str) -> Finding:
    return Finding(code, "roof", level, "says", "us", "measured")  # type: ignore[arg-type]


def test_in_whatever_order_they_come_stops_go_first_and_fine_ones_last():
    for order in permutations(LEVELS):
        assert [f.level for f in heaviest(tuple(of(x, x) for x in order))] == list(LEVELS)


def test_findings_of_one_level_keep_their_order():
    given = (of("sill", "note"), of("pipe", "stop"), of("door", "note"), of("edge", "stop"))
    assert [f.code for f in heaviest(given)] == ["pipe", "edge", "sill", "door"]
