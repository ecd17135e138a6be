"""Stock that can be neither laid nor lapped is refused where it stands: in the firm's rates."""

import pytest
from pydantic import ValidationError
from tests.unit import rooms

from evenfall.model.rates import Rates


def changed(kind, **what):
    told = rooms.demo_rates().model_dump()
    told[kind] = [{**told[kind][0], **what}]
    return told


@pytest.mark.parametrize(
    ("kind", "what", "says"),
    [
        ("boards", {"length_mm": 1200, "width_mm": 300}, "it must be wider than 300 mm"),
        ("boards", {"length_mm": 250, "width_mm": 600}, "it must be wider than 300 mm"),
        ("boards", {"length_mm": 3000, "width_mm": 1200}, "must not be larger than 2500 x 1200 mm"),
        ("sheets", {"widths_m": (3.05, 0.1)}, "more than a lap of 0.1 m"),
        ("sheets", {"longest_m": 3.0, "step_m": 4.0}, "over a lap of 0.1 m"),
        ("vcls", {"width_mm": 80, "side_lap_mm": 80}, "wider than its side lap of 80 mm"),
        ("vcls", {"length_mm": 1999}, "2000 mm or longer"),
        ("vcls", {"end_lap_mm": 1000}, "the lap less than 1000"),
    ],
)
def test_stock_that_can_be_neither_laid_nor_lapped_is_refused(kind, what, says):
    with pytest.raises(ValidationError, match=says):
        Rates.model_validate(changed(kind, **what))


@pytest.mark.parametrize(
    ("kind", "what"),
    [
        ("boards", {"length_mm": 301, "width_mm": 600}),
        ("sheets", {"widths_m": (0.11,), "longest_m": 0.2, "step_m": 0.2}),
        ("vcls", {"width_mm": 81, "side_lap_mm": 80, "length_mm": 2000}),
    ],
)
def test_stock_that_just_can_be_is_taken(kind, what):
    assert Rates.model_validate(changed(kind, **what))
