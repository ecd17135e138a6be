"""Own waste and prices: what finished jobs really used and paid, beside the rates."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from math import sqrt

from evenfall.errors import InvalidInput
from evenfall.model.logged import OwnMaterial, Spread
from evenfall.model.recorded import BoughtLine
from evenfall.model.taken_off import OrderLine
from evenfall.standards import weather_practice as practice
from evenfall.working import Known

PERCENT = 100


@dataclass(frozen=True, slots=True)
class Ordered:
    """A finished job: its order, the price of each line by its rates, and what was written down."""

    order: tuple[OrderLine, ...]
    pence: tuple[float, ...]  # of each line, in the order of the lines
    bought: tuple[BoughtLine, ...]


@dataclass(frozen=True, slots=True)
class _Log:
    line: OrderLine
    pence: float
    entry: BoughtLine

    @property
    def net(self) -> float:
        """The need before waste."""
        return self.line.need.value / (1 + _waste(self.line) / PERCENT)


def beside(jobs: tuple[Ordered, ...]) -> tuple[OwnMaterial, ...]:
    """Set what finished jobs used and paid beside the rates that the last of them had.

    Parameters
    ----------
    jobs : tuple of Ordered
        Finished jobs [-].

    Returns
    -------
    tuple of OwnMaterial
        One entry to each line that was written down; offered from three jobs on [-].

    Raises
    ------
    InvalidInput
        A line that the order does not have, or more left over than was bought.
    """
    logs: dict[str, list[_Log]] = defaultdict(list)
    for job in jobs:
        known = {line.id: (line, pence) for line, pence in zip(job.order, job.pence, strict=True)}
        for n, entry in enumerate(job.bought):
            where = f"record.bought[{n}]"
            if entry.line not in known:
                raise InvalidInput(f'"{entry.line}"', "the id of a line of the order",
                                   where=f"{where}.line",
                                   do=f"one of {', '.join(sorted(known))}")  # fmt: skip
            if entry.left >= entry.bought:
                left = f"{entry.left:g} left of {entry.bought:g}"
                raise InvalidInput(left, "less left over than was bought", where=f"{where}.left")
            logs[entry.line].append(_Log(*known[entry.line], entry))
    return tuple(_own(tuple(found)) for _, found in sorted(logs.items()))


def _own(logs: tuple[_Log, ...]) -> OwnMaterial:
    line = logs[-1].line
    over = [PERCENT * ((g.entry.bought - g.entry.left) / g.net - 1) for g in logs]
    used = sum(g.entry.bought - g.entry.left for g in logs)
    together = PERCENT * (used / sum(g.net for g in logs) - 1)
    waste = _spread(_waste(line), over, together)
    paid = [g for g in logs if g.entry.paid_pence is not None]
    each = [(g.entry.paid_pence or 0) / g.entry.bought for g in paid]
    price = None
    if paid:
        mean = sum(g.entry.paid_pence or 0 for g in paid) / sum(g.entry.bought for g in paid)
        price = _spread(logs[-1].pence / line.bought, each, mean)
    enough = int(practice.JOBS_LOGGED)
    rated = any(name == "waste" for name, *_ in line.need.of)
    return OwnMaterial(
        line.id, line.says, line.unit, waste, price, rated and waste.jobs >= enough,
        price is not None and price.jobs >= enough,
    )  # fmt: skip


def _waste(line: OrderLine) -> float:
    """Give the waste of the rates that a need holds; none where pieces are laid out one by one."""
    parts = [part for name, _, part in line.need.of if name == "waste"]
    return float(parts[0].value) if parts and isinstance(parts[0], Known) else 0.0


def _spread(seed: float, values: list[float], together: float) -> Spread:
    mean = sum(values) / len(values)
    of = len(values) - 1
    apart = sqrt(sum((v - mean) ** 2 for v in values) / of) if of else 0.0
    return Spread(seed, (min(values), together, max(values)), apart, len(values))
