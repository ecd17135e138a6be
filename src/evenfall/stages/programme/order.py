"""The order of the trade: each kind of work, which part of the roof it counts, its hold point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from evenfall.model.gated import ANY, Gates
from evenfall.stages.programme.gates import DRY, GALE, HANDLED, LAID, PAINTED, SPREAD, STUCK
from evenfall.stages.programme.roof import Part, Roof
from evenfall.standards import programme_practice as practice
from evenfall.standards import vcl_practice

MM, PERCENT = 1000, 100
Named = tuple[tuple[str, float], ...]
Amount = Callable[[Roof, Part], Named]

READY = 5  # hold point before the sheet, by its number in HOLD_POINTS
BONDED = 6  # hold point of the sheet
DETAILED = 7  # hold point of the details
DRAINED = 8  # hold point of edges and gutter
DOOR_HOLD, FIRST_CUT = "door-hold", "before-strip"
UNROLLED = float(practice.LOOSE_SHARE)
PUSHING, PUSHED_AGAIN = float(practice.PUSH_SHARE), float(practice.SECOND_PASS_SHARE)
BONDING = 1 - UNROLLED - PUSHING - PUSHED_AGAIN
FINISH = 9  # hold point of the end
OPEN_EDGES = ("eaves", "verge")
TIMBERED = ("eaves", "verge", "party_line", "step")
TRIMMED = ("eaves", "verge", "party_line")
TURNED_UP = ("wall", "parapet", "step")
CHASED = ("wall", "step")


@dataclass(frozen=True, slots=True)
class Count:
    """An output of the rates and how much of it a part of the roof asks for."""

    output: str
    unit: str
    amount: Amount
    share: float = 1.0  # of the hours of that output


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of work."""

    task: str
    says: str
    counts: tuple[Count, ...]
    gates: Gates = DRY
    people: int = 1
    lifts: bool = False  # begins with the roll of the sheet, which may take more hands
    hold: int | None = None
    only: Callable[[Roof], bool] | None = None  # of a hold point: on which roofs
    after: tuple[str, ...] = ()  # rows that come first, where not simply the row before
    rests_h: float = 0.0  # h before what comes after it may begin
    apart: bool = False  # a task of its own for each side


def _edges(*kinds: str) -> Amount:
    def amount(roof: Roof, part: Part) -> Named:
        pairs = zip(roof.plan.sides, part.edges, strict=True)
        return tuple((s.name, m) for s, m in pairs if m and (not kinds or s.kind in kinds))

    return amount


def _gross(wanted: Callable[[Roof], bool] = lambda roof: True) -> Amount:
    return lambda roof, part: (("gross", part.gross),) if wanted(roof) else ()


def _net(wanted: Callable[[Roof], bool] = lambda roof: True) -> Amount:
    return lambda roof, part: (("net", part.net),) if wanted(roof) else ()


def _more_layers(roof: Roof, part: Part) -> Named:
    """Count the boards that lie over or under the first layer: even, tapered and fill-up."""
    found = [("net", part.net * (roof.board_layers - 1))]
    share = part.net / roof.plan.net.value
    found += [(name, m2 * share) for name, m2 in roof.tapered_m2]
    return tuple(f for f in found if f[1])


def _number(*kinds: str) -> Amount:
    return lambda roof, part: tuple((o.name, 1.0) for o in part.openings if o.kind in kinds)


def _around(*kinds: str) -> Amount:
    return lambda roof, part: tuple(
        (o.name, o.perimeter_m) for o in part.openings if not kinds or o.kind in kinds
    )


def _all_of(*amounts: Amount) -> Amount:
    return lambda roof, part: tuple(named for a in amounts for named in a(roof, part))


def _if(wanted: Callable[[Roof], bool], amount: Amount) -> Amount:
    return lambda roof, part: amount(roof, part) if wanted(roof) else ()


def _patched(roof: Roof, part: Part) -> Named:
    if roof.renew_percent >= practice.WHOLE_DECK:
        return ()
    return (("share of the gross", part.gross * roof.renew_percent / PERCENT),)


def _relaid(roof: Roof, part: Part) -> Named:
    return (("share laid again", part.gross * roof.relaid_percent / PERCENT),)


