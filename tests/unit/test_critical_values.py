"""Critical values are only given for chances and degrees of freedom that exist."""

from __future__ import annotations

import pytest

from evenfall.calc.geometry.critical_values import (
    chi_square_limit,
    delta_0,
    normal_limit,
    tau_limit,
)
from evenfall.errors import OutOfScope


@pytest.mark.parametrize("chance", [0.0, 1.0, -0.1])
def test_a_risk_outside_0_to_1_is_refused(chance: float) -> None:
    with pytest.raises(OutOfScope, match="above 0 and below 1"):
        normal_limit(chance)
    with pytest.raises(OutOfScope, match="power"):
        delta_0(0.001, chance)


def test_without_a_tape_too_many_there_is_no_limit() -> None:
    with pytest.raises(OutOfScope, match="1 or more"):
        chi_square_limit(0)
    with pytest.raises(OutOfScope, match="2 or more"):
        tau_limit(1)
