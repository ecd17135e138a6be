"""The desk in a real browser: widths, collisions, keys, lights, no request to any other host."""

from __future__ import annotations

import itertools
import re
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect, sync_playwright

from evenfall.app.loading import load
from evenfall.app.web.desk import make_app
from evenfall.flow import WorkedJob, work_out

pytestmark = pytest.mark.browser

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("rear-extension", "garage", "courtyard")
ON = date(2026, 11, 25)
HOST = "127.0.0.1"
WIDTHS = (1920, 1440, 1024, 768, 390, 360)
LEAST_TEXT = 13
SWITCHES = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@contextmanager
def served(worked: WorkedJob) -> Iterator[str]:
    """Serve a job on a free port of this machine, in a thread."""
    with socket.socket() as listener:
        listener.bind((HOST, 0))
        config = uvicorn.Config(make_app(worked), log_level="error", lifespan="off")
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            yield f"http://{HOST}:{listener.getsockname()[1]}/"
        finally:
            server.should_exit = True
            thread.join(timeout=20)


@pytest.fixture(scope="module")
def jobs() -> dict[str, WorkedJob]:
    return {name: work_out(load(EXAMPLES / name, ON).case) for name in NAMES}


@pytest.fixture(scope="module")
def urls(jobs: dict[str, WorkedJob]) -> Iterator[dict[str, str]]:
    with served(jobs[NAMES[0]]) as a, served(jobs[NAMES[1]]) as b, served(jobs[NAMES[2]]) as c:
        yield dict(zip(NAMES, (a, b, c), strict=True))


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        yield found
        found.close()


@contextmanager
def opened(
    browser: Browser, url: str, width: int = 1440, height: int = 900, **more: Any
) -> Iterator[Page]:
    """Open a page that may ask no other host; one that tries, or complains, fails the test."""
    context = browser.new_context(viewport={"width": width, "height": height}, **more)
    asked: list[str] = []
    complaints: list[str] = []

    def gate(route: Any) -> None:
        if route.request.url.startswith(url):
            route.continue_()
        else:
            asked.append(route.request.url)
            route.abort()

    context.route("**/*", gate)
    page = context.new_page()
    page.on("console", lambda m: complaints.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda e: complaints.append(str(e)))
    page.goto(url)
    yield page
    context.close()
    assert asked == []
    assert complaints == []


OPEN_ALL = "document.querySelectorAll('details:not([name])').forEach(d => d.open = true)"
TOO_WIDE = """() => {
  const most = document.documentElement.clientWidth
  const over = document.documentElement.scrollWidth - most
  if (over <= 0) return []
  return [over, ...[...document.querySelectorAll('body *')]
    .filter(e => e.getBoundingClientRect().right > most + 1)
    .map(e => `${e.tagName} ${e.getAttribute('class')}`)]
}"""
SMALL_TEXT = """least => {
  const found = []
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  while (walk.nextNode()) {
    const at = walk.currentNode.parentElement
    if (!walk.currentNode.data.trim() || !at.checkVisibility()) continue
    if (at.closest('title, desc, sub, .mark')) continue
    const svg = at.closest('svg.drawing')
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1
    const size = parseFloat(getComputedStyle(at).fontSize) * scale
    if (size < least - 0.05) found.push(`${size.toFixed(1)} ${walk.currentNode.data.trim()}`)
  }
  return found
}"""
LETTERING = """() => [...document.querySelectorAll('.leaf text.lettering, .cutting text.lettering')]
  .filter(t => t.checkVisibility()).map(t => {
    const box = t.getBBox(), m = t.getScreenCTM(), svg = t.closest('svg')
    const corner = (x, y) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f]
    const x0 = box.x, x1 = box.x + box.width, mid = box.y + box.height / 2
    const lines = t.querySelector('tspan') ? 2 : 1
    const half = parseFloat(t.getAttribute('font-size')) * 0.36 * lines
    const ends = [[x0, mid - half], [x1, mid - half], [x1, mid + half], [x0, mid + half]]
    return {words: t.textContent, sheet: svg.querySelector('title').textContent,
      ring: ends.map(([x, y]) => corner(x, y))}
  })"""
SMALL_TARGETS = """() => [...document.querySelectorAll('main a, main summary, main label')]
  .filter(e => e.checkVisibility()).map(e => [e.textContent.trim(), e.getBoundingClientRect()])
  .filter(([, r]) => r.width < 24 || r.height < 24).map(([t, r]) => `${t} ${r.height}`)"""

