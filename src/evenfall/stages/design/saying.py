"""How a design room says what it found: one sentence, its number and the limit's source."""

from __future__ import annotations

from typing import Protocol

from evenfall.model.finding import Change, Finding, Level, Remedy
from evenfall.working import Basis, Cited, Known, Working


class Source(Protocol):
    """A cited number, or a duty without a number."""

    @property
    def source(self) -> str:
        """Document and clause."""

    @property
    def basis(self) -> Basis:
        """How far it was read."""


def finding(
    code: str,
    subject: str,
    level: Level,
    says: str,
    by: Source,
    value: float | None = None,
    remedy: Remedy | None = None,
    unit: str = "-",
) -> Finding:
    """Say what was found; a cited number is also the limit of the value.

    Parameters
    ----------
    code, subject, level, says : str
        As in `Finding` [-].
    by : Cited or Duty
        What asks for it [-].
    value : float, optional
        The number found, in the unit of the limit [any].
    remedy : Remedy, optional
        What to do [-].
    unit : str
        Unit of the value where a duty without a number asks for it [-].

    Returns
    -------
    Finding
        With source, basis, limit and unit of what asks for it [-].

    Examples
    --------
    >>> from evenfall.working import Cited
    >>> limit = Cited(150, "mm", "planning", "rise", "from memory")
    >>> told = finding("rise", "roof", "agree", "It rises 165 mm.", limit, 165)
    >>> told.limit, told.unit, told.basis
    (150.0, 'mm', 'from memory')
    """
    number = None if value is None else float(value)
    limit = None
    if isinstance(by, Known) and value is not None:
        limit, unit = float(by), by.unit
    return Finding(code, subject, level, says, by.source, by.basis, number, limit, unit, remedy)


def cure(says: str, *changes: tuple[str, object]) -> Remedy:
    """Say what clears a finding.

    Parameters
    ----------
    says : str
        In words [-].
    changes : tuple
        Path in the job and new value, where it is that easy [-].

    Returns
    -------
    Remedy
        Words and changes [-].

    Examples
    --------
    >>> cure("Screw the boards.", ("design.hold_boards_by", "screws")).changes[0].value
    'screws'
    """
    return Remedy(says, tuple(Change(path, value) for path, value in changes))


def rain_limit(flow: Working) -> Known:
    """Make the rain that comes the limit that a gutter, outlet or overflow is held against.

    Parameters
    ----------
    flow : Working
        Rain that reaches it [l/s].

    Returns
    -------
    Known
        The flow with its source [l/s].
    """
    return Cited(flow.value, "l/s", flow.source, "rain that reaches it", flow.basis)
