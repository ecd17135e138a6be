"""What the walk asks, in everyday words: one entry a fact, small pictures where they help.

A path ends at a key of the job; of a side or of a thing placed on the roof it is the key alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Pick = tuple[tuple[str | int | bool, str], ...]
Of = Literal["", "sides", "boards", "sheets", "vcls"]


@dataclass(frozen=True, slots=True)
class Asked:
    """One question: its key, its words, its unit, or the answers to pick from.

    ``pick_of`` names answers that the job or the rates hold; ``draw`` holds a small picture by
    answer, as a path in a field 70 wide and 40 high; ``more`` stands behind "more"; ``only`` are
    the kinds of side that it is asked of.
    """

    path: str
    ask: str
    unit: str = ""
    pick: Pick = ()
    pick_of: Of = ""
    draw: tuple[tuple[str, str], ...] = ()
    more: bool = False
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Questions that are asked at one place."""

    name: str
    says: str
    asks: tuple[Asked, ...]


@dataclass(frozen=True, slots=True)
class Thing:
    """What can be placed on the plan: its list, what it is from the start, what is asked of it."""

    name: str
    table: Literal["windows", "heights", "openings", "levels", "readings"]
    kind: str
    beside: bool
    asks: tuple[Asked, ...]


@dataclass(frozen=True, slots=True)
class Shape:
    """A roof to begin with: how many corners, which turn in, its picture, house at the foot."""

    name: str
    corners: int
    inner: tuple[int, ...]
    draw: str


@dataclass(frozen=True, slots=True)
class Kind:
    """What a side can be: its word, and its lines with the weight of each."""

    kind: str
    name: str
    draw: tuple[tuple[str, str], ...]


def _words(*pairs: str) -> Pick:
    return tuple((p.split(":")[0], p.split(":")[-1]) for p in pairs)


YES: Pick = ((True, "yes"), (False, "no"))
KINDS = (
    Kind("wall", "house wall", (("M2 5H58V16H2Z", "a-wall"), ("M2 5H58", "cut"))),
    Kind("verge", "verge", (
        ("M2 5H58", "cut"), ("M6 5v8M14 5v8M22 5v8M30 5v8M38 5v8M46 5v8M54 5v8", "thin"))),
    Kind("eaves", "eaves", (("M2 4H58", "cut"), ("M2 9H58M2 14H58", "thin"))),
    Kind("parapet", "parapet", (("M2 5H58M2 13H58", "cut"),)),
    Kind("step", "step", (("M2 5H30V14H58", "cut"),)),
    Kind("party_line", "party line", (("M2 5H58", "cut"), ("M2 13H58", "limit"))),
)  # fmt: skip
"""What a side can be, the four that are found most first."""

SHAPES = (
    Shape("square", 4, (), "M6 34H54V6H6Z"),
    Shape("L, wide at the house", 6, (3,), "M6 34H54V20H30V6H6Z"),
    Shape("L, wide at the far end", 6, (2,), "M6 34H30V20H54V6H6Z"),
    Shape("L, short on the left", 6, (4,), "M6 34H54V6H30V20H6Z"),
    Shape("L round the house", 6, (5,), "M30 34H54V6H6V20H30Z"),
    Shape("U", 8, (4, 5), "M6 34H54V6H40V20H20V6H6Z"),
    Shape("T", 8, (2, 7), "M22 34H38V20H54V6H6V20H22Z"),
)

_TERRAIN = (
    ("coast", "M2 30q5-6 10 0t10 0t10 0t10 0t10 0t10 0M2 36q5-6 10 0t10 0t10 0t10 0t10 0t10 0"
              "M40 24V14l8-6l8 6V24"),
    ("open_country", "M2 32Q18 24 34 30T68 26M12 29v-6M9 25h6M50 28V18l6-5l6 5V27"),
    ("village", "M2 34H68M8 34V22l8-6l8 6V34M32 34q-2-14 5-14t5 14M50 34V24l7-6l7 6V34"),
    ("town", "M2 34H68M6 34V14h12V34M22 34V20l6-5l6 5V34M38 34V10h12V34M54 34V18h10V34"
             "M9 18h6M9 24h6M41 15h6M41 21h6M41 27h6"),
)  # fmt: skip
_HINGE = (
    ("top", "M19 6H51V34H19ZM19 34L35 6L51 34"), ("bottom", "M19 6H51V34H19ZM19 6L35 34L51 6"),
    ("left", "M19 6H51V34H19ZM51 6L19 20L51 34"), ("right", "M19 6H51V34H19ZM19 6L51 20L19 34"),
    ("sliding", "M19 6H51V34H19ZM35 6V34M24 20h8m-3-3l3 3l-3 3"),
    ("fixed", "M19 6H51V34H19ZM19 20H51M35 6V34"),
)  # fmt: skip
_DECK = (
    ("planks", "M4 12H22V26H4ZM25 12H43V26H25ZM46 12H64V26H46Z"),
    ("plywood", "M4 12H64V26H4ZM4 16.7H64M4 21.3H64"),
    ("osb", "M4 12H64V26H4ZM8 15l9 4M20 23l8-7M31 16l10 5M44 23l8-6M12 24l5-2M54 15l6 4"),
    ("chipboard", "M4 12H64V26H4ZM9 16h1M16 21h1M22 15h1M29 22h1M35 17h1M42 21h1M49 16h1M13 24h1"
                  "M39 24h1M26 19h1M56 20h1"),
    ("strawboard", "M4 12H64V26H4ZM7 25L16 13M14 25L23 13M21 25L30 13M28 25L37 13M35 25L44 13"
                   "M42 25L51 13M49 25L58 13"),
    ("woodwool", "M4 12H64V26H4ZM6 16q4 6 8 0t8 4t8-4t8 4t8-3t8 3"
                 "M6 22q5-5 10 0t10-1t10 1t10-1t8 2"),
)  # fmt: skip