Corners = list[list[float]]


def apart(one: Corners, other: Corners) -> bool:
    """Tell whether some line parts two turned rectangles."""
    for ring in (one, other):
        for (x0, y0), (x1, y1) in itertools.pairwise(ring[:3]):
            way = (y1 - y0, x0 - x1)
            a, b = ([way[0] * x + way[1] * y for x, y in r] for r in (one, other))
            if max(a) <= min(b) or max(b) <= min(a):
                return True
    return False


def collisions(page: Page) -> list[str]:
    """List pairs of lettering of one drawing that lie over one another."""
    found = page.evaluate(LETTERING)
    assert found
    return [
        f"{a['words']} over {b['words']}"
        for a, b in itertools.combinations(found, 2)
        if a["sheet"] == b["sheet"] and not apart(a["ring"], b["ring"])
    ]


def test_two_turned_rectangles_are_apart_or_not() -> None:
    square = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]
    turned = [[3.0, 0.5], [4.0, 1.5], [3.0, 2.5], [2.0, 1.5]]
    assert apart(square, turned)
    assert not apart(square, [[x - 0.4, y] for x, y in turned])


# --- widths --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_no_page_is_wider_than_its_window_nor_any_slip(
    name: str, browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls[name]) as page:
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate(TOO_WIDE) == [], width
            for key in ("price", "days", "heat", "left"):
                page.evaluate("key => document.querySelector(`#figure-${key}`).open = true", key)
                assert page.evaluate(TOO_WIDE) == [], (width, key)
                box = page.locator(f"#figure-{key} .slip").bounding_box()
                assert box is not None
                assert box["x"] >= 0, (width, key)
                assert box["x"] + box["width"] <= width, (width, key)


def test_no_page_is_wider_than_its_window_with_everything_open(
    browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["courtyard"]) as page:
        page.evaluate(OPEN_ALL)
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate(TOO_WIDE) == [], width


def test_no_text_is_smaller_than_thirteen_px(browser: Browser, urls: dict[str, str]) -> None:
    with opened(browser, urls["rear-extension"]) as page:
        for width, view in itertools.product(WIDTHS, ("found", "boards", "finished")):
            page.set_viewport_size({"width": width, "height": 900})
            page.evaluate("key => document.querySelector(`#view-${key}`).click()", view)
            assert page.evaluate(SMALL_TEXT, LEAST_TEXT) == [], (width, view)


@pytest.mark.parametrize("name", NAMES)
def test_no_lettering_of_the_plan_or_the_stick_lies_over_another(
    name: str, browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls[name]) as page:
        for width, view in itertools.product((1440, 390), ("found", "boards", "finished")):
            page.set_viewport_size({"width": width, "height": 900})
            page.evaluate("key => document.querySelector(`#view-${key}`).click()", view)
            assert collisions(page) == [], (width, view)


@pytest.mark.parametrize("width", [1440, 390])
def test_what_is_pressed_is_large_enough(
    width: int, browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["courtyard"], width) as page:
        assert page.evaluate(SMALL_TARGETS) == []


def test_a_phone_has_plan_stick_marks_and_evenings_one_under_another(
    browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["garage"], 390, 844) as page:
        tops = [
            page.locator(f"main > section.{part}").bounding_box()
            for part in ("roof", "rise", "chalk", "foot")
        ]
        ys = [box["y"] for box in tops if box]
        assert len(ys) == 4
        assert ys == sorted(ys)
        assert {box["width"] for box in tops[:3] if box} == {390 - 24}


# --- with and without script ---------------------------------------------------------------------


def test_the_views_and_the_slips_work_without_script(
    browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["garage"], java_script_enabled=False) as page:
        expect(page.locator("[data-view=finished] .w")).to_be_visible()
        page.locator("label[for=view-boards]").click()
        expect(page.locator("[data-view=boards] .w")).to_be_visible()
        expect(page.locator("[data-view=finished] .w")).to_be_hidden()
        page.locator("#figure-heat > summary").click()
        expect(page.locator("#figure-heat .slip")).to_be_visible()
        page.locator("#figure-left > summary").click()
        expect(page.locator("#figure-heat .slip")).to_be_hidden()


