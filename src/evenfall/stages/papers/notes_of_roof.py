"""Notes of the roof for the record and the handover file: visitors, deliveries, damage, agreed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.model.logbook import NoteEntry
from evenfall.model.words import day
from evenfall.stages.papers.words import sentence
from evenfall.stages.papers.worked import WorkedRoof

ABOUT = {
    "weather": "Weather", "visitor": "Visitor", "delivery": "Delivery", "damage": "Damage",
    "agreed": "Agreed with the client", "other": "Note",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class NoteRow:
    """One note as it is printed."""

    on: date
    when: str
    about: str
    says: str
    by: str  # who agreed to it; empty for any other
    who: str  # who wrote it

    @property
    def line(self) -> str:
        """In a line."""
        agreed = f" ({self.by})" if self.by else ""
        return f"{self.when}, {self.about}{agreed}: {self.says} Written by {self.who}."


def note_rows(worked: WorkedRoof) -> tuple[NoteRow, ...]:
    """List the notes that stand.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of NoteRow
        The oldest first [-].
    """
    return tuple(
        NoteRow(
            stamp.on, f"{day(stamp.on)}, {stamp.at}", ABOUT[e.about],
            sentence(f"{e.note} (bay {e.bay})" if e.bay else e.note), e.by or "", e.who,
        )
        for stamp, e in worked.record.kept.entries
        if isinstance(e, NoteEntry) and e.note
    )  # fmt: skip
