"""Workbooks and drawing files opened by an office program, where one is on the machine."""

from __future__ import annotations

import shutil
import subprocess
from datetime import date
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from evenfall.app.loading import load
from evenfall.app.papers.drawing_pages import files
from evenfall.app.papers.owner import price_xlsx
from evenfall.app.papers.workbook import order_xlsx
from evenfall.flow import PAPERS, WorkedJob, work_out

OFFICE = shutil.which("soffice")
EXAMPLE = Path(__file__).parents[2] / "examples" / "garage"
MINUTES = 5 * 60.0

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(OFFICE is None, reason="no office program (soffice) on this machine"),
]


@pytest.fixture(scope="module")
def worked() -> WorkedJob:
    return work_out(load(EXAMPLE, date(2026, 11, 25)).case)


@pytest.fixture(scope="module")
def opened(worked: WorkedJob, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Every workbook and drawing file, opened and printed as PDF."""
    folder = tmp_path_factory.mktemp("opened")
    made = {"order.xlsx": order_xlsx(worked), "price.xlsx": price_xlsx(worked)} | files(worked)
    for name, content in made.items():
        (folder / name).write_bytes(content)
    own = f"-env:UserInstallation={(folder / 'own').as_uri()}"
    words = [str(OFFICE), "--headless", own, "--convert-to", "pdf", "--outdir", str(folder)]
    subprocess.run([*words, *(str(folder / n) for n in made)], check=True,
                   capture_output=True, timeout=MINUTES)  # fmt: skip
    return {name: (folder / name).with_suffix(".pdf") for name in made}


def text_of(pdf: Path) -> str:
    return " ".join(
        " ".join(page.get_textpage().get_text_bounded().split()) for page in pdfium.PdfDocument(pdf)
    )


def test_every_file_opens(opened: dict[str, Path]) -> None:
    assert [name for name, pdf in opened.items() if not pdf.is_file()] == []


def test_the_order_shows_every_line(opened: dict[str, Path], worked: WorkedJob) -> None:
    told = "".join(text_of(opened["order.xlsx"]).split())
    lines = [x.id for counter in PAPERS["order"](worked).counters for x in counter.lines]
    assert [one for one in lines if one not in told] == []


def test_the_workbook_of_the_owner_reckons_the_same_total(
    opened: dict[str, Path], worked: WorkedJob
) -> None:
    assert f"{worked.price.total.value / 100:,.2f}" in text_of(opened["price.xlsx"])


def test_a_drawing_lies_on_its_page_and_is_no_speck(opened: dict[str, Path]) -> None:
    for name, pdf in opened.items():
        if name.endswith(".dxf"):
            page = pdfium.PdfDocument(pdf)[0]
            boxes = [one.get_bounds() for one in page.get_objects()]
            wide = max(b[2] for b in boxes) - min(b[0] for b in boxes)
            high = max(b[3] for b in boxes) - min(b[1] for b in boxes)
            share = max(wide / page.get_width(), high / page.get_height())
            assert 0.3 < share <= 1.0, name  # neither a speck nor over the edge
