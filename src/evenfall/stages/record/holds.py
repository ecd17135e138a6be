"""Where the hold points stand: nothing passes empty, nothing outside its limits passes at all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from evenfall.model.logbook import BatchEntry, HoldEntry, PhotoEntry
from evenfall.model.programmed import Task
from evenfall.model.roof_log import CLOSED, HoldIs, HoldState, Kept, Stamp
from evenfall.standards.hold_asks import HOLD_ASKS, Ask
from evenfall.working import figure

Due = tuple[int, tuple[int, ...]]
"""Number of a hold point, and the bays that it is due for; none for the whole roof."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What one entry comes to; ``outside`` holds back as stopped does."""

    stamp: Stamp
    entry: HoldEntry
    comes_to: HoldIs
    missing: tuple[str, ...]
    outside: tuple[str, ...]


def dues(tasks: Iterable[Task]) -> tuple[Due, ...]:
    """List the hold points of a programme, each for its part of the roof.

    Parameters
    ----------
    tasks : iterable of Task
        All work [-].

    Returns
    -------
    tuple
        Number and bays; none for the whole roof [-].
    """
    found = {
        (t.hold_point, (t.bay,) if t.bay is not None else tuple(sorted(t.bays)))
        for t in tasks
        if t.hold_point is not None
    }
    return tuple(sorted(found))


def wanting(entry: HoldEntry, photos: int, batches: int) -> Iterator[str]:
    """Say what a hold point still asks for.

    Parameters
    ----------
    entry : HoldEntry
        As it was written [-].
    photos, batches : int
        How many there are, of the entry or bound to it [-].

    Yields
    ------
    str
        Each thing that is missing [-].
    """
    asked, read = HOLD_ASKS[entry.hold], {v.what for v in entry.values}
    for ask in asked.asks:
        if ask.needed and ask.what not in read:
            yield ask.says
    if not photos:
        yield f"photo: {asked.photo}"
    if asked.batches and not batches:
        yield f"batch of {' and '.join(asked.batches)}"
    if entry.outcome == "agreed" and not entry.by:
        yield "name of who agreed in writing"


def beyond(entry: HoldEntry) -> Iterator[str]:
    """Say which values lie outside their limits.

    Parameters
    ----------
    entry : HoldEntry
        As it was written [-].

    Yields
    ------
    str
        Each, with its limit [-].
    """
    for ask, value in _read(entry):
        if not ask.holds(value):
            yield f"{ask.says} {figure(value)} {ask.unit}, limit {ask.limits}"


def _read(entry: HoldEntry) -> Iterator[tuple[Ask, float]]:
    asks = {a.what: a for a in HOLD_ASKS[entry.hold].asks}
    for value in entry.values:
        if value.what in asks:
            yield asks[value.what], value.value


def _judged(stamp: Stamp, entry: HoldEntry, photos: int, batches: int) -> Judged:
    missing = tuple(wanting(entry, photos, batches))
    outside = tuple(beyond(entry))
    comes_to: HoldIs = entry.outcome
    if entry.outcome in ("passed", "put_right") and outside:
        comes_to = "stopped"
    elif entry.outcome != "stopped" and missing:
        comes_to = "incomplete"
    return Judged(stamp, entry, comes_to, missing, outside)


def hold_states(kept: Kept, due: tuple[Due, ...]) -> tuple[HoldState, ...]:
    """Tell where every hold point stands.

    Parameters
    ----------
    kept : Kept
        The entries that stand [-].
    due : tuple
        Hold points of the programme; those that were looked at beside it are added [-].

    Returns
    -------
    tuple of HoldState
        By number and part of the roof [-].
    """
    entries = [(s, e) for s, e in kept.entries if isinstance(e, HoldEntry)]
    beside = {
        (e.hold, (e.bay,)) for _, e in entries
        if e.bay is not None and not any(e.hold == n and e.bay in bays for n, bays in due)
    } | {(e.hold, ()) for _, e in entries if not any(e.hold == n for n, _ in due)}  # fmt: skip
    return tuple(
        _state(one, [(s, e) for s, e in entries if _at(e, one)], kept)
        for one in sorted({*due, *(b for b in beside if b[1] or (b[0], ()) not in due)})
    )


