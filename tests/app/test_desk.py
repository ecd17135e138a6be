"""The desk without a browser: what the page says, to whom it answers, how it begins and ends."""

from __future__ import annotations

import dataclasses
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from datetime import date
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
import typer
from fastapi.testclient import TestClient
from jinja2 import meta

from evenfall.app.loading import load
from evenfall.app.summary import near
from evenfall.app.web import desk, money, page, pictures, rooms, serve, slips, source, stick
from evenfall.app.web.words import money as pounds
from evenfall.drawing.inks import LIGHTS, TOKENS
from evenfall.flow import DRAWINGS, WorkedJob, price_groups, work_out

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("rear-extension", "garage", "courtyard")
ON = date(2026, 11, 25)
HERE = "http://127.0.0.1"
STATIC = desk.HERE / "static"


@pytest.fixture(scope="module")
def jobs() -> dict[str, WorkedJob]:
    return {name: work_out(load(EXAMPLES / name, ON).case) for name in NAMES}


@pytest.fixture(scope="module")
def clients(jobs: dict[str, WorkedJob]) -> dict[str, TestClient]:
    return {n: TestClient(desk.make_app(w), base_url=HERE) for n, w in jobs.items()}


@pytest.fixture(scope="module")
def texts(clients: dict[str, TestClient]) -> dict[str, str]:
    return {name: client.get("/").text for name, client in clients.items()}


@pytest.fixture(scope="module")
def pages(jobs: dict[str, WorkedJob]) -> dict[str, page.Page]:
    return {name: page.build(worked, own_rates=False) for name, worked in jobs.items()}


class Reader(HTMLParser):
    """The tags of a page, and its words outside of what is for the owner."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self._inside: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {k: v or "" for k, v in attrs}
        self.tags.append((tag, told))
        if tag == "details":
            self._inside.append(told.get("class", ""))

    def handle_endtag(self, tag: str) -> None:
        if tag == "details":
            self._inside.pop()

    def handle_data(self, data: str) -> None:
        if "owner" not in self._inside:
            self.words.append(data)

    def of(self, tag: str) -> list[dict[str, str]]:
        return [attrs for name, attrs in self.tags if name == tag]


def said(text: str) -> str:
    """The words of a page, one space between them."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())


# --- what the page says --------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_the_head_says_price_days_heat_and_what_is_left(
    name: str, jobs: dict[str, WorkedJob], texts: dict[str, str]
) -> None:
    worked, words = jobs[name], said(texts[name])
    tight = worked.heights.items[0]
    assert worked.meta.title in words
    assert f"{pounds(worked.price.total.value)} the price with VAT" in words
    assert f"{len(worked.programme.days)} days, up to" in words
    assert f"{near(worked.heat.u.value, worked.rise.target_u)} heat lost, W/m²K" in words
    assert re.search(rf"{abs(tight.margin.value):.0f} mm (left|too high)", words)


@pytest.mark.parametrize("name", NAMES)
def test_each_number_at_the_head_opens_its_working(
    name: str, pages: dict[str, page.Page], texts: dict[str, str]
) -> None:
    for figure in pages[name].figures:
        assert figure.slip.rows, figure.label
        assert figure.slip.source
        assert figure.slip.basis
        assert f'id="figure-{figure.key}"' in texts[name]
        for row in figure.slip.rows:
            assert all(part in said(texts[name]) for part in (row.number, row.told))


@pytest.mark.parametrize("name", NAMES)
def test_all_findings_stand_in_the_margin_the_heaviest_first(
    name: str, jobs: dict[str, WorkedJob], texts: dict[str, str]
) -> None:
    words = said(texts[name])
    told = [f for f in jobs[name].findings if f.level != "fine"]
    at = [words.index(f"{f.level}, mark {n}: {f.says}") for n, f in enumerate(told, 1)]
    assert at == sorted(at)
    assert all(f.says in words for f in jobs[name].findings)


