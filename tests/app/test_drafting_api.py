"""Routes of a job that is only begun: its draft, what matters, the first call."""

from __future__ import annotations

import json
from typing import Any

from fastapi.testclient import TestClient


def made(client: TestClient, document: dict[str, Any]) -> str:
    return str(client.post("/api/jobs", json={"document": document}).json()["id"])


def test_a_job_that_is_only_begun_is_worked_with_its_defaults_told(client: TestClient) -> None:
    tapes = [{"between": "A-B", "length_m": 5.2}, {"between": "B-C", "length_m": 3.4}]
    job = made(client, {"survey": {"corners": list("ABCD"), "tapes": tapes}})
    told = client.get(f"/api/jobs/{job}").json()
    assert told["problems"] == []
    assert "survey.deck.kind" in told["defaults"]
    assert told["document"]["survey"]["tapes"] == tapes
    draft = client.get(f"/api/jobs/{job}/draft").json()
    assert draft["roof"]["ask"]["between"] == "C-D"
    assert [s["taped_m"] for s in draft["roof"]["sides"]] == [5.2, 3.4, None, None]
    assert {f["path"] for f in draft["filled"]} == set(told["defaults"])
    assert all(f["why"] and f["basis"] for f in draft["filled"])
    assert draft["choices"]["boards"][0][0] == "pir-foil"


def test_saving_at_a_default_confirms_it(client: TestClient) -> None:
    job = made(client, {})
    body = {"from": 1, "changes": [{"path": "survey.deck.kind", "value": "osb"}]}
    assert client.patch(f"/api/jobs/{job}", json=body).status_code == 200
    told = client.get(f"/api/jobs/{job}").json()
    assert "survey.deck.kind" not in told["defaults"]
    assert told["document"]["survey"] == {"deck": {"kind": "osb"}}


def test_an_entry_that_cannot_be_placed_is_kept_and_told(client: TestClient) -> None:
    job = made(client, {"survey": {"tapes": [{"length_m": 4.1}]}})
    draft = client.get(f"/api/jobs/{job}/draft").json()
    assert [(a["where"], a["code"]) for a in draft["aside"]] == [("survey.tapes[0]", "set-aside")]
    assert draft["document"]["survey"]["tapes"] == [{"length_m": 4.1}]


def test_a_whole_job_has_nothing_to_weigh(client: TestClient, garage: str) -> None:
    answer = client.get(f"/api/jobs/{garage}/matters")
    lines = [json.loads(line) for line in answer.text.splitlines()]
    assert [(line["done"], line["of"]) for line in lines] == [(True, 0)]
    assert client.get(f"/api/jobs/{garage}").json()["defaults"] == []


def test_one_default_left_is_weighed(client: TestClient, garage: str) -> None:
    document = client.get(f"/api/jobs/{garage}").json()["document"]
    del document["survey"]["covering"]["laid_year"]
    job = made(client, document)
    answer = client.get(f"/api/jobs/{job}/matters")
    first = json.loads(answer.text.splitlines()[0])
    assert first["of"] >= 1
    told = {line["path"]: line for line in map(json.loads, answer.text.splitlines()[:-1])}
    assert told["survey.covering.laid_year"]["runs"] == 1


def test_a_first_call_says_what_follows_and_becomes_a_job(client: TestClient) -> None:
    answers = {"name": "Mrs Invented Hale", "listed": True, "on_it": ["flue"]}
    told = client.post("/api/call", json={"answers": answers}).json()
    assert told["verdict"] == "refer"
    assert any("gas engineer" in b for b in told["bring"])
    assert client.post("/api/call/band", json={"answers": answers}).json() == {"band": None}
    job = client.post("/api/call/begin", json={"answers": answers}).json()
    assert job["problems"] == []
    listed = client.get(f"/api/jobs/{job['id']}").json()
    assert listed["document"]["job"]["client"] == "Mrs Invented Hale"
    assert listed["document"]["job"]["listed_or_conservation"] is True


def test_an_answer_that_nobody_could_give_is_refused_in_words(client: TestClient) -> None:
    answer = client.post("/api/call", json={"answers": {"storeys": 300}})
    assert answer.status_code == 400
    assert answer.json()["error"]["where"].endswith("answers.storeys")


def test_the_questions_come_from_one_place(client: TestClient) -> None:
    asks = client.get("/api/asks").json()
    assert [g["name"] for g in asks["groups"]] == ["place", "felt", "inside", "who", "choices"]
    assert len(client.get("/api/call").json()) == 21
