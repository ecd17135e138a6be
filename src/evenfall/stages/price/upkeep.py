"""Upkeep: what the fascia costs over the years, by its material."""

from __future__ import annotations

from evenfall.model.priced import Upkeep
from evenfall.model.rates import FasciaFinish
from evenfall.model.taken_off import Lengths
from evenfall.working import Basis, Known, Working, formula, measured, total

YEARS = 20  # long enough that cheap and lasting change places, short enough to be one owner's
PERCENT = 100


@formula("once", "pence", "length times rate, with VAT")
def one_painting(length: float, rate: float, vat: float) -> float:
    """Price of painting the fascia again, as the client pays it.

    Parameters
    ----------
    length : float
        Fascia [m].
    rate : float
        Price without VAT [pence/m].
    vat : float
        VAT [%].

    Returns
    -------
    float
        Price to the whole penny [pence].

    Examples
    --------
    >>> one_painting(12.5, 1580, 20)
    23700
    """
    return round(length * rate * (1 + vat / 100))


def times_painted(every: int | None, years: int = YEARS) -> int:
    """Count how often something is painted again within some years.

    Parameters
    ----------
    every : int or None
        Years between two paintings; None is never [a].
    years : int
        Years looked at; a painting that falls on the last day is not counted [a].

    Returns
    -------
    int
        Times [-].

    Examples
    --------
    >>> times_painted(6), times_painted(5), times_painted(None)
    (3, 3, 0)
    """
    return (years - 1) // every if every else 0


def upkeep(
    finish: FasciaFinish | None, lengths: Lengths, paid: Working, vat: Known, basis: Basis
) -> Upkeep | None:
    """Reckon the cost of this roof and its fascia over the years, at prices of today.

    Parameters
    ----------
    finish : FasciaFinish or None
        Material of the new fascia [-].
    lengths : Lengths
        Cut from stock [-].
    paid : Working
        What the client pays for the roof [pence].
    vat : Known
        VAT on painting [%].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Upkeep or None
        None where no fascia is renewed or no material chosen [pence].
    """
    runs = [r for r in lengths.runs if r.id.startswith("length:fascia")]
    if finish is None or not runs:
        return None
    length = total("Fascia", "length", "m", [(r.id, r.need) for r in runs])
    where = f"the rates: fascias[{finish.name}].repaint_pence_m"
    each = one_painting.show(length, measured(finish.repaint_pence_m, "pence/m", where, basis), vat)
    times = times_painted(finish.repaint_years)
    painted = [(f"painting {n + 1}", each) for n in range(times)]
    whole = total(f"The roof, and its fascia over {YEARS} years", "whole", "pence",
                  [("the roof", paid), *painted])  # fmt: skip
    return Upkeep(finish.says, finish.repaint_years, length, times, each, whole)