@pytest.mark.parametrize("name", NAMES)
def test_marks_on_the_plan_carry_the_numbers_of_the_margin(
    name: str, texts: dict[str, str]
) -> None:
    in_margin = dict(re.findall(r'<li id="mark-(\d+)" class="(\w+)"', texts[name]))
    on_plan = set(re.findall(r'data-key="finding:(\d+)"', texts[name]))
    assert on_plan
    assert on_plan <= set(in_margin)
    for number in on_plan:
        told = re.search(rf'data-key="finding:{number}" aria-label="{number}: (.+?)"', texts[name])
        assert told is not None
        assert unescape(told[1])[:40] in said(texts[name].split(f'id="mark-{number}"')[1])[:400]


def test_no_stop_is_ever_folded_away(jobs: dict[str, WorkedJob]) -> None:
    worked = jobs["courtyard"]
    many = tuple(dataclasses.replace(f, level="stop") for f in worked.findings)
    shown = page.build(dataclasses.replace(worked, findings=many), own_rates=True)
    assert len(shown.marks) == len(many) > page.OPEN_MARKS
    assert shown.folded == ()


@pytest.mark.parametrize("name", NAMES)
def test_the_stick_has_a_hole_for_each_thickness_and_one_clip(
    name: str, jobs: dict[str, WorkedJob]
) -> None:
    rise = jobs[name].rise
    holes = stick.holes(rise)
    assert [int(h.thickness) for h in holes] == sorted(r.thickness_mm for r in rise.rows)[::-1]
    assert [h.thickness for h in holes if h.taken] == [f"{rise.chosen_mm}"]
    fits = {f"{r.thickness_mm}": r.fits for r in rise.rows}
    assert all(h.cannot is not fits[h.thickness] for h in holes)
    assert all(("too high" in h.verdict) is h.cannot for h in holes)


def test_holes_far_too_high_are_folded_and_the_clip_never_is(jobs: dict[str, WorkedJob]) -> None:
    rise = jobs["courtyard"].rise
    cut = stick.folded(rise)
    shown = stick.holes(rise)[cut:]
    assert cut > 0
    assert [h.cannot for h in shown[: stick.TOO_HIGH + 1]] == [True, True, False]
    top = dataclasses.replace(rise, chosen_mm=rise.rows[-1].thickness_mm)
    assert stick.folded(top) == 0


@pytest.mark.parametrize("name", NAMES)
def test_the_other_layers_stand_beside_the_stick(name: str, jobs: dict[str, WorkedJob]) -> None:
    worked = jobs[name]
    two = worked.case.job.design.layers == 2
    assert len(worked.rise.row.boards) == (2 if two else 1)
    assert all(("+" in h.boards) is not two for h in stick.others(worked.rise))
    sold = {r.thickness_mm for r in worked.rise.rows}  # edges are solved for these alone
    for h in stick.others(worked.rise):
        assert h.edges.startswith("about") is h.spot.startswith("about")
        assert h.edges.startswith("about") is (int(h.thickness) in sold)
        assert h.edges != "–" or h.spot == "–"
    text = said(TestClient(desk.make_app(worked), base_url=HERE).get("/").text)
    assert f"In {'one layer' if two else 'two layers'}" in text
    assert worked.rise.why in text


@pytest.mark.parametrize("name", NAMES)
def test_each_day_has_its_evening(name: str, jobs: dict[str, WorkedJob]) -> None:
    days, evenings = jobs[name].programme.days, pictures.evenings(jobs[name])
    assert [e.says for e in evenings] == [d.says for d in days]
    assert all(e.svg.startswith("<svg") for e in evenings)
    assert len({e.day for e in evenings}) == len(days)


@pytest.mark.parametrize("name", NAMES)
def test_every_order_line_is_on_the_page(name: str, jobs: dict[str, WorkedJob]) -> None:
    worked = jobs[name]
    wanted = [
        o.says
        for r in (worked.boards, worked.sheet, worked.rolls, worked.lengths, worked.items)
        for o in r.order
    ]
    assert [o.says for g in money.order(worked) for o in g.lines] == wanted


