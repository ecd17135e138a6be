"""Ways to make the fall: kept, packed, firred along or across, tapered; all compared every time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import floor, inf

from evenfall.calc.geometry.polygon import area
from evenfall.errors import InvalidInput
from evenfall.model.choice import Tapered
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Falls as Chosen
from evenfall.model.job import Joists
from evenfall.model.rates import Rates
from evenfall.model.standing import HeightAt
from evenfall.model.surveyed import PACKED_MM, Falls, Levels, Plan, Taper
from evenfall.model.ways import Way, Ways
from evenfall.stages.survey import deck
from evenfall.stages.survey.falls import fall_of, valleys_of, wish
from evenfall.stages.survey.making import OPEN, Made, Wish, make
from evenfall.stages.survey.sagging import fall_left, sag_under_load
from evenfall.standards import (
    falls_practice,
    roofing_practice,
    survey_practice,
    take_off_practice,
)
from evenfall.standards import programme_practice as practice
from evenfall.working import Table

MM = 1000
PERCENT = 100
ALIKE = 1e-6  # mm; less is the rounding of a sum
STEEPEST = 20  # 1 in so many: no steeper fall can be asked for in a job
NAMES = {
    ("keep", "along"): "Keep the fall that is there",
    ("shims", "along"): "Pack the joists to one plane",
    ("firrings", "along"): "Firrings on the joists",
    ("firrings", "across"): "Firrings across the joists",
    ("tapered", "along"): "Tapered boards",
}


_TABLES = {"firring-timber": "lengths", "wood-screws": "items"}


@dataclass(frozen=True, slots=True)
class Prices:
    """What the ways cost: only what they differ in."""

    firring_pence_m: tuple[tuple[float, float], ...]  # by depth in mm, the shallowest first
    screw_pence: float  # one of the deck
    foam_pence_m3: float
    labour_pence_hour: float
    firring_hours_m: float
    deck_hours_m2: float  # lifted and laid again
    board_hours_m2: float  # a further layer
    relaid_percent: float  # of the deck; the rest is renewed anyway


def prices_of(rates: Rates, board: str, renew_percent: float) -> Prices:
    """Take from the rates what the ways differ in.

    Parameters
    ----------
    rates : Rates
        The firm's rates [-].
    board : str
        The board chosen: tapered ones are reckoned by its price for a further millimetre [-].
    renew_percent : float
        Share of the deck that is renewed anyway [%].

    Returns
    -------
    Prices
        Pence and hours [-].
    """
    hours = {o.task: o.typical for o in rates.outputs}
    timber = firring_prices(rates)
    items = {i.name: i for i in rates.items}
    stock = next((b for b in rates.boards if b.name == board), rates.boards[0])
    names = ("firrings", "lift-deck", "relay-deck", "boards-second-layer")
    lacking = [n for n in names if n not in hours]
    lacking += [] if timber else ["firring-timber"]
    lacking += [n for n in ("wood-screws",) if n not in items]
    if lacking:
        raise InvalidInput(
            f'nothing named "{lacking[0]}"', f"one that is called {lacking[0]}",
            where=f"the rates: {'outputs' if lacking[0] in names else _TABLES[lacking[0]]}",
            do="add it to the rates",
        )  # fmt: skip
    item = items["wood-screws"]
    each = min(p.price_pence / p.size for p in item.packs)
    sizes = sorted((s.thickness_mm, s.price_pence) for s in stock.sizes)
    (t1, p1), (t2, p2) = sizes[0], sizes[-1]
    by_mm = (p2 - p1) / (t2 - t1) if t2 > t1 else p1 / t1
    foam = by_mm * MM / (stock.length_mm * stock.width_mm / MM**2)
    return Prices(
        timber, each / item.covers * (1 + item.waste_percent / PERCENT),
        foam * falls_practice.TAPERED_PRICE, rates.terms.labour_pence_hour, hours["firrings"],
        hours["lift-deck"] + hours["relay-deck"], hours["boards-second-layer"],
        relaid_percent(renew_percent),
    )  # fmt: skip


def firring_prices(rates: Rates) -> tuple[tuple[float, float], ...]:
    """Give the price of firring timber by its depth; one for all where the rates tell no depth.

    Parameters
    ----------
    rates : Rates
        The firm's rates [-].

    Returns
    -------
    tuple of (depth, price)
        The shallowest first [mm, pence/m].
    """
    stock = [s for s in rates.lengths if s.name.startswith("firring-timber")]
    return tuple(sorted((s.depth_mm or inf, float(s.price_pence_m)) for s in stock))


def _timber_pence(made: Made, prices: Prices) -> float:
    """Price each firring by the shallowest timber that it can be sawn from."""
    sold = prices.firring_pence_m
    return sum(
        f.length_mm / MM * next((p for deep, p in sold if deep >= f.thick_mm), sold[-1][1])
        for f in made.firrings if f.thick_mm >= PACKED_MM
    )  # fmt: skip


def relaid_percent(renew_percent: float) -> float:
    """Tell how much of a deck that is lifted for firrings is laid again.

    Parameters
    ----------
    renew_percent : float
        Share of the deck that is renewed anyway [%].

    Returns
    -------
    float
        Share laid again; none where the whole deck is new [%].

    Examples
    --------
    >>> relaid_percent(26.0), relaid_percent(100.0)
    (74.0, 0.0)
    """
    return 0.0 if renew_percent >= practice.WHOLE_DECK else PERCENT - renew_percent


def work(
    chosen: Chosen,
    joists: Joists,
    plan: Plan,
    levels: Levels,
    falls: Falls,
    items: tuple[HeightAt, ...],
    snow: tuple[int, float],
    prices: Prices,
    sold: tuple[Tapered, ...] = (),
) -> Ways:
    """Compare all ways of making the fall.

    Parameters
    ----------
    chosen : Falls
        What the owner chose [-].
    joists : Joists
        The joists [-].
    plan, levels, falls : Plan, Levels, Falls
        The roof, the old deck, and the fall as chosen [mm].
    items : tuple of HeightAt
        What stands beside the roof, with its margin as chosen [mm].
    snow : tuple of (int, float)
        Snow zone, altitude [m].
    prices : Prices
        What they cost [pence].
    sold : tuple of Tapered
        Tapered boards of the rates [mm].

    Returns
    -------
    Ways
        Every way with fall, height, cost, hours and verdict; the best and why [-].
    """
    old = deck.deck_relief(levels.spots, levels.plane, plan)
    bends = sag_under_load(joists, *snow)
    downhill = falls.downhill
    rows = []
    for asked, mine in _wishes(chosen, falls, plan, sold):
        made = make(asked, joists, plan, levels, old)
        laid = fall_of(made, levels, downhill)
        left = fall_left(laid, asked.kind, bends, joists, plan, levels, downhill)
        rows.append(_way(made, mine, laid.value, left.value, plan, falls, items, prices))
    return _ways(tuple(rows), prices)


def _wishes(
    chosen: Chosen, falls: Falls, plan: Plan, sold: tuple[Tapered, ...]
) -> Iterator[tuple[Wish, bool]]:
    """Give the way as chosen, then all others, steep enough for the joists' sag."""
    mine = wish(chosen, sold)
    yield mine, True
    lost = falls.finished.value - falls.loaded.value if falls.loaded else 0.0
    need = max(float(STEEPEST), floor(1 / (falls_practice.FINISHED_FALL + lost / MM)))
    one_in = min(mine.one_in, need)
    thin = max(mine.thin_mm, float(falls_practice.THIN_END_LEAST_MM))
    by_outlets = plan.side(mine.low_side).kind not in OPEN and bool(deck.outlets(plan))
    for kind, run in NAMES:
        steep = kind == "tapered" and by_outlets  # its valleys fall less than its boards
        made_to = min(one_in, 1 / falls_practice.DESIGN_FALL) if steep else one_in
        other = Wish(kind, mine.low_side, made_to, thin, run, sold)  # type: ignore[arg-type]
        same = (kind, run) == (mine.kind, mine.run)
        if not same or (kind in ("firrings", "tapered") and made_to < mine.one_in):
            yield other, False


