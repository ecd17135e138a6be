"""The phone in a real browser at phone size: the network goes, the page closes, nothing is lost."""

from __future__ import annotations

import base64
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import BrowserContext, Page, expect, sync_playwright
from tests.app.desks import HOST, READY, SWITCHES, brought
from tests.app.roof_entries import ANN, BEN, hash_of, jpeg, reading

from evenfall.app.live.desk import Desk
from evenfall.app.site.application import make_site
from evenfall.app.site.keeping import keep
from evenfall.app.site.pairing import Pairing
from evenfall.app.store.logged import log_of
from evenfall.app.store.shelves import photo_file

pytestmark = pytest.mark.browser

PHONE = {"width": 390, "height": 844}
ADD = """async ([job, entry, photo]) => {
  const { outbox } = await import('/site/static/outbox.js')
  const box = outbox()
  await box.open(job)
  const blobs = {}
  if (photo) {
    const bytes = Uint8Array.from(atob(photo), c => c.charCodeAt(0))
    const blob = new Blob([bytes], { type: 'image/jpeg' })
    const hash = await crypto.subtle.digest('SHA-256', await blob.arrayBuffer())
    const sha = [...new Uint8Array(hash)].map(b => b.toString(16).padStart(2, '0')).join('')
    blobs[sha] = blob
    entry.photos = [sha]
  }
  try { await box.add(entry, blobs) } catch (error) { return error.message }
  return 'kept'
}"""


@dataclass
class Roof:
    """A desk that shares one job, which can go away and come back."""

    desk: Desk
    job: str
    url: str
    token: str

    def ids(self) -> set[str]:
        head = self.desk.store.head(self.job)
        log = log_of(self.desk.store.contents(head).document)
        return {e["id"] for e in log if e["kind"] != "clock"}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    found = Desk(tmp_path_factory.mktemp("desk"))
    yield found
    found.close()


@contextmanager
def serving(desk: Desk, job: str) -> Iterator[Roof]:
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
            url = f"http://{HOST}:{listener.getsockname()[1]}/site/"
            yield Roof(desk, job, url, pairing.token(job)[0])
        finally:
            server.should_exit = True
            thread.join(timeout=20)


@pytest.fixture(scope="module")
def roof(desk: Desk) -> Iterator[Roof]:
    with serving(desk, brought(desk, "garage")) as found:
        yield found


@pytest.fixture(scope="module")
def phone(chromium: str, roof: Roof, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """A phone that is paired; what it keeps lies in a folder of its own."""
    with sync_playwright() as playwright:
        context = playwright.chromium.launch_persistent_context(
            str(tmp_path_factory.mktemp("phone")), executable_path=chromium, args=SWITCHES,
            viewport=PHONE, has_touch=True,
        )  # fmt: skip
        page = context.new_page()
        page.goto(f"{roof.url}pair#{roof.token}")
        assert roof.token not in page.url
        page.get_by_label("What shall the phone be called?").fill("Ann's phone")
        page.get_by_role("button", name="Pair this phone").click()
        expect(page.locator("#sync")).to_have_attribute("data-state", "sent", timeout=READY)
        expect(page.locator("body")).to_have_attribute("data-offline", "yes", timeout=READY)
        page.close()
        yield context
        context.close()


def opened(context: BrowserContext, roof: Roof, state: str) -> Page:
    page = context.new_page()
    page.goto(roof.url)
    expect(page.locator("#sync")).to_have_attribute("data-state", state, timeout=READY)
    return page


def test_a_day_without_a_network_is_kept_through_closing_and_arrives_once(
    phone: BrowserContext, roof: Roof
) -> None:
    first, second = reading(ANN, 101), reading(ANN, 102)
    phone.set_offline(True)
    page = opened(phone, roof, "away")
    assert page.evaluate(ADD, [roof.job, first, None]) == "kept"
    expect(page.locator("#sync")).to_contain_text("1 kept here, not yet sent")
    page.close()
    page = opened(phone, roof, "away")
    assert page.evaluate(ADD, [roof.job, second, None]) == "kept"
    expect(page.locator("#sync")).to_have_attribute("data-waiting", "2")
    assert roof.ids().isdisjoint({first["id"], second["id"]})
    page.close()
    phone.set_offline(False)
    page = opened(phone, roof, "sent")
    expect(page.locator("#sync")).to_have_attribute("data-waiting", "0")
    assert {first["id"], second["id"]} <= roof.ids()
    head = roof.desk.store.head(roof.job).number
    page.close()
    page = opened(phone, roof, "sent")
    assert roof.desk.store.head(roof.job).number == head
    page.close()


def test_what_another_phone_brought_is_seen_here(phone: BrowserContext, roof: Roof) -> None:
    other = reading(BEN, 201)
    keep(roof.desk.store, roof.job, [other], by="Ben's phone")
    page = opened(phone, roof, "sent")
    known = """async job => {
      const { outbox } = await import('/site/static/outbox.js')
      const box = outbox()
      await box.open(job)
      return (await box.all()).map(i => i.id)
    }"""
    assert other["id"] in page.evaluate(known, roof.job)
    page.close()


FILL = """() => {
  const { put } = IDBObjectStore.prototype
  IDBObjectStore.prototype.put = function (value, ...more) {
    if (value && value.blob) throw new DOMException('no room', 'QuotaExceededError')
    return put.call(this, value, ...more)
  }
}"""
"""The browser's own way to lower the quota is taken, and has no effect on IndexedDB; so the store
itself says that it is full."""


def test_a_full_phone_says_so_and_keeps_nothing_by_half(phone: BrowserContext, roof: Roof) -> None:
    phone.set_offline(True)
    page = opened(phone, roof, "away")
    page.evaluate(FILL)
    entry, photo = reading(ANN, 301), base64.b64encode(jpeg()).decode()
    said = page.evaluate(ADD, [roof.job, dict(entry), photo])
    assert said.startswith("This phone is full, so nothing of this record was kept.")
    assert page.locator("#sync").get_attribute("data-waiting") == "0"
    assert page.evaluate(ADD, [roof.job, entry, None]) == "kept"
    page.close()
    phone.set_offline(False)
    opened(phone, roof, "sent").close()
    assert entry["id"] in roof.ids()


def test_a_photo_kept_without_a_network_arrives_whole(phone: BrowserContext, roof: Roof) -> None:
    body = jpeg(3, 300, 200)
    phone.set_offline(True)
    page = opened(phone, roof, "away")
    assert page.evaluate(ADD, [roof.job, reading(ANN, 302), base64.b64encode(body).decode()]) == (
        "kept"
    )
    expect(page.locator("#sync")).to_have_attribute("data-waiting", "2")
    page.close()
    phone.set_offline(False)
    page = opened(phone, roof, "sent")
    expect(page.locator("#sync")).to_have_attribute("data-waiting", "0")
    page.close()
    assert photo_file(roof.desk.store, hash_of(body))[0].read_bytes() == body


def test_a_photo_too_large_to_send_is_refused_in_plain_words(
    phone: BrowserContext, roof: Roof
) -> None:
    page = opened(phone, roof, "sent")
    said = page.evaluate(
        """async ([job, entry]) => {
          const { outbox } = await import('/site/static/outbox.js')
          const box = outbox()
          await box.open(job)
          return box.add(entry, { x: new Blob([new Uint8Array(100e6)]) }).catch(e => e.message)
        }""",
        [roof.job, reading(ANN, 401)],
    )
    assert said.startswith("That photo has 100 MB; at most 12 MB can be sent.")
    page.close()
