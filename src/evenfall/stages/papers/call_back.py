"""A call-back: what is seen, its likely cause, what the record says of it, and whose cost it is.

Causes and costs are common practice; what was agreed in writing goes before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.stages.papers.from_the_roof import weather_days
from evenfall.stages.papers.words import listed
from evenfall.stages.papers.worked import WorkedRoof

OURS = "ours, within the guarantee"
SHOWN = "as the record shows"
BEFORE_SHEET = 5  # the hold point at which the weather is looked at
NOBODY = "nobody's: it is normal"
CASES: tuple[tuple[str, str, str, tuple[int, ...]], ...] = (
    ("Water stands deeper than the plan says", "last board or edge high, a dish in the deck", OURS,
     (1, 4, 9)),
    ("An edge lifts, a blister stays, the deck goes soft", "damp closed in, or adhesive laid cold",
     OURS, (1, 5, 6)),
    ("A leak at a corner, a crossing or a crease", "a patch or a seam that is open", OURS, (7,)),
    ("A leak at a pipe, cable or fixing that came later", "a hole that somebody else made",
     "whoever made it", (7, 9)),
    ("Damp inside, no leak found", "old vents left open, or damp air of the room", SHOWN, (2, 3)),
    ("Gutter overflows", "leaves; or a fall of the gutter that has gone",
     "the owner's for leaves, ours for the fall", (8,)),
    ("Lines of boards, dust, small ripples", "see the marks that are normal", NOBODY, ()),
)  # fmt: skip
"""What is seen, its likely cause, whose cost, and the hold points that tell."""


@dataclass(frozen=True, slots=True)
class CallBack:
    """One thing that a client may ring about."""

    seen: str
    cause: str
    cost: str
    record: str


def call_backs(worked: WorkedRoof) -> tuple[CallBack, ...]:
    """Set out what may be rung about, with what was read when the roof was built.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of CallBack
        In a fixed order [-].
    """
    return tuple(
        CallBack(seen, cause, cost, "; ".join(_read(worked, holds)) if holds else "")
        for seen, cause, cost, holds in CASES
    )


def _read(worked: WorkedRoof, holds: tuple[int, ...]) -> Iterator[str]:
    """Say which hold points tell of it; their values stand in their own table."""
    mine = [h for h in worked.record.holds if h.number in holds]
    shut = [n for n in holds if all(h.closed for h in mine if h.number == n)]
    if shut and mine:
        yield f"in order at hold point {listed([str(n) for n in shut])}"
    for hold in mine:
        if hold.number not in shut and hold.state != "open" and not hold.closed:
            yield f"{hold.state.replace('_', ' ')} at hold point {hold.number}, {hold.where}"
    bare = [n for n in holds if any(h.number == n and h.state == "open" for h in mine)]
    if bare:
        yield f"not recorded at hold point {listed([str(n) for n in bare])}"
    if BEFORE_SHEET in holds and (days := weather_days(worked)):
        yield f"weather of {len(days)} days"
