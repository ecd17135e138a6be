"""Stop cards: what is done at once when something dangerous is found, and who is rung."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.kinds import Nation
from evenfall.model.rates import Firm
from evenfall.stages.record.whom_to_ring import Ring, rings
from evenfall.standards import site_duties as duties


@dataclass(frozen=True, slots=True)
class StopCard:
    """One danger: how it is known, what is done at once, who is rung, who lets the work go on."""

    danger: str
    says: str
    do: tuple[str, ...]
    ring: tuple[Ring, ...]
    cleared_by: str
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class _Rule:
    danger: str
    says: str
    do: tuple[str, ...]
    cleared_by: str
    duty: duties.Duty


_RULES = (
    _Rule("asbestos", "Asbestos suspected", (
        "Stop. Nothing more is cut, scraped, swept or broken.",
        "Everybody off that part and upwind; keep others away.",
        "What is open is covered with sheet and weighted, without disturbing it.",
        "Dusty clothes stay on site, bagged.",
    ), "a sample's result, and a surveyor's word in writing", duties.ASBESTOS),
    _Rule("cable", "A cable", (
        "Stop. Nobody touches it, nor anything wet or metal that touches it.",
        "If it is cut or bare: everybody away. Main switch off, if that can be reached safely.",
        "Take it as live until an electrician has proved it dead.",
    ), "a registered electrician", duties.CABLES),
    _Rule("gas", "Gas: a smell or a pipe", (
        "Stop. No flame, no switch, no power tool, no telephone on the spot.",
        "Everybody out of the house and off the roof; doors and windows open on the way.",
        "Gas off at the meter, if that can be reached safely. Ring from outside.",
    ), "the gas emergency service, then a registered gas engineer", duties.GAS_VENTS),
    _Rule("structure", "It gives way: joist, wall or ceiling", (
        "Stop. Everybody off the roof by the way they came, one at a time.",
        "Nobody in the room below. Nothing heavy is moved or stacked.",
        "Nothing is propped by guess.",
    ), "a structural engineer", duties.ROT),
    _Rule("other", "Something else dangerous", (
        "Stop. Everybody to a safe place; say what it is in a note.",
    ), "whoever knows the danger", duties.ROT),
)  # fmt: skip


def stop_cards(nation: Nation, firm: Firm) -> tuple[StopCard, ...]:
    """Write the stop cards of a job.

    Parameters
    ----------
    nation : str
        Whose emergency lines answer [-].
    firm : Firm
        The firm's office, and the numbers that it has tried [-].

    Returns
    -------
    tuple of StopCard
        One to a danger [-].

    Examples
    --------
    >>> firm = Firm(name="A firm", address="-", telephone="01632 1", email="-",
    ...             vat_registered=False, competent_person_scheme=False)
    >>> [c.ring[0].telephone for c in stop_cards("wales", firm) if c.danger == "gas"]
    ['0800 111 999']
    """
    office = Ring(firm.name, firm.telephone, "the firm's rates", "declared")
    return tuple(
        StopCard(r.danger, r.says, r.do, (*rings(r.danger, nation, firm.emergency), office),
                 r.cleared_by, r.duty.source, r.duty.basis)
        for r in _RULES
    )  # fmt: skip
