"""Work to be done turned into units, and units into the packs that are sold."""

from __future__ import annotations

from math import ceil

from evenfall.calc.layout.packs import to_packs
from evenfall.errors import InvalidInput
from evenfall.model.rates import Item
from evenfall.working import formula

MM = 1000


@formula("units", "units", "the worse of two coverages, and waste")
def units(need: float, covers: float, waste: float) -> float:
    """Units of an item that a need takes.

    Parameters
    ----------
    need : float
        Work to be done, in the unit of the coverage [-].
    covers : float
        What one unit does, the worse of the labels [-].
    waste : float
        Allowance [%].

    Returns
    -------
    float
        Units [-].

    Examples
    --------
    >>> units(25.42, 3, 10)
    9.32
    """
    return need / covers * (1 + waste / 100)


def same_unit(item: Item, unit: str) -> None:
    """Hold the coverages of an item to the unit that the roof counts its work in.

    Parameters
    ----------
    item : Item
        An item of the rates [-].
    unit : str
        Unit of the work [-].

    Raises
    ------
    InvalidInput
        A coverage told in another unit, which would order too little or too much.
    """
    told = (item.covers_unit, item.covers_other_label_unit or item.covers_unit)
    wrong = next((u for u in told if u != unit), None)
    if wrong is not None:
        raise InvalidInput(
            f"{item.name} covers {wrong} a {item.unit}", f"a coverage in {unit}",
            where=f"the rates: items[{item.name}]",
            do=f"turn what its label says into {unit} a {item.unit}",
        )  # fmt: skip


def in_packs(wanted: float, item: Item) -> tuple[tuple[tuple[int, float, str], ...], float]:
    """Choose the packs of an item that cover a quantity at the least cost.

    Parameters
    ----------
    wanted : float
        Units needed [unit].
    item : Item
        Packs that are sold [unit].

    Returns
    -------
    tuple
        Packs as (count, size, words), and what they hold [unit].
    """
    sold = [(round(p.size * MM), p.price_pence) for p in item.packs]
    found = to_packs(ceil(round(wanted * MM, 6)), sold)
    word = {"each": "", "m2": " m²"}.get(item.unit, f" {item.unit}")
    packs = tuple(
        (n, pack.size / MM, f"pack of {pack.size / MM:g}{word}") for pack, n in found.packs
    )
    return packs, found.bought / MM
