"""The command `record load`: the file that a day sheet gave back, into a job."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from evenfall.app.commands.shared import told

if TYPE_CHECKING:
    from evenfall.app.site.into_file import Loaded

app = typer.Typer(no_args_is_help=True, help="The record of the roof.")
NOT_ALL = 1
"""Exit code where something of the file was refused."""


@app.callback()
def record() -> None:
    """Keep what the roof told."""


@app.command()
def load(
    file: Annotated[Path, typer.Argument(help="What a day sheet gave back: *.evenfall-day.json.")],
    job: Annotated[Path, typer.Argument(help="The job file, or a folder with job.yaml in it.")],
) -> None:
    """Load what a telephone brought from the roof; twice does no harm. Exit 1: not all taken."""
    from evenfall.app.loading import JOB_NAMES
    from evenfall.app.site.into_file import load_into
    from evenfall.app.site.returned import read_returned

    with told():
        target = next((job / n for n in JOB_NAMES if (job / n).is_file()), job)
        done = load_into(target, read_returned(file.read_bytes()))
    tell(done)
    if done.refused:
        raise typer.Exit(NOT_ALL)


def tell(done: Loaded) -> None:
    """Say what became of a file.

    Parameters
    ----------
    done : Loaded
        What was new, there before, refused [-].
    """
    typer.echo(f"{len(done.new)} new records, {len(done.before)} there before, "
               f"{done.photos} new photos.")  # fmt: skip
    if done.to_come:
        typer.echo(f"{len(done.to_come)} photos still to come.")
    for id_, why in done.refused:
        typer.echo(f"Refused {id_[:8]}: {why}", err=True)
