"""Whatever phones and desk do, and what breaks off: nothing acknowledged is lost, all end equal.

A model of phones (what each wrote, what was acknowledged to it) beside a real store in a folder.
An answer may be lost on its way, a batch come twice, a part of it days later; the desk is killed as
a process is, its folder copied with the log unmerged; the owner edits and undoes meanwhile.
"""

from __future__ import annotations

import shutil
import tempfile
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule
from tests.app.roof_entries import ANN, BEN, reading

from evenfall.app.site.keeping import keep
from evenfall.app.store.kept import Contents
from evenfall.app.store.logged import digest, log_of
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput

CARL = "c" * 32
DEVICES = (ANN, BEN, CARL)
Entry = dict[str, Any]


class Phone:
    """What a phone keeps: all that it knows, and what was not acknowledged yet."""

    def __init__(self, device: str, ahead_s: float) -> None:
        self.device, self.ahead_s = device, ahead_s
        self.known: dict[str, Entry] = {}
        self.left: list[str] = []
        self.written = 0

    def write(self) -> None:
        self.written += 1
        entry = reading(self.device, self.written, value=self.written / 4)
        self.known[entry["id"]] = entry
        self.left.append(entry["id"])

    def send(self, site: Roof, ids: list[str], *, heard: bool = True) -> None:
        sent = [self.known[i] for i in ids]
        done = keep(site.store, site.job, sent, by=self.device, device=self.device,
                    ahead_s=self.ahead_s)  # fmt: skip
        assert done.refused == ()
        if heard:
            site.acknowledged |= set(done.kept)
            self.left = [i for i in self.left if i not in done.kept]

    def fetch(self, site: Roof) -> None:
        log = {e["id"]: e for e in site.log()}
        if digest(self.known) != digest(log):
            self.known |= log


class Roof:
    """A store with one job, three phones, and what was acknowledged to any of them."""

    def __init__(self, folder: Path, ahead: tuple[float, ...] = (0, 3600, -90)) -> None:
        self.folder, self.store = folder, Store(folder)
        self.job = self.store.make(Contents({"format": 1, "n": 0}), "law").job
        self.phones = [Phone(d, a) for d, a in zip(DEVICES, ahead, strict=True)]
        self.acknowledged: set[str] = set()

    def log(self) -> list[Entry]:
        return log_of(self.store.contents(self.store.head(self.job)).document)

    def edit(self) -> None:
        head = self.store.head(self.job)
        document = {**self.store.contents(head).document, "n": head.number}
        self.store.save(self.job, head.number, Contents(document), "owner")

    def back(self, deed: str) -> None:
        with suppress(InvalidInput):  # nothing to take back
            getattr(self.store, deed)(self.job, self.store.head(self.job).number, "owner")

    def kill(self) -> None:
        copied = Path(tempfile.mkdtemp())
        shutil.copytree(self.folder, copied, dirs_exist_ok=True)
        self.store.close()
        shutil.rmtree(self.folder)
        self.folder, self.store = copied, Store(copied)

    def end(self) -> None:
        """Everybody comes back once: all send what is left, then all fetch."""
        for phone in self.phones:
            phone.send(self, list(phone.left))
        for phone in self.phones:
            phone.fetch(self)

    def sides_are_equal(self) -> None:
        log = {e["id"]: e for e in self.log()}
        for phone in self.phones:
            assert phone.left == []
            assert set(phone.known) == set(log)
            assert all(phone.known[i]["at"] == log[i]["at"] for i in log)
            assert phone.known.keys() == log.keys()
        mine = [e for e in log.values() if e["kind"] == "reading"]
        assert len(mine) == sum(p.written for p in self.phones)
        assert {e["id"]: e["value"] for e in mine} == {
            i: e["value"] for p in self.phones for i, e in p.known.items() if e["kind"] == "reading"
        }

    def close(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)


class SyncMachine(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.roof = Roof(Path(tempfile.mkdtemp()))

    def teardown(self) -> None:
        self.roof.end()
        self.roof.sides_are_equal()
        self.roof.close()

    @rule(who=st.integers(0, 2))
    def write(self, who: int) -> None:
        self.roof.phones[who].write()

    @rule(who=st.integers(0, 2), heard=st.booleans(), data=st.data())
    def send(self, who: int, heard: bool, data: st.DataObject) -> None:
        phone = self.roof.phones[who]
        if phone.left:
            part = data.draw(st.lists(st.sampled_from(phone.left), max_size=6))
            phone.send(self.roof, part, heard=heard)

    @rule(who=st.integers(0, 2), data=st.data())
    def send_again(self, who: int, data: st.DataObject) -> None:
        """A batch of days ago, sent once more."""
        phone = self.roof.phones[who]
        own = [i for i, e in phone.known.items() if e["device"] == phone.device]
        if own:
            phone.send(self.roof, data.draw(st.lists(st.sampled_from(own), max_size=6)))

    @rule(who=st.integers(0, 2))
    def fetch(self, who: int) -> None:
        self.roof.phones[who].fetch(self.roof)

    @rule(deed=st.sampled_from(("edit", "undo", "redo")))
    def owner(self, deed: str) -> None:
        if deed == "edit":
            self.roof.edit()
        else:
            self.roof.back(deed)

    @rule()
    def kill(self) -> None:
        self.roof.kill()

    @invariant()
    def nothing_acknowledged_is_lost(self) -> None:
        ids = [e["id"] for e in self.roof.log()]
        assert self.roof.acknowledged <= set(ids)
        assert len(ids) == len(set(ids))
        assert ids == sorted(ids)


SyncMachine.TestCase.settings = settings(max_examples=6, stateful_step_count=20)
test_record_sync_kill_and_restart_agree_with_a_plain_model = SyncMachine.TestCase


def history(folder: Path, seed: int) -> None:
    """One random history of three phones and an owner, to its end."""
    chance = Random(seed)
    roof = Roof(folder, (chance.uniform(-9, 9), chance.uniform(-1e5, 1e5), 3600.0))
    for _ in range(chance.randrange(5, 40)):
        phone, deed = chance.choice(roof.phones), chance.random()
        if deed < 0.45:
            phone.write()
        elif deed < 0.75:
            part = chance.choices(list(phone.left), k=chance.randrange(4)) if phone.left else []
            phone.send(roof, part, heard=chance.random() < 0.7)
        elif deed < 0.85:
            phone.fetch(roof)
        elif deed < 0.95:
            roof.edit() if chance.random() < 0.5 else roof.back(chance.choice(("undo", "redo")))
        else:
            roof.kill()
    roof.end()
    assert roof.acknowledged <= {e["id"] for e in roof.log()}
    roof.sides_are_equal()
    roof.close()


def histories(folder: Path, seeds: range) -> None:
    for seed in seeds:
        history(folder / str(seed), seed)


def test_random_histories_end_equal_on_all_sides(tmp_path: Path) -> None:
    histories(tmp_path, range(12))


@pytest.mark.long
def test_a_thousand_random_histories_end_equal_on_all_sides(tmp_path: Path) -> None:
    histories(tmp_path, range(1000))
