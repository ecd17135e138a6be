"""Easter: our arithmetic against that of another library.

Witness: `dateutil.easter` (Gregorian, western). Basis: computed.
"""

from __future__ import annotations

from dateutil import easter as witness

from evenfall.calc.bank_holidays import easter


def test_easter_is_the_witness_s_in_every_year_of_five_centuries():
    assert [y for y in range(1583, 2100) if easter(y) != witness.easter(y)] == []
