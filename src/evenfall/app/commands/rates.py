"""The commands `rates` and `rates import`: the price book, and a supplier's list against it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from evenfall.app.commands.shared import day, told

if TYPE_CHECKING:
    from evenfall.app.price_book.compare import Changed, Report

app = typer.Typer(help="The firm's price book.")
Book = Annotated[
    Path | None, typer.Option("--rates", help="The price book; else the invented one.")
]
NOT_ALL = 1
PENCE = 100


@app.callback(invoke_without_command=True)
def rates(
    context: typer.Context,
    book: Book = None,
    write: Annotated[
        Path | None, typer.Option("--write", help="Write it as this file, .xlsx or .yaml.")
    ] = None,
) -> None:
    """Check a price book, say what is in it, and write it as a workbook or as YAML."""
    if context.invoked_subcommand is not None:
        return
    from evenfall.app.loading import DEMO_RATES
    from evenfall.app.price_book.as_xlsx import to_xlsx
    from evenfall.app.price_book.as_yaml import to_yaml
    from evenfall.app.price_book.entries import entries
    from evenfall.app.price_book.reading import read_rates
    from evenfall.errors import InvalidInput

    with told():
        found = read_rates(book or DEMO_RATES).value
        typer.echo(f"{found.rates.name}: {len(entries(found))} prices of {found.rates.priced_on}, "
                   f"mark {found.mark}")  # fmt: skip
        if write is None:
            return
        if write.exists():
            raise InvalidInput(f"{write} is there already", "a new file", where="--write")
        suffix = write.suffix.lower()
        if suffix not in (".xlsx", ".yaml"):
            raise InvalidInput(f'"{suffix}"', ".xlsx or .yaml", where="--write")
        write.write_bytes(to_xlsx(found) if suffix == ".xlsx" else to_yaml(found).encode())
    typer.echo(f"Written: {write.absolute()}")


@app.command("import")
def import_(
    prices: Annotated[Path, typer.Argument(help="The supplier's list, CSV or XLSX.")],
    mapping: Annotated[
        str,
        typer.Option("--map", help='Which column is which: "id=No,price_pounds=Net,pack=Pack".'),
    ],
    into: Annotated[Path, typer.Option("--into", help="Your price book, YAML or XLSX.")],
    links: Annotated[
        Path | None,
        typer.Option("--links", help="CSV of his code and your id."),
    ] = None,
    jump: Annotated[
        float, typer.Option("--jump", help="A change of more percent is not taken unasked.")
    ] = 15.0,
    jumps_too: Annotated[bool, typer.Option("--jumps-too", help="Take the jumps as well.")] = False,
    write: Annotated[
        bool, typer.Option("--write", help="Write the new prices; else only the report.")
    ] = False,
    on: Annotated[
        str | None, typer.Option("--on", help="Date of the prices (YYYY-MM-DD); else today.")
    ] = None,
) -> None:
    """Hold a supplier's list against your price book. Exit 1: something was not taken."""
    from evenfall.app.price_book.compare import compare
    from evenfall.app.price_book.entries import entries
    from evenfall.app.price_book.reading import read_rates
    from evenfall.app.price_book.supplier import columns, read_list
    from evenfall.app.price_book.supplier import links as linked
    from evenfall.errors import InvalidInput

    with told():
        which = columns(mapping)
        if which.by_code != (links is not None):
            found = "a code without --links" if which.by_code else "--links without a code"
            raise InvalidInput(found, "both: map code=..., and the file of links", where="--map")
        ours = read_rates(into).value
        report = compare(
            entries(ours), read_list(prices, which), pounds=which.pounds,
            links=linked(links) if links else None, jump_percent=jump,
        )  # fmt: skip
        _tell(report, jump)
        taken = [*report.changed, *(report.jumped if jumps_too else ())]
        if write and taken:
            _write(into, ours.mark, taken, on)
        elif not write:
            typer.echo("Nothing was written; --write takes the changes.")
    if not report.clean:
        raise typer.Exit(NOT_ALL)


def _tell(report: Report, jump: float) -> None:
    typer.echo(f"{len(report.changed)} changed, {report.same} as before, "
               f"{len(report.unknown)} lines that are not in your book.")  # fmt: skip
    _priced("Changed", report.changed)
    _priced(f"Jumped by more than {jump:g} %", report.jumped)
    for head, lines in (
        ("Doubled", report.doubled), ("Vanished", report.vanished), ("Packs", report.packs),
        ("Wrong", report.wrong), ("Not in your book", report.unknown),
    ):  # fmt: skip
        if lines:
            typer.echo(f"{head}:")
            for line in lines:
                typer.echo(f"  {line}")


def _priced(head: str, changed: list[Changed]) -> None:
    if changed:
        typer.echo(f"{head}:")
    for one in changed:
        old, new = one.entry.pence / PENCE, one.pence / PENCE
        typer.echo(f"  {one.entry.key}: {old:.2f} to {new:.2f} ({one.percent:+.1f} %)")


def _write(into: Path, mark: str, taken: list[Changed], on: str | None) -> None:
    """Keep the old book under its mark, then write the new one."""
    from evenfall.app.price_book.into import written

    new = written(into, taken, day(on))
    kept = into.with_name(f"rates-{mark}{into.suffix}")
    if not kept.exists():
        kept.write_bytes(into.read_bytes())
    into.write_bytes(new)
    typer.echo(f"{len(taken)} prices written into {into}; the old book is kept as {kept.name}.")
