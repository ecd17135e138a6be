"""Sawing boards."""

import pytest

from evenfall.calc.layout.guillotine import Part, saw_boards, sawn
from evenfall.errors import InvalidInput


def test_two_halves_need_two_boards_when_the_saw_takes_its_part():
    halves = [(1200, 1200), (1200, 1200)]
    assert len(saw_boards(halves, (2400, 1200), 0)) == 1
    assert len(saw_boards(halves, (2400, 1200), 4)) == 2


def test_a_piece_is_turned_where_that_lets_it_fit():
    assert saw_boards([(1200, 2400)], (2400, 1200), 4)[0].placed[0].part == Part(0, 0, 2400, 1200)


def test_a_piece_that_may_not_be_turned_is_refused():
    with pytest.raises(InvalidInput, match="1200 x 2400"):
        saw_boards([(1200, 2400)], (2400, 1200), 4, rotate=False)


def test_a_rest_thinner_than_the_saw_is_dust():
    assert sawn(Part(0, 0, 2400, 1200), "x", 2397, 4) == (Part(0, 0, 2397, 1200), None)


def test_no_pieces_want_no_board():
    assert saw_boards([], (2400, 1200), 4) == ()
