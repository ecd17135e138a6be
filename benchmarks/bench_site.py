"""A day from the roof brought to the desk, against copying the same bytes.

The day has sixty records and forty photos of some 400 kB; a phone sends it over HTTP on one
connection that stays open. The floor writes the same bytes to files of their own and waits until
each is on the disk, because that is what the desk owes before it acknowledges.
"""

from __future__ import annotations

import hashlib
import http.client
import io
import json
import os
import socket
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import uvicorn
from benchmarks.timing import Figure, measure
from PIL import Image

from evenfall.app.live.desk import Desk
from evenfall.app.site.admission import COOKIE
from evenfall.app.site.application import make_site
from evenfall.app.site.pairing import Pairing
from evenfall.app.store.kept import Contents

RECORDS, PHOTOS = 60, 40
WIDE, HIGH = 800, 600
"""Pixels of a picture of mere noise that packs to some 400 kB."""
GOAL = 3.0
HOST = "127.0.0.1"
DEVICE = "a" * 32


def photos() -> dict[str, bytes]:
    """Pictures of noise, by their hash."""
    found = {}
    for _ in range(PHOTOS):
        file = io.BytesIO()
        Image.effect_noise((WIDE, HIGH), 90).convert("RGB").save(file, "JPEG", quality=90)
        body = file.getvalue()
        found[hashlib.sha256(body).hexdigest()] = body
    return found


def records(job: str, shas: list[str]) -> list[dict[str, Any]]:
    """Readings of a day; forty of them with a photo."""
    return [
        {"id": hashlib.sha256(f"{job}/{n}".encode()).hexdigest()[:32], "device": DEVICE, "n": n,
         "at": "2026-11-25T10:00:00Z", "who": "Ann", "kind": "reading", "what": "moisture",
         "value": 12.5 + n / 10, "unit": "%", "name": f"joist-{n}", "photos": shas[n - 1 : n]}
        for n in range(1, RECORDS + 1)
    ]  # fmt: skip


@contextmanager
def serving(desk: Desk) -> Iterator[tuple[int, Pairing]]:
    """Serve the shared address on a free port."""
    pairing = Pairing(desk.store)
    with socket.socket() as listener:
        listener.bind((HOST, 0))
        site = make_site(desk, pairing, (HOST,), scheme="http")
        server = uvicorn.Server(uvicorn.Config(site, log_level="error", lifespan="off"))
        thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            yield listener.getsockname()[1], pairing
        finally:
            server.should_exit = True
            thread.join(timeout=20)


class Phone:
    """A phone on one connection, paired anew for each job."""

    def __init__(self, desk: Desk, port: int, pairing: Pairing, shots: dict[str, bytes]) -> None:
        self.desk, self.pairing, self.shots = desk, pairing, shots
        self.line = http.client.HTTPConnection(HOST, port, timeout=120)

    def ask(self, method: str, path: str, body: bytes, cookie: str) -> bytes:
        """Ask, and read the whole answer."""
        head = {"content-type": "application/json", "cookie": f"{COOKIE}={cookie}"}
        self.line.request(method, path, body, head)
        answer = self.line.getresponse()
        told = answer.read()
        if answer.status >= http.client.BAD_REQUEST:
            raise RuntimeError(f"{method} {path}: {answer.status} {told[:200]!r}")
        return told

    def begin(self) -> None:
        """Make a job and pair with it; not part of the figure."""
        self.job = self.desk.store.make(Contents({"format": 1}), "bench").job
        token, _ = self.pairing.token(self.job)
        self.cookie, _ = self.pairing.pair(token, "bench", HOST)

    def day(self) -> None:
        """Bring a whole day to a new job."""
        self.begin()
        entries = records(self.job, list(self.shots))
        body = {"device": DEVICE, "sent_at": "2026-11-25T10:00:00Z", "entries": entries}
        at = f"/site/api/{self.job}"
        told = json.loads(self.ask("POST", f"{at}/entries", json.dumps(body).encode(), self.cookie))
        if len(told["kept"]) != RECORDS or len(told["wanted"]) != PHOTOS:
            raise RuntimeError("the day was not kept whole")
        for sha, shot in self.shots.items():
            self.ask("PUT", f"{at}/photos/{sha}", shot, self.cookie)


def copied(shots: dict[str, bytes], folder: Path) -> None:
    """Write the same bytes, each file on the disk."""
    for sha, shot in shots.items():
        with (folder / sha).open("wb") as file:
            file.write(shot)
            file.flush()
            os.fsync(file.fileno())


def figures() -> list[Figure]:
    """Measure a day."""
    shots = photos()
    with tempfile.TemporaryDirectory() as folder:
        desk, copies = Desk(Path(folder) / "store"), Path(folder) / "copies"
        copies.mkdir()
        with serving(desk) as (port, pairing):
            phone = Phone(desk, port, pairing, shots)
            size = sum(len(s) for s in shots.values()) / 1e6
            name = f"a day: {RECORDS} records, {PHOTOS} photos, {size:.1f} MB"
            found = measure(name, phone.day, lambda: copied(shots, copies), GOAL)
        desk.close()
    return [found]
