"""The papers of the examples: whole, the same twice, tagged, silent about what is not theirs."""

from __future__ import annotations

import csv
import io
import json
import re
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pypdfium2 as pdfium
import pytest
from ezdxf import recover
from icalendar import Calendar

from evenfall.app.loading import load
from evenfall.app.papers import papers
from evenfall.app.papers.pdf import TypesettingError, compile_typst, compiled, sources
from evenfall.flow import PAPERS, WorkedJob, work_out
from evenfall.stages.papers.printed import numbers_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("rear-extension", "garage", "courtyard")
ON = date(2026, 11, 25)
FILES = {
    "quotation.pdf", "calculations.pdf", "drawings.pdf", "order.pdf", "cut-lists.pdf",
    "day-sheets.pdf", "construction-phase-plan.pdf", "programme.pdf", "handover.pdf",
    "order.xlsx", "order.csv", "programme.ics", "care.ics",
}  # fmt: skip
PLANS = ("plan", "boards", "sheet", "vcl")
INNER = re.compile(r"\b(costs?|overheads?|margins?|mark-?ups?|profits?|crew rates?)\b", re.I)
every_example = pytest.mark.parametrize("name", NAMES)


@cache
def worked(name: str) -> WorkedJob:
    return work_out(load(EXAMPLES / name, ON).case)


@cache
def made(name: str) -> dict[str, bytes]:
    return papers(worked(name))


def text_of(pdf: bytes) -> str:
    pages = pdfium.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_bounded() for page in pages)


def metadata_of(pdf: bytes) -> str:
    return " ".join(pdfium.PdfDocument(pdf).get_metadata_dict().values())


def pounds(pence: float) -> str:
    return f"{round(pence) / 100:,.2f}"


@every_example
def test_all_papers_are_made_and_every_plan_as_svg_and_as_dxf(name: str) -> None:
    job = worked(name)
    plans = [*PLANS, "fixings"]
    details = {f"{sheet.key}.dxf" for sheet in PAPERS["drawings"](job)}
    plans += ["boards-2"] if len(job.boards.layers_mm) > 1 else []
    plans += ["saw-list"] if job.boards.sawn else []
    owner = {"owner-only/price.xlsx", f"owner-only/rates-{job.price.mark}.yaml"}
    days = {f"days/day-{day.number}.html" for day in job.programme.days}
    assert set(made(name)) == FILES | details | owner | days | {
        f"{p}.{kind}" for p in plans for kind in ("svg", "dxf")
    }


@every_example
@pytest.mark.parametrize("plan", PLANS)
def test_every_plan_opens_as_dxf_without_a_fault(name: str, plan: str) -> None:
    document, audit = recover.read(io.BytesIO(made(name)[f"{plan}.dxf"]))
    assert not audit.errors
    assert "roof outline" in {layer.dxf.name for layer in document.layers}


@every_example
@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_every_piece_of_board_sheet_and_vcl_is_numbered_on_its_plan(name: str, kind: str) -> None:
    job = worked(name)
    vcl = made(name)[f"vcl.{kind}"].decode()
    assert all(f"{s.number}: {s.length_mm} mm" in vcl for s in job.rolls.strips
               if s.length_mm > 2500)  # fmt: skip
    assert f"{job.sheet.chosen.cut_mm / 1000:.2f} m" in made(name)[f"sheet.{kind}"].decode()


@every_example
def test_the_order_between_commas_holds_every_line_of_the_workbook(name: str) -> None:
    text = made(name)["order.csv"].decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    wanted = [x.id for c in PAPERS["order"](worked(name)).counters for x in c.lines]
    assert [r["id"] for r in rows] == wanted
    assert all(float(r["bought"]) >= float(r["need"]) - 1e-3 for r in rows)
    assert "£" not in text


@every_example
def test_boards_sheet_and_vcl_have_a_weight_and_the_sheet_its_hands(name: str) -> None:
    order = PAPERS["order"](worked(name))
    known = {x.id.partition(":")[0] for c in order.counters for x in c.lines if x.mass_kg}
    assert {"board", "sheet", "vcl"} <= known
    assert order.lifts[0].mass_kg == max(x.mass_kg for x in order.lifts)
    assert any("33" in x.says and "50" in x.says for x in order.lifts)


def test_the_same_job_gives_the_same_bytes() -> None:
    assert papers(work_out(load(EXAMPLES / "garage", ON).case)) == made("garage")


@every_example
def test_the_quotation_says_the_title_and_the_total(name: str) -> None:
    text, job = text_of(made(name)["quotation.pdf"]), worked(name)
    broken_at_hyphens = text.replace("\x02", "-")  # as the reader of the PDF tells a line's end
    assert " ".join(job.meta.title.split()) in " ".join(broken_at_hyphens.split())
    assert f"£{pounds(job.price.total.value)}" in text


@every_example
def test_the_groups_of_the_price_add_up_to_the_penny(name: str) -> None:
    money, price = PAPERS["quotation"](worked(name)).money, worked(name).price
    assert sum(g.pence for g in money.groups) == money.net_pence == round(price.net.value)
    assert money.net_pence + money.vat_pence == money.total_pence
    assert sum(s.pence for s in money.stages) == money.total_pence


