"""Windows beside the roof: which ones it stops or passes, and all that can be done about each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from evenfall.errors import InvalidInput
from evenfall.model.choice import BuildUp
from evenfall.model.finding import Change, Finding, Level, Remedy
from evenfall.model.job import Window
from evenfall.model.rates import WindowWork
from evenfall.model.standing import (
    SLACK_MM,
    HeightAt,
    Heights,
    WindowAt,
    Windows,
    WindowWay,
    ZoneOffer,
)
from evenfall.model.taken_off import OrderLine
from evenfall.stages.design.heights import turning
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import roofing_practice
from evenfall.working import Basis, Working, formula, measured

STEP_MM = 5  # a new sill is ordered to the next five millimetres up
SHUT = ("fix_glass", "fix_shut")
SWINGING = ("leave", "raise_sill")
CLOSES = {
    "leave": "under the sill: the sheet up the wall, its top under the sill and sealed",
    "raise_sill": "under the new sill: the sheet up the made-up wall, its top under the sill",
    "rehang": "under the sill as it is; the sash opens inwards, clear of the roof",
    "fix_glass": "against the fixed frame: the sheet up to the bottom rail, a cover bead over it",
    "fix_shut": "against the sash screwed shut: the sheet up to its bottom rail, a bead over it",
}


@formula("cost", "pence", "the rates: by the window and by its width")
def window_cost(each: float, metre: float, width: float) -> float:
    """Cost of dealing with a window.

    Parameters
    ----------
    each : float
        Price of one [pence].
    metre : float
        Price of a metre of its width [pence/m].
    width : float
        Width of the window [m].

    Returns
    -------
    float
        Cost, to the whole penny [pence].

    Examples
    --------
    >>> window_cost(58500, 47200, 1.02)
    106644
    """
    return round(each + metre * width)


@dataclass(frozen=True, slots=True)
class Choice:
    """What the boards leave open: thickness taken, and what would be warm enough."""

    build: BuildUp
    warm_mm: tuple[int, ...]  # even thicknesses that reach the target
    offer: ZoneOffer | None


def work(
    windows: tuple[Window, ...],
    heights: Heights,
    choice: Choice,
    works: tuple[WindowWork, ...],
    basis: Basis,
    on: date,
    start_on: date,
) -> Windows:
    """Work out what happens to each window, and what can be done about it.

    Parameters
    ----------
    windows : tuple of Window
        Windows as measured, with what was chosen for them [mm].
    heights : Heights
        The height budget, with sill and sash of each [mm].
    choice : Choice
        Boards and zones that would do [-].
    works : tuple of WindowWork
        What is done with windows, from the rates [pence].
    basis : str
        Basis of the rates [-].
    on, start_on : date
        Today, and the first day of the work [-].

    Returns
    -------
    Windows
        Each window, what is ordered, and findings [-].

    Raises
    ------
    InvalidInput
        A treatment was chosen that the rates do not have.
    """
    if not windows:
        return Windows(why_empty="No window stands beside this roof.")
    at = {h.id: h for h in heights.items}
    rates: dict[str, WindowWork] = {w.name: w for w in works}
    found, order, told = [], [], list[Finding]()
    for window in windows:
        sill, sash = at[f"window:{window.name}"], at.get(f"sash:{window.name}")
        one = _one(window, sill, sash, choice, rates, basis)
        found.append(one)
        if one.cost is not None:
            order.append(_line(window, rates, basis))
        told.extend(_findings(window, one, sill, sash, heights, on, start_on))
    return Windows(tuple(found), tuple(order), "", tuple(told))


def _one(
    window: Window,
    sill: HeightAt,
    sash: HeightAt | None,
    choice: Choice,
    rates: dict[str, WindowWork],
    basis: Basis,
) -> WindowAt:
    chosen = _rate(window, rates) if window.treatment != "leave" else None
    ways = tuple(_ways(window, sill, sash, choice, rates, basis))
    return WindowAt(
        sill.id, window.name, sill.at, window.treatment, sill.stays_mm, float(sill.required),
        sash.stays_mm if sash else None, float(sash.required) if sash else 0.0,
        CLOSES[window.treatment], ways, _cost(window, chosen, basis) if chosen else None,
        chosen.lead_days if chosen else 0,
    )  # fmt: skip


def _rate(window: Window, rates: dict[str, WindowWork]) -> WindowWork:
    if window.treatment not in rates:
        raise InvalidInput(
            f"{window.treatment} for {window.name}", f"one of the rates: {', '.join(rates)}",
            where=f"survey.windows[{window.name}].treatment",
            do="add it to windows in the rates, with its price and lead time",
        )  # fmt: skip
    return rates[window.treatment]


def _cost(window: Window, work: WindowWork, basis: Basis) -> Working:
    where = f"the rates: windows[{work.name}]"
    return window_cost.show(
        measured(work.price_pence, "pence", f"{where}.price_pence", basis),
        measured(work.price_pence_m, "pence/m", f"{where}.price_pence_m", basis),
        measured(window.width_m, "m", f"survey.windows[{window.name}].width_m"),
    )


def _line(window: Window, rates: dict[str, WindowWork], basis: Basis) -> OrderLine:
    work = rates[window.treatment]
    width = measured(window.width_m, "m", f"survey.windows[{window.name}].width_m")
    need = Working("Windows dealt with so", "n", "each", "the job", 1.0,
                   (("width", "m", width),), "one window, by its width")  # fmt: skip
    says = f"{work.says}: {window.name}, {window.width_m:.2f} m wide"
    return OrderLine(
        f"window:{window.treatment}:{window.name}", says, need, "each",
        ((1, window.width_m, "made to measure"),), 1.0, basis, f"allow {work.lead_days} days",
    )  # fmt: skip


# --- what can be done ----------------------------------------------------------------------------


def _ways(
    window: Window,
    sill: HeightAt,
    sash: HeightAt | None,
    choice: Choice,
    rates: dict[str, WindowWork],
    basis: Basis,
) -> Iterator[WindowWay]:
    """Every way that clears the window, the one that changes least of it first."""
    low = [h for h in (sill, sash) if h is not None and h.margin.value < -SLACK_MM]
    if not low:
        return
    path = f"survey.windows[{window.name}]"
    yield from _boards(low, choice)
    if low == [sash] and "rehang" in rates:
        yield _way(window, rates["rehang"], basis, (Change(f"{path}.treatment", "rehang"),))
    if "raise_sill" in rates:
        lift = max(-h.margin.value for h in low)
        new = _new_sill(window, lift)
        changes: tuple[Change, ...] = (Change(f"{path}.treatment", "raise_sill"),
                   Change(f"{path}.new_sill_above_covering_mm", new))  # fmt: skip
        if window.treatment not in SWINGING:
            changes = ()  # its sash would swing over the roof again: to be measured anew
        says = f"{rates['raise_sill'].says}: {new - _sill_now(window):.0f} mm higher than now"
        yield _way(window, rates["raise_sill"], basis, changes, says)
    if "fix_glass" in rates and window.treatment != "fix_glass":
        yield _glass(window, sill, rates["fix_glass"], basis, path)


def _sill_now(window: Window) -> float:
    if window.treatment != "leave" and window.new_sill_above_covering_mm is not None:
        return window.new_sill_above_covering_mm
    return window.sill_above_covering_mm


def _new_sill(window: Window, lift_mm: float) -> float:
    """Height of a new sill that is high enough, above the old covering."""
    high = _sill_now(window) + lift_mm
    return float(ceil(round(high / STEP_MM, 6)) * STEP_MM)


def _boards(low: list[HeightAt], choice: Choice) -> Iterator[WindowWay]:
    """Offer a thinner zone, or a thinner board all over; warm enough ones first."""
    if choice.offer is not None:
        says = f"A thinner zone: {choice.offer.says}"
        yield WindowWay("thin_zone", says, None, 0, choice.offer.changes)
    fits = [h.thickest_mm for h in low]
    if None in fits:
        return
    most = min(mm for mm in fits if mm is not None)
    warm = "" if most in choice.warm_mm else ", too cold for what is asked"
    yield WindowWay(
        "thin_board" if not warm else "cold_board", f"Boards of {most} mm all over{warm}", None, 0,
        (*choice.build.take(choice.build.boards(most)), Change("design.thin_zones", [])),
    )  # fmt: skip


def _way(
    window: Window,
    work: WindowWork,
    basis: Basis,
    changes: tuple[Change, ...],
    says: str = "",
) -> WindowWay:
    return WindowWay(work.name, says or work.says, _cost(window, work, basis), work.lead_days,
                     changes)  # fmt: skip


def _glass(window: Window, sill: HeightAt, work: WindowWork, basis: Basis, path: str) -> WindowWay:
    """Offer fixed glass: only where what the sash was for has been answered."""
    says = work.says
    changes: tuple[Change, ...] = (Change(f"{path}.treatment", "fix_glass"),)
    if sill.margin.value < -SLACK_MM:
        new = _new_sill(window, -sill.margin.value)
        changes += (Change(f"{path}.new_sill_above_covering_mm", new),)
        says += f", its lower {new - _sill_now(window):.0f} mm a closed panel"
    if not _answered(window):
        says += "; first say what else people get out by (escape_by) and what airs the room "
        says += "(airing_by)"
        changes = ()
    return _way(window, work, basis, changes, says)


def _answered(window: Window) -> bool:
    return bool(window.escape_by and window.airing_by)


# --- findings ------------------------------------------------------------------------------------

FIRST = ("thin_zone", "thin_board", "rehang", "cold_board", "raise_sill")
"""Which way a remedy takes, the first that there is; a window is never fixed shut by default."""


def _findings(
    window: Window,
    one: WindowAt,
    sill: HeightAt,
    sash: HeightAt | None,
    heights: Heights,
    on: date,
    start_on: date,
) -> Iterator[Finding]:
    if one.held:
        yield _held(one, sill, sash, heights)
    if window.treatment in SHUT:
        yield from _shut(window)
    if window.treatment != "leave" and one.cost is not None:
        yield _treated(window, one, on, start_on)
    if (window.only_escape or window.only_airing) and window.treatment not in SHUT:
        yield _only_way(window)


def _held(one: WindowAt, sill: HeightAt, sash: HeightAt | None, heights: Heights) -> Finding:
    """Hold the job until the window is dealt with, or a lower upstand is agreed in writing."""
    told = []
    if sill.margin.value < -SLACK_MM:
        place = (
            f"its sill is {sill.stays_mm:.0f} mm above the finished roof"
            if sill.stays_mm > 0
            else f"the finished roof passes its sill by {-sill.stays_mm:.0f} mm"
        )
        told.append(f"{place}, {sill.required:.0f} asked for ({-sill.margin.value:.0f} short)")
    if sash is not None and sash.margin.value < -SLACK_MM:
        stays = sash.stays_mm
        place = (
            f"its sash would clear the roof by {stays:.0f} mm"
            if stays > 0
            else f"its sash meets the roof, {-stays:.0f} mm too low to open"
        )
        told.append(f"{place}, {sash.required:.0f} asked for")
    ways = [_priced(w) for w in one.ways]
    turned = heights.turned[0] if heights.turned else None
    if turned and turned.thickest_mm > min(h.room.value for h in heights.items) + 1:
        ways.append(turning(turned).rstrip("."))
    says = f"{one.name} holds the job: {' and '.join(told)}. Ways out: {'; '.join(ways)}."
    worst = sill if sash is None or sill.margin.value <= sash.margin.value else sash
    by = worst.required
    return Finding(
        "window-held", one.id, "stop", says, by.source, by.basis, worst.stays_mm, float(by), "mm",
        _first(one),
    )  # fmt: skip


def _priced(way: WindowWay) -> str:
    if way.cost is None:
        return way.says
    return f"{way.says} (about £{way.cost.value / 100:,.0f}, {way.lead_days} days)"


def _first(one: WindowAt) -> Remedy:
    for key in FIRST:
        for way in one.ways:
            if way.key == key and way.changes:
                return Remedy(f"{way.says}.", way.changes)
    return Remedy("Deal with the window, or agree a lower upstand in writing and enter it.")


def _shut(window: Window) -> Iterator[Finding]:
    """Stop a window from being fixed before two questions are answered."""
    by, subject = roofing_practice.WINDOW_ANSWERED, f"window:{window.name}"
    asked = [
        *(["what else people get out by in a fire (escape_by)"] if not window.escape_by else []),
        *(["what else airs the room (airing_by)"] if not window.airing_by else []),
    ]
    if asked:
        says = (
            f"{window.name} is not to open again, and nobody has said {' or '.join(asked)}. "
            f"Until then it stays a window of the {window.room} that opens."
        )
        path = f"survey.windows[{window.name}].treatment"
        back = cure("Answer that in the job, or leave the window opening.", (path, "leave"))
        yield finding("window-shut", subject, "stop", says, by, float(2 - len(asked)), back)
    else:
        level: Level = "agree" if window.only_escape or window.only_airing else "note"
        says = (
            f"{window.name} will not open again. Out of the {window.room} one gets by: "
            f"{window.escape_by}. It is aired by: {window.airing_by}."
        )
        ask = cure("Have the client, and building control, agree it in writing.")
        remedy = ask if level == "agree" else None
        yield finding("window-fixed", subject, level, says, by, 2.0, remedy)


def _treated(window: Window, one: WindowAt, on: date, start_on: date) -> Finding:
    """Tell cost and lead time, and whether it comes before the work starts."""
    assert one.cost is not None
    ready = on + timedelta(days=one.lead_days)
    source, cost = "the rates", one.cost
    what = f"{window.name}: about £{cost.value / 100:,.0f}, {one.lead_days} days to get"
    if ready > start_on:
        says = f"{what}; ordered today it comes on {ready:%d %b %Y}, after the work starts."
        later = Remedy(
            f"Start on {ready:%d %b %Y}, or later.",
            (Change("calendar.start_on", ready.isoformat()),),
        )
        return Finding("window-late", one.id, "agree", says, source, cost.basis,
                       one.lead_days, (start_on - on).days, "d", later)  # fmt: skip
    last = start_on - timedelta(days=one.lead_days)
    says = f"{what}; order it by {last:%d %b %Y}. It is in before the sheet is turned up there."
    return Finding("window-treated", one.id, "note", says, source, cost.basis,
                   one.lead_days, (start_on - on).days, "d")  # fmt: skip


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
