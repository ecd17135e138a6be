"""The command `invoice`: one invoice as a PDF."""

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


def invoice(
    job: JobFile,
    number: Annotated[str, typer.Argument(help="Number of the invoice, as in record.invoices.")],
    out: Annotated[Path, typer.Option("--out", help="Folder for the PDF.")] = Path("out"),
    on: On = None,
    rates: RatesFile = None,
    weather: WeatherFile = None,
) -> None:
    """Make an invoice from the quotation as accepted and the signed slips."""
    from evenfall.app.papers.bills import invoice_pdf

    _, made = worked_job(job, on, rates, weather)
    with told():
        file = write(invoice_pdf(made, number), out, f"invoice-{number}.pdf")
    typer.echo(f"Invoice: {file}")