@pytest.mark.parametrize("name", NAMES)
def test_price_groups_add_up_to_the_price_without_vat(
    name: str, jobs: dict[str, WorkedJob], texts: dict[str, str]
) -> None:
    groups = price_groups(jobs[name])
    assert sum(g.pence for g in groups) == round(jobs[name].price.net.value)
    assert all(f"{g.says} {pounds(g.pence)}" in said(texts[name]) for g in groups)


@pytest.mark.parametrize("name", NAMES)
def test_cost_overhead_and_margin_stand_nowhere_but_in_the_owners_closed_part(
    name: str, jobs: dict[str, WorkedJob], texts: dict[str, str]
) -> None:
    price, words = jobs[name].price, " ".join(Reader(texts[name]).words)
    for kept in (price.cost, price.overhead, price.margin):
        assert pounds(kept.value) in said(texts[name])
        assert pounds(kept.value) not in words
        assert f"{kept.value:.0f}" not in words
    owner = [d for d in Reader(texts[name]).of("details") if d.get("class") == "owner"]
    assert len(owner) == 1
    assert "open" not in owner[0]


@pytest.mark.parametrize("name", NAMES)
def test_every_room_shows_its_workings(
    name: str, jobs: dict[str, WorkedJob], pages: dict[str, page.Page]
) -> None:
    shown = {r.key: r for r in pages[name].rooms}
    for key, room in shown.items():
        told = bool(room.workings or room.grids or room.facts) or bool(room.why_empty)
        assert told, f"{key} says nothing"
    names = {h.name for h in jobs[name].heights.items}
    heights = " ".join(w.title for w in shown["heights"].workings)
    assert all(n in heights for n in names)


def test_what_is_empty_says_so_in_words(jobs: dict[str, WorkedJob]) -> None:
    worked = jobs["garage"]
    bare = dataclasses.replace(
        worked,
        findings=(),
        heights=dataclasses.replace(worked.heights, items=()),
        programme=dataclasses.replace(worked.programme, days=()),
        options=dataclasses.replace(worked.options, options=(), why_empty=""),
    )
    words = said(TestClient(desk.make_app(bare), base_url=HERE).get("/").text)
    assert "Nothing to stop for and nothing to agree." in words
    assert "No day of work is planned yet." in words
    assert "No options are asked for in the job file." in words
    assert "mm left" not in words.split("Chalk marks")[0]


def test_invented_prices_are_said_to_be_invented(jobs: dict[str, WorkedJob]) -> None:
    own = page.build(jobs["garage"], own_rates=True)
    others = page.build(jobs["garage"], own_rates=False)
    assert others.prices.endswith("invented")
    assert page.OWN_RATES in others.rates
    assert "invented" not in own.prices
    assert page.OWN_RATES not in own.rates


def test_a_place_that_is_too_high_is_told_and_marked(jobs: dict[str, WorkedJob]) -> None:
    worked = jobs["courtyard"]
    first, *rest = worked.heights.items
    short = dataclasses.replace(first, margin=dataclasses.replace(first.margin, value=-7.4))
    heights = dataclasses.replace(worked.heights, items=(short, *rest))
    left = page.build(dataclasses.replace(worked, heights=heights), own_rates=True).figures[-1]
    assert left.text == "7"
    assert left.label.startswith("mm too high")
    assert left.trouble


# --- how it is made ------------------------------------------------------------------------------

DATA = (page.Page, page.Figure, page.Chalk, slips.Slip, slips.Row, slips.Grid, rooms.Room,
        money.Order, money.Group, money.Line, money.Offer, money.Cost, money.Owner,
        pictures.View, pictures.Evening, stick.Hole, stick.Fact, source.Seen)  # fmt: skip


@pytest.mark.parametrize("kind", DATA, ids=lambda k: k.__name__)
def test_every_field_of_the_page_data_has_its_help_text(kind: Any) -> None:
    assert all(f.metadata.get("help", "").endswith(".") for f in dataclasses.fields(kind))


