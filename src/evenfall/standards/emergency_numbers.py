"""Whom to ring at once when something dangerous is found, by nation.

Free emergency lines, remembered and not looked up. A number that the firm has tried itself takes
the place of one of them: ``firm.emergency`` in its rates.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis

_REMEMBERED: Basis = "from memory"
_ANYWHERE = ("england", "wales", "scotland", "northern_ireland")


@dataclass(frozen=True, slots=True)
class Line:
    """A telephone line that answers day and night.

    Parameters
    ----------
    telephone : str
        As it is dialled [-].
    who : str
        Who answers [-].
    dangers : tuple of str
        For what it is rung [-].
    of : str
        For which danger a number that the firm has tried takes its place [-].
    nations : tuple of str
        Where it answers [-].
    source, basis : str
        Where the number is from [-].
    """

    telephone: str
    who: str
    of: str
    dangers: tuple[str, ...]
    nations: tuple[str, ...]
    source: str
    basis: Basis = _REMEMBERED


LINES = (
    Line("0800 111 999", "gas emergency", "gas", ("gas",), ("england", "wales", "scotland"),
         "gas emergency service of Great Britain"),
    Line("0800 002 001", "gas emergency", "gas", ("gas",), ("northern_ireland",),
         "gas emergency service of Northern Ireland"),
    Line("105", "the electricity network, where the supply cable is hit",
         "cable", ("cable",), ("england", "wales", "scotland"), "electricity network operators"),
    Line("03457 643 643", "the electricity network, where the supply cable is hit",
         "cable", ("cable",), ("northern_ireland",), "electricity network of Northern Ireland"),
    Line("999", "fire and ambulance, where anybody is hurt or in danger", "hurt",
         ("gas", "cable", "structure", "other"), _ANYWHERE, "emergency services"),
)  # fmt: skip
