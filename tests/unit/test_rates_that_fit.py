"""Stock that can be neither laid nor lapped is refused where it stands: in the firm's rates."""

import pytest
from pydantic import ValidationError
from tests.unit import rooms

from evenfall.model.rates import Rates


def changed(kind, **what):
    told = rooms.demo_rates().model_dump()
    told[kind] = [{**told[kind][0], **what}]
    return told


WEDGES = [
    {"thin_mm": 30, "thick_mm": 60, "price_pence": 3100},
    {"thin_mm": 60, "thick_mm": 90, "price_pence": 4400},
]


@pytest.mark.parametrize(
    ("kind", "what", "says"),
    [
        ("boards", {"length_mm": 1200, "width_mm": 300}, "it must be wider than 300 mm"),
        ("boards", {"length_mm": 250, "width_mm": 600}, "it must be wider than 300 mm"),
        ("boards", {"length_mm": 3000, "width_mm": 1200}, "must not be larger than 2500 x 1200 mm"),
        ("sheets", {"widths_m": (3.05, 0.2)}, "more than two laps of 0.1 m"),
        ("sheets", {"longest_m": 3.0, "step_m": 4.0}, "over a lap of 0.1 m"),
        ("vcls", {"width_mm": 80, "side_lap_mm": 80}, "wider than its side lap of 80 mm"),
        ("vcls", {"length_mm": 1999}, "2000 mm or longer"),
        ("vcls", {"end_lap_mm": 1000}, "the lap less than 1000"),
        ("tapers", {"width_mm": 300}, "it must be wider than 300 mm"),
        ("tapers", {"one_in": 80}, "1200 mm at 1:80 rise 15 mm"),
        ("tapers", {"sizes": WEDGES[::-1]}, "30 mm after 90 mm"),
    ],
)
def test_stock_that_can_be_neither_laid_nor_lapped_is_refused(kind, what, says):
    with pytest.raises(ValidationError, match=says):
        Rates.model_validate(changed(kind, **what))


@pytest.mark.parametrize(
    ("kind", "what"),
    [
        ("boards", {"length_mm": 301, "width_mm": 600}),
        ("sheets", {"widths_m": (0.21,), "longest_m": 0.2, "step_m": 0.2}),
        ("vcls", {"width_mm": 81, "side_lap_mm": 80, "length_mm": 2000}),
    ],
)
def test_stock_that_just_can_be_is_taken(kind, what):
    assert Rates.model_validate(changed(kind, **what))


@pytest.mark.parametrize("mm", [-1, 150, 1300])
def test_a_saw_wider_than_the_least_piece_is_refused(mm):
    with pytest.raises(ValidationError, match="boards_mm"):
        Rates.model_validate({**rooms.demo_rates().model_dump(), "saw": {"boards_mm": mm}})


def test_a_wider_saw_takes_more_out_of_boards_and_lengths():
    wide = rooms.rates_with(saw={"boards_mm": 40, "timber_mm": 40, "trims_mm": 40})
    w, plain = (rooms.taken_off(rooms.job("garage"), r) for r in (wide, rooms.demo_rates()))
    assert cuts_apart(w) == 40
    assert cuts_apart(plain) == 4
    left = [sum(b.left_mm for run in x.lengths.runs for b in run.bars) for x in (w, plain)]
    assert left[0] < left[1] or len(w.lengths.runs[0].bars) > len(plain.lengths.runs[0].bars)


def cuts_apart(w):
    """Measure the gap that the saw leaves between the two parts of a board that is cut across."""
    gaps = set()
    for board in w.boards.sawn:
        first = board.cuts[0]
        if first.way == "across":
            beyond = [r.x_mm for r in (*board.rests, *(p for _, p in board.pieces))
                      if r.x_mm > first.at_mm]  # fmt: skip
            gaps |= {min(beyond) - first.at_mm} if beyond else set()
    return min(gaps)
