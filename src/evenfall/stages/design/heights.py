"""Heights: what is left under every sill, threshold and flue once the roof has risen, and back.

Backwards: the thickest even insulation, the side that the roof should fall to, the thinner zone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from evenfall.model.choice import BuildUp
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Covering, Height, Window
from evenfall.model.standing import HeightAt, Heights, TurnedFall, ZoneOffer, Zones
from evenfall.model.surveyed import Falls, Plan, Point, Slope
from evenfall.stages.design import beside, budget, stepping
from evenfall.standards import roofing_practice
from evenfall.working import Known, Table, Working, formula, measured, weakest

OF_WINDOWS = {"sill": "the sill of", "sash": "the sash of"}
MORE_MM = 1.0  # a side that leaves less than this more is not worth a turned roof


@formula("rise", "mm", "the height budget")
def roof_rise(build_up: float, t_cov: float) -> float:
    """Rise of the roof surface above the old covering.

    Parameters
    ----------
    build_up : float
        New build-up above the deck [mm].
    t_cov : float
        Thickness of the old covering that goes [mm].

    Returns
    -------
    float
        Rise [mm].

    Examples
    --------
    >>> roof_rise(145, 12)
    133
    """
    return build_up - t_cov


@dataclass(frozen=True, slots=True)
class Turn:
    """A side that the roof could fall to, and what would then be added under the boards."""

    side: str
    kind: str
    rise: Slope


def work(
    chosen_mm: int,
    build: BuildUp,
    covering: Covering,
    heights: tuple[Height, ...],
    windows: tuple[Window, ...],
    plan: Plan,
    falls: Falls,
    zones: Zones,
    plane: Slope,
    turns: tuple[Turn, ...] = (),
    offer: ZoneOffer | None = None,
) -> Heights:
    """Work out the margin at every measured item, and the reverse.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    covering : Covering
        The old covering and how well its thickness is known [mm].
    heights, windows : tuple
        Everything that sets a ceiling [mm].
    plan, falls : Plan, Falls
        Where the items are, and what the falls add there [-].
    zones : Zones
        Parts of the roof with thinner insulation [mm].
    plane : Slope
        The old surface [mm].
    turns : tuple of Turn
        Other sides that the roof could fall to [-].
    offer : ZoneOffer, optional
        The thinner zone that lets a warm enough board pass [-].

    Returns
    -------
    Heights
        Items, the tightest first, the rise at both ends, the reverse, and findings [mm].
    """
    ground = budget.Ground(plane, zones.zones)
    listed = beside.items(heights, windows, plan)
    worked = [(i, _at(i, chosen_mm, build, falls, covering, ground)) for i in listed]
    worked.sort(key=lambda pair: pair[1].margin.value)
    found = tuple(h for _, h in worked)
    turned = _turned(turns, listed, build, falls, covering, ground)
    ways = _Ways(covering, build, offer, _better(found, turned))
    ends = [_edge(p, chosen_mm, build, covering, falls, ground) for p in _ends(plan, zones)]
    return Heights(
        items=found,
        rise_at_edge=max(ends, key=lambda w: w.value),
        rise_at_thin=min(ends, key=lambda w: w.value),
        turned=turned,
        tables=(*_tables(worked, turned, chosen_mm), *stepping.hold_points(heights)),
        findings=(
            *(f for i, h in worked if (f := _finding(i, h, ways))),
            *stepping.overflows(heights, plan, plane),
            *stepping.steps(zones.zones, chosen_mm, plan, falls, plane),
            *stepping.doors(heights),
        ),
    )


def _at(
    item: beside.Item,
    chosen_mm: int,
    build: BuildUp,
    falls: Falls,
    covering: Covering,
    ground: budget.Ground,
) -> HeightAt:
    margin = budget.left(item, build, chosen_mm, falls, covering, ground)
    available, stack = (v for _, _, v in margin.of[:2])
    assert isinstance(available, Working)
    assert isinstance(stack, Working)
    room = budget.room(item, build, falls, covering, ground)
    return HeightAt(
        item.id, item.name, item.kind, item.at, budget.worst_spot(item, chosen_mm, falls, ground),
        available, item.required, stack, margin, room, budget.fitting(build.totals(), room.value),
        item.agreed,
    )  # fmt: skip


# --- the ends of the edge -----------------------------------------------------------------------


def _ends(plan: Plan, zones: Zones) -> tuple[Point, ...]:
    return (*plan.deck, *(p for z in zones.zones for ring in z.rings for p in ring))


def _edge(
    at: Point,
    chosen_mm: int,
    build: BuildUp,
    covering: Covering,
    falls: Falls,
    ground: budget.Ground,
) -> Working:
    """Rise of the surface over the old one, at one place of the edge."""
    zero = measured(0.0, "mm", "survey")
    place = beside.Item("roof", "edge", "edge", at, zero, zero, False, "", (at,), "")
    t_cov = measured(covering.thickness_mm, "mm", "survey.covering.thickness_mm")
    return roof_rise.show(budget.build_up(place, build, chosen_mm, falls, ground), t_cov)


# --- the reverse ---------------------------------------------------------------------------------


def _turned(
    turns: tuple[Turn, ...],
    listed: tuple[beside.Item, ...],
    build: BuildUp,
    falls: Falls,
    covering: Covering,
    ground: budget.Ground,
) -> tuple[TurnedFall, ...]:
    """Work out what the items would leave if the roof fell to each other open side."""
    found = []
    for turn in turns:
        fallen = replace(falls, rise=turn.rise, patches=(), tapers=())
        rooms = [(budget.room(i, build, fallen, covering, ground).value, i.id) for i in listed]
        if rooms:
            most, governs = min(rooms)
            fits = budget.fitting(build.totals(), most)
            found.append(TurnedFall(turn.side, turn.kind, most, fits, governs))
    return tuple(sorted(found, key=lambda t: -t.thickest_mm))


def _better(items: tuple[HeightAt, ...], turned: tuple[TurnedFall, ...]) -> TurnedFall | None:
    """Pick the side that leaves more room than the fall as chosen, and enough for some board."""
    now = min((h.room.value for h in items), default=None)
    if now is None or not turned or turned[0].thickest_mm < now + MORE_MM:
        return None
    if turned[0].sold_mm is None:
        return None
    return turned[0]


def _tables(
    worked: list[tuple[beside.Item, HeightAt]], turned: tuple[TurnedFall, ...], chosen_mm: int
) -> Iterator[Table]:
    """Show the budget at a glance, and the sides that the roof could fall to."""
    if not worked:
        return
    items = [h for _, h in worked]
    basis = weakest(h.margin.basis for h in items)
    columns = (
        ("item", "-"), ("kind", "-"), ("stands above the deck", "mm"), ("finished there", "mm"),
        ("asked for", "mm"), ("left", "mm"), ("room for boards", "mm"), ("as sold", "mm"),
    )  # fmt: skip
    rows = tuple(
        (
            h.name, h.kind.replace("_", " "), h.available.value, h.build_up.value,
            float(h.required), h.margin.value, h.room.value, h.thickest_mm or "none",
        )
        for h in items
    )  # fmt: skip
    title = f"The height budget under {chosen_mm} mm, the tightest first"
    yield Table(title, columns, rows, "the height budget", basis)
    if turned:
        sides = tuple(
            (t.side, t.kind.replace("_", " "), t.thickest_mm, t.sold_mm or "none",
             t.governs.partition(":")[2])
            for t in turned
        )  # fmt: skip
        heads = (("falls to", "-"), ("kind", "-"), ("room for boards", "mm"), ("as sold", "mm"),
                 ("governs", "-"))  # fmt: skip
        yield Table("If the roof fell to another side", heads, sides, "the height budget", basis)


# --- findings ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Ways:
    """What helps where something is too low."""

    covering: Covering
    build: BuildUp
    offer: ZoneOffer | None
    turn: TurnedFall | None


def _finding(item: beside.Item, height: HeightAt, ways: _Ways) -> Finding | None:
    margin, required = height.margin.value, height.required
    what = f"{OF_WINDOWS[item.kind]} {item.name}" if item.kind in OF_WINDOWS else item.name
    source, basis = required.source, required.basis
    if margin < budget.FITS:
        return None if item.kind in OF_WINDOWS and _is_window(item) else _short(item, height, ways)
    tight = roofing_practice.MARGIN_TIGHT
    unsure = max(ways.covering.thickness_give_or_take_mm, tight)
    if margin < unsure:
        says = (
            f"{margin:.0f} mm left at {what}, and the felt is known to ±"
            f"{ways.covering.thickness_give_or_take_mm:.0f}. Measure again when the deck is bare."
        )
        return Finding(
            "upstand-tight", item.id, "note", says, tight.source, tight.basis, margin, unsure, "mm"
        )
    if item.agreed:
        says = f"{margin:.0f} mm left at {what}, over the {required:.0f} mm agreed in writing."
        return Finding("upstand-agreed", item.id, "note", says, source, basis, margin, 0.0, "mm")
    says = f"{margin:.0f} mm left at {what}."
    return Finding("upstand-good", item.id, "fine", says, source, basis, margin, 0.0, "mm")


def _is_window(item: beside.Item) -> bool:
    """Tell a window: one that is too low is told in a room of its own, with every way out."""
    return item.path.startswith("survey.windows")


def _short(item: beside.Item, height: HeightAt, ways: _Ways) -> Finding:
    margin, required = height.margin.value, height.required
    what = f"{OF_WINDOWS[item.kind]} {item.name}" if item.kind in OF_WINDOWS else item.name
    fits = f" {height.thickest_mm} mm is the most that fits." if height.thickest_mm else ""
    stays = height.stays_mm
    where = f"{stays:.0f} mm above" if stays > 0 else f"{-stays:.0f} mm BELOW"
    turn = f" {turning(ways.turn)}" if ways.turn else ""
    says = (
        f"{-margin:.0f} mm short at {what}: it would be {where} the finished roof, "
        f"{required:.0f} above is asked for.{fits}{turn}"
    )
    return Finding(
        "upstand-short", item.id, "stop", says, required.source, required.basis,
        required + margin, required.value, "mm", _remedy(item, height, ways),
    )  # fmt: skip


def turning(turn: TurnedFall) -> str:
    """Say what a fall to another side would leave.

    Parameters
    ----------
    turn : TurnedFall
        The side and what fits [mm].

    Returns
    -------
    str
        One sentence [-].

    Examples
    --------
    >>> turning(TurnedFall("B-C", "verge", 131.7, 130, "height:door"))
    'With the fall turned to B-C there is room for 131 mm of boards.'
    """
    room = int(turn.thickest_mm)
    return f"With the fall turned to {turn.side} there is room for {room} mm of boards."


def _remedy(item: beside.Item, height: HeightAt, ways: _Ways) -> Remedy:
    """Channel at a door, a thinner zone that stays warm enough, a thinner board, else words."""
    door: Known = roofing_practice.UPSTAND_AT_DOOR
    may = item.kind == "threshold" and not item.agreed and height.required > door
    if may and height.stays_mm >= door + budget.FITS:
        says = (
            "A drained channel across the door, the sheet 150 up the reveals and under the frame: "
            "then 75 is enough."
        )
        return Remedy(says, (Change(f"{item.path}.drained_channel", True),))
    if ways.offer is not None:
        return Remedy(f"A thinner zone: {ways.offer.says}.", ways.offer.changes)
    if height.thickest_mm is not None:
        return Remedy(
            f"Take {height.thickest_mm} mm.",
            ways.build.take(ways.build.boards(height.thickest_mm)),
        )
    if height.stays_mm <= 0:
        return Remedy(
            "Measure it again. If it is right, raise what stands there: nobody can sign that away."
        )
    return Remedy(
        "Turn the fall round, raise what stands there, or agree the lower upstand in writing."
    )
