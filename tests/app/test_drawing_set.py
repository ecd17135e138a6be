"""The drawing set as PDF and DXF: every sheet titled, every measure real, every DXF sound."""

from __future__ import annotations

import io
import json
from collections import Counter

import pypdfium2 as pdfium
import pytest
from ezdxf import recover
from tests.unit.papers import NAMES, worked

from evenfall.app.papers.drawing_pages import PAPERS_MM, bar, drawings_source, files, fitted
from evenfall.app.papers.pdf import compiled
from evenfall.flow import PAPERS

MM_PER_POINT = 25.4 / 72


@pytest.fixture(scope="module")
def made() -> dict[str, dict[str, bytes]]:
    return {name: files(worked(name)) for name in NAMES}


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_bears_its_number_issue_scale_and_page(name: str) -> None:
    sheets = PAPERS["drawings"](worked(name))
    pages = pdfium.PdfDocument(compiled(drawings_source(worked(name))))
    assert len(pages) >= len(sheets) + 1
    reference = worked(name).meta.reference
    texts = [page.get_textpage().get_text_bounded() for page in pages]
    for sheet in sheets:
        (text, *_) = [t for t in texts[1:] if f"{reference}-{sheet.number}" in t]
        assert sheet.title in text
        assert "25 November 2026" in text
        assert f"1 : {fitted(sheet).drawing.scale:g}" in text
        assert f"of {len(pages)}" in text
    assert all(f"{reference}-{s.number}" in texts[0] for s in sheets)


@pytest.mark.parametrize("name", NAMES)
def test_a_drawing_fits_its_paper_at_its_scale(name: str) -> None:
    pages = pdfium.PdfDocument(compiled(drawings_source(worked(name))))
    for sheet, page in zip(PAPERS["drawings"](worked(name)), list(pages)[1:], strict=False):
        fit = fitted(sheet)
        wide, high = (v * MM_PER_POINT for v in page.get_size())
        assert (wide, high) == pytest.approx(PAPERS_MM[fit.paper], abs=0.1)
        box = fit.drawing.bounds()
        assert box.width / fit.drawing.scale < wide - 24
        assert box.height / fit.drawing.scale < high - 50


@pytest.mark.parametrize("name", NAMES)
def test_every_dxf_opens_without_a_fault_and_measures_what_it_says(
    name: str, made: dict[str, dict[str, bytes]]
) -> None:
    for file, content in made[name].items():
        document, audit = recover.read(io.BytesIO(content))
        assert not audit.errors, file
        assert document.dxfversion == "AC1024", file
        assert document.units == 4, file  # millimetres
        sizes = [e for e in document.modelspace() if e.dxftype() == "DIMENSION"]
        assert sizes or file == "saw-list.dxf", file
        for size in sizes:
            said = size.dxf.text.split()[-1]
            measured = size.dxf.actual_measurement
            if "." in said:  # metres
                assert float(said) * 1000 == pytest.approx(measured, abs=6), (file, said)


@pytest.mark.parametrize("name", NAMES)
def test_layers_are_named_in_words(name: str, made: dict[str, dict[str, bytes]]) -> None:
    plan, _ = recover.read(io.BytesIO(made[name]["plan.dxf"]))
    names = {layer.dxf.name for layer in plan.layers}
    assert {"roof outline", "edges", "tapes", "heights", "title block"} <= names


def test_there_is_one_section_of_each_kind_of_edge_and_of_each_window() -> None:
    job = worked("rear-extension")
    keys = Counter(s.key for s in PAPERS["drawings"](job))
    assert {f"section-{s.kind}" for s in job.plan.sides} <= set(keys)
    assert {f"section-{w.name}" for w in job.windows.windows} <= set(keys)
    assert keys["section-rooflight"] == 1
    assert max(keys.values()) == 1


def test_the_section_at_an_edge_measures_every_layer_that_can_be_told_apart() -> None:
    job = worked("rear-extension")
    (eaves,) = [s for s in PAPERS["drawings"](job) if s.key == "section-eaves"]
    sizes = [i for x in eaves.drawing.layers if x.name == "sizes" for i in x.items]
    board = [s for s in sizes if getattr(s, "text", "") == f"{job.rise.chosen_mm}"]
    assert len(board) == 1
    assert abs(board[0].a[1] - board[0].b[1]) == pytest.approx(job.rise.chosen_mm)


def test_a_scale_bar_is_as_long_as_it_says() -> None:
    for scale in (5, 10, 20, 25, 50, 75, 100, 200):
        made = bar(scale)
        end, unit = made["words"][-1].split()
        length = float(end) * (1000 if unit == "m" else 1)
        assert made["part"] * 5 * scale == pytest.approx(length)


def test_no_north_is_drawn_where_the_job_gives_none_and_the_sheet_says_so() -> None:
    text = pdfium.PdfDocument(compiled(drawings_source(worked("garage"))))[1]
    assert "North not given" in text.get_textpage().get_text_bounded()


def test_drawings_go_to_others_so_that_the_extract_lies_in_them() -> None:
    held = json.loads(drawings_source(worked(NAMES[0])).attached)
    assert held["name"] == "roof.json"
    assert not [w for w in ("crew", "note", "rates", "pence") if f'"{w}' in held["text"].lower()]
