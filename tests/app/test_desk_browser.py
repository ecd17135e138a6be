"""The open job in a real browser: moved by thumb and keys, read, agreed, undone, on any screen."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import httpx2 as httpx
import pytest
from playwright.sync_api import Browser, Page, Route, expect, sync_playwright
from tests.app.desks import NAMES, READY, SWITCHES, brought, opened, served
from tests.app.test_morning_page import forecast

from evenfall.app.live.desk import Desk

pytestmark = pytest.mark.browser

WIDTHS = (1920, 1440, 1024, 768, 390, 360)
LEAST_TEXT = 13


@dataclass
class Served:
    """A desk and the examples on it."""

    desk: Desk
    url: str
    jobs: dict[str, str]

    def at(self, name: str) -> str:
        if name not in self.jobs:
            self.jobs[name] = brought(self.desk, name)
        return f"{self.url}/job/{self.jobs[name]}"

    def fresh(self, name: str = "garage") -> str:
        return f"{self.url}/job/{brought(self.desk, name)}"


@pytest.fixture(scope="module")
def here(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("desk")) as (desk, url):
        yield Served(desk, url, {})


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        yield found
        found.close()


def head(page: Page, id_: str) -> Any:
    return page.locator(f'#figures [data-number="{id_}"]')


def data(page: Page) -> dict[str, Any]:
    answer = httpx.get(page.url.replace("/job/", "/api/jobs/"), trust_env=False)
    return dict(answer.json())


def blind(page: Page) -> None:
    """Keep the page from seeing by itself what others save, until it saves something itself.

    What it asks in the background (a remedy that is tried out) saves nothing.
    """
    at = page.url.replace("/job/", "/api/jobs/")
    shut = [True]

    def gate(route: Route) -> None:
        if shut and route.request.method == "GET":
            route.abort()
        else:
            route.fallback()

    page.route(at, gate)
    saves = re.compile(r"/(edit|undo)$")
    page.on("request", lambda r: shut.clear() if saves.search(r.url) else None)


# --- the stick -----------------------------------------------------------------------------------


def test_a_thumb_moves_the_clip_and_the_numbers_say_from_what_to_what(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        price = head(page, "price.total")
        before = price.inner_text()
        taken = int(page.locator("#clip").get_attribute("aria-valuenow") or 0)
        circles = page.locator("#drawn circle.f-sheet").all()
        boxes = sorted((b for c in circles if (b := c.bounding_box())), key=lambda b: -b["y"])
        clip = page.locator("#drawn .clip rect").bounding_box()
        assert clip is not None
        page.mouse.move(clip["x"] + 19, clip["y"] + 11)
        page.mouse.down()
        page.mouse.move(boxes[0]["x"] + 3, boxes[0]["y"] + 4, steps=4)
        moved = int(page.locator("#clip").get_attribute("aria-valuenow") or 0)
        assert moved < taken
        expect(page.locator("#drawn")).to_contain_text(f"board {moved}")
        page.mouse.up()
        row = page.locator("#figures > div").filter(has=page.locator('[data-number="price.total"]'))
        expect(row.locator(".from")).to_contain_text(before, timeout=READY)
        assert price.inner_text() != before
        assert data(page)["document"]["design"]["thickness_mm"] == moved


def test_the_clip_stops_where_the_upstand_would_pass_the_sill(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("rear-extension")) as page:
        clip = page.locator("#clip")
        clip.focus()
        page.keyboard.press("End")
        most = clip.get_attribute("aria-valuemax")
        page.keyboard.press("ArrowUp")
        assert clip.get_attribute("aria-valuenow") == most
        expect(page.locator("#governs")).to_contain_text("the upstand would stand")
        expect(page.locator("#governs")).to_contain_text("past the sill")
        page.keyboard.press("Escape")
        assert data(page)["revision"] == 1


def test_a_thickness_is_typed_and_one_not_on_sale_is_told_beside_it(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        field = page.locator("#typed")
        field.fill("125")
        field.press("Enter")
        expect(page.locator("#typed-why")).to_contain_text("125 is not on sale here.")
        expect(field).to_have_attribute("aria-invalid", "true")
        page.locator("#typed-why").get_by_role("button").first.click()
        expect(page.locator("#figures .from").first).to_be_visible(timeout=READY)
        assert data(page)["document"]["design"]["thickness_mm"] in (120, 130)


# --- numbers, marks, time ------------------------------------------------------------------------


def test_a_number_opens_its_working_and_escape_goes_back_to_it(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("rear-extension")) as page:
        number = head(page, "heat.u")
        number.focus()
        page.keyboard.press("Enter")
        slip = page.locator("#slip")
        expect(slip).to_contain_text("ISO 6946")
        expect(slip).to_contain_text("no better than:")
        expect(slip.locator("table tr").first).to_be_visible()
        page.keyboard.press("Escape")
        expect(slip).to_have_count(0)
        expect(number).to_be_focused()


def test_a_remedy_says_what_it_costs_before_it_is_taken_and_undo_takes_it_back(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        page.locator("#marks details.fold", has_text="to note").first.locator(
            "summary"
        ).first.click()
        mark = page.locator("#marks li", has=page.get_by_role("button", name="Take the")).first
        expect(mark.locator(".cost")).to_contain_text("days", timeout=READY)
        expect(mark.locator(".cost")).to_contain_text(re.compile("same price|with VAT"))
        said = mark.locator("p").first.inner_text()[-30:]
        mark.get_by_role("button", name="Take the").click()
        expect(page.locator("#figures .from").first).to_be_visible(timeout=READY)
        expect(page.locator("#marks")).not_to_contain_text(said)
        page.keyboard.press("Control+z")
        expect(page.locator("#marks")).to_contain_text(said, timeout=READY)
        assert data(page)["revision"] == 3


def test_an_agreement_names_who_and_when_and_closes_the_mark(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        before = page.locator("#marks > ol > li").count()
        mark = page.locator("#marks > ol > li.agree").first
        key = mark.get_attribute("data-mark")
        mark.get_by_role("button", name="agreed in writing").click()
        mark.get_by_role("button", name="Keep it").click()
        expect(mark.locator("#agree-why")).to_contain_text("Who agreed?")
        mark.get_by_label("who agreed").fill("A. Client")
        mark.get_by_role("button", name="Keep it").click()
        agreed = page.locator(f'#marks [data-mark="{key}"]')
        expect(agreed).to_have_class(re.compile("note"), timeout=READY)
        expect(agreed).to_contain_text("Agreed by A. Client on")
        assert page.locator("#marks > ol > li").count() <= before
        kept = data(page)["document"]["record"]["agreed"][0]
        assert f"{kept['finding']}:{kept['subject']}" == key


def test_two_pages_on_one_job_lose_nothing_and_show_both_values(
    browser: Browser, here: Served
) -> None:
    url = here.fresh()
    with opened(browser, url, quiet=False) as one, opened(browser, url, quiet=False) as other:
        blind(other)
        people = int(one.locator("#f-crew-people").input_value())
        one.locator("#f-crew-people").fill(f"{people + 1}")
        one.locator("#f-crew-people").press("Enter")
        expect(one.locator("#figures .from").first).to_be_visible(timeout=READY)
        other.locator("#f-crew-people").evaluate(
            "(e, n) => { e.value = n; e.dispatchEvent(new Event('change')) }", f"{people + 2}"
        )
        clash = other.locator("#clash")
        expect(clash).to_contain_text("Another page has changed this job")
        expect(clash.locator("tbody tr")).to_contain_text(f"{people + 2}")
        expect(clash.locator("tbody tr")).to_contain_text(f"{people + 1}")
        clash.get_by_role("button", name="Yours").click()
        expect(clash).to_have_count(0)
        expect(other.locator("#figures .from").first).to_be_visible(timeout=READY)
        assert data(other)["document"]["crew"]["people"] == people + 2


def test_a_wrong_entry_is_told_beside_it_with_one_answer_to_press(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        field = page.locator("#f-crew-people")
        field.fill("20")
        field.press("Enter")
        expect(page.locator("#f-crew-people-why")).to_contain_text("20 is too much; at most 8.")
        expect(field).to_have_attribute("aria-invalid", "true")
        page.get_by_role("button", name="Make it 8").click()
        expect(page.locator("#f-crew-people-why")).to_be_hidden()
        expect(page.locator("body")).not_to_have_class(re.compile("stale"), timeout=READY)
        assert data(page)["document"]["crew"]["people"] == 8


def test_a_day_is_moved_by_hand_and_the_programme_is_worked_again(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        days = page.locator("#days .top b")
        before = days.all_inner_texts()
        page.locator('[data-day="2"] .day').click()
        expect(page.locator("#leaf-says")).to_contain_text(before[1])
        page.locator('[data-day="2"]').get_by_role("button", name="a day later").click()
        expect(days.nth(1)).not_to_have_text(before[1], timeout=READY)
        assert days.nth(0).inner_text() == before[0]
        expect(page.locator('[data-day="2"] .from')).to_contain_text(before[1])


def test_a_thumb_that_rests_on_a_day_lifts_it_and_keys_move_it_too(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh(), 390, 844, has_touch=True) as page:
        days = page.locator("#days .top b")
        before = days.all_inner_texts()
        day = page.locator('[data-day="2"]')
        day.scroll_into_view_if_needed()
        box = day.locator(".dusk").bounding_box()
        assert box is not None
        thumb = page.context.new_cdp_session(page)
        x, y = box["x"] + 40, box["y"] + 40

        def touch(kind: str, *points: float) -> None:
            at = [{"x": px, "y": y} for px in points]
            thumb.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": at})

        touch("touchStart", x)
        expect(day).to_have_class(re.compile("dragged"))
        for share in (0.3, 0.7, 1.0):
            touch("touchMove", x + 172 * share)
        touch("touchEnd")
        expect(days.nth(1)).not_to_have_text(before[1], timeout=READY)
        moved = days.nth(1).inner_text()
        expect(page.locator("body")).not_to_have_class(re.compile("stale"), timeout=READY)
        page.locator('[data-keep="day-2"]').focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator('[data-keep="day-3"]')).to_be_focused()
        page.keyboard.press("ArrowLeft")
        page.keyboard.press("Shift+ArrowLeft")
        expect(days.nth(1)).to_have_text(before[1], timeout=READY)
        assert moved != before[1]


def test_a_price_of_a_material_is_the_jobs_own_once_it_is_typed(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.fresh()) as page:
        for fold in ("rates", "rates-boards"):
            page.locator(f"#fold-{fold} > summary").click()
        field = page.locator('#fold-rates-boards [id^="f-rates-boards"]').first
        field.fill("99.50")
        field.press("Enter")
        expect(field).to_have_attribute("data-was", "99.50", timeout=READY)  # worked again
        expect(page.locator("#fold-rates-boards")).to_have_attribute("open", "")
        assert data(page)["rates"]["boards"][0]["sizes"][0]["price_pence"] == 9950


def test_an_undo_of_a_page_that_is_behind_looks_first_and_loses_nothing(
    browser: Browser, here: Served
) -> None:
    url = here.fresh()
    with opened(browser, url, quiet=False) as one, opened(browser, url, quiet=False) as other:
        blind(other)
        one.locator("#f-crew-hours_a_day").fill("7")
        one.locator("#f-crew-hours_a_day").press("Enter")
        expect(one.locator("#figures .from").first).to_be_visible(timeout=READY)
        other.locator("#undo").evaluate("e => { e.disabled = false; e.click() }")
        expect(other.locator("#f-crew-hours_a_day")).to_have_value("7", timeout=READY)
        assert data(other)["document"]["crew"]["hours_a_day"] == 7


# --- keys alone, roll, plan ----------------------------------------------------------------------


def test_keys_pull_the_roll_and_pick_a_side(browser: Browser, here: Served) -> None:
    with opened(browser, here.at("garage")) as page:
        page.locator("#leaf-finished").focus()
        for leaf in ("sheet", "boards", "tonight"):
            page.keyboard.press("ArrowLeft")
            expect(page.locator(f"#leaf-{leaf}")).to_be_checked()
        expect(page.locator("#paper title")).to_contain_text("at dusk")
        side = page.locator("#paper .of-pick").first
        name = (side.get_attribute("data-key") or "").split(":")[1]
        side.focus()
        page.keyboard.press("Enter")
        expect(page.locator("#rise-at")).to_contain_text("At")
        expect(page.locator(f'[data-key="pick:{name}"]')).to_have_class(re.compile("here"))
        page.locator("#edge summary").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#edge svg").first).to_be_visible(timeout=READY)


def test_a_mark_pressed_on_the_plan_opens_its_line_in_the_margin(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("courtyard")) as page:
        mark = page.locator("#paper .of-finding").last
        number = (mark.get_attribute("data-key") or "").split(":")[1]
        mark.focus()
        page.keyboard.press("Enter")
        line = page.locator(f"#mark-{number}")
        expect(line).to_be_visible()
        expect(line).to_be_focused()
        expect(line).to_be_in_viewport()


def test_every_stop_of_the_keyboard_shows_where_it_is(browser: Browser, here: Served) -> None:
    with opened(browser, here.at("garage")) as page:
        seen = []
        for _ in range(45):
            page.keyboard.press("Tab")
            seen.append(page.evaluate(FOCUSED))
        hidden = [s for s in seen if s[0] != "BODY#" and (s[1] == "none" or s[2] == "0px")]
        assert hidden == []
        assert len({s[0] for s in seen}) > 15


# --- any screen ----------------------------------------------------------------------------------

FOCUSED = """() => {
  const at = document.activeElement, frame = getComputedStyle(at.closest('.pull') ?? at)
  const name = `${at.tagName}#${at.id}${at.textContent.slice(0, 20)}`
  return [name, frame.outlineStyle, frame.outlineWidth]
}"""
TOO_WIDE = """() => {
  const most = document.documentElement.clientWidth
  const over = document.documentElement.scrollWidth - most
  if (over <= 0) return []
  return [over, ...[...document.querySelectorAll('main *')]
    .filter(e => e.getBoundingClientRect().right > most + 1)
    .filter(e => !e.closest('.wide, .ways, .days, svg'))
    .map(e => `${e.tagName} ${e.getAttribute('class')} ${e.id}`)].slice(0, 12)
}"""
SMALL_TEXT = """least => {
  const found = []
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  while (walk.nextNode()) {
    const at = walk.currentNode.parentElement
    if (!walk.currentNode.data.trim() || !at.checkVisibility()) continue
    if (at.closest('title, desc, sub, .mark, .away, script, noscript, option')) continue
    const svg = at.closest('svg')
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1
    const size = parseFloat(getComputedStyle(at).fontSize) * scale
    if (size < least - 0.15) found.push(`${size.toFixed(1)} ${walk.currentNode.data.trim()}`)
  }
  return found
}"""
LETTERING = """() => [...document.querySelectorAll('#paper text.lettering')]
  .filter(t => t.checkVisibility()).map(t => {
    const box = t.getBBox(), m = t.getScreenCTM()
    const corner = (x, y) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f]
    const x0 = box.x, x1 = box.x + box.width, mid = box.y + box.height / 2
    const lines = t.querySelector('tspan') ? 2 : 1
    const half = parseFloat(t.getAttribute('font-size')) * 0.36 * lines
    const ends = [[x0, mid - half], [x1, mid - half], [x1, mid + half], [x0, mid + half]]
    return {words: t.textContent, ring: ends.map(([x, y]) => corner(x, y))}
  })"""
SMALL_TARGETS = """() => [...document.querySelectorAll('button, summary, select, a, label, input')]
  .filter(e => e.closest('main') && e.checkVisibility())
  .filter(e => e.matches('button, summary, select, a, .pull label, input:not(.away)'))
  .filter(e => !e.matches('td .worked, input[type=checkbox]'))
  .map(e => [e.textContent.trim().slice(0, 30) || e.id, e.getBoundingClientRect()])
  .filter(([, r]) => r.height < 43.5 && r.width > 0).map(([t, r]) => `${t} ${r.height}`)"""

Corners = list[list[float]]


def apart(one: Corners, other: Corners) -> bool:
    """Tell whether some line parts two turned rectangles."""
    for ring in (one, other):
        for (x0, y0), (x1, y1) in itertools.pairwise(ring[:3]):
            way = (y1 - y0, x0 - x1)
            a, b = ([way[0] * x + way[1] * y for x, y in r] for r in (one, other))
            if max(a) <= min(b) + 0.5 or max(b) <= min(a) + 0.5:
                return True
    return False


def collisions(page: Page) -> list[str]:
    """List pairs of lettering of the plan that lie over one another."""
    found = page.evaluate(LETTERING)
    assert found
    return [
        f"{a['words']} over {b['words']}"
        for a, b in itertools.combinations(found, 2)
        if not apart(a["ring"], b["ring"])
    ]


def test_two_turned_rectangles_are_apart_or_not() -> None:
    square = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]
    turned = [[3.0, 0.5], [4.0, 1.5], [3.0, 2.5], [2.0, 1.5]]
    assert apart(square, turned)
    assert not apart(square, [[x - 1.0, y] for x, y in turned])


def settled(page: Page, width: int) -> None:
    """Set a width and wait until the plan is drawn for it."""
    page.set_viewport_size({"width": width, "height": 1000})
    page.wait_for_timeout(180)
    expect(page.locator("#paper")).not_to_have_attribute("aria-busy", "true", timeout=READY)


@pytest.mark.parametrize(
    "name", ["garage", *(pytest.param(n, marks=pytest.mark.long) for n in NAMES if n != "garage")]
)
def test_on_any_screen_nothing_is_cut_off_too_small_or_over_another(
    name: str, browser: Browser, here: Served
) -> None:
    with opened(browser, here.at(name)) as page:
        for width in WIDTHS:
            settled(page, width)
            assert page.evaluate(TOO_WIDE) == [], width
            assert page.evaluate(SMALL_TEXT, LEAST_TEXT) == [], width
            for leaf in ("boards", "finished") if width in (1440, 390) else ():
                page.evaluate("leaf => document.querySelector(`#leaf-${leaf}`).click()", leaf)
                settled(page, width)
                assert collisions(page) == [], (width, leaf)


@pytest.mark.parametrize("width", [1440, 390])
def test_what_is_pressed_is_large_enough_for_a_thumb(
    width: int, browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("courtyard"), width) as page:
        assert page.evaluate(SMALL_TARGETS) == []


def test_a_phone_has_plan_stick_marks_and_evenings_one_under_another(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("garage"), 390, 844, has_touch=True) as page:
        boxes = [
            page.locator(f"#{x}").bounding_box() for x in ("plan", "rise", "chalk", "evenings")
        ]
        ys = [box["y"] for box in boxes if box]
        assert len(ys) == 4
        assert ys == sorted(ys)
        page.locator("label[for=leaf-boards]").tap()
        expect(page.locator("#paper title")).to_contain_text("Board plan")


def test_the_morning_is_asked_by_a_thumb_and_answered(browser: Browser, here: Served) -> None:
    with opened(browser, here.at("garage"), 390, 844) as page:
        page.goto(f"{page.url}/morning")
        assert page.evaluate(SMALL_TARGETS) == []
        page.get_by_text("or paste its lines").click()
        page.get_by_label("Lines of the forecast").fill(forecast())
        page.get_by_text("as at another hour").click()
        page.get_by_label("Time with its zone").fill("2026-12-07T07:10+00:00")
        page.get_by_label("Covers that lie on the roof").fill("9 × 9")
        page.get_by_role("button", name="What may be opened?").click()
        expect(page.get_by_role("region", name="The answer")).to_contain_text("You decide.")
        page.wait_for_load_state()  # with its styles
        assert page.evaluate("document.documentElement.scrollWidth") == 390


def test_a_light_changes_at_once_and_is_kept(browser: Browser, here: Served) -> None:
    with opened(browser, here.at("garage")) as page:
        page.get_by_role("link", name="sun").click()
        expect(page.locator("html")).to_have_attribute("data-light", "sun")
        page.reload()
        expect(page.locator("html")).to_have_attribute("data-light", "sun")


def test_a_screen_reader_hears_head_roll_stick_marks_and_evenings(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("garage")) as page:
        expect(page.locator("#plan")).to_match_aria_snapshot("""
