"""Joists: strength and sag before, during, at night, after; an aid, not a structural design."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from evenfall.calc.loads import beams, ponding, snow
from evenfall.calc.loads.joists import Joist
from evenfall.calc.loads.sections import second_moment
from evenfall.calc.loads.timber import strength_class
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Blocked, Joists, Night, PutDown
from evenfall.model.job import Below, Covering, Deck, Side, Site
from evenfall.model.job import Joists as Found
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.design import (
    bearing,
    dead_weight,
    deck_off,
    for_engineer,
    joist_findings,
    kerb_drifts,
    putting_down,
    seldom,
)
from evenfall.stages.design.joist_case import Loads, case, permanent
from evenfall.stages.design.joist_loads import (
    combined_load,
    line_load,
    person_load,
    person_moment,
    sandbag_row,
    weight_change,
)
from evenfall.standards import dead_loads, en_1991_1_1
from evenfall.working import Working, measured, total

MM = 1000


class Around(NamedTuple):
    """What of the roof the joists meet: plan, sides, fall, the night's bath, blocked outlets."""

    plan: Plan
    sides: tuple[Side, ...]
    downhill: Point
    night: Night
    blocked: Blocked | None = None
    relaid_percent: float = 0.0  # of the deck, lifted for firrings and laid again


def work(
    joists: Found,
    deck: Deck,
    covering: Covering,
    below: Below,
    site: Site,
    build: BuildUp,
    chosen_mm: int,
    fall_kind: str,
    added_mm: tuple[float, ...],
    around: Around,
) -> Joists:
    """Work out the joists before, during and after.

    Parameters
    ----------
    joists : Joists
        What was found [-].
    deck, covering, below : Deck, Covering, Below
        What lies on them and hangs below [-].
    site : Site
        Snow zone and altitude [-].
    build : BuildUp
        The new layers [-].
    chosen_mm : int
        Insulation, all layers [mm].
    fall_kind : str
        keep, firrings or tapered [-].
    added_mm : tuple of float
        What firrings or tapers add at the corners [mm].
    around : Around
        Plan, sides, fall and the night's bath [-].

    Returns
    -------
    Joists
        The four moments, what comes seldom, change of weight, ponding and findings [-].
    """
    joist = joist_of(joists)
    altitude = measured(max(site.altitude_m, 0.0), "m", "site.altitude_m")
    s_k = snow.ground_snow(site.snow_zone, altitude)
    lying = snow.roof_snow.show(s_k)
    moments = _moments(joists, joist, deck, covering, below, build, chosen_mm, fall_kind, added_mm,
                       lying, around.night)  # fmt: skip
    C = ponding.ponding_factor.show(
        joist.spacing, joist.L, joist.timber.E_05, second_moment.show(joist.b, joist.h)
    )
    grows = _grows(C)
    cases = tuple(
        case(name, loads, joist, bool(below.ceiling_mm), grows) for name, loads in moments.items()
    )
    old = dead_weight.old_covering(covering)
    new = dead_weight.new_covering(build, chosen_mm, joists, fall_kind, added_mm)
    change = weight_change.show(new, old)
    bare = deck_off.deck_off(
        joist, _with_person(joist, permanent(moments["before"])), joists.noggin_rows,
        deck.renew_percent + around.relaid_percent > 0,
    )  # fmt: skip
    stays = seldom.Lying(*(permanent(moments[m]) for m in ("before", "during", "after")))
    rare = seldom.seldom(
        around.plan, around.sides, around.downhill, around.plan.side(joists.along).along, joist,
        stays, s_k, around.night, chosen_mm + build.overlay_mm, around.blocked, grows,
    )  # fmt: skip
    rise_mm = chosen_mm + build.overlay_mm
    runs = around.plan.side(joists.along).along
    rare += kerb_drifts.beside_kerbs(
        around.plan, runs, joist, stays.before, stays.after, s_k, rise_mm
    )
    drifts = seldom.walls(around.plan, around.sides, runs, s_k, rise_mm)
    pressed = bearing.kerbs(around.plan, lying, drifts)
    down = _put_down(moments["during"], joist, build, chosen_mm, around, joists.along, grows)
    plain = dead_weight.new_covering(
        replace(build, overlay_mm=0.0), chosen_mm, joists, fall_kind, added_mm
    )
    findings = (
        *joist_findings.seen(joists),
        *bearing.tell_deck(joists, deck),
        *joist_findings.by_tables(joists, moments["after"].parts, joist),
        *joist_findings.strength(*cases),
        *deck_off.tell(joist, bare),
        *putting_down.tell(down),
        *seldom.tell(rare),
        *joist_findings.soft(C),
        *joist_findings.heavier(change, build.overlay_mm, weight_change(plain.value, old.value)),
        *bearing.tell_kerbs(pressed, build),
    )
    after = moments["after"]
    lies = (*after.parts, after.imposed, after.snow)
    return Joists(
        cases, rare, change, bare, C if C.value >= 1 else grows, tuple(p for _, p in pressed), down,
        for_engineer.table(joists, cases, lies, s_k, rare, bare), findings,
    )  # fmt: skip