def _way(
    made: Made,
    mine: bool,
    laid: float,
    left: float,
    plan: Plan,
    falls: Falls,
    items: tuple[HeightAt, ...],
    prices: Prices,
) -> Way:
    """Measure one way."""
    asked = made.wish
    most = max((h for t in made.patches for h in t.added_mm), default=0.0)
    margin, used, governs = min(
        ((i.margin.value + falls.added_at(i.at) - made.added_at(i.at), made.added_at(i.at), i.id)
         for i in items),
        default=(inf, most, "roof"),
    )  # fmt: skip
    pond = max((p.depth_mm for p in deck.ponds(deck.filled(
        made.after, plan, asked.low_side), "after")), default=0.0)  # fmt: skip
    mitres = [v.fall_mm_m for v in valleys_of(made, plan) if v.says == "valley"]
    mitre = min(mitres, default=inf) if asked.kind == "tapered" else inf
    timber, foam, hours, cost = _cost(made, plan, prices)
    why = _verdict(asked, laid, left, pond, mitre, margin, most, governs)
    changes = (
        Change("design.falls.kind", asked.kind), Change("design.falls.one_in", asked.one_in),
        Change("design.falls.run", asked.run), Change("design.falls.thin_end_mm", asked.thin_mm),
    )  # fmt: skip
    own = asked.kind in ("firrings", "tapered")
    says = NAMES[asked.kind, asked.run if asked.kind == "firrings" else "along"]
    return Way(
        f"way:{asked.kind}-{asked.run}", says + (f", 1:{asked.one_in:g}" if own else ""),
        asked.one_in, laid, left, pond, None if mitre == inf else mitre, most, used, governs,
        None if margin == inf else margin, timber, foam, hours, cost, why or "does", not why, mine,
        changes, bool(made.tapers) and (made.rows is None or bool(made.rows.ridges)),
    )  # fmt: skip