- region "The plan":
  - group "Look at the roof through its tracing sheets, in the order of the job":
    - radio "found"
    - radio "measured"
    - radio "stripped"
    - radio "tonight"
    - radio "boards"
    - radio "sheet"
    - radio "finished" [checked]
  - group /Plan of Garage/:
    - button /side .*, .* m/
""")
        expect(page.locator("#rise")).to_match_aria_snapshot("""
- region /At/:
  - combobox "look at"
  - img /the sheet lies .* mm above the old felt/
  - slider "Thickness of the boards, mm"
  - textbox "boards, mm"
""")
        heard = page.locator("main").aria_snapshot()
        assert re.search(r"button \"£[\d,.]+ the price with VAT, show the working\"", heard)
        assert "agree, mark 1" in heard
        assert 'heading "Evenings" [level=2]' in heard


def test_print_leaves_out_what_is_pressed_and_what_is_the_owners(
    browser: Browser, here: Served
) -> None:
    with opened(browser, here.at("garage")) as page:
        page.emulate_media(media="print")
        for gone in ("#roll", "#lights", ".ways", "#fold-owner", "#crewing", "#typing"):
            expect(page.locator(gone)).to_be_hidden()
        for kept in ("#paper svg", "#drawn svg", "#marks", "#days", "#order"):
            expect(page.locator(kept).first).to_be_visible()


def test_a_paper_is_seen_as_it_prints(browser: Browser, here: Served) -> None:
    with opened(browser, here.at("garage")) as page:
        page.get_by_role("button", name="Look at the quotation as it prints").click()
        picture = page.get_by_role("img", name=re.compile("Quotation, page 1 of"))
        expect(picture).to_be_visible(timeout=READY)
        expect(picture).to_have_js_property("complete", True)
        assert picture.evaluate("image => image.naturalWidth") > 100
        page.get_by_role("button", name="the next page").click()
        expect(page.get_by_role("img", name=re.compile("Quotation, page 2 of"))).to_be_visible()


def test_less_motion_is_no_motion(browser: Browser, here: Served) -> None:
    with opened(browser, here.at("garage"), reduced_motion="reduce") as page:
        moving = page.evaluate(
            "[...document.querySelectorAll('*')].filter(e => getComputedStyle(e).transitionDuration"
            " !== '0s' || getComputedStyle(e).animationName !== 'none').length"
        )
        assert moving == 0
