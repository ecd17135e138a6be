"""The day sheet in a real browser of a telephone: opened from a file, with no network at all."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect, sync_playwright

from evenfall.app.live.desk import Desk
from evenfall.app.papers.day_file import day_files
from evenfall.app.reading import read_file
from evenfall.app.site.into_file import load_into
from evenfall.app.site.returned import Returned, read_returned
from evenfall.flow import WorkedJob
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.recorded import Extra, Signature
from evenfall.model.words import pounds
from evenfall.stages.price import extras

pytestmark = pytest.mark.browser

EXAMPLES = Path(__file__).parents[2] / "examples"
SWITCHES = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking"]
PHONE = {"width": 360, "height": 740}
LARGE = 100_000_000
EXIF_DATE, EXIF_ZONE, EXIF_TABLE, GPS_TABLE = 0x9003, 0x9011, 0x8769, 0x8825
THUMB = 56
SLOW_MS = 120_000  # a large photo on a machine that does much else; the test goes on at once
SMALL = """least => [...document.querySelectorAll('button, a, summary, label.act')]
  .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < least - 0.5)
  .map(e => `${e.textContent.trim()} ${e.getBoundingClientRect().height}`)"""
TOO_WIDE = """() => [...document.querySelectorAll('body *')]
  .filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('svg, .away'))
  .map(e => `${e.tagName} ${e.className} ${e.textContent.slice(0, 30)}`)"""


@pytest.fixture(scope="module")
def worked(shared_desk: Desk, garage: str) -> WorkedJob:
    found = shared_desk.worker.kept(garage).worked
    assert found is not None
    return found


@pytest.fixture(scope="module")
def sheet(worked: WorkedJob, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of the first day on which something is bare."""
    day = next(d for d in worked.programme.days if d.opens)
    file = tmp_path_factory.mktemp("days") / f"day-{day.number}.html"
    file.write_bytes(day_files(worked)[f"days/{file.name}"])
    return file


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        yield found
        found.close()


