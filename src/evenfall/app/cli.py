"""The command line. Heavy modules are imported inside the commands, so that help is quick."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from evenfall.app.commands import invoice, rates, record, slip
from evenfall.app.commands.hours import hours
from evenfall.app.commands.morning import morning
from evenfall.app.commands.risk import risk
from evenfall.app.commands.shared import (
    WRONG,
    JobFile,
    On,
    RatesFile,
    WeatherFile,
    worked_job,
)

if TYPE_CHECKING:
    from evenfall.flow import WorkedJob

STOP = 1

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    help="Evenfall works out a flat-roof refurbishment from one job file.",
)


@app.command()
def work(
    job: JobFile,
    out: Annotated[
        Path | None, typer.Option("--out", help="Write the papers into this folder.")
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the worked job as JSON instead.")
    ] = False,
    on: On = None,
    rates: RatesFile = None,
    weather: WeatherFile = None,
    forecast: Annotated[
        Path | None, typer.Option("--forecast", help="Hours to come; the days go round them.")
    ] = None,
) -> None:
    """Work a job out: print a summary, or JSON, and write its papers."""
    loaded, worked = worked_job(job, on, rates, weather, forecast)
    if out is not None:
        _write(worked, out, job)
    if as_json:
        from evenfall.app.as_json import as_json as text

        typer.echo(text(worked))
        return
    from evenfall.app.summary import show

    show(worked, own_rates=loaded.own_rates)
    if out is not None:
        typer.echo(f"Papers: {out.absolute()}")


@app.command()
def check(
    job: JobFile, on: On = None, rates: RatesFile = None, weather: WeatherFile = None
) -> None:
    """Print the findings only. Exit 0: nothing stops the job; 1: something does; 2: wrong file."""
    from evenfall.app.summary import show_findings

    _, worked = worked_job(job, on, rates, weather)
    show_findings(worked)
    if any(f.level == "stop" for f in worked.findings):
        raise typer.Exit(STOP)


@app.command()
def demo(
    folder: Annotated[Path, typer.Argument(help="Where the papers go.")] = Path("out/demo"),
) -> None:
    """Work out the invented example job, write its papers and say how to open the desk."""
    from evenfall.app.demo import DEMO_ON, demo_job

    loaded, worked = worked_job(demo_job(), DEMO_ON, None, None)
    _write(worked, folder, demo_job())
    from evenfall.app.summary import show

    show(worked, own_rates=loaded.own_rates)
    typer.echo(f"Papers: {folder.absolute()}")
    typer.echo("The desk, in your browser: python3 run.py desk")


@app.command()
def schema() -> None:
    """Print the JSON Schema of the job file."""
    import json

    from evenfall.model.job import Job

    typer.echo(json.dumps(Job.model_json_schema(), indent=1))


@app.command()
def desk(
    job: Annotated[
        Path | None, typer.Argument(help="A job file to bring in and open; else the list of jobs.")
    ] = None,
    store: Annotated[
        Path | None,
        typer.Option("--store", help="Folder of the jobs; else EVENFALL_HOME or yours."),
    ] = None,
    port: Annotated[int, typer.Option("--port", help="Port on this machine; 0 picks one.")] = 8017,
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Do not open the browser.")
    ] = False,
    share: Annotated[
        bool,
        typer.Option("--share", help="Let paired phones on the local network in, until midnight."),
    ] = False,
    share_at: Annotated[
        str | None,
        typer.Option("--share-at", help="The same, on this address of the machine."),
    ] = None,
) -> None:
    """Open the desk: your jobs as local web pages. Nothing leaves this machine unless you share."""
    from evenfall.app.web.serve import serve

    serve(job, port, not no_browser, store, share=share, share_at=share_at)


def _write(worked: WorkedJob, out: Path, job: Path) -> None:
    """Write all papers; the photos of the roof lie beside the job file."""
    from evenfall.app.papers import papers
    from evenfall.app.papers.owner import KEPT
    from evenfall.app.whole import write_folder
    from evenfall.errors import InvalidInput

    try:
        photos = (job if job.is_dir() else job.parent) / "photos"
        write_folder(out, papers(worked, photos), KEPT)
    except (InvalidInput, OSError) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None


app.command()(risk)
app.command()(morning)
app.command()(hours)
app.command("slip")(slip.slip)
app.command("invoice")(invoice.invoice)
app.add_typer(rates.app, name="rates")
app.add_typer(record.app, name="record")


def main() -> None:
    """Run the command line."""
    app()


if __name__ == "__main__":
    main()