def _cost(made: Made, plan: Plan, prices: Prices) -> tuple[float, float, float, int]:
    """Timber, foam, hours and pence over a roof that keeps its fall."""
    pieces = [f for f in made.firrings if f.thick_mm >= PACKED_MM]
    timber = sum(f.length_mm for f in pieces) / MM
    foam = sum(area(t.ring) * sum(t.added_mm) / len(t.added_mm) for t in _thirds(made)) / MM
    deck_m2 = plan.gross.value * prices.relaid_percent / PERCENT if pieces else 0.0
    boards_m2 = plan.net.value if made.tapers else 0.0
    hours = (
        timber * prices.firring_hours_m + deck_m2 * prices.deck_hours_m2
        + boards_m2 * prices.board_hours_m2
    )  # fmt: skip
    pence = (
        _timber_pence(made, prices)
        + deck_m2 * take_off_practice.DECK_SCREW_PER_M2 * prices.screw_pence
        + foam * (made.rows.stock.pence_m3 if made.rows else prices.foam_pence_m3)
        + hours * prices.labour_pence_hour
    )  # fmt: skip
    return timber, foam, hours, round(pence)


def _thirds(made: Made) -> Iterator[Taper]:
    """Cut tapers into triangles, over which the mean height is that of the corners."""
    for t in made.tapers:
        for n in range(1, len(t.ring) - 1):
            pick = (0, n, n + 1)
            ring = tuple(t.ring[i] for i in pick)
            yield replace(t, ring=ring, added_mm=tuple(t.added_mm[i] for i in pick))


