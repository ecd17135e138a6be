"""A desk with the three examples, served on a free port; and a page that may ask no other host."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import uvicorn
from playwright.sync_api import Browser, Page

from evenfall.app.live.desk import Desk
from evenfall.app.store.bringing import bring
from evenfall.app.web.serve import make_desk

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("rear-extension", "garage", "courtyard")
ON = "2026-11-25"
HOST = "127.0.0.1"
READY = 120_000
"""Longest that a page waits for its job to be worked on a busy machine, ms."""
SWITCHES = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@contextmanager
def served(folder: Path) -> Iterator[tuple[Desk, str]]:
    """Serve a new desk on a free port of this machine, in a thread."""
    desk = Desk(folder)
    with socket.socket() as listener:
        listener.bind((HOST, 0))
        config = uvicorn.Config(make_desk(desk), log_level="error", lifespan="off")
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            yield desk, f"http://{HOST}:{listener.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join(timeout=20)
            desk.close()


def brought(desk: Desk, name: str) -> str:
    """Bring an example in as a job of its own, and begin its work."""
    kept = bring(desk.store, EXAMPLES / name, "a test", ON).revision
    _, _, run = desk.run(kept.job)
    if run:
        run.ended.wait()
    job = desk.store.make(desk.store.contents(kept), "a test", worked_on=ON).job
    mine, its = desk.worker.kept(job), desk.worker.kept(kept.job)
    mine.rooms, mine.seen, mine.beside = dict(its.rooms), dict(its.seen), dict(its.beside)
    desk.run(job)
    return job


def _complains(message: Any) -> bool:
    """Tell whether the browser complains; "asked again while the job was worked" is no fault."""
    return message.type == "error" and "503" not in message.text


@contextmanager
def opened(
    browser: Browser, url: str, width: int = 1440, height: int = 1000, *,
    quiet: bool = True, **more: Any,
) -> Iterator[Page]:  # fmt: skip
    """Open a page that may ask no other host; one that tries, or complains, fails the test."""
    context = browser.new_context(viewport={"width": width, "height": height}, **more)
    here = "/".join(url.split("/")[:3])
    asked: list[str] = []
    complaints: list[str] = []

    def gate(route: Any) -> None:
        if route.request.url.startswith(here):
            route.continue_()
        else:
            asked.append(route.request.url)
            route.abort()

    context.route("**/*", gate)
    page = context.new_page()
    page.on("console", lambda m: complaints.append(m.text) if _complains(m) else None)
    page.on("pageerror", lambda e: complaints.append(str(e)))
    page.goto(url)
    if "/job/" in url and more.get("java_script_enabled", True):
        page.wait_for_selector("body.ready", timeout=READY)
    yield page
    context.close()
    assert asked == []
    assert not quiet or complaints == []
