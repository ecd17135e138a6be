"""`evenfall risk`: the plan against many years of weather."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from evenfall.model.risked import Range, Risk, Wagered, Week

HoursFiles = Annotated[
    list[Path] | None,
    typer.Option("--hours", help="Years of hours, CSV or EPW; may be given more than once."),
]
Contact = Annotated[
    bool, typer.Option("--contact", help="The sheet goes down in contact adhesive.")
]
EVERY = 4  # weeks between the starts that are printed


def risk(
    job: Annotated[Path, typer.Argument(help="A job file, or a folder with job.yaml in it.")],
    hours: HoursFiles = None,
    contact: Contact = False,
    on: Annotated[
        str | None, typer.Option("--on", help="Work it as on this day (YYYY-MM-DD); else today.")
    ] = None,
    rates: Annotated[
        Path | None,
        typer.Option("--rates", help="The firm's rates; else rates.yaml beside the job."),
    ] = None,
    weather: Annotated[
        Path | None,
        typer.Option("--weather", help="Daily weather; else weather.yaml beside the job."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print it as JSON instead.")] = False,
) -> None:
    """Walk the plan through many years of weather: wet evenings, days lost, finish, best week."""
    from evenfall.app.commands.shared import WRONG, worked_job
    from evenfall.app.weather_file import read_weather_file
    from evenfall.errors import InvalidInput
    from evenfall.weather import risk_of

    _, worked = worked_job(job, on, rates, weather)
    try:
        found = risk_of(worked, tuple(read_weather_file(p) for p in hours or ()), contact)
    except InvalidInput as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None
    if as_json:
        typer.echo(json.dumps(asdict(found), default=str, ensure_ascii=False, indent=2))
        return
    typer.echo("\n".join(told(found)))


def told(risk: Risk) -> Iterator[str]:
    """Tell a risk in plain lines.

    Parameters
    ----------
    risk : Risk
        The plan against years of weather [-].

    Yields
    ------
    str
        Lines [-].
    """
    yield f"Weather: {risk.weather} ({risk.basis})."
    yield f"Years: {risk.years} walked, {risk.distinct} distinct, seed {risk.seed}."
    yield f"The foreman: {risk.rule}"
    yield ""
    yield f"Wet evening: {_evening(risk.bare)}"
    yield f"A year with one or more: {risk.bare.any_wet:.0%} of the years"
    yield f"Days lost: {_days(risk.bare.lost)} of {risk.plan_days} days of plan"
    yield f"Finished by: {_finish(risk.bare)}"
    each = f"£{risk.day_pence / 100:,.0f} each"
    yield f"What the lost days cost: {_money(risk.bare.cost_pence)} ({each})"
    yield f"Under a covered scaffold: {_covered(risk)}"
    yield f"Best start: {_week(risk.best)}"
    yield "Starts through the year:"
    yield from (f"  {_week(week)}" for week in risk.weeks[::EVERY])
    yield ""
    yield "Made weather is no forecast. You decide."


def _evening(of: Wagered) -> str:
    if not of.wet_evening:
        return "hardly one, in all these years"
    error = of.wet_evening_error
    give = f", give or take {error:.1%}" if error == error else ", of one year alone"
    return f"about 1 evening in {1 / of.wet_evening:.0f} ({of.wet_evening:.1%}{give})"


def _days(lost: Range) -> str:
    return f"{lost.p50:.0f} as a rule, {lost.p10:.0f} to {lost.p90:.0f} in 8 years of 10"


def _day(on: date | None) -> str:
    return f"{on:%a %d %b %Y}" if on else "not within 300 days"


def _finish(of: Wagered) -> str:
    first, middle, last = (_day(on) for on in of.finish_on)
    return f"{middle} in half the years, {first} in 1 of 10, {last} in 9 of 10"


def _money(pence: Range) -> str:
    low, middle, high = (f"£{p / 100:,.0f}" for p in (pence.p10, pence.p50, pence.p90))
    return f"{middle} as a rule, {low} to {high}"


def _covered(risk: Risk) -> str:
    saved = max(risk.saved_days, 0.0)
    worst = max(risk.bare.lost.p90 - risk.covered.lost.p90, 0.0)
    return (
        f"no wet evening; {saved:.0f} days saved as a rule, {worst:.0f} in a bad year: worth "
        f"£{saved * risk.day_pence / 100:,.0f} to £{worst * risk.day_pence / 100:,.0f} of lost "
        "days, before what a wet room costs; cold and wind still stop work"
    )


def _week(week: Week) -> str:
    chance = f"1 evening in {1 / week.wet_evening:.0f} wet" if week.wet_evening else "hardly wet"
    given_up = f", given up in {week.unfinished:.0%}" if week.unfinished else ""
    return f"{week.on:%d %b %Y}: {_days(week.lost)} lost, {chance}{given_up}"
