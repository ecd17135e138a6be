"""The store: revisions are added and never changed, undo is a revision, a late save is refused."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

import pytest

from evenfall.app.store.database import FULL, NAME, connect
from evenfall.app.store.kept import Behind, Contents
from evenfall.app.store.place import home
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)


def roof(number: int = 0, **about: Any) -> Contents:
    return Contents({"format": 1, "job": {"title": "A roof", **about}, "n": number})


def now(store: Store, job: str) -> int:
    found: int = store.contents(store.head(job)).document["n"]
    return found


def test_every_write_is_on_the_disk_before_it_is_acknowledged(store: Store) -> None:
    assert store.base.execute("PRAGMA synchronous").fetchone()[0] == FULL
    assert store.base.execute("PRAGMA journal_mode").fetchone()[0] == "wal"


def test_undo_and_redo_walk_back_and_forth_and_each_is_a_revision(store: Store) -> None:
    job = store.make(roof(1), "Ann").job
    for n in (2, 3, 4):
        store.save(job, n - 1, roof(n), "Ann")
    seen = []
    for deed in ("undo", "undo", "redo", "undo", "redo", "redo"):
        head = store.head(job).number
        assert getattr(store, deed)(job, head, "Ben").number == head + 1
        seen.append(now(store, job))
    assert seen == [3, 2, 3, 2, 3, 4]
    with pytest.raises(InvalidInput, match="nothing to do again"):
        store.redo(job, store.head(job).number, "Ben")


def test_an_edit_after_an_undo_ends_what_could_be_redone(store: Store) -> None:
    job = store.make(roof(1), "Ann").job
    store.save(job, 1, roof(2), "Ann")
    store.undo(job, 2, "Ann")
    store.save(job, 3, roof(3), "Ann")
    with pytest.raises(InvalidInput, match="nothing to do again"):
        store.redo(job, 4, "Ann")
    store.undo(job, 4, "Ann")
    assert now(store, job) == 1
    store.redo(job, 5, "Ann")
    assert now(store, job) == 3


def test_the_first_revision_cannot_be_undone(store: Store) -> None:
    job = store.make(roof(), "Ann").job
    with pytest.raises(InvalidInput, match="nothing to undo"):
        store.undo(job, 1, "Ann")


def test_a_restore_can_be_undone(store: Store) -> None:
    job = store.make(roof(1), "Ann").job
    store.save(job, 1, roof(2), "Ann")
    store.save(job, 2, roof(3), "Ann")
    store.restore(job, 3, 1, "Ann")
    assert now(store, job) == 1
    store.undo(job, 4, "Ann")
    assert now(store, job) == 3


def test_a_save_from_an_older_revision_is_refused_and_writes_nothing(store: Store) -> None:
    job = store.make(roof(1), "Ann").job
    store.save(job, 1, roof(2), "Ann")
    for deed in (
        lambda: store.save(job, 1, roof(9), "Ben"),
        lambda: store.undo(job, 1, "Ben"),
        lambda: store.redo(job, 1, "Ben"),
        lambda: store.restore(job, 1, 1, "Ben"),
    ):
        with pytest.raises(Behind) as late:
            deed()
        assert late.value.head.number == 2
    assert (now(store, job), store.head(job).number) == (2, 2)


@pytest.mark.parametrize("table", ["revisions", "documents", "issued"])
@pytest.mark.parametrize("deed", ["UPDATE {} SET {} = {}", "DELETE FROM {}"])
def test_the_file_itself_refuses_to_change_history(store: Store, table: str, deed: str) -> None:
    store.make(roof(), "Ann")
    store.base.execute(
        "INSERT INTO issued (job, revision, paper, at, who, worked_on, worked, hash, body) "
        "SELECT id, 1, 'p', '', '', '', '', '', x'00' FROM jobs"
    )
    column = {"revisions": "why", "documents": "body", "issued": "body"}[table]
    with pytest.raises(sqlite3.IntegrityError, match="nothing is changed or taken away"):
        store.base.execute(deed.format(table, column, column))


def test_a_copy_goes_its_own_way(store: Store) -> None:
    job = store.make(roof(1), "Ann").job
    other = store.copy(job, "Ann").job
    store.save(other, 1, roof(2), "Ann")
    assert (now(store, job), now(store, other)) == (1, 2)
    assert store.job(other).copied_from == job


def test_a_search_finds_words_of_title_client_address_and_reference(store: Store) -> None:
    store.make(roof(title="Kitchen roof", client="Mrs Ågren", reference="K-7"), "Ann")
    store.make(roof(title="Garage", client="Mr Hill", address="2 Kitchen Lane"), "Ann")
    assert [j.name for j in store.jobs("kitchen")] == ["Garage", "Kitchen roof"]
    assert [j.name for j in store.jobs("KITCHEN ågren")] == ["Kitchen roof"]
    assert store.jobs("k-8") == ()
    assert store.jobs("100%_") == ()


def test_an_archived_job_leaves_the_list_and_comes_back(store: Store) -> None:
    job = store.make(roof(), "Ann").job
    store.archive(job)
    assert (len(store.jobs()), len(store.jobs(archived=True))) == (0, 1)
    store.archive(job, False)
    assert len(store.jobs()) == 1


def test_two_desks_may_share_one_file(tmp_path: Path) -> None:
    one, other = Store(tmp_path), Store(tmp_path)
    job = one.make(roof(1), "Ann").job
    other.save(job, 1, roof(2), "Ben")
    with pytest.raises(Behind):
        one.save(job, 1, roof(3), "Ann")
    assert now(one, job) == 2


def test_a_file_that_another_program_holds_is_said_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path)
    store.base.execute("PRAGMA busy_timeout=20")
    with sqlite3.connect(tmp_path / NAME, isolation_level=None) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(InvalidInput, match=r"evenfall\.db is held by another program"):
            store.make(roof(), "Ann")
        other.execute("ROLLBACK")
    other.close()
    store.make(roof(), "Ann")


def test_a_newer_file_and_a_foreign_file_are_refused_untouched(tmp_path: Path) -> None:
    base = connect(tmp_path / "newer")
    base.execute("PRAGMA user_version=99")
    base.close()
    with pytest.raises(InvalidInput, match="update Evenfall"):
        connect(tmp_path / "newer")
    (tmp_path / "other").mkdir()
    with sqlite3.connect(tmp_path / "other" / NAME) as other:
        other.execute("CREATE TABLE mine (x)")
    other.close()
    with pytest.raises(InvalidInput, match="another program"):
        connect(tmp_path / "other")
    (tmp_path / "text").mkdir()
    (tmp_path / "text" / NAME).write_text("no database at all, but a text\n" * 99)
    with pytest.raises(InvalidInput, match="--store"):
        connect(tmp_path / "text")


@pytest.mark.parametrize(
    ("told", "platform", "found"),
    [
        ({}, "linux", "/u/.local/share/evenfall"),
        ({"XDG_DATA_HOME": "/data"}, "linux", "/data/evenfall"),
        ({}, "darwin", "/u/Library/Application Support/Evenfall"),
        ({"LOCALAPPDATA": "/app"}, "win32", "/app/Evenfall"),
        ({"EVENFALL_HOME": "/mine", "XDG_DATA_HOME": "/data"}, "linux", "/mine"),
    ],
)
def test_the_jobs_live_where_the_machine_keeps_data(
    told: dict[str, str], platform: str, found: str
) -> None:
    assert home(None, told, platform, Path("/u")).as_posix() == found
    assert home(Path("/asked"), told, platform).as_posix() == "/asked"
