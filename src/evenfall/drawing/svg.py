"""The one SVG writer: the same drawing gives the same text, to the letter.

What a drawing says without a page stands in presentation attributes; the classes (``ink-chalk``,
``w-cut``, ``d-limit``, ``hatch-felt``) let a page say it anew. Lettering keeps its size in px.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape
from itertools import groupby, pairwise

from evenfall.drawing.inks import (
    DASHES,
    HATCHES,
    LEADING,
    LETTERING,
    LIGHTS,
    Dash,
    HatchName,
    Ink,
    Light,
    LightName,
    Weight,
    plain,
    text_width,
)
from evenfall.drawing.layout import Laid, lay_out
from evenfall.drawing.sheet import Area, Circle, Drawing, Group, Item, Line, Point, Ring, Text

_CAPS = 0.33  # half the height of a capital, in sizes
HALO = 0.5
"""Width of the ground stroke round lettering, in sizes: a quarter on each side clears hatches."""


def to_svg(
    drawing: Drawing,
    width_px: float | None = None,
    light: LightName = "paper",
    *,
    height_px: float | None = None,
    prefix: str = "",
    live: bool = False,
) -> str:
    """Write a drawing as SVG.

    Parameters
    ----------
    drawing : Drawing
        The drawing [mm].
    width_px : float or None
        Width of the sheet; with no size at all the drawing's own scale is kept [px].
    light : str
        ``paper`` for the screen, ``print`` for paper, ``css`` to follow the page's style sheet [-].
    height_px : float or None
        Height of the sheet [px].
    prefix : str
        What the ids begin with; one of its own for each drawing of a page is made otherwise [-].
    live : bool
        Whether groups are stops of the keyboard [-].

    Returns
    -------
    str
        One ``<svg>`` element, no taller or wider than asked unless its signs need more [-].

    Examples
    --------
    >>> from evenfall.drawing.sheet import Layer
    >>> edge = Layer("roof outline", (Line(((0, 0), (6000, 0), (6000, 3000)), weight="cut"),))
    >>> text = to_svg(Drawing("Edge", "Two edges of a roof", (edge,)), 306)
    >>> text[text.index("<path"):text.index("</g>")]
    '<path class="ink-ink w-cut" d="M3 153H303V3" fill="none" stroke="#15212B" stroke-width="3.5"/>'
    """
    laid = lay_out(drawing, light, width_px, height_px)
    page = _Page(laid, LIGHTS[light], prefix or _own(drawing, laid, light), live)
    body = page.body()
    return page.opening(drawing) + page.patterns(body) + body + "</svg>"


def _own(drawing: Drawing, laid: Laid, light: str) -> str:
    """Return a prefix that two different drawings do not share."""
    told = repr((drawing, laid.view, light)).encode()
    return "d" + hashlib.sha256(told).hexdigest()[:8]


def _n(value: float) -> str:
    """Write a number of px: two decimals at most, no minus nought."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _told(text: str) -> str:
    return escape(plain(text), quote=False)


def _attributes(pairs: Iterable[tuple[str, str]]) -> str:
    return "".join(f' {k}="{escape(plain(v))}"' for k, v in pairs if v)


