"""What a revision gave, room by room, and what moved from one to another."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any

from evenfall.app.live import named
from evenfall.app.live.numbers import Value, values
from evenfall.flow import KEYS
from evenfall.model.finding import Finding


@dataclass
class Snapshot:
    """A revision as far as it was worked: answers by room, their values, what was told."""

    revision: int
    rooms: dict[str, Any] = field(default_factory=dict)
    moved: set[str] = field(default_factory=set)
    _values: dict[str, tuple[tuple[Any, ...], dict[str, Value]]] = field(default_factory=dict)

    def after(self, revision: int) -> Snapshot:
        """Begin the next one: it stands as this does until its rooms are worked."""
        return Snapshot(revision, dict(self.rooms), set(), dict(self._values))

    def take(self, room: str, answer: Any) -> None:
        """Take in what a room gave."""
        self.rooms[room] = answer

    def values(self, room: str) -> dict[str, Value]:
        """Give the values of a room, the quiet numbers in their own words; made once for each."""
        saw = tuple(self.rooms.get(r) for r in named.SEES.get(room, (room,)))
        kept = self._values.get(room)
        if kept is None or any(a is not b for a, b in zip(kept[0], saw, strict=True)):
            kept = saw, self._made(room) if room in KEYS and saw[0] is not None else {}
            self._values[room] = kept
        return kept[1]

    def _made(self, room: str) -> dict[str, Value]:
        quiet = named.numbers(room, SimpleNamespace(**self.rooms))
        told = {n.id: Value(n.value, n.unit, n.text) for n in quiet}
        return values(room, self.rooms[room]) | told


def moved(room: str, now: Snapshot, before: Snapshot | None) -> dict[str, dict[str, Any]]:
    """Say which values of a room moved as a person reads them; what has gone has the value None.

    Parameters
    ----------
    room : str
        Key of the room [-].
    now, before : Snapshot
        The two revisions; with none before all values are told [-].

    Returns
    -------
    dict
        By id: value, text, unit, and what they were [-].
    """
    if before is not None and before.rooms.get(room) is now.rooms.get(room):
        return {}
    new, old = now.values(room), before.values(room) if before else {}
    told = {i: told_value(v, old.get(i)) for i, v in new.items() if _differs(v, old.get(i))}
    gone = {i: told_value(None, v) for i, v in old.items() if i not in new}
    return told | gone


def _differs(value: Value, was: Value | None) -> bool:
    """Whether a person reads another text; equal values are not printed to see that."""
    return was is None or (was != value and was.text != value.text)


def told_value(value: Value | None, was: Value | None) -> dict[str, Any]:
    """Write one value as the stream tells it."""
    return {
        "value": value.value if value else None,
        "text": value.text if value else "",
        "unit": value.unit if value else "",
        "was": was.text if was else None,
    }


def again(ids: Iterable[str], now: Snapshot, before: Snapshot | None) -> dict[str, dict[str, Any]]:
    """Tell values that were told of a revision in between and may have moved back since.

    Parameters
    ----------
    ids : iterable of str
        Their ids [-].
    now, before : Snapshot
        As for `moved` [-].

    Returns
    -------
    dict
        As `moved` gives it [-].
    """
    found = {}
    for id_ in ids:
        room = id_.partition(".")[0].partition("[")[0]
        old = before.values(room).get(id_) if before else None
        found[id_] = told_value(now.values(room).get(id_), old)
    return found


def finding_data(finding: Finding) -> dict[str, Any]:
    """Write a finding as plain data.

    Parameters
    ----------
    finding : Finding
        The finding [-].

    Returns
    -------
    dict
        All its fields; ``key`` names it among the others [-].
    """
    remedy = finding.remedy
    return {
        "key": f"{finding.code}:{finding.subject}", "code": finding.code,
        "subject": finding.subject, "level": finding.level, "says": finding.says,
        "source": finding.source, "basis": finding.basis, "value": finding.value,
        "limit": finding.limit, "unit": finding.unit, "by_engineer": finding.by_engineer,
        "remedy": None if remedy is None else {
            "says": remedy.says,
            "changes": [{"path": c.path, "value": c.value} for c in remedy.changes],
        },
    }  # fmt: skip
