"""The log read: a pure function of the set of its entries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from evenfall.model.logbook import (
    ClearEntry,
    CoverEntry,
    DoneEntry,
    Entry,
    FoundEntry,
    SignedEntry,
    StopEntry,
)
from evenfall.model.roof_log import (
    CoverState,
    DoneState,
    FoundState,
    Kept,
    Logged,
    Stamp,
    StopState,
)
from evenfall.stages.record.holds import Due, hold_states
from evenfall.stages.record.keeping import kept

MARK_SHOWN = 6  # figures of an id that make the name of extra work unlike the others


def read(log: Iterable[Entry], due: tuple[Due, ...] = ()) -> Logged:
    """Read a log.

    Parameters
    ----------
    log : iterable of Entry
        Entries, in any order, some twice [-].
    due : tuple
        Hold points of the programme [-].

    Returns
    -------
    Logged
        Equal for equal sets [-].
    """
    stand = kept(log)
    signed = tuple(_signed(stand))
    return Logged(
        stand, hold_states(stand, due), tuple(_stops(stand)), tuple(_found(stand, signed)),
        _covers(stand), tuple(_done(stand)), signed,
    )  # fmt: skip


def _signed(stand: Kept) -> Iterator[tuple[str, str, Stamp]]:
    for stamp, entry in stand.entries:
        if isinstance(entry, SignedEntry):
            yield entry.of, entry.by, stamp


def _stops(stand: Kept) -> Iterator[StopState]:
    """Pair stops with what lifts them; a correction of a stop is to be lifted by itself."""
    clears = {e.of: (s, e.by) for s, e in stand.entries[::-1] if isinstance(e, ClearEntry)}
    for stamp, entry in stand.entries:
        if isinstance(entry, StopEntry):
            cleared = clears.get(entry.id)
            yield StopState(
                entry, stamp, cleared[1] if cleared else "", cleared[0] if cleared else None
            )


def _found(stand: Kept, signed: tuple[tuple[str, str, Stamp], ...]) -> Iterator[FoundState]:
    """Tell what was found; a signature counts for the very entry that was signed."""
    names: dict[str, tuple[str, Stamp | None]] = {}
    for of, by, stamp in signed:
        names.setdefault(of, (by, stamp))
    for stamp, entry in stand.entries:
        if isinstance(entry, FoundEntry):
            who, when = names.get(entry.id, ("", None))
            name = f"{entry.what.replace('_', '-')}-{entry.id[:MARK_SHOWN]}"
            yield FoundState(name, entry, stamp, who, when)


def _covers(stand: Kept) -> tuple[CoverState, ...]:
    """Follow the covers: one that is laid was ready before, one that is gone was on or ready."""
    there: list[CoverState] = []
    for _, entry in stand.entries:
        if not isinstance(entry, CoverEntry):
            continue
        size = (entry.length_m, entry.width_m)
        before = ("ready", "on") if entry.lies == "on" else ("on", "ready")
        known = [c for lies in before for c in there if (c.length_m, c.width_m, c.lies)
                 == (*size, lies)]  # fmt: skip
        moved = [c for c in known if entry.lies == "gone" or c.lies != entry.lies]
        if moved:
            there.remove(moved[0])
        if entry.lies != "gone":
            there.append(CoverState(*size, entry.lies))
    return tuple(there)


def _done(stand: Kept) -> Iterator[DoneState]:
    """Tell what is done, each thing once, on the first day that says so."""
    seen = set()
    for stamp, entry in stand.entries:
        if isinstance(entry, DoneEntry):
            bay, task = (None, entry.task) if entry.task else (entry.bay, None)
            if (bay, task) not in seen:
                seen.add((bay, task))
                yield DoneState(bay, task, stamp)
