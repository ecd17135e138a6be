"""Walking a roof, the first call and the list of jobs in a real browser, at laptop and phone."""

from __future__ import annotations

import base64
import re
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect, sync_playwright

from evenfall.app.live.desk import Desk
from evenfall.app.store.bringing import bring
from evenfall.app.web.serve import make_desk
from evenfall.flow import DRAWINGS, PAPERS

pytestmark = pytest.mark.browser

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
HOST = "127.0.0.1"
PHONE, LAPTOP = (390, 844), (1440, 900)
SWITCHES = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
ONE_PIXEL = (
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwAD"
    "hgGAWjR9awAAAABJRU5ErkJggg=="
)
RING = {
    "A-B": "6.374", "B-C": "3.047", "C-D": "2.774", "D-E": "2.525", "E-F": "3.636", "F-A": "5.604",
    "A-C": "7.091", "B-D": "4.115", "A-D": "4.746", "A-E": "6.653", "D-F": "4.452", "B-F": "8.506",
}  # fmt: skip
"""The tapes of the rear extension, house wall first."""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    found = Desk(tmp_path_factory.mktemp("walk"), lambda: ON)
    yield found
    found.close()


@pytest.fixture(scope="module")
def url(desk: Desk) -> Iterator[str]:
    with socket.socket() as listener:
        listener.bind((HOST, 0))
        config = uvicorn.Config(make_desk(desk), log_level="error", lifespan="off",
                                timeout_graceful_shutdown=1)  # fmt: skip
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield f"http://{HOST}:{listener.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=20)


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        yield found
        found.close()