def _verdict(
    asked: Wish,
    laid: float,
    left: float,
    pond: float,
    mitre: float,
    margin: float,
    most: float,
    governs: str,
) -> str:
    """Say why a way does not do; nothing where it does."""
    least = falls_practice.FINISHED_FALL * MM - ALIKE
    if laid < least:
        return f"falls {_one_in(laid)}, too little"
    if left < least:
        return f"{_one_in(left)} is left under load"
    if pond > survey_practice.STANDING_WATER * MM:
        return f"keeps water {pond:.0f} mm deep"
    if mitre < least:
        return f"falls {_one_in(mitre)} along the mitre"
    if asked.kind == "shims" and most > falls_practice.SHIMS_MOST_MM:
        return f"{most:.0f} mm is too much to pack"
    if margin < -ALIKE:
        return f"{-margin:.0f} mm short at {governs.partition(':')[2]}"
    return ""


def _one_in(fall: float) -> str:
    return f"1:{MM / fall:.0f}" if fall > ALIKE else "not at all"


def _ways(rows: tuple[Way, ...], prices: Prices) -> Ways:
    """Choose: what works, with room to spare, at the least cost and with the least height."""
    tight = roofing_practice.MARGIN_TIGHT
    do = [r for r in rows if r.works]
    best = min(
        do,
        key=lambda r: ((inf if r.margin_mm is None else r.margin_mm) < tight, r.cost_pence,
                       r.used_mm),
        default=None,
    )  # fmt: skip
    taken = next(r for r in rows if r.chosen)
    return Ways(
        rows, best.id if best else "", _says(taken, best), _table(rows),
        tuple(_findings(taken, best)),
    )  # fmt: skip


def _says(taken: Way, best: Way | None) -> str:
    """Say in one sentence what is chosen, what is best and why."""
    if best is None:
        return f"{taken.says}: {taken.verdict}; no other way does either"
    deck_too = ", the deck lifted and laid again" if best.timber_m else ""
    told = (
        f"{best.used_mm:.0f} mm at {_name(best)}, £{best.cost_pence / PERCENT:.0f} and "
        f"{best.hours:.0f} person-hours{deck_too}"
    )
    if best.by_scheme:
        told += ", guessed by volume: they are in no order or price without a maker's scheme"
    elif best.foam_m3:
        told += ", by volume: the take-off counts them"
    if best.chosen:
        return f"{best.says} does, at the least cost of what does: {told}"
    more = taken.cost_pence - best.cost_pence
    why = taken.verdict if not taken.works else f"£{abs(more) / PERCENT:.0f} dearer"
    if taken.works and more <= 0:
        why = f"{taken.used_mm:.0f} mm at {_name(taken)}, tighter"
    elif taken.works and taken.timber_m and not best.timber_m:
        why += " with the deck lifted and laid again"
    return f"{taken.says}: {why}; {best.says[:1].lower()}{best.says[1:]} would do: {told}"


def _name(way: Way) -> str:
    return way.governs.partition(":")[2] or "the thickest place"


def _table(rows: tuple[Way, ...]) -> Table:
    columns = (
        ("way", "-"), ("fall as laid", "mm/m"), ("left under load", "mm/m"), ("pond", "mm"),
        ("most added", "mm"), ("added where it governs", "mm"), ("there", "-"), ("verdict", "-"),
    )  # fmt: skip
    told = tuple(
        (r.says + (", chosen" if r.chosen else ""), r.finished_mm_m, r.left_mm_m, r.pond_mm,
         r.most_mm, r.used_mm, _name(r), r.verdict)
        for r in rows
    )  # fmt: skip
    return Table("Ways to make the fall", columns, told, "levels, joists and heights", "measured")


def _findings(taken: Way, best: Way | None) -> Iterator[Finding]:
    """Offer the better way where the one chosen does not do."""
    least = falls_practice.FINISHED_FALL
    if taken.works or best is None:
        return
    says = (
        f"{taken.says}: {taken.verdict}. {best.says} would do, with {best.used_mm:.0f} mm at "
        f"{_name(best)}."
    )
    yield Finding(
        "fall-other-way", "fall:field", "note", says, least.source, least.basis,
        taken.left_mm_m, least * MM, "mm/m", Remedy(f"{best.says}.", best.changes),
    )  # fmt: skip
