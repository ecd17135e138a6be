"""The order: what all take-off rooms want, by the counter where it is bought; no prices."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.taken_off import OrderLine
from evenfall.model.words import short_day
from evenfall.stages.papers.drawn_saw import left_words, saw_words
from evenfall.stages.papers.drawn_tapers import kind_words, taper_words
from evenfall.stages.papers.lifting import Lift, delivery_kg, lifts
from evenfall.stages.papers.words import listed
from evenfall.stages.papers.worked import WorkedRoof

COUNTERS = {
    "board": "Insulation boards",
    "taper": "Insulation boards",
    "sheet": "Rubber sheet and VCL",
    "vcl": "Rubber sheet and VCL",
    "length": "Timber, trims and gutter",
    "fitting": "Timber, trims and gutter",
    "window": "Windows, made to measure",
    "screw": "Fixings, adhesives and sundries",
    "item": "Fixings, adhesives and sundries",
}

EXACT = 9  # decimals: what is beyond comes of adding up, and would stand in a cell
ELSEWHERE = {
    "item:deck-board": COUNTERS["length"],
    "item:overlay-board": COUNTERS["board"],
    "item:joist-preservative": COUNTERS["length"],
}
"""Items that another trade sells: boards for the deck with the timber."""


def counter_of(id_: str) -> str:
    """Name the counter at which something is bought.

    Parameters
    ----------
    id_ : str
        Id of an order line [-].

    Returns
    -------
    str
        Counter [-].

    Examples
    --------
    >>> counter_of("item:deck-board"), counter_of("item:primer")
    ('Timber, trims and gutter', 'Fixings, adhesives and sundries')
    """
    return ELSEWHERE.get(id_, COUNTERS.get(id_.partition(":")[0], COUNTERS["item"]))


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an order."""

    id: str
    what: str
    need: float
    unit: str
    packs: str
    bought: float
    note: str
    basis: str
    mass_kg: float | None = None  # of all of it; None where nobody told its weight

    @property
    def left(self) -> float:
        """What is left over of what is bought, waste and saw cuts not counted as left."""
        return round(max(0.0, self.bought - self.need), 3)


@dataclass(frozen=True, slots=True)
class Counter:
    """What is bought at one counter."""

    name: str
    lines: tuple[Line, ...]

    @property
    def mass_kg(self) -> float:
        """What the known part of the delivery weighs."""
        return sum(line.mass_kg or 0.0 for line in self.lines)

    @property
    def unweighed(self) -> tuple[str, ...]:
        """Lines whose weight nobody told: the delivery is heavier by them."""
        return tuple(line.id for line in self.lines if line.mass_kg is None)


@dataclass(frozen=True, slots=True)
class Cut:
    """One stock length or board and what is sawn from it."""

    what: str
    stock: str
    pieces: str
    left: int | str  # mm: a length, or lengths × widths


@dataclass(frozen=True, slots=True)
class Order:
    """The whole order."""

    counters: tuple[Counter, ...]
    cuts: tuple[Cut, ...]
    lifts: tuple[Lift, ...] = ()


def order(worked: WorkedRoof) -> Order:
    """Gather the order lines of all take-off rooms.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Order
        Lines by counter, in the order of the work, and the cutting list [-].
    """
    rooms = (worked.boards, worked.sheet, worked.rolls, worked.lengths, worked.windows,
             worked.items)  # fmt: skip
    lines: dict[str, list[Line]] = {name: [] for name in COUNTERS.values()}
    for room in rooms:
        for one in room.order:
            lines[counter_of(one.id)].append(_line(one, delivery_kg(one, worked.case.rates)))
    counters = tuple(Counter(name, tuple(found)) for name, found in lines.items() if found)
    return Order(counters, _cuts(worked), lifts(worked))


FIRST_USED = {
    "Insulation boards": ("boards-",),
    "Rubber sheet and VCL": ("vcl-",),
    "Timber, trims and gutter": ("kerb-build", "strip-", "edge-timber"),
}
"""Work for which something of a counter is wanted first; all else is wanted on the first day."""


def wanted_by(worked: WorkedRoof) -> dict[str, str]:
    """Tell by when each counter delivers: the working day before the first use.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    dict of str to str
        By counter [-].
    """
    days = worked.programme.days
    found = {}
    for counter in dict.fromkeys(COUNTERS.values()):
        starts = FIRST_USED.get(counter, ("",))
        work = [[id_.removeprefix("task:") for id_, _ in d.work] for d in days]
        used = [n for n, names in enumerate(work) if any(x.startswith(starts) for x in names)]
        first = used[0] if used else 0
        found[counter] = (
            f"{short_day(days[first - 1].on)}, for the day after" if first
            else f"the working day before {short_day(days[0].on)}"
        )  # fmt: skip
    return found


def _line(one: OrderLine, mass_kg: float | None) -> Line:
    packs = listed([f"{count} × {words}" for count, _, words in one.packs])
    return Line(one.id, one.says, round(one.told, EXACT), one.unit, packs, round(one.bought, EXACT),
                one.note, one.basis,
                mass_kg)  # fmt: skip


def _cuts(worked: WorkedRoof) -> tuple[Cut, ...]:
    lengths = (
        Cut(
            run.says, f"{bar.stock_mm} mm", ", ".join(f"{mm} for {name}" for name, mm in bar.cuts),
            bar.left_mm,
        )
        for run in worked.lengths.runs
        for bar in run.bars
    )  # fmt: skip
    return (*_boards(worked), *lengths)


def _boards(worked: WorkedRoof) -> Iterator[Cut]:
    """Tell each board that is cut: the cuts in order, and the pieces by their number."""
    for board in worked.boards.sawn:
        yield Cut(
            worked.boards.order[0].says, f"board {board.number}",
            saw_words(board).partition(": ")[2], left_words(board),
        )  # fmt: skip
    laid = worked.boards.tapered
    for board in laid.sawn if laid else ():
        says = f"{laid.stock}, {kind_words(laid, board.number)}" if laid else ""
        yield Cut(says, f"board T{board.number}", taper_words(board), "")
