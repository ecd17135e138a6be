"""The papers of the site, read back: order, cut lists, day sheets, safety, programme, handover."""

from __future__ import annotations

import json
from datetime import date, timedelta
from functools import cache

import pypdfium2 as pdfium
import pytest
from icalendar import Calendar
from tests.unit.papers import NAMES, changed, worked

from evenfall.app.papers.calendar_file import care_ics
from evenfall.app.papers.pdf import compiled
from evenfall.app.papers.site_pages import SITE
from evenfall.app.reading import read_model
from evenfall.flow import PAPERS
from evenfall.model.job import Job
from evenfall.standards.programme_practice import HOLD_POINTS

every_example = pytest.mark.parametrize("name", NAMES)
FIRM = ("cut-lists.pdf", "day-sheets.pdf", "construction-phase-plan.pdf")
CLIENTS = ("programme.pdf", "handover.pdf")
INNER = ("pence", "overhead", "margin", "hours_a_day", "people", "hours", "£")


@cache
def pdf(name: str, file: str) -> pdfium.PdfDocument:
    return pdfium.PdfDocument(compiled(SITE[file](worked(name))))


@cache
def pages(name: str, file: str) -> list[str]:
    texts = (page.get_textpage().get_text_bounded() for page in pdf(name, file))
    return [" ".join(text.split()) for text in texts]


@every_example
@pytest.mark.parametrize("file", [*FIRM, *CLIENTS, "order.pdf"])
def test_every_page_bears_reference_issue_date_and_its_number(name: str, file: str) -> None:
    found = pages(name, file)
    for n, text in enumerate(found, 1):
        assert worked(name).meta.reference in text
        assert "issue A" in text
        assert "25 November 2026" in text
        assert f"{n} of {len(found)}" in text


@every_example
def test_the_order_names_every_line_with_its_packs_and_no_price(name: str) -> None:
    text = " ".join(pages(name, "order.pdf"))
    for counter in PAPERS["order"](worked(name)).counters:
        assert counter.name in text
        for line in counter.lines:
            assert line.packs in text, line.id
    assert "£" not in text
    assert pdf(name, "order.pdf").count_attachments() == 0


@every_example
def test_the_cut_lists_saw_every_piece_of_every_bar(name: str) -> None:
    text, job = " ".join(pages(name, "cut-lists.pdf")), worked(name)
    for run in job.lengths.runs:
        assert run.says in text
        for bar in run.bars:
            assert all(f"{mm} for {where}" in text for where, mm in bar.cuts)
    told = {b.name: sum(x.count for x in b.bars) for b in PAPERS["cut lists"](job)}
    assert all(told[run.says] == len(run.bars) for run in job.lengths.runs)


@every_example
def test_a_day_has_one_page_with_its_work_its_stops_and_its_night(name: str) -> None:
    job, found = worked(name), pages(name, "day-sheets.pdf")
    days = job.programme.days
    assert len(found) == len(days)
    tasks = {t.id: t for t in job.tasks.tasks}
    for day, text in zip(days, found, strict=True):
        assert f"Day {day.number} of {len(days)}" in text
        assert all(tasks[i].says.split(",")[0] in text for i, _ in day.work)
        assert job.case.rates.firm.telephone in text
        assert "Tonight" in text


@every_example
def test_every_hold_point_of_the_work_is_due_once_it_is_done(name: str) -> None:
    job = worked(name)
    due = {h.number for s in PAPERS["day sheets"](job) for h in s.holds}
    assert due == {t.hold_point for t in job.tasks.tasks if t.hold_point is not None}


def test_a_stop_stands_at_the_head_of_the_first_day() -> None:
    first = pages("courtyard", "day-sheets.pdf")[0]
    assert "Not to be started before this is settled" in first
    assert "Felt of 1987 may hold asbestos" in first
    assert "Not to be started" not in pages("garage", "day-sheets.pdf")[0]


def test_a_caution_is_told_on_the_days_of_the_work_that_triggers_it_and_no_other() -> None:
    sheets = PAPERS["day sheets"](worked("rear-extension"))
    cables = [s.number for s in sheets if any(c.risk == "cables" for c in s.cautions)]
    stripped = [s.number for s in sheets
                if any(w.says.startswith(("Look over", "Screws")) for w in s.work)]  # fmt: skip
    assert cables == stripped
    dry = changed("rear-extension", ("survey.below.cables_in_void", False))
    told = {c.risk for s in PAPERS["day sheets"](dry) for c in s.cautions}
    assert "cables" not in told
    assert "falls from the edge" in told


