"""A job begun: what is filled in, with what, what stays, what is set aside."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from pydantic import BaseModel

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_file
from evenfall.calc.geometry.polygon import area
from evenfall.calc.geometry.sketch import sketch
from evenfall.drafting.complete import complete, kind_of
from evenfall.drafting.usual import USUAL
from evenfall.drafting.walked import Roof, walked
from evenfall.errors import InvalidInput
from evenfall.flow import work_out
from evenfall.model.case import Case
from evenfall.model.job import Job
from evenfall.model.rates import Rates
from evenfall.working import BASES

ON = date(2026, 11, 25)
RATES = read_file(DEMO_RATES, Rates).value
TWELVE: dict[str, Any] = {
    "job": {"client": "Mrs Invented Hale", "address": "3 Invented Row"},
    "site": {"terrain": "town"},
    "survey": {
        "corners": list("ABCD"),
        "tapes": [
            {"between": "A-B", "length_m": 6.214},
            {"between": "B-C", "length_m": 4.102},
            {"between": "C-D", "length_m": 6.231},
            {"between": "D-A", "length_m": 4.095},
            {"between": "A-C", "length_m": 7.452},
        ],
        "windows": [{"side": "A-B", "sill_above_covering_mm": 342, "room": "landing"}],
    },
}
"""Client, address, terrain, corners, five tapes, a window's side, sill and room: twelve entries."""


def tape(between: str, length_m: float) -> dict[str, Any]:
    return {"between": between, "length_m": length_m}


def drawn(corners: str, tapes: list[dict[str, Any]], **more: Any) -> Any:
    survey = {"corners": list(corners), "tapes": tapes, **more}
    return complete({"survey": survey}, RATES, ON)


def test_twelve_entries_give_a_price_a_height_and_days() -> None:
    drafted = complete(TWELVE, RATES, ON)
    assert drafted.job is not None
    worked = work_out(Case(drafted.job, RATES, ON))
    assert 20 < worked.plan.gross.value < 30
    assert worked.price.total.value > 100_000
    assert 3 < len(worked.programme.days) < 15
    assert [i.name for i in worked.heights.items if "window" in i.name]
    assert worked.rise.chosen_mm < 110  # the window says so


def test_nothing_at_all_gives_a_job_and_every_value_of_it_is_told() -> None:
    drafted = complete({}, RATES, ON)
    assert drafted.job is not None
    assert len(drafted.paths) == len(set(drafted.paths)) > 60
    assert all(f.why and f.basis in BASES for f in drafted.filled)


def test_the_house_wall_comes_first_and_the_eaves_lie_over_against_it() -> None:
    sides = complete({}, RATES, ON).document["survey"]["sides"]
    assert [s["kind"] for s in sides] == ["wall", "verge", "eaves", "verge"]


def test_a_garage_has_no_house_wall_unless_it_is_told() -> None:
    sides = complete({"job": {"building": "garage"}}, RATES, ON).document["survey"]["sides"]
    assert "wall" not in [s["kind"] for s in sides]


def test_the_house_at_ones_back_stays_when_other_walls_are_touched() -> None:
    walls = [{"side": "C-D", "kind": "wall"}, {"side": "D-E", "kind": "wall"}]
    drafted = drawn("ABCDEF", [], inner_corners=["D"], sides=walls)
    kinds = [s["kind"] for s in drafted.document["survey"]["sides"] if s["side"] in ("A-B", "E-F")]
    assert sorted(kinds) == ["eaves", "wall"]
    assert drafted.around.kinds["A-B"] == "wall"


def test_a_side_whose_kind_was_touched_keeps_it() -> None:
    drafted = drawn(
        "ABCD", [], sides=[{"side": "C-D", "kind": "parapet"}, {"side": "B-C", "kind": "eaves"}]
    )
    kinds = {s["side"]: s["kind"] for s in drafted.document["survey"]["sides"]}
    assert kinds == {"A-B": "wall", "B-C": "eaves", "C-D": "parapet", "D-A": "verge"}
    assert drafted.document["design"]["falls"]["low_side"] == "B-C"
    assert drafted.document["survey"]["joists"]["along"] in ("A-B", "C-D")