@dataclass(frozen=True, slots=True)
class _Page:
    """One sheet being written."""

    laid: Laid
    light: Light
    prefix: str
    live: bool

    # --- head ---

    def opening(self, drawing: Drawing) -> str:
        """Return the head: size, words, family of lettering."""
        w, h = (_n(v) for v in self.laid.size_px)
        family = ", ".join(f"'{f}'" if " " in f else f for f in LETTERING)
        attributes = [
            ("xmlns", "http://www.w3.org/2000/svg"),
            ("class", "drawing"),
            ("viewBox", f"0 0 {w} {h}"),
            ("width", w),
            ("height", h),
            ("role", "group" if self.live else "img"),
            ("aria-labelledby", f"{self.prefix}-title {self.prefix}-desc"),
            ("font-family", f"var(--letter,{family})" if self.light.follows else family),
            ("style", "font-variant-numeric:tabular-nums lining-nums"),
        ]
        head = f"<svg{_attributes(attributes)}>"
        title = f'<title id="{self.prefix}-title">{_told(drawing.title)}</title>'
        told = (
            f"{drawing.alt} ({drawing.scale_note})" if self.light.name == "print" else drawing.alt
        )
        return f'{head}{title}<desc id="{self.prefix}-desc">{_told(told)}</desc>'

    def patterns(self, body: str) -> str:
        """Return each hatch that the body uses, once."""
        found = []
        for name in HATCHES:
            stem = f"url(#{self.prefix}-{name}"
            turns = {body[i + len(stem) :].split(")", 1)[0] for i in _places(body, stem)}
            found += [self._pattern(name, turn) for turn in sorted(turns)]
        return f"<defs>{''.join(found)}</defs>" if found else ""

    def _pattern(self, name: HatchName, turn: str) -> str:
        hatch, s = HATCHES[name], self.laid.paper.unit
        angle = -(hatch.angle + float(turn.replace("t", "").replace("_", ".") or 0))
        w, h = hatch.width * s, hatch.height * s
        colour = self.light.colour(hatch.ink)
        dots = "".join(
            f'<circle cx="{_n(x * s)}" cy="{_n(h - y * s)}" r="{_n(r * (0.25 + 0.75 * s))}"/>'
            for x, y, r in hatch.dots
        )
        path = "".join(
            "M" + "L".join(f"{_n(x * s)} {_n(h - y * s)}" for x, y in stroke)
            for stroke in hatch.strokes
        )
        if dots:
            inner = f'<g class="ink-{hatch.ink} fill" fill="{colour}">{dots}</g>'
        else:
            weight = _n(hatch.weight * self.light.hatch_weight * (0.5 + 0.5 * self.laid.fine))
            inner = (
                f'<path class="ink-{hatch.ink}" d="{path}" fill="none" stroke="{colour}" '
                f'stroke-width="{weight}"/>'
            )
        attributes = [
            ("id", f"{self.prefix}-{name}{turn}"),
            ("width", _n(w)),
            ("height", _n(h)),
            ("patternUnits", "userSpaceOnUse"),
            ("patternTransform", f"rotate({_n(angle)})" if angle else ""),
        ]
        return f"<pattern{_attributes(attributes)}>{inner}</pattern>"

    # --- body ---

    def body(self) -> str:
        """Return frame, layers and notes."""
        parts = [self._layer("frame", (), self.laid.frame)] if self.laid.frame else []
        parts += [self._layer(a.name, a.leaves, items) for a, items in self.laid.layers if items]
        parts += [self._layer("notes", (), self.laid.notes)] if self.laid.notes else []
        return "".join(parts)

    def _layer(self, name: str, leaves: tuple[str, ...], items: Iterable[Item]) -> str:
        attributes = [
            ("class", "layer leaf" if leaves else "layer"),
            ("data-layer", name),
            ("data-leaf", " ".join(leaves)),
        ]
        return f"<g{_attributes(attributes)}>{''.join(self._items(items))}</g>"

    def _items(self, items: Iterable[Item]) -> Iterator[str]:
        """Yield the items; lines of one kind that follow one another become one path."""
        for kind, run in groupby(items, key=_kind):
            if kind:
                yield self._lines(kind, [i for i in run if isinstance(i, Line)])
            else:
                for item in run:
                    yield self._item(item)

    def _item(self, item: Item) -> str:
        if isinstance(item, Area):
            return self._area(item)
        if isinstance(item, Circle):
            return self._circle(item)
        if isinstance(item, Text):
            return self._text(item)
        if isinstance(item, Group):
            return self._group(item)
        raise TypeError(f"{type(item).__name__} is not drawn out")  # pragma: no cover

    def _group(self, group: Group) -> str:
        attributes = [
            ("data-key", group.key),
            ("aria-label", group.name),
            ("tabindex", "0" if self.live else ""),
            ("role", "button" if self.live else ""),
        ]
        return f"<g{_attributes(attributes)}>{''.join(self._items(group.items))}</g>"

    def _lines(self, kind: tuple[Ink, Weight, Dash], run: list[Line]) -> str:
        ink, weight, dash = kind
        d = "".join(self._path(line.points) for line in run)
        stroke = self._stroke(ink, weight, dash)
        return f'<path class="{_class(ink, weight, dash)}" d="{d}" fill="none"{stroke}/>'

    def _area(self, area: Area) -> str:
        d = "".join(self._path(ring) + "Z" for ring in area.rings)
        rule = ' fill-rule="evenodd"' if len(area.rings) > 1 else ""
        hatch = HATCHES.get(area.hatch)
        under = ""
        if hatch and hatch.wash:
            colour = self.light.colour(hatch.wash)
            under = f'<path class="{hatch.wash}" d="{d}"{rule} fill="{colour}"/>'
        stroke = self._stroke(area.ink, area.weight, area.dash) if area.weight else ""
        fill, named = self._fill(area), _class(area.ink, area.weight, area.dash)
        return f'{under}<path class="hatch-{area.hatch} {named}" d="{d}"{rule}{fill}{stroke}/>'

    def _fill(self, area: Area) -> str:
        bare = {"none": "none", "plain": self.light.colour("sheet")}
        if area.hatch in bare:
            return f' fill="{bare[area.hatch]}"'
        if area.hatch == "solid":
            return f' fill="{self.light.colour(area.ink)}"'
        turn = f"t{_n(area.turn)}".replace(".", "_") if area.turn else ""
        return f' fill="url(#{self.prefix}-{area.hatch}{turn})"'

    def _circle(self, circle: Circle) -> str:
        x, y = self._point((circle.x, circle.y))
        fill = self.light.colour(circle.fill) if circle.fill else "none"
        named = _class(circle.ink, circle.weight, circle.dash)
        stroke = self._stroke(circle.ink, circle.weight, circle.dash) if circle.weight else ""
        filled = f" fill-{circle.fill}" if circle.fill else ""
        r = _n(circle.radius / self.laid.paper.mm_per_px)
        return f'<circle class="{named}{filled}" cx="{x}" cy="{y}" r="{r}" fill="{fill}"{stroke}/>'

    def _text(self, text: Text) -> str:
        """Write lettering, first its ground where it has one."""
        size, colour = self.laid.paper.text_px(text.size), self.light.colour(text.ink)
        ground = self.light.colour("sheet")
        words = self._words(text, size)
        style = self._style(text, size)
        halo = (
            f'<text aria-hidden="true" class="halo"{style} fill="{ground}" stroke="{ground}" '
            f'stroke-width="{_n(HALO * size)}" stroke-linejoin="round">{words}</text>'
        )
        named = f"ink-{text.ink} lettering"
        front = f'<text class="{named}"{style} fill="{colour}">{words}</text>'
        return halo + front if text.halo else front

    def _style(self, text: Text, size: float) -> str:
        x, y = self._point((text.x, text.y))
        up = (text.text.count("\n") / 2) * LEADING - _CAPS
        base = _n((self.laid.view.y1 - text.y) / self.laid.paper.mm_per_px - up * size)
        return _attributes([
            ("x", x),
            ("y", base),
            ("font-size", _n(size)),
            ("font-weight", "700" if text.bold else ""),
            ("font-style", "italic" if text.italic else ""),
            ("text-anchor", "" if text.anchor == "start" else text.anchor),
            ("transform", f"rotate({_n(-text.angle)} {x} {y})" if text.angle else ""),
            ("data-room", _n(_room(text, size))),
        ])  # fmt: skip

    def _words(self, text: Text, size: float) -> str:
        lines = [_told(t) for t in text.text.split("\n")]
        if len(lines) == 1:
            return lines[0]
        x, dy = self._point((text.x, text.y))[0], _n(LEADING * size)
        first, *rest = lines
        below = "".join(f'<tspan x="{x}" dy="{dy}">{t}</tspan>' for t in rest)
        return f"<tspan>{first}</tspan>{below}"

    # --- small parts ---

    def _point(self, p: Point) -> tuple[str, str]:
        view, k = self.laid.view, self.laid.paper.mm_per_px
        return _n((p[0] - view.x0) / k), _n((view.y1 - p[1]) / k)

    def _path(self, points: Ring) -> str:
        """Return a path; runs along one axis are written H and V."""
        told = [self._point(p) for p in points]
        parts = ["M{} {}".format(*told[0])]
        for (x, y), (u, v) in pairwise(told):
            if (x, y) != (u, v):
                parts.append(f"H{u}" if y == v else f"V{v}" if x == u else f"L{u} {v}")
        return "".join(parts)

    def _stroke(self, ink: Ink, weight: Weight, dash: Dash) -> str:
        small = self.laid.fine < 0.7
        told = _n(self.light.weights[weight] * 0.7) if small else self.light.weight(weight)
        s = self.laid.paper.unit
        return _attributes([
            ("stroke", self.light.colour(ink)),
            ("stroke-width", told),
            ("stroke-dasharray", " ".join(_n(v * s) for v in DASHES[dash])),
            ("stroke-linecap", "round" if dash == "guess" else ""),
        ])  # fmt: skip


def _room(text: Text, size: float) -> float:
    """Give the width that was kept free for lettering; a wider face is drawn smaller on screen."""
    return max(text_width(line, size, text.bold) for line in text.text.split("\n"))


def _kind(item: Item) -> tuple[Ink, Weight, Dash] | None:
    return (item.ink, item.weight, item.dash) if isinstance(item, Line) else None


def _class(ink: Ink, weight: Weight | None, dash: Dash) -> str:
    parts = [f"ink-{ink}", f"w-{weight}" if weight else "", f"d-{dash}" if dash != "solid" else ""]
    return " ".join(p for p in parts if p)


def _places(text: str, stem: str) -> Iterator[int]:
    """Yield where a hatch is used: its name followed by nothing or by a turn."""
    at = text.find(stem)
    while at >= 0:
        if text[at + len(stem)] in ")t":
            yield at
        at = text.find(stem, at + 1)
