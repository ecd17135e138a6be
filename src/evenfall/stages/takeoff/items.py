"""Items: every screw, tube and litre, in packs; each need is counted from the roof."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from evenfall.errors import InvalidInput
from evenfall.model.choice import Board, Vcl
from evenfall.model.designed import WindZone
from evenfall.model.finding import Finding
from evenfall.model.job import Deck, Design, Height, Joists, Side
from evenfall.model.programmed import Bay
from evenfall.model.rates import Item, Screw
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.model.taken_off import (
    Fixings,
    Items,
    Lengths,
    OrderLine,
    Rolls,
    Sheet,
    Strip,
    TaperLaid,
)
from evenfall.stages.takeoff import fittings, wood_screws
from evenfall.stages.takeoff.coatings import COATS, coats, sawn_ends
from evenfall.stages.takeoff.fixings import edge_screws
from evenfall.stages.takeoff.held import held
from evenfall.stages.takeoff.lacking import lacking, touching
from evenfall.stages.takeoff.linings import lined
from evenfall.stages.takeoff.packed import in_packs, same_unit, units
from evenfall.stages.takeoff.packings import joist_ends, packings
from evenfall.stages.takeoff.screws import Screwed, screw_lines
from evenfall.stages.takeoff.sheet import allowance_mm
from evenfall.stages.takeoff.tapered_boards import tapered_faces
from evenfall.standards import sheet_practice, take_off_practice
from evenfall.working import Basis, Known, Working, measured, total, weakest

MM, PERCENT = 1000, 100
SEPARATION = "butyl-separation-strip"
MAY_LACK = ("vcl-collar", "protection-sheet", "joist-preservative", "rooflight-glass", *COATS,
            "firring-screws", "fascia-fixings", "batten-screws", "wall-plugs", "flashing-wedges",
            "chase-sealant")  # fmt: skip
"""Small things that older rates do not have: said where they are wanted, and not priced."""
TRIMS = ("drip-trim", "kerb-trim", "wall-bar", "parapet-capping")
OPEN_EDGES = ("eaves", "verge", "party_line", "step")


@dataclass(frozen=True, slots=True)
class Roof:
    """What items are counted from."""

    plan: Plan
    zones: tuple[WindZone, ...]
    fixings: Fixings
    board: Board
    screws: tuple[Screwed, ...]
    sheet: Sheet
    rolls: Rolls
    lengths: Lengths
    strip: Strip
    bays: tuple[Bay, ...]
    vcl: Vcl
    design: Design
    deck: Deck
    joists: Joists
    sides: tuple[Side, ...]
    heights: tuple[Height, ...]
    rise_mm: float
    relaid_percent: float = 0.0  # of the old deck, lifted for firrings and laid again
    asbestos: str = "none_found"  # felt that holds it is bagged by who may take it off
    zone_screws: tuple[tuple[float, int], ...] = ()  # m2 of a thinner zone, and its screw, mm
    tapered: TaperLaid | None = None  # under the even boards


def work(roof: Roof, items: tuple[Item, ...], screw: Screw, basis: Basis) -> Items:
    """Count every item and put it into packs.

    Parameters
    ----------
    roof : Roof
        Everything that is counted from [-].
    items : tuple of Item
        Items of the rates [-].
    screw : Screw
        Screws of the rates [-].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Items
        Order lines; each covers its need [-].

    Raises
    ------
    InvalidInput
        The roof needs an item that the rates do not have.
    """
    by_name = {i.name: i for i in items}
    order, findings = [], []
    for name, need in wants(roof):
        if not need.value:
            continue
        if name not in by_name and name == SEPARATION:
            findings.append(touching(need, SEPARATION))
            continue
        if name not in by_name and name in MAY_LACK:
            findings.append(lacking(name, need))
            continue
        if name not in by_name:
            raise InvalidInput(
                f'nothing named "{name}"', f"an item {name}: {need.title.lower()}",
                where="the rates: items", do="add it to the rates",
            )  # fmt: skip
        order.append(_line(by_name[name], need, basis, _note(roof, name)))
    if roof.design.hold_boards_by == "screws":
        board = roof.board.length_mm * roof.board.width_mm / MM**2
        most = max(z.per_board for z in roof.zones) / board
        order.extend(screw_lines(roof.screws, roof.zone_screws, most, screw, basis))
    edge, said = _edge_screws(roof, by_name, basis)
    order.extend(fittings.lines(roof.lengths.fitted, basis))
    return Items((*order, *edge), (*findings, *said))


def _edge_screws(
    roof: Roof, by_name: dict[str, Item], basis: Basis
) -> tuple[list[OrderLine], list[Finding]]:
    """Order the screws of edge and kerb timber, each course its own length."""
    centres = roof.fixings.edge_timber
    found, far = wood_screws.choose(
        (*roof.lengths.courses, *roof.lengths.kerbs), tuple(by_name.values())
    )
    lines = [
        _line(by_name[name], wood_screws.need(courses, centres), basis,
              wood_screws.note(courses, by_name[name]))
        for name, courses in found.items() if name
    ]  # fmt: skip
    return lines, list(wood_screws.findings(found, far, centres))


def _note(roof: Roof, name: str) -> str:
    """Say how the packings of the wall heads are cut, and what waits for a sample."""
    if name == "felt-bags" and roof.asbestos == "not_sampled":
        return "not filled before the asbestos sample is tested"
    if name != "wall-head-packing":
        return ""
    found = packings(roof.plan, roof.sides, roof.joists)
    return "; ".join(f"{p.side}: {p.number} × {p.says}, foam round each" for p in found)


def wants(roof: Roof) -> Iterator[tuple[str, Working]]:
    """Name every item and how much work it must do.

    Parameters
    ----------
    roof : Roof
        Everything that is counted from [-].

    Yields
    ------
    tuple of (str, Working)
        Item and need, in the unit of its coverage [-].
    """
    yield from _vcl(roof)
    yield from _glue(roof)
    yield from _rubber(roof)
    yield from _through(roof)
    yield from _timber(roof)
    yield from _night(roof)


def _sum(title: str, unit: str, parts: list[tuple[str, float]], *by: Known | Working) -> Working:
    """Add what was counted on the roof; ``by`` are the practices that it was counted by."""
    basis = weakest(["measured", *(k.basis for k in by)])
    there = [p for p in parts if p[1]] or parts  # what this roof has none of is left out
    return replace(total(title, "need", unit, there), own_basis=basis)


def _vcl(roof: Roof) -> Iterator[tuple[str, Working]]:
    plan = roof.plan
    sticks = roof.vcl.sticks
    laps = sum(s.length_mm for s in roof.rolls.strips) / MM
    edge = [("perimeter", plan.perimeter.value)]
    edge += [(o.name, o.perimeter_m) for o in plan.openings]
    up = roof.rolls.turn_up.value / MM if roof.rolls.turn_up else 0.0
    primed = [("net", plan.net.value), *((s, up * m) for s, m in _masonry(plan))]
    yield (
        "primer",
        _sum("Deck and walls primed for the VCL", "m2", [(n, m2 * sticks) for n, m2 in primed]),
    )
    yield "vcl-tape", _sum("Laps of the VCL taped", "m", [("strips", laps * (not sticks))])
    if roof.vcl.bituminous:
        yield SEPARATION, _sum("Bitumen kept off the rubber", "m", edge)
    filled = roof.design.wall_head == "fill"
    packed = packings(plan, roof.sides, roof.joists) if filled else []
    packs = [(f"packings {p.side}", p.foam_m) for p in packed]
    yield "foam-can", _sum("Gaps at edges and openings foamed", "m", [*edge, *packs])


def _masonry(plan: Plan) -> list[tuple[str, float]]:
    """List walls, parapets and chimneys that the VCL is turned up on, m."""
    walls = [(s.name, s.length_m) for s in plan.of_kind("wall", "parapet", "step")]
    return walls + [(o.name, o.perimeter_m) for o in plan.openings if o.kind == "chimney"]


def _glue(roof: Roof) -> Iterator[tuple[str, Working]]:
    plan, practice = roof.plan, take_off_practice
    if roof.design.hold_boards_by == "adhesive":
        faces = roof.design.layers + (1 if roof.design.overlay_mm else 0)  # each is glued down
        parts = [
            (f"zone {z.zone} at {z.bead_mm}, faces glued: {faces}",
             faces * z.area_m2 * practice.BEAD_REFERENCE_MM / z.bead_mm)
            for z in roof.zones
        ]  # fmt: skip
        parts += tapered_faces(roof.tapered, min(z.bead_mm for z in roof.zones))
        yield (
            "board-adhesive",
            _sum("Boards glued, as at 300 mm beads", "m2", parts, practice.BEAD_REFERENCE_MM),
        )
    yield "field-adhesive", _sum("Sheet bonded to the boards", "m2", [("gross", plan.gross.value)])
    dressed = {
        "eaves": sheet_practice.DRIP_DRESS_MM,
        "verge": sheet_practice.KERB_ALLOWANCE_MM,
        "party_line": sheet_practice.KERB_ALLOWANCE_MM,
    }
    up = sheet_practice.WALL_ALLOWANCE_MM
    wide = {s.where: float(s.width_mm) for s in roof.sheet.upstands}
    parts = [
        (s.name, s.length_m * dressed.get(s.kind, allowance_mm(s, roof.design.kerb_height_mm)) / MM)
        for s in plan.sides
    ]
    parts += [(o.name, o.perimeter_m * wide.get(o.name, up) / MM) for o in _kerbs(roof)]
    yield "contact-adhesive", _sum("Upstands and edges bonded", "m2", parts, up)


def _kerbs(roof: Roof) -> list[OpeningAt]:
    return [o for o in roof.plan.openings if o.kind in ("rooflight", "chimney")]


def _rubber(roof: Roof) -> Iterator[tuple[str, Working]]:
    chosen, kerbs = roof.sheet.chosen, _kerbs(roof)
    seams = [("seams of the field", chosen.seam_mm / MM)]
    seams += [(f"{o.name}, strip to field", o.perimeter_m) for o in kerbs]
    yield "seam-tape", _sum("Seams taped", "m", seams)
    yield "seam-primer", _sum("Seams primed", "m", seams)
    bars = _length_of(roof.lengths, "wall-bar") + _length_of(roof.lengths, "kerb-trim")
    yield "lap-sealant", _sum("Edges sealed", "m", [*seams, ("bars and trims", bars)])
    corners = len(roof.plan.corners)
    yield "corner-patch", _sum("Corners of the roof", "each", [("corners", float(corners))])
    yield "rooflight-corner", _sum("Corners of kerbs", "each", [("kerbs", 4.0 * len(kerbs))])
    ends = take_off_practice.PATCHES_PER_SEAM * (chosen.strips - 1)
    if roof.design.rooflight_glass == "renew":
        lights = float(sum(o.kind == "rooflight" for o in roof.plan.openings))
        yield "rooflight-glass", _sum("Rooflights glazed anew", "each", [("rooflights", lights)])
    crossings = ends + chosen.t_joints + 4 * len(kerbs)
    yield (
        "t-patch",
        _sum(
            "T-joints",
            "each",
            [("crossings", float(crossings))],
            take_off_practice.PATCHES_PER_SEAM,
        ),
    )


def _through(roof: Roof) -> Iterator[tuple[str, Working]]:
    count = {
        kind: float(sum(o.kind == kind for o in roof.plan.openings))
        for kind in ("pipe", "post", "flue", "outlet")
    }
    round_ones = [("pipes", count["pipe"]), ("posts", count["post"])]
    yield "pipe-boot", _sum("Pipes and posts", "each", round_ones)
    yield "flue-collar", _sum("Flues", "each", [("flues", count["flue"])])
    through = [*round_ones, ("flues", count["flue"])]
    yield "vcl-collar", _sum("Collars of the VCL at what passes through it", "each", through)
    yield "outlet", _sum("Outlets", "each", [("outlets", count["outlet"])])
    spouts = float(
        len(roof.design.overflows) or bool(count["outlet"] and roof.plan.of_kind("parapet"))
    )
    yield "overflow", _sum("Overflow beside the outlet", "each", [("overflow", spouts)])
    wide = take_off_practice.DOOR_WIDTH
    doors = [(h.name, h.width_m or wide) for h in roof.heights if h.drained_channel]
    yield "door-channel", _sum("Channels at doors", "m", doors, wide)


def _timber(roof: Roof) -> Iterator[tuple[str, Working]]:
    plan, practice, deck = roof.plan, take_off_practice, roof.deck
    gapes = roof.rolls.patch.value if roof.rolls.patch else 0.0
    share = plan.gross.value * deck.renew_percent / PERCENT
    renewed = share + gapes
    parts = [("share of the gross", share), *([("patches where it gapes", gapes)] if gapes else [])]
    relaid = plan.gross.value * roof.relaid_percent / PERCENT
    yield "deck-board", _sum("Deck renewed", "m2", parts)
    overlay = plan.net.value if roof.design.overlay_mm else 0.0
    yield "overlay-board", _sum("Overlay board", "m2", [("net", overlay)])
    open_heads = [
        (s.side, plan.side(s.side).length_m)
        for s in roof.sides
        if s.wall_head is not None and s.wall_head.state != "filled"
    ]
    filled = open_heads if roof.design.wall_head == "fill" else []
    yield "wall-head-packing", _sum("Wall heads filled", "m", filled)
    faces = lined(roof.plan, roof.sides, roof.design, roof.rise_mm)
    yield (
        "kerb-insulation",
        _sum("Kerbs and parapets insulated", "m2", faces, practice.KERB_ABOVE_SURFACE),
    )
    ends = joist_ends(plan, roof.joists) if roof.joists.ends != "sound" else 0.0
    brushed = [
        ("joist ends", ends * practice.JOIST_END_M2),
        ("ends of treated timber", sawn_ends(roof.lengths)),
    ]
    yield "joist-preservative", _sum("Ends treated", "m2", brushed, practice.JOIST_END_M2)
    yield from coats(roof.lengths)
    bare = () if roof.lengths.courses else OPEN_EDGES  # courses have screws of their own
    edge = sum(s.length_m for s in plan.of_kind(*bare)) if bare else 0.0
    screws = [
        ("edge timber", ceil(edge_screws(edge, roof.fixings.edge_timber))),
        ("deck", ceil((renewed + relaid) * practice.DECK_SCREW_PER_M2)),
    ]
    yield (
        "wood-screws",
        _sum(
            "Timber and deck screwed",
            "each",
            [(n, float(v)) for n, v in screws],
            roof.fixings.edge_timber,
            practice.DECK_SCREW_PER_M2,
        ),
    )
    trims = sum(_length_of(roof.lengths, name) for name in TRIMS)
    number = ceil(edge_screws(trims, roof.fixings.trims))
    brackets = fittings.screws(roof.lengths.fitted)
    yield (
        "trim-screws",
        _sum(
            "Trims, bars, brackets and clips screwed",
            "each",
            [("trims", float(number)), ("brackets and clips", brackets)],
            roof.fixings.trims,
        ),
    )
    yield from held(roof.lengths, roof.sides, roof.fixings.trims)


def _night(roof: Roof) -> Iterator[tuple[str, Working]]:
    beyond = take_off_practice.COVER_BEYOND
    lines = [(f"bay {b.number}", b.night_m) for b in roof.bays if b.night_m]
    yield "night-tape", _sum("Night joints, new VCL to old felt", "m", lines)
    covers = [(_cover(b, beyond), b.number) for b in roof.bays]
    (area, around), number = max(covers, default=((0.0, 0.0), 0))
    yield "cover-sheet", _sum("Cover for the largest bay", "m2", [(f"bay {number}", area)], beyond)
    yield "sandbags", _sum("Edge of the cover weighted", "m", [(f"bay {number}", around)], beyond)
    beside = take_off_practice.GROUND_BESIDE
    open_m = sum(s.length_m for s in roof.plan.of_kind(*OPEN_EDGES))
    sheets = [("floors below", roof.plan.gross.value), ("ground at the edges", open_m * beside)]
    yield "protection-sheet", _sum("Floors and ground protected", "m2", sheets, beside)
    bagged = 0.0 if roof.asbestos == "found" else float(roof.strip.table.rows[0][1])
    yield "felt-bags", _sum("Felt bagged", "kg", [("felt", bagged)])


def _cover(bay: Bay, beyond: float) -> tuple[float, float]:
    """Area and edge of a cover that reaches past a bay on all sides."""
    xs, ys = zip(*bay.ring, strict=True)
    a, b = max(xs) - min(xs) + 2 * beyond, max(ys) - min(ys) + 2 * beyond
    return a * b, 2 * (a + b)


def _length_of(lengths: Lengths, name: str) -> float:
    return sum(r.need.value for r in lengths.runs if r.id == f"length:{name}")


def _line(item: Item, need: Working, basis: Basis, note: str = "") -> OrderLine:
    """Turn work to be done into packs, by the worse of the two coverages on the label."""
    same_unit(item, need.unit)
    labels = [item.covers, *([item.covers_other_label] if item.covers_other_label else [])]
    covers = measured(
        min(labels), f"{item.covers_unit}/{item.unit}", f"the rates: {item.name}", basis
    )
    waste = measured(item.waste_percent, "%", f"the rates: {item.name}", basis)
    wanted = units.show(need, covers, waste)
    packs, bought = in_packs(wanted.value, item)
    return OrderLine(
        f"item:{item.name}", item.says, wanted, item.unit, packs, bought,
        weakest([wanted.basis, basis]), note,
    )  # fmt: skip
