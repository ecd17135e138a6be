"""Every price of the price book that a supplier may send anew, by its id."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.app.yaml_core import Path
from evenfall.model.rates import Rates


@dataclass(frozen=True, slots=True)
class Entry:
    """One price: its id, the pack it is for (None where it is for one), and its place."""

    id: str  # item:primer, board:pir-foil:100
    pack: float | None
    says: str
    unit: str
    pence: int
    path: Path

    @property
    def key(self) -> str:
        """Id and pack in one word: ``item:primer:5``."""
        return self.id if self.pack is None else f"{self.id}:{self.pack:g}"


def entries(rates: Rates) -> tuple[Entry, ...]:
    """List the prices that are bought at.

    Parameters
    ----------
    rates : Rates
        The price book [-].

    Returns
    -------
    tuple of Entry
        In the order of the file [pence].
    """
    return tuple(_entries(rates))


def _entries(rates: Rates) -> Iterator[Entry]:
    for i, b in enumerate(rates.boards):
        for j, s in enumerate(b.sizes):
            path: Path = ("boards", i, "sizes", j, "price_pence")
            says = f"{b.says}, {s.thickness_mm} mm"
            yield Entry(
                f"board:{b.name}:{s.thickness_mm}", None, says, "board", s.price_pence, path
            )
    for i, t in enumerate(rates.tapers):
        for j, edges in enumerate(t.sizes):
            path = ("tapers", i, "sizes", j, "price_pence")
            says = f"{t.says}, {edges.thin_mm} to {edges.thick_mm} mm"
            yield Entry(
                f"taper:{t.name}:{edges.thin_mm}", None, says, "board", edges.price_pence, path
            )
    for i, sheet in enumerate(rates.sheets):
        path = ("sheets", i, "price_pence_m2")
        yield Entry(f"sheet:{sheet.name}", None, sheet.says, "m2", sheet.price_pence_m2, path)
    for i, v in enumerate(rates.vcls):
        yield Entry(
            f"vcl:{v.name}", None, v.says, "roll", v.price_pence, ("vcls", i, "price_pence")
        )
    screw = rates.screw
    yield Entry("screw", float(screw.pack), "screws", "each", screw.price_pence_pack,
                ("screw", "price_pence_pack"))  # fmt: skip
    for i, item in enumerate(rates.items):
        for j, p in enumerate(item.packs):
            path = ("items", i, "packs", j, "price_pence")
            yield Entry(f"item:{item.name}", p.size, item.says, item.unit, p.price_pence, path)
    for i, x in enumerate(rates.lengths):
        path = ("lengths", i, "price_pence_m")
        yield Entry(f"length:{x.name}", None, x.says, "m", x.price_pence_m, path)
        for j, f in enumerate(x.fittings):
            path = ("lengths", i, "fittings", j, "price_pence")
            yield Entry(f"fitting:{x.name}:{f.name}", None, f.says, "each", f.price_pence, path)
