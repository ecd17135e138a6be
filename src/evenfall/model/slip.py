"""A slip: something in the job that does not fit the rest of it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Slip:
    """Something in the job that does not fit the rest of it; ``path`` as in a Change."""

    path: str
    found: str
    expected: str
    words: tuple[str, ...] = ()  # valid words, for the nearest one
    do: str = ""
