"""The command `slip`: one slip for extra work as a PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from evenfall.app.commands.shared import (
    JobFile,
    On,
    RatesFile,
    WeatherFile,
    told,
    worked_job,
    write,
)


def slip(
    job: JobFile,
    name: Annotated[str, typer.Argument(help="Name of the extra work, as in record.extras.")],
    out: Annotated[Path, typer.Option("--out", help="Folder for the PDF.")] = Path("out"),
    on: On = None,
    rates: RatesFile = None,
    weather: WeatherFile = None,
) -> None:
    """Make the slip for extra work found on site: quantity, price, new total, signature."""
    from evenfall.app.papers.bills import slip_pdf

    loaded, made = worked_job(job, on, rates, weather)
    with told():
        file = write(slip_pdf(made, name, Path(loaded.job.file).parent), out, f"slip-{name}.pdf")
    typer.echo(f"Slip: {file}")