def _lifted(roof: Roof, part: Part) -> Named:
    """All of it where all is renewed, else what comes up whole to lie on the firrings."""
    return (("gross", part.gross),) if _whole_deck(roof) else _relaid(roof, part)


def _wall_heads(roof: Roof, part: Part) -> Named:
    pairs = zip(roof.plan.sides, part.edges, strict=True)
    return tuple((s.name, m) for s, m in pairs if m and s.name in roof.wall_heads)


def _vcl(roof: Roof, part: Part) -> Named:
    up = vcl_practice.TURN_UP_MM / MM
    turned = sum(part.edges) + sum(o.perimeter_m for o in part.openings)
    return (("net", part.net), ("turn-ups", up * turned))


def _parapets(roof: Roof, part: Part) -> Named:
    """Take the faces of the parapets that are lined."""
    high = dict(roof.lined_m)
    pairs = zip(roof.plan.sides, part.edges, strict=True)
    return tuple((s.name, m * high[s.name]) for s, m in pairs if m and s.name in high)


def _painted(roof: Roof, part: Part) -> Named:
    """Take the new fascia, where the firm paints it."""
    return _edges(*OPEN_EDGES)(roof, part) if roof.new_fascia and roof.painted else ()


def _one(roof: Roof, part: Part) -> Named:
    return (("job", 1.0),)


def _gutters(roof: Roof, part: Part) -> Named:
    return tuple((side, roof.plan.side(side).length_m) for side, _ in roof.gutters)


def _overflow(roof: Roof, part: Part) -> Named:
    """Every slot that is planned; without any, one beside the outlet where parapets hold a bath."""
    held = roof.plan.of_kind("parapet") and any(o.kind == "outlet" for o in part.openings)
    slots = float(roof.overflows or bool(held))
    return (("overflows", slots),) if slots else ()


def _whole_deck(roof: Roof) -> bool:
    return roof.renew_percent >= practice.WHOLE_DECK


def _row(task: str, says: str, unit: str, amount: Amount, output: str = "", **more: object) -> Row:
    count = Count(output or task, unit, amount)
    return Row(task, says, (count,), **more)  # type: ignore[arg-type]


def _rooflit(roof: Roof) -> bool:
    return any(o.kind == "rooflight" for o in roof.plan.openings)


START = (
    _row("set-up", "Set up, sheet the rooms below, covers onto the roof", "job", _one, gates=GALE),
    _row("kerb-build", "Make up the rooflight kerb, before its bay is opened", "each",
         _number("rooflight"), gates=ANY),
    Row("board-well", "The well of the rooflight boarded from below, people kept out of the room",
        (), gates=ANY, only=_rooflit, after=("set-up",)),
    Row("shut-windows", "Windows beside the roof shut and locked, their rooms told", (), gates=ANY,
        only=lambda r: bool(r.plan.sashes), after=("set-up",)),
    Row(FIRST_CUT, "Before the first cut: rooms sheeted; covers for every hole on the roof, "
        "marked, fixed and able to bear a person; windows beside the roof shut; covers ready", (),
        gates=ANY, hold=0, after=("set-up", "kerb-build", "board-well", "shut-windows")),
)  # fmt: skip

STRIPPING = (
    _row("strip-edges", "Take off old trims, fascia and flashings", "m", _edges()),
    _row("strip-chippings", "Chippings off", "m2", _gross(lambda r: r.chippings)),
    _row("strip-felt", "Strip the felt, bag it, lower it", "m2", _gross()),
    _row("strip-second-system", "Strip the felt beneath the felt", "m2",
         _gross(lambda r: r.layers > practice.LAYERS_OF_ONE_SYSTEM)),
    _row("inspect-deck", "Look over the deck, fix it again", "m2", _gross(), hold=1),
    _row("lift-deck", "Lift the old deck", "m2", _lifted),
    _row("remove-quilt", "Old quilt out", "m2", _gross(lambda r: r.quilt_mm > 0)),
    _row("repair-joist", "Joist ends repaired and treated, what an engineer has agreed", "each",
         lambda r, p: (("share of the ends", r.joist_ends * p.share),)),
    _row("firrings", "Firrings", "m", lambda r, p: (("share of all", r.firrings_m * p.share),)),
    _row("relay-deck", "Lay the old deck again on the firrings", "m2", _relaid, people=2),
    _row("new-deck", "New deck", "m2", _gross(_whole_deck), people=2),
    _row("patch-deck", "Patch the deck", "m2", _patched),
)  # fmt: skip