@every_example
def test_the_quotation_is_silent_about_what_the_firm_pays_and_adds(name: str) -> None:
    pdf, price = made(name)["quotation.pdf"], worked(name).price
    told = f"{text_of(pdf)} {metadata_of(pdf)}"
    assert INNER.findall(told) == []
    money = PAPERS["quotation"](worked(name)).money
    sold = {pounds(x.pence) for x in (*money.groups, *money.stages, *money.rates)}
    sold |= {pounds(p) for p in (money.net_pence, money.vat_pence, money.total_pence)}
    cells = " ".join(c for t in money.choices for row in t.rows for c in row.cells)
    sold |= set(re.findall(r"£([\d,]+\.\d\d)", cells))
    inner = {pounds(w.value) for w in (price.cost, price.overhead, price.margin)}
    inner |= {pounds(x.pence) for x in price.lines}
    shown = set(re.findall(r"£([\d,]+\.\d\d)", told))
    assert not shown & (inner - sold)
    assert shown <= sold


@every_example
def test_the_calculations_show_the_price_only_as_it_is_sold(name: str) -> None:
    text = text_of(made(name)["calculations.pdf"])
    assert not re.search(r"\b(overheads?|mark-?up|profit)\b", text, re.I)
    price = worked(name).price
    for inner in (price.cost, price.overhead):
        assert f"{round(inner.value)} pence" not in text


def test_a_leaked_word_would_be_found() -> None:
    assert INNER.findall("Our costs, the Margin and the mark-up") == ["costs", "Margin", "mark-up"]


@every_example
def test_a_job_with_a_stop_is_a_draft_on_its_first_page_and_no_other_is(name: str) -> None:
    pdf = pdfium.PdfDocument(made(name)["quotation.pdf"])
    first = pdf[0].get_textpage().get_text_bounded()
    stops = PAPERS["quotation"](worked(name)).stops
    stopped = any(f.level == "stop" for f in worked(name).findings)
    assert ("DRAFT" in first) == bool(stops) == stopped


@every_example
@pytest.mark.parametrize("file", ["quotation.pdf", "calculations.pdf"])
def test_a_pdf_is_tagged_and_has_a_title(name: str, file: str) -> None:
    content = made(name)[file]
    pdf = pdfium.PdfDocument(content)
    assert pdfium.raw.FPDFCatalog_IsTagged(pdf.raw)
    assert worked(name).meta.title in pdf.get_metadata_dict()["Title"]
    assert b"pdfuaid:part" in content
    assert b"pdfaid:part" in content


@every_example
def test_every_result_of_the_first_page_has_its_working_in_the_paper(name: str) -> None:
    sheets = PAPERS["calculations"](worked(name))
    numbers = {n for room in sheets.rooms for line in room.lines for n in numbers_of(line)}
    assert {r.ref for r in sheets.results} <= numbers


def test_a_warning_of_the_compiler_is_an_error() -> None:
    page = b'#set document(title: "x")\n#set text(lang: "en", font: "No Such Face")\nword'
    with pytest.raises(TypesettingError, match="unknown font family"):
        compile_typst(page, {}, ON)


def test_a_picture_without_words_for_it_is_refused() -> None:
    page = b"""#set document(title: "x")
#set text(lang: "en", font: "Source Sans Pro")
#image(bytes("<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>"), format: "svg")"""
    with pytest.raises(TypesettingError, match="alt"):
        compile_typst(page, {}, ON)


def test_a_source_compiles_to_the_same_bytes_again() -> None:
    quotation, _ = sources(worked("garage"))
    assert compiled(quotation) == made("garage")["quotation.pdf"]


@every_example
def test_every_line_of_the_order_buys_what_is_needed_and_names_no_price(name: str) -> None:
    book = openpyxl.load_workbook(io.BytesIO(made(name)["order.xlsx"]))
    seen = 0
    for sheet in book.worksheets:
        rows: list[tuple[Any, ...]] = list(sheet.iter_rows(min_row=3, values_only=True))
        heads = rows[0]
        assert not any(re.search("price|£", str(c), re.I) for row in rows for c in row)
        for row in rows[1:] if "need" in heads else []:
            line = dict(zip(heads, row, strict=True))
            assert line["bought"] >= line["need"] - 1e-9, line["id"]
            assert line["packs"], line["id"]
            seen += 1
    assert seen == sum(len(c.lines) for c in PAPERS["order"](worked(name)).counters)


@every_example
def test_the_calendar_has_an_event_for_each_day_and_for_each_last_day_to_order(name: str) -> None:
    events = Calendar.from_ical(made(name)["programme.ics"]).walk("VEVENT")
    programme = worked(name).programme
    days = [e for e in events if "-day-" in str(e["uid"])]
    orders = [e for e in events if "-order-" in str(e["uid"])]
    assert [e.decoded("dtstart") for e in days] == [d.on for d in programme.days]
    assert [e.decoded("dtstart") for e in orders] == [
        b.order_by for b in programme.bookings if b.ordered_on is None
    ]
    off = [e for e in events if "-off-" in str(e["uid"])]
    assert [e.decoded("dtstart") for e in off] == [d.on for d in programme.off]
    count = len(days) + len(orders) + len(off)
    assert len({str(e["uid"]) for e in events}) == count == len(events)
    assert {e.decoded("dtstamp") for e in events} == {datetime(2026, 11, 25, tzinfo=UTC)}


