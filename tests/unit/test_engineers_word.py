"""A stop for a structural engineer: what ends it, what does not, and when it comes back."""

from datetime import date

import pytest

from evenfall.model.finding import Remedy
from evenfall.model.recorded import Agreement
from evenfall.stages.design.answers import agreed
from evenfall.stages.design.saying import finding
from evenfall.stages.design.structure import asked
from evenfall.working import Cited

FULL = Cited(1.0, "-", "a standard", "strength", "from memory")


def stop(used: float):
    return asked("joists-weak-after", "joists", "Too much.", FULL, used, Remedy("Lighten it."))


def word(**more: object) -> Agreement:
    return Agreement.model_validate(
        {"finding": "joists-weak-after", "subject": "joists", "by": "I. Nvented, engineer",
         "on": date(2026, 11, 30), "value": 1.08, "reference": "24-117"} | more
    )  # fmt: skip


def test_an_engineers_word_under_its_reference_makes_the_stop_a_recorded_departure():
    told = agreed(stop(1.08), word())
    assert (told.level, told.remedy) == ("note", None)
    assert "Agreed by I. Nvented, engineer on 30 Nov 2026 under 24-117." in told.says


@pytest.mark.parametrize("left_out", ["reference", "value"])
def test_a_word_without_reference_or_value_ends_no_stop(left_out):
    told = agreed(stop(1.08), word(**{left_out: None}))
    assert told.level == "stop"
    assert f"The {left_out} of I. Nvented, engineer's word is missing." in told.says


@pytest.mark.parametrize(("used", "level"), [(1.07, "note"), (0.93, "note"), (1.081, "stop")])
def test_the_word_holds_while_it_gets_no_worse(used, level):
    """Also where it was near its limit and now passes it."""
    assert agreed(stop(used), word()).level == level
    assert agreed(stop(1.03), word(value=0.96)).level == "stop"


def test_another_stop_is_ended_by_nobodys_word():
    wet = finding("timber-wet", "reading:a", "stop", "Wet.", FULL, 1.2)
    assert agreed(wet, word(finding="timber-wet", subject="reading:a")) == wet
