"""Files that come in: photos and job files; what is refused, and in which words."""

from __future__ import annotations

import hashlib
import io
import struct
import zipfile
import zlib
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from PIL import Image
from tests.app.conftest import EXAMPLES

from evenfall.app.live.desk import Desk

Copied = Callable[[], str]


def photo_bytes(kind: str = "JPEG", size: tuple[int, int] = (64, 48)) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", size, (120, 40, 30)).save(file, kind)
    return file.getvalue()


def zip_bomb() -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("job.yaml", b"0" * 30_000_000)
    return file.getvalue()


def pixel_bomb() -> bytes:
    """A PNG of some hundred bytes that says it has 3.6 thousand million pixels."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")


def send(client: TestClient, job: str, body: bytes, name: str = "roof.jpg") -> object:
    files = {"photo": (name, body, "image/jpeg")}
    return client.post(f"/api/jobs/{job}/photos", files=files, data={"about": "the eaves"})


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_is_kept_under_the_hash_of_its_bytes(
    client: TestClient, garage: str, shared_desk: Desk, kind: str
) -> None:
    body = photo_bytes(kind)
    kept = send(client, garage, body).json()
    assert kept["hash"] == hashlib.sha256(body).hexdigest()
    assert (kept["wide"], kept["high"], kept["type"]) == (64, 48, f"image/{kind.lower()}")
    shown = client.get(f"/api/photos/{kept['hash']}")
    assert shown.content == body
    assert "sandbox" in shown.headers["content-security-policy"]
    assert [p["about"] for p in client.get(f"/api/jobs/{garage}/photos").json()["photos"]
            if p["hash"] == kept["hash"]] == ["the eaves"]  # fmt: skip
    assert not list((shared_desk.store.folder / "photos").glob(".coming-*"))


@pytest.mark.parametrize(
    ("body", "status", "said"),
    [
        (b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', 415, "script"),
        (b'\xef\xbb\xbf <?xml version="1.0"?><svg onload="x()"/>', 415, "script"),
        (b"<!DOCTYPE html><script>x()</script>", 415, "script"),
        (zip_bomb(), 415, "zip"),
        (b"%PDF-1.7 not a photo", 415, "PDF"),
        (b"GIF89a" + bytes(40), 415, "GIF"),
        (b"", 415, "empty"),
        (b"just words", 415, "no photo"),
        (photo_bytes()[:200], 415, "broken"),
        (pixel_bomb(), 413, "pixels"),
        (b"\xff\xd8\xff" + bytes(25_500_000), 413, "larger"),
    ],
    ids=["svg", "xml", "html", "zip", "pdf", "gif", "empty", "words", "half", "pixels", "huge"],
)  # fmt: skip
def test_what_is_no_photo_is_refused_in_plain_words_and_leaves_nothing(
    client: TestClient, garage: str, shared_desk: Desk, body: bytes, status: int, said: str
) -> None:
    folder = shared_desk.store.folder / "photos"
    before = set(folder.glob("*")) if folder.exists() else set()
    answer = send(client, garage, body)
    assert answer.status_code == status
    told = answer.json()["error"]
    assert said in told["what"]
    assert told["expected"]
    assert (set(folder.glob("*")) if folder.exists() else set()) == before


def test_an_upload_beyond_all_measure_is_refused_before_it_is_read(
    client: TestClient, garage: str
) -> None:
    answer = send(client, garage, bytes(27_000_000))
    assert (answer.status_code, answer.json()["error"]["code"]) == (413, "too-large")


@pytest.mark.parametrize("name", ["../../job.jpg", "..\\x.jpg", "/etc/passwd", "a\x00b.jpg", ""])
def test_the_name_of_a_photo_decides_nothing(
    client: TestClient, garage: str, shared_desk: Desk, name: str
) -> None:
    body = photo_bytes(size=(9, 9 + len(name)))
    kept = send(client, garage, body, name or "x")
    assert kept.status_code == 201
    folder = (shared_desk.store.folder / "photos").resolve()
    assert (folder / f"{kept.json()['hash']}.jpg").read_bytes() == body


@pytest.mark.parametrize("hash_", ["..%2F..%2Fevenfall.db", "%2e%2e", "a" * 64, "A" * 64, "x"])
def test_no_path_leads_out_of_the_photos(client: TestClient, hash_: str) -> None:
    assert client.get(f"/api/photos/{hash_}").status_code == 404


def test_a_job_file_goes_out_and_comes_in_again_as_the_same_job(client: TestClient) -> None:
    text = (EXAMPLES / "courtyard" / "job.yaml").read_bytes()
    rates = (EXAMPLES.parent / "src/evenfall/app/data/rates_invented.yaml").read_bytes()
    files = {"job": ("courtyard.yaml", text), "rates": ("rates.yaml", rates)}
    first = client.post("/api/jobs/import", files=files)
    assert first.status_code == 201
    out = client.get(f"/api/jobs/{first.json()['id']}/export").content
    again = client.post("/api/jobs/import", files={"job": ("again.yaml", out)}).json()
    jobs = [client.get(f"/api/jobs/{i}").json() for i in (first.json()["id"], again["id"])]
    assert jobs[0]["document"] == jobs[1]["document"]
    exported = client.get(f"/api/jobs/{jobs[0]['id']}/export", params={"part": "rates"})
    assert exported.status_code == 200
    assert (
        client.get(f"/api/jobs/{again['id']}/export", params={"part": "rates"}).status_code == 404
    )
    for job in jobs:
        client.post(f"/api/jobs/{job['id']}/stop")


@pytest.mark.parametrize(
    ("body", "status", "said"),
    [
        (zip_bomb(), 415, "zip"),
        (b"<svg/>", 415, "script"),
        (b"\x00\x01", 400, "no text"),
        (b"format: 99", 400, "newer"),
        (b"format: 1\njob: 3\n", 400, "3"),
        (b"a: &a [*a]\n", 400, "anchor"),
        (b"[" * 100_000, 400, ""),
        (b"x: 1\n" * 500_000, 413, "larger"),
    ],
)
def test_what_is_no_job_file_is_refused_with_its_line(
    client: TestClient, body: bytes, status: int, said: str
) -> None:
    answer = client.post("/api/jobs/import", files={"job": ("../x.yaml", body)})
    assert answer.status_code == status
    assert said in str(answer.json())
    if status == 400:
        assert all(p["line"] >= 1 for p in answer.json()["problems"])


def test_an_issued_paper_stays_as_sent_when_the_job_moves_on(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    sent = client.post(f"/api/jobs/{job}/issued", json={"paper": "order.pdf", "who": "Ann"}).json()
    now = client.get(f"/api/jobs/{job}/papers/order.pdf").content
    assert sent["hash"] == hashlib.sha256(now).hexdigest()
    change = {"path": "design.thickness_mm", "value": 120}
    client.patch(f"/api/jobs/{job}", json={"from": 1, "changes": [change]})
    assert client.get(f"/api/jobs/{job}/papers/order.pdf").content != now
    assert client.get(f"/api/jobs/{job}/issued/{sent['id']}").content == now
    listed = client.get(f"/api/jobs/{job}/issued").json()["issued"]
    assert [(i["paper"], i["revision"], i["who"]) for i in listed] == [("order.pdf", 1, "Ann")]
    assert client.get(f"/api/jobs/{job}/issued/999").status_code == 404
    assert client.get(f"/api/jobs/{job}/papers/nothing.pdf").status_code == 404


def test_an_agreement_holds_until_its_value_worsens(client: TestClient, copied: Copied) -> None:
    """The weight of the garage's roof is agreed to; thinner boards keep it, thicker ones do not."""
    job = copied()
    body = {"from": 1, "finding": "weight-heavier", "subject": "roof", "who": "Building control"}
    assert client.post(f"/api/jobs/{job}/agreed", json=body).json()["revision"] == 2

    def level(number: int, thickness: int) -> tuple[str, str]:
        change = {"path": "design.thickness_mm", "value": thickness}
        client.patch(f"/api/jobs/{job}", json={"from": number, "changes": [change]})
        found = client.get(f"/api/jobs/{job}/page", params={"wait": 60}).json()["findings"]
        told = next(f for f in found if f["code"] == "weight-heavier")
        return told["level"], told["says"]

    assert level(2, 80)[0] == "note"
    heavier = level(3, 140)
    assert heavier[0] == "agree"
    assert "What Building control agreed has got worse." in heavier[1]


def test_what_stops_for_an_engineer_is_ended_only_under_a_reference(
    client: TestClient, copied: Copied
) -> None:
    job = copied()
    hangs = {"path": "survey.joists.sag_mm", "value": 19}
    client.patch(f"/api/jobs/{job}", json={"from": 1, "changes": [hangs]})

    def sag() -> dict[str, Any]:
        found = client.get(f"/api/jobs/{job}/page", params={"wait": 60}).json()["findings"]
        return next(f for f in found if f["code"] == "joist-sag")

    told = sag()
    assert (told["level"], told["by_engineer"]) == ("stop", True)
    body = {"from": 2, "finding": told["code"], "subject": "joists", "who": "I. Nvented, engineer"}
    refused = client.post(f"/api/jobs/{job}/agreed", json=body)
    assert refused.status_code == 400
    assert "letter or calculation" in refused.text
    with_reference = body | {"reference": "24-117"}
    assert client.post(f"/api/jobs/{job}/agreed", json=with_reference).json()["revision"] == 3
    assert sag()["level"] == "note"
    assert "under 24-117" in sag()["says"]
