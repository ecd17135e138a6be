"""What is taken from the rates: layers without prices, and names that must exist."""

from dataclasses import fields

import pytest
from tests.unit import rooms

from evenfall.errors import InvalidInput
from evenfall.model import choice
from evenfall.model.choice import build_up


def chosen(name: str = "courtyard", **changes: object):
    return build_up(rooms.changed(rooms.job(name), **changes).design, rooms.demo_rates())


def test_each_layer_is_the_one_that_the_design_names():
    found = chosen()
    assert (found.board.name, found.vcl.name, found.rubber.name) == (
        "phenolic-foil", "bitumen-plain", "epdm-15",
    )  # fmt: skip
    assert (found.thickness_mm, found.layers, found.overlay_mm) == (75, 2, 6)
    assert (found.hold_boards_by, found.quilt, found.basis) == ("adhesive", "keep", "demo")


def test_conductivity_goes_by_the_thickness_of_one_board():
    board = chosen().board
    assert board.conductivity(75) == 0.0195
    assert board.conductivity(110) == 0.0188


def test_a_thickness_may_be_left_open():
    assert chosen("rear-extension").thickness_mm is None


@pytest.mark.parametrize(
    ("key", "value", "known"),
    [
        ("design.board", "wool", "pir-foil"),
        ("design.vcl", "paper", "polythene"),
        ("design.sheet", "felt", "epdm-12"),
        ("design.thickness_mm", 95, "100"),
    ],
)
def test_what_the_rates_do_not_have_is_refused_with_what_they_have(key, value, known):
    with pytest.raises(InvalidInput) as told:
        chosen("garage", **{key: value})
    assert told.value.where == key
    assert known in told.value.expected


def test_no_layer_carries_a_price():
    parts = (choice.Board, choice.Vcl, choice.Rubber, choice.Fastener, choice.BuildUp)
    assert not [f.name for part in parts for f in fields(part) if "price" in f.name]


def test_a_dearer_board_is_the_same_choice():
    rates = rooms.demo_rates().model_dump(mode="json")
    for size in rates["boards"][0]["sizes"]:
        size["price_pence"] += 100
    dearer = rooms.rates_with(boards=rates["boards"])
    assert build_up(rooms.job("garage").design, dearer) == chosen("garage")
