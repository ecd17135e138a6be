"""Slips and invoices as PDF, and a quotation with awkward names and a logo: read back as text."""

from __future__ import annotations

import hashlib
import io
from dataclasses import replace
from datetime import date
from pathlib import Path

import pypdfium2 as pdfium
import pytest
import yaml
from PIL import Image
from typer.testing import CliRunner

from evenfall.app.cli import app
from evenfall.app.loading import DEMO_RATES, load
from evenfall.app.papers.bills import invoice_pdf, slip_pdf
from evenfall.app.papers.logo import read_logo
from evenfall.app.papers.pdf import compiled, sources
from evenfall.errors import InvalidInput
from evenfall.flow import PAPERS, WorkedJob, work_out
from evenfall.model.finding import Remedy

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
ODD = '#let x = 1; $ y $ <script>alert(1)</script> *bold* \\ "A" & _b_ `c` @d'
run = CliRunner().invoke


def png(width: int = 640, height: int = 210) -> bytes:
    target = io.BytesIO()
    Image.new("RGB", (width, height), (21, 33, 43)).save(target, "PNG")
    return target.getvalue()


PHOTO = png(400, 300)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The garage, accepted, with two finds on site and three invoices; a logo in its rates."""
    place = tmp_path_factory.mktemp("garage")
    data = yaml.safe_load((EXAMPLES / "garage" / "job.yaml").read_text(encoding="utf-8"))
    data["job"]["client"] = ODD
    data["design"]["options"] = []
    data["job"]["surveyed_on"], data["calendar"] = "2026-10-19", {
        "start_on": "2026-12-07", "days_off": ["2026-12-11"], "saturdays": True}  # fmt: skip
    data["record"] = {
        "accepted": {"on": "2026-11-30", "net_pence": 1_251_881, "total_pence": 1_502_257,
                     "prices": "0" * 12},
        "agreed": [{"finding": "accepted-other-prices", "subject": "price", "by": "Mr Pryce",
                    "on": "2026-12-01"}],
        "extras": [
            {"name": "rot", "rate": "hidden-deck", "found": 7.4, "where": f"By {ODD}",
             "found_on": "2026-12-09", "signed": {"by": "Mr Pryce", "on": "2026-12-09"},
             "photo": {"file": "rot.png", "sha256": hashlib.sha256(PHOTO).hexdigest()}},
            {"name": "joist", "rate": "joist-repair", "found": 2.2, "where": "Over the bench",
             "found_on": "2026-12-10"},
        ],
        "invoices": [
            {"number": "R-1", "stage": "deposit", "on": "2026-12-01"},
            {"number": "R-2", "stage": "watertight", "on": "2026-12-18"},
            {"number": "R-3", "stage": "handover", "on": "2026-12-23"},
        ],
    }  # fmt: skip
    (place / "job.yaml").write_text(yaml.safe_dump(data), encoding="utf-8")
    (place / "rot.png").write_bytes(PHOTO)
    rates = DEMO_RATES.read_text(encoding="utf-8").replace(
        "  vat_registered: true", "  logo: logo.png\n  vat_registered: true"
    )
    (place / "rates.yaml").write_text(rates, encoding="utf-8")
    (place / "logo.png").write_bytes(png())
    return place


@pytest.fixture(scope="module")
def worked(folder: Path) -> WorkedJob:
    return work_out(load(folder, ON).case)


def text_of(pdf: bytes) -> str:
    pages = pdfium.PdfDocument(pdf)
    told = "\n".join(page.get_textpage().get_text_bounded() for page in pages)
    return " ".join(told.split())


def pounds(pence: float) -> str:
    return f"£{round(pence) / 100:,.2f}"


def test_a_slip_says_what_it_costs_and_that_it_was_signed(worked: WorkedJob, folder: Path) -> None:
    slip = worked.extras.slips[0]
    text = text_of(slip_pdf(worked, "rot", folder))
    for value in (slip.net, slip.vat, slip.total, slip.new_total):
        assert pounds(value.value) in text
    assert f"{slip.new_finish.day} {slip.new_finish:%B %Y}" in text
    assert "Signed by Mr Pryce" in text
    assert "Held." not in text
    assert slip.photo_sha256[:12] in text.replace("\u200b", "").replace(" ", "")


def test_an_unsigned_slip_is_held(worked: WorkedJob, folder: Path) -> None:
    text = text_of(slip_pdf(worked, "joist", folder))
    assert "Held." in text
    assert "Signature" in text
    assert "No photo" in text


def test_a_changed_photo_is_refused(worked: WorkedJob, tmp_path: Path) -> None:
    (tmp_path / "rot.png").write_bytes(png(401, 300))
    with pytest.raises(InvalidInput, match="as it was taken"):
        slip_pdf(worked, "rot", tmp_path)
    with pytest.raises(InvalidInput, match="cannot be read"):
        slip_pdf(worked, "rot", tmp_path / "elsewhere")


def test_an_invoice_says_its_lines_its_vat_and_the_account(worked: WorkedJob) -> None:
    one = worked.invoices.invoices[1]
    assert [x.id for x in one.lines] == ["stage:watertight", "extra:rot"]
    text = text_of(invoice_pdf(worked, "R-2"))
    for line in one.lines:
        assert pounds(line.net_pence) in text
        assert pounds(line.vat_pence) in text
    for value in (one.net.value, one.vat.value, one.total.value, one.left_pence):
        assert pounds(value) in text
    assert "VAT number GB 000 0000 00" in text
    assert "Bank of Nowhere" in text
    assert "1 January 2027" in text


def test_the_last_stage_is_the_final_invoice(worked: WorkedJob) -> None:
    assert "Final invoice R-3" in text_of(invoice_pdf(worked, "R-3"))
    assert "Final invoice" not in text_of(invoice_pdf(worked, "R-1"))


def test_an_invoice_with_a_hole_is_refused(worked: WorkedJob) -> None:
    rates = worked.case.rates
    for key in ("vat_number", "pay_to"):
        firm = rates.firm.model_copy(update={key: None})
        bare = replace(worked, case=replace(worked.case, rates=rates.model_copy(
            update={"firm": firm})))  # fmt: skip
        with pytest.raises(InvalidInput, match=key):
            invoice_pdf(bare, "R-1")
    job = worked.case.job
    record = job.record.model_copy(update={"accepted": None})
    open_ = replace(worked, case=replace(worked.case, job=job.model_copy(
        update={"record": record})))  # fmt: skip
    with pytest.raises(InvalidInput, match="net_pence: "):
        invoice_pdf(open_, "R-1")


@pytest.mark.parametrize("kind", ["slip", "invoice"])
def test_no_slip_or_invoice_goes_by_prices_that_were_not_accepted(
    worked: WorkedJob, folder: Path, kind: str
) -> None:
    open_ = tuple(
        replace(f, level="agree", remedy=Remedy("Work it with the kept prices."))
        if f.code == "accepted-other-prices" else f
        for f in worked.findings
    )  # fmt: skip
    assert open_ != worked.findings
    new = replace(worked, findings=open_)
    with pytest.raises(InvalidInput, match="Work it with the kept prices"):
        slip_pdf(new, "rot", folder) if kind == "slip" else invoice_pdf(new, "R-1")


@pytest.mark.parametrize("paper", ["quotation", "slip", "invoice"])
def test_names_with_markup_in_them_are_plain_text(
    worked: WorkedJob, folder: Path, paper: str
) -> None:
    pdf = {
        "quotation": lambda: compiled(sources(worked)[0]),
        "slip": lambda: slip_pdf(worked, "rot", folder),
        "invoice": lambda: invoice_pdf(worked, "R-1"),
    }[paper]()
    assert "".join(ODD.split()) in "".join(text_of(pdf).split()).replace("\u200b", "")
    assert b"/JavaScript" not in pdf
    assert b"/Launch" not in pdf


@pytest.mark.parametrize("paper", ["slip", "invoice"])
def test_no_client_paper_tells_hours_cost_or_margin(
    worked: WorkedJob, folder: Path, paper: str
) -> None:
    pdf = slip_pdf(worked, "rot", folder) if paper == "slip" else invoice_pdf(worked, "R-2")
    text = text_of(pdf).lower()
    assert not [w for w in ("margin", "overhead", "profit", "person-hour", "crew") if w in text]
    document = pdfium.PdfDocument(pdf)
    inside = b"".join(
        bytes(document.get_attachment(i).get_data()) for i in range(document.count_attachments())
    )
    assert b"pence" not in inside


def test_the_logo_is_on_the_quotation_with_words_for_it(worked: WorkedJob) -> None:
    assert b"Logo of Hollin Bank" in sources(worked)[0].drawings.encode()
    bare = replace(worked, case=replace(worked.case, logo=None))
    assert len(compiled(sources(bare)[0])) < len(compiled(sources(worked)[0]))


@pytest.mark.parametrize(
    "content", [b"", b"<svg onload='alert(1)'/>", b"%PDF-1.7", png()[:60], b"GIF89a" + b"\0" * 20]
)
def test_a_logo_that_is_no_picture_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "logo.png").write_bytes(content)
    with pytest.raises(InvalidInput, match="is no picture"):
        read_logo(tmp_path / "rates.yaml", "logo.png")


def test_a_logo_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InvalidInput, match="cannot be read"):
        read_logo(tmp_path / "rates.yaml", "logo.png")


def test_the_commands_write_slip_and_invoice(folder: Path, tmp_path: Path) -> None:
    args = (str(folder), "--on", "2026-11-25", "--out", str(tmp_path))
    done = run(app, ["slip", args[0], "rot", *args[1:]])
    assert done.exit_code == 0, done.output
    assert (tmp_path / "slip-rot.pdf").read_bytes().startswith(b"%PDF")
    wrong = run(app, ["invoice", args[0], "R-9", *args[1:]])
    assert wrong.exit_code == 2
    assert "R-1, R-2, R-3" in wrong.stderr


def test_kept_prices_make_the_old_quotation_again(
    worked: WorkedJob, folder: Path, tmp_path: Path
) -> None:
    from evenfall.app.papers.owner import owner_files

    mark = worked.price.mark
    kept = tmp_path / f"rates-{mark}.yaml"
    kept.write_bytes(owner_files(worked)[f"owner-only/rates-{mark}.yaml"])
    (tmp_path / "logo.png").write_bytes((folder / "logo.png").read_bytes())
    again = work_out(load(folder, ON, kept).case, worked)
    assert again.price.mark == mark
    assert compiled(sources(again)[0]) == compiled(sources(worked)[0])


@pytest.mark.parametrize(
    ("key", "value"), [("found", 9.1), ("where", "By the chimney"), ("rate", "second-felt")]
)
def test_what_is_changed_in_the_job_changes_slip_and_invoice(
    worked: WorkedJob, key: str, value: object
) -> None:
    from evenfall.flow import BILLS
    from evenfall.model.change import apply
    from evenfall.model.finding import Change

    job = apply(worked.case.job, [Change(f"record.extras[rot].{key}", value)])
    again = work_out(replace(worked.case, job=job), worked)
    assert BILLS["slip"](again, "rot") != BILLS["slip"](worked, "rot")
    assert BILLS["invoice"](again, "R-2") != BILLS["invoice"](worked, "R-2")
    assert BILLS["invoice"](again, "R-1") == BILLS["invoice"](worked, "R-1")


def test_the_handover_file_names_the_final_invoice(worked: WorkedJob) -> None:
    begun = replace(worked, invoices=replace(worked.invoices, invoices=()))
    last, none = (
        {p.what: (p.held, p.says) for p in PAPERS["handover"](w).pieces}["Invoice with VAT"]
        for w in (worked, begun)
    )
    assert last == (True, "The last one: R-3, 23 December 2026.")
    assert none[0] is False
