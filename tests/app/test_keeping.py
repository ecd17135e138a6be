"""Entries of the roof are kept once, whatever comes in between, and no undo takes them."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest
from tests.app.roof_entries import ANN, BEN, hash_of, id_of, jpeg, reading

from evenfall.app.live.desk import Desk
from evenfall.app.site.keeping import Taken, keep, turned_away
from evenfall.app.store import shelves
from evenfall.app.store.bringing import as_yaml, bring
from evenfall.app.store.kept import Behind, Contents
from evenfall.app.store.logged import digest, log_of, photos_of
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput

NOW = datetime(2026, 11, 25, 10, tzinfo=UTC)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)


@pytest.fixture
def job(store: Store) -> str:
    return store.make(Contents({"format": 1, "job": {"title": "Kitchen roof"}, "n": 1}), "Ann").job


def log(store: Store, job: str) -> list[dict[str, Any]]:
    return log_of(store.contents(store.head(job)).document)


def taken(store: Store, job: str, *entries: Any, **more: Any) -> Taken:
    return keep(store, job, entries, by="Ann's phone", now=NOW, **more)


def test_a_batch_is_one_new_revision_sorted_by_id(store: Store, job: str) -> None:
    done = taken(store, job, *(reading(n=n) for n in (3, 1, 2)))
    assert (store.head(job).number, done.refused) == (2, ())
    assert set(done.kept) == {id_of(ANN, n) for n in (1, 2, 3)}
    assert [e["id"] for e in log(store, job)] == sorted(done.kept)
    assert store.head(job).why == "from the roof: 3 records"


def test_what_is_there_is_acknowledged_again_and_nothing_is_written(store: Store, job: str) -> None:
    first = taken(store, job, reading(), reading(n=2))
    again = taken(store, job, reading(n=2), reading(note=None, value=14.5), reading())
    assert (set(again.kept), again.revision) == (set(first.kept), None)
    assert store.head(job).number == 2


def test_the_same_id_with_other_content_is_refused_and_the_owner_sees_both(
    store: Store, job: str
) -> None:
    taken(store, job, reading())
    done = taken(store, job, reading(value=22), reading(n=2))
    assert done.kept == (id_of(ANN, 2),)
    assert done.refused[0].error["code"] == "conflict"
    assert "replaces it" in done.refused[0].error["do"]
    taken(store, job, reading(value=22))
    (seen,) = turned_away(store, job)
    assert seen.kept
    assert seen.sent
    assert (seen.kept["value"], seen.sent["value"]) == (14.5, 22)


def test_one_id_twice_in_a_batch_with_other_content_keeps_the_first(store: Store, job: str) -> None:
    done = taken(store, job, reading(), reading(value=3))
    assert (len(done.kept), len(done.refused)) == (1, 1)
    assert log(store, job)[0]["value"] == 14.5


def test_entries_of_another_job_are_refused_and_named(store: Store, job: str) -> None:
    other = store.make(Contents({"format": 1, "job": {"title": "Garage"}}), "Ann").job
    taken(store, other, reading())
    done = taken(store, job, reading(), reading(n=2))
    assert done.kept == (id_of(ANN, 2),)
    assert 'a record of the job "Garage"' in done.refused[0].error["what"]
    with pytest.raises(InvalidInput, match='records of the job "Garage"') as wrong:
        taken(store, job, reading(n=3), of=other)
    assert (wrong.value.expected, wrong.value.do) == (
        'those of "Kitchen roof"', "open that job for them",
    )  # fmt: skip
    assert len(log(store, job)) == 1


@pytest.mark.parametrize(
    ("entry", "where"),
    [
        ({"id": "x"}, ""),
        (reading(value="damp"), "reading.value"),
        (reading(at="2026-11-25 10:00"), "reading.at"),
        (reading(mystery=1), "reading.mystery"),
        (reading(note="x" * 64_000), "entry"),
        (reading(unit="mm"), "unit"),
        (reading(value=float("nan")), "entry"),
        ("a word", ""),
        (
            {k: reading()[k] for k in ("id", "device", "n", "at", "who")}
            | {"kind": "clock", "of": BEN, "ahead_s": 9.0},
            "kind",
        ),
    ],
)
def test_an_entry_that_cannot_be_read_is_told_and_the_others_are_kept(
    store: Store, job: str, entry: Any, where: str
) -> None:
    done = taken(store, job, entry, reading(n=2))
    assert done.kept == (id_of(ANN, 2),)
    assert done.refused[0].error["where"] == where


def test_what_is_kept_never_stops_the_job_from_being_worked(tmp_path: Path) -> None:
    from tests.app.conftest import EXAMPLES

    desk = Desk(tmp_path)
    job = bring(desk.store, EXAMPLES / "garage", "Ann").revision.job
    bad = (reading(n=1, unit="mm"), reading(n=2, replaces=id_of(ANN, 2)),
           reading(n=3) | {"kind": "done"}, reading(n=4, kind="mystery"))  # fmt: skip
    done = keep(desk.store, job, [*bad, reading(n=5), reading(n=6, note="joist by the door")],
                by="phone", device=ANN, ahead_s=4000)  # fmt: skip
    assert (len(done.kept), len(done.refused)) == (2, 4)
    assert desk.sound(desk.store.head(job)).problems == ()
    desk.close()


def test_too_many_entries_at_once_are_refused_whole(store: Store, job: str) -> None:
    with pytest.raises(InvalidInput, match="501 entries, expected at most 500"):
        taken(store, job, *(reading(n=n) for n in range(1, 502)))
    assert store.head(job).number == 1


def test_an_entry_says_which_photo_is_still_to_come(store: Store, job: str) -> None:
    photo, other = jpeg(1), jpeg(2)
    done = taken(store, job, reading(photos=[hash_of(photo), hash_of(other)]))
    assert done.wanted == (hash_of(photo), hash_of(other))
    done = taken(store, job, photos={hash_of(photo): photo})
    assert (done.wanted, done.revision) == ((hash_of(other),), None)
    assert shelves.photo_file(store, hash_of(photo))[0].read_bytes() == photo


def test_a_photo_that_is_another_or_none_is_refused_and_stops_nothing(
    store: Store, job: str
) -> None:
    photo, page = jpeg(1), b"<svg onload='x'>"
    done = taken(store, job, reading(), photos={"0" * 64: photo, hash_of(page): page})
    assert [t.error["what"] for t in done.refused] == [
        "other bytes than were announced",
        "a drawing or page (SVG, HTML), which may carry a script",
    ]
    assert len(done.kept) == 1
    assert list((store.folder / "photos").iterdir()) == []


def test_no_undo_redo_or_restore_takes_an_entry_away(store: Store, job: str) -> None:
    def n() -> int:
        return int(store.contents(store.head(job)).document["n"])

    store.save(job, 1, Contents({"format": 1, "n": 2}), "Ann")
    taken(store, job, reading())
    store.undo(job, 3, "Ann")
    assert (n(), len(log(store, job))) == (1, 1)
    taken(store, job, reading(n=2))
    store.redo(job, 5, "Ann")
    assert (n(), len(log(store, job))) == (2, 2)
    store.restore(job, 6, 1, "Ann")
    assert (n(), len(log(store, job))) == (1, 2)
    store.undo(job, 7, "Ann")
    store.undo(job, 8, "Ann")
    with pytest.raises(InvalidInput, match="nothing to undo"):
        store.undo(job, 9, "Ann")
    assert (n(), len(log(store, job))) == (1, 2)


def test_what_the_roof_sends_is_in_nobodys_way(store: Store, job: str) -> None:
    taken(store, job, reading())
    store.save(job, 1, Contents({"format": 1, "n": 5}), "the owner")
    taken(store, job, reading(n=2))
    head = store.contents(store.head(job)).document
    assert (head["n"], len(log_of(head)), store.head(job).number) == (5, 2, 4)
    with pytest.raises(Behind):
        store.save(job, 1, Contents({"format": 1, "n": 6}), "somebody else")


def test_an_owner_cannot_change_an_entry_or_take_it_out(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    job = desk.store.make(Contents({"format": 1}), "Ann").job
    keep(desk.store, job, [reading()], by="phone")
    for change in (
        {"path": "record.log[0].value", "value": 1},
        {"path": "record.log[0]", "remove": True},
        {"path": "record.log", "value": []},
    ):
        with pytest.raises(InvalidInput, match="add an entry that replaces it"):
            desk.edit(job, 2, [change], "Ann")
    desk.edit(job, 2, [{"path": "record", "remove": True}], "Ann")
    assert len(log(desk.store, job)) == 1
    desk.close()


def test_a_job_file_brought_in_again_without_the_log_leaves_it_and_is_the_same(
    tmp_path: Path,
) -> None:
    from tests.app.conftest import EXAMPLES

    store = Store(tmp_path / "store")
    job = bring(store, EXAMPLES / "garage", "Ann").revision.job
    keep(store, job, [reading()], by="phone")
    assert bring(store, EXAMPLES / "garage", "Ann").how == "same"
    assert len(log(store, job)) == 1


def test_photos_that_lie_beside_a_job_file_come_in_with_it(tmp_path: Path) -> None:
    from tests.app.conftest import EXAMPLES

    store, folder = Store(tmp_path / "store"), tmp_path / "porch"
    copytree(EXAMPLES / "built" / "porch", folder)
    lost = sorted((folder / "photos").iterdir())[0].rename(tmp_path / "lost.jpg")
    brought = bring(store, folder, "Ann").revision
    named = [p for e in log_of(store.contents(brought).document) for p in photos_of(e)]
    assert len(set(named)) == 14
    (still,) = shelves.missing(store, brought.job, named)
    lost.rename(folder / "photos" / f"{still}.jpg")
    assert bring(store, folder, "Ann").how == "same"
    assert shelves.missing(store, brought.job, named) == []


def test_a_job_file_carries_its_log_and_a_copy_for_another_roof_does_not(
    store: Store, job: str
) -> None:
    taken(store, job, reading())
    assert "kind: reading" in as_yaml(store.contents(store.head(job)).document)
    assert log(store, store.copy(job, "Ann").job) == []


def test_a_wrong_clock_is_told_once_and_again_when_it_is_put_right(store: Store, job: str) -> None:
    hour = 3600.0
    taken(store, job, reading(), device=ANN, ahead_s=hour)
    taken(store, job, reading(n=2), device=ANN, ahead_s=hour + 4)
    taken(store, job, device=BEN, ahead_s=hour)  # who has written nothing is told nothing
    taken(store, job, device=ANN, ahead_s=0.4)
    told = sorted((e for e in log(store, job) if e["kind"] == "clock"), key=lambda e: e["n"])
    assert [(e["of"], e["ahead_s"]) for e in told] == [(ANN, hour), (ANN, 0.0)]
    assert len({e["device"] for e in told}) == 1
    assert datetime.fromisoformat(told[0]["at"]) - NOW == timedelta(0)


def test_a_clock_that_is_near_is_not_told(store: Store, job: str) -> None:
    taken(store, job, reading(), device=ANN, ahead_s=-9)
    assert len(log(store, job)) == 1


def test_any_order_twice_and_in_parts_end_in_the_same_bytes(tmp_path: Path) -> None:
    days = [reading(d, n, value=n / 3) for d in (ANN, BEN) for n in range(1, 9)]
    ends = set()
    for seed in range(6):
        chance, store = random.Random(seed), Store(tmp_path / str(seed))
        job = store.make(Contents({"format": 1}), "Ann").job
        left = [*days, *chance.sample(days, 5)]
        chance.shuffle(left)
        while left:
            part, left = left[:3], left[3:]
            taken(store, job, *part)
        ends.add(as_yaml(store.contents(store.head(job)).document))
    assert len(ends) == 1
    assert digest(e["id"] for e in days) == digest(reversed([e["id"] for e in days]))
