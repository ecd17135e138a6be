"""Every route against what ``/openapi.json`` promises of it, asked with whatever may be sent.

Chance makes few examples of each route in the default run, many with ``--long``. A route that has
an id gets that of a real job, so that it does more than look in vain.
"""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, settings
from schemathesis.checks import CHECKS

from evenfall.app.live.desk import Desk
from evenfall.app.web.serve import make_desk

FEW, MANY = 3, 60
SOUND = [
    CHECKS.get_one(name)
    for name in (
        "not_a_server_error",
        "status_code_conformance",
        "content_type_conformance",
        "response_schema_conformance",
        "negative_data_rejection",
    )
]


@pytest.fixture(scope="module")
def described(shared_desk: Desk) -> Any:
    """The routes as they describe themselves."""
    return schemathesis.openapi.from_asgi("/openapi.json", make_desk(shared_desk))


schema = schemathesis.pytest.from_fixture("described")


def keeps_its_word(case: Any, job: str) -> None:
    if "id" in (case.path_parameters or {}):
        case.path_parameters["id"] = job
    case.call_and_validate(checks=SOUND, headers={"host": "localhost"})


@schema.parametrize()
@settings(max_examples=FEW, suppress_health_check=list(HealthCheck))
def test_every_route_keeps_its_word(case: Any, spare: str) -> None:
    keeps_its_word(case, spare)


@pytest.mark.long
@schema.parametrize()
@settings(max_examples=MANY, suppress_health_check=list(HealthCheck))
def test_every_route_keeps_its_word_asked_often(case: Any, spare: str) -> None:
    keeps_its_word(case, spare)


@pytest.fixture(scope="module")
def spare(shared_desk: Desk, garage: str) -> str:
    """A job that may be spoilt."""
    return shared_desk.copied(garage, "a test").revision.job


def test_nothing_that_the_desk_describes_loads_from_elsewhere(client: TestClient) -> None:
    assert client.get("/docs").status_code == 404
    assert client.get("/redoc").status_code == 404
    told = client.get("/openapi.json")
    assert "content-security-policy" in told.headers
    assert "http://" not in told.text.replace("http://127.0.0.1", "")
    assert "https://" not in told.text


def test_every_answer_of_every_route_is_described_with_the_one_shape(client: TestClient) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    for path, methods in paths.items():
        for method, told in methods.items():
            assert told["description"], (path, method)
            for status in ("400", "404"):
                shape = told["responses"][status]["content"]["application/json"]["schema"]
                assert shape["$ref"].endswith("/Refusal"), (path, method, status)