def test_a_corner_that_the_tapes_do_not_hold_is_held_by_square_corners_and_told() -> None:
    drafted = drawn("ABCD", [tape("A-B", 6.2), tape("B-C", 4.1)])
    assert [p for p in drafted.paths if "offsets" in p] == [
        "survey.offsets[0].left_m",
        "survey.offsets[1].left_m",
    ]
    assert drafted.around.ring == ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (0.0, 4.1))


def test_a_roof_held_by_its_own_tapes_gets_no_corner_by_eye() -> None:
    tapes = TWELVE["survey"]["tapes"]
    assert not [p for p in drawn("ABCD", tapes).paths if "offsets" in p or "tapes" in p]


def test_an_inner_corner_makes_an_l() -> None:
    tapes = [tape("A-B", 6.4), tape("B-C", 3.0), tape("C-D", 2.8)]
    drafted = drawn("ABCDEF", tapes, inner_corners=["D"])
    assert drafted.job is not None
    ring = work_out(Case(drafted.job, RATES, ON)).plan.deck
    assert area(ring) == pytest.approx(area(drafted.around.ring), rel=0.01)
    assert ring[3][1] < ring[4][1]


def test_the_tapes_of_an_l_that_could_fold_over_follow_the_corner_that_was_seen() -> None:
    """C is tied to B and D alone: it could lie on either side of the line between them."""
    tapes = [
        tape("A-B", 6.4), tape("B-C", 3.0), tape("C-D", 2.8), tape("D-E", 2.5), tape("E-F", 3.6),
        tape("F-A", 5.5), tape("A-D", 4.69), tape("B-D", 4.1), tape("D-F", 4.38),
    ]  # fmt: skip
    drafted = drawn("ABCDEF", tapes, inner_corners=["D"])
    assert drafted.job is not None
    worked = work_out(Case(drafted.job, RATES, ON))
    assert "corner-turned" not in {f.code for f in worked.findings}


def test_a_corner_said_to_turn_in_that_the_tapes_turn_out_is_a_stop() -> None:
    drafted = complete(TWELVE, RATES, ON)
    assert drafted.job is not None
    survey = drafted.job.survey.model_copy(update={"inner_corners": ("C",)})
    job = drafted.job.model_copy(update={"survey": survey})
    found = [f for f in work_out(Case(job, RATES, ON)).findings if f.code == "corner-turned"]
    assert [(f.subject, f.level) for f in found] == [("corner:C", "stop")]


def test_a_sash_that_was_taped_gives_a_sill_below_it() -> None:
    drafted = drawn("ABCD", [], windows=[{"side": "A-B", "sash_above_covering_mm": 210}])
    assert drafted.document["survey"]["windows"][0]["sill_above_covering_mm"] == 175


def test_an_entry_that_nobody_can_place_is_set_aside_and_told() -> None:
    drafted = drawn("ABCD", [{"length_m": 4.0}, tape("A-X", 3.0), tape("A-B", 5.0)])
    assert drafted.job is not None
    assert sorted(s.path for s in drafted.aside) == ["survey.tapes[0]", "survey.tapes[1]"]
    assert [t["between"] for t in drafted.document["survey"]["tapes"]] == ["A-B"]


def test_a_value_that_no_job_can_hold_is_told_and_not_replaced() -> None:
    drafted = complete({"site": {"terrain": "moon"}}, RATES, ON)
    assert drafted.job is None
    assert [p.path for p in drafted.problems] == ["site.terrain"]
    assert drafted.document["site"]["terrain"] == "moon"


def test_the_fall_of_the_old_roof_runs_to_the_eaves() -> None:
    drafted = drawn("ABCD", [tape("A-B", 6.2), tape("B-C", 4.5)])
    below = {v["corner"]: v["below_line_mm"] for v in drafted.document["survey"]["levels"]}
    assert below["C"] - below["B"] == pytest.approx(4500 / 150)
    assert below["A"] == below["B"]


