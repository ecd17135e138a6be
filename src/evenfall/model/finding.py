"""Finding: what is right, wrong or to be agreed about a job, and what clears it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evenfall.working import Basis

Level = Literal["stop", "agree", "note", "fine"]
"""``stop``: do not build this. ``agree``: only with a word in writing. ``note``, ``fine``."""

LEVELS: tuple[Level, ...] = ("stop", "agree", "note", "fine")


@dataclass(frozen=True, slots=True)
class Change:
    """One change to the job: ``path`` as in ``survey.heights[back-door].agreed_upstand_mm``."""

    path: str
    value: object


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do, in words, and the changes to the job that clear the finding, if it is that easy.

    A remedy with changes is tested: applied to the job, its finding must go.
    """

    says: str
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """One plain sentence about one thing of the job, with the number, its limit and the source."""

    code: str  # kebab-case words, such as "upstand-short"
    subject: str  # an id: side:B-C, opening:rooflight-1, height:back-door, tape:A-C, roof
    level: Level
    says: str
    source: str
    basis: Basis
    value: float | None = None
    limit: float | None = None
    unit: str = "-"
    remedy: Remedy | None = None
    by_engineer: bool = False  # a structural engineer's word, with its reference, may settle it


def heaviest(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Sort findings, the heaviest first, else as they came.

    Parameters
    ----------
    findings : tuple of Finding
        In any order [-].

    Returns
    -------
    tuple of Finding
        ``stop`` before ``agree`` before ``note`` before ``fine`` [-].

    Examples
    --------
    >>> a = Finding("a", "roof", "note", "", "us", "common practice")
    >>> b = Finding("b", "roof", "stop", "", "us", "common practice")
    >>> [f.code for f in heaviest((a, b))]
    ['b', 'a']
    """
    return tuple(sorted(findings, key=lambda f: LEVELS.index(f.level)))