EDGING = (
    _row("close-vents", "Close the old vents, seal the edge", "m",
         _if(lambda r: r.close_vents, _edges(*OPEN_EDGES))),
    _row("wall-head", "Wall head: open it, clear it, treat the joist ends, pack it, seal it", "m",
         _wall_heads, apart=True),
    _row("edge-timber", "Edge timber", "m", _edges(*TIMBERED)),
)  # fmt: skip

SEALING = (
    _row("vcl-adhesive", "VCL, primed and stuck", "m2", _if(
        lambda r: r.vcl.kind == "self_adhesive_bitumen", _vcl), gates=LAID),
    _row("vcl-polythene", "VCL, laid and taped", "m2", _if(
        lambda r: r.vcl.kind != "self_adhesive_bitumen", _vcl), gates=HANDLED),
    _row("vcl-edges", "VCL up the edges", "m", _edges(), gates=STUCK),
    Row("night-joint", "Night joint: VCL sealed to the old felt", (
        Count("night-joint", "night", lambda r, p: (("night", float(p.nights)),)),
        Count("night-joint-metre", "m", lambda r, p: (("night line", p.night_m),)),
    ), gates=STUCK),
)  # fmt: skip

BAY = (*STRIPPING, *EDGING, *SEALING)

BOARDING = (
    _row("boards-glue", "Boards, glued", "m2", _net(lambda r: not r.screwed), gates=LAID),
    _row("boards-screw", "Boards, laid", "m2", _net(lambda r: r.screwed), gates=HANDLED),
    _row("boards-second-layer", "Second layer of boards", "m2", _more_layers,
         gates=HANDLED),
    _row("screw", "Screws of the boards", "each",
         lambda r, p: (("by the wind", r.screws_m2 * p.net if r.screwed else 0.0),)),
    _row("overlay", "Overlay board", "m2", _net(lambda r: r.overlay_mm > 0), gates=HANDLED),
    _row("cut-edges", "Cut boards along edges and kerbs", "m", _all_of(_edges(), _around())),
    _row("parapet-lining", "Line the parapets with board; tonight the sheet is dressed up over it",
         "m2", _parapets, gates=STUCK),
)  # fmt: skip


def _field(task: str, says: str, share: float, **more: object) -> Row:
    count = Count("sheet-field", "m2", _gross(), share)
    return Row(task, says, (count,), **more)  # type: ignore[arg-type]


BEFORE_SHEET = Row("before-sheet", "Boards dry and swept, before the sheet is rolled out", (),
                   gates=STUCK, hold=READY)  # fmt: skip
UNROLL = _field("sheet-unroll", "Roll the sheet out, square it, let it relax under sandbags",
                UNROLLED, gates=HANDLED, people=int(practice.SHEET_HANDS), lifts=True,
                rests_h=float(practice.RELAX))  # fmt: skip
FIELD = _field("sheet-field", "Bond the sheet, half by half", BONDING, gates=SPREAD,
               people=int(practice.SHEET_HANDS))  # fmt: skip
PUSH = _field("push-air", "Push the sheet free of air, from the middle outwards", PUSHING,
              gates=SPREAD, rests_h=float(practice.SECOND_PASS_AFTER))  # fmt: skip
AGAIN = _field("second-pass", "Push it free of air a second time; edges held down for the night",
               PUSHED_AGAIN, gates=DRY, hold=BONDED, rests_h=float(practice.UNTRODDEN))  # fmt: skip
SHEETING = (BEFORE_SHEET, UNROLL, FIELD, PUSH, AGAIN)

