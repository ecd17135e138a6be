"""Kill -9 of the desk in the middle of a sync: what it acknowledged is there, the rest comes again.

One phone syncs over HTTP, batch after batch and photo after photo; the desk is killed at a moment
that chance decides, started again on the same folder, and the phone goes on.
"""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from random import Random
from typing import Any

import httpx2 as httpx
import pytest
from tests.app.roof_entries import ANN, hash_of, id_of, jpeg, reading

from evenfall.app.site.admission import COOKIE
from evenfall.app.store import shelves
from evenfall.app.store.logged import log_of
from evenfall.app.store.store import Store

CHILD = Path(__file__).with_name("site_child.py")
RECORDS, PHOTOS = 24, 8
MANY, HALF = 1, 0.5
RUNS = [pytest.param(n, marks=[pytest.mark.long] if n >= MANY else []) for n in range(30)]


@contextmanager
def serving(folder: Path, most: int = 0) -> Iterator[tuple[Any, str, str, str]]:
    """A desk in a process of its own: the process, where it answers, its job, a token."""
    command = [sys.executable, str(CHILD), str(folder), "0", str(most)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        try:
            port, job, token = child.stdout.readline().split()
            yield child, f"http://127.0.0.1:{port}/site/", job, token
        finally:
            child.kill()


class OnRoof:
    """A phone that keeps what was not acknowledged, and tries again."""

    def __init__(self) -> None:
        photos = [jpeg(n, 60, 40) for n in range(1, PHOTOS + 1)]
        self.photos = {hash_of(p): p for p in photos}
        shas = list(self.photos)
        self.entries = {
            e["id"]: e
            for n in range(1, RECORDS + 1)
            for e in [reading(ANN, n, photos=shas[n - 1 : n])]
        }
        self.kept: set[str] = set()
        self.kept_photos: set[str] = set()
        self.cookie = ""

    def pair(self, url: str, token: str) -> None:
        answer = httpx.post(f"{url}pair", json={"token": token}, trust_env=False)
        self.cookie = answer.headers["set-cookie"].split("=")[1].split(";")[0]

    def sync(self, url: str, job: str, chance: Random) -> None:
        """Send all that is not acknowledged, in small parts."""
        head = {"cookie": f"{COOKIE}={self.cookie}"}
        with httpx.Client(headers=head, trust_env=False, timeout=20) as line:
            left = [e for i, e in self.entries.items() if i not in self.kept]
            chance.shuffle(left)
            parts = [left[n : n + 3] for n in range(0, len(left), 3)]
            photos = [s for s in self.photos if s not in self.kept_photos]
            for n in range(max(len(parts), len(photos))):
                for part in parts[n : n + 1]:
                    body = {"device": ANN, "sent_at": "2026-11-25T10:00:00Z", "entries": part}
                    answer = line.post(f"{url}api/{job}/entries", json=body)
                    self.kept |= set(answer.raise_for_status().json()["kept"])
                if chance.random() < HALF:  # packed, as a phone of now sends them
                    self.pack(line, f"{url}api/{job}/photos", photos[n : n + 1] + photos[-1:])
                    continue
                for sha in photos[n : n + 1]:
                    answer = line.put(f"{url}api/{job}/photos/{sha}", content=self.photos[sha])
                    answer.raise_for_status()
                    self.kept_photos.add(sha)

    def pack(self, line: httpx.Client, at: str, shas: list[str]) -> None:
        """Send photos in one request."""
        some = [(s, self.photos[s]) for s in dict.fromkeys(shas)]
        told = json.dumps([[s, len(p)] for s, p in some]).encode()
        answer = line.post(at, content=b"\n".join((told, b"".join(p for _, p in some))))
        self.kept_photos |= set(answer.raise_for_status().json()["kept"])


def is_there(folder: Path, job: str, phone: OnRoof) -> None:
    """All that was acknowledged is on the disk, whole, and once."""
    store = Store(folder)
    assert store.base.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    log = [e for e in log_of(store.contents(store.head(job)).document) if e["kind"] != "clock"]
    ids = [e["id"] for e in log]
    assert phone.kept <= set(ids)
    assert len(ids) == len(set(ids))
    assert all(e["value"] == phone.entries[e["id"]]["value"] for e in log)
    for sha in phone.kept_photos:
        assert shelves.photo_file(store, sha)[0].read_bytes() == phone.photos[sha]
    store.close()


@pytest.mark.parametrize("seed", RUNS)
def test_a_desk_killed_in_a_sync_has_all_that_it_acknowledged(tmp_path: Path, seed: int) -> None:
    chance, phone = Random(seed), OnRoof()
    for _ in range(2 if seed else 1):  # a desk takes seconds to start
        with serving(tmp_path) as (child, url, job, token):
            if not phone.cookie:
                phone.pair(url, token)
            kill = threading.Timer(chance.random() * 0.4, child.kill)
            kill.start()
            with suppress(httpx.TransportError):  # killed while it was asked
                phone.sync(url, job, chance)
            kill.join()
            child.wait()
        is_there(tmp_path, job, phone)
    with serving(tmp_path) as (_, url, job, _):
        phone.sync(url, job, chance)
    assert phone.kept == {id_of(ANN, n) for n in range(1, RECORDS + 1)}
    assert phone.kept_photos == set(phone.photos)
    is_there(tmp_path, job, phone)