@every_example
def test_an_alarm_goes_on_the_evening_before_the_roof_is_opened(name: str) -> None:
    events = Calendar.from_ical(made(name)["programme.ics"]).walk("VEVENT")
    for day in worked(name).programme.days:
        event = next(e for e in events if str(e["uid"]).endswith(f"-day-{day.number}@evenfall"))
        assert bool(event.walk("VALARM")) == bool(day.dry_hours)


@every_example
def test_the_plan_is_a_picture_with_a_title_and_words(name: str) -> None:
    text = made(name)["plan.svg"].decode()
    assert text.startswith("<svg")
    assert re.search(r"<title[^>]*>[^<]+</title><desc[^>]*>[^<]+</desc>", text)


def test_the_sheets_show_the_survey_and_the_window() -> None:
    drawn = json.loads(sources(worked("rear-extension"))[1].drawings)
    assert {"plan", "windows"} <= set(drawn)
    assert "before and after" in drawn["windows"]["title"]
    assert "windows" not in json.loads(sources(worked("garage"))[1].drawings)


def numbers(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:,\d{3})*(?:\.\d+)?", text))


def of_data(value: Any) -> set[str]:
    """Gather the numbers of a paper's data as they may be printed; whole ones as money too."""
    if isinstance(value, dict):
        return set().union(*map(of_data, value.values()))
    if isinstance(value, list):
        return set().union(*map(of_data, value))
    if isinstance(value, int | float) and not isinstance(value, bool):
        return {f"{value:g}", pounds(abs(value))}
    return numbers(str(value))


@every_example
def test_no_number_of_the_quotation_comes_from_anywhere_but_its_data_and_drawings(
    name: str,
) -> None:
    source = sources(worked(name))[0]
    drawn = json.loads(source.drawings)
    drawn.pop("logo", None)
    told = of_data(json.loads(source.data))
    lettered = numbers(re.sub(r"<[^>]*>", " ", json.dumps(drawn, ensure_ascii=False)))
    pdf = made(name)["quotation.pdf"]
    pages = {str(n + 1) for n in range(len(pdfium.PdfDocument(pdf)))}
    assert numbers(text_of(pdf)) - told - lettered - pages == set()


@every_example
def test_what_is_attached_to_the_quotation_tells_no_price(name: str) -> None:
    pdf, price = pdfium.PdfDocument(made(name)["quotation.pdf"]), worked(name).price
    inside = b" ".join(
        bytes(pdf.get_attachment(i).get_data()) for i in range(pdf.count_attachments())
    ).decode()
    assert not re.search(r"\b(margin|overhead|profit|pence|crew)\b", inside)
    inner = (price.cost, price.overhead, price.margin, price.net, price.total)
    assert not numbers(inside) & {f"{w.value:.0f}" for w in inner}


@every_example
def test_the_owners_workbook_adds_up_to_the_penny(name: str) -> None:
    book = openpyxl.load_workbook(io.BytesIO(made(name)["owner-only/price.xlsx"]), data_only=True)
    rows = list(book["Price"].iter_rows(min_row=4, values_only=True))
    lines = [r for r in rows if r[0]]
    sums = {r[2].split(":")[0]: r[6] for r in rows if r[2] and not r[0] and r[6] is not None}
    price = worked(name).price
    assert [r[1] for r in lines] == [x.id for x in price.lines]
    assert round(sum(r[6] for r in lines) * 100) == price.cost.value == round(sums["Cost"] * 100)
    assert round(sums["Price with VAT"] * 100) == price.total.value
    assert "What if" in book.sheetnames
    assert "Workings" in book.sheetnames


@every_example
def test_the_firm_and_not_the_client_reads_what_nobody_has_checked(name: str) -> None:
    book = openpyxl.load_workbook(io.BytesIO(made(name)["owner-only/price.xlsx"]))
    told = [r[1] for r in book["Before it goes out"].iter_rows(min_row=4, values_only=True)]
    quoted = text_of(made(name)["quotation.pdf"])
    assert any("worded from memory" in t for t in told) == ("Your right to" in quoted)
    assert "memory" not in quoted


def test_a_row_of_a_workbook_is_as_high_as_its_words() -> None:
    order = openpyxl.load_workbook(io.BytesIO(made("garage")["order.xlsx"]))
    sheet = next(s for s in order if s.title.startswith("Timber"))
    rows = list(sheet.iter_rows(min_row=4))
    deep = max(rows, key=lambda row: len(row[8].value or ""))
    assert len(deep[8].value) > 3 * sheet.column_dimensions["I"].width
    assert sheet.row_dimensions[deep[0].row].height > 40
