"""`evenfall hours`: the hours, waste and prices of finished jobs, beside the rates."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from evenfall.model.logged import OwnMaterial, OwnRate


def hours(
    jobs: Annotated[
        list[Path], typer.Argument(help="Finished jobs: their files, or folders with job.yaml.")
    ],
    rates: Annotated[
        Path | None,
        typer.Option("--rates", help="The firm's rates; else rates.yaml beside each job."),
    ] = None,
) -> None:
    """Offer own hours, waste and prices from three finished jobs on; nothing changes by itself."""
    from evenfall.app.commands.shared import WRONG, worked_job
    from evenfall.errors import InvalidInput
    from evenfall.weather import own_materials, own_rates

    worked = tuple(worked_job(job, None, rates, None)[1] for job in jobs)
    try:
        found, used = own_rates(worked), own_materials(worked)
    except InvalidInput as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None
    typer.echo("\n".join((*told(found), *told_materials(used))))


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


def told_materials(found: tuple[OwnMaterial, ...]) -> Iterator[str]:
    """Tell the own waste and prices in plain lines.

    Parameters
    ----------
    found : tuple of OwnMaterial
        One entry to each line of the order that was written down [-].

    Yields
    ------
    str
        Lines; those for the rates last [-].
    """
    if not found:
        yield "No finished job with what was bought and left: put record.bought into the job."
        return
    yield "Waste, and price of one unit without VAT: as in the rates, and as your jobs had it."
    offers = []
    for one in found:
        low, all_, high = one.waste.own
        jobs = f"{one.waste.jobs} job{'s' * (one.waste.jobs != 1)}"
        yield (
            f"  {one.says}: waste {one.waste.seed:.0f} %, yours {low:.0f} / {all_:.0f} / "
            f"{high:.0f}, give or take {one.waste.spread:.0f} between jobs ({jobs})"
        )
        if one.waste_offered:
            offers.append(f"{one.line}: waste_percent: {all_:.0f}")
        if one.price is not None:
            low, all_, high = (v / 100 for v in one.price.own)
            yield (
                f"    £{one.price.seed / 100:.2f} for one {one.unit}, yours £{low:.2f} / "
                f"£{all_:.2f} / £{high:.2f}, give or take £{one.price.spread / 100:.2f}"
            )
            if one.price_offered and one.price.seed:
                times = one.price.own[1] / one.price.seed
                offers.append(f"{one.line}: its price_pence times {times:.3f}")
    if offers:
        yield "To take them, change these in rates.yaml. Nothing was changed."
        yield from (f"  {line}" for line in offers)
    else:
        yield "Offered from three finished jobs on."
