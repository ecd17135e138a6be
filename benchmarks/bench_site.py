"""A day from the roof brought to the desk, against copying the same bytes.

The day has sixty records and forty photos of some 400 kB. A phone sends it over HTTP on one
connection that stays open; or the desk loads the file that a day sheet gave back. The desk owes
that all is on the disk before it acknowledges, so the floor that counts writes the same bytes to
files of their own and waits until each is on the disk. Beside it stands a copy that waits for
nothing: that is writing into memory, and no promise at all. Each day comes to a desk at rest.
"""

from __future__ import annotations

import base64
import hashlib
import http.client
import io
import json
import multiprocessing
import os
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import uvicorn
from benchmarks.timing import ROUNDS, Figure, measure
from PIL import Image

from evenfall.app.listener import listener
from evenfall.app.live.desk import Desk
from evenfall.app.site.admission import COOKIE
from evenfall.app.site.application import make_site
from evenfall.app.site.bring import bring_back
from evenfall.app.site.pairing import Pairing
from evenfall.app.site.returned import read_returned
from evenfall.app.store.kept import Contents

RECORDS, PHOTOS = 60, 40
WIDE, HIGH = 800, 600
"""Pixels of a picture of mere noise that packs to some 400 kB."""
LINES, PACK = 2, 3_000_000
"""Requests at one time, and bytes of photos in each, as the phone's page packs them."""
GOAL = 3.0
HOST = "127.0.0.1"
DEVICE = "a" * 32


Shots = dict[str, bytes]
"""Photos by their hash."""


