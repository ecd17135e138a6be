from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenfall.app.loading import load
from evenfall.flow import WorkedJob, work_out
from evenfall.model.case import Case

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("rear-extension", "garage", "courtyard")
ON = date(2026, 11, 25)


@pytest.fixture(scope="session")
def cases() -> dict[str, Case]:
    """The three example jobs as they are in the repository."""
    return {name: load(EXAMPLES / name, ON).case for name in NAMES}


@pytest.fixture(scope="session")
def worked(cases: dict[str, Case]) -> dict[str, WorkedJob]:
    """The three example jobs worked out, once for all tests."""
    return {name: work_out(case) for name, case in cases.items()}
