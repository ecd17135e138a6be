"""Lengths: timber, trims, fascia, gutter and pipe, cut from stock lengths with the least waste."""

from __future__ import annotations

import math
from collections.abc import Iterator
from math import ceil

from evenfall.calc.layout.lengths import CuttingPlan
from evenfall.calc.layout.runs import plan_runs
from evenfall.errors import InvalidInput
from evenfall.model.designed import Hung
from evenfall.model.job import Joists, Side
from evenfall.model.surveyed import Falls, Plan, SideAt
from evenfall.model.taken_off import Bar, EdgeCourse, FirringTimber, Lengths, OrderLine, Run
from evenfall.stages.takeoff import (
    edge_timber,
    fascias,
    firring_timber,
    fittings,
    kerb_timber,
)
from evenfall.stages.takeoff.coatings import painted_area
from evenfall.stages.takeoff.outer_faces import outer_mm
from evenfall.stages.takeoff.sections import Section as Section
from evenfall.stages.takeoff.sections import Wish
from evenfall.standards import take_off_practice
from evenfall.working import Basis, Working, measured, total, weakest

MM = 1000
OUTSIDE = ("drip-trim", "kerb-trim", "parapet-capping")
ON_DECK = edge_timber.Under(30.0, 58.0)
"""Where nobody says how deep screws may go: as board makers ask, and with nothing in the void."""
KERBS = kerb_timber.KerbsAsked(75.0, 1.2)
"""Where nobody says how high a kerb is: the usual one, under the usual sheet."""


def work(
    plan: Plan,
    falls: Falls,
    sides: tuple[Side, ...],
    joists: Joists,
    deck_mm: float,
    gutters: tuple[Hung, ...],
    renewed: tuple[str, ...],
    chosen_mm: float,
    sold: tuple[Section, ...],
    basis: Basis,
    under: edge_timber.Under = ON_DECK,
    asked: kerb_timber.KerbsAsked = KERBS,
) -> Lengths:
    """Take off and cut everything that comes in lengths.

    Parameters
    ----------
    plan, falls : Plan, Falls
        Sides, openings and firrings [m].
    sides : tuple of Side
        Depth of the old fascia by side [mm].
    joists : Joists
        Depth of the joists [mm].
    deck_mm : float
        Thickness of the deck [mm].
    gutters : tuple of Hung
        Gutters and pipes as they will hang; those that stay are not bought [m].
    renewed : tuple of str
        Of ``fascia`` and ``soffit`` those that are renewed [-].
    chosen_mm : float
        Insulation and the overlay board on it [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    basis : str
        Basis of the rates [-].
    under : Under
        What the screws of the edge timber must and may reach in the deck [mm].
    asked : KerbsAsked
        What says how high the kerbs must be [mm].

    Returns
    -------
    Lengths
        Runs with their cutting lists, the order, findings [mm].
    """
    outer = outer_mm(plan, sides)
    boards, found = fascias.fascias(
        plan, falls, sides, joists.depth_mm + deck_mm, chosen_mm, sold, outer
    )
    courses = edge_timber.courses(plan, falls, chosen_mm, sold, under)
    kerbs = kerb_timber.courses(plan, falls, chosen_mm, sold, under, asked)
    timbers = _firrings(falls, joists, sold, basis)
    wishes = [
        *_edges(plan, courses, kerbs, outer),
        *_openings(plan, kerbs),
        *_firring_wishes(falls, timbers),
        *(boards if "fascia" in renewed else ()),
        *(fascias.soffits(plan, sides, sold, outer) if "soffit" in renewed else ()),
        *_gutters(gutters, sold, outer),
    ]
    runs = tuple(_runs(wishes, sold, basis))
    higher = dict(_higher(plan, falls, gutters, chosen_mm))
    timber = (courses, kerbs, timbers)
    gaps = {f"length:{s.name}": s.joint_gap_mm for s in sold}
    order = tuple(
        _order(run, basis, _told(plan, run, timber, falls, higher), gaps[run.id]) for run in runs
    )
    fitted = fittings.fitted(plan, runs, gutters, sold)
    said = (
        *(found if "fascia" in renewed else ()),
        *(fascias.soffit_findings(plan, sides, sold) if "soffit" in renewed else ()),
        *edge_timber.findings(courses, plan, basis),
        *kerb_timber.findings(kerbs, plan, basis),
        *firring_timber.findings(falls, joists, sold, timbers),
        *fittings.lacking(fitted),
    )
    return Lengths(runs, order, said, courses, timbers, fitted, kerbs)


def _firrings(
    falls: Falls, joists: Joists, sold: tuple[Section, ...], basis: Basis
) -> tuple[FirringTimber, ...]:
    """Saw firrings one from a timber or two, whichever buys less timber."""
    ways = [firring_timber.timbers(falls, joists, sold, paired) for paired in (False, True)]
    return min(ways, key=lambda way: _bought_m3(way, sold, basis))


