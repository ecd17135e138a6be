"""`evenfall hours`: the hours that finished jobs really took, beside the rates."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from evenfall.model.logged import OwnRate


def hours(
    jobs: Annotated[
        list[Path], typer.Argument(help="Finished jobs: their files, or folders with job.yaml.")
    ],
    rates: Annotated[
        Path | None,
        typer.Option("--rates", help="The firm's rates; else rates.yaml beside each job."),
    ] = None,
) -> None:
    """Offer the firm's own rates from three finished jobs on; nothing is changed by itself."""
    from evenfall.app.commands.shared import WRONG, worked_job
    from evenfall.errors import InvalidInput
    from evenfall.weather import own_rates

    worked = tuple(worked_job(job, None, rates, None)[1] for job in jobs)
    try:
        found = own_rates(worked)
    except InvalidInput as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None
    typer.echo("\n".join(told(found)))


def told(found: tuple[OwnRate, ...]) -> Iterator[str]:
    """Tell the own rates in plain lines.

    Parameters
    ----------
    found : tuple of OwnRate
        One entry to each output that was logged [-].

    Yields
    ------
    str
        Lines; those for the rates last [-].
    """
    if not found:
        yield "No finished job with hours: put record.hours and record.finished_on into the job."
        return
    yield "Hours for one unit: as in the rates, and as your finished jobs took."
    for rate in found:
        low, typical, high = (f"{v:g}" for v in rate.seed)
        own = " / ".join(f"{v:g}" for v in rate.own)
        jobs = f"{len(rate.jobs)} job{'s' * (len(rate.jobs) != 1)}"
        offer = "" if rate.offered else "; offered from three jobs on"
        yield (
            f"  {rate.task} per {rate.unit}: rates {low} / {typical} / {high}, yours {own}, "
            f"give or take {rate.spread:.2g} between jobs ({jobs}{offer})"
        )
    lines = [rate.line for rate in found if rate.offered]
    if lines:
        yield "To take them, put these lines under outputs in rates.yaml. Nothing was changed."
        yield from (f"  {line}" for line in lines)
