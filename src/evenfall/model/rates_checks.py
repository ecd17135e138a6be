"""What does not fit together in a price book whose single values are sound."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenfall.model.least_prices import LEAST_PENCE, by_the_unit, of_the_terms
from evenfall.model.rates import Rates
from evenfall.model.slip import Slip

PENCE = 100
MM = 1000
SHORTEST_MM = 300  # nothing is sold in shorter lengths; less was meant in metres. Common sense
WIDEST_GAP_MM = 50  # plastic of 5 m grows by a third of it. Common sense
TABLES = ("boards", "tapers", "sheets", "vcls", "items", "lengths", "fascias", "charges",
          "provisional", "outputs", "windows", "materials")  # fmt: skip


def slips(rates: Rates) -> Iterator[Slip]:
    """Find prices of nought, prices in pounds, packs and names that stand twice.

    Parameters
    ----------
    rates : Rates
        The price book [-].

    Yields
    ------
    Slip
        Each with its place and what to do [-].
    """
    yield from _twice(rates)
    for path, pence, least in prices(rates):
        yield from _price(path, pence, least)
    yield from _lengths(rates)
    for item in rates.items:
        sizes = [p.size for p in item.packs]
        for j, size in enumerate(sizes):
            if size in sizes[:j]:
                yield Slip(f"items[{item.name}].packs[{j}].size", f"a pack of {size:g} again",
                           "each size once", do="leave one price out")  # fmt: skip


def _lengths(rates: Rates) -> Iterator[Slip]:
    """Find stock lengths in metres, and gaps that no joint has."""
    for length in rates.lengths:
        for j, mm in enumerate(length.lengths_mm):
            if mm < SHORTEST_MM:
                yield Slip(f"lengths[{length.name}].lengths_mm[{j}]", f"a length of {mm} mm",
                           "whole millimetres", do=f"if it is {mm} m, write {mm * MM}")  # fmt: skip
        if length.joint_gap_mm > WIDEST_GAP_MM:
            yield Slip(f"lengths[{length.name}].joint_gap_mm",
                       f"a gap of {length.joint_gap_mm:g} mm", f"{WIDEST_GAP_MM} mm at most",
                       do="give the gap that is left open between two lengths")  # fmt: skip


def prices(rates: Rates) -> Iterator[tuple[str, float, float]]:
    """Go through every price that is bought at or charged.

    Parameters
    ----------
    rates : Rates
        The price book [-].

    Yields
    ------
    tuple of (path, price, least)
        Such as ``boards[pir-foil].sizes[2].price_pence`` [pence].
    """
    for table in (t for t in LEAST_PENCE if t != "fittings"):
        for entry in getattr(rates, table):
            yield from _bought(f"{table}[{entry.name}]", table, entry)
    yield "screw.price_pence_pack", rates.screw.price_pence_pack, LEAST_PENCE["vcls"]
    yield from by_the_unit(rates)
    yield from of_the_terms(rates)


def _bought(path: str, table: str, entry: Any) -> Iterator[tuple[str, float, float]]:
    inner = {"boards": "sizes", "tapers": "sizes", "items": "packs"}.get(table)
    if inner:
        for j, one in enumerate(getattr(entry, inner)):
            yield f"{path}.{inner}[{j}].price_pence", one.price_pence, LEAST_PENCE[table]
        return
    for j, one in enumerate(getattr(entry, "fittings", ())):
        yield f"{path}.fittings[{j}].price_pence", one.price_pence, LEAST_PENCE["fittings"]
    key = {"sheets": "price_pence_m2", "lengths": "price_pence_m"}.get(table, "price_pence")
    yield f"{path}.{key}", getattr(entry, key), LEAST_PENCE[table]


def _price(path: str, pence: float, least: float) -> Iterator[Slip]:
    if pence == 0:
        own = path.startswith("terms.")
        yield Slip(path, "a price of 0", "a price in whole pence",
                   do="write what the firm takes" if own
                   else "ask for the price, or leave the entry out")  # fmt: skip
    elif pence < least:
        yield Slip(path, f"a price of {pence:g} pence", f"pence, and {least:g} at the least",
                   do=f"if it is £{pence:g}, write {pence * PENCE:g}")  # fmt: skip


def _twice(rates: Rates) -> Iterator[Slip]:
    for table in TABLES:
        seen: set[str] = set()
        for i, entry in enumerate(getattr(rates, table)):
            name = getattr(entry, "name", None) or entry.task
            if name in seen:
                key = "task" if table == "outputs" else "name"
                yield Slip(f"{table}[{i}].{key}", f'"{name}" again', "each name once",
                           do="leave one of them out")  # fmt: skip
            seen.add(name)
