"""The job: all that a person measured or chose, nothing derived. One model for file and desk.

Plan lengths are ``_m``, thicknesses and heights ``_mm``, these above the *old covering*.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field

from evenfall.model.calendar import Calendar as Calendar
from evenfall.model.calendar import Crew as Crew
from evenfall.model.calendar import HandDay as HandDay
from evenfall.model.drained import Gutter as Gutter
from evenfall.model.drained import NewGutter as NewGutter
from evenfall.model.drained import Overflow as Overflow
from evenfall.model.kinds import (
    Between,
    CornerName,
    Kilometres,
    Metres,
    MetresFrom0,
    Millimetres,
    MillimetresFrom0,
    Name,
    Nation,
    Percent,
    PullOut,
    Record,
    SquareMetres,
    Words,
)
from evenfall.model.recorded import Answer as Answer
from evenfall.model.recorded import FireTest as FireTest
from evenfall.model.recorded import SiteRecord
from evenfall.model.taped import Offset as Offset
from evenfall.model.taped import Tape as Tape
from evenfall.model.taped import TapeAccuracy
from evenfall.model.taped import Tie as Tie

FORMAT = 1
"""The format that this program writes; older ones are migrated, newer ones refused."""

SideKind = Literal["wall", "eaves", "verge", "parapet", "party_line", "step"]
Face = Literal["deck_edge", "fascia", "wall_face"]
OpeningKind = Literal["rooflight", "outlet", "pipe", "flue", "post", "chimney"]
HeightKind = Literal[
    "sill", "threshold", "dpc", "cavity_tray", "flashing", "weep", "air_brick", "flue", "cable",
    "overflow", "party_line",
]  # fmt: skip
Treatment = Literal["leave", "raise_sill", "rehang", "fix_glass", "fix_shut"]
"""A new one with its sill higher, its sash hung inwards, fixed glass, or its sash screwed shut."""
Terrain = Literal["coast", "open_country", "village", "town"]
DeckKind = Literal["osb", "plywood", "planks", "chipboard", "strawboard", "woodwool"]
FallKind = Literal["keep", "shims", "firrings", "tapered"]


class About(Record):
    """Whose roof, and whose rules apply; areas as seen from outside, openings left in.

    ``element_area_m2`` is the whole of the roof of which this one may be a part, and
    ``envelope_area_m2`` all of the outside of the building: walls, windows, roofs, lowest floor.
    """

    reference: Name
    title: Words
    client: Words
    address: Words
    nation: Nation
    building: Literal["house", "flat", "garage"]
    listed_or_conservation: bool
    element_area_m2: SquareMetres | None = None
    envelope_area_m2: SquareMetres | None = None
    surveyed_on: date
    revision: Name = "A"
    invented: bool = False
    note: str = ""


class RoofCoefficients(Record):
    """Suction on the zones of a flat roof as read in the national table, for 1 m² (c_pe,1)."""

    F: Annotated[float, Field(ge=-5, lt=0)]
    G: Annotated[float, Field(ge=-5, lt=0)]
    H: Annotated[float, Field(ge=-5, lt=0)]
    I: Annotated[float, Field(ge=-5, lt=0)]


class Site(Record):
    """Where the roof stands: wind, rain, outside air."""

    latitude_deg: Annotated[float, Field(ge=49, le=61)]
    longitude_deg: Annotated[float, Field(ge=-9, le=3)]
    altitude_m: Annotated[float, Field(ge=-5, le=1000)]
    terrain: Terrain
    distance_to_sea_km: Kilometres
    map_wind_m_s: Annotated[float, Field(ge=15, le=40)]
    peak_pressure_kpa: Annotated[float, Field(gt=0, le=5)] | None = None
    exposure_chart: Annotated[float, Field(ge=0.5, le=5)] | None = None  # c_e, Figure NA.7
    exposure_chart_town: Annotated[float, Field(ge=0.3, le=1)] | None = None  # c_e,T, NA.8
    roof_coefficients: RoofCoefficients | None = None
    houses_upwind_height_m: Metres | None = None  # in a town: how high the houses upwind are
    houses_upwind_m: MetresFrom0 | None = None  # and how far off
    first_side_bearing_deg: Annotated[float, Field(ge=0, le=360)] | None = None  # looking along
    roof_height_m: Annotated[float, Field(gt=1, le=40)]
    rain_l_s_m2: Annotated[float, Field(ge=0.005, le=0.15)] | None = None
    snow_zone: Annotated[int, Field(ge=1, le=6)]
    climate_region: Annotated[int, Field(ge=0, le=21)]
    outside_humidity_percent: Annotated[tuple[Percent, ...], Field(min_length=12, max_length=12)]
    outside_humidity_source: Words


class WallHead(Record):
    """The slot between the top of the outer wall and the underside of the deck."""

    slot_height_mm: Millimetres
    slot_width_mm: Millimetres
    state: Literal["open", "part_filled", "filled"]


class Side(Record):
    """What one side of the roof is."""

    side: Between
    kind: SideKind
    taped_at: Face = "deck_edge"
    fascia_thickness_mm: MillimetresFrom0 = 0
    overhang_mm: MillimetresFrom0 = 0
    fascia_depth_mm: Millimetres | None = None
    wall_head: WallHead | None = None
    wall_height_m: MetresFrom0 = 0
    wall_of: Literal["brick", "render", "cladding"] | None = None
    wall_thickness_mm: Annotated[float, Field(ge=50, le=1000)] | None = None
    wall_cavity: Literal["empty", "filled"] = "empty"
    house_depth_m: Metres | None = None  # of the taller house behind a wall, square to it
    parapet_height_mm: Millimetres | None = None
    rounded_edge_mm: Millimetres | None = None  # radius of an edge that is rounded over
    sloped_edge_deg: Annotated[float, Field(ge=30, le=90)] | None = None  # a mansard's slope
    boundary_m: MetresFrom0


class Opening(Record):
    """Anything that passes through the roof, square to its side.

    Located along the side and square in from it, or by ties from two corners or points or more.
    """

    name: Name
    kind: OpeningKind
    side: Between
    along_m: MetresFrom0 | None = None
    in_m: MetresFrom0 | None = None
    ties: tuple[Tie, ...] = ()
    length_m: Metres | None = None
    width_m: Metres | None = None
    diameter_mm: Millimetres | None = None
    kerb_height_mm: MillimetresFrom0 = 0
    stands_on: Literal["deck", "boards"] = "deck"
    glazing: Literal["glass", "plastic"] = "glass"


class Height(Record):
    """Something that does not move when the roof rises; measured above the old covering."""

    name: Name
    kind: HeightKind
    side: Between
    along_m: MetresFrom0
    in_m: MetresFrom0 = 0
    above_covering_mm: Annotated[float, Field(ge=-500, le=5000)]
    width_m: Metres | None = None
    drained_channel: bool = False
    agreed_upstand_mm: MillimetresFrom0 | None = None


class Window(Record):
    """A window beside the roof; its hinge is told as seen from the roof, facing the wall.

    One that is fixed is asked what else people get out by, and what else airs the room.
    """

    name: Name
    side: Between
    along_m: MetresFrom0
    width_m: Metres
    sill_above_covering_mm: Annotated[float, Field(ge=-500, le=5000)]
    sash_above_covering_mm: Annotated[float, Field(ge=-500, le=5000)]
    hinge: Literal["top", "left", "right", "bottom", "fixed", "sliding"]
    opens: Literal["outwards", "inwards", "no"]
    room: Words
    only_escape: bool
    only_airing: bool
    agreed_upstand_mm: MillimetresFrom0 | None = None
    agreed_sash_clear_mm: MillimetresFrom0 | None = None
    treatment: Treatment = "leave"
    new_sill_above_covering_mm: Annotated[float, Field(ge=-500, le=5000)] | None = None
    escape_by: Words | None = None
    airing_by: Words | None = None


class SpotLevel(Record):
    """A staff reading down from a level line to the old covering: more is lower."""

    name: Name
    corner: CornerName | None = None
    side: Between | None = None
    along_m: MetresFrom0 | None = None
    in_m: MetresFrom0 | None = None
    below_line_mm: Millimetres


class Deck(Record):
    """The boarding under the felt."""

    kind: DeckKind
    material: Name | None = None
    thickness_mm: Annotated[float, Field(gt=5, le=100)]
    renew_percent: Percent
    widest_gap_mm: MillimetresFrom0
    dish_under_2m_mm: MillimetresFrom0
    pull_outs_n: tuple[PullOut, ...] = ()


class Joists(Record):
    """The timbers that carry the roof."""

    width_mm: Annotated[float, Field(ge=25, le=150)]
    depth_mm: Annotated[float, Field(ge=50, le=400)]
    spacing_mm: Annotated[float, Field(ge=200, le=1200)]
    span_m: Annotated[float, Field(gt=0.1, le=10)]
    along: Between
    strength_class: Literal["C16", "C24"]
    sag_mm: MillimetresFrom0
    ends: Literal["sound", "soft", "rotten"]
    noggin_rows: Annotated[int, Field(ge=0, le=10)] = 0  # across the span, flush with their tops


class Covering(Record):
    """The old felt."""

    layers: Annotated[int, Field(ge=1, le=8)]
    chippings: bool
    thickness_mm: Annotated[float, Field(gt=0, le=80)]
    thickness_give_or_take_mm: MillimetresFrom0
    sample_300_by_300_kg: Annotated[float, Field(gt=0, le=15)]
    laid_year: Annotated[int, Field(ge=1900, le=2100)]
    asbestos: Literal["not_sampled", "none_found", "found"]


class Below(Record):
    """The void and the room under the roof."""

    room: Words
    indoor_c: Annotated[float, Field(ge=5, le=30)]
    humidity_class: Annotated[int, Field(ge=1, le=5)]
    ceiling_mm: MillimetresFrom0
    ceiling_material: Name | None = None
    ceiling_vcl: bool
    quilt_mm: MillimetresFrom0
    quilt_material: Name | None = None
    quilt_wet: bool
    old_vents: Annotated[int, Field(ge=0, le=100)]
    cables_in_void: bool
    wide_door: bool = False  # a garage door or the like, that may stand open or burst in a gale


class Reading(Record):
    """A moisture reading of the timber, and where it was taken, if that was said."""

    name: Name
    percent: Percent
    side: Between | None = None
    along_m: MetresFrom0 | None = None
    in_m: MetresFrom0 | None = None


class Survey(Record):
    """Everything measured, as it was measured."""

    tape_accuracy_mm: TapeAccuracy
    corners: Annotated[tuple[CornerName, ...], Field(min_length=3, max_length=30)]
    inner_corners: tuple[CornerName, ...] = ()  # where the roof turns in, as seen on it
    points: tuple[CornerName, ...] = ()  # marks that are no corners, such as nails in the wall
    tapes: Annotated[tuple[Tape, ...], Field(min_length=1)]
    offsets: tuple[Offset, ...] = ()
    sides: Annotated[tuple[Side, ...], Field(min_length=3)]
    openings: tuple[Opening, ...] = ()
    heights: tuple[Height, ...] = ()
    windows: tuple[Window, ...] = ()
    levels: Annotated[tuple[SpotLevel, ...], Field(min_length=3)]
    deck: Deck
    joists: Joists
    covering: Covering
    below: Below
    readings: tuple[Reading, ...] = ()
    gutters: tuple[Gutter, ...] = ()


class Falls(Record):
    """How the finished roof drains."""

    kind: FallKind = "keep"
    low_side: Between
    one_in: Annotated[float, Field(ge=20, le=200)] = 40
    thin_end_mm: MillimetresFrom0 = 25
    run: Literal["along", "across"] = "along"  # firrings: with the joists, or over them


class Vat(Record):
    """The declared VAT case: a decision of the user, with the reason."""

    case: Literal["standard", "insulation_zero", "reverse_charge", "not_registered"] = "standard"
    reason: str = ""


class Option(Record):
    """A named set of changes to the job, priced beside it."""

    name: Name
    says: Words
    changes: dict[str, Any]


class ThinZone(Record):
    """A part of the roof along one side where the insulation is thinner, all layers together."""

    name: Name
    side: Between
    from_m: MetresFrom0
    to_m: Metres
    in_m: Metres
    thickness_mm: Annotated[int, Field(ge=20, le=800)]


class Design(Record):
    """What the owner chose; what he left out, the tool proposes and says so."""

    board: Name
    thickness_mm: Annotated[int, Field(ge=20, le=400)] | None = None
    layers: Literal[1, 2] = 1
    thin_zones: tuple[ThinZone, ...] = ()
    upper_layer_mm: Annotated[int, Field(ge=20, le=400)] | None = None
    vcl: Name
    sheet: Name
    hold_boards_by: Literal["adhesive", "screws"]
    overlay_mm: MillimetresFrom0 = 0
    overlay_material: Name | None = None
    falls: Falls
    wall_head: Literal["fill", "leave"] = "fill"
    quilt: Literal["remove", "keep"] = "remove"
    vents: Literal["close", "close_some", "leave"] = "close"
    target_u: Annotated[float, Field(gt=0.05, le=1)] | None = None
    kerb_height_mm: Millimetres = 75
    rooflight_kerbs: Literal["insulate", "leave"] = "insulate"
    rooflight_glass: Literal["keep", "renew"] = "keep"
    parapets: Literal["insulate", "leave"] = "leave"
    gutter: Literal["keep", "renew"] = "renew"
    new_gutters: tuple[NewGutter, ...] = ()
    overflows: tuple[Overflow, ...] = ()
    fascia: Literal["keep", "renew"] = "renew"
    soffit: Literal["keep", "renew"] = "keep"
    fascia_finish: Name | None = None  # of the fascias of the rates
    vat: Vat = Vat()
    options: tuple[Option, ...] = ()


class Job(Record):
    """One roof, from first visit to handover."""

    format: Literal[1] = 1
    job: About
    site: Site
    survey: Survey
    design: Design
    crew: Crew
    calendar: Calendar
    record: SiteRecord = SiteRecord()
