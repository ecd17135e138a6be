"""Until when a quotation can be signed: while its prices hold, and before its first day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from evenfall.model.finding import Finding, Remedy
from evenfall.model.rates import Rates

CALENDAR = "calendar.start_on"


def findings(
    rates: Rates, oldest: date, first: date, on: date, *, agreed: bool
) -> Iterator[Finding]:
    """Say that prices have run out, or that the first day is over.

    Parameters
    ----------
    rates : Rates
        The firm's prices [-].
    oldest, first, on : date
        Oldest price, first day of the work, date of the quotation [-].
    agreed : bool
        Whether the client has accepted or work has begun: then neither stops anything [-].

    Yields
    ------
    Finding
        A stop, since the paper would be out of date as it is signed [-].
    """
    held = rates.rates.hold_days
    until = oldest + timedelta(days=held)
    if on > until:
        says = f"The prices held until {until:%d %b %Y}. Ask for new ones before this goes out."
        yield Finding("prices-old", "price", "note" if agreed else "stop", says, "the rates",
                      rates.basis, (on - oldest).days, held, "d",
                      Remedy("Bring the prices up to date."))  # fmt: skip
    if first < on and not agreed:
        says = f"Work would start on {first:%d %b %Y}, which is over on the day of the quotation."
        yield Finding("start-past", "price", "stop", says, CALENDAR, "measured",
                      (on - first).days, 0, "d",
                      Remedy("Give a first day that is still to come, or record what was "
                             "accepted and done."))  # fmt: skip
