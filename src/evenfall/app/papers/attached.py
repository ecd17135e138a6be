"""What lies inside the PDFs: the job file in the firm's own, an extract in those of the client."""

from __future__ import annotations

import json

from evenfall.flow import PAPERS, WorkedJob

JOB, EXTRACT = "job.json", "roof.json"


def job_file(worked: WorkedJob) -> str:
    """Write the job as it was worked, as a file that can be worked again.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    str
        JSON of name, description and text [-].
    """
    job = worked.given.job.model_dump(mode="json", exclude_none=True, by_alias=True)
    return _attached(JOB, "The job file that this paper was worked from", job)


def extract(worked: WorkedJob) -> str:
    """Write what the client and building control may have: the roof, no price, crew or margin.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    str
        JSON of name, description and text [-].
    """
    return _attached(
        EXTRACT, "The roof in figures: plan, layers, edges, days", PAPERS["extract"](worked)
    )


def _attached(name: str, says: str, data: object) -> str:
    text = json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False)
    return json.dumps({"name": name, "says": says, "text": text}, ensure_ascii=False)
