"""Gutters: what each carries, and the smallest stock gutter, outlet and pipe that will do."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import NamedTuple

from evenfall.calc.drainage.downpipe import downpipe_flow_l_s
from evenfall.calc.drainage.gutter import half_round_capacity
from evenfall.calc.drainage.gutter_shape import eaves_capacity
from evenfall.calc.drainage.outlet import circular_outlet
from evenfall.calc.drainage.run_off import run_off_l_s
from evenfall.errors import InvalidInput
from evenfall.model.designed import GutterCheck
from evenfall.model.drained import Gutter, NewGutter, OutletAt
from evenfall.model.surveyed import SideAt
from evenfall.stages.design.shedding import Shed
from evenfall.standards import approved_document_h as ad_h
from evenfall.standards import en_12056_3 as en
from evenfall.standards import gutter_practice as practice
from evenfall.working import Basis, Cited, Known, Table, Working, formula, measured

MM = 1000
PERCENT = 100
COLUMNS = (
    ("gutter", "mm"), ("shape", "-"), ("outlet at", "-"), ("carries", "l/s"), ("outlet", "mm"),
    ("outlet carries", "l/s"), ("pipe", "mm"), ("pipe carries", "l/s"), ("will do", "-"),
)  # fmt: skip


class Size(NamedTuple):
    """A gutter that is sold; ``depth_mm`` makes it a rectangular one."""

    width_mm: float
    depth_mm: float | None = None

    @property
    def shape(self) -> str:
        """The word of the job file."""
        return "rectangular" if self.depth_mm else "half_round"


SIZES = tuple(Size(float(row.gutter_mm)) for row in ad_h.TABLE_2)
PIPES_MM = tuple(float(mm) for mm in practice.PIPES_MM)


class Stock(NamedTuple):
    """Gutters and pipes that are sold; where the rates have no sizes, those of practice."""

    gutters: tuple[Size, ...] = SIZES
    pipes_mm: tuple[float, ...] = PIPES_MM
    sold: bool = False  # named by the rates
    basis: Basis = "from memory"


def stock(sections: tuple[tuple[str, float | None, float | None], ...], basis: Basis) -> Stock:
    """Pick gutters and pipes out of what is sold by length.

    Parameters
    ----------
    sections : tuple of (name, width, depth)
        Sections of the rates [mm].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Stock
        Sizes, the smallest first [mm].
    """
    hung = sorted(Size(w, d) for n, w, d in sections if w and n.startswith("gutter"))
    pipes = sorted(w for n, w, _ in sections if w and n.startswith("downpipe"))
    plain = Stock()
    return Stock(
        tuple(hung) or plain.gutters, tuple(pipes) or plain.pipes_mm, bool(hung and pipes), basis
    )


@formula("h", "mm", "share of the depth of the gutter", "from memory")
def head_mm(W_mm: float, share: float = practice.OUTLET_HEAD_SHARE) -> float:
    """Head of water over the outlet of a gutter.

    Parameters
    ----------
    W_mm : float
        Depth of the gutter [mm].
    share : float
        Share of the depth [-].

    Returns
    -------
    float
        Head [mm].

    Examples
    --------
    >>> head_mm(50.0)
    23.5
    """
    return share * W_mm


@formula("Q", "l/s", "two of the same: the one that takes more is full first")
def both_l_s(Q_one_l_s: float, heavier: float) -> float:
    """Capacity of two halves of a gutter, or of two outlets or pipes.

    Parameters
    ----------
    Q_one_l_s : float
        Capacity of one [l/s].
    heavier : float
        Share of the rain that runs to the half that takes more; 0.5 where both take the same [-].

    Returns
    -------
    float
        Rain on both at which the one is full [l/s].

    Examples
    --------
    >>> both_l_s(0.7778, 0.5), both_l_s(0.7778, 0.62)
    (1.5556, 1.2545)
    """
    return Q_one_l_s / heavier


def check_gutter(
    gutter: Gutter, side: SideAt, shed: Shed, r: Known, table: str = "survey.gutters"
) -> GutterCheck:
    """Compare one gutter, its outlets and its pipes with the rain that reaches them.

    Parameters
    ----------
    gutter : Gutter
        As it hangs [mm].
    side : SideAt
        The side along which it hangs [m].
    shed : Shed
        What runs to it [m2].
    r : Known
        Rainfall intensity [l/(s m2)].
    table : str
        Key of the table that the sizes come from [-].

    Returns
    -------
    GutterCheck
        Area, flow, capacities and what is spare [l/s].
    """
    key = f"{table}[{gutter.side}]"
    heavier = measured(shed.heavier, "-", f"{gutter.side}, its catchment cut at the middle")
    carries = _carries(gutter, side.length_m, heavier, key)
    head = head_mm.show(measured(depth_mm(gutter), "mm", f"{key}, depth"))
    h = Cited(head.value, "mm", head.source, head.line, head.basis)
    outlet = circular_outlet(measured(gutter.outlet_mm, "mm", f"{key}.outlet_mm"), h)
    pipe = downpipe_flow_l_s.show(measured(gutter.pipe_mm, "mm", f"{key}.pipe_mm"))
    if gutter.outlet_at == "both_ends":
        outlet, pipe = both_l_s.show(outlet, heavier), both_l_s.show(pipe, heavier)
    area = shed.area
    flow = run_off_l_s.show(r, area)
    spare = spare_percent(min(carries.value, outlet.value, pipe.value), flow.value)
    return GutterCheck(f"gutter:{gutter.side}", area, flow, carries, outlet, pipe, spare)


def depth_mm(gutter: Gutter) -> float:
    """Give the depth of a gutter.

    Parameters
    ----------
    gutter : Gutter
        Any [mm].

    Returns
    -------
    float
        Half the width of a half-round one, else as measured [mm].
    """
    if gutter.shape == "half_round" or gutter.depth_mm is None:
        return gutter.width_mm / 2
    return gutter.depth_mm


def sole_mm(gutter: Gutter) -> float:
    """Give the width of the bottom of a gutter.

    Parameters
    ----------
    gutter : Gutter
        A gutter [mm].

    Returns
    -------
    float
        Its sole; nought for a half-round one, the width of a rectangular one [mm].
    """
    if gutter.shape == "half_round":
        return 0.0
    return gutter.sole_mm if gutter.shape == "trapezoidal" and gutter.sole_mm else gutter.width_mm


def _carries(gutter: Gutter, length_m: float, heavier: Known, key: str) -> Working:
    """Capacity of the channel; two arms where the outlet is in the middle or at both ends."""
    halves = gutter.outlet_at != "end"
    W, T = depth_mm(gutter), measured(gutter.width_mm, "mm", f"{key}.width_mm")
    longest = en.LENGTH_FACTORS[-1][0] * W / MM
    reach = min(length_m / (2 if halves else 1), longest)
    fall = measured(gutter.fall_mm_per_m, "mm/m", f"survey.gutters[{gutter.side}].fall_mm_per_m")
    bend = gutter.bend_from_outlet_m
    if gutter.shape == "half_round":
        arm = half_round_capacity(T, reach, fall, bend)
    else:
        S, W = measured(sole_mm(gutter), "mm", f"{key}, sole"), measured(W, "mm", f"{key}.depth_mm")
        arm = eaves_capacity(S, T, W, reach, fall, bend)
    return both_l_s.show(arm, heavier) if halves else arm


def spare_percent(carries: float, flow: float) -> float:
    """Say how much more could be carried.

    Parameters
    ----------
    carries, flow : float
        Capacity, and what comes [l/s].

    Returns
    -------
    float
        Spare, negative where too little is carried [%].
    """
    return (carries / flow - 1) * PERCENT if flow else float(PERCENT)


def enough(check: GutterCheck) -> bool:
    """Tell whether gutter, outlet and pipe all carry the rain.

    Parameters
    ----------
    check : GutterCheck
        A check [-].

    Returns
    -------
    bool
        Whether they do [-].
    """
    return check.spare_percent >= 0


class Hanging(NamedTuple):
    """A gutter to be hung, its check, and the stock tried beside it."""

    gutter: Gutter
    check: GutterCheck
    tried: Table


def smallest(
    found: Gutter, chosen: NewGutter, side: SideAt, shed: Shed, r: Known, sold: Stock
) -> Hanging:
    """Fill in what nobody chose with the smallest stock sizes that carry the rain.

    The outlet stays where it was if that will do; else it goes to the middle, or to both ends.

    Parameters
    ----------
    found : Gutter
        As found: its fall, bend and length of pipe are kept [mm].
    chosen : NewGutter
        Sizes chosen; None for those left open [mm].
    side : SideAt
        The side [m].
    shed : Shed
        What runs to it [m2].
    r : Known
        Rainfall intensity [l/(s m2)].
    sold : Stock
        What can be bought [mm].

    Returns
    -------
    Hanging
        The first that carries it, or the last that was tried [mm].
    """
    rows: list[tuple[float | str, ...]] = []
    best: tuple[Gutter, GutterCheck] | None = None
    for place, size in product(_places(found, chosen), _sizes(chosen, sold)):
        base = found.model_copy(update={
            "shape": size.shape, "width_mm": size.width_mm, "depth_mm": size.depth_mm,
            "sole_mm": None, "outlet_at": place,
        })  # fmt: skip
        best = _fitted(base, chosen, side, shed, r, sold)
        rows.append(_row(*best))
        if enough(best[1]):
            break
    assert best is not None
    table = Table(
        f"Stock gutters for {side.name}, the smallest first", COLUMNS, tuple(rows),
        f"{en.SOURCE}; sizes from {'the rates' if sold.sold else ad_h.SOURCE}", "from memory",
    )  # fmt: skip
    return Hanging(*best, table)


def _places(found: Gutter, chosen: NewGutter) -> tuple[OutletAt, ...]:
    if chosen.outlet_at is not None:
        return (chosen.outlet_at,)
    return tuple(dict.fromkeys((found.outlet_at, "middle", "both_ends")))


def _sizes(chosen: NewGutter, sold: Stock) -> tuple[Size, ...]:
    """Give the sizes to try; a chosen one must be sold where the rates name sizes."""
    sizes = tuple(s for s in sold.gutters if s.shape == chosen.shape)
    if chosen.width_mm is not None:
        sizes = tuple(s for s in sizes if s.width_mm == chosen.width_mm)
        if not sizes and not sold.sold and chosen.shape == "half_round":
            sizes = (Size(chosen.width_mm),)
    if not sizes:
        known = ", ".join(f"{s.shape} {s.width_mm:g}" for s in sold.gutters)
        raise InvalidInput(
            f"a {chosen.shape} gutter of {chosen.width_mm or 'any'} mm",
            f"a gutter that the rates hold: {known}",
            where=f"design.new_gutters[{chosen.side}]", do="choose one, or add it to the rates",
        )  # fmt: skip
    return sizes


def _fitted(
    base: Gutter, chosen: NewGutter, side: SideAt, shed: Shed, r: Known, sold: Stock
) -> tuple[Gutter, GutterCheck]:
    """Fit the smallest outlet that goes with the gutter, then the smallest pipe, that carry it."""
    goes = max((float(row.outlet_mm) for row in ad_h.TABLE_2 if row.gutter_mm <= base.width_mm),
               default=0.0)  # fmt: skip
    usual = [float(o) for o in practice.OUTLETS_MM if o >= goes]
    outlets = [chosen.outlet_mm] if chosen.outlet_mm else usual
    pipes = [chosen.pipe_mm] if chosen.pipe_mm else list(sold.pipes_mm)
    if chosen.pipe_mm and sold.sold and chosen.pipe_mm not in sold.pipes_mm:
        raise InvalidInput(
            f"a pipe of {chosen.pipe_mm:g} mm",
            f"a pipe that the rates hold: {', '.join(f'{p:g}' for p in sold.pipes_mm)}",
            where=f"design.new_gutters[{chosen.side}].pipe_mm", do="choose one of them",
        )  # fmt: skip
    outlets = [o for o in outlets if o <= base.width_mm] or outlets[:1]
    gutter = base
    for key, sizes in (("outlet_mm", outlets), ("pipe_mm", pipes)):
        for size in sizes:
            gutter = gutter.model_copy(update={key: size})
            check = check_gutter(gutter, side, shed, r, "design.new_gutters")
            part = check.outlet if key == "outlet_mm" else check.pipe
            if part is not None and part.value >= check.flow.value:
                break
    return gutter, check


def _row(gutter: Gutter, check: GutterCheck) -> tuple[float | str, ...]:
    assert check.gutter is not None
    assert check.pipe is not None
    return (
        gutter.width_mm, gutter.shape.replace("_", " "), gutter.outlet_at.replace("_", " "),
        check.gutter.value, gutter.outlet_mm, check.outlet.value, gutter.pipe_mm,
        check.pipe.value, "yes" if enough(check) else "no",
    )  # fmt: skip


def chosen_of(new: tuple[NewGutter, ...], side: str) -> NewGutter:
    """Find what was chosen for a side; nothing chosen leaves all open.

    Parameters
    ----------
    new : tuple of NewGutter
        ``design.new_gutters`` [mm].
    side : str
        The side [-].

    Returns
    -------
    NewGutter
        With None for every size left open [mm].
    """
    return next((n for n in new if n.side == side), NewGutter(side=side))


def others(new: tuple[NewGutter, ...], side: str) -> Iterator[dict[str, object]]:
    """Give what was chosen for the other sides, as it stands in the job.

    Parameters
    ----------
    new : tuple of NewGutter
        ``design.new_gutters`` [mm].
    side : str
        The side that is left out [-].

    Yields
    ------
    dict
        An entry of the table [-].
    """
    for entry in new:
        if entry.side != side:
            yield entry.model_dump(mode="json", exclude_none=True)