def test_no_gate_for_bonding_on_a_day_without_bonding() -> None:
    first, *_, last = PAPERS["day sheets"](worked("rear-extension"))
    assert not any("bonded" in g for g in last.gates)  # gutter, downpipe, clearing up
    assert any("No paint below 8" in g for g in first.gates)  # the first coat is on this day
    assert not any("No paint below 8" in g for g in last.gates)
    assert any("Nothing is bonded below 5" in g for g in first.gates)


@every_example
def test_the_safety_plan_names_every_risk_and_counts_person_days(name: str) -> None:
    text, plan = (" ".join(pages(name, "construction-phase-plan.pdf")),
                  PAPERS["construction-phase plan"](worked(name)))  # fmt: skip
    assert all(r.risk in text for r in plan.risks)
    assert "No notification" in text
    assert "999" in text
    assert all(h.passes.split(",")[0] in text for h in HOLD_POINTS)


@every_example
def test_the_clients_programme_is_one_page_without_hours_crew_or_price(name: str) -> None:
    (text,) = pages(name, "programme.pdf")
    for day in worked(name).programme.days:
        assert f"{day.on:%a} {day.on.day} {day.on:%b}" in text
    assert "person" not in text
    assert "£" not in text


@every_example
def test_the_handover_file_says_what_is_missing_and_who_brings_it(name: str) -> None:
    text, file = " ".join(pages(name, "handover.pdf")), PAPERS["handover"](worked(name))
    assert all(p.what in text for p in file.pieces)
    assert all(p.who for p in file.pieces if not p.held)
    missing = sum(not p.held for p in file.pieces)
    assert f"{missing} still missing" in text
    assert f"{worked(name).heat.u.value:.2f} W/(m²K)" in text
    assert all(f"{r.percent:g} %" in text for r in worked(name).case.job.survey.readings)


def test_what_was_agreed_in_writing_is_in_the_handover_file() -> None:
    agreed = worked("courtyard").case.job.record.agreed
    text = " ".join(pages("courtyard", "handover.pdf"))
    assert agreed
    assert all(a.by in text for a in agreed)


@every_example
def test_the_firms_papers_hold_the_job_and_those_of_the_client_an_extract(name: str) -> None:
    for file in FIRM:
        (held,) = (pdf(name, file).get_attachment(0),)
        assert held.get_name() == "job.json"
        read = read_model(bytes(held.get_data()), "job.json", Job)
        assert read == worked(name).case.job
    for file in CLIENTS:
        held = pdf(name, file).get_attachment(0)
        assert held.get_name() == "roof.json"
        data = json.loads(bytes(held.get_data()))
        assert data["reference"] == worked(name).meta.reference
        told = json.dumps(data, ensure_ascii=False).lower()
        assert not [word for word in INNER if f'"{word}' in told or "£" in told]
        assert worked(name).meta.note not in told or not worked(name).meta.note


def test_reminders_come_again_every_spring_and_autumn() -> None:
    events = Calendar.from_ical(care_ics(worked("garage"))).walk("VEVENT")
    *care, end = events
    assert [e.decoded("dtstart") for e in care] == [date(2027, 4, 15), date(2027, 11, 15)]
    assert all(e["rrule"]["FREQ"] == ["YEARLY"] for e in care)
    finish = worked("garage").programme.finish_on
    ends = finish.replace(year=finish.year + 10) - timedelta(days=1)
    assert all(e["rrule"]["UNTIL"] == [ends] for e in care)
    assert end.decoded("dtstart") == ends


def test_another_issue_stands_on_every_paper() -> None:
    job = changed("garage", ("job.revision", "C"))
    text = pdfium.PdfDocument(compiled(SITE["programme.pdf"](job)))[0]
    assert "issue C" in text.get_textpage().get_text_bounded()


CLIENT = "Messrs #let x = $1$ <script> & Co"
LONG = "Long terrace of workshops behind the former Wholesale Haberdashery and Umbrella Works, rear"


def test_long_names_and_names_with_markup_stay_on_their_page_as_they_are_written() -> None:
    job = changed("garage", ("job.title", LONG), ("job.client", CLIENT))
    for file in ("programme.pdf", "order.pdf"):
        found = pdfium.PdfDocument(compiled(SITE[file](job)))
        assert len(found) == len(pages("garage", file))
        first = " ".join(found[0].get_textpage().get_text_bounded().split())
        assert LONG in first
        if file == "programme.pdf":
            assert CLIENT in first