def _bought_m3(timbers: tuple[FirringTimber, ...], sold: tuple[Section, ...], basis: Basis) -> int:
    """Timber bought, as depth times length of the stock."""
    wishes = [Wish(t.section, ", ".join(t.firrings), t.length_mm) for t in timbers]
    deep = {f"length:{s.name}": round(s.depth_mm or 0) for s in sold}
    return sum(deep[r.id] * bar.stock_mm for r in _runs(wishes, sold, basis) for bar in r.bars)


def _firring_wishes(falls: Falls, timbers: tuple[FirringTimber, ...]) -> Iterator[Wish]:
    if not timbers:
        yield from (Wish(firring_timber.KIND, f.name, f.length_mm) for f in falls.firrings)
    for t in timbers:
        yield Wish(t.section, " + ".join(t.firrings), t.length_mm)


def _edges(
    plan: Plan,
    courses: tuple[EdgeCourse, ...],
    kerbs: tuple[EdgeCourse, ...],
    outer: dict[str, int],
) -> Iterator[Wish]:
    """Timber, trims, bars and cappings by the kind of each side."""
    for c in courses:
        yield Wish(c.section, f"{c.side} course {c.number}", c.length_mm)
    by_kind = {
        "eaves": ("edge-timber", "drip-trim"),
        "verge": ("edge-timber", "kerb-timber", "kerb-trim"),
        "party_line": ("edge-timber", "kerb-timber", "kerb-trim"),
        "step": ("edge-timber", "wall-bar", "cover-flashing"),
        "wall": ("wall-bar", "cover-flashing"),
        "parapet": ("parapet-capping",),
    }
    for side in plan.sides:
        for section in by_kind[side.kind]:
            if (section == edge_timber.KIND and courses) or (section == kerb_timber.KIND and kerbs):
                continue  # they are there already, course by course
            outside = section in OUTSIDE
            yield Wish(section, side.name, outer[side.name] if outside else _long(side))


def _long(side: SideAt) -> int:
    return round(side.length_m * MM)


def _openings(plan: Plan, kerbs: tuple[EdgeCourse, ...]) -> Iterator[Wish]:
    """Kerbs course by course; bar and flashing on the four faces of each chimney."""
    for c in kerbs:
        yield Wish(c.section, f"{c.side} course {c.number}", c.length_mm)
    for o in plan.openings:
        square = o.diameter_mm is None
        box = o.kind == "rooflight" and square and not kerbs
        wanted = (kerb_timber.KIND,) if box else fittings.FLASHED if o.kind == "chimney" else ()
        for n, (a, b) in enumerate(zip(o.ring, (*o.ring[1:], o.ring[0]), strict=True), 1):
            for section in wanted if square else ():
                yield Wish(section, f"{o.name} {n}", round(math.dist(a, b) * MM))


def _gutters(
    gutters: tuple[Hung, ...], sold: tuple[Section, ...], outer: dict[str, int]
) -> Iterator[Wish]:
    """Each new gutter and its pipes, by the size that is sold."""
    for hung in gutters:
        if hung.new:
            length = outer[hung.side]
            square = hung.shape == "rectangular"
            yield Wish(_sized("gutter", hung.width_mm, sold, square), hung.side, length)
            pipe = _sized("downpipe", hung.pipe_mm, sold)
            for n in range(hung.pipes):
                where = f"{hung.side} {n + 1}" if hung.pipes > 1 else hung.side
                yield Wish(pipe, where, round(hung.pipe_length_m * MM))


def _sized(kind: str, width_mm: float, sold: tuple[Section, ...], square: bool = False) -> str:
    """Name the section of a width; the plain name where the rates have one for all."""
    fits = (
        s.name for s in sold
        if s.name.startswith(kind) and s.width_mm == width_mm and bool(s.depth_mm) == square
    )  # fmt: skip
    return next(fits, kind)


def _runs(wishes: list[Wish], sold: tuple[Section, ...], basis: Basis) -> Iterator[Run]:
    by_name = {s.name: s for s in sold}
    for name in dict.fromkeys(w.section for w in wishes):
        if name not in by_name:
            raise InvalidInput(
                f'nothing named "{name}"', f"a length {name}, which this roof needs",
                where="the rates: lengths", do="add it to the rates",
            )  # fmt: skip
        yield _run(by_name[name], [w for w in wishes if w.section == name])


def _run(section: Section, wishes: list[Wish]) -> Run:
    gap = ceil(section.joint_gap_mm)
    least = int(take_off_practice.LEAST_END_PIECE)
    stock = [(mm, mm) for mm in section.lengths_mm]  # the price goes by the metre
    wanted = [(w.where, w.length_mm) for w in wishes]
    found = plan_runs(wanted, stock, section.kerf_mm, gap, least)
    pieces = [(c.name, c.length_mm) for b in found.bars for c in b.cuts]
    need = total(section.says, "L", "m", [(f"{where}", mm / MM) for where, mm in _by_place(pieces)])
    bars = tuple(
        Bar(b.stock_mm, tuple((c.name, c.length_mm) for c in b.cuts), b.offcut_mm)
        for b in found.bars
    )
    return Run(
        f"length:{section.name}", section.says, need, bars, _bound(found),
        _paint(section, need, len(pieces)),
    )  # fmt: skip


