"""Which entries of a log stand, and when they were really written.

A correction puts right an entry of its own kind. Two rules keep the stricter word: what was
stopped is never made passed by a correction, only put right or agreed; and a stop for a danger
is lifted by nothing but a clearance.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from evenfall.model.logbook import ClockEntry, Entry, HoldEntry
from evenfall.model.roof_log import Kept, Stamp


def kept(log: Iterable[Entry]) -> Kept:
    """Sort out a log.

    Parameters
    ----------
    log : iterable of Entry
        Entries, in any order; one that comes twice counts once [-].

    Returns
    -------
    Kept
        Those that stand, the oldest first; equal for equal sets [-].
    """
    entries = {e.id: e for e in sorted(log, key=lambda e: (e.id, e.model_dump_json()))}
    clocks = _clocks(entries.values())
    stamps = {e.id: _stamp(e, clocks) for e in entries.values()}
    order = sorted(entries, key=lambda i: (stamps[i][0], i))
    pairs = _pairs(entries)
    out = _out(order, pairs)
    ahead = {d: seen[-1][1] for d, seen in clocks.items()}
    return Kept(
        tuple((stamps[i][1], entries[i]) for i in order if i not in out),
        tuple(sorted((old, new) for old, news in pairs.items() for new in news if old in out)),
        tuple(sorted(ahead.items())),
    )


def _clocks(entries: Iterable[Entry]) -> dict[str, list[tuple[datetime, float]]]:
    """Read when each telephone was seen, by its own clock, and how far it was ahead."""
    found: dict[str, list[tuple[datetime, float]]] = defaultdict(list)
    for e in entries:
        if isinstance(e, ClockEntry):
            found[e.of].append((_later(_utc(e), e.ahead_s), e.ahead_s))
    return {device: sorted(seen) for device, seen in found.items()}


def _utc(entry: Entry) -> datetime:
    return entry.moment.astimezone(UTC)


def _later(moment: datetime, seconds: float) -> datetime:
    try:
        return moment + timedelta(seconds=seconds)
    except OverflowError:
        return moment


def _stamp(entry: Entry, clocks: dict[str, list[tuple[datetime, float]]]) -> tuple[datetime, Stamp]:
    """Correct a moment by the time at which that telephone was seen nearest to it."""
    seen, at = clocks.get(entry.device, []), _utc(entry)
    ahead = min(seen, key=lambda s: (abs(s[0] - at), s))[1] if seen else 0.0
    local = _later(entry.moment, -ahead)
    stamp = Stamp(entry.id, entry.who, local.date(), f"{local:%H:%M}")
    return _later(at, -ahead), stamp


def _pairs(entries: dict[str, Entry]) -> dict[str, list[str]]:
    """Find which entries put which right."""
    found: dict[str, list[str]] = defaultdict(list)
    for new in entries.values():
        old = entries.get(new.replaces or "")
        if old is not None and old.id != new.id and _may(old, new):
            found[old.id].append(new.id)
    return found


def _may(old: Entry, new: Entry) -> bool:
    if old.kind != new.kind:
        return False
    if isinstance(old, HoldEntry) and isinstance(new, HoldEntry):
        softer = old.outcome == "stopped" and new.outcome == "passed"
        return old.hold == new.hold and not softer
    return True


def _out(order: list[str], pairs: dict[str, list[str]]) -> set[str]:
    """Find what no longer stands; of corrections that chase one another the latest stands."""
    out = {old for old, news in pairs.items() if news}
    for last in reversed(order):
        if last in out and not _above(last, pairs, out):
            out.discard(last)
    return out


def _above(of: str, pairs: dict[str, list[str]], out: set[str]) -> bool:
    """Whether some correction of this entry, or of that one, stands."""
    todo, seen = list(pairs.get(of, ())), set[str]()
    while todo:
        one = todo.pop()
        if one not in out:
            return True
        if one not in seen:
            seen.add(one)
            todo += pairs.get(one, ())
    return False