@contextmanager
def opened(browser: Browser, url: str, size: tuple[int, int], **more: Any) -> Iterator[Page]:
    """Open a page that may ask no other host; one that complains fails the test."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, **more)
    asked, complaints = list[str](), list[str]()
    base = "/".join(url.split("/")[:3])

    def gate(route: Any) -> None:
        if route.request.url.startswith(base):
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


class Hand:
    """Somebody who walks a roof, and counts what he enters."""

    def __init__(self, page: Page) -> None:
        self.page, self.entries, self.asked = page, 0, list[str]()

    def saved(self, does: Callable[[], None]) -> None:
        """Do something that is saved, and wait until the page shows what follows."""
        before = self.page.evaluate("document.body.dataset.revision")
        does()
        expect(self.page.locator("body")).not_to_have_attribute(
            "data-revision", before, timeout=30_000
        )
        self.entries += 1

    def call(self, number: str, pressed: bool = False) -> None:
        """Call a number, by keys or by touch."""
        self.asked.append(self.question)
        for sign in number:
            if pressed:
                name = "point" if sign == "." else sign
                self.page.get_by_role("button", name=name, exact=True).click()
            else:
                self.page.keyboard.press("Space" if sign == " " else sign)
        self.saved(self.page.locator("#taped").click)

    def pick(self, name: str) -> None:
        """Press one of the answers."""
        self.asked.append(self.question)
        button = self.page.locator("#hand .picks").get_by_role("button", name=name, exact=True)
        self.saved(button.click)

    @property
    def question(self) -> str:
        """What is asked now."""
        what = self.page.locator(".call .what")
        return " ".join(what.inner_text().split()) if what.count() else "shape"

    @property
    def between(self) -> str:
        """The tape that is asked for."""
        found = re.match(r"(\w+) to (\w+)", self.question)
        assert found, self.question
        return f"{found[1]}-{found[2]}"

    def answer(self, row: str, value: str) -> None:
        """Choose a line of the list and answer it."""
        self.page.locator("#list .known button", has_text=row).first.click()
        if self.page.locator("#entry").count():
            self.asked.append(row)
            self.page.locator("#entry").fill(value)
            self.saved(self.page.locator(".entry .go").click)
        elif self.page.locator("#hand .picks").count():
            self.pick(value)
        else:
            self.call(value)

    def tab(self, name: str) -> None:
        self.page.locator("#tabs").get_by_role("button", name=name, exact=True).click()


def begun(page: Page, shape: str) -> Hand:
    page.get_by_role("button", name="a new roof").click()
    page.wait_for_selector(".shapes")
    hand = Hand(page)
    hand.pick(shape)
    return hand


TOO_WIDE = """() => {
  const most = document.documentElement.clientWidth
  if (document.documentElement.scrollWidth <= most) return []
  return [...document.querySelectorAll('body *')]
    .filter(e => e.getBoundingClientRect().right > most + 1 && !e.closest('svg'))
    .map(e => `${e.tagName} ${e.className} ${e.textContent.slice(0, 30)}`)
}"""
SMALL_TEXT = """least => {
  const found = []
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  while (walk.nextNode()) {
    const at = walk.currentNode.parentElement
    if (!walk.currentNode.data.trim() || !at.checkVisibility() || at.closest('noscript')) continue
    const size = parseFloat(getComputedStyle(at).fontSize)
    if (size < least - 0.05) found.push(`${size} ${walk.currentNode.data.trim()}`)
  }
  return found
}"""
TARGETS = """least => [...document.querySelectorAll('button, a, summary, label.pick, .kinds label')]
  .filter(e => e.checkVisibility() && !e.closest('.away'))
  .map(e => [e.textContent.trim(), e.getBoundingClientRect()])
  .filter(([, r]) => r.height < least - 0.5 || r.width < 24).map(([t, r]) => `${t} ${r.height}`)"""
LETTERING = """() => [...document.querySelectorAll('#plan text')].map(t => {
  const r = t.getBoundingClientRect()
  return [t.textContent, r.left + 3, r.top + 4, r.right - 3, r.bottom - 4]
})"""


def collisions(page: Page) -> list[str]:
    found = page.evaluate(LETTERING)
    return [
        f"{a[0]} over {b[0]}"
        for i, a in enumerate(found)
        for b in found[i + 1 :]
        if a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4]
    ]


# --- reading what was called ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("3.45", "m", 3.45), ("3450", "m", 3.45), ("3 m 45", "m", 3.45), ("3m45", "m", 3.45),
        ("3 m 450", "m", 3.45), ("345 cm", "m", 3.45), ("3,45", "m", 3.45), ("3.45 m", "m", 3.45),
        ("62", "m", 62), ("364", "mm", 364), ("0.364", "mm", 364), ("36.4 cm", "mm", 364),
        ("12.5", "mm", 12.5), ("-40", "mm", -40), ("1:40", "", 40), ("20 °C", "°C", 20),
    ],
)  # fmt: skip
def test_a_number_is_read_as_a_roofer_calls_it(
    typed: str, unit: str, value: float, reader: Callable[[str, str], dict[str, Any]]
) -> None:
    found = reader(typed, unit)
    assert "ask" not in found
    assert found["value"] == value


@pytest.mark.parametrize(("typed", "value"), [("6'2\"", 1.88), ("6 ft", 1.829), ("20'", 6.096)])
def test_feet_are_asked_about(
    typed: str, value: float, reader: Callable[[str, str], dict[str, Any]]
) -> None:
    found = reader(typed, "m")
    assert "feet" in found["ask"]
    assert found["value"] == value


@pytest.mark.parametrize("typed", ["", "about 3", "3.4.5", "m"])
def test_what_is_no_number_is_said_so(
    typed: str, reader: Callable[[str, str], dict[str, Any]]
) -> None:
    assert "wrong" in reader(typed, "m")


@pytest.fixture(scope="module")
def reader(browser: Browser, url: str) -> Iterator[Callable[[str, str], dict[str, Any]]]:
    with opened(browser, f"{url}/call", LAPTOP) as page:
        script = "async ([t, u]) => (await import('/static/called.js')).read(t, u)"
        yield lambda typed, unit: page.evaluate(script, [typed, unit])


# --- a new roof from tapes -----------------------------------------------------------------------


@pytest.mark.parametrize("size", [PHONE, LAPTOP])
def test_a_roof_is_walked_from_its_tapes_and_a_blunder_is_marked_and_mended(
    size: tuple[int, int], browser: Browser, url: str
) -> None:
    with opened(browser, url, size) as page:
        hand = begun(page, "L, wide at the house")
        called = []
        while hand.page.locator("#taped").count() and len(called) < 6:
            called.append(hand.between)
            hand.call(RING[hand.between], pressed=size == PHONE and len(called) == 1)
        assert called == ["A-B", "B-C", "C-D", "D-E", "E-F", "F-A"]
        expect(page.locator("#plan")).to_have_attribute("aria-label", re.compile("6 of 6 sides"))
        while page.locator("#taped").count() and len(called) < 13:
            between = hand.between
            called.append(between)
            hand.call(RING.get(between) or RING["-".join(reversed(between.split("-")))])
        assert page.locator("#marks li").count() == 0
        assert "corners are held" in page.locator("#hand").inner_text()
        assert collisions(page) == []
        # a blunder: F to A read with two figures changed over
        page.locator('[data-side="F-A"]').focus()
        page.keyboard.press("Enter")
        hand.call("6.504")
        expect(page.locator("#marks li")).to_have_count(1)
        expect(page.locator(".misfit, .suspect").first).to_be_attached()
        cure = page.locator("#marks .cures button").first
        expect(cure).to_be_visible()
        page.locator('[data-side="F-A"]').focus()
        page.keyboard.press("Enter")
        hand.call(RING["F-A"])
        expect(page.locator("#marks li")).to_have_count(0)
        assert page.evaluate(TOO_WIDE) == []


def test_feet_and_a_length_too_long_are_asked_before_they_are_kept(
    browser: Browser, url: str
) -> None:
    with opened(browser, url, PHONE) as page:
        hand = begun(page, "square")
        for sign in "20'":
            page.keyboard.press(sign)
        page.locator("#taped").click()
        expect(page.get_by_role("alert")).to_contain_text("feet")
        expect(page.locator("#called")).to_have_attribute("aria-invalid", "true")
        hand.saved(page.get_by_role("button", name="Yes, 6.096 m").click)
        expect(page.locator("#plan")).to_have_attribute("aria-label", re.compile("1 of 4 sides"))
        for sign in "41.02":
            page.keyboard.press(sign)
        page.locator("#taped").click()
        hand.saved(page.get_by_role("button", name="No, 4.102 m").click)
        expect(page.locator('[data-side="B-C"]')).to_have_attribute(
            "aria-label", re.compile("4.102 metres")
        )


def test_a_side_gets_its_kind_by_a_touch_and_undo_takes_it_back(browser: Browser, url: str) -> None:
    with opened(browser, url, PHONE) as page:
        hand = begun(page, "square")
        hand.saved(page.locator(".kinds label", has_text="parapet").click)
        side = page.locator('[data-side="A-B"]')
        expect(side).to_have_attribute("aria-label", re.compile("A to B, parapet, about"))
        with page.expect_response(lambda r: "/draft" in r.url):
            page.get_by_role("button", name="undo").click()
        expect(side).to_have_attribute("aria-label", re.compile("house wall, guessed"))


def test_the_walk_goes_by_keys_alone(browser: Browser, url: str) -> None:
    with opened(browser, url, LAPTOP) as page:
        page.get_by_role("button", name="a new roof").focus()
        page.keyboard.press("Enter")
        page.wait_for_selector(".shapes")
        page.locator(".shapes button").first.focus()
        page.keyboard.press("Enter")
        page.wait_for_selector("#taped")
        for sign in "5.21":
            page.keyboard.press(sign)
        expect(page.locator("#called span")).to_have_text("5.21")
        page.keyboard.press("Backspace")
        with page.expect_response(lambda r: "/draft" in r.url):
            page.keyboard.press("Enter")
        expect(page.locator(".call b")).to_have_text("B to C")
        page.keyboard.press("ArrowLeft")
        expect(page.locator(".call b")).to_have_text("A to B")
        expect(page.locator('[data-side="A-B"]')).to_have_attribute(
            "aria-label", re.compile(r"5.200 metres")
        )


# --- what stands on it and beside it -------------------------------------------------------------


def test_windows_and_rooflights_are_placed_by_a_touch_on_the_plan(
    browser: Browser, url: str
) -> None:
    with opened(browser, url, PHONE) as page:
        hand = begun(page, "square")
        hand.call("6.2")
        hand.call("4.1")
        page.locator('[data-side="A-B"]').focus()
        page.keyboard.press("Enter")
        hand.saved(page.get_by_role("button", name="a window here").click)
        hand.call("342")
        hand.call("377")
        page.get_by_role("button", name="leave the rest").click()
        hand.tab("on it")
        page.get_by_role("button", name="a rooflight").click()
        box = page.locator("#plan").bounding_box()
        assert box is not None
        middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        hand.saved(lambda: page.mouse.click(*middle))
        guess = page.locator("#called").inner_text()
        assert 2.5 < float(guess.split()[0].rstrip("m")) < 3.7
        hand.saved(page.locator("#taped").click)
        page.get_by_role("button", name="leave the rest").click()
        expect(page.locator('[data-name="window-1"]')).to_be_attached()
        expect(page.locator('[data-name="rooflight-1"]')).to_be_attached()
        assert collisions(page) == []


def test_a_damp_reading_and_a_photo_are_placed_by_a_touch(
    browser: Browser, url: str, desk: Desk
) -> None:
    with opened(browser, url, PHONE) as page:
        hand = begun(page, "square")
        hand.call("6.2")
        hand.tab("on it")
        page.get_by_role("button", name="a damp reading").click()
        box = page.locator("#plan").bounding_box()
        assert box is not None
        middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        hand.saved(lambda: page.mouse.click(*middle))
        hand.call("19.5")
        page.get_by_role("button", name="leave the rest").click()
        mark = page.locator('[data-name="damp-reading-1"]')
        expect(mark).to_have_attribute("aria-label", re.compile("19.5 % damp"))
        kept = desk.store.contents(desk.store.head(page.url.split("/")[-2])).document
        assert kept["survey"]["readings"][0]["percent"] == 19.5
        assert kept["survey"]["readings"][0]["side"]
        picture = base64.b64decode(ONE_PIXEL)
        photo = {"name": "felt.png", "mimeType": "image/png", "buffer": picture}
        page.locator('input[type="file"]').set_input_files(photo)  # type: ignore[arg-type]
        expect(page.locator("#hand")).to_contain_text("Touch the roof where the photo is")
        page.locator("#hand .picks button").first.click()
        expect(page.locator('[data-name="photo-1"]')).to_be_attached()
        page.locator("#list .known button", has_text="photo-1").click()
        expect(page.get_by_role("img", name=re.compile("Photo, A-B, "))).to_be_visible()
        assert page.evaluate(TOO_WIDE) == []


def test_another_shape_has_its_corners_counted_and_those_that_turn_in_touched(
    browser: Browser, url: str
) -> None:
    with opened(browser, url, PHONE) as page:
        page.get_by_role("button", name="a new roof").click()
        page.get_by_role("button", name="another shape").click()
        hand = Hand(page)
        hand.call("6", pressed=True)
        expect(page.locator(".corner")).to_have_count(6)
        corner = page.locator('[data-corner="D"]')
        box = corner.locator(".knot").bounding_box()
        assert box is not None
        hand.saved(lambda: page.mouse.click(box["x"] - 8, box["y"] - 8))  # near it will do
        turned = page.evaluate("fetch(location.pathname.replace('/job/', '/api/jobs/').replace("
                               "'/walk', '')).then(a => a.json())")  # fmt: skip
        assert turned["document"]["survey"]["inner_corners"] == ["D"]


# --- defaults ------------------------------------------------------------------------------------


def test_a_default_stands_in_pencil_with_its_reason_until_it_is_answered(
    browser: Browser, url: str
) -> None:
    with opened(browser, url, PHONE) as page:
        hand = begun(page, "square")
        hand.tab("felt")
        row = page.locator(".known button", has_text="Thickness of these boards")
        expect(row.locator(".default")).to_have_text("18 mm")
        expect(row.locator("small")).to_have_text("the usual board")
        hand.answer("Thickness of these boards", "22")
        expect(row.locator(".num")).to_have_text("22 mm")
        expect(row.locator("small")).to_have_count(0)
        hand.tab("place")
        hand.answer("What lies round the house?", "a town, close built")
        row = page.locator(".known button", has_text="What lies round")
        expect(row.locator(".num")).to_have_text("a town, close built")


# --- from called tapes to the papers -------------------------------------------------------------


FACTS = {
    "felt": {
        "Old felt, thickness": "12", "How many layers": "3", "Chippings": "no",
        "Laid about": "1993", "Asbestos": "none found", "What boards": "planks",
        "Thickness of these": "19", "How much of them": "26", "Depth of the joists": "170",
        "Width of the joists": "47", "From middle": "402", "Span of the joists": "3.27",
        "Ends of the joists": "soft",
    },
    "inside": {
        "Which room": "kitchen", "How damp": "home, kitchen", "Quilt above": "85",
        "Is the quilt wet": "no", "Cables between": "yes",
    },
    "who": {
        "Whose roof": "Ms Invented Okafor", "Where is it": "8 Imaginary Terrace", "Listed": "no",
    },
    "place": {"What lies": "a town, close built", "How far": "67", "From the ground": "2.78"},
}  # fmt: skip
"""What was measured or asked at the rear extension beyond its tapes."""
MOST_ENTRIES = 1.15


@pytest.mark.long
def test_from_called_tapes_to_order_list_saw_list_and_quotation(
    browser: Browser, url: str, desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    with opened(browser, url, LAPTOP) as page:
        hand = begun(page, "L, wide at the house")
        facts = 1  # the shape
        while page.locator("#taped").count() and facts < 14:
            between = hand.between
            hand.call(RING.get(between) or RING["-".join(reversed(between.split("-")))])
            facts += 1
        page.locator('[data-side="C-D"]').focus()
        page.keyboard.press("Enter")
        hand.saved(page.locator(".kinds label", has_text="house wall").click)
        hand.saved(page.get_by_role("button", name="a window here").click)
        for number in ("364", "397", "0.93", "1.02"):
            hand.call(number)
        hand.pick("top")
        hand.pick("over the roof")
        page.get_by_role("button", name="leave the rest").click()
        facts += 8
        for tab, asked in FACTS.items():
            hand.tab(tab)
            for row, value in asked.items():
                hand.answer(row, value)
                facts += 1
        job = page.url.split("/")[-2]
    assert hand.entries <= MOST_ENTRIES * facts
    assert [q for q in hand.asked if hand.asked.count(q) > 1] == []
    _, sound, run = desk.run(job)
    assert sound.problems == ()
    assert run is not None
    assert run.ended.wait(120)
    worked = desk.worker.kept(job).worked
    assert worked is not None
    assert DRAWINGS["saw"](worked) is not None
    assert len(PAPERS["order"](worked).counters) > 3
    assert PAPERS["quotation"](worked).money.total_pence > 500_000
    with capsys.disabled():
        print(f"\n{facts} facts, {hand.entries} entries: {hand.entries / facts:.2f} a fact")


# --- first call ----------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [PHONE, LAPTOP])
def test_a_first_call_gives_a_verdict_and_a_band_and_becomes_the_job(
    size: tuple[int, int], browser: Browser, url: str, desk: Desk
) -> None:
    with opened(browser, f"{url}/call", size) as page:
        page.get_by_label("Whose roof is it?").fill("Mrs Invented Hale")
        page.get_by_label("Postcode, and the house").fill("3 Invented Row, ZZ1 1ZZ")
        page.get_by_label("About how large, in m²?").fill("25")
        page.get_by_role("button", name="kitchen").click()
        page.get_by_role("button", name="a tenant").click()
        expect(page.locator("#verdict h2")).to_have_text("Refer first")
        page.get_by_role("button", name="the owner").click()
        expect(page.locator("#verdict h2")).to_have_text("Visit")
        page.get_by_role("button", name="a boiler flue").click()
        expect(page.locator("#verdict")).to_contain_text("gas engineer")
        expect(page.locator("#verdict .band")).to_contain_text("£", timeout=60_000)
        expect(page.locator("#verdict")).to_contain_text("Rough, no quotation")
        assert page.evaluate(TOO_WIDE) == []
        assert page.evaluate(SMALL_TEXT, 15) == []
        page.get_by_role("button", name="make it a job").click()
        page.wait_for_selector(".shapes")
        job = page.url.split("/")[-2]
        document = desk.store.contents(desk.store.head(job)).document
        assert document["job"]["client"] == "Mrs Invented Hale"
        assert document["survey"]["openings"] == [{"name": "flue-1", "kind": "flue"}]


# --- the list ------------------------------------------------------------------------------------


def test_an_empty_list_says_what_to_do_and_jobs_are_sought_copied_and_put_away(
    browser: Browser, tmp_path: Path, chromium: str
) -> None:
    own = Desk(tmp_path, lambda: ON)
    with socket.socket() as listener:
        listener.bind((HOST, 0))
        config = uvicorn.Config(make_desk(own), log_level="error", lifespan="off",
                                timeout_graceful_shutdown=1)  # fmt: skip
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        with opened(browser, f"http://{HOST}:{listener.getsockname()[1]}", PHONE) as page:
            expect(page.locator("#jobs")).to_contain_text("When the telephone rings")
            bring(own.store, EXAMPLES / "garage", "a test")
            page.reload()
            expect(page.locator(".jobs li")).to_have_count(1)
            expect(page.locator(".jobs")).to_contain_text("an invented example")
            page.get_by_role("button", name="copy").click()
            expect(page.locator(".jobs li")).to_have_count(2)
            page.get_by_label("Search").fill("nowhere heath")
            expect(page.locator(".jobs li")).to_have_count(2)
            page.get_by_label("Search").fill("lighthouse")
            expect(page.locator("#jobs")).to_contain_text("No job has these words")
            page.get_by_label("Search").fill("")
            page.get_by_role("button", name="put away").first.click()
            expect(page.locator(".jobs li")).to_have_count(1)
            page.locator("#archived").check()
            expect(page.get_by_role("button", name="take out again")).to_have_count(1)
            assert page.evaluate(TOO_WIDE) == []
        server.should_exit = True
        thread.join(timeout=20)
    own.close()


# --- for everybody -------------------------------------------------------------------------------


def test_every_screen_fits_from_360_to_1920_with_large_letters_and_targets(
    browser: Browser, url: str
) -> None:
    with opened(browser, url, PHONE) as page:
        hand = begun(page, "L round the house")
        hand.call("3.2")
        for width in (360, 390, 768, 1024, 1440, 1920):
            page.set_viewport_size({"width": width, "height": 800})
            for tab in ("sides", "on it", "place", "felt", "inside", "who", "choices"):
                hand.tab(tab)
                assert page.evaluate(TOO_WIDE) == [], (width, tab)
                assert page.evaluate(SMALL_TEXT, 15) == [], (width, tab)
                assert page.evaluate(TARGETS, 44) == [], (width, tab)
        page.set_viewport_size({"width": 390, "height": 844})
        hand.tab("sides")
        pad = page.locator(".pad button").first.bounding_box()
        assert pad is not None
        assert pad["height"] >= 79
        last = page.locator(".pad button").last.bounding_box()
        assert last is not None
        assert last["y"] + last["height"] <= 845


def test_a_screen_reader_hears_the_walk(browser: Browser, url: str) -> None:
    with opened(browser, url, PHONE) as page:
        begun(page, "square")
        heard = page.locator("body").aria_snapshot()
        for told in (
            'button "A to B, house wall, guessed, about 4.0 metres, not taped yet"',
            'group "What is A to B?"', 'radio "house wall" [checked]', 'group "Number pad"',
            'button "taped then B to C"', 'navigation "What is asked"',
        ):  # fmt: skip
            assert told in heard, told


@pytest.mark.parametrize("light", ["paper", "dusk", "sun"])
def test_the_walk_is_drawn_in_every_light(light: str, browser: Browser, url: str) -> None:
    with opened(browser, url, PHONE) as page:
        page.context.add_cookies([{"name": "light", "value": light, "url": url}])
        begun(page, "square")
        expect(page.locator("html")).to_have_attribute("data-light", light)
        ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert ground == {
            "paper": "rgb(248, 250, 247)", "dusk": "rgb(22, 29, 39)", "sun": "rgb(255, 255, 255)",
        }[light]  # fmt: skip
