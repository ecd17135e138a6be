"""Answers: where sources differ or a departure is asked for, the word of who decides counts."""

from __future__ import annotations

from dataclasses import replace
from math import isclose

from evenfall.model.finding import Finding
from evenfall.model.job import Answer
from evenfall.model.recorded import Agreement
from evenfall.standards import approved_document_j as flues
from evenfall.standards import building_regulations as council
from evenfall.standards import planning_practice as planning
from evenfall.working import Cited, Table, weakest

ABOUT = {
    "notice": (
        "notice-council",
        "notice-own",
        "notice-garage",
        "notice-open",
        "notice-by-council",
    ),
    "weight": ("weight-heavier", "weight-lighter"),
    "planning": (
        "planning-rise",
        "planning-highest",
        "planning-garage",
        "planning-flat",
        "planning-listed",
    ),
    "flue": ("flue-engineer",),
}
"""The findings that an answer is about."""

COLUMNS = (("about", "-"), ("limit", "-"), ("says", "-"), ("source", "-"), ("basis", "-"))
_SIDE_BY_SIDE = (
    ("notice", council.HALF_OF_ROOF), ("notice", council.QUARTER_OF_ENVELOPE),
    ("notice", council.QUARTER_OF_ROOF), ("notice", council.HALF_BY_SCHEME),
    ("weight", council.HEAVIER), ("weight", council.HEAVIER_OR_LIGHTER),
    ("planning", planning.RISE_MM), ("planning", planning.ABOVE_HIGHEST_MM),
    ("flue", flues.ABOVE_ROOF_MM), ("flue", flues.SOLID_FUEL_ABOVE_MM), ("flue", flues.FACING_MM),
    ("flue", flues.GUARD_BELOW_M),
)  # fmt: skip


def sources() -> Table:
    """Set the sources that differ side by side.

    Returns
    -------
    Table
        What each says of notice, weight, planning and flues [-].
    """
    rows = tuple(_row(about, limit) for about, limit in _SIDE_BY_SIDE)
    basis = weakest(limit.basis for _, limit in _SIDE_BY_SIDE)
    return Table("Where the sources differ", COLUMNS, rows, "as in each line", basis)


def _row(about: str, limit: Cited) -> tuple[str, ...]:
    return about, f"{limit:g} {limit.unit}", limit.where, limit.source, limit.basis


def settled(finding: Finding, answers: tuple[Answer, ...]) -> Finding:
    """Settle a finding by the answer that is about it; the last answer counts.

    Parameters
    ----------
    finding : Finding
        Any [-].
    answers : tuple of Answer
        ``record.answers`` [-].

    Returns
    -------
    Finding
        A note where it is not needed, or needed and given under a reference; to be agreed where
        it is needed and not yet given; as it was without an answer [-].
    """
    mine = [a for a in answers if finding.code in ABOUT[a.about]]
    if not mine:
        return finding
    answer = mine[-1]
    who = answer.by[:1].upper() + answer.by[1:]
    said = f"{finding.says} {who} answered on {answer.on:%d %b %Y}: "
    if not answer.needed:
        return replace(finding, level="note", says=f"{said}not needed.", remedy=None)
    if answer.reference:
        says = f"{said}needed, and given under {answer.reference}."
        return replace(finding, level="note", says=says, remedy=None)
    return replace(finding, level="agree", says=f"{said}needed; no reference is on record yet.")


def agreed(finding: Finding, agreement: Agreement | None) -> Finding:
    """Turn a departure agreed in writing into a note, unless its value has got worse since.

    Parameters
    ----------
    finding : Finding
        Any [-].
    agreement : Agreement or None
        The last of ``record.agreed`` about it [-].

    Returns
    -------
    Finding
        A note; as it was where nothing is agreed, where a stop has no engineer's reference, or
        where it got worse, and then saying so [-].
    """
    if agreement is None or not (finding.level == "agree" or finding.by_engineer):
        return finding
    said = agreement.by
    if finding.by_engineer and (agreement.reference is None or agreement.value is None):
        missing = "reference" if agreement.reference is None else "value"
        return replace(finding, says=f"{finding.says} The {missing} of {said}'s word is missing.")
    if agreement.value is not None and _worse(agreement.value, finding):
        return replace(finding, says=f"{finding.says} What {said} agreed has got worse.")
    under = f" under {agreement.reference}" if agreement.reference else ""
    says = f"{finding.says} Agreed by {said} on {agreement.on:%d %b %Y}{under}."
    return replace(finding, level="note", says=says, remedy=None)


def _worse(value: float, finding: Finding) -> bool:
    """Whether a value lies further beyond its limit than what was agreed to."""
    if finding.value is None or isclose(finding.value, value, rel_tol=1e-9, abs_tol=1e-9):
        return finding.value is None
    if finding.by_engineer:
        return finding.value > value  # uses, sags and spacings: more is worse
    if finding.limit is None or value == finding.limit:
        return True  # which way is worse cannot be told
    return (finding.value > value) == (value > finding.limit)
