"""How the papers say numbers."""

from __future__ import annotations

import pytest

from evenfall.model.words import by_the_quarter, pounds
from evenfall.stages.papers.symbols import minus, runs, unit
from evenfall.stages.papers.words import about, listed, sentence


@pytest.mark.parametrize(
    ("pence", "said"),
    [(0, "£0.00"), (5, "£0.05"), (99999, "£999.99"), (100000, "£1,000.00"), (-33204, "−£332.04"),
     (123456789, "£1,234,567.89")],
)  # fmt: skip
def test_money_is_said_to_the_penny(pence: int, said: str) -> None:
    assert pounds(pence) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [(0, "about 0"), (4.4, "about 4"), (47, "about 47"), (504.3, "about 500"),
     (2762, "about 2,800"), (19_950, "about 20,000")],
)  # fmt: skip
def test_a_rough_number_has_two_figures(value: float, said: str) -> None:
    assert about(value) == said


@pytest.mark.parametrize(
    ("hour", "said"), [(14.55, "14:45"), (14.75, "14:45"), (14.7501, "15:00"), (23.9, "24:00")]
)
def test_an_hour_is_never_said_earlier_than_it_is(hour: float, said: str) -> None:
    assert by_the_quarter(hour) == said


def test_one_word_needs_no_and() -> None:
    assert listed(["eaves"]) == "eaves"
    assert listed(["a", "b"]) == "a and b"


def test_a_sentence_keeps_its_own_stop() -> None:
    assert sentence("sheet down") == "Sheet down."
    assert sentence("Why?") == "Why?"


def test_indices_powers_and_greek_letters_are_set_apart() -> None:
    assert runs("alpha × d1 / lambda_f^2") == (("t", "α × d1 / λ"), ("b", "f"), ("h", "2"))
    assert runs("c × A_E_mm2^(5 / 4)") == (("t", "c × A"), ("b", "E,mm2"), ("h", "5 / 4"))
    assert runs("new roof + VCL") == (("t", "new roof + VCL"),)


@pytest.mark.parametrize("text", ["firring + VCL + board", "min(R_tested, R_d)", "U + ΔU_g + ΔU_f",
                                  "(a − b) / (c + 0.5)", "−w", "x_1^2", ""])  # fmt: skip
def test_setting_an_expression_loses_nothing_but_signs(text: str) -> None:
    plain = "".join(t for _, t in runs(text))
    assert plain == text.replace("_", "").replace("^", "")


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ("-25.06", "−25.06"),
        ("576.5 × (-2.5 − 0.2)", "576.5 × (−2.5 − 0.2)"),
        ("max(−-1557, 0)", "max(−(−1557), 0)"),
        ("3 + -4", "3 + (−4)"),
        ("2.78e-05 × 3927", "2.78·10^−5 × 3927"),
        ("1e+06", "1·10^6"),
        ("6.374 − 1.1", "6.374 − 1.1"),
    ],
)
def test_numbers_have_a_true_minus(numbers: str, said: str) -> None:
    assert minus(numbers) == said


def test_units_are_raised() -> None:
    assert [unit(u) for u in ("m2", "kg/m3", "mm2", "m/s2", "m4", "each", "l/s per mm^2.5")] == [
        "m²", "kg/m³", "mm²", "m/s²", "m⁴", "", "l/s per mm^2.5",
    ]  # fmt: skip
