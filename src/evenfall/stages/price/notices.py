"""What the firm has to have looked at before a quotation goes to a client."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.finding import Finding, Remedy
from evenfall.model.rates import Firm
from evenfall.standards import quotation_practice as practice


def findings(firm: Firm, business: bool) -> Iterator[Finding]:
    """Say that the notice of cancellation is worded from memory, until somebody has checked it.

    Parameters
    ----------
    firm : Firm
        Tells when its wording was checked [-].
    business : bool
        Whether the client is one: no such notice is given then [-].

    Yields
    ------
    Finding
        A note for the firm; no client reads it [-].
    """
    if business or firm.cancellation_checked_on is not None:
        return
    wording = practice.CANCEL_WORDING
    yield Finding(
        "cancellation-unchecked", "price", "note",
        "The notice and form of cancellation in the quotation are worded from memory; nobody here "
        "has read the law beside them.",
        wording.source, wording.basis,
        remedy=Remedy(
            "Have a solicitor or trading standards read them before you send them first; then put "
            "the day into the rates: firm.cancellation_checked_on."
        ),
    )  # fmt: skip
