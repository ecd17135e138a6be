"""Roofs drawn by hand, and the handbook's outputs, for tests of tasks, bays and days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from tests.unit.plans import LETTER_L, OBLONG, plan

from evenfall.model.choice import Vcl
from evenfall.model.job import Calendar, Crew
from evenfall.model.programmed import Programme, Tasks
from evenfall.model.rates import Output
from evenfall.model.surveyed import OpeningAt, Plan, Point, Ring
from evenfall.stages.programme import programme, tasks
from evenfall.stages.programme.roof import Roof, When

STICKY = Vcl(
    "sticky", "Sticky", "self_adhesive_bitumen", 1.4, 1500.0, 1.5, 1080, 20000, 80, 150, 90.0,
    True, 19,
)  # fmt: skip
L_KINDS = ("eaves", "verge", "wall", "wall", "wall", "verge")
L_WALLS = (0.0, 0.0, 2.6, 2.6, 2.9, 0.0)
DOWN: Point = (0.0, -1.0)
RAIN = 0.0215

# low, typical, high hours for one unit, as the handbook's table in 4.2 has them; those it lacks
# (marked) are invented
OUTPUTS = tuple(
    Output(task=task, unit=unit, low=low, typical=typical, high=high)  # type: ignore[arg-type]
    for task, unit, low, typical, high in (
        ("set-up", "job", 2, 3, 6),
        ("strip-felt", "m2", 0.15, 0.25, 0.40),
        ("strip-chippings", "m2", 0.08, 0.12, 0.20),
        ("strip-second-system", "m2", 0.10, 0.15, 0.25),
        ("strip-edges", "m", 0.06, 0.10, 0.20),
        ("remove-quilt", "m2", 0.06, 0.09, 0.15),  # invented
        ("lift-deck", "m2", 0.15, 0.20, 0.35),
        ("inspect-deck", "m2", 0.05, 0.08, 0.12),
        ("new-deck", "m2", 0.30, 0.40, 0.60),
        ("relay-deck", "m2", 0.20, 0.28, 0.45),  # invented
        ("patch-deck", "m2", 0.40, 0.50, 0.80),
        ("firrings", "m", 0.08, 0.10, 0.15),
        ("close-vents", "m", 0.08, 0.12, 0.20),
        ("wall-head", "m", 0.10, 0.15, 0.24),  # invented
        ("vcl-adhesive", "m2", 0.10, 0.14, 0.20),
        ("vcl-polythene", "m2", 0.04, 0.06, 0.10),
        ("vcl-edges", "m", 0.06, 0.08, 0.12),
        ("edge-timber", "m", 0.20, 0.30, 0.50),
        ("kerb-build", "each", 1.5, 3, 4),
        ("boards-glue", "m2", 0.10, 0.15, 0.22),
        ("boards-screw", "m2", 0.06, 0.09, 0.14),  # invented
        ("boards-second-layer", "m2", 0.08, 0.12, 0.16),
        ("screw", "each", 0.012, 0.017, 0.03),
        ("parapet-lining", "m2", 0.25, 0.38, 0.60),  # invented
        ("repair-joist", "each", 0.2, 0.4, 1.0),
        ("coat", "m", 0.05, 0.09, 0.14),  # invented
        ("overlay", "m2", 0.12, 0.16, 0.24),
        ("cut-edges", "m", 0.04, 0.06, 0.10),
        ("sheet-field", "m2", 0.12, 0.20, 0.30),
        ("upstand", "m", 0.25, 0.35, 0.50),
        ("corner", "each", 0.2, 0.3, 0.4),
        ("pipe-boot", "each", 0.3, 0.5, 0.7),
        ("kerb-dress", "each", 2, 3, 4),
        ("outlet", "each", 0.7, 1.0, 1.5),
        ("overflow", "each", 0.5, 0.8, 1.2),  # invented
        ("seam", "m", 0.10, 0.15, 0.25),
        ("trim", "m", 0.12, 0.22, 0.35),
        ("flashing", "m", 0.3, 0.5, 0.8),
        ("capping", "m", 0.3, 0.46, 0.7),  # invented
        ("door-channel", "m", 0.6, 0.9, 1.4),  # invented
        ("fascia", "m", 0.25, 0.40, 0.60),
        ("gutter", "m", 0.2, 0.3, 0.4),
        ("downpipe", "m", 0.15, 0.2, 0.3),
        ("open-and-close", "person_day", 0.4, 0.5, 0.7),
        ("night-joint", "night", 0.5, 1.0, 1.5),
        ("night-joint-metre", "m", 0.1, 0.2, 0.3),
        ("clear-up", "job", 2, 3, 5),
    )
)


def opening(kind: str, name: str, x: float, y: float, along: float, across: float) -> OpeningAt:
    """Put an upright opening with its lower left corner in a place."""
    ring: Ring = ((x, y), (x + along, y), (x + along, y + across), (x, y + across))
    middle = (x + along / 2, y + across / 2)
    return OpeningAt(
        f"opening:{name}", name, kind, ring, ring, middle, along * across,  # type: ignore[arg-type]
        2 * (along + across), False, 90.0, None,
    )  # fmt: skip


def roof(of: Plan | None = None, **changes: object) -> Roof:
    """Make a plain roof of its plan; changes are fields of `Roof`."""
    made = Roof(
        plan=of or plan(),
        downhill=DOWN,
        firrings_m=0.0,
        relaid_percent=0.0,
        seam_m=0.0,
        screws_m2=0.0,
        layers=3,
        chippings=False,
        renew_percent=25.0,
        quilt_mm=0.0,
        wall_heads=(),
        close_vents=True,
        screwed=False,
        board_layers=1,
        overlay_mm=0.0,
        new_fascia=True,
        gutters=(("A-B", 3.0),),
        overflows=0,
        doors_m=(),
        vcl=STICKY,
        other_vcls=(),
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def letter_l(openings: tuple[OpeningAt, ...] = ()) -> Plan:
    """An L with its gutter at the foot and two walls in the inner corner."""
    return plan(LETTER_L, L_KINDS, L_WALLS, openings=openings)


def oblong(
    x: float, y: float, kinds: tuple[str, ...] = ("eaves", "verge", "wall", "verge"),
    openings: tuple[OpeningAt, ...] = (),
) -> Plan:  # fmt: skip
    """A rectangle, gutter at the foot."""
    ring: Ring = OBLONG if (x, y) == OBLONG[2] else ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    return plan(ring, kinds, (0.0, 0.0, 2.7, 0.0), openings=openings)


def when(
    people: int = 2, start_on: str = "2027-04-12", hours: float = 8.0, start_hour: float = 8.0,
    days_off: tuple[date, ...] = (), saturdays: bool = False, nation: str = "england",
) -> When:  # fmt: skip
    """Say who works and from when; by default a Monday in April."""
    crew = Crew(people=people, hours_a_day=hours, start_hour=start_hour)
    first = date.fromisoformat(start_on)
    calendar = Calendar(start_on=first, days_off=days_off, saturdays=saturdays)
    return When(crew, calendar, nation, 52.37, -1.83)


def planned(of: Roof, time: When, outputs: tuple[Output, ...] = OUTPUTS) -> tuple[Tasks, Programme]:
    """Work both rooms of the programme."""
    work = tasks.work(of, time, outputs, "planning seed")
    days = programme.work(work, of.plan, of.downhill, time, of.vcl.nights, RAIN, None)
    return work, days