PLACE = Group("place", "Where it stands", (
    Asked("site.terrain", "What lies round the house?", draw=_TERRAIN, pick=_words(
        "coast:the open sea", "open_country:fields, few trees", "village:houses and trees",
        "town:a town, close built")),
    Asked("site.distance_to_sea_km", "How far to the sea?", "km"),
    Asked("site.roof_height_m", "From the ground up to the roof", "m"),
    Asked("site.altitude_m", "Height above the sea", "m above sea", more=True),
    Asked("site.map_wind_m_s", "Wind of the map there", "m/s", more=True),
    Asked("site.snow_zone", "Snow zone of the map", "zone", more=True),
    Asked("site.climate_region", "Climate region, 1 to 21", "region", more=True),
    Asked("site.rain_l_s_m2", "Rain of the map there", "l/s per m²", more=True),
    Asked("site.latitude_deg", "Latitude", "°", more=True),
    Asked("site.longitude_deg", "Longitude, west below 0", "°", more=True),
))  # fmt: skip
FELT = Group("felt", "Under the felt", (
    Asked("survey.covering.thickness_mm", "Old felt, thickness where it was cut", "mm"),
    Asked("survey.covering.layers", "How many layers of felt?", "layers"),
    Asked("survey.covering.chippings", "Chippings on it?", pick=YES),
    Asked("survey.covering.laid_year", "Laid about which year?", "year"),
    Asked("survey.covering.asbestos", "Asbestos sample of the felt", pick=_words(
        "not_sampled:not taken yet", "none_found:none found", "found")),
    Asked("survey.deck.kind", "What boards carry the felt?", draw=_DECK, pick=_words(
        "planks", "plywood", "osb:OSB", "chipboard", "strawboard", "woodwool")),
    Asked("survey.deck.thickness_mm", "Thickness of these boards", "mm"),
    Asked("survey.deck.renew_percent", "How much of them to renew?", "%"),
    Asked("survey.joists.depth_mm", "Depth of the joists", "mm"),
    Asked("survey.joists.width_mm", "Width of the joists", "mm"),
    Asked("survey.joists.spacing_mm", "From middle to middle of the joists", "mm"),
    Asked("survey.joists.span_m", "Span of the joists, support to support", "m"),
    Asked("survey.joists.along", "Which side do the joists run along?", pick_of="sides"),
    Asked("survey.joists.ends", "Ends of the joists", pick=_words("sound", "soft", "rotten")),
    Asked("survey.joists.sag_mm", "Sag in the middle", "mm", more=True),
    Asked("survey.joists.strength_class", "Strength class", pick=_words("C16", "C24"), more=True),
    Asked("survey.covering.sample_300_by_300_kg", "Weight of a sample 300 by 300", "kg", more=True),
    Asked("survey.covering.thickness_give_or_take_mm", "Felt, give or take", "mm", more=True),
    Asked("survey.deck.widest_gap_mm", "Widest gap between the boards", "mm", more=True),
    Asked("survey.deck.dish_under_2m_mm", "Dish under a 2 m straight-edge", "mm", more=True),
))  # fmt: skip
INSIDE = Group("inside", "The room below", (
    Asked("survey.below.room", "Which room is it?", "words"),
    Asked("survey.below.humidity_class", "How damp is its use?", pick=(
        (1, "store, workshop"), (2, "office, shop"), (3, "home, kitchen"), (4, "bath, canteen"),
        (5, "pool, laundry"))),
    Asked("survey.below.indoor_c", "How warm is it kept?", "°C"),
    Asked("survey.below.quilt_mm", "Quilt above the ceiling", "mm"),
    Asked("survey.below.quilt_wet", "Is the quilt wet?", pick=YES),
    Asked("survey.below.cables_in_void", "Cables between the joists?", pick=YES),
    Asked("survey.below.ceiling_mm", "Ceiling, thickness", "mm", more=True),
    Asked("survey.below.ceiling_vcl", "A vapour layer in the ceiling?", pick=YES, more=True),
    Asked("survey.below.old_vents", "Old vents along the edges, how many", "vents", more=True),
))  # fmt: skip
WHO = Group("who", "Whose roof", (
    Asked("job.title", "A name for the job", "words"),
    Asked("job.client", "Whose roof is it?", "words"),
    Asked("job.address", "Where is it?", "words"),
    Asked("job.building", "What building?", pick=_words("house", "flat:flats", "garage")),
    Asked("job.listed_or_conservation", "Listed, or in a conservation area?", pick=YES),
    Asked("job.nation", "In which nation?", pick=_words(
        "england:England", "wales:Wales", "scotland:Scotland",
        "northern_ireland:Northern Ireland")),
    Asked("job.reference", "Your reference, no spaces", "words", more=True),
    Asked("survey.tape_accuracy_mm", "What is one tape good to?", "mm", more=True),
))  # fmt: skip
CHOICES = Group("choices", "What is built", (
    Asked("design.falls.kind", "How is the fall made?", pick=_words(
        "keep:as it is", "shims", "firrings", "tapered:tapered boards")),
    Asked("design.falls.low_side", "Which side does the water run to?", pick_of="sides"),
    Asked("design.hold_boards_by", "What holds the boards?", pick=_words(
        "adhesive:glue", "screws")),
    Asked("design.board", "Which board?", pick_of="boards"),
    Asked("design.sheet", "Which sheet?", pick_of="sheets"),
    Asked("design.vcl", "Which vapour control layer?", pick_of="vcls"),
    Asked("crew.people", "How many hands?", "people"),
    Asked("calendar.start_on", "Begin on", "date"),
))  # fmt: skip
GROUPS = (PLACE, FELT, INSIDE, WHO, CHOICES)

