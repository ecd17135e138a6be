"""Deck off: in a bay whose boards are lifted nothing holds the tops of the joists sideways.

Before and after, the deck holds them. Noggins hold them at any time.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from evenfall.calc.loads.joists import Joist, bending_use
from evenfall.calc.loads.lateral_buckling import longest_free, slenderness_allowed
from evenfall.model.designed import DeckOff
from evenfall.model.finding import Finding, Remedy
from evenfall.stages.design.saying import cure
from evenfall.stages.design.structure import NEAR, PERCENT, asked
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Cited, Working, formula, measured

ROWS_MOST = 4
"""More rows of noggins than this nobody fits for a few days; the engineer finds another way."""
STRIP_LEAST_M = 0.3
"""A narrower strip than half the width of a board cannot be lifted by itself."""
HELD = "6.1.6 and 6.3.3, bending with the compression edge free"


@formula("l", "m", "geometry")
def between_noggins(L: float, n: float) -> float:
    """Length of a joist between rows of noggins, set evenly.

    Parameters
    ----------
    L : float
        Span [m].
    n : float
        Rows of noggins between the bearings [-].

    Returns
    -------
    float
        Length that is free sideways [m].

    Examples
    --------
    >>> between_noggins(4.2, 2)
    1.4
    """
    return L / (n + 1)


@formula("k_crit", "-", "held use over the use allowed")
def factor_needed(eta: float, allowed: float = 1.0) -> float:
    """Factor of lateral buckling that still lets the joist carry what it must.

    Parameters
    ----------
    eta, allowed : float
        Utilisation of the joist held sideways, and the most that is allowed [-].

    Returns
    -------
    float
        Least factor [-].

    Examples
    --------
    >>> factor_needed(0.45, 0.9)
    0.5
    """
    return eta / allowed


def deck_off(joist: Joist, M: Working, noggin_rows: int, lifted: bool) -> DeckOff | None:
    """Work out one joist with its deck off and one person at mid-span; no deck shares the load.

    Parameters
    ----------
    joist : Joist
        The joist [m].
    M : Working
        Design moment: what lay there as found, and one person [Nm].
    noggin_rows : int
        Rows of noggins found between the joists [-].
    lifted : bool
        Whether boards come up at all: renewed, or laid again over firrings [-].

    Returns
    -------
    DeckOff or None
        None where the deck stays down [-].
    """
    if not lifted:
        return None
    short, timber = en.K_MOD["short"], joist.timber
    held = bending_use(joist, M, short, en.NO_SHARING, en.GAMMA_M)
    rows = measured(float(noggin_rows), "-", "survey.joists.noggin_rows")
    free = between_noggins.show(joist.L, rows)
    share = en.LENGTH_SHARE_EVEN if noggin_rows else en.LENGTH_SHARE
    used = bending_use(joist, M, short, en.NO_SHARING, en.GAMMA_M, free, share)
    needed = factor_needed.show(held, NEAR)
    reach = longest_free.show(
        joist.b, joist.h, timber.E_05, timber.f_m_k, slenderness_allowed(needed)
    )
    return DeckOff(free.value, held, used, reach)


def tell(joist: Joist, bare: DeckOff | None) -> Iterator[Finding]:
    """Say where a joist may tip over under a person, and what holds it.

    Parameters
    ----------
    joist : Joist
        The joist [m].
    bare : DeckOff or None
        The joist with its deck off [-].

    Returns
    -------
    iterator of Finding
        A finding, or nothing [-].
    """
    if bare is None or bare.bending.value <= NEAR:
        return
    full = Cited(1.0, "-", en.SOURCE, HELD, "from memory")
    used, held = bare.bending.value * PERCENT, bare.held.value * PERCENT
    if held > NEAR * PERCENT:
        says = (
            f"With the deck off, one person on one bare joist uses it to {used:.0f} %, "
            f"{held:.0f} % even where it cannot tip."
        )
    else:
        says = (
            f"Where boards are lifted nothing holds the tops of the joists over "
            f"{bare.free_m:.1f} m: one person on a bare joist would use {used:.0f} % of what it "
            f"bears before it tips, {held:.0f} % where it is held."
        )
    yield asked(
        "joists-deck-off", "joists", says, full, bare.bending.value, _hold(joist, bare)
    )  # fmt: skip


def _hold(joist: Joist, bare: DeckOff) -> Remedy:
    """Offer strips that hold, or noggins first; boards to stand on where neither helps."""
    stand = "Stand on boards that bear on three joists or more, never on one joist"
    strip, span = bare.longest.value, float(joist.L)
    if bare.held.value > NEAR or strip < STRIP_LEAST_M:
        return cure(f"{stand}; prop the joists or have an engineer look before a board comes up.")
    rows = ceil(span / strip) - 1
    says = (
        f"Leave noggins and battens in. Lift the boards in strips no wider than {strip:.1f} m "
        f"along the joists and lay each again before the next. {stand}."
    )
    if rows > ROWS_MOST:
        return cure(says)
    noun = "one row" if rows == 1 else f"{rows} rows"
    first = f" Or first fit {noun} of noggins between the joists, flush with their tops."
    return cure(says + first, ("survey.joists.noggin_rows", rows))
