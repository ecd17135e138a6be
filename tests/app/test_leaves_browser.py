"""The tracing sheets as a browser letters them: no word over another, on any roof, at any width."""

from __future__ import annotations

import base64
import itertools
import json
import math
from collections.abc import Iterator
from datetime import date
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from tests.app.desks import EXAMPLES, NAMES, SWITCHES

from evenfall.app.loading import load
from evenfall.app.web.desk import FONTS, HERE
from evenfall.app.web.draw import draw
from evenfall.flow import LEAVES, WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.job import Job

pytestmark = pytest.mark.browser

ON = date(2026, 11, 25)
ROOMS_PX = (336, 366, 728, 640, 800, 1040)
"""Room that the plan has on pages 360, 390, 768, 1024, 1440 and 1920 wide."""
TEETH = 7
LETTERING = """() => [...document.querySelectorAll('text.lettering')].map(t => {
  const box = t.getBBox(), m = t.getScreenCTM()
  const corner = (x, y) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f]
  const x0 = box.x, x1 = box.x + box.width, mid = box.y + box.height / 2
  const lines = t.querySelector('tspan') ? 2 : 1
  const half = parseFloat(t.getAttribute('font-size')) * 0.36 * lines
  const ends = [[x0, mid - half], [x1, mid - half], [x1, mid + half], [x0, mid + half]]
  return {words: t.textContent, ring: ends.map(([x, y]) => corner(x, y))}
})"""

Corners = list[list[float]]


def comb() -> list[tuple[float, float]]:
    """Lay out a roof of thirty corners: a comb of seven unequal teeth, anticlockwise."""
    points = [(0.0, 0.0), (14.3, 0.0)]
    x = 14.3
    for tooth in range(TEETH):
        high = 5.1 + 0.37 * (tooth % 3)
        wide, gap = 1.15 + 0.09 * (tooth % 4), 0.83
        points += [(x, high), (x - wide, high)]
        x -= wide
        if tooth < TEETH - 1:
            points += [(x, 3.4 - 0.11 * tooth), (x - gap, 3.4 - 0.11 * tooth)]
            x -= gap
    return [*points, (x, 2.7), (0.0, 2.7)]


def comb_job(job: Job) -> Job:
    """Give the garage thirty corners, each side and two ties to each corner taped."""
    ring = comb()
    names = [f"{chr(65 + i % 26)}{'' if i < 26 else i // 26}" for i in range(len(ring))]
    data = job.model_dump(mode="json")
    pairs = [(i, (i + 1) % len(ring)) for i in range(len(ring))]
    ties = [(0, i) for i in range(2, len(ring) - 1)] + [(1, i) for i in range(3, len(ring))]
    told = [
        {"between": f"{names[a]}-{names[b]}", "length_m": round(math.dist(ring[a], ring[b]), 3)}
        for a, b in pairs + ties
    ]
    verge = next(s for s in data["survey"]["sides"] if s["kind"] == "verge")
    eaves = next(s for s in data["survey"]["sides"] if s["kind"] == "eaves")
    sides = [{**(verge if a else eaves), "side": f"{names[a]}-{names[b]}"} for a, b in pairs]
    low, back = f"{names[0]}-{names[1]}", f"{names[1]}-{names[2]}"
    data["survey"] |= {"corners": names, "tapes": told, "sides": sides, "heights": []}
    data["survey"]["openings"] = [{**data["survey"]["openings"][0], "side": low, "along_m": 5.2}]
    data["survey"]["levels"] = [
        {"name": n, "side": low, "along_m": x, "in_m": y, "below_line_mm": 300 - 14 * y}
        for n, x, y in (("p", 1.2, 0.4), ("q", 12.9, 0.6), ("r", 6.3, 2.2))
    ]
    data["survey"]["joists"]["along"] = back
    data["survey"]["gutters"][0]["side"] = low
    data["design"]["falls"]["low_side"] = low
    return Job.model_validate_json(json.dumps(data), strict=True)


@cache
def worked(name: str) -> WorkedJob:
    """Work an example out, or the garage with thirty corners."""
    if name in NAMES:
        return work_out(load(EXAMPLES / name, ON).case)
    garage = load(EXAMPLES / "garage", ON).case
    return work_out(Case(comb_job(garage.job), garage.rates, ON))


@pytest.fixture(scope="module")
def page(chromium: str) -> Iterator[Page]:
    with sync_playwright() as playwright:
        browser: Browser = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        yield browser.new_page(viewport={"width": 1200, "height": 900})
        browser.close()


def head() -> str:
    """The inks and the face of the desk, with nothing to be fetched."""
    spec = find_spec("font_source_sans_pro")
    assert spec is not None
    assert spec.origin is not None
    inks = (HERE / "static" / "tokens.css").read_text(encoding="utf-8")
    for name, file in FONTS.items():
        face = (Path(spec.origin).parent / "files" / file).read_bytes()
        inks = inks.replace(
            f"/fonts/{name}.otf", f"data:font/otf;base64,{base64.b64encode(face).decode()}"
        )
    return f"<!doctype html><style>{inks} text {{ font-variant-numeric: tabular-nums }}</style>"


def apart(one: Corners, other: Corners) -> bool:
    """Tell whether some line parts two turned rectangles."""
    for ring in (one, other):
        for (x0, y0), (x1, y1) in itertools.pairwise(ring[:3]):
            way = (y1 - y0, x0 - x1)
            a, b = ([way[0] * x + way[1] * y for x, y in r] for r in (one, other))
            length = math.hypot(*way) or 1.0
            if max(a) <= min(b) + length / 2 or max(b) <= min(a) + length / 2:
                return True
    return False


def collisions(found: list[dict[str, Any]]) -> list[str]:
    return [
        f"{a['words']} over {b['words']}"
        for a, b in itertools.combinations(found, 2)
        if not apart(a["ring"], b["ring"])
    ]


def test_two_turned_rectangles_are_apart_or_not() -> None:
    square = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]
    turned = [[3.5, 0.5], [4.5, 1.5], [3.5, 2.5], [2.5, 1.5]]
    assert apart(square, turned)
    assert not apart(square, [[x - 1.5, y] for x, y in turned])


QUICK = (("garage", 366), ("courtyard", 336))
SLOW = [p for p in itertools.product((*NAMES, "thirty corners"), ROOMS_PX) if p not in QUICK]


@pytest.mark.parametrize(
    ("name", "width"), [*QUICK, *(pytest.param(*p, marks=pytest.mark.long) for p in SLOW)]
)
def test_no_word_of_a_tracing_sheet_lies_over_another(name: str, width: int, page: Page) -> None:
    if name == "thirty corners":
        assert len(worked(name).plan.corners) == 30
    high = None if width < 480 else min(max(width * 0.77, 420), 760)
    drawn = {leaf: draw(worked(name), f"leaf-{leaf}", width, high) for leaf in LEAVES}
    page.set_content(head() + "".join(f"<div id={x}>{svg}</div>" for x, svg in drawn.items()))
    page.evaluate("document.fonts.ready")
    over = {}
    for leaf in LEAVES:
        found = page.evaluate(LETTERING.replace("text.lettering", f"#{leaf} text.lettering"))
        assert found, leaf
        over[leaf] = collisions(found)
    assert not any(over.values()), over
