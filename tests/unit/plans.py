"""A plan drawn by hand and a small invented job, for tests of rooms that come after the survey."""

from __future__ import annotations

import copy
import math
from typing import Any

from evenfall.calc.geometry.polygon import area
from evenfall.model.change import apply
from evenfall.model.choice import Board, BuildUp, Fastener, Rubber, Vcl
from evenfall.model.finding import Change, Finding
from evenfall.model.job import Job
from evenfall.model.rates import Adhesive
from evenfall.model.surveyed import CornerAt, Falls, OpeningAt, Plan, Point, Ring, SideAt, Slope
from evenfall.stages.design import joists, night
from evenfall.stages.design.nation import Renewed
from evenfall.stages.design.thicknesses import target_of
from evenfall.working import Table, Working, measured, total

OBLONG: Ring = ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (0.0, 4.1))
LETTER_L: Ring = ((0.0, 0.0), (7.3, 0.0), (7.3, 2.9), (3.1, 2.9), (3.1, 6.7), (0.0, 6.7))


def plan(
    ring: Ring = OBLONG,
    kinds: tuple[str, ...] = ("eaves", "verge", "wall", "verge"),
    walls_m: tuple[float, ...] = (0.0, 0.0, 3.0, 0.0),
    boundary_m: float = 2.4,
    openings: tuple[OpeningAt, ...] = (),
) -> Plan:
    """Lay out a plan from its corners, anticlockwise, named A, B, C and so on."""
    names = [chr(ord("A") + i) for i in range(len(ring))]
    pairs = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    sides = tuple(
        _side(f"{names[i]}-{names[(i + 1) % len(ring)]}", kinds[i], a, b, walls_m[i], boundary_m)
        for i, (a, b) in enumerate(pairs)
    )
    gross = Working("Gross area", "A", "m2", "by hand", area(ring), own_basis="measured")
    return Plan(
        corners=tuple(CornerAt(n, x, y, 3.0) for n, (x, y) in zip(names, ring, strict=True)),
        sides=sides,
        openings=openings,
        deck=ring,
        fascia=ring,
        wall=ring,
        gross=gross,
        net=gross,
        perimeter=total("Perimeter", "P", "m", [(s.name, s.length_m) for s in sides]),
        good_to_mm=3.0,
        tapes=Table("Tapes", (("tape", "-"),), (), "by hand", "measured"),
    )


def _side(name: str, kind: str, a: Point, b: Point, wall_m: float, boundary_m: float) -> SideAt:
    length = math.dist(a, b)
    outwards = ((b[1] - a[1]) / length, (a[0] - b[0]) / length)
    return SideAt(f"side:{name}", name, kind, a, b, length, outwards, 0.0, wall_m, boundary_m)  # type: ignore[arg-type]


def outlet(name: str, x: float, y: float, diameter_mm: float = 75.0) -> OpeningAt:
    """Put an outlet in its place."""
    ring: Ring = ((x, y), (x + 0.1, y), (x + 0.1, y + 0.1), (x, y + 0.1))
    return OpeningAt(
        f"opening:{name}", name, "outlet", ring, ring, (x, y), 0.01, 0.4, False, 0.0, diameter_mm
    )


def falls(downhill: Point = (0.0, -1.0), kind: str = "keep", low_side: str = "A-B") -> Falls:
    """Let the roof fall one in forty that way."""
    finished = Working("Fall", "f", "mm/m", "by hand", 25.0, own_basis="measured")
    return Falls(kind, low_side, downhill, Slope(0.0, 0.0, 0.0), finished, (), ())


def around(shape: Plan | None = None, downhill: Point = (0.0, -1.0)) -> joists.Around:
    """Let the joists meet this roof, its fall and its bath."""
    shape = shape or plan()
    r = measured(0.021, "l/(s m2)", "site.rain_l_s_m2")
    return joists.Around(shape, (), downhill, night.night(shape, downhill, 25.0, 120.0, r))


def ponding(b: float, h: float, L: float, s: float, E_05: float = 5.4e9) -> float:
    """Marino's factor by hand, of C16 where nothing else is said."""
    return 9810 * s * L**4 / (math.pi**4 * E_05 * b * h**3 / 12)


def renewed(job: Job, u: float = 0.118, before_u: float = 1.62, **over: Any) -> Renewed:
    """Let the roof be 20.7 m2 of what the job says, and let it reach a U-value."""
    A = Working("Gross area", "A", "m2", "by hand", 20.7, own_basis="measured")
    now, before = (
        Working("Transmittance", "U", "W/(m2K)", "by hand", v, own_basis="measured")
        for v in (u, before_u)
    )
    about, deck = job.job, job.survey.deck
    asked = target_of(about.nation, None, deck)
    target = target_of(about.nation, job.design.target_u, deck)
    return Renewed(
        A, about.element_area_m2, about.envelope_area_m2, now, before, asked, target,
        deck.renew_percent, **over,
    )  # fmt: skip


RISE = Working("Rise", "rise", "mm", "by hand", 133.0, (("t", "mm", measured(133.0, "mm", "t")),))

