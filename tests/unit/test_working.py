"""Working: what is printed is read from the code, and a number keeps where it came from."""

from __future__ import annotations

import copy
import pickle

import numpy as np
import pytest

from evenfall.working import BASES, Cited, Table, Working, figure, formula, measured, total, weakest


@formula("q_p", "Pa", "EN 1991-1-4 (4.8)")
def peak(c_e, q_b, rho=Cited(1.25, "kg/m3", "EN 1991-1-4", "4.5", "from memory")):
    """Peak velocity pressure.

    Parameters
    ----------
    c_e : float
        Exposure factor [-].
    q_b, rho : float
        Basic pressure [Pa].
    """
    return c_e * q_b * (rho / 1.25) ** 2 - 0.5


def test_calling_computes_for_numbers_and_arrays_alike():
    assert peak(2.0, 400.0) == 799.5
    assert peak(2.0, np.array([400.0, 300.0])).tolist() == [799.5, 599.5]


def test_a_number_below_0_stands_in_brackets_after_a_sign_or_at_a_power():
    of = (("a", "m", -1.5), ("b", "m", 2.0))
    shown = Working("t", "x", "m", "by hand", 0.0, of, "b − a + a^2 × b")
    assert shown.numbers == "2 − (-1.5) + (-1.5)^2 × 2"
    assert Working("t", "x", "m", "by hand", 0.0, of, "a + b").numbers == "-1.5 + 2"
    assert Working("t", "x", "m", "by hand", 0.0, of, "max(a, b)").numbers == "max(-1.5, 2)"


def test_the_printed_expression_is_read_from_the_code():
    shown = peak.show(c_e=1.5, q_b=422.5)
    assert shown.expression == "c_e × q_b × (rho / 1.25)^2 − 0.5"
    assert shown.line == (
        "q_p = c_e × q_b × (rho / 1.25)^2 − 0.5 = 1.5 × 422.5 × (1.25 / 1.25)^2 − 0.5 = 633.2 Pa"
    )


def test_units_of_arguments_are_read_from_the_docstring():
    assert peak.units == {"c_e": "-", "q_b": "Pa", "rho": "Pa"}
    assert peak.show(1.5, 422.5).of[1][1] == "Pa"


def test_a_computed_number_takes_the_weakest_basis_of_what_went_in():
    read = Cited(422.5, "Pa", "a book", "p. 3", "published")
    assert peak.show(1.5, read).basis == "from memory"
    assert peak.show(1.5, read, 1.25).basis == "published"
    demo = measured(1.5, "-", "rates", "demo")
    inner = total("t", "t", "Pa", [("a", read), ("b", demo)])
    assert peak.show(1.5, inner, 1.25).basis == "demo"


def test_the_bases_stand_from_strong_to_weak():
    assert BASES[0] == "measured"
    assert BASES[-1] == "demo"
    assert weakest([]) == "published"


def test_wrong_arguments_are_refused_as_by_the_plain_function():
    for wrong in ({"c_e": 1.0}, {"c_e": 1.0, "q_b": 2.0, "z": 3.0}):
        with pytest.raises(TypeError):
            peak.show(**wrong)
    with pytest.raises(TypeError):
        peak.show(1, 2, 3, 4)


def test_a_formula_of_more_than_one_expression_is_refused():
    @formula("x", "-", "nowhere")
    def two(a):
        b = a + 1
        return b * 2

    with pytest.raises(TypeError, match="one return expression"):
        two.show(1.0)


def test_a_known_number_is_a_float_that_keeps_its_source():
    known = Cited(0.04, "m2K/W", "ISO 6946", "Table 7", "from memory")
    assert known * 2 == 0.08
    assert type(known * 2) is float
    assert (np.ones(2) * known).tolist() == [0.04, 0.04]
    for twin in (copy.deepcopy(known), pickle.loads(pickle.dumps(known))):
        assert twin == known
        assert twin.where == "Table 7"
    assert known == 0.04
    assert known != Cited(0.04, "m2K/W", "ISO 6946", "Table 8", "from memory")
    assert hash(known) == hash(0.04)


@pytest.mark.parametrize(
    "wrong", [("", "ISO", "published"), ("m", "", "published"), ("m", "x", "?")]
)
def test_a_known_number_without_unit_source_or_basis_is_refused(wrong):
    unit, source, basis = wrong
    with pytest.raises(ValueError, match="needs unit, source and a basis"):
        Cited(1.0, unit, source, "somewhere", basis)


def test_a_table_with_a_row_too_short_is_refused():
    with pytest.raises(ValueError, match="needs 2 cells"):
        Table("t", (("a", "-"), ("b", "m")), ((1.0,),), "us", "measured")


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0212478, "0.02125"), (661.8172, "661.8"), (6.0, "6"), (25420.3, "25420"), (-0.5, "-0.5")],
)
def test_a_number_is_printed_with_the_figures_that_a_sum_needs(value, text):
    assert figure(value) == text


def test_a_sum_shows_its_parts():
    shown = total("Build-up", "b", "mm", [("board", 120.0), ("sheet", 1.2)])
    assert shown.line == "b = board + sheet = 120 + 1.2 = 121.2 mm"
    assert float(shown) == 121.2


def test_a_working_without_inputs_prints_its_value_alone():
    assert Working("Days", "n", "-", "the programme", 5.0).line == "n = 5"
