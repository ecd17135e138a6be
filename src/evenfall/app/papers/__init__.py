"""The ink: PDF, SVG, DXF, XLSX, CSV and calendar files made from what `stages.papers` says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from evenfall.flow import WorkedJob

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from evenfall.app.papers.pdf import Source


def papers(worked: WorkedJob, photos: Path | None = None) -> dict[str, bytes]:
    """Make all papers of a worked job.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    photos : Path, optional
        Folder of its photos, each named by its SHA-256 [-].

    Returns
    -------
    dict of str to bytes
        Files by name; the same bytes for the same job [-].
    """
    from evenfall.app.papers.calendar_file import care_ics, programme_ics
    from evenfall.app.papers.comma import order_csv
    from evenfall.app.papers.day_file import day_files
    from evenfall.app.papers.drawing_pages import files
    from evenfall.app.papers.owner import owner_files
    from evenfall.app.papers.pictures import plans
    from evenfall.app.papers.workbook import order_xlsx

    return {
        **{name: paper(worked, name, photos) for name in printed()},
        **plans(worked),
        **files(worked),
        "order.xlsx": order_xlsx(worked),
        "order.csv": order_csv(worked),
        "programme.ics": programme_ics(worked),
        **day_files(worked),
        **owner_files(worked),
        "care.ics": care_ics(worked),
    }


def printed(photos: Path | None = None) -> dict[str, Callable[[WorkedJob], Source]]:
    """Give every paper that is printed: what each PDF is compiled from.

    Parameters
    ----------
    photos : Path, optional
        Folder of the photos that the handover file shows [-].

    Returns
    -------
    dict of str to callable
        By the name of the file [-].
    """
    from functools import partial

    from evenfall.app.papers.drawing_pages import drawings_source
    from evenfall.app.papers.pdf import calculations_source, quotation_source
    from evenfall.app.papers.site_pages import SITE, handover_source

    return {
        "quotation.pdf": quotation_source,
        "calculations.pdf": calculations_source,
        "drawings.pdf": drawings_source,
        **SITE,
        "handover.pdf": partial(handover_source, photos=photos),
    }


def paper(worked: WorkedJob, name: str, photos: Path | None = None) -> bytes:
    """Make one printed paper.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    name : str
        Such as ``day-sheets.pdf`` [-].
    photos : Path, optional
        Folder of its photos, each named by its SHA-256 [-].

    Returns
    -------
    bytes
        The PDF [-].
    """
    from evenfall.app.papers.pdf import compiled

    return compiled(printed(photos)[name](worked))