_JOB: dict[str, Any] = {
    "format": 1,
    "job": {
        "reference": "test-1", "title": "Kitchen roof", "client": "A. N. Other",
        "address": "1 Sample Street", "nation": "england", "building": "house",
        "listed_or_conservation": False, "surveyed_on": "2025-09-02", "invented": True,
    },
    "site": {
        "latitude_deg": 52.4, "longitude_deg": -1.9, "altitude_m": 84, "terrain": "village",
        "distance_to_sea_km": 110, "map_wind_m_s": 22.0, "roof_height_m": 2.9, "snow_zone": 3,
        "climate_region": 6, "outside_humidity_percent": [85] * 12,
        "outside_humidity_source": "invented",
    },
    "survey": {
        "tape_accuracy_mm": 3, "corners": ["A", "B", "C", "D"],
        "tapes": [
            {"between": "A-B", "length_m": 6.2}, {"between": "B-C", "length_m": 4.1},
            {"between": "C-D", "length_m": 6.2}, {"between": "D-A", "length_m": 4.1},
            {"between": "A-C", "length_m": 7.433},
        ],
        "sides": [
            {"side": "A-B", "kind": "eaves", "boundary_m": 8.1, "overhang_mm": 250},
            {"side": "B-C", "kind": "verge", "boundary_m": 2.4},
            {"side": "C-D", "kind": "wall", "boundary_m": 11.5, "wall_height_m": 3.0,
             "wall_of": "brick"},
            {"side": "D-A", "kind": "verge", "boundary_m": 6.3},
        ],
        "levels": [
            {"name": "l1", "corner": "A", "below_line_mm": 160},
            {"name": "l2", "corner": "B", "below_line_mm": 162},
            {"name": "l3", "corner": "C", "below_line_mm": 60},
        ],
        "deck": {"kind": "osb", "thickness_mm": 18, "renew_percent": 25, "widest_gap_mm": 3,
                 "dish_under_2m_mm": 4},
        "joists": {"width_mm": 47, "depth_mm": 145, "spacing_mm": 400, "span_m": 2.9,
                   "along": "B-C", "strength_class": "C16", "sag_mm": 6, "ends": "sound"},
        "covering": {"layers": 3, "chippings": False, "thickness_mm": 10,
                     "thickness_give_or_take_mm": 3, "sample_300_by_300_kg": 0.99,
                     "laid_year": 2004, "asbestos": "none_found"},
        "below": {"room": "kitchen", "indoor_c": 20, "humidity_class": 3, "ceiling_mm": 12.5,
                  "ceiling_vcl": False, "quilt_mm": 100, "quilt_wet": False, "old_vents": 0,
                  "cables_in_void": False},
        "gutters": [
            {"side": "A-B", "width_mm": 112, "fall_mm_per_m": 3, "outlet_at": "end",
             "outlet_mm": 68, "top_below_covering_mm": 20, "pipe_mm": 68, "pipe_length_m": 3},
        ],
    },
    "design": {"board": "foam", "vcl": "foil", "sheet": "rubber", "hold_boards_by": "adhesive",
               "falls": {"low_side": "A-B"}},
    "crew": {"people": 2},
    "calendar": {"start_on": "2026-04-13"},
}  # fmt: skip


def job(**changes: object) -> Job:
    """Make the invented job; a change is a path with ``__`` for the dots."""
    made = Job.model_validate(copy.deepcopy(_JOB))
    return apply(made, [Change(path.replace("__", "."), value) for path, value in changes.items()])


ADHESIVE = Adhesive(strength_kpa=90.0, bead_mm=18.0, sheet_bond_kpa=5.4)


def build(job: Job, thickness_mm: int = 120, layers: int = 1) -> BuildUp:
    """Put the layers of the invented job together, with what its design says of them."""
    board = Board(
        "foam", "rigid foam", 2400, 1200, 32.0, 0.4, 90.0, 60.0,
        ((60, 0.024), (100, 0.023), (120, 0.022)),
    )  # fmt: skip
    vcl = Vcl(
        "foil", "bitumen and foil", "self_adhesive_bitumen", 0.8, 1500.0, 0.9, 1080, 20000, 80, 120,
        5.0, True, 14,
    )  # fmt: skip
    rubber = Rubber("rubber", "rubber sheet", 1.2, 0.2, 100.0, 1.4, (3.05, 6.1), 30.0, 0.5)
    screw = Fastener((100, 130, 150, 160, 180), 4.8, 50.0, 0.0, 410.0)
    design = job.design
    return BuildUp(
        board, vcl, rubber, screw, thickness_mm, layers, design.overlay_mm,  # type: ignore[arg-type]
        design.hold_boards_by, design.quilt, design.vents, "demo",
    )  # fmt: skip


def rise(boards_mm: float, beside_mm: float = 0.0) -> Working:
    """Rise of the finished roof over the old one."""
    return total("Rise", "rise", "mm", [("boards", boards_mm), ("beside", beside_mm)])


def codes(findings: tuple[Finding, ...]) -> list[str]:
    """List the codes of findings."""
    return [f.code for f in findings]


def one(findings: tuple[Finding, ...], code: str) -> Finding:
    """Take the finding with a code."""
    return next(f for f in findings if f.code == code)


def cured(job: Job, found: Finding) -> Job:
    """Make the changes that a remedy asks for."""
    assert found.remedy is not None
    assert found.remedy.changes, f"{found.code} has no changes"
    return apply(job, found.remedy.changes)
