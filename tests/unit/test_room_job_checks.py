"""What one table of a job says about another: every slip is told with its path."""

import pytest
from tests.unit import rooms

from evenfall.model.job_checks import side_names, slips

SIDE = {"side": "B-C", "kind": "verge", "boundary_m": 2.15}
TAPE = {"between": "A-B", "length_m": 5.41}
PIPE = {"name": "vent", "kind": "pipe", "side": "C-D", "along_m": 1.34, "in_m": 0.86}
LEVEL = {"name": "x", "below_line_mm": 280}
GUTTER = rooms.job("garage").survey.gutters[0].model_dump()


def data(name: str, table: str) -> list[dict]:
    return [e.model_dump(mode="json") for e in getattr(rooms.job(name).survey, table)]


def first(name: str, table: str, **changes: object) -> list[dict]:
    """Change the first entry of a table."""
    entries = data(name, table)
    return [entries[0] | changes, *entries[1:]]


CASES = {
    "a start in a year without known public holidays": (
        "garage", "calendar.start_on", "2300-12-02", "calendar.start_on",
    ),
    "a parapet higher than the wall under it": (
        "courtyard", "survey.sides[P-Q].parapet_height_mm", 4120,
        "survey.sides[0].parapet_height_mm",
    ),
    "a chart for towns alone": (
        "rear-extension", "site.exposure_chart_town", 0.81, "site.exposure_chart_town",
    ),
    "houses upwind without a distance": (
        "rear-extension", "site.houses_upwind_height_m", 6.2, "site.houses_upwind_m",
    ),
    "a rounded parapet": (
        "courtyard", "survey.sides[P-Q].rounded_edge_mm", 200, "survey.sides[0].rounded_edge_mm",
    ),
    "two corners of one name": (
        "garage", "survey.corners", ["A", "B", "C", "C"], "survey.corners",
    ),
    "a side that is none": (
        "garage", "survey.sides[D-A].side", "D-B", "survey.sides[3].side",
    ),
    "a side twice": ("garage", "survey.sides", [*data("garage", "sides"), SIDE], "survey.sides"),
    "nothing about a side": ("garage", "survey.sides", data("garage", "sides")[:3], "survey.sides"),
    "a parapet without its height": (
        "courtyard", "survey.sides[P-Q].parapet_height_mm", None, "survey.sides[0]",
    ),
    "a tape to no corner": (
        "garage", "survey.tapes[2].between", "C-E", "survey.tapes[2].between",
    ),
    "a tape from a corner to itself": (
        "garage", "survey.tapes[2].between", "C-C", "survey.tapes[2].between",
    ),
    "an opening at no side": (
        "garage", "survey.openings[0].side", "C-A", "survey.openings[0].side",
    ),
    "a height at no side": ("garage", "survey.heights[0].side", "A-D", "survey.heights[0].side"),
    "a window at no side": (
        "rear-extension", "survey.windows[1].side", "A-D", "survey.windows[1].side",
    ),
    "a gutter at no side": ("garage", "survey.gutters[0].side", "B-A", "survey.gutters[0].side"),
    "a level at no side": ("garage", "survey.levels[middle].side", "A-C", "survey.levels[4].side"),
    "joists along no side": ("garage", "survey.joists.along", "A-C", "survey.joists.along"),
    "a low side that is none": (
        "garage", "design.falls.low_side", "B-D", "design.falls.low_side",
    ),
    "two levels of one name": ("garage", "survey.levels[b].name", "a", "survey.levels"),
    "a height and a window of one name": (
        "rear-extension", "survey.heights[0].name", "landing-window", "survey.heights",
    ),
    "two gutters along one side": (
        "garage", "survey.gutters", [GUTTER, GUTTER], "survey.gutters",
    ),
    "an opening without a size": ("garage", "survey.openings", [PIPE], "survey.openings[0]"),
    "an opening with half a size": (
        "garage", "survey.openings", [PIPE | {"length_m": 0.3}], "survey.openings[0]",
    ),
    "an opening with two sizes": (
        "garage", "survey.openings",
        [PIPE | {"diameter_mm": 90, "length_m": 0.2, "width_m": 0.2}], "survey.openings[0]",
    ),
    "a height below the deck": (
        "garage", "survey.heights[0].above_covering_mm", -8.6,
        "survey.heights[0].above_covering_mm",
    ),
    "a sill below the deck": (
        "rear-extension", "survey.windows[0].sill_above_covering_mm", -12.1,
        "survey.windows[0].sill_above_covering_mm",
    ),
    "a sash below its sill": (
        "rear-extension", "survey.windows[0].sash_above_covering_mm", 363.9,
        "survey.windows[0].sash_above_covering_mm",
    ),
    "a level without a place": (
        "garage", "survey.levels", [*data("garage", "levels"), LEVEL], "survey.levels[7]",
    ),
    "a level with two places": (
        "garage", "survey.levels", first("garage", "levels", side="A-B", along_m=1, in_m=1),
        "survey.levels[0]",
    ),
    "a level at no corner": (
        "garage", "survey.levels", first("garage", "levels", corner="E"), "survey.levels[0].corner",
    ),
    "a window beyond the end of its side": (
        "rear-extension", "survey.windows[0].along_m", 3.1, "survey.windows[0].along_m",
    ),
    "an option whose path leads nowhere": (
        "garage", "design.options[cosy].changes", {"design.thick_mm": 130},
        "design.options[0].changes",
    ),
    "an option that names a side that is none": (
        "garage", "design.options[cosy].changes", {"design.falls.low_side": "B-D"},
        "design.options[0].changes",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_each_slip_is_told_once_with_its_path(case):
    name, path, value, where = CASES[case]
    found = slips(rooms.changed(rooms.job(name), **{path: value}))
    assert where in {s.path for s in found}
    assert all(s.found and s.expected for s in found)


def test_a_slot_as_high_as_the_joists_is_a_slip_even_without_a_ceiling():
    path = "survey.sides[A-B].wall_head.slot_height_mm"
    found = {mm: slips(rooms.changed(rooms.job("garage"), **{path: mm})) for mm in (144, 145)}
    assert found[144] == ()
    assert [s.path for s in found[145]] == ["survey.sides[0].wall_head.slot_height_mm"]
    assert "145" in found[145][0].expected


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_the_examples_hold_together(name):
    assert slips(rooms.job(name)) == ()


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("garage", "survey.heights[0].above_covering_mm", -8.5),
        ("rear-extension", "survey.windows[0].sill_above_covering_mm", -12.0),
        ("rear-extension", "survey.windows[0].sash_above_covering_mm", 364.0),
        ("rear-extension", "survey.windows[0].along_m", 3.0),  # 0.226 past the tape: a slip of it
    ],
)
def test_at_its_limit_a_value_is_still_let_through(name, path, value):
    assert slips(rooms.changed(rooms.job(name), **{path: value})) == ()


def test_a_slip_of_the_job_itself_is_not_told_again_for_each_option():
    job = rooms.changed(rooms.job("rear-extension"), **{"design.falls.low_side": "A-C"})
    assert [s.path for s in slips(job)] == ["design.falls.low_side"]


def test_sides_go_round_and_close():
    assert side_names(("P", "Q", "R")) == ("P-Q", "Q-R", "R-P")
