"""Findings that differ in nothing but the name of their side, told as one with all the names."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from evenfall.model.finding import Finding

NAMED = 6  # names in one sentence; the desk and the sheets have them all


def told_once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Join what is said alike of several sides, so that the list stays short.

    Parameters
    ----------
    findings : iterable of Finding
        In their order [-].

    Returns
    -------
    tuple of Finding
        Each at the place of the first of its like [-].

    Examples
    --------
    >>> cold = Finding("cold", "side:A", "note", "A: 12 °C.", "us", "published")
    >>> other = replace(cold, subject="side:B", says="B: 12 °C.")
    >>> [f.says for f in told_once((cold, other))]
    ['A, B: 12 °C.']
    """
    alike: dict[tuple[object, ...], list[Finding]] = {}
    for f in findings:
        key = (f.level, f.code, repr(f.remedy), _rest(f) or (f.subject, f.says))
        alike.setdefault(key, []).append(f)
    return tuple(_joined(group) for group in alike.values())


def _rest(finding: Finding) -> str:
    """Give what is said after the name of the side; nothing where it does not begin with that."""
    name, _, rest = finding.says.partition(": ")
    return rest if name == finding.subject.partition(":")[2] else ""


def _joined(group: list[Finding]) -> Finding:
    if len(group) == 1:
        return group[0]
    names = [f.subject.partition(":")[2] for f in group]
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return replace(group[0], says=f"{', '.join(names[:NAMED])}{more}: {_rest(group[0])}")
