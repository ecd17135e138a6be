"""The section at a window, before and after: sill, sash, and how the sheet closes against it."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Box,
    Break,
    Circle,
    Dimension,
    Drawing,
    Item,
    Layer,
    Line,
    Text,
)
from evenfall.drawing.inks import Ink
from evenfall.model.standing import HeightAt, WindowAt
from evenfall.stages.papers.drawn_beside import part
from evenfall.stages.papers.section_parts import CAP, REVEAL
from evenfall.stages.papers.stacked import drawn_stack, pile
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

DEEP = 330.0  # how much of the roof stands before the wall, mm
WALL = 170.0  # how thick the wall is drawn; nobody measured it
APART = 200.0  # room between before and after, for their lettering, mm
OVER = 230.0  # how much of a window is drawn above its sill, mm
UNDER = 150.0  # how far the wall reaches below the deck, mm
NOSE = 22.0  # how far a sill stands out, mm
LEAF = 34.0  # how thick a sash is drawn, mm
BEAD = 11.0  # radius of the sealant as drawn, mm
UP = 12  # how far lettering stands over its line, paper units
FIXED = ("fix_glass", "fix_shut")
LETTERS = 22  # most letters in a line beside the section
SCALE = 10.0  # sections are printed at one to ten


def shown(worked: WorkedRoof) -> WindowAt | None:
    """Pick the window that is drawn: one that holds the job, one dealt with, else the lowest.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    WindowAt or None
        None where no window stands beside the roof [-].
    """
    windows = worked.windows.windows
    first = sorted(windows, key=lambda w: (not w.held, w.treatment == "leave", w.sill_mm))
    return first[0] if first else None


def draw_window_section(worked: WorkedRoof) -> Drawing | None:
    """Draw the section at a window as it was found and as it will stand.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        Before on the left, after on the right; None where no window stands beside the roof [mm].
    """
    window = shown(worked)
    return None if window is None else draw_window(worked, window)


def draw_window(worked: WorkedRoof, window: WindowAt, scale: float = SCALE) -> Drawing:
    """Draw the section at one window as it was found and as it will stand.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    window : WindowAt
        The window [mm].
    scale : float
        The n of 1:n [-].

    Returns
    -------
    Drawing
        Before on the left, after on the right [mm].
    """
    at = {h.id: h for h in worked.heights.items}
    sill, sash = at[window.id], at.get(f"sash:{window.name}")
    right = DEEP + WALL + APART + DEEP  # face of the wall after
    layers = (
        Layer("before", tuple(_before(worked, window, 0.0))),
        Layer("after", tuple(_after(worked, window, sill, right))),
        Layer("measures", tuple(_measures(window, sill, sash, right))),
    )
    stays = window.sill_mm
    where = f"{stays:.0f} mm above" if stays >= 0 else f"{-stays:.0f} mm below"
    alt = (
        f"Section at {spoken(window.name)}, before and after. After, the sill is {where} the "
        f"finished roof, {window.sill_asked_mm:.0f} asked for. It closes {window.closes}."
    )
    return Drawing(f"Section at {spoken(window.name)}, before and after", alt, layers, scale)


def _before(worked: WorkedRoof, window: WindowAt, x: float) -> Iterator[Item]:
    survey = worked.case.job.survey
    found = next(w for w in survey.windows if w.name == window.name)
    felt = survey.covering.thickness_mm
    yield from _deck(worked, x, 0.0)
    yield Area((Box(x - DEEP, 0.0, x, felt).ring,), "felt", weight="thin")
    height = felt + found.sill_above_covering_mm
    yield from _wall(worked, x, height)
    yield from _frame(x, height, felt + found.sash_above_covering_mm, found.opens == "outwards")
    yield Dimension((x - CAP, height), (x - CAP, felt), f"{height - felt:.0f}", 0.0, "taped", TICK)
    yield Text(x - DEEP, felt, "old felt", TICK, "start", "pencil", shift=(4, UP))
    yield Text(x - DEEP / 2, -_low(worked), "before", NOTE, bold=True, shift=(0, -UP))


def _low(worked: WorkedRoof) -> float:
    return worked.case.job.survey.deck.thickness_mm + UNDER / 2


def _deck(worked: WorkedRoof, x: float, top: float) -> Iterator[Item]:
    deck = worked.case.job.survey.deck.thickness_mm
    yield Area((Box(x - DEEP, top - deck, x, top).ring,), "wood", weight="line")


def _wall(worked: WorkedRoof, x: float, head: float) -> Iterator[Item]:
    foot = -worked.case.job.survey.deck.thickness_mm - UNDER
    yield Area((Box(x, foot, x + WALL, head).ring,), "wall", weight="line")
    yield Break((x - CAP, foot), (x + WALL + CAP, foot))


def _frame(x: float, sill: float, sash: float, swings: bool, fixed: bool = False) -> Iterator[Item]:
    """Draw sill, frame and glass; a leaf that swings stands before the frame, ajar."""
    yield Area((Box(x - NOSE, sill, x + REVEAL, sill + CAP).ring,), "plain", weight="line")
    rail = max(sash, sill + CAP)
    yield Area((Box(x + CAP / 2, sill + CAP, x + REVEAL, rail + CAP).ring,), "wood", weight="line")
    top = sill + OVER
    glass = x + REVEAL / 2
    for pane in (glass - CAP / 6, glass + CAP / 6):
        yield Line(((pane, rail + CAP), (pane, top)), "ink", "thin")
    if swings and not fixed:
        out = ((x - LEAF, sash), (x, sash), (x, top), (x - LEAF, top))
        yield Area((out,), "none", "ink", "thin", "before")
    yield Break((x - CAP, top), (x + WALL / 2, top))


def _after(worked: WorkedRoof, window: WindowAt, sill: HeightAt, x: float) -> Iterator[Item]:
    base, boards = part(sill, "uphill"), part(sill, "board")
    added = part(sill, "firring")
    stack = pile(worked, added, added, base, boards)
    if not stack.lifts_deck:
        yield from _deck(worked, x, base)
    yield from drawn_stack(stack, x - DEEP, x)
    for course, (_, low), (_, high) in stack.rows:
        if high - low > CAP:
            yield Text(
                x - DEEP / 2, (low + high) / 2, course.says, TICK, bold=course.name == "board"
            )
    height, top = sill.available.value, sill.build_up.value
    yield from _wall(worked, x, height)
    fixed = window.treatment in FIXED
    swings = window.sash_mm is not None
    sash = top + window.sash_mm if window.sash_mm is not None else height + CAP
    yield from _frame(x, height, sash, swings, fixed)
    yield from _closing(x, top, height, fixed)
    yield Text(x - DEEP / 2, -_low(worked), "after", NOTE, bold=True, shift=(0, -UP))


def _closing(x: float, top: float, sill: float, fixed: bool) -> Iterator[Item]:
    """Turn the sheet up the wall: its end under the sill, or behind a bead on a fixed frame."""
    if top >= sill:  # buried: there is nothing to close against
        yield Line(((x, top), (x, top + CAP)), "chalk", "cut")
        return
    if fixed:
        end = sill + 2 * CAP
        yield Line(((x, top), (x, sill), (x - NOSE, sill), (x - NOSE, sill + CAP),
                    (x + CAP / 2, sill + CAP), (x + CAP / 2, end)), "ink", "cut")  # fmt: skip
        yield Circle(x + CAP / 2, end, BEAD, "ink", "line", "pencil")
        return
    yield Line(((x, top), (x, sill), (x - NOSE + BEAD, sill)), "ink", "cut")
    yield Circle(x - BEAD, sill - BEAD, BEAD, "ink", "line", "pencil")


def _measures(window: WindowAt, sill: HeightAt, sash: HeightAt | None, x: float) -> Iterator[Item]:
    """Measure what stays under sill and sash, and say how the sheet closes."""
    top, height = sill.build_up.value, sill.available.value
    left = sill.margin.value
    ink: Ink = "chalk" if window.held else "ink"
    if abs(height - top) > 1:
        yield Dimension((x - 2 * CAP, max(height, top)), (x - 2 * CAP, min(height, top)),
                        f"{abs(window.sill_mm):.0f}", 0.0, "worked", TICK, ink)  # fmt: skip
    yield Line(((x - DEEP, top + sill.required), (x, top + sill.required)), ink, "line", "limit")
    room = f"{left:.0f} left over {sill.required:.0f}" if left >= 0 else f"{-left:.0f} short"
    if window.sill_mm < 0:
        room = f"roof passes the sill by {-window.sill_mm:.0f}"
    yield Text(x - DEEP, max(height, top + sill.required), room, NOTE, "start", ink, bold=True,
               shift=(0, UP))  # fmt: skip
    lines = [f"sill {height:.0f}"]
    if sash is not None:
        stops = sash.margin.value < 0
        lines.append(f"sash clears {sash.stays_mm:.0f}" if sash.stays_mm >= 0 else
                     f"sash stopped, {-sash.stays_mm:.0f} low")  # fmt: skip
        lines[-1] += f", {sash.required:.0f} asked" if stops else ""
    lines += _wrapped(window.closes)
    yield Text(x + WALL + CAP, height, "\n".join(lines), TICK, "start")


def _wrapped(words: str, most: int = LETTERS) -> list[str]:
    """Break words into short lines."""
    lines = [""]
    for word in words.split():
        if len(lines[-1]) + len(word) >= most:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines
