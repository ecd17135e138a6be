"""Structure: what fails or is near stops, until a structural engineer's word is on record."""

from __future__ import annotations

from dataclasses import replace

from evenfall.model.finding import Finding, Remedy
from evenfall.stages.design.saying import Source, finding
from evenfall.working import Known

NEAR = 0.9
"""Share of any limit of the structure from which it stops although it holds: spans, grades and
sections of old joists are known to about a tenth, and nobody sees the whole of each."""
PERCENT = 100
CLOSE = f"From {NEAR * PERCENT:.0f} % of the limit on it stops: old joists are known to a tenth."
ENGINEER = "Ask a structural engineer; this is not a structural design."
HAND_OVER = (
    "The engineer wants the table “Joists, for the engineer” of the calculation sheets; enter the "
    "word given, with its reference, under record.agreed."
)


def asked(
    code: str,
    subject: str,
    says: str,
    by: Source,
    value: float,
    remedy: Remedy,
    unit: str = "-",
) -> Finding:
    """Stop for a structural engineer, whose recorded word turns the stop into a departure.

    Parameters
    ----------
    code, subject, says : str
        As in `Finding`; the caution is added [-].
    by : Cited or Duty
        The limit, with its source [-].
    value : float
        What was found, in the unit of the limit [any].
    remedy : Remedy
        What clears it otherwise; the table for the engineer is named after it [-].
    unit : str
        Unit of the value where no number limits it [-].

    Returns
    -------
    Finding
        A stop [-].

    Examples
    --------
    >>> from evenfall.working import Cited
    >>> full = Cited(1.0, "-", "a standard", "strength", "from memory")
    >>> told = asked("weak", "joists", "Used to 104 %.", full, 1.04, Remedy("Lighten it."))
    >>> told.level, told.by_engineer, told.says
    ('stop', True, 'Used to 104 %. Ask a structural engineer; this is not a structural design.')
    >>> asked("near", "joists", "Used to 94 %.", full, 0.94, Remedy("Lighten it.")).says[:48]
    'Used to 94 %. From 90 % of the limit on it stops'
    """
    near = f" {CLOSE}" if isinstance(by, Known) and NEAR * by < value <= by else ""
    told = finding(
        code, subject, "stop", f"{says}{near} {ENGINEER}", by, value,
        replace(remedy, says=f"{remedy.says} {HAND_OVER}"), unit,
    )  # fmt: skip
    return replace(told, by_engineer=True)


def stands(used: float, before: float, limit: float = 1.0) -> str:
    """Say how it stood before, where what fails or is near gets no worse by the new roof.

    Parameters
    ----------
    used, before : float
        Use now and as found, in the unit of the limit [any].
    limit : float
        The most that is allowed [any].

    Returns
    -------
    str
        A clause that follows the use, or nothing where it gets worse [-].

    Examples
    --------
    >>> stands(1.08, 1.21)
    '; 121 % as found. The new roof makes it no worse, but it was too weak before and still is'
    >>> stands(1.08, 0.97)
    ''
    """
    if used > before:
        return ""
    weak = "it was too weak before and still is"
    close = "it was near its limit before and still is"
    return (
        f"; {before / limit * PERCENT:.0f} % as found. The new roof makes it no worse, but "
        f"{weak if used > limit else close}"
    )