SIDE = (
    Asked("boundary_m", "To the boundary", "m"),
    Asked("overhang_mm", "Overhang, wall face to fascia", "mm", only=("eaves", "verge")),
    Asked("fascia_depth_mm", "Fascia, depth", "mm", only=("eaves", "verge")),
    Asked("fascia_thickness_mm", "Fascia, thickness", "mm", only=("eaves", "verge")),
    Asked("wall_height_m", "Wall above the roof, height", "m", only=("wall",)),
    Asked("wall_of", "What is the wall of?", pick=_words("brick", "render", "cladding"),
          only=("wall",)),
    Asked("parapet_height_mm", "Parapet above the old felt", "mm", only=("parapet",)),
)  # fmt: skip
"""What is asked of a side beyond its length and its kind."""

_ALONG = Asked("along_m", "Along the side, from its first corner", "m")
_IN = Asked("in_m", "Square in from the side", "m")
_ABOVE = Asked("above_covering_mm", "Up from the old felt", "mm")
_WIDE = Asked("width_m", "Width", "m")
_ROUND = Asked("diameter_mm", "Diameter", "mm")

THINGS = (
    Thing("window", "windows", "", True, (
        Asked("sill_above_covering_mm", "From the old felt up to the sill", "mm"),
        Asked("sash_above_covering_mm", "From the old felt up to the sash", "mm"),
        _ALONG, _WIDE,
        Asked("hinge", "Where is it hinged, seen from the roof?", draw=_HINGE, pick=_words(
            "top", "left", "right", "bottom", "sliding:slides", "fixed")),
        Asked("opens", "Which way does it open?", pick=_words(
            "outwards:over the roof", "inwards", "no:not at all")),
        Asked("room", "Which room?", "words"),
        Asked("only_escape", "The only way out in a fire?", pick=YES),
        Asked("only_airing", "The only window of the room?", pick=YES),
    )),
    Thing("door", "heights", "threshold", True, (_ABOVE, _ALONG, _WIDE)),
    Thing("height", "heights", "", True, (
        Asked("kind", "What is it?", pick=_words(
            "sill", "dpc:damp-proof course", "cavity_tray:cavity tray", "flashing",
            "weep:weep hole", "air_brick:air brick", "flue", "cable", "threshold")),
        _ABOVE, _ALONG,
    )),
    Thing("rooflight", "openings", "rooflight", False, (
        _ALONG, _IN,
        Asked("length_m", "Size along the side", "m"),
        Asked("width_m", "Size square to the side", "m"),
        Asked("kerb_height_mm", "Kerb above the deck", "mm"),
    )),
    Thing("pipe", "openings", "pipe", False, (_ALONG, _IN, _ROUND)),
    Thing("outlet", "openings", "outlet", False, (_ALONG, _IN, _ROUND)),
    Thing("flue", "openings", "flue", False, (_ALONG, _IN, _ROUND)),
    Thing("level", "levels", "", False, (
        _ALONG, _IN, Asked("below_line_mm", "Staff, down from the level line", "mm"))),
    Thing("damp reading", "readings", "", False, (
        Asked("percent", "Moisture of the timber", "%"), _ALONG, _IN)),
)  # fmt: skip
