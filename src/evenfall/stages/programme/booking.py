"""Booking: what the work waits for, the last day to order it, and what that moves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from evenfall.calc.bank_holidays import public_holidays
from evenfall.errors import InvalidInput
from evenfall.model import rates
from evenfall.model.finding import Finding
from evenfall.model.programmed import Booking, Day
from evenfall.model.recorded import Booked
from evenfall.stages.programme.gang import SATURDAY
from evenfall.stages.programme.site import SHEETING, kind
from evenfall.working import Basis

WHERE = "rates: bookings"
A_DAY = timedelta(days=1)


def bookings(
    wanted: tuple[rates.Booking, ...], windows: tuple[tuple[str, int], ...],
    booked: tuple[Booked, ...], on: date, known: frozenset[str], nation: str,
) -> tuple[Booking, ...]:  # fmt: skip
    """List what must be there before felt is cut or a sheet is laid.

    Parameters
    ----------
    wanted : tuple of Booking
        Of the rates, what this job needs [d].
    windows : tuple of (str, int)
        Windows that are replaced or changed, and how long each takes [d].
    booked : tuple of Booked
        What is ordered or here [-].
    on : date
        Today [-].
    known : frozenset of str
        Names that may be booked [-].
    nation : str
        On whose public holidays nobody answers [-].

    Returns
    -------
    tuple of Booking
        Each with the day on which it is there; if open, ordered today or when next somebody
        answers [-].

    Raises
    ------
    InvalidInput
        Something is booked that neither the rates nor the windows name.
    """
    made = {b.name: b for b in booked}
    for name in made.keys() - known:
        raise InvalidInput(f'no booking named "{name}"', f"one of {', '.join(sorted(known))}",
                           where="record.booked")  # fmt: skip
    all_ = [(b.name, b.says, b.kind, b.lead_days, b.before) for b in wanted]
    all_ += [
        (name, f"{name}: new window or sash", "bought", days, "strip") for name, days in windows
    ]
    found = []
    for name, says, what, days, before in all_:
        one = made.get(name)
        ready = _answered(on, nation, A_DAY) + days * A_DAY
        if one is not None:
            ready = one.here_on or one.ordered_on + days * A_DAY
        ordered = one.ordered_on if one else None
        found.append(Booking(name, says, what, days, before, ordered, ready))
    return tuple(found)


def dated(
    found: tuple[Booking, ...], days: tuple[Day, ...], nation: str
) -> tuple[Booking, ...]:  # fmt: skip
    """Tell when this programme needs each booking, and the last day to order it.

    Parameters
    ----------
    found : tuple of Booking
        What the work waits for [-].
    days : tuple of Day
        The days [-].
    nation : str
        On whose public holidays nobody answers [-].

    Returns
    -------
    tuple of Booking
        In the order of their last days [-].
    """
    strip = next((d.on for d in days if any("@1" in i for i, _ in d.work)), None)
    sheet = next((d.on for d in days if any(kind(i) in SHEETING for i, _ in d.work)), None)
    needs = {"strip": strip, "sheet": sheet}
    dated = []
    for b in found:
        needed = needs[b.before]
        by = _answered(needed - b.lead_days * A_DAY, nation, -A_DAY) if needed else None
        dated.append(replace(b, needed_on=needed, order_by=by))
    return tuple(sorted(dated, key=lambda b: (b.order_by or date.max, b.name)))


def _answered(on: date, nation: str, step: timedelta) -> date:
    """Go on, or back, to a day on which a merchant or an office answers."""
    while on.weekday() >= SATURDAY or on in public_holidays(nation, on.year):
        on += step
    return on


def told(found: tuple[Booking, ...], start_on: date, basis: Basis) -> Iterator[Finding]:
    """Say what moves the work, and what is to be ordered by when.

    Parameters
    ----------
    found : tuple of Booking
        With their last days [-].
    start_on : date
        First day of the calendar [-].
    basis : str
        Basis of the rates [-].

    Yields
    ------
    Finding
        A note for each that is not here by the start, and one for all that is open [-].
    """
    for b in found:
        if b.ready_on > start_on and b.before == "strip":
            ordered = f"ordered on {b.ordered_on:%d %b}" if b.ordered_on else "ordered at once"
            says = (
                f"{b.says} takes {b.lead_days} days: {ordered} it is there on "
                f"{b.ready_on:%a %d %b %Y}. No felt is cut before."
            )
            late, lead = float((b.ready_on - start_on).days), float(b.lead_days)
            yield Finding("booking-late", f"booking:{b.name}", "note", says, WHERE, basis, late,
                          lead, "d")  # fmt: skip
    open_ = [b for b in found if b.ordered_on is None and b.order_by]
    if open_:
        lines = "; ".join(f"{b.name} by {b.order_by:%a %d %b}" for b in open_)
        yield Finding(
            "to-book", "roof", "note", f"Still to book or to order: {lines}.", WHERE, basis,
            float(len(open_)), None, "each",
        )  # fmt: skip
