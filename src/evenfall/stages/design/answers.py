"""Answers: where the sources differ, the word of who decides settles it."""

from __future__ import annotations

from dataclasses import replace

from evenfall.model.finding import Finding
from evenfall.model.job import Answer
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
