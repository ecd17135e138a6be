"""What is taken where nobody has said: each default with its reason and how far it may be out.

They are planning values for a first answer, marked until a person confirms them; none is a rule.
A path ends lists with ``[]``. ``others`` are the values tried when it is asked whether it matters.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from evenfall.drafting.around import Around, section
from evenfall.working import Basis

Entry = dict[str, Any]
Value = Callable[[Around, Entry], Any]


@dataclass(frozen=True, slots=True)
class Usual:
    """One default: its value or how it is found, the reason, what else it may well be.

    ``others`` are values; factors of the default where ``times`` is set; every other word of the
    model where it is empty and the key holds one of some words.
    """

    value: Any
    why: str
    basis: Basis = "common practice"
    others: tuple[Any, ...] = ()
    times: bool = False
    only: Callable[[Around, Entry], bool] | None = None  # where it is filled in at all


def _middle(width: str, usual: float) -> Value:
    """Put something in the middle of its side."""

    def found(a: Around, e: Entry) -> float:
        length, wide = a.length_m(str(e.get("side", ""))), float(e.get(width) or usual)
        return round(max(0.0, (length - wide) / 2), 2)

    return found


def _is(*kinds: str) -> Callable[[Around, Entry], bool]:
    return lambda a, e: (e.get("kind") or a.kinds.get(str(e.get("side")))) in kinds


def _opening(a: Around, e: Entry) -> str:
    square = {"length_m", "width_m", "glazing", "stands_on"} & set(e)
    return "rooflight" if square else "pipe"


def _square(a: Around, e: Entry) -> bool:
    if e.get("diameter_mm") is not None:
        return False
    return _kind_of(a, e) in ("rooflight", "chimney", "post")


def _kind_of(a: Around, e: Entry) -> str:
    return str(e.get("kind") or _opening(a, e))


def _round(a: Around, e: Entry) -> bool:
    return not _square(a, e) and e.get("length_m") is None and e.get("width_m") is None


def _sill(a: Around, e: Entry) -> float:
    return round(min(300.0, float(e.get("sash_above_covering_mm", 335.0)) - 35.0), 1)


def _upper(a: Around, e: Entry) -> bool:
    return e.get("upper_layer_mm") is not None


def _lower(a: Around, e: Entry) -> int:
    sizes = [s.thickness_mm for s in a.rates.boards[0].sizes]
    for board in a.rates.boards:
        if board.name == e.get("board"):
            sizes = [s.thickness_mm for s in board.sizes]
    return min(sizes, key=lambda t: (abs(t - int(e.get("upper_layer_mm") or t)), t))


def _start(a: Around, e: Entry) -> str:
    day = a.on + timedelta(days=28)
    return (day + timedelta(days=-day.weekday() % 7)).isoformat()


def _hold(a: Around, e: Entry) -> str:
    deck = section(section(a.document, "survey"), "deck")
    return "screws" if deck.get("kind") in ("planks", "chipboard") else "adhesive"


def _span(a: Around, e: Entry) -> float:
    return round(min(10.0, max(0.6, a.reach_m(str(e.get("along") or a.along)))), 2)


def _pipe(a: Around, e: Entry) -> float:
    high = section(a.document, "site").get("roof_height_m")
    return round(max(0.5, float(high or 2.9) - 0.4), 1)


_LOOK = "not asked yet"
_HUMID = [88.0, 85.0, 82.0, 78.0, 76.0, 76.0, 77.0, 78.0, 81.0, 85.0, 88.0, 89.0]

USUAL: dict[str, Usual] = {
    # ---- whose roof
    "job.reference": Usual(lambda a, e: f"R-{a.on:%y%m%d}", "the day it was begun"),
    "job.title": Usual("A flat roof", _LOOK),
    "job.client": Usual("not yet named", _LOOK),
    "job.address": Usual("not yet given", _LOOK),
    "job.nation": Usual("england", "most of our roofs"),
    "job.building": Usual("house", "most flat roofs of a small firm are on houses"),
    "job.listed_or_conservation": Usual(
        False, "most houses are neither; ask the owner", others=(True,)
    ),
    "job.surveyed_on": Usual(lambda a, e: a.on.isoformat(), "today"),
    # ---- where it stands
    "site.latitude_deg": Usual(52.5, "the middle of England", others=(50.6, 55.0)),
    "site.longitude_deg": Usual(-1.5, "the middle of England", others=(-4.5, 1.3)),
    "site.altitude_m": Usual(
        80, "half of the houses stand between 20 and 150 m", "from memory", (20, 200)
    ),
    "site.terrain": Usual("village", "between the open country and the town"),
    "site.distance_to_sea_km": Usual(
        50, "few places are further off than 100 km", "from memory", (5, 100)
    ),
    "site.map_wind_m_s": Usual(
        22.5, "the map of England runs from 21.5 to 25", "from memory", (21.5, 25.0)
    ),
    "site.roof_height_m": Usual(2.9, "one storey", others=(2.4, 5.8)),
    "site.snow_zone": Usual(3, "the middle zone of England", "from memory", (2, 4)),
    "site.climate_region": Usual(6, "the Midlands", "from memory", (1, 4, 10)),
    "site.outside_humidity_percent": Usual(
        lambda a, e: list(_HUMID),
        "usual monthly means inland",
        "from memory",
        (tuple(h - 6 for h in _HUMID),),
    ),
    "site.outside_humidity_source": Usual(
        "usual monthly means inland, from memory", "no weather of the place yet"
    ),
    # ---- the sides
    "survey.tape_accuracy_mm": Usual(3, "two people and a steel tape", "planning seed", (2, 6)),
    "survey.sides[].kind": Usual(
        lambda a, e: a.kinds.get(str(e.get("side")), "verge"),
        "house wall at your back, eaves over against it, verges between",
    ),
    "survey.sides[].boundary_m": Usual(3, "a garden on every side", "planning seed", (0.3, 1.2, 8)),
    "survey.sides[].overhang_mm": Usual(
        50, "a short overhang", "planning seed", (0, 150), only=_is("eaves", "verge")
    ),
    "survey.sides[].fascia_thickness_mm": Usual(
        20, "a timber fascia", others=(9, 25), only=_is("eaves", "verge")
    ),
    "survey.sides[].fascia_depth_mm": Usual(
        175, "joist, deck and a little", "planning seed", (150, 225), only=_is("eaves", "verge")
    ),
    "survey.sides[].wall_height_m": Usual(
        2.6, "one storey above the roof", "planning seed", (1.2, 5.2), only=_is("wall")
    ),
    "survey.sides[].parapet_height_mm": Usual(
        300, "four courses of brick", "planning seed", (150, 600), only=_is("parapet")
    ),
    # ---- what passes through, stands beside
    "survey.openings[].kind": Usual(_opening, "by its size"),
    "survey.openings[].side": Usual(lambda a, e: a.low_side, "the side that the water runs to"),
    "survey.openings[].along_m": Usual(
        _middle("length_m", 0.2),
        "the middle of its side",
        "planning seed",
        (0.6, 1.4),
        True,
        lambda a, e: not e.get("ties"),
    ),
    "survey.openings[].in_m": Usual(
        lambda a, e: 0.6,
        "an arm's length in",
        "planning seed",
        (0.4, 1.2),
        False,
        lambda a, e: not e.get("ties"),
    ),
    "survey.openings[].length_m": Usual(
        1.2, "a rooflight of a usual size", others=(0.9, 1.5), only=_square
    ),
    "survey.openings[].width_m": Usual(
        0.9, "a rooflight of a usual size", others=(0.6, 1.2), only=_square
    ),
    "survey.openings[].diameter_mm": Usual(110, "a soil pipe", others=(50, 160), only=_round),
    "survey.openings[].kerb_height_mm": Usual(
        100, "an old kerb", "planning seed", (50, 150), only=_is("rooflight")
    ),
    "survey.heights[].kind": Usual("sill", "what is found most beside a flat roof"),
    "survey.heights[].side": Usual(lambda a, e: a.sides[0], "the house wall"),
    "survey.heights[].along_m": Usual(
        _middle("width_m", 0.0), "the middle of its side", "planning seed", (0.5, 1.5), True
    ),
    "survey.heights[].above_covering_mm": Usual(
        300, "two bricks above the old felt and a little", "planning seed", (150, 450)
    ),
    "survey.windows[].side": Usual(lambda a, e: a.sides[0], "the house wall"),
    "survey.windows[].along_m": Usual(
        _middle("width_m", 1.0), "the middle of its side", "planning seed", (0.5, 1.5), True
    ),
    "survey.windows[].width_m": Usual(1.0, "a window of a usual size", others=(0.6, 1.8)),
    "survey.windows[].sill_above_covering_mm": Usual(
        _sill, "not taped yet", "planning seed", (0.5, 1.0), True
    ),
    "survey.windows[].sash_above_covering_mm": Usual(
        lambda a, e: round(float(e.get("sill_above_covering_mm") or 300) + 35, 1),
        "a frame's width above the sill",
        others=(0.92, 1.15),
        times=True,
    ),
    "survey.windows[].hinge": Usual("top", "the most of small windows"),
    "survey.windows[].opens": Usual("outwards", "as most do"),
    "survey.windows[].room": Usual("room", _LOOK),
    "survey.windows[].only_escape": Usual(False, "a room has a door as well; ask", others=(True,)),
    "survey.windows[].only_airing": Usual(True, "most rooms have one window", others=(False,)),
    # ---- what is under the felt
    "survey.deck.kind": Usual(
        "plywood", "hidden until the felt is off", others=("planks", "osb", "chipboard")
    ),
    "survey.deck.thickness_mm": Usual(18, "the usual board", others=(15, 22)),
    "survey.deck.renew_percent": Usual(
        15, "nobody knows before the felt is off", "planning seed", (0, 50)
    ),
    "survey.deck.widest_gap_mm": Usual(3, "boards close together", "planning seed", (0, 10)),
    "survey.deck.dish_under_2m_mm": Usual(
        4, "an old deck that has not sagged", "planning seed", (2, 10)
    ),
    "survey.joists.width_mm": Usual(47, "the usual timber", others=(38, 50)),
    "survey.joists.along": Usual(lambda a, e: a.along, "from the house down to the eaves"),
    "survey.joists.depth_mm": Usual(
        147, "the usual timber for such a span", "planning seed", (97, 197)
    ),
    "survey.joists.spacing_mm": Usual(400, "400, 450 or 600 are usual", others=(450, 600)),
    "survey.joists.span_m": Usual(
        _span, "from wall to wall as drawn, no beam between", "planning seed", (0.5,), True
    ),
    "survey.joists.strength_class": Usual(
        "C16", "the weaker of the two that are sold", others=("C24",)
    ),
    "survey.joists.sag_mm": Usual(6, "little sag", "planning seed", (0, 20)),
    "survey.joists.ends": Usual("sound", "hidden until the felt is off"),
    "survey.covering.layers": Usual(3, "three layers of felt", others=(2, 6)),
    "survey.covering.chippings": Usual(False, "look", others=(True,)),
    "survey.covering.thickness_mm": Usual(12, "three layers of felt", "planning seed", (8, 25)),
    "survey.covering.thickness_give_or_take_mm": Usual(3, "not cut yet", "planning seed", (1, 5)),
    "survey.covering.sample_300_by_300_kg": Usual(
        1.0, "three layers: 11 kg/m²", "from memory", (0.6, 2.4)
    ),
    "survey.covering.laid_year": Usual(
        lambda a, e: a.on.year - 25, "felt lasts 15 to 30 years", "planning seed", (1985,)
    ),
    "survey.covering.asbestos": Usual("not_sampled", "no sample yet"),
    "survey.below.room": Usual("room below", _LOOK),
    "survey.below.indoor_c": Usual(20, "a heated room", others=(16, 22)),
    "survey.below.humidity_class": Usual(3, "a kitchen or a house with many people", others=(2, 4)),
    "survey.below.ceiling_mm": Usual(12.5, "one plasterboard", others=(0, 25)),
    "survey.below.ceiling_vcl": Usual(False, "old roofs have none", others=(True,)),
    "survey.below.quilt_mm": Usual(100, "usual between such joists", "planning seed", (0, 150)),
    "survey.below.quilt_wet": Usual(False, "hidden until the felt is off", others=(True,)),
    "survey.below.old_vents": Usual(0, "look along the eaves", others=(6,)),
    "survey.below.cables_in_void": Usual(
        True, "taken so until somebody has looked", others=(False,)
    ),
    "survey.gutters[].width_mm": Usual(112, "the usual half-round", others=(76, 125)),
    "survey.gutters[].fall_mm_per_m": Usual(2, "hung nearly level", "planning seed", (0, 4)),
    "survey.gutters[].outlet_at": Usual("end", "as most are"),
    "survey.gutters[].outlet_mm": Usual(65, "the usual pipe", others=(50, 80)),
    "survey.gutters[].top_below_covering_mm": Usual(
        25, "tucked under the drip", "planning seed", (10, 50)
    ),
    "survey.gutters[].pipe_mm": Usual(68, "the usual pipe", others=(50, 80)),
    "survey.gutters[].pipe_length_m": Usual(
        _pipe, "down to the ground", others=(0.7, 1.4), times=True
    ),
    # ---- what is chosen
    "design.board": Usual(lambda a, e: a.rates.boards[0].name, "the first of the rates"),
    "design.vcl": Usual(lambda a, e: a.rates.vcls[0].name, "the first of the rates"),
    "design.sheet": Usual(lambda a, e: a.rates.sheets[0].name, "the first of the rates"),
    "design.layers": Usual(2, "an upper board is named", only=_upper),
    "design.thickness_mm": Usual(_lower, "as thick as the upper board", only=_upper),
    "design.hold_boards_by": Usual(_hold, "glue on an even deck, screws on planks"),
    "design.falls.kind": Usual("firrings", "old roofs seldom fall enough"),
    "design.falls.low_side": Usual(lambda a, e: a.low_side, "the eaves"),
    "design.thin_zones[].in_m": Usual(1.0, "a strip", "planning seed", (0.5, 2.0)),
    # ---- who and when
    "crew.people": Usual(2, "two pairs of hands", others=(3,)),
    "calendar.start_on": Usual(_start, "four weeks on, a Monday", "planning seed"),
}
"""By path. Facts of the trade and planning seeds; the firm's own rates choose the products."""
