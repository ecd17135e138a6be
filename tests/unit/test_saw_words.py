"""The saw list in words: what is sawn again or kept has a letter, and every cut names its part."""

from evenfall.model.taken_off import BoardPart, SawCut, SawnBoard
from evenfall.stages.papers.drawn_saw import left_words, lettered, saw_words

WHOLE = BoardPart(0, 0, 2400, 1200)
RIGHT = BoardPart(905, 0, 1495, 1200)
UPPER = BoardPart(905, 605, 1495, 595)
STRIP = BoardPart(2325, 605, 75, 595)
BOARD = SawnBoard(
    4,
    (SawCut("across", 900, WHOLE), SawCut("along", 600, RIGHT), SawCut("across", 1415, UPPER)),
    ((7, BoardPart(0, 0, 900, 1200)), (8, BoardPart(905, 605, 1415, 595))),
    (BoardPart(905, 0, 1495, 600), STRIP),
)


def test_each_cut_names_the_part_it_goes_through_and_what_lies_on_either_side():
    assert saw_words(BOARD) == (
        "board 4: cut 1: across, 900 from the left end: left piece 7, right A (1495 × 1200); "
        "cut 2: along through A, 600 from the lower edge: below B (1495 × 600, left over), "
        "above C (1495 × 595); "
        "cut 3: across through C, 1415 from the left end: left piece 8, right scrap (75 × 595)"
    )


def test_what_is_kept_is_listed_by_its_letter_and_scrap_is_not():
    assert left_words(BOARD) == "B 1495 × 600"


def test_no_two_parts_of_a_board_share_a_letter():
    letters = [v for v in lettered(BOARD).values() if v != "scrap"]
    assert sorted(letters) == ["A", "B", "C"]