def test_a_light_is_kept_without_script(browser: Browser, urls: dict[str, str]) -> None:
    with opened(browser, urls["garage"], java_script_enabled=False) as page:
        page.get_by_role("link", name="dusk").click()
        expect(page.locator("html")).to_have_attribute("data-light", "dusk")
        page.reload()
        expect(page.get_by_role("link", name="dusk")).to_have_attribute("aria-current", "true")


def test_a_light_changes_without_a_load_and_is_kept(browser: Browser, urls: dict[str, str]) -> None:
    with opened(browser, urls["garage"]) as page:
        page.evaluate("window.same = true")
        page.get_by_role("link", name="sun").click()
        expect(page.locator("html")).to_have_attribute("data-light", "sun")
        assert page.evaluate("window.same")
        assert page.evaluate("getComputedStyle(document.querySelector('main')).color") == (
            "rgb(0, 0, 0)"
        )
        page.reload()
        expect(page.locator("html")).to_have_attribute("data-light", "sun")


def test_the_page_follows_a_dark_machine(browser: Browser, urls: dict[str, str]) -> None:
    with opened(browser, urls["garage"], color_scheme="dark") as page:
        ground = page.evaluate("getComputedStyle(document.querySelector('main')).backgroundColor")
        assert ground == "rgb(22, 29, 39)"


def test_keys_pull_the_roll_and_close_a_slip(browser: Browser, urls: dict[str, str]) -> None:
    with opened(browser, urls["garage"]) as page:
        page.locator("#view-finished").focus()
        page.keyboard.press("ArrowLeft")
        expect(page.locator("#view-boards")).to_be_checked()
        expect(page.locator("[data-view=boards] .w")).to_be_visible()
        page.locator("#figure-price > summary").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#figure-price .slip")).to_be_visible()
        page.keyboard.press("Escape")
        expect(page.locator("#figure-price .slip")).to_be_hidden()
        expect(page.locator("#figure-price > summary")).to_be_focused()


def test_a_mark_pressed_on_the_plan_opens_its_line_in_the_margin(
    browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["courtyard"]) as page:
        marks = page.locator("[data-view=finished] .w [data-key^='finding:']")
        key = marks.last.get_attribute("data-key") or ""
        number = key.removeprefix("finding:")
        marks.last.locator("text").last.click()
        line = page.locator(f"#mark-{number}")
        expect(line).to_be_visible()
        expect(line).to_have_class(re.compile("shown"))
        expect(line).to_be_in_viewport()


# --- what a screen reader hears ------------------------------------------------------------------


HEARD = {
    "The plan": """
- region "The plan":
  - group "Look at the roof":
    - radio "found"
    - radio "boards"
    - radio "finished" [checked]
  - figure:
    - img /Plan of Garage .* 4 corners/
""",
    "The rise stick": """
- region:
  - heading /The rise stick at the house cable/ [level=2]
  - figure:
    - img /The rise stick at .* mm are left/
  - paragraph: /governs/
  - table:
    - rowgroup:
      - row:
        - columnheader /board/
""",
    "Chalk marks": """
- region:
  - heading "Chalk marks" [level=2]
  - paragraph: /to stop for/
  - list:
    - listitem:
      - paragraph: /agree, mark 1/
""",
    "Evenings": """
- region:
  - heading "Evenings" [level=2]
  - navigation "Light":
    - link "paper"
    - link "dusk"
    - link "sun"
    - link "as this machine"
  - list:
    - listitem:
      - heading "Mon 7 Dec" [level=3]
      - img /Evening of Mon 7 Dec/
""",
    "What to order": """
- region:
  - table "Order list, in packs"
""",
}


def test_a_screen_reader_hears_head_plan_stick_marks_and_evenings(
    browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["garage"]) as page:
        for name, told in HEARD.items():
            expect(page.get_by_role("region", name=name)).to_match_aria_snapshot(told)
        heard = page.locator("main").aria_snapshot()
        assert re.search(r"£[\d,.]+ the price with VAT, show the working", heard)
        assert heard.count("- heading") >= 6


def test_print_shows_workings_but_neither_roll_nor_what_is_the_owners(
    browser: Browser, urls: dict[str, str]
) -> None:
    with opened(browser, urls["garage"]) as page:
        page.emulate_media(media="print")
        expect(page.locator(".in-print")).to_be_visible()
        expect(page.locator(".roll")).to_be_hidden()
        expect(page.locator(".owner")).to_be_hidden()
        expect(page.locator(".lights")).to_be_hidden()
        expect(page.locator("[data-view=finished] .w")).to_be_visible()
