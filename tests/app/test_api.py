"""The routes: an edit is saved and worked, what moved is told, two tabs cannot lose a change."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from fastapi.testclient import TestClient

from evenfall.app.live.desk import Desk

Copied = Callable[[], str]


def patched(client: TestClient, job: str, began: int, *changes: dict[str, Any]) -> Any:
    return client.patch(f"/api/jobs/{job}", json={"from": began, "changes": list(changes)})


def lines(client: TestClient, job: str, since: int) -> list[dict[str, Any]]:
    answer = client.get(f"/api/jobs/{job}/work", params={"since": since})
    assert answer.headers["content-type"].startswith("application/x-ndjson")
    return [json.loads(line) for line in answer.text.splitlines()]


def moved(told: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {k: v for line in told for k, v in line.get("values", {}).items()}


def test_a_note_moves_itself_alone(client: TestClient, copied: Copied) -> None:
    job = copied()
    client.get(f"/api/jobs/{job}/page", params={"wait": 60})
    patched(client, job, 1, {"path": "job.note", "value": "ring before eight"})
    told = lines(client, job, 1)
    assert told[0]["values"]["meta.note"]["text"] == "ring before eight"
    assert set(moved(told)) == {"meta.note"}
    assert told[-1]["done"] is True
    assert told[-1]["revision"] == 2


def followed(client: TestClient, job: str, began: int, path: str, value: Any) -> Any:
    body = {"from": began, "changes": [{"path": path, "value": value}]}
    answer = client.post(f"/api/jobs/{job}/edit", json=body)
    if answer.status_code != 200:
        return answer
    assert answer.headers["content-type"].startswith("application/x-ndjson")
    return [json.loads(line) for line in answer.text.splitlines()]


def test_one_answer_tells_what_an_edit_moves_and_that_it_is_on_the_disk(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    client.get(f"/api/jobs/{job}/page", params={"wait": 60})
    told = followed(client, job, 1, "rates.terms.margin_percent", 33)
    saved = [line for line in told if "saved" in line]
    assert saved == [{"saved": True, "id": job, "revision": 2, "problems": []}]
    assert "price.total" in moved(told)
    assert told[-1].get("done") or told[-2]["done"]
    assert client.get(f"/api/jobs/{job}").json()["revision"] == 2
    late = followed(client, job, 1, "rates.terms.margin_percent", 34)
    assert (late.status_code, late.json()["revision"]) == (409, 2)
    unfit = followed(client, job, 2, "design.thickness_mm", "thick")
    assert [sorted(line) for line in unfit] == [["id", "problems", "revision", "saved"]]
    assert unfit[0]["problems"][0]["where"] == "design.thickness_mm"


def test_an_edit_that_cannot_be_written_says_so_and_stands_nowhere(
    client: TestClient, copied: Copied, shared_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, store = copied(), shared_desk.store
    client.get(f"/api/jobs/{job}/page", params={"wait": 60})
    writing = store.writing

    @contextmanager
    def failing() -> Iterator[sqlite3.Connection]:
        with writing() as base:
            yield base
            raise sqlite3.OperationalError("disk I/O error")

    with monkeypatch.context() as at_fault:
        at_fault.setattr(store, "writing", failing)
        told = followed(client, job, 1, "job.title", "Never")
    assert not any("saved" in line for line in told)
    assert [line["error"]["code"] for line in told if "error" in line] == ["our-fault"]
    assert client.get(f"/api/jobs/{job}").json()["revision"] == 1
    again = followed(client, job, 1, "job.title", "Now")
    assert moved(again)["meta.title"]["text"] == "Now"
    assert [line["revision"] for line in again if "saved" in line] == [2]


def test_a_tape_tells_the_plan_first_and_says_from_what_to_what(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    before = client.get(f"/api/jobs/{job}/page", params={"wait": 60}).json()["numbers"]
    tape = client.get(f"/api/jobs/{job}").json()["document"]["survey"]["tapes"][0]
    path = f"survey.tapes[{tape['between']}].length_m"
    patched(client, job, 1, {"path": path, "value": tape["length_m"] + 0.004})
    told = lines(client, job, 1)
    rooms = [line["room"] for line in told if line.get("values") and "room" in line]
    assert rooms[0] == "plan"
    assert rooms.index("plan") < rooms.index("boards") < rooms.index("price")
    changed = moved(told)
    assert all(
        v["was"] == before[k]["text"] != v["text"] for k, v in changed.items() if k in before
    )
    after = client.get(f"/api/jobs/{job}/page", params={"wait": 60}).json()["numbers"]
    assert {k for k in after if after[k]["text"] != before.get(k, {}).get("text")} <= set(changed)


def test_a_change_that_is_undone_tells_the_numbers_back(client: TestClient, copied: Copied) -> None:
    """A page that heard of revision 2 and asks on from 1 must not keep what 2 said."""
    job = copied()
    client.get(f"/api/jobs/{job}/page", params={"wait": 60})
    patched(client, job, 1, {"path": "rates.terms.margin_percent", "value": 31})
    first = moved(lines(client, job, 1))
    assert "price.total" in first
    client.post(f"/api/jobs/{job}/undo", json={"from": 2})
    back = moved(lines(client, job, 1))
    assert back["price.total"]["text"] == first["price.total"]["was"]


def test_a_late_save_gets_both_values_and_where_the_job_stands(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    patched(client, job, 1, {"path": "job.client", "value": "Mrs Hill"})
    late = patched(client, job, 1, {"path": "job.client", "value": "Mr Dale"})
    assert late.status_code == 409
    told = late.json()
    assert told["error"]["code"] == "conflict"
    assert told["yours"][0]["value"] == "Mr Dale"
    assert told["theirs"] == [{"path": "job.client", "value": "Mrs Hill"}]
    assert (told["revision"], told["apart"]) == (2, False)
    other = patched(client, job, 1, {"path": "crew.people", "value": 3})
    assert other.json()["apart"] is True
    assert client.get(f"/api/jobs/{job}").json()["document"]["job"]["client"] == "Mrs Hill"


def test_what_cannot_be_worked_is_saved_and_its_problems_told(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    answer = patched(client, job, 1, {"path": "survey.covering.layers", "value": "three"}).json()
    assert answer["revision"] == 2
    assert answer["problems"][0]["where"] == "survey.covering.layers"
    assert "whole number" in answer["problems"][0]["expected"]
    assert lines(client, job, 1)[-1]["problems"] == answer["problems"]
    client.post(f"/api/jobs/{job}/undo", json={"from": 2})
    assert lines(client, job, 1)[-1]["done"] is True


def test_a_list_grows_and_shrinks_by_its_path(client: TestClient, copied: Copied) -> None:
    job = copied()
    reading = {"name": "new", "percent": 14}
    patched(client, job, 1, {"path": "survey.readings[+]", "value": reading})
    found = client.get(f"/api/jobs/{job}").json()["document"]["survey"]["readings"]
    assert found[-1] == reading
    patched(client, job, 2, {"path": "survey.readings[new]", "remove": True})
    found = client.get(f"/api/jobs/{job}").json()["document"]["survey"].get("readings", [])
    assert reading not in found


def test_a_try_saves_nothing(client: TestClient, copied: Copied) -> None:
    job = copied()
    body = {"changes": [{"path": "design.thickness_mm", "value": 100}]}
    told = client.post(f"/api/jobs/{job}/try", json=body).json()
    assert told["after"]["thickness_mm"] == 100
    assert told["after"]["u"] < told["before"]["u"]
    assert client.get(f"/api/jobs/{job}").json()["revision"] == 1


@pytest.mark.parametrize(
    ("headers", "status", "code"),
    [
        ({"host": "evil.example"}, 421, "wrong-host"),
        ({"host": "127.0.0.1:9"}, 421, "wrong-host"),
        ({"host": "localhost"}, 200, ""),
        ({"origin": "http://evil.example"}, 403, "wrong-origin"),
        ({"origin": "null"}, 403, "wrong-origin"),
        ({"origin": "http://127.0.0.1:9"}, 403, "wrong-origin"),
        ({"origin": "http://127.0.0.1"}, 200, ""),
        ({"sec-fetch-site": "cross-site"}, 403, "wrong-origin"),
        ({"sec-fetch-site": "same-site"}, 403, "wrong-origin"),
        ({"sec-fetch-site": "same-origin"}, 200, ""),
    ],
)
def test_other_hosts_and_origins_are_refused(
    client: TestClient, headers: dict[str, str], status: int, code: str
) -> None:
    answer = client.get("/api/jobs", headers=headers)
    assert answer.status_code == status
    assert "content-security-policy" in answer.headers
    if code:
        assert answer.json()["error"]["code"] == code


def test_a_body_beyond_its_limit_is_refused_with_or_without_its_length(client: TestClient) -> None:
    big = b'{"document": "' + b"x" * 3_000_000 + b'"}'
    for content in (big, iter([big[:1_500_000], big[1_500_000:]])):
        answer = client.post(
            "/api/jobs", content=content, headers={"content-type": "application/json"}
        )
        assert (answer.status_code, answer.json()["error"]["code"]) == (413, "too-large")


@pytest.mark.parametrize("path", ["/api/jobs/none", "/api/jobs/none/page", "/api/nothing"])
def test_what_is_not_there_is_said_in_the_one_shape(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404
    assert set(answer.json()["error"]) == {"code", "where", "what", "expected", "nearest", "do"}


def test_the_sheet_of_a_job_is_served(client: TestClient, garage: str) -> None:
    assert "Chalk marks" in client.get(f"/job/{garage}").text
    assert f"/job/{garage}" in client.get("/").text
    assert client.get("/job/none").status_code == 404
