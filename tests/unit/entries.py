"""Entries of a log, made in a line, for tests of what they mean."""

from __future__ import annotations

import hashlib
from typing import Any

from evenfall.model.logbook import ENTRY, Entry
from evenfall.standards.hold_asks import HOLD_ASKS

PHONE, OTHER, DESK = "1" * 32, "2" * 32, "d" * 32
PICTURE = "f" * 64


def mark(name: str) -> str:
    """An id that a name always gives."""
    return hashlib.sha256(name.encode()).hexdigest()[:32]


def entry(called: str, kind: str, at: str = "08:00", **more: Any) -> Entry:
    """One entry of 8 December 2026, or of another moment given whole."""
    moment = at if "T" in at else f"2026-12-08T{at}:00Z"
    base = {"id": mark(called), "device": PHONE, "n": 1, "at": moment, "who": "Sam", "kind": kind}
    return ENTRY.validate_python(base | more)


def good(hold: int) -> list[dict[str, Any]]:
    """Values that pass."""
    limits = {"moisture": 16.0, "rain": 10.0, "screws": 280.0, "night_lap": 160.0, "surface": 9.0,
              "dew_margin": 4.5, "relaxed": 40.0, "pull_out": 1240.0}  # fmt: skip
    return [{"what": a.what, "value": limits.get(a.what, 0.0)} for a in HOLD_ASKS[hold].asks]


def hold(name: str, number: int, outcome: str = "passed", at: str = "08:00", **more: Any) -> Entry:
    """A hold point with all that it asks for, unless something else is given."""
    batches = [{"product": p, "batch": "L 4417"} for p in HOLD_ASKS[number].batches]
    whole = {"values": good(number), "photos": [PICTURE], "batches": batches}
    return entry(name, "hold", at, hold=number, outcome=outcome, **(whole | more))


def moisture(called: str, value: float, at: str = "08:00", **more: Any) -> Entry:
    """A reading of the timber."""
    return entry(called, "reading", at, what="moisture", value=value, unit="%", **more)
