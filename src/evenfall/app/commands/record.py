"""The commands `record`: load what a day sheet gave back, show what a job holds, its photos."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from evenfall.app.commands.shared import JobFile, On, RatesFile, told, worked_job, write

if TYPE_CHECKING:
    from evenfall.app.site.into_file import Loaded
    from evenfall.app.site.returned import Returned

app = typer.Typer(no_args_is_help=True, help="The record of the roof.")
NOT_ALL = 1
"""Exit code where something of the file was refused."""


@app.callback()
def record() -> None:
    """Keep what the roof told."""


@app.command()
def load(
    file: Annotated[Path, typer.Argument(help="What a day sheet gave back: *.evenfall-day.json.")],
    job: Annotated[
        str, typer.Argument(help="A job file or its folder; or the id of a desk's job.")
    ],
    store: Annotated[
        Path | None,
        typer.Option("--store", help="Folder of the desk's jobs; else EVENFALL_HOME or yours."),
    ] = None,
) -> None:
    """Load what a telephone brought from the roof; twice does no harm. Exit 1: not all taken."""
    from evenfall.app.loading import JOB_NAMES
    from evenfall.app.site.into_file import load_into
    from evenfall.app.site.returned import read_returned

    path = Path(job)
    with told():
        returned = read_returned(file.read_bytes())
        if path.exists():
            target = next((path / n for n in JOB_NAMES if (path / n).is_file()), path)
            done = load_into(target, returned)
        else:
            done = _into_desk(store, job, returned, file.name)
    tell(done)
    if done.refused:
        raise typer.Exit(NOT_ALL)


@app.command()
def show(job: JobFile, on: On = None, rates: RatesFile = None) -> None:
    """Show hold points passed and missing, stops, hours, and what the roof changed."""
    from evenfall.flow import PAPERS, changed, without_log, work_out

    worked = worked_job(job, on, rates, None)[1]
    typer.echo("\n".join(PAPERS["record"](worked)))
    if worked.record.kept.entries:
        lines = changed(work_out(without_log(worked.given), worked), worked)
        typer.echo("Changed by what was read on the roof:" if lines else "Nothing else changed.")
        typer.echo("\n".join(f"  {line}" for line in lines))


@app.command()
def photos(
    job: JobFile,
    out: Annotated[Path, typer.Option("--out", help="Folder for the copies.")] = Path("photos"),
    on: On = None,
    rates: RatesFile = None,
) -> None:
    """Copy the photos for the client: in order, with their marks, without place, time or camera."""
    from evenfall.app.papers.bare import client_photos

    loaded, worked = worked_job(job, on, rates, None)
    with told():
        copies, missing = client_photos(worked, Path(loaded.job.file).parent / "photos")
    for name, content in copies:
        write(content, out, name)
    typer.echo(f"{len(copies)} photos in {out}; {len(missing)} still to come.")


def _into_desk(store: Path | None, job: str, returned: Returned, name: str) -> Loaded:
    """Bring it into a job of the desk, whether that is open or not."""
    from evenfall.app.site.bring import bring_back
    from evenfall.app.store.place import home
    from evenfall.app.store.store import Store
    from evenfall.errors import InvalidInput

    jobs = Store(home(store))
    try:
        return bring_back(jobs, job, returned, name)[0]
    except KeyError:
        raise InvalidInput(
            f'no job file and no job of the desk called "{job}"',
            "a job file, its folder, or an id such as stands in the desk's address", where="JOB",
        ) from None  # fmt: skip
    finally:
        jobs.close()


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
