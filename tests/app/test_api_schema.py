"""Every route against what ``/openapi.json`` promises of it, asked with whatever may be sent.

Chance makes few examples of each route in the default run, many with ``--long``. A route that has
an id gets that of a real job, so that it does more than look in vain.
"""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import CHECKS, load_all_checks

from evenfall.app.live.desk import Desk
from evenfall.app.web.serve import make_desk

FEW, MANY = 3, 60
load_all_checks()
SLOW = {
    ("GET", "/api/jobs/{id}/papers"),  # prints them all
    ("GET", "/api/jobs/{id}/papers/{name}"),
    ("POST", "/api/jobs/{id}/issued"),
    ("POST", "/api/jobs/{id}/try"),
    ("GET", "/api/jobs/{id}/papers.zip"),
}
OUTWARD = {("POST", "/api/sharing")}
"""What opens the machine to the network is not asked by chance; it has tests of its own."""
ROUTES = [
    (method.upper(), path)
    for path, told in make_desk(Desk.__new__(Desk)).openapi()["paths"].items()
    for method in told
    if (method.upper(), path) not in OUTWARD
]
"""Every route of the desk: those of its pages and of the walk as well."""
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
    """The routes as they describe themselves, asked under the desk's own name."""
    app = make_desk(shared_desk)

    async def named(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] == "http":
            kept = [(k, v) for k, v in scope["headers"] if k != b"host"]
            scope = {**scope, "headers": [*kept, (b"host", b"localhost")], "server": ("", 80)}
        await app(scope, receive, send)

    return schemathesis.openapi.from_asgi("/openapi.json", named)


def keeps_its_word(case: Any, job: str) -> None:
    if "id" in (case.path_parameters or {}):
        case.path_parameters["id"] = job
    case.call_and_validate(checks=SOUND, timeout=300)


def asked(described: Any, route: tuple[str, str], job: str, times: int) -> None:
    """Ask a route as often as told, with what its description allows and forbids."""

    @settings(max_examples=times, suppress_health_check=list(HealthCheck))
    @given(case=described[route[1]][route[0]].as_strategy())
    def ask(case: Any) -> None:
        keeps_its_word(case, job)

    ask()


@pytest.mark.parametrize("route", [r for r in ROUTES if r not in SLOW], ids=" ".join)
def test_every_route_keeps_its_word(described: Any, route: tuple[str, str], spare: str) -> None:
    asked(described, route, spare, FEW)


@pytest.mark.long
@pytest.mark.parametrize("route", ROUTES, ids=" ".join)
def test_every_route_keeps_its_word_asked_often(
    described: Any, route: tuple[str, str], spare: str
) -> None:
    asked(described, route, spare, MANY)


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