def test_the_template_asks_for_the_fields_of_the_page_and_for_no_others() -> None:
    env = desk.templates()
    loader = env.loader
    assert loader is not None
    asked = meta.find_undeclared_variables(env.parse(loader.get_source(env, "desk.html")[0]))
    fields = {f.name for f in dataclasses.fields(page.Page)}
    assert asked == fields | {"light", "lights", "trouble", "file"}


def test_words_of_a_job_are_escaped(jobs: dict[str, WorkedJob]) -> None:
    worked, evil = jobs["garage"], '<script>alert("1")</script>'
    finding = dataclasses.replace(worked.findings[0], says=evil)
    made = dataclasses.replace(
        worked,
        meta=dataclasses.replace(worked.meta, title=evil, note=evil),
        findings=(finding, *worked.findings[1:]),
    )
    text = TestClient(desk.make_app(made), base_url=HERE).get("/").text
    assert "<script>alert" not in text
    assert "&lt;script&gt;alert" in text


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_asked_of_another_host_and_nothing_stands_inline(
    name: str, texts: dict[str, str]
) -> None:
    read = Reader(texts[name])
    for tag, attrs in read.tags:
        for key in ("href", "src", "action", "srcset", "poster", "data"):
            assert attrs.get(key, "/")[0] in "/#", (tag, attrs)
        assert "style" not in attrs, (tag, attrs)
        assert not [k for k in attrs if k.startswith("on")], (tag, attrs)
        assert not attrs.get("href", "").startswith("//")
    assert [s["src"] for s in read.of("script")] == ["/static/desk.js"]
    assert read.of("style") == []


@pytest.mark.parametrize("file", ["tokens.css", "desk.css", "print.css", "desk.js", "mark.svg"])
def test_static_files_ship_in_the_package_and_ask_for_nothing(
    file: str, clients: dict[str, TestClient]
) -> None:
    text = (STATIC / file).read_text(encoding="utf-8")
    assert clients["garage"].get(f"/static/{file}").text == text
    assert "@import" not in text
    assert not re.search(r"url\((?!#)", text)
    assert re.findall(r"https?://[^\"' )]+", text) in ([], ["http://www.w3.org/2000/svg"])


@pytest.mark.parametrize("name", NAMES)
def test_every_id_of_a_page_is_used_once(name: str, texts: dict[str, str]) -> None:
    ids = [attrs["id"] for _, attrs in Reader(texts[name]).tags if "id" in attrs]
    assert len(ids) == len(set(ids))


def test_a_page_is_drawn_once_for_each_light(jobs: dict[str, WorkedJob]) -> None:
    calls = []
    seen = source.Seen(jobs["garage"], False, "job.yaml")

    def ask() -> source.Seen:
        calls.append(1)
        return seen

    client = TestClient(desk.make_app(ask), base_url=HERE)
    before = DRAWINGS["plan"]
    drawn = []
    DRAWINGS["plan"] = lambda w: drawn.append(w) or before(w)
    try:
        assert client.get("/").text == client.get("/").text
    finally:
        DRAWINGS["plan"] = before
    assert len(calls) == 2
    assert len(drawn) == 1


# --- to whom it answers --------------------------------------------------------------------------


@pytest.mark.parametrize("path", ["/", "/static/desk.css", "/nothing", "/light/dusk"])
def test_each_answer_carries_the_policy(path: str, clients: dict[str, TestClient]) -> None:
    answer = clients["garage"].get(path, follow_redirects=False)
    assert answer.headers["content-security-policy"].startswith("default-src 'self';")
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("host", ["example.org", "127.0.0.1.example.org", "", "localhost.evil:80"])
def test_another_host_name_is_refused_in_words(host: str, jobs: dict[str, WorkedJob]) -> None:
    client = TestClient(desk.make_app(jobs["garage"]), base_url=HERE)
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "This is not your desk." in answer.text
    assert jobs["garage"].meta.title not in answer.text
    assert "content-security-policy" in answer.headers


