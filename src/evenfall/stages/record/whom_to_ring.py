"""Whom to ring for a danger: numbers that the firm has tried, else those known from memory."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.kinds import Nation
from evenfall.model.rates import EmergencyLine
from evenfall.model.words import day
from evenfall.standards.emergency_numbers import LINES
from evenfall.working import Basis


@dataclass(frozen=True, slots=True)
class Ring:
    """One telephone number, and where it is from."""

    who: str
    telephone: str
    source: str
    basis: Basis

    @property
    def remembered(self) -> bool:
        """Whether nobody has tried it."""
        return self.basis == "from memory"

    @property
    def says(self) -> str:
        """In a line."""
        return f"{self.who}: {self.telephone}" + " (from memory)" * self.remembered


def rings(danger: str, nation: Nation, tried: tuple[EmergencyLine, ...] = ()) -> tuple[Ring, ...]:
    """List whom to ring for a danger.

    Parameters
    ----------
    danger : str
        As a stop names it [-].
    nation : str
        Whose emergency lines answer [-].
    tried : tuple of EmergencyLine
        Numbers of the firm's own [-].

    Returns
    -------
    tuple of Ring
        The danger's own lines first, then fire and ambulance where somebody may be hurt [-].

    Examples
    --------
    >>> [ring.telephone for ring in rings("gas", "wales")]
    ['0800 111 999', '999']
    """
    order = dict.fromkeys((danger, *(line.of for line in LINES if danger in line.dangers)))
    return tuple(ring for of in order for ring in rings_of(of, nation, tried))


def rings_of(of: str, nation: Nation, tried: tuple[EmergencyLine, ...] = ()) -> tuple[Ring, ...]:
    """List the lines of one danger alone: those that the firm has tried, else from memory.

    Parameters
    ----------
    of : str
        As a stop names it; ``hurt`` for fire and ambulance [-].
    nation : str
        Whose emergency lines answer [-].
    tried : tuple of EmergencyLine
        Numbers of the firm's own [-].

    Returns
    -------
    tuple of Ring
        None where neither has one [-].

    Examples
    --------
    >>> [ring.says for ring in rings_of("hurt", "wales")]
    ['fire and ambulance, where anybody is hurt or in danger: 999 (from memory)']
    """
    own = tuple(
        Ring(t.who, t.telephone, f"the firm's rates, tried on {day(t.tried_on)}", "declared")
        for t in tried
        if t.danger == of
    )
    return own or tuple(
        Ring(line.who, line.telephone, line.source, line.basis)
        for line in LINES
        if line.of == of and nation in line.nations
    )
