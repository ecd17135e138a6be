"""`evenfall morning`: what to open this morning, when to stop, and what moves."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from evenfall.model.morning import Morning


def morning(
    job: Annotated[Path, typer.Argument(help="A job file, or a folder with job.yaml in it.")],
    forecast: Annotated[
        Path, typer.Option("--forecast", help="This morning's hourly forecast, CSV.")
    ],
    now: Annotated[
        str | None,
        typer.Option("--now", help="The time with its zone, 2027-04-12T07:05+01:00; else now."),
    ] = None,
    done: Annotated[
        list[str] | None,
        typer.Option("--done", help="What is done: bay:1, or a task; may be given often."),
    ] = None,
    cover: Annotated[
        list[str] | None,
        typer.Option("--cover", help="A cover on the roof in m, 6.5x5.6; may be given often."),
    ] = None,
    people: Annotated[
        int | None, typer.Option("--people", min=1, max=20, help="Hands that are there today.")
    ] = None,
    contact: Annotated[
        bool, typer.Option("--contact", help="The sheet goes down in contact adhesive.")
    ] = False,
    out: Annotated[
        Path | None, typer.Option("--out", help="Write the day's tape into this SVG file.")
    ] = None,
    rates: Annotated[
        Path | None,
        typer.Option("--rates", help="The firm's rates; else rates.yaml beside the job."),
    ] = None,
) -> None:
    """Say what to open this morning, when to stop, with whom, and what moves. You decide."""
    from evenfall.app.commands.shared import WRONG, worked_job
    from evenfall.app.morning_words import cover_of, time_of, told
    from evenfall.app.weather_file import read_weather_file
    from evenfall.errors import InvalidInput
    from evenfall.weather import fresh, morning_of

    try:
        at = time_of(now)
        covers = tuple(cover_of(c) for c in cover or ())
        hours = read_weather_file(forecast)
        fresh(hours, at)  # before the job is worked: an old forecast is refused at once
        _, worked = worked_job(job, at.date().isoformat(), rates, None)
        answer = morning_of(worked, hours, at, tuple(done or ()), covers, people, contact)
        if out is not None:
            _draw(answer, out)
    except (InvalidInput, OSError) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None
    typer.echo("\n".join(told(answer)))


def _draw(answer: Morning, out: Path) -> None:
    from evenfall.drawing import to_svg
    from evenfall.weather import draw_day

    out.write_text(to_svg(draw_day(answer), None, "paper", prefix="morning"), encoding="utf-8")
