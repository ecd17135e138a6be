"""The ink: PDF, SVG, DXF, XLSX, CSV and calendar files made from what `stages.papers` says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from evenfall.flow import WorkedJob

if TYPE_CHECKING:
    from collections.abc import Callable

    from evenfall.app.papers.pdf import Source


def papers(worked: WorkedJob) -> dict[str, bytes]:
    """Make all papers of a worked job.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

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
        **{name: paper(worked, name) for name in printed()},
        **plans(worked),
        **files(worked),
        "order.xlsx": order_xlsx(worked),
        "order.csv": order_csv(worked),
        "programme.ics": programme_ics(worked),
        **day_files(worked),
        **owner_files(worked),
        "care.ics": care_ics(worked),
    }


def printed() -> dict[str, Callable[[WorkedJob], Source]]:
    """Give every paper that is printed: what each PDF is compiled from.

    Returns
    -------
    dict of str to callable
        By the name of the file [-].
    """
    from evenfall.app.papers.drawing_pages import drawings_source
    from evenfall.app.papers.pdf import calculations_source, quotation_source
    from evenfall.app.papers.site_pages import SITE

    return {
        "quotation.pdf": quotation_source,
        "calculations.pdf": calculations_source,
        "drawings.pdf": drawings_source,
        **SITE,
    }


def paper(worked: WorkedJob, name: str) -> bytes:
    """Make one printed paper.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    name : str
        Such as ``day-sheets.pdf`` [-].

    Returns
    -------
    bytes
        The PDF [-].
    """
    from evenfall.app.papers.pdf import compiled

    return compiled(printed()[name](worked))
