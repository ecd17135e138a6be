"""The edges of the example, drawn, solved and read over every thickness, against the bare solves.

The floor solves the same sections on the same meshes and does nothing else. Memory of earlier
answers is emptied before each turn.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from benchmarks.timing import Figure, measure

GOAL = 1.15
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"


def figures() -> list[Figure]:
    """Measure both rooms that solve edges."""
    from evenfall.app.loading import load
    from evenfall.calc.physics import edge_values
    from evenfall.flow import work_out
    from evenfall.rooms import ROOMS

    worked = work_out(load(EXAMPLE, ON).case)
    work = {room.key: room.work for room in ROOMS}

    def edges() -> None:
        edge_values.values.cache_clear()
        for key in ("edge_curves", "edge_details"):
            work[key](*worked.seen[key])

    calls: list[tuple[tuple[Any, ...], dict[str, Any]]] = []
    real = edge_values.solve

    def written_down(*args: Any, **kwargs: Any) -> Any:
        calls.append((args, kwargs))
        return real(*args, **kwargs)

    edge_values.solve = written_down  # type: ignore[assignment]
    try:
        edges()
    finally:
        edge_values.solve = real

    def floor() -> None:
        for args, kwargs in calls:
            real(*args, **kwargs)

    return [measure(f"edges, {len(calls)} sections solved", edges, floor, GOAL)]
