"""Heights: what is left under every sill, sash, threshold and flue once the roof has risen."""

from __future__ import annotations

from evenfall.model.choice import BuildUp
from evenfall.model.designed import HeightAt, Heights
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Covering, Height, Window
from evenfall.model.surveyed import Falls, Plan
from evenfall.stages.design import budget
from evenfall.standards import roofing_practice
from evenfall.working import Known, Working, formula, measured

OF_WINDOWS = {"sill": "the sill of", "sash": "the sash of"}


@formula("rise", "mm", "the height budget")
def roof_rise(build_up: float, t_cov: float) -> float:
    """Rise of the roof surface above the old covering.

    Parameters
    ----------
    build_up : float
        New build-up above the deck [mm].
    t_cov : float
        Thickness of the old covering that goes [mm].

    Returns
    -------
    float
        Rise [mm].

    Examples
    --------
    >>> roof_rise(145, 12)
    133
    """
    return build_up - t_cov


def work(
    chosen_mm: int,
    build: BuildUp,
    covering: Covering,
    heights: tuple[Height, ...],
    windows: tuple[Window, ...],
    plan: Plan,
    falls: Falls,
) -> Heights:
    """Work out the margin at every measured item.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    covering : Covering
        The old covering and how well its thickness is known [mm].
    heights, windows : tuple
        Everything that sets a ceiling [mm].
    plan, falls : Plan, Falls
        Where the items are, and what the falls add there [-].

    Returns
    -------
    Heights
        Items, the tightest first, the rise at the edge, and findings [mm].
    """
    listed = budget.items(heights, windows, plan)
    worked = [(i, _at(i, chosen_mm, build, falls, covering)) for i in listed]
    worked.sort(key=lambda pair: pair[1].margin.value)
    findings = (
        *(_finding(i, h, covering, build) for i, h in worked),
        *(_only_way(w) for w in windows if w.only_escape or w.only_airing),
    )
    edge = _edge(chosen_mm, build, covering, plan, falls)
    return Heights(tuple(h for _, h in worked), edge, findings)


def _at(
    item: budget.Item, chosen_mm: int, build: BuildUp, falls: Falls, covering: Covering
) -> HeightAt:
    margin = budget.left(item, build, chosen_mm, falls, covering)
    available, stack = (v for _, _, v in margin.of[:2])
    assert isinstance(available, Working)
    assert isinstance(stack, Working)
    room = margin.value + chosen_mm - budget.FITS
    sizes = [mm for mm in build.totals() if mm <= room]
    return HeightAt(
        item.id, item.name, item.kind, item.at, available, item.required, stack, margin,
        max(sizes, default=None), item.agreed,
    )  # fmt: skip


def _edge(chosen_mm: int, build: BuildUp, covering: Covering, plan: Plan, falls: Falls) -> Working:
    """Rise of the surface at the highest place of the edge."""
    top = max(plan.deck, key=falls.added_at)
    zero = measured(0.0, "mm", "survey")
    place = budget.Item("roof", "edge", "edge", top, zero, zero, False, "")
    t_cov = measured(covering.thickness_mm, "mm", "survey.covering.thickness_mm")
    return roof_rise.show(budget.build_up(place, build, chosen_mm, falls), t_cov)


def _finding(item: budget.Item, height: HeightAt, covering: Covering, build: BuildUp) -> Finding:
    margin, required = height.margin.value, height.required
    what = f"{OF_WINDOWS[item.kind]} {item.name}" if item.kind in OF_WINDOWS else item.name
    source, basis = required.source, required.basis
    if margin < budget.FITS:
        fits = f" {height.thickest_mm} mm is the most that fits." if height.thickest_mm else ""
        stays = required + margin
        where = f"{stays:.0f} mm above" if stays > 0 else f"{-stays:.0f} mm BELOW"
        says = (
            f"{-margin:.0f} mm short at {what}: it would be {where} the finished roof, "
            f"{required:.0f} above is asked for.{fits}"
        )
        return Finding(
            "upstand-short", item.id, "stop", says, source, basis, required + margin,
            required.value, "mm", _remedy(item, height, build),
        )  # fmt: skip
    tight = roofing_practice.MARGIN_TIGHT
    unsure = max(covering.thickness_give_or_take_mm, tight)
    if margin < unsure:
        says = (
            f"{margin:.0f} mm left at {what}, and the felt is known to ±"
            f"{covering.thickness_give_or_take_mm:.0f}. Measure again when the deck is bare."
        )
        return Finding(
            "upstand-tight", item.id, "note", says, tight.source, tight.basis, margin, unsure, "mm"
        )
    if item.agreed:
        says = f"{margin:.0f} mm left at {what}, over the {required:.0f} mm agreed in writing."
        return Finding("upstand-agreed", item.id, "note", says, source, basis, margin, 0.0, "mm")
    says = f"{margin:.0f} mm left at {what}."
    return Finding("upstand-good", item.id, "fine", says, source, basis, margin, 0.0, "mm")


def _only_way(window: Window) -> Finding:
    """Remind of a window that people depend on: it must open as wide as before."""
    use = "the only way out in a fire" if window.only_escape else "the only quick airing"
    if window.only_escape and window.only_airing:
        use += " and the only quick airing"
    says = (
        f"{window.name} is {use} of the room ({window.room}): try that it still opens fully over "
        "trims, upstand and kerb, before and after."
    )
    source = roofing_practice.WINDOW_OPENS
    return Finding(
        "only-window", f"window:{window.name}", "note", says, source.source, source.basis,
        remedy=Remedy("Open it fully with a batten held at the height of the new upstand."),
    )  # fmt: skip


def _remedy(item: budget.Item, height: HeightAt, build: BuildUp) -> Remedy:
    """Thinner board if one fits, else a drained channel at a door, else words."""
    door: Known = roofing_practice.UPSTAND_AT_DOOR
    stays = height.required + height.margin.value
    may = item.kind == "threshold" and not item.agreed and height.required > door
    if may and stays >= door + budget.FITS:
        says = (
            "A drained channel across the door, the sheet 150 up the reveals and under the frame: "
            "then 75 is enough."
        )
        return Remedy(says, (Change(f"{item.path}.drained_channel", True),))
    if height.thickest_mm is not None:
        return Remedy(
            f"Take {height.thickest_mm} mm.",
            build.take(build.boards(height.thickest_mm)),
        )
    if stays <= 0:
        return Remedy(
            "Measure it again. If it is right, raise what stands there: nobody can sign that away."
        )
    return Remedy(
        "Turn the fall round, raise what stands there, or agree the lower upstand in writing."
    )
