"""Find the rate of an order line by its id; see `OrderLine`."""

from __future__ import annotations

from evenfall.errors import InvalidInput
from evenfall.model.rates import Rates
from evenfall.model.taken_off import OrderLine

MM = 1000


class Lookup:
    """The prices of the rates, by the ids of order lines.

    Parameters
    ----------
    rates : Rates
        The firm's rates [-].
    """

    def __init__(self, rates: Rates) -> None:
        self._boards = {
            f"board:{b.name}:{s.thickness_mm}": s.price_pence for b in rates.boards for s in b.sizes
        }
        self._sheets = {f"sheet:{s.name}": s.price_pence_m2 for s in rates.sheets}
        self._vcls = {f"vcl:{v.name}": v.price_pence for v in rates.vcls}
        self._lengths = {f"length:{x.name}": x.price_pence_m for x in rates.lengths}
        self._items = {
            f"item:{i.name}": {p.size: p.price_pence for p in i.packs} for i in rates.items
        }
        self._windows = {w.name: (w.price_pence, w.price_pence_m) for w in rates.windows}
        self._screw = rates.screw.price_pence_pack

    def pence(self, line: OrderLine) -> int:
        """Price what an order line buys.

        Parameters
        ----------
        line : OrderLine
            Its id says which rate, its packs how much [-].

        Returns
        -------
        int
            Price of all its packs [pence].
        """
        packs = sum(count for count, _, _ in line.packs)
        if line.id in self._boards:
            return packs * self._boards[line.id]
        if line.id in self._vcls:
            return packs * self._vcls[line.id]
        if line.id in self._sheets:  # by the square metre
            return round(line.bought * self._sheets[line.id])
        if line.id in self._lengths:  # by the metre
            return round(line.bought * self._lengths[line.id])
        if line.id in self._items:
            return sum(n * self._items[line.id][size] for n, size, _ in line.packs)
        kind, _, name = line.id.partition(":")
        work = name.partition(":")[0]
        if kind == "window" and work in self._windows:  # by the window and by its width
            each, metre = self._windows[work]
            return sum(n * round(each + metre * width) for n, width, _ in line.packs)
        if line.id.startswith("screw:"):
            return packs * self._screw
        raise InvalidInput(line.id, "an id that the rates know", where="order")
