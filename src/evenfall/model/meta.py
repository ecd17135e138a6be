"""What stands at the head of every paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.model.case import Case


@dataclass(frozen=True, slots=True)
class Meta:
    """What the papers say at their head."""

    reference: str
    revision: str
    title: str
    client: str
    address: str
    nation: str
    surveyed_on: date
    on: date
    invented: bool
    note: str
    below: str  # the room under the roof
    firm: str
    rates: str
    priced_on: date


def meta_of(case: Case) -> Meta:
    """Take the head of the papers from the case.

    Parameters
    ----------
    case : Case
        Job, rates and date [-].

    Returns
    -------
    Meta
        The head [-].
    """
    about, rates = case.job.job, case.rates
    return Meta(
        about.reference, about.revision, about.title, about.client, about.address, about.nation,
        about.surveyed_on, case.on, about.invented, about.note, case.job.survey.below.room,
        rates.firm.name,
        rates.rates.name, rates.rates.priced_on,
    )  # fmt: skip
