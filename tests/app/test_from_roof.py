"""What the roof changed is told at once, at the desk and on the phone; refusals are shown."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest
from fastapi.testclient import TestClient
from PIL import Image
from tests.app.roof_entries import ANN, BEN, hash_of, jpeg, reading
from tests.app.site_phones import Shared

from evenfall.app.api.roof import shown
from evenfall.app.live.desk import Desk
from evenfall.app.loading import load
from evenfall.app.papers import paper
from evenfall.app.site import keeping
from evenfall.app.store import shelves
from evenfall.app.store.bringing import bring
from evenfall.flow import work_out

PORCH = Path(__file__).parents[2] / "examples" / "built" / "porch"
WEAK = [reading(ANN, n, what="pull_out", value=v, unit="N") for n, v in ((1, 820.0), (2, 790.0))]
GAPING = [reading(BEN, 1, what="gap", value=12.0, unit="mm")]


@pytest.fixture(scope="module")
def told(shared_desk: Desk, garage: str, client: TestClient) -> list[dict[str, Any]]:
    """What the desk tells before, after weak pull-outs and after a gap; then what the phone is."""
    shared = Shared(shared_desk)
    shared.job = job = shared_desk.copied(garage, "a test").revision.job
    ann, ben = shared.phone(), shared.phone("Ben's phone")
    found = [client.get(f"/api/jobs/{job}/roof").json()]
    for phone, device, entries in ((ann, ANN, WEAK), (ben, BEN, GAPING)):
        assert shared.send(phone, *entries, device=device).json()["refused"] == []
        found.append(client.get(f"/api/jobs/{job}/roof").json())
    return [*found, ann.get(f"/site/api/{job}/changed").json()]


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[Shared]:
    desk = Desk(tmp_path)
    yield Shared(desk)
    desk.close()


def test_before_the_first_record_nothing_is_told(told: list[dict[str, Any]]) -> None:
    assert (told[0]["records"], told[0]["last"], told[0]["all"]) == (0, [], [])


def test_the_desk_tells_what_the_last_records_changed_and_who_brought_them(
    told: list[dict[str, Any]],
) -> None:
    _, first, second, _ = told
    assert first["by"] == "Ann's phone"
    assert first["last"] == first["all"] != []
    assert second["by"] == "Ben's phone"
    assert any("gapes 12 mm" in line for line in second["last"])
    assert not set(first["last"]) & set(second["last"])


def test_all_together_is_told_against_the_plan(told: list[dict[str, Any]]) -> None:
    _, first, second, _ = told
    assert any("gapes 12 mm" in line for line in second["all"])
    assert any(line in second["all"] for line in first["all"])


def test_the_phone_is_told_the_same_without_the_price(told: list[dict[str, Any]]) -> None:
    desk, phone = told[2], told[3]
    assert any("£" in line for line in desk["last"])
    assert not any("£" in line for line in (*phone["last"], *phone["all"]))
    assert phone["last"] == [line for line in desk["last"] if "£" not in line]


def test_what_was_refused_is_shown_beside_what_is_kept(shared: Shared) -> None:
    ann, first = shared.phone(), reading(value=14.0)
    other = {**first, "value": 44.0}
    shared.send(ann, first)
    shared.send(ann, other, {**reading(n=2), "unit": "furlongs"})
    found = {r.id: r for r in map(shown, keeping.turned_away(shared.desk.store, shared.job))}
    assert len(found) == 2
    double = found[first["id"]]
    assert [(d.what, d.kept, d.sent) for d in double.differs] == [("value", "14.0", "44.0")]
    assert double.came.startswith("Ann's phone")
    assert "furlongs" in next(r.why for i, r in found.items() if i != first["id"])


def test_the_refusals_of_a_phone_without_end_fill_no_disk(
    shared: Shared, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(keeping, "MOST_REMEMBERED", 3)
    shared.send(shared.phone(), *({**reading(n=n), "unit": "ells"} for n in range(1, 9)))
    assert len(keeping.turned_away(shared.desk.store, shared.job)) == 3


def packed(*photos: bytes, said: dict[int, str] | None = None) -> bytes:
    names = [(said or {}).get(n, hash_of(p)) for n, p in enumerate(photos)]
    line = ", ".join(f'["{name}", {len(p)}]' for name, p in zip(names, photos, strict=True))
    return f"[{line}]\n".encode() + b"".join(photos)


def test_a_pack_of_photos_is_kept_and_one_that_is_none_stops_no_other(shared: Shared) -> None:
    ann, good, page = shared.phone(), [jpeg(1), jpeg(2)], b"<svg onload='x'>"
    at = f"/site/api/{shared.job}/photos"
    body = packed(good[0], page, good[1], jpeg(3), said={3: "0" * 64})
    answer = ann.post(at, content=body).json()
    assert answer["kept"] == [hash_of(p) for p in good]
    assert [r["id"] for r in answer["refused"]] == [hash_of(page), "0" * 64]
    assert ann.get(f"{at}/{hash_of(good[1])}").content == good[1]
    again = ann.post(at, content=packed(*good)).json()
    assert again == {"kept": [hash_of(p) for p in good], "refused": []}
    folder = shared.desk.photos
    assert {f.name for f in folder.iterdir()} == {f"{hash_of(p)}.jpg" for p in good}


@pytest.mark.parametrize(
    "body", [b"", b"[]\nmore", b'[["zz", 3]]\n123', packed(jpeg(1))[:-1], b"{", b'[["a"]]\n']
)
def test_a_pack_that_is_none_is_refused(shared: Shared, body: bytes) -> None:
    answer = shared.phone().post(f"/site/api/{shared.job}/photos", content=body)
    assert answer.status_code == 400
    assert answer.json()["error"]["where"] == "body"


def test_the_clients_copies_come_in_order_as_one_file(
    shared_desk: Desk, client: TestClient
) -> None:
    job = bring(shared_desk.store, PORCH, "a test").revision.job
    for file in (PORCH / "photos").glob("*.jpg"):
        shelves.keep_photo(shared_desk.store, job, [file.read_bytes()], "", "a test")
    told = client.get(f"/api/jobs/{job}/roof").json()
    assert [p["here"] for p in told["photos"]] == [True] * 14
    answer = client.get(f"/api/jobs/{job}/client-photos.zip")
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        names = archive.namelist()
        assert names == [*sorted(names[:14]), "photos.txt"]
        assert "see here" in archive.read("photos.txt").decode()
        for name in names[:14]:
            with Image.open(io.BytesIO(archive.read(name))) as picture:
                assert not picture.getexif()


def test_the_handover_file_shows_each_photo_once_and_says_what_is_drawn_on_it(
    tmp_path: Path,
) -> None:
    worked = work_out(load(PORCH, date(2026, 10, 30)).case)
    for file in sorted((PORCH / "photos").glob("*.jpg"))[1:]:
        (tmp_path / file.name).write_bytes(file.read_bytes())
    file = paper(worked, "handover.pdf", tmp_path)
    pages = list(pdfium.PdfDocument(file))
    shots = [o for page in pages for o in page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE])]
    assert len(shots) == 13
    text = " ".join(" ".join(p.get_textpage().get_text_range() for p in pages).split())
    assert "Drawn on it: “see here”." in text
    assert text.count("Still to come from the telephone.") == 1
    assert b"2026:10:26" not in file
