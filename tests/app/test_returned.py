"""The file that a day sheet gives back: read, refused, and written into a job file."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from typer.testing import CliRunner

from evenfall.app.cli import app
from evenfall.app.reading import read_file
from evenfall.app.site.bring import bring_back
from evenfall.app.site.into_file import load_into
from evenfall.app.site.keeping import MOST_AT_ONCE, keep
from evenfall.app.site.returned import read_returned
from evenfall.app.store.bringing import bring
from evenfall.app.store.logged import log_of
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput
from evenfall.model.job import Job
from evenfall.model.job_checks import slips

EXAMPLES = Path(__file__).parents[2] / "examples"
PHOTO = b"\xff\xd8 a photo, as far as its hash is asked \xff\xd9"
SHA = sha256(PHOTO).hexdigest()


def entry(n: int, **more: Any) -> dict[str, Any]:
    """An entry of one telephone; weather unless it says otherwise."""
    plain = {"id": f"{n:032x}", "device": "d" * 32, "n": n, "at": "2026-12-08T07:40:00+00:00",
             "who": "Sam", "kind": "weather", "when": "morning", "sky": "frost", "air_c": -1.5,
             "wind": "calm"}  # fmt: skip
    return {**plain, **more}


def packed(*entries: dict[str, Any], job: str = "GAR-0417", photos: dict[str, str] | None = None,
           form: int = 1) -> bytes:  # fmt: skip
    """A file as the telephone writes it."""
    told = {"format": 1, "job": job, "title": "A roof", "day": 2, "device": "d" * 32,
            "made": "2026-12-08T16:00:00+00:00", "entries": list(entries),
            "photos": photos or {}}  # fmt: skip
    body = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
    check = sha256(body.encode()).hexdigest()
    return f'{{"evenfall_day":{form},"checksum":"{check}","body":\n{body}\n}}\n'.encode()


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The garage, in a folder of its own."""
    file = tmp_path / "job.yaml"
    file.write_bytes((EXAMPLES / "garage" / "job.yaml").read_bytes())
    return file


def test_what_the_telephone_wrote_is_read_with_its_photos() -> None:
    found = read_returned(packed(entry(1), photos={SHA: base64.b64encode(PHOTO).decode()}))
    assert (found.reference, found.day, found.device) == ("GAR-0417", 2, "d" * 32)
    assert found.entries == (entry(1),)
    assert found.photos == {SHA: PHOTO}


def test_a_mail_that_changes_the_ends_of_lines_does_no_harm() -> None:
    sent = packed(entry(1)).replace(b"\n", b"\r\n")
    assert read_returned(sent).entries == (entry(1),)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "another kind of file"),
        (b"%PDF-1.7 something else", "another kind of file"),
        (packed(entry(1)).replace(b"-1.5", b"11.5"), "broken on its way, or changed"),
        (packed(entry(1))[:-300], "broken on its way, or changed"),
        (packed(entry(1), form=7), "format 7"),
        (packed(photos={SHA: base64.b64encode(PHOTO + b"!").decode()}), "photo " + SHA[:12]),
        (packed(photos={"../../x": ""}), "photo ../../x"),
        (packed(photos={SHA: "no base64"}), "photo " + SHA[:12]),
        (packed("no entry"), "records that cannot be read"),  # type: ignore[arg-type]
    ],
)
def test_a_broken_or_changed_file_is_refused_in_plain_words(content: bytes, says: str) -> None:
    with pytest.raises(InvalidInput, match=says):
        read_returned(content)


def test_records_are_added_to_a_job_file_whose_comments_stay(job: Path) -> None:
    text = job.read_text(encoding="utf-8")
    photos = {SHA: base64.b64encode(PHOTO).decode()}
    done = load_into(job, read_returned(packed(entry(2, photos=[SHA]), entry(1), photos=photos)))
    assert (len(done.new), done.before, done.refused, done.photos, done.to_come) == (
        2, (), (), 1, ()
    )  # fmt: skip
    assert job.read_text(encoding="utf-8").startswith(text.rstrip())
    assert (job.parent / "photos" / f"{SHA}.jpg").read_bytes() == PHOTO
    kept = read_file(job, Job, slips).value.record.log
    assert [e.n for e in kept] == [1, 2]


def test_the_same_file_twice_writes_nothing(job: Path) -> None:
    sent = read_returned(packed(entry(1), entry(2)))
    load_into(job, sent)
    once = job.read_bytes()
    again = load_into(job, sent)
    assert (again.new, len(again.before), again.photos) == ((), 2, 0)
    assert job.read_bytes() == once


def test_a_later_file_adds_to_a_log_and_says_which_photo_is_to_come(job: Path) -> None:
    load_into(job, read_returned(packed(entry(2))))
    done = load_into(job, read_returned(packed(entry(2), entry(1, photos=[SHA]))))
    assert (len(done.new), len(done.before), done.to_come) == (1, 1, (SHA,))
    assert [e.n for e in read_file(job, Job, slips).value.record.log] == [1, 2]


def test_a_record_beside_others_keeps_them(tmp_path: Path) -> None:
    file = tmp_path / "job.yaml"
    file.write_bytes((EXAMPLES / "courtyard" / "job.yaml").read_bytes())
    before = file.read_text(encoding="utf-8")
    load_into(file, read_returned(packed(entry(1), job="CRT-0958")))
    new = file.read_text(encoding="utf-8").splitlines()
    assert [line for line in before.splitlines() if line not in new] == []