def _paint(section: Section, need: Working, pieces: int) -> Working | None:
    if section.paint_thick_mm is None or section.depth_mm is None:
        return None
    d, t = (
        measured(mm / MM, "m", f"the rates: {section.name}, {what}", "declared")
        for mm, what in ((section.depth_mm, "depth"), (section.paint_thick_mm, "thickness"))
    )
    return painted_area.show(need, pieces, d, t)


def _by_place(pieces: list[tuple[str, int]]) -> list[tuple[str, int]]:
    places: dict[str, int] = {}
    for where, mm in pieces:
        places[where] = places.get(where, 0) + mm
    return list(places.items())


def _bound(found: CuttingPlan) -> float:
    return found.lower_bound_pence / MM


def _higher(
    plan: Plan, falls: Falls, gutters: tuple[Hung, ...], chosen_mm: float
) -> Iterator[tuple[str, str]]:
    """Tell what the drip trims show of the rise, and how much longer the pipes are."""
    hung, shown = {g.side: g for g in gutters}, []
    for side in plan.of_kind("eaves"):
        rise = max(falls.added_at(side.a), falls.added_at(side.b)) + chosen_mm
        told = f"{side.name}: the edge shows {rise:.0f} mm more than the old one"
        if side.name in hung:
            under = hung[side.name].drop.value - hung[side.name].lift.value
            told += f", the gutter {under:.0f} mm under it"
        shown.append(told)
    yield "drip-trim", "; ".join(shown)
    longer = [f"{g.side}: {g.lift.value:.0f} mm longer than the old one" for g in gutters if g.new]
    yield "downpipe", "; ".join(longer)


def _told(
    plan: Plan,
    run: Run,
    timber: tuple[tuple[EdgeCourse, ...], tuple[EdgeCourse, ...], tuple[FirringTimber, ...]],
    falls: Falls,
    higher: dict[str, str],
) -> str:
    """Say what the counter and the saw must know of a run beside its cuts."""
    name = run.id.partition(":")[2]
    courses, kerbs, timbers = timber
    if name.startswith(edge_timber.KIND):
        return edge_timber.told(courses, name)
    if name.startswith(kerb_timber.KIND):
        return kerb_timber.told(kerbs, name)
    if name.startswith(firring_timber.KIND):
        return _firring_words(name, timbers, falls)
    found = next((says for kind, says in higher.items() if name.startswith(kind)), "")
    return found or fittings.mitres(plan, run)


def _firring_words(name: str, timbers: tuple[FirringTimber, ...], falls: Falls) -> str:
    mine = [t for t in timbers if t.section == name]
    if not mine:
        return _sizes(falls)
    pairs = [" and ".join(_number(n) for n in t.firrings) for t in mine if len(t.firrings) > 1]
    two = f"two from one, by one cut along it: {'; '.join(pairs)}. " if pairs else ""
    return f"{two}Heights of each, place by place, stand beside the firring plan"


def _number(name: str) -> str:
    return name.rpartition("-")[2]


def _order(run: Run, basis: Basis, told: str, gap: float) -> OrderLine:
    counts: dict[int, int] = {}
    for bar in run.bars:
        counts[bar.stock_mm] = counts.get(bar.stock_mm, 0) + 1
    packs = tuple((n, mm / MM, f"length of {mm / MM:g} m") for mm, n in sorted(counts.items()))
    bought = sum(n * size for n, size, _ in packs)
    cuts = "; ".join(" + ".join(str(mm) for _, mm in bar.cuts) for bar in run.bars)
    places = [where for bar in run.bars for where, _ in bar.cuts]
    joined = gap and len(places) > len(set(places))
    said = [f"cut {cuts}", *([f"Leave {gap:g} mm open at each joint"] if joined else [])]
    return OrderLine(
        run.id, run.says, run.need, "m", packs, bought, _weaker(run.need, basis),
        ". ".join([*said, *([told] if told else [])]),
    )  # fmt: skip


def _sizes(falls: Falls) -> str:
    """Tell how high each firring is, from its low end; alike ones together."""
    alike: dict[str, list[str]] = {}
    for firring in falls.firrings:
        told = ", ".join(f"{high} at {at}" for at, high in firring.heights)
        alike.setdefault(told, []).append(_number(firring.name))
    pieces = "; ".join(f"no. {', '.join(names)}: {told}" for told, names in alike.items())
    return f"Heights in mm from the low end: {pieces}" if pieces else ""


def _weaker(need: Working, basis: Basis) -> Basis:
    return weakest([need.basis, basis])
