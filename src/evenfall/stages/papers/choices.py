"""The options side by side, as the client compares them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.priced import Facts, Options
from evenfall.model.words import pounds
from evenfall.stages.price.upkeep import YEARS

ABREAST = 4  # options in one table beside the roof as quoted; more do not fit the page
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Choice:
    """One option: its letter, its words, and what must be settled before it can be chosen."""

    id: str  # options.options[cosy]
    letter: str
    says: str
    open_points: int


@dataclass(frozen=True, slots=True)
class Row:
    """One thing compared: the roof as quoted first, then each option.

    ``key`` is its place in the `Facts` of each, or nothing.
    """

    key: str
    says: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choices:
    """One table of options."""

    options: tuple[Choice, ...]
    rows: tuple[Row, ...]


def choices(options: Options) -> tuple[Choices, ...]:
    """Set the options beside the roof as quoted.

    Parameters
    ----------
    options : Options
        The options worked out [-].

    Returns
    -------
    tuple of Choices
        Tables of at most four options; what nothing is known of has no row [-].
    """
    found = options.options
    lettered = [
        Choice(f"options.options[{o.name}]", letter(i), o.says.rstrip("."), o.stops)
        for i, o in enumerate(found)
    ]
    return tuple(
        Choices(tuple(lettered[i : i + ABREAST]), tuple(_rows(
            [options.here, *(o.facts for o in found[i : i + ABREAST])],
            [o.more_pence for o in found[i : i + ABREAST]],
        )))
        for i in range(0, len(found), ABREAST)
    )  # fmt: skip


def letter(number: int) -> str:
    """Give the letter of an option.

    Parameters
    ----------
    number : int
        From 0 [-].

    Returns
    -------
    str
        A to Z, then AA and so on [-].

    Examples
    --------
    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    first, last = divmod(number, len(LETTERS))
    return (letter(first - 1) if first else "") + LETTERS[last]


def _rows(facts: list[Facts], more: list[int]) -> Iterator[Row]:
    yield Row("total_pence", "To pay in all", tuple(pounds(f.total_pence) for f in facts))
    yield Row("", "More or less", ("", *(("+" if m > 0 else "") + pounds(m) for m in more)))
    yield Row("days", "Working days", tuple(f"{f.days}" for f in facts))
    yield Row("boards_mm", "Insulation", tuple(_boards(f.boards_mm) for f in facts))
    yield Row("u", "Heat let through, W/m²K", tuple(f"{f.u:.2f}" for f in facts))
    if any(f.kerb_mm is not None for f in facts):
        yield Row("kerb_mm", "Kerb at verges", tuple(f"{f.kerb_mm:g} mm" for f in facts))
    if any(f.sheet_years for f in facts):
        years = (f"{f.sheet_years} years" if f.sheet_years else "ask" for f in facts)
        yield Row("sheet_years", "Guarantee of the sheet", tuple(years))
    yield Row("work_years", "Guarantee of our work", tuple(f"{f.work_years} years" for f in facts))
    if any(f.upkeep for f in facts):
        yield from _upkeep(facts)


def _boards(layers: tuple[int, ...]) -> str:
    return " + ".join(f"{mm}" for mm in layers) + " mm"


def _upkeep(facts: list[Facts]) -> Iterator[Row]:
    kept = [f.upkeep for f in facts]
    yield Row("upkeep.fascia", "Fascia", tuple(u.fascia if u else "as it is" for u in kept))
    often = ((f"every {u.repaint_years} years" if u.repaint_years else "never") if u else "–"
             for u in kept)  # fmt: skip
    yield Row("upkeep.repaint_years", "Painted again", tuple(often))
    whole = (pounds(u.whole.value) if u else "–" for u in kept)
    yield Row("upkeep.whole", f"Roof and painting over {YEARS} years", tuple(whole))