def _moments(
    joists: Found,
    joist: Joist,
    deck: Deck,
    covering: Covering,
    below: Below,
    build: BuildUp,
    chosen_mm: int,
    fall_kind: str,
    added_mm: tuple[float, ...],
    lying: Working,
    night: Night,
) -> dict[str, Loads]:
    """Put the loads of the four moments together."""
    old = dead_weight.old_covering(covering)
    new = dead_weight.new_covering(build, chosen_mm, joists, fall_kind, added_mm)
    left = (("rolls and tools", dead_loads.LEFT_OVERNIGHT),
            ("sandbags", sandbag_row.show(joist.spacing)))  # fmt: skip
    stay = dead_weight.staying(deck, below, joists, joist.timber)
    people, quilt = ("imposed", en_1991_1_1.Q_K_UK), dead_weight.quilt(below)
    kept = quilt if build.quilt == "keep" else ()
    bare, water = (
        (*stay, *quilt, *dead_weight.vcl(build)),
        ("water at the open way out", night.open_load),
    )
    return {
        "before": Loads((*stay, *quilt, ("old felt", dead_weight.weight.show(old))), people,
                        ("snow", lying), "medium", True),
        "during": Loads(bare,
                        ("pack of boards", dead_weight.stack(build, chosen_mm)),
                        water, "short", False),
        "night": Loads(bare, ("left overnight", total("Left overnight", "q", "Pa", left)),
                       water, "short", False),
        "after": Loads((*stay, *kept, ("new roof", dead_weight.weight.show(new))), people,
                       ("snow", lying), "medium", True),
    }  # fmt: skip


def _grows(C: Working) -> Working:
    """Amplify by ponding; a roof that would go on sinking is taken as far as a number can say."""
    most = dead_loads.PONDING_MOST
    return ponding.ponding_amplification.show(C if C.value < most else most)


def _put_down(
    during: Loads,
    joist: Joist,
    build: BuildUp,
    chosen_mm: int,
    around: Around,
    along: str,
    a: Working,
) -> PutDown:
    """Boards beside all that lies there during the work but the boards, and one person."""
    full, none = dead_loads.IN_FULL, dead_loads.NOTHING_ELSE
    rest = combined_load.show(permanent(during), none, during.snow[1], psi_Q=full, psi_S=full)
    return putting_down.put_down(
        joist, build, chosen_mm, line_load.show(rest, joist.spacing), person_load.show(),
        around.plan, around.sides, around.plan.side(along).along, a,
    )  # fmt: skip


def joist_of(found: Found) -> Joist:
    """Take the joist as it was measured.

    Parameters
    ----------
    found : Joists
        The joists of the survey [-].

    Returns
    -------
    Joist
        Section, span, spacing, timber [m].
    """
    b, h, s = (
        measured(getattr(found, key) / MM, "m", f"survey.joists.{key}")
        for key in ("width_mm", "depth_mm", "spacing_mm")
    )
    span = measured(found.span_m, "m", "survey.joists.span_m")
    return Joist(b, h, span, s, strength_class(found.strength_class))


def _with_person(joist: Joist, G: Working) -> Working:
    M_G = beams.moment.show(line_load.show(G, joist.spacing), joist.L)
    M_P = beams.moment_of_point.show(en_1991_1_1.POINT_K_UK, joist.L)
    return person_moment.show(M_G, M_P)
