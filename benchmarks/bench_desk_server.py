"""The desk over HTTP: from an edit to the first number that moved, one editor and twenty.

A floor is what no desk could do without: the quick ``work_out`` of the edit with what was worked
before, and four empty requests to the same server. The options of the example are left out of it,
which makes the floor lower. The verdict is of the 95th percentile against the floor's median.
Twenty editors edit twenty jobs, each once in three seconds; their floor is one such editor.
"""

from __future__ import annotations

import http.client
import json
import re
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random
from statistics import median, quantiles
from typing import Any

from benchmarks.timing import Figure, steady

EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"
ON = date(2026, 11, 25)
EDITS = 16
"""Edits of each kind."""
EDITORS, EVERY_S, FOR_S = 20, 3.0, 30.0
GOAL, GOAL_EDITORS = 1.0, 5.0
EMPTY = 4
JSON = {"content-type": "application/json"}

Change = dict[str, Any]
KINDS: dict[str, Callable[[int], Change]] = {
    "label": lambda n: {"path": "job.title", "value": f"Roof {n}"},
    "price": lambda n: {"path": "rates.terms.margin_percent", "value": 20 + n % 9},
    "thickness": lambda n: {"path": "design.thickness_mm", "value": (140, 120, 130, 110)[n % 4]},
    "tape": lambda n: {"path": "survey.tapes[A-B].length_m", "value": 6.374 + n % 5 / 1000},
}


class Editor:
    """A program at the desk, with one connection that stays open."""

    def __init__(self, port: int, job: str) -> None:
        self.port, self.job = port, job
        self.line = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
        self.revision = self.ask("GET", f"/api/jobs/{job}")["revision"]

    @staticmethod
    def first(port: int) -> str:
        """Give the id of the first job of the list."""
        line = http.client.HTTPConnection("127.0.0.1", port)
        line.request("GET", "/api/jobs")
        return str(json.loads(line.getresponse().read())["jobs"][0]["id"])

    def ask(self, method: str, path: str, body: Any = None) -> Any:
        """Ask and read the whole answer."""
        text = None if body is None else json.dumps(body)
        try:
            self.line.request(method, path, text, JSON)
            answer = self.line.getresponse()
        except ConnectionError:  # it had rested too long
            self.line.close()
            return self.ask(method, path, body)
        content = answer.read()
        if answer.status >= http.client.BAD_REQUEST:
            raise RuntimeError(f"{method} {path}: {answer.status} {content[:300]!r}")
        return json.loads(content) if content else None

    def edit(self, change: Change, to_the_end: bool = True) -> float:
        """Save a change; seconds until the first number that moved is here."""
        start, first, revision = time.perf_counter(), 0.0, self.revision
        other = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        line = self.line if to_the_end else other
        body = json.dumps({"from": revision, "changes": [change]})
        line.request("POST", f"/api/jobs/{self.job}/edit", body, JSON)
        answer = line.getresponse()
        for text in answer:
            told = json.loads(text)
            if not first and told.get("values"):
                first = time.perf_counter() - start
            if told.get("saved"):
                self.revision = told["revision"]
            if first and self.revision > revision and not to_the_end:
                break
        other.close()
        if self.revision == revision:
            raise RuntimeError(f"not saved: {answer.status}")
        return first or time.perf_counter() - start


@contextmanager
def server(folder: Path) -> Iterator[int]:
    """Run a desk of its own; give its port."""
    words = ["desk", str(EXAMPLE), "--store", str(folder), "--port", "0", "--no-browser"]
    command = [sys.executable, "-u", "-m", "evenfall.app.cli", *words]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:(\d+)/", process.stdout.readline())
        assert found
        try:
            yield int(found[1])
        finally:
            process.terminate()


def p95(times: list[float]) -> float:
    """The time that one in twenty exceeds."""
    return quantiles(times, n=20, method="inclusive")[-1]


def judged(
    name: str, times: list[float], floors: list[float], goal: float, most: float | None = None
) -> Figure:
    """Hold the 95th percentile, or another measure of the times, against the median floor."""
    most, base = p95(times) if most is None else most, median(floors)
    met = most <= goal * base if steady(floors) or most <= goal * min(floors) else None
    ms = [round(1000 * t, 3) for t in (most, base, median(times), median(floors))]
    return Figure(name, ms[0], round(most / base, 3), ms[1], goal, met, ms[2], ms[3])


def figures() -> list[Figure]:
    """Measure the four kinds of edit, and twenty editors."""
    with tempfile.TemporaryDirectory() as folder, server(Path(folder)) as port:
        editor = Editor(port, Editor.first(port))
        editor.edit({"path": "design.options", "value": []})
        found = [_kind(editor, kind) for kind in KINDS]
        return [*found, _twenty(editor)]


def _kind(editor: Editor, kind: str) -> Figure:
    from evenfall.app.live.cases import Cases
    from evenfall.app.live.desk import Desk
    from evenfall.app.store.kept import Contents
    from evenfall.flow import work_out

    told = editor.ask("GET", f"/api/jobs/{editor.job}")
    contents = Contents(told["document"], told["rates"])
    cases = Cases()
    stand_in = type("StandIn", (), {"cases": cases, "bounded": Desk.bounded})()
    case = cases.make(contents, ON).case
    assert case
    base = work_out(case)
    times, floors = [], []
    for n in range(EDITS):
        change = KINDS[kind](n)
        contents = Desk.changed(stand_in, contents, [change])
        case = cases.make(contents, ON).case
        assert case
        start = time.perf_counter()
        for _ in range(EMPTY):
            editor.ask("GET", "/api/alive")
        base = work_out(replace(case), base)
        floors.append(time.perf_counter() - start)
        times.append(editor.edit(change))
    return judged(f"edit to first number, {kind}", times[2:], floors[2:], GOAL)


def _twenty(editor: Editor) -> Figure:
    """Twenty editors against one, the same mix of edits."""
    others = [editor.ask("POST", "/api/jobs", {"copy": editor.job})["id"] for _ in range(EDITORS)]
    for job in others:
        editor.ask("GET", f"/api/jobs/{job}/page?wait=100")
    alone: list[float] = []
    _edits(Editor(editor.port, others[0]), 0, alone, pause=False)
    times: list[float] = []
    crowd = [Editor(editor.port, job) for job in others]
    threads = [threading.Thread(target=_edits, args=(one, n, times)) for n, one in enumerate(crowd)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for one in crowd:
        listed = one.ask("GET", f"/api/jobs/{one.job}/history")["revisions"]
        if [r["number"] for r in listed] != list(range(one.revision, 0, -1)):
            raise RuntimeError("an edit was lost")
    return judged(f"{EDITORS} editors against one", times, [p95(alone)] * 2, GOAL_EDITORS)


def _edits(editor: Editor, seed: int, times: list[float], pause: bool = True) -> None:
    """Edit once in three seconds, and let the pages hear no more than the first number."""
    random = Random(seed)
    time.sleep(random.random() * EVERY_S if pause else 0)
    for n in range(round(FOR_S / EVERY_S)):
        start = time.perf_counter()
        kind = random.choice(list(KINDS))
        times.append(editor.edit(KINDS[kind](n + 1), to_the_end=False))
        time.sleep(max(0.0, EVERY_S - (time.perf_counter() - start)) if pause else 1.0)