def keys(model: type[BaseModel], prefix: str = "") -> Iterator[str]:
    for name, field in model.model_fields.items():
        inner, many = kind_of(field.annotation)
        path = f"{prefix}{name}"
        yield path
        if inner is not None:
            yield from keys(inner, f"{path}[]." if many else f"{path}.")


def test_every_default_stands_at_a_key_of_the_job() -> None:
    assert set(USUAL) <= set(keys(Job))


def test_three_corners_cannot_turn_in() -> None:
    with pytest.raises(InvalidInput, match="three more that turn out"):
        sketch(4, frozenset({1, 2}), {}, 4.0)


def test_a_tape_far_out_does_not_drag_the_other_corners_along() -> None:
    good = {(0, 1): 6.0, (1, 2): 4.0, (2, 3): 6.0, (0, 3): 4.0, (0, 2): 52**0.5}
    ring = sketch(4, frozenset(), good | {(1, 3): 8.2}, 4.0)
    square = ((0, 0), (6, 0), (6, 4), (0, 4))
    off = [max(abs(x - u), abs(y - v)) for (x, y), (u, v) in zip(ring, square, strict=True)]
    assert max(off) < 0.15


# --- the roof as walked --------------------------------------------------------------------------


def roof(corners: str, tapes: list[dict[str, Any]], **more: Any) -> Roof:
    document = {"survey": {"corners": list(corners), "tapes": tapes, **more}}
    return walked(complete(document, RATES, ON), document)


def test_the_next_side_is_asked_for_then_the_diagonal_that_holds_the_corners() -> None:
    tapes: list[dict[str, Any]] = []
    asked = []
    for between, length_m in (
        ("A-B", 6.2),
        ("B-C", 4.1),
        ("C-D", 6.2),
        ("D-A", 4.1),
        ("A-C", 7.43),
    ):
        ask = roof("ABCD", tapes).ask
        asked.append(ask.between if ask else None)
        tapes.append(tape(between, length_m))
    assert asked == ["A-B", "B-C", "C-D", "D-A", "A-C"]
    checking = roof("ABCD", tapes).ask
    assert checking is not None
    assert checking.between == "B-D"


def test_a_side_keeps_what_was_taped_and_the_others_are_told_as_guessed() -> None:
    sides = roof("ABCD", [tape("A-B", 6.2)]).sides
    assert [s.taped_m for s in sides] == [6.2, None, None, None]
    assert sides[2].length_m == pytest.approx(6.2)
    assert not any(s.told for s in sides)


def test_a_diagonal_that_cannot_be_is_marked_and_the_roof_keeps_its_shape() -> None:
    square = [tape("A-B", 6.2), tape("B-C", 4.1), tape("C-D", 6.2), tape("D-A", 4.1)]
    found = roof("ABCD", [*square, tape("A-C", 17.43)])
    assert [(m.between, m.read_m) for m in found.misfits] == [("A-C", 17.43)]
    assert found.misfits[0].fits_m == pytest.approx(7.433, abs=0.01)
    assert found.area_m2 == pytest.approx(25.42, abs=0.1)
    assert [m.level for m in found.marks] == ["stop"]


def test_a_tape_that_the_survey_room_names_is_marked_with_what_would_fit() -> None:
    ring = [("A-B", 6.374), ("B-C", 3.047), ("C-D", 2.774), ("D-E", 2.525), ("E-F", 3.636),
            ("F-A", 5.604), ("A-C", 7.091), ("B-D", 4.115), ("A-D", 4.746), ("A-E", 6.653),
            ("D-F", 4.452), ("B-F", 8.056)]  # fmt: skip
    found = roof("ABCDEF", [tape(*t) for t in ring], inner_corners=["D"])
    assert [m.between for m in found.misfits] == ["B-F"]
    (mark,) = [m for m in found.marks if m.code == "tape-wrong"]
    assert "8.506 would fit" in mark.says
