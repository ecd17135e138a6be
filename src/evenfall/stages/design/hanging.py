"""Hanging: each gutter kept or new, how far it is below the edge, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from evenfall.model.designed import GutterCheck, Hung
from evenfall.model.drained import Gutter, NewGutter, Overflow
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import SideAt
from evenfall.stages.design.blocked import Lie
from evenfall.stages.design.gutters import (
    Stock,
    check_gutter,
    chosen_of,
    depth_mm,
    enough,
    others,
    smallest,
    sole_mm,
)
from evenfall.stages.design.saying import cure, finding, rain_limit
from evenfall.stages.design.shedding import Shed
from evenfall.standards import en_12056_3 as en
from evenfall.standards import gutter_practice as practice
from evenfall.working import Known, Table, formula, measured

MM = 1000
DESIGNED = "Have the gutter designed, or lead part of the rain another way."
SECOND = "Add a second outlet and pipe, or have the gutter designed."
PLACES = {"end": "at the end", "middle": "in the middle", "both_ends": "at both ends"}


@formula("drop", "mm", "geometry")
def drop_mm(top: float, rise: float) -> float:
    """Drop from the new edge of the roof to the top of a gutter that stays.

    Parameters
    ----------
    top : float
        Top of the gutter below the old covering [mm].
    rise : float
        Rise of the edge [mm].

    Returns
    -------
    float
        Drop [mm].

    Examples
    --------
    >>> drop_mm(20.0, 133.0)
    153.0
    """
    return top + rise


@formula("lift", "mm", "geometry")
def lift_mm(drop: float, hangs: float) -> float:
    """Height that a gutter must rise to hang under the new edge.

    Parameters
    ----------
    drop : float
        Drop if it stays [mm].
    hangs : float
        Drop as it is to hang [mm].

    Returns
    -------
    float
        Lift; below nought it comes down [mm].

    Examples
    --------
    >>> lift_mm(153.0, 15.0)
    138.0
    """
    return drop - hangs


class Wanted(NamedTuple):
    """What the design asks of the drainage, and how the finished roof lies."""

    building: str = "house"
    renew: bool = False
    new: tuple[NewGutter, ...] = ()
    sold: Stock = Stock()
    overflows: tuple[Overflow, ...] = ()
    lie: Lie | None = None


AS_FOUND = Wanted()
"""Everything stays as it was found."""


class Line(NamedTuple):
    """One gutter: as found, as it will hang, its check, its side, and the stock tried."""

    found: Gutter
    gutter: Gutter
    hung: Hung
    check: GutterCheck
    old: GutterCheck
    side: SideAt
    shed: Shed
    tried: Table | None


def added(side: SideAt, lie: Lie | None) -> float:
    """Give what firrings or tapers add at the higher end of a side.

    Parameters
    ----------
    side : SideAt
        The side [m].
    lie : Lie, optional
        How the finished roof lies [mm].

    Returns
    -------
    float
        Height [mm].
    """
    return 0.0 if lie is None else max(lie.falls.added_at(side.a), lie.falls.added_at(side.b))


def line(
    found: Gutter,
    chosen: NewGutter,
    side: SideAt,
    shed: Shed,
    r: Known,
    wanted: Wanted,
    rise_mm: float,
) -> Line:
    """Hang one gutter: kept as found, or new with what was chosen and the smallest that will do.

    Parameters
    ----------
    found : Gutter
        As found [mm].
    chosen : NewGutter
        Sizes chosen for a new one [mm].
    side : SideAt
        Its side [m].
    shed : Shed
        What runs to it [m2].
    r : Known
        Rainfall intensity [l/(s m2)].
    wanted : Wanted
        Whether it is renewed, and what is sold [-].
    rise_mm : float
        Rise of the edge [mm].

    Returns
    -------
    Line
        The gutter with its check [-].
    """
    old = check_gutter(found, side, shed, r)
    gutter, check, tried = found, old, None
    if wanted.renew:
        gutter, check, tried = smallest(found, chosen, side, shed, r, wanted.sold)
    key = f"survey.gutters[{side.name}].top_below_covering_mm"
    rise = measured(rise_mm, "mm", "boards, overlay and firrings at the edge", "declared")
    drop = drop_mm.show(measured(found.top_below_covering_mm, "mm", key), rise)
    lift = lift_mm.show(drop, practice.DROP_MM if wanted.renew else drop)
    hung = Hung(
        f"gutter:{side.name}", side.name, gutter.shape, gutter.width_mm, depth_mm(gutter),
        sole_mm(gutter), gutter.outlet_at,
        gutter.outlet_mm, gutter.pipe_mm, found.pipe_length_m + lift.value / MM,
        2 if gutter.outlet_at == "both_ends" else 1, wanted.renew,
        wanted.renew and chosen == NewGutter(side=side.name), drop, lift,
    )  # fmt: skip
    return Line(found, gutter, hung, check, old, side, shed, tried)


def tell_line(one: Line, r: Known, wanted: Wanted) -> Iterator[Finding]:
    """Judge gutter, outlet and pipe one by one, and where the gutter hangs.

    Parameters
    ----------
    one : Line
        The gutter [-].
    r : Known
        Rainfall intensity [l/(s m2)].
    wanted : Wanted
        What was chosen, and what is sold [-].

    Yields
    ------
    Finding
        What is right or wrong [l/s, mm].
    """
    check, side = one.check, one.side.name
    assert check.gutter is not None
    assert check.pipe is not None
    flow, by = check.flow.value, rain_limit(check.flow)
    comes = f"the rain brings {flow:.2f} l/s ({check.area.value:.1f} m² with the walls)"
    for code, what, carries, freed in (
        ("gutter-small", f"Gutter {side}, {one.gutter.width_mm:g} mm,", check.gutter, "width_mm"),
        ("outlet-small", f"The outlet of gutter {side}", check.outlet, "outlet_mm"),
        ("pipe-small", f"The pipe of gutter {side}", check.pipe, "pipe_mm"),
    ):
        if carries.value < flow:
            says = f"{what} carries {carries.value:.2f} l/s; {comes}."
            ask = _cure(one, r, wanted, freed)
            yield finding(code, check.id, "stop", says, by, carries.value, ask)
    if enough(check):
        least = min(check.gutter.value, check.outlet.value, check.pipe.value)
        says = f"{_told(one)} carries {least:.2f} l/s; {comes}."
        yield finding("gutter-carries", check.id, "fine", says, by, least)
        if one.hung.proposed and not enough(one.old):
            yield _larger(one)
    yield from _limits(one)
    yield from _height(one)


def _told(one: Line) -> str:
    if not one.hung.new:
        return f"Gutter {one.side.name}"
    g = one.gutter
    which = "proposed" if one.hung.proposed else "as chosen"
    return (
        f"Gutter {one.side.name}, {which}: {g.width_mm:g} mm, outlet {g.outlet_mm:g} mm "
        f"{PLACES[g.outlet_at]}, pipe {g.pipe_mm:g} mm,"
    )


def _larger(one: Line) -> Finding:
    """Say that the gutter found would not do, and which one is in the price."""
    old, by = one.old, rain_limit(one.check.flow)
    assert old.gutter is not None
    assert old.pipe is not None
    least = min(old.gutter.value, old.outlet.value, old.pipe.value)
    g = one.gutter
    says = (
        f"The gutter found along {one.side.name} carries {least:.2f} l/s and the rain brings "
        f"{by:.2f}: the price has one of {g.width_mm:g} mm, outlet {g.outlet_mm:g} mm "
        f"{PLACES[g.outlet_at]}, pipe {g.pipe_mm:g} mm, the smallest sold that carries it."
    )
    return finding("gutter-larger", one.check.id, "note", says, by, least)


def _cure(one: Line, r: Known, wanted: Wanted, freed: str) -> Remedy:
    """Find the change that clears it: a new gutter, or sizes of a new one left open."""
    side, found = one.side, one.found
    chosen = chosen_of(wanted.new, side.name)
    tries = [chosen] if not wanted.renew else []
    tries += [
        chosen.model_copy(update={freed: None}),
        chosen.model_copy(update={freed: None, "outlet_at": None}),
        NewGutter(side=side.name),
    ]
    for entry in tries:
        made = smallest(found, entry, side, one.shed, r, wanted.sold)
        if enough(made.check):
            g = made.gutter
            says = (
                f"Hang a gutter of {g.width_mm:g} mm, outlet {g.outlet_mm:g} mm "
                f"{PLACES[g.outlet_at]}, pipe {g.pipe_mm:g} mm."
            )
            table = [*others(wanted.new, side.name)]
            if entry != NewGutter(side=side.name):
                table.append(entry.model_dump(mode="json", exclude_none=True))
            changes: list[tuple[str, object]] = []
            if entry != chosen:
                changes.append(("design.new_gutters", table))
            if not wanted.renew:
                changes.append(("design.gutter", "renew"))
            return cure(says, *changes)
    return cure(SECOND if one.hung.pipes == 1 else DESIGNED)


def _limits(one: Line) -> Iterator[Finding]:
    """Name what lies outside the tables, and the clause."""
    g, least = one.gutter, en.PIPE_SMALLEST_MM
    if g.pipe_mm < least:
        says = (
            f"A pipe of {g.pipe_mm:g} mm is smaller than any of Table 8 ({least:.0f} mm): its "
            "capacity is worked by the formula beyond the table."
        )
        yield finding("pipe-below-table", one.check.id, "note", says, least, g.pipe_mm)
    arms = 1 if g.outlet_at == "end" else 2
    ratio = one.side.length_m * MM / arms / depth_mm(g)
    longest = en.LONGEST
    if ratio > longest:
        says = (
            f"Gutter {one.side.name} is {ratio:.0f} times as long as deep; Table 6 ends at "
            f"{longest:.0f}, whose factor is used. Have it designed, or add an outlet."
        )
        ask = cure("Add an outlet and a pipe.")
        yield finding("gutter-long", one.check.id, "agree", says, longest, ratio, ask)


def _height(one: Line) -> Iterator[Finding]:
    """Say how far the water would fall into a gutter that stays, and how far a new one rises."""
    drop, face = one.hung.drop.value, practice.DRIP_FACE_MM
    if one.hung.new:
        says = (
            f"Gutter {one.side.name} rises {one.hung.lift.value:.0f} mm with the roof, its high "
            f"end {practice.DROP_MM:.0f} mm under the drip edge; {_pipes(one.hung)}."
        )
        yield finding("gutter-rises", one.check.id, "fine", says, practice.DROP_MM, drop)
    elif drop > face:
        says = (
            f"Gutter {one.side.name} stays and the roof rises: water would drop {drop:.0f} mm, "
            f"past a trim whose face is {face:.0f} mm; wind takes it down the wall."
        )
        ask = cure("Hang a new gutter under the new edge.", ("design.gutter", "renew"))
        yield finding("gutter-far-below", one.check.id, "note", says, face, drop, ask)


def _pipes(hung: Hung) -> str:
    """Say how much longer the pipe must be than the old one."""
    lift, each = hung.lift.value, "each of its two pipes" if hung.pipes > 1 else "its pipe"
    if abs(lift) < 1:
        return f"{each} stays as long as it was"
    how = "longer" if lift > 0 else "shorter"
    return f"{each} is {abs(lift):.0f} mm {how} than the old one"
