"""The ink: PDF, SVG, DXF, XLSX, CSV and calendar files made from what `stages.papers` says."""

from __future__ import annotations

from evenfall.flow import WorkedJob


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
    from evenfall.app.papers.drawing_pages import drawings_source, files
    from evenfall.app.papers.pdf import compiled, sources
    from evenfall.app.papers.pictures import plans
    from evenfall.app.papers.site_pages import site_sources
    from evenfall.app.papers.workbook import order_xlsx

    quotation, calculations = sources(worked)
    return {
        "quotation.pdf": compiled(quotation),
        "calculations.pdf": compiled(calculations),
        **{name: compiled(paper) for name, paper in site_sources(worked).items()},
        "drawings.pdf": compiled(drawings_source(worked)),
        **plans(worked),
        **files(worked),
        "order.xlsx": order_xlsx(worked),
        "order.csv": order_csv(worked),
        "programme.ics": programme_ics(worked),
        "care.ics": care_ics(worked),
    }
