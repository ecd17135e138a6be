"""The invented example job that ships with the program."""

from __future__ import annotations

from pathlib import Path

NAME = "rear-extension"
DEMO_ON = "2026-11-25"
"""The demonstration is worked as on this day, so that it gives the same papers each time."""


def demo_job() -> Path:
    """Find the folder of the example job, in a checkout or in an installed program.

    Returns
    -------
    Path
        The folder [-].
    """
    here = Path(__file__)
    checkout = here.parents[3] / "examples" / NAME
    return checkout if checkout.is_dir() else here.parent / "data" / "examples" / NAME
