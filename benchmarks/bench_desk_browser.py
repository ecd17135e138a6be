"""The desk in a real browser: from an edit to the first number that moved, and the first paint.

An edit is made by the page's own script, as its entries make it. It ends when the first number, or
the name, that the page shows reads otherwise. Its floor is the quick ``work_out`` of that edit with
what was worked before, and four empty requests from the same page; both in one run, in turns. The
verdict is of the 95th percentile against the median of the floors, options of the example left out.

The first paint of the job's page, in a browser that has kept nothing of it, is held against that of
a page with one word, from a server that does nothing else.
"""

from __future__ import annotations

import http.server
import shutil
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from statistics import median
from typing import Any

from benchmarks.bench_desk_server import EDITS, EMPTY, GOAL, KINDS, ON, Editor, judged, server
from benchmarks.timing import Figure
from playwright.sync_api import Browser, Page, sync_playwright

from evenfall.app.live.cases import Cases
from evenfall.app.live.desk import Desk
from evenfall.app.store.kept import Contents
from evenfall.flow import WorkedJob, work_out

GOAL_PAINT = 3.0
PAINTS = 9
AT_REST_MS = 60_000
BARE = b"<!doctype html><title>bare</title><p>bare"
SWITCHES = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"]

EDIT = """async change => {
  const { change: save } = await import('/static/desk.js')
  const shown = () => new Map([...document.querySelectorAll('[data-number]')].map(
    el => [el.dataset.number + (el.closest('[id]')?.id ?? ''), el.textContent]))
  const before = shown(), start = performance.now()
  const first = new Promise((done, never) => {
    setTimeout(never, 30000, new Error('no number has moved'))
    const seen = new MutationObserver(() => {
      for (const [id, text] of shown()) {
        if (before.has(id) && before.get(id) !== text) {
          seen.disconnect()
          done(performance.now() - start)
        }
      }
    })
    seen.observe(document.body, { subtree: true, childList: true, characterData: true })
  })
  await save([change], 'measured')
  return first
}"""
EMPTIES = """async often => {
  const start = performance.now()
  for (let i = 0; i < often; i++) await fetch('/api/alive')
  return performance.now() - start
}"""
AT_REST = "body:not(.stale):not(:has(.stale))"
PAINT = """() => new Promise(done => new PerformanceObserver(list => {
  const [found] = list.getEntriesByName('first-contentful-paint')
  if (found) done(found.startTime)
}).observe({ type: 'paint', buffered: true }))"""


class Bare(http.server.BaseHTTPRequestHandler):
    """A page with one word."""

    def do_GET(self) -> None:
        """Send it."""
        self.send_response(200)
        self.send_header("content-type", "text/html")
        self.send_header("content-length", str(len(BARE)))
        self.end_headers()
        self.wfile.write(BARE)

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def bare() -> Iterator[str]:
    """Serve the page with one word; give its address."""
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), Bare) as served:
        threading.Thread(target=served.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{served.server_port}/"
        served.shutdown()


def figures() -> list[Figure]:
    """Measure the four kinds of edit and the first paint; nothing where there is no browser."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        return []
    with tempfile.TemporaryDirectory() as folder, server(Path(folder)) as port, bare() as blank:
        editor = Editor(port, Editor.first(port))
        editor.edit({"path": "design.options", "value": []})
        address = f"http://127.0.0.1:{port}/job/{editor.job}"
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=path, args=SWITCHES)
            page = browser.new_page()
            page.goto(address)
            page.wait_for_selector("body.ready", timeout=AT_REST_MS)
            found = [_kind(page, editor, kind) for kind in KINDS]
            return [*found, _paint(browser, address, blank)]


def _kind(page: Page, editor: Editor, kind: str) -> Figure:
    """Edit in the page, and work the same edit out here, in turns."""
    told = editor.ask("GET", f"/api/jobs/{editor.job}")
    contents = Contents(told["document"], told["rates"])
    cases = Cases()
    stand_in: Any = type("StandIn", (), {"cases": cases})()
    base: WorkedJob | None = None
    times, floors = list[float](), list[float]()
    for n in range(1, EDITS + 2):  # the first of each kind is how the job stands
        change = KINDS[kind](n)
        contents = Desk.changed(stand_in, contents, [change])
        case = cases.make(contents, ON).case
        assert case
        page.wait_for_selector(AT_REST, timeout=AT_REST_MS)
        page.wait_for_load_state("networkidle")
        start = time.perf_counter()
        base = work_out(replace(case), base)
        worked = time.perf_counter() - start
        floors.append(worked + page.evaluate(EMPTIES, EMPTY) / 1000)
        times.append(page.evaluate(EDIT, change) / 1000)
    return judged(f"edit in the browser, {kind}", times[1:], floors[1:], GOAL)


def _paint(browser: Browser, address: str, blank: str) -> Figure:
    """Open both in turns, each time in a browser that has kept nothing."""
    times, floors = list[float](), list[float]()
    for _ in range(PAINTS + 1):
        for url, into in ((blank, floors), (address, times)):
            context = browser.new_context()
            page = context.new_page()
            page.goto(url, wait_until="commit")
            into.append(page.evaluate(PAINT) / 1000)
            context.close()
    return judged("first paint of a job", times[1:], floors[1:], GOAL_PAINT, median(times[1:]))
