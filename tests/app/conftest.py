"""A desk with jobs, shared by the tests of its routes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from evenfall.app.live.desk import Desk
from evenfall.app.store.bringing import bring
from evenfall.app.web.serve import make_desk

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
HERE = "http://127.0.0.1"


@pytest.fixture(scope="session")
def shared_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """One desk for all tests of the routes, so that the garage is worked afresh only once."""
    desk = Desk(tmp_path_factory.mktemp("store"), lambda: ON)
    yield desk
    desk.close()


@pytest.fixture(scope="session")
def client(shared_desk: Desk) -> TestClient:
    """A program that asks that desk."""
    return TestClient(make_desk(shared_desk), base_url=HERE, raise_server_exceptions=False)


@pytest.fixture(scope="session")
def garage(shared_desk: Desk) -> str:
    """The id of the garage, worked; tests that edit take a copy."""
    job = bring(shared_desk.store, EXAMPLES / "garage", "a test").revision.job
    _, _, run = shared_desk.run(job)
    assert run is not None
    run.ended.wait(120)
    return job


@pytest.fixture
def copied(shared_desk: Desk, garage: str) -> Callable[[], str]:
    """Make a copy of the garage that knows its rooms already."""

    return lambda: shared_desk.copied(garage, "a test").revision.job
