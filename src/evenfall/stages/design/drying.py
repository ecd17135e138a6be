"""Drying: how long water that was built in takes to leave; not worked in this version."""

from __future__ import annotations

from evenfall.model.designed import Drying
from evenfall.model.job import Reading

WHY_EMPTY = (
    "Not worked yet: the drying of a layer over several years (ISO 13788:2012, clause 7) comes "
    "with the transient calculation. Timber over 20 % is stopped by its reading."
)


def work(readings: tuple[Reading, ...]) -> Drying:
    """Say why no drying time is given.

    Parameters
    ----------
    readings : tuple of Reading
        Moisture of the timber, which the drying will start from [%].

    Returns
    -------
    Drying
        Empty, with the reason [-].
    """
    return Drying(WHY_EMPTY if readings else f"{WHY_EMPTY} No reading was taken.")
