"""Slips for extra work and invoices as PDF, in the look of the house."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path
from typing import Any

from evenfall.app.papers.bare import bare_jpeg, bare_picture
from evenfall.app.papers.logo import firm_logo
from evenfall.app.papers.pdf import compiled, source
from evenfall.errors import InvalidInput
from evenfall.flow import BILLS, WorkedJob

LARGEST = 60_000_000
"""Bytes of a photo; a telephone's is a tenth of that."""
WIDE_MM, HIGH_MM = 118.0, 78.0


def slip_pdf(worked: WorkedJob, name: str, folder: Path) -> bytes:
    """Make the slip of some extra work, with its photo if the job names one.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    name : str
        Name of the extra work [-].
    folder : Path
        Folder of the job, from which its photos are named [-].

    Returns
    -------
    bytes
        The PDF [-].

    Raises
    ------
    InvalidInput
        No such extra work, or a photo that is not the one of the job.
    """
    paper = BILLS["slip"](worked, name)
    shown: dict[str, Any] = dict(firm_logo(worked.case))
    if paper.photo:
        shown["photo"] = _photo(folder, paper.photo, paper.photo_sha256, paper.where)
    return compiled(source(worked, "slip.typ", paper, shown, clients=True))


def invoice_pdf(worked: WorkedJob, number: str) -> bytes:
    """Make an invoice.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    number : str
        Its number in the job file [-].

    Returns
    -------
    bytes
        The PDF [-].

    Raises
    ------
    InvalidInput
        No such invoice, or one with a hole in it.
    """
    paper = BILLS["invoice"](worked, number)
    made = source(worked, "invoice.typ", paper, firm_logo(worked.case), clients=True)
    return compiled(replace(made, on=paper.on))


def _photo(folder: Path, name: str, sha256: str, where: str) -> dict[str, Any]:
    """Read the photo, hold it against its SHA-256, and leave nothing in it but the picture."""
    key = "record.extras: photo"
    try:
        with _named(folder / name).open("rb") as stream:
            raw = stream.read(LARGEST + 1)
    except OSError as error:
        raise InvalidInput(f"{name} cannot be read ({error.strerror})", "a photo in the folder of "
                           "the job", where=key) from None  # fmt: skip
    found = hashlib.sha256(raw).hexdigest()
    if found != sha256:
        raise InvalidInput(
            f"{name} with SHA-256 {found}", f"the photo as it was taken, {sha256}", where=key,
            do="look whether the file was changed; a new photo needs its own number in the job",
        )  # fmt: skip
    upright = bare_picture(raw, name, key)
    high = min(HIGH_MM, WIDE_MM * upright.height / upright.width)
    return {"bytes": list(bare_jpeg(upright)), "format": "jpg", "height": high,
            "alt": f"Photo before the repair. {where}"}  # fmt: skip


def _named(file: Path) -> Path:
    """Find a photo that is named by its hash alone, as the log of the roof names it."""
    known = (file.with_name(file.name + end) for end in (".jpg", ".png", ".webp"))
    return file if file.exists() else next((k for k in known if k.is_file()), file)