def photos() -> list[Shots]:
    """Pictures of noise for each round: other bytes each time, as a day brings them."""
    bodies = []
    for _ in range(PHOTOS):
        file = io.BytesIO()
        Image.effect_noise((WIDE, HIGH), 90).convert("RGB").save(file, "JPEG", quality=90)
        bodies.append(file.getvalue())
    days = []
    for n in range(ROUNDS + 1):  # what stands behind the end of a picture, no camera reads
        shots = [body + n.to_bytes(2, "big") for body in bodies]
        days.append({hashlib.sha256(shot).hexdigest(): shot for shot in shots})
    return days


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
    with listener(HOST, 0) as taken:
        site = make_site(desk, pairing, (HOST,), scheme="http")
        server = uvicorn.Server(uvicorn.Config(site, log_level="error", lifespan="off"))
        thread = threading.Thread(target=server.run, args=([taken],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            yield taken.getsockname()[1], pairing
        finally:
            server.should_exit = True
            thread.join(timeout=20)


class Phone:
    """A phone in a process of its own, as it is a machine of its own; paired anew for each job."""

    def __init__(self, days: list[Shots]) -> None:
        self.days, self.round, self.jobs = days, -1, list[str]()
        self.line, far = multiprocessing.Pipe()
        self.child = multiprocessing.get_context("fork").Process(target=_sends, args=(far, days))
        self.child.start()

    def at(self, desk: Desk, port: int, pairing: Pairing) -> Callable[[], None]:
        """Give what brings one day after another to a desk."""

        def day() -> None:
            self.round += 1
            job = desk.store.make(Contents({"format": 1}), "bench").job
            self.jobs.append(job)
            token, _ = pairing.token(job)
            cookie, _ = pairing.pair(token, "bench", HOST)
            self.line.send((port, job, cookie, self.round))
            if wrong := self.line.recv():
                raise RuntimeError(wrong)

        return day

    def close(self) -> None:
        """End the process."""
        self.line.send(None)
        self.child.join(timeout=20)


def _sends(line: Any, days: list[Shots]) -> None:
    """Be the phone: bring the days that are asked for, over two connections that stay open."""
    lines: list[http.client.HTTPConnection] = []
    while told := line.recv():
        port, job, cookie, day = told
        lines = lines or [http.client.HTTPConnection(HOST, port, timeout=120) for _ in range(LINES)]
        try:
            _day(lines, job, cookie, days[day])
            line.send("")
        except Exception as error:  # told where it is measured
            line.send(repr(error))


def _day(lines: list[http.client.HTTPConnection], job: str, cookie: str, shots: Shots) -> None:
    """Bring a whole day to a new job: its records, then its photos in packs."""
    at = f"/site/api/{job}"
    sent = {"device": DEVICE, "sent_at": "2026-11-25T10:00:00Z",
            "entries": records(job, list(shots))}  # fmt: skip
    told = json.loads(_ask(lines[0], f"{at}/entries", json.dumps(sent).encode(), cookie))
    if len(told["kept"]) != RECORDS or len(told["wanted"]) != PHOTOS:
        raise RuntimeError("the day was not kept whole")

    def bring(n: int) -> None:
        for pack in packs(shots)[n::LINES]:
            head = json.dumps([[sha, len(shot)] for sha, shot in pack.items()]).encode()
            body = b"".join((head, b"\n", *pack.values()))
            told = json.loads(_ask(lines[n], f"{at}/photos", body, cookie))
            if len(told["kept"]) != len(pack):
                raise RuntimeError("the photos were not kept whole")

    with ThreadPoolExecutor(LINES) as hands:
        list(hands.map(bring, range(LINES)))


def _ask(line: http.client.HTTPConnection, path: str, body: bytes, cookie: str) -> bytes:
    """Ask, and read the whole answer."""
    head = {"content-type": "application/json", "cookie": f"{COOKIE}={cookie}"}
    line.request("POST", path, body, head)
    answer = line.getresponse()
    told = answer.read()
    if answer.status >= http.client.BAD_REQUEST:
        raise RuntimeError(f"{path}: {answer.status} {told[:200]!r}")
    return told


def packs(shots: Shots) -> list[Shots]:
    """Pack photos as a phone does."""
    found: list[Shots] = [{}]
    for sha, shot in shots.items():
        if found[-1] and sum(map(len, found[-1].values())) + len(shot) > PACK:
            found.append({})
        found[-1][sha] = shot
    return found


class Copies:
    """The floor: the same bytes written to files of their own."""

    def __init__(self, folder: Path, days: list[Shots], *, durably: bool) -> None:
        self.folder, self.days, self.durably = folder, iter(days), durably

    def day(self) -> None:
        """Write the photos of a day; ``durably`` waits until each is on the disk."""
        self.folder.mkdir(exist_ok=True)
        for sha, shot in next(self.days).items():
            with (self.folder / sha).open("wb") as file:
                file.write(shot)
                if self.durably:
                    file.flush()
                    os.fsync(file.fileno())


def figures() -> list[Figure]:
    """Measure a day, each way of bringing it against both ways of copying."""
    days = photos()
    size = sum(len(s) for s in days[0].values()) / 1e6
    what = f"{RECORDS} records, {PHOTOS} photos, {size:.1f} MB"
    found = []
    for durably in (True, False):
        said = "on the disk" if durably else "not waited for"
        for way, name in ((_synced, "a day synced"), (_loaded, "a day loaded from its file")):
            with tempfile.TemporaryDirectory() as folder:
                floor = Copies(Path(folder) / "copies", days, durably=durably)
                with way(Path(folder) / "store", days) as (work, rest):
                    name = f"{name}: {what}; copies {said}"
                    found.append(by_medians(measure(name, work, floor.day, GOAL, rest=rest)))
    return found


def by_medians(figure: Figure) -> Figure:
    """Hold median against median: a disk has its moments, and one lucky copy is no floor."""
    ratio = figure.median_ms / figure.floor_median_ms
    met = None if figure.met is None else ratio <= figure.goal
    return replace(figure, ratio=round(ratio, 3), met=met)


@contextmanager
def _synced(folder: Path, days: list[Shots]) -> Iterator[tuple[Callable[[], None], ...]]:
    phone = Phone(days)  # before this process has threads
    desk = Desk(folder)
    with serving(desk) as (port, pairing):
        yield phone.at(desk, port, pairing), lambda: _at_rest(desk, phone.jobs)
    phone.close()
    desk.close()


@contextmanager
def _loaded(folder: Path, days: list[Shots]) -> Iterator[tuple[Callable[[], None], ...]]:
    """Load the file that a day sheet gives back, made beforehand."""
    desk, job = Desk(folder), Contents({"format": 1, "job": {"reference": "BENCH"}})
    files = iter([day_file(shots, n) for n, shots in enumerate(days)])

    def load() -> None:
        made = desk.store.make(job, "bench").job
        done, _ = bring_back(desk.store, made, read_returned(next(files)), "bench")
        if (len(done.new), done.photos) != (RECORDS, PHOTOS):
            raise RuntimeError("the day was not loaded whole")

    yield load, lambda: None
    desk.close()


def _at_rest(desk: Desk, jobs: list[str]) -> None:
    """Wait until the last day is worked, which the desk does once it has taken it in."""
    run = desk.run(jobs[-1])[2]
    if run:
        run.ended.wait()


def day_file(shots: Shots, n: int) -> bytes:
    """Write what a day sheet gives back."""
    told = {
        "format": 1, "job": "BENCH", "entries": records(f"file {n}", list(shots)),
        "photos": {sha: base64.b64encode(shot).decode() for sha, shot in shots.items()},
    }  # fmt: skip
    body = json.dumps(told)
    mark = hashlib.sha256(body.encode()).hexdigest()
    return f'{{"evenfall_day":1,"checksum":"{mark}","body":\n{body}\n}}\n'.encode()
