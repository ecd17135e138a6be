"""Find the rate of an order line by its id; see `OrderLine`."""

from __future__ import annotations

from datetime import date

from evenfall.errors import InvalidInput
from evenfall.model.rates import Rates
from evenfall.model.taken_off import OrderLine

MM = 1000
PERCENT = 100


class Lookup:
    """The prices of the rates, by the ids of order lines.

    Parameters
    ----------
    rates : Rates
        The firm's rates [-].
    fascia_percent : float
        Price of the material of the fascia beside that of the lengths [%].
    """

    def __init__(self, rates: Rates, fascia_percent: float = PERCENT) -> None:
        self._dates = _dates(rates)
        self._first = rates.rates.priced_on
        self._boards = {
            f"board:{b.name}:{s.thickness_mm}": s.price_pence for b in rates.boards for s in b.sizes
        }
        self._boards |= {
            f"taper:{t.name}:{s.thin_mm}": s.price_pence for t in rates.tapers for s in t.sizes
        }
        self._sheets = {f"sheet:{s.name}": s.price_pence_m2 for s in rates.sheets}
        self._vcls = {f"vcl:{v.name}": v.price_pence for v in rates.vcls}
        self._lengths = {
            f"length:{x.name}": x.price_pence_m
            * (fascia_percent / PERCENT if x.name.startswith("fascia") else 1)
            for x in rates.lengths
        }
        self._fittings = {
            f"fitting:{x.name}:{f.name}": f.price_pence for x in rates.lengths for f in x.fittings
        }
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
        if line.id in self._fittings:
            return packs * self._fittings[line.id]
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

    def packs(self, line: OrderLine) -> tuple[tuple[int, str, int], ...]:
        """Tell the packs of an order line with the price of each, where it is sold in packs.

        Parameters
        ----------
        line : OrderLine
            Its id says which rate, its packs how much [-].

        Returns
        -------
        tuple of (count, words, price)
            Empty where it goes by the metre or by the square metre [pence].
        """
        if line.id in self._items:
            return tuple((n, says, self._items[line.id][size]) for n, size, says in line.packs)
        each = self._boards.get(line.id) or self._vcls.get(line.id) or self._fittings.get(line.id)
        each = self._screw if line.id.startswith("screw:") else each
        return tuple((n, says, each) for n, _, says in line.packs) if each else ()

    def priced_on(self, line: OrderLine) -> date:
        """Tell the date of the oldest price that an order line goes by.

        Parameters
        ----------
        line : OrderLine
            Its id says which rate [-].

        Returns
        -------
        date
            Its own, or that of the whole price book [-].
        """
        key = "screw" if line.id.startswith("screw:") else line.id
        found = [self._dates.get((key, size)) for _, size, _ in line.packs]
        found.append(self._dates.get((key, None), self._first))
        if line.id in self._items:
            found.pop()
        return min(d or self._first for d in found)


def _dates(rates: Rates) -> dict[tuple[str, float | None], date]:
    """Map each price with a date of its own to that date; items go by the size of the pack."""
    found: dict[tuple[str, float | None], date | None] = {
        (f"board:{b.name}:{s.thickness_mm}", None): s.priced_on
        for b in rates.boards for s in b.sizes
    }  # fmt: skip
    found |= {
        (f"taper:{t.name}:{s.thin_mm}", None): s.priced_on for t in rates.tapers for s in t.sizes
    }  # fmt: skip
    found |= {(f"sheet:{s.name}", None): s.priced_on for s in rates.sheets}
    found |= {(f"vcl:{v.name}", None): v.priced_on for v in rates.vcls}
    found |= {(f"length:{x.name}", None): x.priced_on for x in rates.lengths}
    found |= {
        (f"fitting:{x.name}:{f.name}", None): f.priced_on
        for x in rates.lengths for f in x.fittings
    }  # fmt: skip
    found |= {(f"item:{i.name}", p.size): p.priced_on for i in rates.items for p in i.packs}
    found[("screw", None)] = rates.screw.priced_on
    return {key: on for key, on in found.items() if on}