def _at(entry: HoldEntry | PhotoEntry | BatchEntry, due: Due) -> bool:
    """Whether an entry tells of a part: its bay is one of it, or it tells of the whole roof."""
    if isinstance(entry, BatchEntry):
        return entry.bay is None or not due[1] or entry.bay in due[1]
    return entry.hold == due[0] and (entry.bay is None or not due[1] or entry.bay in due[1])


def _state(due: Due, entries: list[tuple[Stamp, HoldEntry]], kept: Kept) -> HoldState:
    shown = [e.sha256 for _, e in kept.entries if isinstance(e, PhotoEntry) and _at(e, due)]
    packs = [(e.product, e.batch) for _, e in kept.entries
             if isinstance(e, BatchEntry) and _at(e, due)]  # fmt: skip
    if not entries:
        return HoldState(*due, "open", "Nobody has looked.", photos=tuple(dict.fromkeys(shown)))
    judged = [_judged(s, e, len(e.photos) + len(shown), len(e.batches) + len(packs))
              for s, e in entries]  # fmt: skip
    one = _counts(judged)
    state = one.comes_to
    told = {(j.comes_to, tuple(sorted((v.what, v.value) for v in j.entry.values))) for j in judged}
    differ = len({j.entry.device for j in judged}) > 1 and len(told) > 1
    return HoldState(
        *due, state, _says(one, judged, differ), tuple(j.stamp for j in judged),
        _values(one, judged),
        tuple(dict.fromkeys((b.product, b.batch) for _, e in entries for b in e.batches)),
        tuple(dict.fromkeys([*(p for _, e in entries for p in e.photos), *shown])),
        () if state in CLOSED else one.missing, tuple(_again(one)) if state in CLOSED else (),
        (one.entry.by or "") if state == "agreed" else "", differ,
    )  # fmt: skip


def _counts(judged: list[Judged]) -> Judged:
    """Choose the entry that counts: a stop until somebody puts it right, else the last pass."""
    held = lifted = passed = None
    for one in judged:
        if one.comes_to == "stopped":
            held, lifted = one, None
        elif one.comes_to in ("put_right", "agreed"):
            held, lifted = None, one
        elif one.comes_to == "passed":
            passed = one
    return held or lifted or passed or judged[-1]


def _says(one: Judged, judged: list[Judged], differ: bool) -> str:
    words = {
        "passed": "Passed", "put_right": "Put right", "incomplete": "Not passed",
        "agreed": f"Agreed in writing by {one.entry.by}", "stopped": "Stopped", "open": "Open",
    }[one.comes_to]  # fmt: skip
    told = f"{words}: {one.stamp.says}."
    if one.outside:
        told += f" {_sentence('; '.join(one.outside))}"
    if one.comes_to == "incomplete":
        told += f" Still missing: {'; '.join(one.missing)}."
    others = [j for j in judged if j is not one]
    if differ and all(j.comes_to == one.comes_to for j in judged):
        told += " Looked at on another telephone too, with other values; the worse are told here."
    elif differ:
        told += " Another telephone says otherwise: " + "; ".join(
            f"{j.comes_to.replace('_', ' ')}, {j.stamp.says}" for j in others
        ) + ". The stricter word holds until somebody puts it right."  # fmt: skip
    return told


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."


def _values(one: Judged, judged: list[Judged]) -> tuple[tuple[str, float], ...]:
    """Give each value once: of several readings of one thing, or several passes, the worst."""
    counted = [j.entry for j in judged if j.comes_to == one.comes_to == "passed"] or [one.entry]
    worst: dict[str, float] = {}
    for ask, value in (pair for entry in counted for pair in _read(entry)):
        least = ask.least is not None and ask.most is None
        choose = min if least or ask.what == "pull_out" else max
        worst[ask.what] = choose(worst.get(ask.what, value), value)
    return tuple(worst.items())


def _again(one: Judged) -> Iterator[str]:
    for ask, value in _read(one.entry):
        if ask.again_above is not None and value > ask.again_above:
            yield f"{ask.says} {figure(value)} {ask.unit}: read again next day"