@pytest.mark.parametrize("path", ["/nothing", "/docs", "/redoc", "/openapi.json", "/light/pink",
                                  "/static/nothing.css", "/static/../desk.py"])  # fmt: skip
def test_what_is_not_there_is_said_in_words(path: str, clients: dict[str, TestClient]) -> None:
    answer = clients["garage"].get(path)
    assert answer.status_code == 404
    assert "There is nothing here." in answer.text


def test_the_desk_takes_nothing(clients: dict[str, TestClient]) -> None:
    answer = clients["garage"].post("/", content=b"x")
    assert answer.status_code == 405
    assert "The desk only shows." in answer.text


def test_a_job_that_cannot_be_drawn_is_said_in_words(jobs: dict[str, WorkedJob]) -> None:
    broken = dataclasses.replace(jobs["garage"], heat=None)
    client = TestClient(desk.make_app(broken), base_url=HERE, raise_server_exceptions=False)
    answer = client.get("/")
    assert answer.status_code == 500
    assert "could not draw this job" in answer.text
    assert "content-security-policy" in answer.headers


def test_a_light_is_remembered_and_forgotten(jobs: dict[str, WorkedJob]) -> None:
    client = TestClient(desk.make_app(jobs["garage"]), base_url=HERE)
    assert "data-light=" not in client.get("/").text.split("<head>")[0]
    set_ = client.get("/light/dusk", follow_redirects=False)
    assert set_.status_code == 303
    assert "samesite=strict" in set_.headers["set-cookie"].lower()
    assert '<html lang="en-GB" data-light="dusk">' in client.get("/").text
    client.get("/light/machine")
    assert "data-light=" not in client.get("/").text.split("<head>")[0]


def test_an_unknown_light_in_a_cookie_is_passed_over(jobs: dict[str, WorkedJob]) -> None:
    client = TestClient(desk.make_app(jobs["garage"]), base_url=HERE, cookies={"light": '"><b>'})
    assert "data-light=" not in client.get("/").text.split("<head>")[0]


# --- the job file changes ------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.yaml").write_bytes((EXAMPLES / "garage" / "job.yaml").read_bytes())
    return tmp_path


def test_a_file_that_stays_is_worked_once(folder: Path) -> None:
    source_ = source.Source(folder, lambda: ON)
    assert source_() is source_()


def test_a_changed_file_is_worked_again(folder: Path) -> None:
    source_, file = source.Source(folder, lambda: ON), folder / "job.yaml"
    before = source_()
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(before.worked.meta.title, "Another roof"), encoding="utf-8")
    after = source_()
    assert after.worked.meta.title == "Another roof"
    assert after.worked.worked == ()  # no room saw anything new


def test_a_new_day_is_worked_again(folder: Path) -> None:
    days = iter([ON, ON, date(2027, 6, 1), date(2027, 6, 1)])
    source_ = source.Source(folder, lambda: next(days))
    assert source_().worked.meta.on == date(2027, 6, 1)


def test_a_file_gone_wrong_is_told_over_the_job_as_it_was(folder: Path) -> None:
    source_, file = source.Source(folder, lambda: ON), folder / "job.yaml"
    client = TestClient(desk.make_app(source_), base_url=HERE)
    good, text = source_(), file.read_text(encoding="utf-8")
    file.write_text(text.replace("tape_accuracy_mm:", "tape_acuracy_mm:"), encoding="utf-8")
    words = said(client.get("/").text)
    assert "job.yaml has changed, and cannot be worked out" in words
    assert 'did you mean "tape_accuracy_mm"?' in words
    assert good.worked.meta.title in words
    file.write_text(text, encoding="utf-8")
    assert "cannot be worked out" not in client.get("/").text


def test_a_file_gone_missing_is_told_over_the_job_as_it_was(folder: Path) -> None:
    source_ = source.Source(folder, lambda: ON)
    (folder / "job.yaml").unlink()
    seen = source_()
    assert seen.trouble
    assert seen.worked.meta.title


