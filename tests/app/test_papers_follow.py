"""What is changed in the job is changed on every paper that shows it, and on none stays the old."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from evenfall.app.loading import load
from evenfall.app.papers import printed
from evenfall.app.papers.calendar_file import care_ics, programme_ics
from evenfall.app.papers.day_file import day_files
from evenfall.app.papers.drawing_pages import files
from evenfall.flow import WorkedJob, work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.rates import Rates

EXAMPLE = Path(__file__).parents[2] / "examples" / "garage"
NEW = {
    "job.client": "Zebedee Quillfeather",
    "job.address": "99 Vexillum Walk",
    "job.title": "Quaggy lean-to",
    "job.reference": "QZX-7731",
}
FIRM = {"name": "Xylem and Wuthering", "telephone": "00000 121 343"}
SHOWN_ON = {
    "job.client": {"quotation.pdf", "calculations.pdf", "drawings.pdf", "handover.pdf",
                   "construction-phase-plan.pdf", "programme.pdf"},
    "job.address": {"quotation.pdf", "order.pdf", "day-sheets.pdf", "handover.pdf", "plan.dxf"},
    "job.title": {"quotation.pdf", "calculations.pdf", "cut-lists.pdf", "plan.dxf"},
    "job.reference": {"quotation.pdf", "order.pdf", "section-eaves.dxf", "programme.ics"},
    "name": {"quotation.pdf", "calculations.pdf", "drawings.pdf", "order.pdf", "plan.dxf"},
    "telephone": {"quotation.pdf", "order.pdf", "handover.pdf", "days/day-1.html"},
}  # fmt: skip
"""Where a word is sure to be read, so that the law is not held by papers that say nothing."""


@cache
def before() -> WorkedJob:
    return work_out(load(EXAMPLE, date(2026, 11, 25)).case)


@cache
def told_before() -> dict[str, str]:
    return dict(told(before()))


def told(worked: WorkedJob) -> Iterator[tuple[str, str]]:
    """Everything that a paper is made from, unfolded, as one text each."""
    for name, make in printed().items():
        source = make(worked)
        yield name, f"{source.data} {source.drawings} {source.attached}"
    for name, content in (files(worked) | day_files(worked)).items():
        yield name, content.decode()
    for name, make_ics in (("care.ics", care_ics), ("programme.ics", programme_ics)):
        yield name, make_ics(worked).decode().replace("\r\n ", "")


def with_rates(change: dict[str, dict[str, Any]]) -> WorkedJob:
    data = before().case.rates.model_dump(mode="json")
    for table, values in change.items():
        data[table] |= values
    rates = Rates.model_validate_json(json.dumps(data))
    return work_out(replace(before().case, rates=rates), before())


def stale(old: str, new: str, after: dict[str, str]) -> list[str]:
    """Name the papers that still say the old, or said it and do not say the new."""
    return [
        name for name, text in after.items()
        if old in text or (old in told_before()[name] and new not in text)
    ]  # fmt: skip


def test_names_of_the_job_change_on_every_paper() -> None:
    job = before().case.job
    after = dict(told(work_out(
        replace(before().case, job=apply(job, [Change(k, v) for k, v in NEW.items()])), before()
    )))  # fmt: skip
    for path, new in NEW.items():
        old = getattr(job.job, path.partition(".")[2])
        assert stale(old, new, after) == [], path
        assert {n for n in SHOWN_ON[path] if new not in after[n]} == set(), path


def test_names_of_the_firm_change_on_every_paper() -> None:
    firm = before().case.rates.firm
    after = dict(told(with_rates({"firm": FIRM})))
    for key, new in FIRM.items():
        assert stale(getattr(firm, key), new, after) == [], key
        assert {n for n in SHOWN_ON[key] if new not in after[n]} == set(), key


def test_a_dearer_hour_changes_the_total_wherever_it_stands() -> None:
    hour = before().case.rates.terms.labour_pence_hour
    dearer = with_rates({"terms": {"labour_pence_hour": hour + 7}})
    old, new = (round(w.price.total.value) for w in (before(), dearer))
    after = dict(told(dearer))
    assert new > old
    for shape in ("{}", "{:,}"):
        assert stale(shape.format(old), shape.format(new), after) == []
    pounds = [f"£{p / 100:,.2f}" for p in (old, new)]
    assert stale(pounds[0], pounds[1], after) == []
    assert {n for n in ("quotation.pdf", "calculations.pdf") if pounds[1] not in after[n]} == set()


def test_a_paper_that_kept_the_old_would_be_named() -> None:
    after = dict(told_before()) | {"order.pdf": "QZX-7731"}
    assert "order.pdf" not in stale(before().case.job.job.reference, "QZX-7731", after)
    assert "quotation.pdf" in stale(before().case.job.job.reference, "QZX-7731", after)