SHEET, TIMBER, UPSTAND, SEAM = "second-pass", "edge-timber", "upstand", "seam"
DETAILS = (
    _row(SEAM, "Seams", "m", lambda r, p: (("seams", r.seam_m), ("between zones", p.night_m)),
         gates=STUCK, after=(SHEET,)),
    _row(UPSTAND, "Upstands", "m", _all_of(_edges(*TURNED_UP), _around("chimney")),
         gates=STUCK, after=(SHEET,)),
    _row("corner", "Corners", "each",
         lambda r, p: (("corners", float(len(r.plan.corners))),), gates=STUCK,
         after=(SHEET, UPSTAND)),
    _row("pipe-boot", "Boots and collars of pipes, posts and flues", "each",
         _number("pipe", "post", "flue"), gates=STUCK, after=(SHEET,)),
    _row("kerb-dress", "Dress the rooflight kerb", "each", _number("rooflight"), gates=STUCK,
         after=(SHEET,)),
    _row("outlet", "Outlets", "each", _number("outlet"), gates=STUCK, after=(SHEET,)),
    _row("overflow", "Overflows", "each", _overflow, gates=STUCK, after=(SHEET,)),
    _row("door-channel", "Channel at the door", "m", lambda r, p: tuple(
        (f"door {n}", m or float(practice.DOOR)) for n, m in enumerate(r.doors_m, 1)),
         after=(SHEET,)),
    Row(DOOR_HOLD, "Low door: reveals, frame and channel looked at, water poured into it", (),
        gates=ANY, hold=DETAILED, only=lambda r: bool(r.doors_m), after=(UPSTAND, "door-channel")),
    _row("flashing", "Bar, chase and cover flashing", "m",
         _all_of(_edges(*CHASED), _around("chimney")), after=(UPSTAND,)),
)  # fmt: skip
DRAINING = (
    _row("coat-1", "First coat on the new fascia, on trestles", "m", _painted, output="coat",
         gates=PAINTED, after=(FIRST_CUT,), rests_h=float(practice.COAT_DRIES)),
    _row("coat-2", "Second coat on the new fascia, on trestles", "m", _painted, output="coat",
         gates=PAINTED, after=("coat-1",), rests_h=float(practice.COAT_DRIES)),
    _row("fascia", "Fascia", "m",
         _if(lambda r: r.new_fascia, _edges(*OPEN_EDGES)), gates=GALE, apart=True,
         after=(TIMBER, "coat-2", SHEET)),
    _row("soffit", "Soffit and its battens", "m", lambda r, p: r.soffits_m, gates=GALE,
         after=("fascia",)),
    _row("coat-3", "Last coat on the fascia, heads of the screws stopped", "m", _painted,
         output="coat", gates=PAINTED, after=("fascia",), rests_h=float(practice.COAT_DRIES)),
    _row("trim", "Trims", "m", _edges(*TRIMMED), after=(SHEET, "fascia")),
    _row("capping", "Cappings", "m", _edges("parapet"), after=(UPSTAND,)),
    _row("gutter", "Gutter", "m", _gutters, gates=GALE, after=("fascia", "coat-3", "trim")),
    _row("downpipe", "Downpipe", "m", lambda r, p: r.gutters, gates=GALE, after=("gutter",)),
)  # fmt: skip
CLEARED = 1 - float(practice.WASH_SHARE)
END = (
    Row("clear-up", "Clear up, all waste off the roof", (Count("clear-up", "job", _one, CLEARED),),
        gates=GALE),
    Row("wash-down", "Wash the roof down, gutters and outlets flushed, the falls watched",
        (Count("clear-up", "job", _one, float(practice.WASH_SHARE)),), gates=GALE),
    Row("last-photographs", "The last photographs, of the clean roof; handover", (), gates=ANY,
        hold=FINISH),
)  # fmt: skip
"""What ends the job: each follows the one before, the first all else."""
OPEN_AND_CLOSE = "open-and-close"
LAST_HOLDS = {
    row.task: hold
    for rows, hold in (
        (EDGING, 2), (SEALING, 3), (BOARDING, 4), (DETAILS, DETAILED), (DRAINING, DRAINED),
    )
    for row in rows
}  # fmt: skip
"""Groups whose last piece of work carries a hold point, whichever that is on this roof."""