# --- how it begins and ends ----------------------------------------------------------------------


def test_a_wrong_file_is_told_before_anything_is_served(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "job.yaml").write_text("format: 1\njob: 3\n", encoding="utf-8")
    with pytest.raises(typer.Exit) as end:
        serve.serve(folder, 0, open_browser=False, store=tmp_path / "store")
    assert end.value.exit_code == 2
    assert "job.yaml:2:" in capsys.readouterr().err


@pytest.mark.parametrize("port", [-1, 65536])
def test_a_port_that_cannot_be_is_refused(port: int, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(typer.Exit) as end:
        serve.serve(EXAMPLES / "garage", port, open_browser=False)
    assert end.value.exit_code == 2
    assert "expected 0 to 65535" in capsys.readouterr().err


def test_a_port_that_is_taken_gives_the_next(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as other:
        other.bind((serve.HOST, 0))
        other.listen()
        taken = other.getsockname()[1]
        with serve._listening(taken) as found:
            assert found.getsockname()[1] > taken
            assert found.getsockname()[0] == "127.0.0.1"
    assert f"Port {taken} is taken" in capsys.readouterr().out


def test_the_example_is_worked_as_on_its_own_day() -> None:
    demo = serve.demo_job()
    assert serve._always_on(demo) == serve.DEMO_ON
    assert serve._always_on(demo / "job.yaml") == serve.DEMO_ON
    assert serve._always_on(EXAMPLES / "garage") is None


@pytest.fixture
def running(tmp_path: Path) -> Iterator[subprocess.Popen[str]]:
    words = ["--store", str(tmp_path / "store"), "--port", "0", "--no-browser"]
    command = [sys.executable, "-u", "-m", "evenfall.app.cli", "desk", *words]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8"
    ) as process:
        yield process
        if process.poll() is None:
            process.kill()


def test_the_command_offers_the_example_and_control_c_ends_it_quietly(
    running: subprocess.Popen[str],
) -> None:
    assert running.stdout is not None
    assert "the invented example stands in it" in running.stdout.readline()
    line = running.stdout.readline()
    found = re.search(r"http://127\.0\.0\.1:\d+/", line)
    assert found, line
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    with direct.open(found[0]) as answer:
        assert "(invented)" in answer.read().decode()
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=20)
    assert (running.returncode, out, err) == (0, "", "")


# --- the lights ----------------------------------------------------------------------------------


def lights() -> dict[str, dict[str, str]]:
    """The colours of each light, read from the style sheet."""
    text = (STATIC / "tokens.css").read_text(encoding="utf-8")
    found = {}
    for name in ("paper", "dusk", "sun"):
        block = text.split(f'[data-light="{name}"] {{')[1].split("}")[0]
        found[name] = dict(re.findall(r"--([\w-]+): (#[0-9A-F]{6})", block))
    return found


def shade(colour: str) -> float:
    """Relative luminance, as WCAG 2.2 has it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def ratio(one: str, other: str) -> float:
    a, b = sorted((shade(one), shade(other)))
    return (b + 0.05) / (a + 0.05)


@pytest.mark.parametrize("light", ["paper", "dusk", "sun"])
def test_every_ink_can_be_read_on_every_ground(light: str) -> None:
    inks = lights()[light]
    for ground in ("table", "sheet", "slip", "trace"):
        for ink in ("ink", "pencil", "chalk", "water", "eve"):
            assert ratio(inks[ink], inks[ground]) >= 4.5, (ink, ground)
        for line in ("hair", "focus"):
            assert ratio(inks[line], inks[ground]) >= 3, (line, ground)


def test_black_on_white_is_twenty_one_to_one() -> None:
    assert ratio("#000000", "#FFFFFF") == pytest.approx(21)
    assert ratio("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)


def test_page_and_drawings_share_their_inks() -> None:
    paper = lights()["paper"]
    colours = LIGHTS["paper"].colours
    assert {TOKENS[name]: colour for name, colour in colours.items()}.items() <= paper.items()