def test_the_file_of_another_job_is_refused_and_nothing_is_written(job: Path) -> None:
    before = job.read_bytes()
    with pytest.raises(InvalidInput, match='a day of job "EXT-2231"'):
        load_into(job, read_returned(packed(entry(1), job="EXT-2231")))
    assert job.read_bytes() == before


def test_one_wrong_record_stops_no_other_and_a_changed_one_is_told(job: Path) -> None:
    load_into(job, read_returned(packed(entry(1))))
    sent = packed(entry(1, air_c=9.0), entry(2, sky="nice"), entry(3))
    done = load_into(job, read_returned(sent))
    assert len(done.new) == 1
    reasons = " ".join(why for _, why in done.refused)
    assert "says otherwise" in reasons
    assert "sky" in reasons


def test_a_record_that_would_stop_the_job_is_refused_alone_in_yaml_and_in_json(job: Path) -> None:
    plain = job.with_suffix(".json")
    plain.write_text(json.dumps(read_file(job, Job, slips).document.data), encoding="utf-8")
    twist = entry(2, replaces=f"{2:032x}")
    for file in (job, plain):
        done = load_into(file, read_returned(packed(entry(1), twist)))
        assert (len(done.new), [id_ for id_, _ in done.refused]) == (1, [f"{2:032x}"])
        assert "an earlier entry" in done.refused[0][1]
        assert [e.n for e in read_file(file, Job, slips).value.record.log] == [1]


def test_a_photo_told_of_by_an_entry_of_its_own_is_to_come(job: Path) -> None:
    head = {k: entry(1)[k] for k in ("id", "device", "n", "at", "who")}
    shot = head | {"kind": "photo", "sha256": SHA, "about": "the eaves"}
    done = load_into(job, read_returned(packed(shot)))
    assert (done.refused, done.to_come) == ((), (SHA,))


def test_a_record_in_braces_is_refused_with_what_to_do(job: Path) -> None:
    job.write_text(job.read_text(encoding="utf-8") + "record: {finished_on: 2026-12-30}\n")
    with pytest.raises(InvalidInput, match="on lines of their own"):
        load_into(job, read_returned(packed(entry(1))))


# --- into a job of the desk ---------------------------------------------------------------------


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    found = Store(tmp_path / "store")
    yield found
    found.close()


@pytest.fixture
def kept(store: Store) -> str:
    return bring(store, EXAMPLES / "garage", "a test").revision.job


def test_a_day_comes_into_a_job_of_the_desk_once(store: Store, kept: str) -> None:
    sent = read_returned(packed(entry(2), entry(1, photos=[SHA])))
    done, revision = bring_back(store, kept, sent, "day.json")
    assert (len(done.new), len(done.before), done.to_come) == (2, 0, (SHA,))
    assert revision is not None
    again, nothing = bring_back(store, kept, sent, "day.json")
    assert (again.new, len(again.before), nothing) == ((), 2, None)
    assert len(log_of(store.contents(store.head(kept)).document)) == 2


def test_a_long_log_comes_in_parts(store: Store, kept: str) -> None:
    many = [entry(n) for n in range(1, MOST_AT_ONCE + 3)]
    done, _ = bring_back(store, kept, read_returned(packed(*many)), "day.json")
    assert len(done.new) == MOST_AT_ONCE + 2


def test_what_the_desk_told_of_a_clock_comes_back_without_a_word(store: Store, kept: str) -> None:
    keep(store, kept, [entry(1)], by="a phone", device="d" * 32, ahead_s=3600.0)
    log = log_of(store.contents(store.head(kept)).document)
    done, nothing = bring_back(store, kept, read_returned(packed(*log)), "day.json")
    assert sorted(e["kind"] for e in log) == ["clock", "weather"]
    assert (done.new, len(done.before), done.refused, nothing) == ((), 2, (), None)


def test_the_day_of_another_job_does_not_come_into_the_desk(store: Store, kept: str) -> None:
    before = store.head(kept).number
    with pytest.raises(InvalidInput, match='a day of job "EXT-2231"'):
        bring_back(store, kept, read_returned(packed(entry(1), job="EXT-2231")), "day.json")
    assert store.head(kept).number == before


def test_the_desk_s_route_loads_a_day_and_refuses_a_broken_one(
    client: TestClient, copied: Callable[[], str]
) -> None:
    job = copied()
    sent = packed(entry(77, id="7" * 32))
    first, again, broken = (
        client.post(f"/api/jobs/{job}/returned", files={"day": ("day.json", content)})
        for content in (sent, sent, sent.replace(b"calm", b"gale"))
    )
    assert first.status_code == 200, first.text
    assert (first.json()["new"], first.json()["before"]) == (1, 0)
    assert (again.json()["new"], again.json()["before"]) == (0, 1)
    assert broken.status_code == 400
    assert "broken on its way" in broken.json()["error"]["what"]


def test_the_command_line_loads_a_day_into_a_file_and_into_the_desk(
    job: Path, store: Store, kept: str, tmp_path: Path
) -> None:
    file = tmp_path / "d.evenfall-day.json"
    file.write_bytes(packed(entry(1), entry(2, sky="nice")))
    run = CliRunner()
    into_file = run.invoke(app, ["record", "load", str(file), str(job)])
    assert (into_file.exit_code, "1 new records" in into_file.output) == (1, True)
    where = ["--store", str(tmp_path / "store")]
    into_desk = run.invoke(app, ["record", "load", str(file), kept, *where])
    assert (into_desk.exit_code, "1 new records" in into_desk.output) == (1, True)
    nowhere = run.invoke(app, ["record", "load", str(file), "no-such", *where])
    assert (nowhere.exit_code, "no job of the desk" in nowhere.output) == (2, True)