@pytest.fixture(scope="module")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A photo that knows when and where it was taken."""
    file = tmp_path_factory.mktemp("camera") / "photo.jpg"
    exif = Image.Exif()
    exif[EXIF_TABLE] = {EXIF_DATE: "2026:12:08 10:41:07", EXIF_ZONE: "+00:00"}
    exif[GPS_TABLE] = {1: "N", 2: (53.0, 24.0, 36.0), 3: "W", 4: (2.0, 6.0, 0.0)}
    Image.linear_gradient("L").resize((2600, 3900)).save(file, exif=exif)
    return file


@contextmanager
def opened(browser: Browser, sheet: Path, script: str = "") -> Iterator[Page]:
    """Open the file without a network; a page that asks for anything, or complains, fails."""
    context = browser.new_context(viewport=PHONE, offline=True, has_touch=True, is_mobile=True,
                                  accept_downloads=True)  # fmt: skip
    asked, complaints = list[str](), list[str]()
    if script:
        context.add_init_script(script)
    page = context.new_page()
    page.on("request", lambda r: asked.append(r.url))
    page.on("console", lambda m: complaints.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda e: complaints.append(str(e)))
    page.goto(sheet.as_uri())
    page.get_by_label("Your name, as it stands under each record").fill("Sam")
    press(page, "That is me")
    yield page
    context.close()
    assert [u for u in asked if not u.startswith(("file:", "blob:"))] == []
    assert complaints == []


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def row(page: Page, text: str) -> None:
    page.locator("#screen .row", has_text=re.compile(text, re.IGNORECASE)).first.click()


def go(page: Page, place: str) -> None:
    page.locator("#foot button", has_text=place).click()


def call(page: Page, number: str) -> None:
    for sign in number:
        press(page, {".": "point", "-": "minus"}.get(sign, sign))
    press(page, "Keep")


def heading(page: Page, text: str) -> None:
    expect(page.locator("#screen h1")).to_contain_text(re.compile(text, re.IGNORECASE))


def take(page: Page, photo: Path, shows: str = "") -> None:
    """Take a photo, draw an arrow on it, and keep it without a place."""
    page.locator("#camera").set_input_files(photo)
    if shows:
        expect(page.locator("#screen h1")).to_have_text("What does it show?", timeout=SLOW_MS)
        row(page, shows)
    expect(page.locator(".photo img")).to_be_visible(timeout=SLOW_MS)
    box = page.locator(".photo").bounding_box()
    assert box
    page.mouse.move(box["x"] + 40, box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + 150, box["y"] + 90, steps=3)
    page.mouse.up()
    press(page, "Keep")
    heading(page, "Where on the plan")
    page.get_by_role("button", name=re.compile("no place", re.IGNORECASE)).click()


def scribble(page: Page) -> None:
    expect(page.locator("#signing")).to_be_visible()
    box = page.locator("#signing").bounding_box()
    assert box
    page.mouse.move(box["x"] + 30, box["y"] + 120)
    page.mouse.down()
    for n in range(12):
        page.mouse.move(box["x"] + 30 + 15 * n, box["y"] + 120 + 30 * (-1) ** n)
    page.mouse.up()


def handed_over(page: Page, folder: Path) -> Returned:
    """Save the file, and read it as the desk does."""
    go(page, "Record")
    with page.expect_download() as download:
        press(page, "Save the day’s file")
    assert re.fullmatch(r"GAR-0417-day-\d+-[0-9a-f]{8}\.evenfall-day\.json",
                        download.value.suggested_filename)  # fmt: skip
    download.value.save_as(folder / "back.json")
    expect(page.locator("#screen .told")).to_contain_text("records are in")
    return read_returned((folder / "back.json").read_bytes())


def hold_point(page: Page, photo: Path) -> None:
    """Hold point 1: refused when empty and when too wet, then put right."""
    go(page, "Hold points")
    row(page, "deck bare")
    press(page, "✓ Passed")
    expect(page.get_by_role("alert")).to_contain_text("Still missing: wettest reading")
    row(page, "wettest reading")
    call(page, "24.5")
    expect(page.get_by_role("button", name="✓ Passed", exact=True)).to_have_count(0)
    for what, value in (("widest spacing", "280"), ("soft deck", "0"), ("widest gap", "3")):
        row(page, what)
        call(page, value)
    row(page, "^photo")
    take(page, photo, "A defect")
    expect(page.locator(".thumbs img")).to_be_visible()
    row(page, "I have looked")
    press(page, "✓ Put right now, read again")
    call(page, "21")  # still too wet: asked again
    expect(page.locator(".figure output")).to_contain_text("–")
    call(page, "17.5")
    heading(page, "Hold points")
    due = page.locator("#screen .row", has_text="deck bare").first
    expect(due).to_contain_text("✓ put right")


def find(page: Page, photo: Path) -> None:
    """Rot: quantity, photo before repair, the slip, the signature."""
    go(page, "Found")
    row(page, "rot")
    row(page, "deck found rotten")
    take(page, photo)
    call(page, "40")
    if page.locator("#screen h1", has_text="Where?").count():
        row(page, "the whole roof")
    heading(page, "Where exactly")
    page.locator("#screen .row").first.click()
    heading(page, "Slip for extra work")


def test_a_day_without_a_network_is_kept_and_comes_back_as_one_file(
    browser: Browser, sheet: Path, photo: Path, worked: WorkedJob, tmp_path: Path
) -> None:
    with opened(browser, sheet) as page:
        hold_point(page, photo)
        find(page, photo)
        slip = page.locator("#screen .sums").inner_text()
        press(page, "The client signs now")
        page.locator("#entry").fill("Mrs A. Client")
        press(page, "Next")
        press(page, "Signed")  # refused: the field is empty
        expect(page.get_by_role("alert").filter(has_text="Nothing is signed")).to_be_visible()
        scribble(page)
        press(page, "Signed")
        press(page, "Go on")

        go(page, "STOP")
        row(page, "gas")
        expect(page.get_by_role("link", name=re.compile("0800 111 999"))).to_have_attribute(
            "href", "tel:0800111999"
        )
        press(page, "Back")
        expect(page.locator(".bar.stop")).to_contain_text("STOPPED: gas")
        page.reload()  # the telephone was put away: all of it is still there
        expect(page.locator(".bar.stop")).to_contain_text("STOPPED: gas")
        page.locator(".bar.stop").click()
        press(page, "It is cleared")
        page.locator("#entry").fill("G. Engineer")
        press(page, "Next")
        press(page, "Yes, the work goes on")
        heading(page, "strip|deck|bay|VCL")

        press(page, "Hours")
        page.locator("#screen .row").first.click()
        press(page, "2")
        call(page, "3.5")
        heading(page, "strip|deck|bay|VCL")
        press(page, "A note")
        row(page, "agreed with the client")
        page.locator("#entry").fill("Mrs A. Client")
        press(page, "Next")
        page.locator("#entry").fill("the lamp bracket stays")
        press(page, "Keep")
        if page.locator("#screen h1", has_text="Which bay?").count():
            row(page, "the whole roof")
        heading(page, "strip|deck|bay|VCL")
        expect(page.locator("#foot .count")).to_have_text("10")
        go(page, "Record")
        expect(page.locator("#screen .row").first).to_contain_text(
            "Note, agreed with Mrs A. Client the lamp bracket stays"
        )
        returned = handed_over(page, tmp_path)
    check_entries(returned)
    check_slip(slip, returned, worked)
    job = tmp_path / "job.yaml"
    job.write_bytes((EXAMPLES / "garage" / "job.yaml").read_bytes())
    assert len(load_into(job, returned).new) == len(returned.entries)
    assert len(read_file(job, Job, slips).value.record.log) == len(returned.entries)


def check_entries(returned: Returned) -> None:
    entries = sorted(returned.entries, key=lambda e: int(e["n"]))
    assert [e["kind"] for e in entries] == [
        "photo", "hold", "hold", "photo", "found", "signed", "stop", "clear", "hours",
        "note",
    ]  # fmt: skip
    assert [e["n"] for e in entries] == list(range(1, 11))
    assert [(e["outcome"], e["values"][-1]["value"]) for e in entries[1:3]] == [
        ("stopped", 3), ("put_right", 17.5)
    ]  # fmt: skip
    assert entries[1]["values"][0] == {"what": "moisture", "value": 24.5}
    assert entries[0]["taken"] == {"at": "2026-12-08T10:41:07+00:00", "lat": 53.41, "lon": -2.1}
    assert [m["kind"] for m in entries[0]["marks"]] == ["arrow"]
    assert entries[4]["photos"] == [entries[3]["sha256"]]
    assert entries[5]["of"] == entries[4]["id"]
    assert entries[7]["of"] == entries[6]["id"]
    (content,) = returned.photos.values()
    with Image.open(io.BytesIO(content)) as picture:
        assert picture.size == (1067, 1600)
        assert dict(picture.getexif()) == {}
    assert len(content) < 500_000


def check_slip(shown: str, returned: Returned, worked: WorkedJob) -> None:
    """The slip on the telephone is the one that the price makes."""
    found = next(e for e in returned.entries if e["kind"] == "found")
    on = date(2026, 12, 8)
    extra = Extra(name="a", rate=found["rate"], found=found["quantity"], where="here", found_on=on,
                  signed=Signature(by="A", on=on))  # fmt: skip
    job, rates = worked.case.job, worked.case.rates
    site = extras.Site(job.crew, job.calendar, job.job.nation, worked.programme.finish_on,
                       job.survey.deck.renew_percent)  # fmt: skip
    made = extras.work((extra,), None, worked.price, worked.plan, site, job.design.vat.case,
                       rates.provisional, rates.basis).slips[0]  # fmt: skip
    assert pounds(made.total.value) in shown
    assert pounds(made.new_total.value) in shown
    assert f"{made.new_finish.day} {made.new_finish:%b}" in shown


def test_a_file_that_is_no_photo_is_refused_and_a_hundred_megabytes_are_shrunk(
    browser: Browser, sheet: Path, photo: Path, tmp_path: Path
) -> None:
    wrong, large = tmp_path / "letter.jpg", tmp_path / "large.jpg"
    wrong.write_bytes(b"no photo at all")
    large.write_bytes(photo.read_bytes())
    with large.open("r+b") as stream:
        stream.truncate(LARGE)
    with opened(browser, sheet) as page:
        go(page, "Hold points")
        row(page, "deck bare")
        row(page, "^photo")
        page.locator("#camera").set_input_files(wrong)
        expect(page.get_by_role("alert")).to_contain_text("cannot be read as a photo")
        page.locator("#camera").set_input_files(large)
        expect(page.locator("#screen h1")).to_have_text("What does it show?", timeout=SLOW_MS)


def test_where_the_telephone_keeps_nothing_it_says_so_and_still_gives_the_file(
    browser: Browser, sheet: Path, tmp_path: Path
) -> None:
    none = "Object.defineProperty(self, 'indexedDB', {value: undefined})"
    with opened(browser, sheet, none) as page:
        expect(page.locator(".bar").first).to_contain_text("keeps nothing once the page is closed")
        press(page, "Weather seen")
        for answer in ("morning", "frost", "calm"):
            row(page, answer)
        call(page, "-2.5")
        heading(page, "strip|deck|bay|VCL")
        returned = handed_over(page, tmp_path)
    assert [(e["kind"], e["air_c"]) for e in returned.entries] == [("weather", -2.5)]


def test_every_main_screen_fits_a_narrow_telephone_and_a_thumb_in_gloves(
    browser: Browser, sheet: Path
) -> None:
    with opened(browser, sheet) as page:
        for place in ("Today", "Hold points", "Found", "Record", "STOP"):
            go(page, place)
            heading(page, "bay|strip" if place == "Today" else place)
            assert page.evaluate(SMALL, THUMB) == []
            assert page.evaluate(TOO_WIDE) == []
