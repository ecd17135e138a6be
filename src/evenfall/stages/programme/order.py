"""The order of the trade: each kind of work, which part of the roof it counts, its hold point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from evenfall.stages.programme.roof import Part, Roof
from evenfall.standards import programme_practice as practice
from evenfall.standards import vcl_practice

MM, PERCENT = 1000, 100
Named = tuple[tuple[str, float], ...]
Amount = Callable[[Roof, Part], Named]

READY = 5  # hold point before the sheet, by its number in HOLD_POINTS
BONDED = 6  # hold point of the sheet
DETAILED = 7  # hold point of the details
DOOR_HOLD = "door-hold"
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


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of work."""

    task: str
    says: str
    counts: tuple[Count, ...]
    dry: bool = True
    bonding: bool = False
    people: int = 1
    hold: int | None = None
    only: Callable[[Roof], bool] | None = None  # of a hold point: on which roofs
    after: tuple[str, ...] = ()  # rows that come first, where not simply the row before


def _edges(*kinds: str) -> Amount:
    def amount(roof: Roof, part: Part) -> Named:
        pairs = zip(roof.plan.sides, part.edges, strict=True)
        return tuple((s.name, m) for s, m in pairs if m and (not kinds or s.kind in kinds))

    return amount


def _gross(wanted: Callable[[Roof], bool] = lambda roof: True) -> Amount:
    return lambda roof, part: (("gross", part.gross),) if wanted(roof) else ()


def _net(wanted: Callable[[Roof], bool] = lambda roof: True) -> Amount:
    return lambda roof, part: (("net", part.net),) if wanted(roof) else ()


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


def _row(task: str, says: str, unit: str, amount: Amount, **more: object) -> Row:
    return Row(task, says, (Count(task, unit, amount),), **more)  # type: ignore[arg-type]


START = (
    _row("set-up", "Set up, sheet the rooms below, covers onto the roof", "job", _one, dry=False,
         hold=0),
    _row("kerb-build", "Make up the rooflight kerb, before its bay is opened", "each",
         _number("rooflight"), dry=False),
)  # fmt: skip

STRIPPING = (
    _row("strip-edges", "Take off old trims, fascia and flashings", "m", _edges()),
    _row("strip-felt", "Strip the felt, bag it, lower it", "m2", _gross()),
    _row("strip-chippings", "Chippings off", "m2", _gross(lambda r: r.chippings)),
    _row("strip-second-system", "Strip the felt beneath the felt", "m2",
         _gross(lambda r: r.layers > practice.LAYERS_OF_ONE_SYSTEM)),
    _row("remove-quilt", "Old quilt out", "m2", _gross(lambda r: r.quilt_mm > 0)),
    _row("inspect-deck", "Look over the deck, fix it again", "m2", _gross(), hold=1),
    _row("lift-deck", "Lift the old deck", "m2", _lifted),
    _row("firrings", "Firrings", "m", lambda r, p: (("share of all", r.firrings_m * p.share),)),
    _row("relay-deck", "Lay the old deck again on the firrings", "m2", _relaid, people=2),
    _row("new-deck", "New deck", "m2", _gross(_whole_deck), people=2),
    _row("patch-deck", "Patch the deck", "m2", _patched),
)  # fmt: skip

EDGING = (
    _row("close-vents", "Close the old vents, seal the edge", "m",
         _if(lambda r: r.close_vents, _edges(*OPEN_EDGES))),
    _row("wall-head", "Fill the wall head", "m", _wall_heads),
    _row("edge-timber", "Edge timber", "m", _edges(*TIMBERED)),
)  # fmt: skip

SEALING = (
    _row("vcl-adhesive", "VCL, primed and stuck", "m2", _if(
        lambda r: r.vcl.kind == "self_adhesive_bitumen", _vcl), bonding=True),
    _row("vcl-polythene", "VCL, laid and taped", "m2", _if(
        lambda r: r.vcl.kind != "self_adhesive_bitumen", _vcl)),
    _row("vcl-edges", "VCL up the edges", "m", _edges(), bonding=True),
    Row("night-joint", "Night joint: VCL sealed to the old felt", (
        Count("night-joint", "night", lambda r, p: (("night", float(p.nights)),)),
        Count("night-joint-metre", "m", lambda r, p: (("night line", p.night_m),)),
    ), bonding=True),
)  # fmt: skip

