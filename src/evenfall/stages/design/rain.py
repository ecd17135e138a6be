"""Rain: how hard it is taken to fall, from the job, or by what the building risks."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.calc.drainage.run_off import exceedance, return_period_years
from evenfall.model.finding import Finding, Level
from evenfall.model.surveyed import Plan
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import approved_document_h as ad_h
from evenfall.standards import en_12056_3 as en
from evenfall.standards import gutter_practice as practice
from evenfall.working import Known, Working, measured

OPEN = ("eaves", "verge")  # sides over which water can leave when all else is blocked
PER_HOUR = 3600
HOMES_BELOW = ("flat",)  # other people's rooms lie under the roof


def category(plan: Plan, building: str) -> int:
    """Choose the category of rain by where the water goes when more of it comes.

    Parameters
    ----------
    plan : Plan
        The sides [-].
    building : str
        House, flat or garage [-].

    Returns
    -------
    int
        1 where it runs over an open edge; shut in by walls and parapets 2, over flats 3 [-].
    """
    if any(s.kind in OPEN for s in plan.sides):
        return 1
    return 3 if building in HOMES_BELOW else 2


def intensity(given: float | None, plan: Plan, building: str) -> Known:
    """Take the rain of the job; where nobody read the map, that of the category.

    Parameters
    ----------
    given : float, optional
        ``site.rain_l_s_m2`` [l/(s m2)].
    plan : Plan
        The sides [-].
    building : str
        House, flat or garage [-].

    Returns
    -------
    Known
        Rainfall intensity with its source [l/(s m2)].
    """
    if given is not None:
        return measured(given, "l/(s m2)", "site.rain_l_s_m2", "declared")
    return ad_h.RAIN_L_S_M2 if category(plan, building) == 1 else en.RAIN_150_MM_H_L_S_M2


def storm(plan: Plan, building: str) -> tuple[Working, ...]:
    """Say how rare the rain of the category is, where it is counted by the life of a building.

    Parameters
    ----------
    plan : Plan
        The sides [-].
    building : str
        House, flat or garage [-].

    Returns
    -------
    tuple of Working
        Return period and the chance in a life; empty for category 1, which is every year [a, -].
    """
    factor = en.LIFE_FACTOR.get(category(plan, building))
    if factor is None:
        return ()
    T = return_period_years.show(practice.BUILDING_LIFE, factor)
    return T, exceedance.show(T, practice.BUILDING_LIFE)


def tell(given: float | None, plan: Plan, building: str) -> Iterator[Finding]:
    """Say which rain was taken where the job gives none, or a weak one for a roof shut in.

    Parameters
    ----------
    given : float, optional
        ``site.rain_l_s_m2`` [l/(s m2)].
    plan : Plan
        The sides [-].
    building : str
        House, flat or garage [-].

    Yields
    ------
    Finding
        At most one [l/(s m2)].
    """
    kind = category(plan, building)
    r = intensity(given, plan, building)
    ask = cure(f"Read the map of category {kind} for the place, and enter site.rain_l_s_m2.")
    why = {
        1: "more rain than that runs over an open edge",
        2: "walls and parapets shut the roof in",
        3: "walls and parapets shut the roof in above other people's rooms",
    }[kind]
    if given is None:
        says = (
            f"Nobody read the rain from the map. Category {kind} ({why}): {r:g} l/(s m²) are "
            f"taken, {r * PER_HOUR:.0f} mm an hour."
        )
        level: Level = "note" if kind == 1 else "agree"
        yield finding("rain-assumed", "roof", level, says, r, float(r), ask)
    elif kind > 1 and given < en.RAIN_150_MM_H_L_S_M2:
        by = en.RAIN_150_MM_H_L_S_M2
        says = (
            f"{given:g} l/(s m²) are entered as the rain; {why}, which is category {kind}. Where "
            f"nobody reads its map, {by:g} l/(s m²) are taken."
        )
        ask = cure(f"Check that the figure is from the map of category {kind}.")
        yield finding("rain-category", "roof", "note", says, by, given, ask)
