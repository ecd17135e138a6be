"""The drawings of the desk by name, each drawn for the room that the page has for it."""

from __future__ import annotations

from dataclasses import replace

from evenfall.drawing import Dimension, Drawing, Group, Item, Label, Layer, Mark, to_svg
from evenfall.drawing.crowded import eased, size_in
from evenfall.errors import InvalidInput
from evenfall.flow import DRAWINGS, DRAWN_OF, LEAVES, WorkedJob

WIDE = 660
"""Width where none is asked, px."""
NARROW = 480
"""A plan narrower than this leaves out what the lists below it say, px."""
LEAST, MOST, SMALLEST = 240, 1400, 80
"""Widths that are drawn, px; one that is asked outside of them is drawn at the nearest. An evening
may be as narrow as the last."""
MARKS, TAPES = "chalk marks", "tapes"
NAMES = "names"
WIDE_ONLY = (NAMES, "heights")
"""Layers of the plan that a phone does without."""
LEAF = "leaf-"
"""How the name of a tracing sheet begins."""
PARTED = "@"
"""Between the name of a drawing and what it is asked of: ``edge@side:A-B``, ``leaf-tonight@2``."""
_STYLE = ' style="font-variant-numeric:tabular-nums lining-nums"'


def draw(worked: WorkedJob, name: str, width: float = WIDE, height: float | None = None) -> str:
    """Draw one drawing of the desk in the inks of the page.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    name : str
        A tracing sheet such as ``leaf-tonight@2``, ``evening@2``, ``section@A-B``,
        ``edge@side:A-B``, or a drawing of the papers [-].
    width, height : float
        Room on the page; without a height it is as high as it needs [px].

    Returns
    -------
    str
        SVG [-].

    Raises
    ------
    InvalidInput
        There is no drawing of that name, or this job has nothing to draw there.
    """
    stem, _, of = name.partition(PARTED)
    wide = min(max(width, SMALLEST if stem == "evening" else LEAST), MOST)
    leaf = stem.removeprefix(LEAF)
    drawings = _drawings(worked, leaf, of, leaf != stem)
    prefix = "".join(c if c.isalnum() else "-" for c in name)
    if leaf != stem:
        return _leaf(drawings[0], wide, height, prefix)
    if stem == "section":
        drawings = tuple(_unlettered(d) for d in drawings)
    return "".join(_svg(d, wide, height, f"{prefix}-{n}") for n, d in enumerate(drawings))


def _drawings(worked: WorkedJob, stem: str, of: str, leaf: bool) -> tuple[Drawing, ...]:
    made = None
    if stem in DRAWN_OF and leaf is (stem in LEAVES) and _known(worked, stem, of):
        made = DRAWN_OF[stem](worked, of)
    elif stem in DRAWINGS and not of and not leaf:
        made = DRAWINGS[stem](worked)
    if made is None:
        raise InvalidInput(
            f'"{stem}{PARTED if of else ""}{of}"',
            f"a drawing of this job: {', '.join((*(LEAF + x for x in LEAVES), *DRAWINGS))}",
            where="drawing",
        )
    return made if isinstance(made, tuple) else (made,)


def _known(worked: WorkedJob, stem: str, of: str) -> bool:
    """Tell whether the job has what is asked for."""
    if stem in LEAVES:
        return of.isdigit() or not of
    known = {
        "evening": {f"{d.number}" for d in worked.programme.days},
        "section": {s.name for s in worked.plan.sides},
        "edge": {d.id for d in worked.edge_details.details},
    }
    return of in known[stem]


def _unlettered(drawing: Drawing) -> Drawing:
    """Leave out the column of names beside a section; the page says them under it."""
    layers = tuple(layer for layer in drawing.layers if layer.name != NAMES)
    return replace(drawing, layers=layers)


def _leaf(drawing: Drawing, width: float, height: float | None, prefix: str) -> str:
    """Draw a tracing sheet; for a phone what has no room there stands in the lists below it."""
    if width < NARROW:
        layers = tuple(_light(layer) for layer in drawing.layers if layer.name not in WIDE_ONLY)
        drawing = replace(drawing, layers=layers)
    return _svg(eased(drawing, size_in(drawing, width, height)), width, height, prefix)


def _light(layer: Layer) -> Layer:
    """Leave the marks out that only note something; inside the roof, a number without its line."""
    if layer.name == TAPES:
        return replace(layer, items=tuple(_number(i) for i in layer.items))
    if layer.name != MARKS:
        return layer
    kept = (g for g in layer.items if isinstance(g, Group) and not _notes(g))
    return replace(layer, items=tuple(kept))


def _number(item: Item) -> Item:
    """Let the number of a dimension inside the roof find its own place."""
    line = item.items[0] if isinstance(item, Group) else None
    if not isinstance(item, Group) or not isinstance(line, Dimension) or line.offset > 0:
        return item
    x, y = (line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2
    return replace(item, items=(Label(x, y, line.text, bold=True, seat="beside"),))


def _notes(group: Group) -> bool:
    return all(isinstance(mark, Mark) and mark.kind == "note" for mark in group.items)


def _svg(drawing: Drawing, width: float, height: float | None, prefix: str) -> str:
    """Write a drawing in the inks of the page; its figures are told by the style sheet."""
    return to_svg(drawing, width, "css", height_px=height, prefix=prefix).replace(_STYLE, "", 1)