BAY = (*STRIPPING, *EDGING, *SEALING)

BOARDING = (
    _row("boards-glue", "Boards, glued", "m2", _net(lambda r: not r.screwed), bonding=True),
    _row("boards-screw", "Boards, laid", "m2", _net(lambda r: r.screwed)),
    _row("boards-second-layer", "Second layer of boards", "m2", _net(lambda r: r.board_layers > 1)),
    _row("screw", "Screws of the boards", "each",
         lambda r, p: (("by the wind", r.screws_m2 * p.net if r.screwed else 0.0),)),
    _row("overlay", "Overlay board", "m2", _net(lambda r: r.overlay_mm > 0)),
    _row("cut-edges", "Cut boards along edges and kerbs", "m", _all_of(_edges(), _around())),
)  # fmt: skip
BEFORE_SHEET = Row("before-sheet", "Dry, swept, sheet relaxed", (), bonding=True, hold=READY)
FIELD = _row("sheet-field", "The sheet: relax it, bond it, broom it", "m2", _gross(), bonding=True,
             people=int(practice.SHEET_HANDS), hold=BONDED)  # fmt: skip

SHEET, TIMBER = "sheet-field", "edge-timber"
DETAILS = (
    _row("upstand", "Upstands", "m", _all_of(_edges(*TURNED_UP), _around("chimney")),
         bonding=True, after=(SHEET,)),
    _row("corner", "Corners", "each",
         lambda r, p: (("corners", float(len(r.plan.corners))),), bonding=True, after=(SHEET,)),
    _row("pipe-boot", "Boots and collars of pipes, posts and flues", "each",
         _number("pipe", "post", "flue"), bonding=True, after=(SHEET,)),
    _row("kerb-dress", "Dress the rooflight kerb", "each", _number("rooflight"), bonding=True,
         after=(SHEET,)),
    _row("outlet", "Outlets", "each", _number("outlet"), bonding=True, after=(SHEET,)),
    _row("overflow", "Overflows", "each", _overflow, bonding=True, after=(SHEET,)),
    _row("door-channel", "Channel at the door", "m", lambda r, p: tuple(
        (f"door {n}", m or float(practice.DOOR)) for n, m in enumerate(r.doors_m, 1)),
         after=(SHEET,)),
    Row(DOOR_HOLD, "Low door: reveals, frame and channel looked at, water poured into it", (),
        hold=DETAILED, only=lambda r: bool(r.doors_m), after=("upstand", "door-channel")),
    _row("seam", "Seams", "m", lambda r, p: (("seams", r.seam_m), ("between zones", p.night_m)),
         bonding=True, after=(SHEET,)),
    _row("flashing", "Bar, chase and cover flashing", "m",
         _all_of(_edges(*CHASED), _around("chimney")), after=("upstand",)),
)  # fmt: skip
DRAINING = (
    _row("fascia", "Fascia, insulation behind it", "m",
         _if(lambda r: r.new_fascia, _edges(*OPEN_EDGES)), dry=False, after=(TIMBER,)),
    _row("trim", "Trims", "m", _edges(*TRIMMED), after=(SHEET, "fascia")),
    _row("capping", "Cappings", "m", _edges("parapet"), after=("upstand",)),
    _row("gutter", "Gutter", "m", _gutters, dry=False, after=("fascia", "trim")),
    _row("downpipe", "Downpipe", "m", lambda r, p: r.gutters, dry=False, after=("gutter",)),
)  # fmt: skip
CLEAR_UP = _row("clear-up", "Clear up, wash down, photographs, handover", "job", _one, dry=False,
                hold=FINISH)  # fmt: skip
OPEN_AND_CLOSE = "open-and-close"
LAST_HOLDS = {
    row.task: hold
    for rows, hold in ((EDGING, 2), (SEALING, 3), (BOARDING, 4), (DETAILS, 7), (DRAINING, 8))
    for row in rows
}
"""Groups whose last piece of work carries a hold point, whichever that is on this roof."""
