"""The rise stick upright beside the section at the tightest place, as the desk draws it."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.drawing import (
    NOTE,
    TEXT,
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
    Staff,
    Text,
)
from evenfall.drawing.inks import HatchName, Ink, Weight
from evenfall.flow import WorkedJob
from evenfall.model.standing import HeightAt
from evenfall.working import Working

DEPTH, WALL = 260.0, 130.0
"""How much of roof and wall is drawn, mm; only heights are to scale with the staff."""
STAFF, FOOT, OVER = -345.0, -125.0, 70.0
"""Where the staff stands, where the drawing ends below, and how far it goes on above, mm."""
APART = 15.0
"""Holes of the staff that are nearer than this are left to the table, mm."""
LETTERED = 22.0
"""Layers thinner than this carry no lettering, mm."""
FRAME, SILL = 62.0, 26.0
HATCHES: dict[str, tuple[HatchName, str]] = {
    "firring": ("wood", "firring"),
    "deck": ("wood", "deck"),
    "tapered": ("foam", "tapered board"),
    "VCL": ("solid", ""),
    "board": ("foam", "board"),
    "overlay": ("wood", "overlay"),
    "sheet": ("solid", ""),
}
UPHILL = "uphill"  # how much higher the deck lies where the item governs: no layer
INKS: dict[str, tuple[Ink, Weight]] = {"VCL": ("evening", "line"), "sheet": ("ink", "cut")}
WORDS = {"dpc": "damp course", "air_brick": "air brick", "weep": "weep holes",
         "cavity_tray": "cavity tray", "party_line": "neighbour"}  # fmt: skip
FRAMED, FREE = ("sill", "sash", "threshold"), ("cable", "flue")


def upright(worked: WorkedJob) -> Drawing:
    """Draw staff, build-up and what stands beside the roof at the tightest item.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    Drawing
        The section; heights are mm above the deck [mm].
    """
    item = worked.heights.items[0] if worked.heights.items else None
    stack = item.build_up if item else worked.heights.rise_at_edge.of[0][2]
    assert isinstance(stack, Working)
    higher = sum(float(v) for name, _, v in stack.of if name == UPHILL)
    layers = [
        Layer("deck", tuple(_deck(worked, higher))),
        Layer("build-up", tuple(_stack(worked, stack))),
        Layer("old roof", tuple(_old(worked, higher))),
    ]
    if item:
        layers[:0] = [Layer("beside", tuple(_beside(item)))]
        layers += [Layer("room", tuple(_room(item)))]
    layers += [Layer("rise stick", (_staff(worked, item, stack.value),))]
    place = item.name.replace("-", " ") if item else "the edge"
    return Drawing(f"The rise stick at {place}", _alt(item, stack), tuple(layers))


def _alt(item: HeightAt | None, stack: Working) -> str:
    says = f"The sheet lies {stack.value:.0f} mm above the deck."
    if item is None:
        return f"{says} Nothing stands beside the roof."
    left = item.margin.value
    room = f"{left:.0f} mm are left" if left >= 0 else f"it is {-left:.0f} mm too high"
    return (
        f"{says} {_word(item)} at {item.available.value:.0f} mm, {item.required:.0f} mm of upstand "
        f"asked for: {room}."
    )


def _word(item: HeightAt) -> str:
    return WORDS.get(item.kind, item.kind)


def _band(x0: float, z0: float, x1: float, z1: float, hatch: HatchName) -> Area:
    return Area((Box(x0, z0, x1, z1).ring,), hatch, weight="thin")


def _deck(worked: WorkedJob, z: float) -> Iterator[Item]:
    survey = worked.case.job.survey
    top = z - survey.deck.thickness_mm
    if not worked.falls.lifts_deck:
        yield _band(-DEPTH, top, 0, z, "wood")
    wide = survey.joists.width_mm / 2
    middle = -DEPTH / 2
    yield _band(middle - wide, FOOT, middle + wide, top, "wood")
    yield Break((middle - wide - 12, FOOT), (middle + wide + 12, FOOT))


def _laid(worked: WorkedJob, stack: Working) -> list[tuple[str, float]]:
    """Give the layers in the order in which they lie: deck on firrings, tapered boards on VCL."""
    laid = [(name, float(v)) for name, _, v in stack.of if name != UPHILL]
    added = [thickness for name, thickness in laid if name == "firring"]
    rest = [layer for layer in laid if layer[0] != "firring"]
    if worked.falls.lifts_deck:
        deck = worked.case.job.survey.deck.thickness_mm
        return [("firring", sum(added)), ("deck", deck), *rest]
    return [rest[0], ("tapered", sum(added)), *rest[1:]]


def _stack(worked: WorkedJob, stack: Working) -> Iterator[Item]:
    """Draw the layers one on another, each with its name where it is thick enough."""
    layers = _laid(worked, stack)
    z = sum(float(v) for name, _, v in stack.of if name == UPHILL)
    z -= sum(thickness for name, thickness in layers if name == "deck")
    for name, thickness in layers:
        hatch, word = HATCHES[name]
        top = z + thickness
        if hatch == "solid":
            yield Line(((-DEPTH, top), (0, top)), *INKS[name])
        elif top > z:
            yield _band(-DEPTH, z, 0, top, hatch)
        if word and top - z > LETTERED:
            told = f"{word} {thickness:.0f}"
            size = TEXT if name == "board" else TICK
            yield Text(-DEPTH / 2, (z + top) / 2, told, size, bold=name == "board")
        z = top
    yield Text(-DEPTH, z, f"sheet {z:.0f}", NOTE, "start", bold=True, shift=(6, 14))
    yield Break((-DEPTH, z + 24), (-DEPTH, -60))


def _old(worked: WorkedJob, z: float) -> Iterator[Item]:
    felt = z + worked.case.job.survey.covering.thickness_mm
    yield Line(((STAFF, felt), (0, felt)), "pencil", "thin", "before")
    yield Text(STAFF, felt, "old felt", TICK, "start", "pencil", shift=(18, -12))


def _beside(item: HeightAt) -> Iterator[Item]:
    """Draw what stands beside the roof; a frame stands on its wall, other things in it."""
    height = item.available.value
    if item.kind in FREE:
        yield from _free(item.kind, height)
        return
    top = height if item.kind in FRAMED else height + OVER
    yield Area((Box(0, FOOT, WALL, top).ring,), "wall", weight=None)
    yield Line(((0, FOOT), (0, top)), weight="cut")
    yield Break((0, FOOT), (WALL, FOOT))
    if item.kind not in FRAMED:
        yield Break((0, top), (WALL, top))
        yield Line(((0, height), (WALL, height)), weight="cut")
        return
    yield _band(-18, height, WALL, height + SILL, "plain")
    yield _band(24, height + SILL, 24 + FRAME, height + OVER, "wood")
    yield Break((12, height + OVER), (36 + FRAME, height + OVER))


def _free(kind: str, height: float) -> Iterator[Item]:
    if kind == "flue":
        for x in (20.0, 100.0):
            yield Line(((x, FOOT), (x, height)), weight="line")
        yield Line(((4, height), (116, height)), weight="cut")
        return
    yield Circle(WALL / 2, height, 14, weight="line", fill="sheet")
    yield Line(((0, height), (WALL / 2 - 14, height)), "ink", "thin", "before")


def _room(item: HeightAt) -> Iterator[Item]:
    """Draw the line that must not be passed, the upstand, and what is left between them."""
    height, top, left = item.available.value, item.build_up.value, item.margin.value
    must = top + item.required
    yield Line(((-DEPTH, height), (0, height)), "ink", "line", "limit")
    yield Text(-DEPTH, height, f"{_word(item)} {height:.0f}", NOTE, "start", bold=True,
               shift=(6, 13))  # fmt: skip
    if item.kind not in FREE:
        yield Line(((0, top), (0, must)), "ink", "night")
    yield Dimension((-40, must), (-40, top), f"{item.required:.0f}", 0.0, "worked", TICK)
    told = f"{left:.0f} left" if left >= 0 else f"{-left:.0f} too high"
    ink: Ink = "ink" if left >= APART else "chalk"
    yield Line(((-60, must), (0, must)), ink, "thin")
    if abs(left) > 1:
        yield Line(((-14, must), (-14, height)), ink, "cut" if ink == "chalk" else "thin")
    yield Text(0, max(must, height), told, NOTE, "end", ink, bold=True, shift=(-26, 13))


def _staff(worked: WorkedJob, item: HeightAt | None, level: float) -> Staff:
    """Stand the staff: a hole for each surface that boards on sale would give."""
    base = level - worked.rise.chosen_mm
    holes = [level]
    for row in sorted(worked.rise.rows, key=lambda r: abs(r.thickness_mm - worked.rise.chosen_mm)):
        if all(abs(base + row.thickness_mm - h) >= APART for h in holes):
            holes.append(base + row.thickness_mm)
    limit = item.available.value - item.required if item else None
    return Staff(STAFF, 0, max(holes) + OVER / 2, tuple(holes[1:]), level, limit)
