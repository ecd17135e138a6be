"""What all tests share: how hypothesis searches, and where a browser is."""

from __future__ import annotations

import os
import shutil

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "ci",
    derandomize=True,  # the same examples each time: a red run is red again
    deadline=None,  # a busy machine is no fault of the code
    database=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("search", deadline=None, max_examples=2000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))


@pytest.fixture(scope="session")
def chromium() -> str:
    """Path of the browser; `run.py test` leaves browser tests out where there is none."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    assert found, "browser tests need chromium; python3 run.py test fetches it on Debian"
    return found
