"""Many at once: no change is lost, whether threads share a desk or desks share a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Thread

from fastapi.testclient import TestClient

from evenfall.app.store.kept import Behind, Contents
from evenfall.app.store.store import Store

EDITORS, EDITS = 6, 12
Copied = Callable[[], str]


def together(*deeds: Callable[[], None]) -> None:
    threads = [Thread(target=deed) for deed in deeds]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def counted(store: Store, job: str) -> Callable[[], None]:
    """Add one to a number, again and again; a late save looks again and repeats."""

    def add() -> None:
        for _ in range(EDITS):
            while True:
                head = store.head(job)
                n = store.contents(head).document["n"]
                try:
                    store.save(job, head.number, Contents({"format": 1, "n": n + 1}), "one of many")
                except Behind:
                    continue
                break

    return add


def test_editors_of_one_job_in_one_desk_lose_nothing(tmp_path: Path) -> None:
    store = Store(tmp_path)
    job = store.make(Contents({"format": 1, "n": 0}), "Ann").job
    together(*[counted(store, job) for _ in range(EDITORS)])
    assert store.contents(store.head(job)).document["n"] == EDITORS * EDITS
    assert store.head(job).number == 1 + EDITORS * EDITS


def test_desks_that_share_a_file_lose_nothing(tmp_path: Path) -> None:
    stores = [Store(tmp_path) for _ in range(3)]
    job = stores[0].make(Contents({"format": 1, "n": 0}), "Ann").job
    together(*[counted(store, job) for store in stores])
    assert [s.contents(s.head(job)).document["n"] for s in stores] == [3 * EDITS] * 3


def test_two_tabs_cannot_both_save_from_one_revision(client: TestClient, copied: Copied) -> None:
    job, answers = copied(), list[int]()

    def save(name: str) -> Callable[[], None]:
        body = {"from": 1, "changes": [{"path": "job.client", "value": name}], "who": name}
        return lambda: answers.append(client.patch(f"/api/jobs/{job}", json=body).status_code)

    together(*[save(f"Client {n}") for n in range(5)])
    assert sorted(answers) == [200, 409, 409, 409, 409]
    history = client.get(f"/api/jobs/{job}/history").json()["revisions"]
    assert [r["number"] for r in history] == [2, 1]
    document = client.get(f"/api/jobs/{job}").json()["document"]
    assert document["job"]["client"] == history[0]["who"]


def test_a_large_document_is_kept_and_one_beyond_measure_is_refused(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    note = {"path": "job.note", "value": "x" * 1_900_000}
    kept = client.patch(f"/api/jobs/{job}", json={"from": 1, "changes": [note]})
    assert kept.json()["revision"] == 2
    assert client.get(f"/api/jobs/{job}").json()["document"]["job"]["note"] == note["value"]
    more = {"path": "job.title", "value": "y" * 400_000}
    refused = client.patch(f"/api/jobs/{job}", json={"from": 2, "changes": [more]})
    assert (refused.status_code, "2,000,000" in refused.json()["error"]["what"]) == (400, True)
    deep: object = 1
    for _ in range(60):
        deep = [deep]
    nested = {"path": "design.options", "value": deep}
    refused = client.patch(f"/api/jobs/{job}", json={"from": 2, "changes": [nested]})
    assert "without end" in refused.json()["error"]["what"]
    assert client.get(f"/api/jobs/{job}").json()["revision"] == 2
