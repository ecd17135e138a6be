"""The day on a paired telephone in a browser: written without a network, sent when it is back."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect, sync_playwright

from evenfall.app.live.desk import Desk
from evenfall.app.site.sharing import Sharing
from evenfall.app.store.logged import log_of

pytestmark = pytest.mark.browser

HERE = "127.0.0.1"
SWITCHES = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
    "--ignore-certificate-errors",  # here nobody has installed the desk's certificate
]  # fmt: skip
LONG_MS = 60_000  # the first work of a job, on a machine that does much else


@pytest.fixture
def sharing(shared_desk: Desk) -> Iterator[Sharing]:
    found = Sharing(shared_desk)
    found.start(HERE)
    yield found
    found.stop()


@pytest.fixture
def phone(chromium: str, sharing: Sharing) -> Iterator[Page]:
    """A telephone that is put away before the sharing ends."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True,
                                      is_mobile=True, ignore_https_errors=True)  # fmt: skip
        yield context.new_page()
        browser.close()


def frost(page: Page) -> None:
    """Write down the weather of a cold morning."""
    page.get_by_role("button", name="Weather seen", exact=True).click()
    for answer in ("morning", "frost", "calm"):
        page.locator("#screen .row", has_text=re.compile(answer, re.IGNORECASE)).first.click()
    for key in ("3", "minus", "Keep"):
        page.get_by_role("button", name=key, exact=True).click()


def log(desk: Desk, job: str) -> list[dict[str, Any]]:
    """What the desk has of the roof."""
    return log_of(desk.store.contents(desk.store.head(job)).document)


def test_what_is_written_without_a_network_reaches_the_desk_when_it_is_back(
    phone: Page, sharing: Sharing, shared_desk: Desk, copied: Callable[[], str]
) -> None:
    job = copied()
    token, _ = sharing.pairing.token(job)
    phone.goto(f"{sharing.url}pair#{token}")
    phone.locator("input").first.fill("Sam's telephone")
    phone.get_by_role("button").first.click()
    phone.get_by_label("Your name, as it stands under each record").fill("Sam", timeout=LONG_MS)
    phone.get_by_role("button", name="That is me").click()
    expect(phone.locator("body")).to_have_attribute("data-offline", "yes", timeout=LONG_MS)

    phone.context.set_offline(True)
    phone.reload()
    frost(phone)
    expect(phone.locator("#foot .count")).to_have_text("1", timeout=LONG_MS)
    phone.reload()
    expect(phone.locator("#foot .count")).to_have_text("1", timeout=LONG_MS)
    assert log(shared_desk, job) == []

    phone.context.set_offline(False)
    phone.reload()
    expect(phone.locator("#sync")).to_have_attribute("data-waiting", "0", timeout=LONG_MS)
    expect(phone.locator("#foot .count")).to_have_count(0, timeout=LONG_MS)
    kept = [e for e in log(shared_desk, job) if e["kind"] == "weather"]
    assert [(e["sky"], e["air_c"]) for e in kept] == [("frost", -3)]
