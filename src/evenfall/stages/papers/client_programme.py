"""The client's programme on one page: the days, what he notices, what keeps the rain out."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.words import short_day
from evenfall.stages.papers import terms
from evenfall.stages.papers.scope import days_of
from evenfall.stages.papers.worked import WorkedRoof


@dataclass(frozen=True, slots=True)
class DayLine:
    """One day as the client lives through it."""

    on: str
    does: str
    notice: str
    evening: str


@dataclass(frozen=True, slots=True)
class ClientProgramme:
    """All of it."""

    span: str
    spare: str
    off: str  # within the span, by name; empty: none
    days: tuple[DayLine, ...]
    house: tuple[str, ...]
    weather: str


def client_programme(worked: WorkedRoof) -> ClientProgramme:
    """Write the client's programme.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    ClientProgramme
        No hours, no crew, no price [-].
    """
    programme = worked.programme
    first, last = programme.days[0].on, programme.finish_on
    spare = programme.wet_reserve.value
    return ClientProgramme(
        span=f"{len(programme.days)} working day{'s' * (len(programme.days) > 1)}, "
        f"{first.day} {first:%B} to {last.day} {last:%B %Y}",
        spare=f"{spare:g} more kept in hand for the weather" if spare else "",
        off=", ".join(f"{short_day(d.on)} ({d.name})" for d in programme.off),
        days=tuple(DayLine(short_day(d.on), d.does, d.notice, d.evening)
                   for d in days_of(programme)),
        house=terms.HOUSE, weather=terms.WEATHER,
    )  # fmt: skip
