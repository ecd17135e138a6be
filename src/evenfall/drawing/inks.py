"""Inks, line weights, dashes, hatches and lights: how a drawing looks, told once.

Sizes are in *paper units*: one unit is one pixel at the desk. In print a unit is smaller and line
weights are told in tenths of a millimetre (`LIGHTS`). An ink never speaks alone: a line style, a
hatch or a mark always goes with it, so that black on white loses nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args
from unicodedata import category

from evenfall.errors import InvalidInput

Ink = Literal["ink", "pencil", "chalk", "water", "evening", "hair", "sheet"]
"""The five inks (known, thought, trouble, water, tonight), the hairline grey and the bare sheet."""

Weight = Literal["night", "cut", "line", "thin", "hair"]
"""Night line; what is cut; what is seen; joints and dimensions; witness lines."""

Dash = Literal["solid", "before", "guess", "limit", "ring"]
"""Known; what was before; not yet taped (dots); a limit; a ring not yet taped."""

HatchName = Literal[
    "none", "plain", "solid", "felt", "evening", "wall", "foam", "wool", "wood", "deck", "water",
    "cannot",
]  # fmt: skip
"""``none`` leaves what lies below, ``plain`` is bare sheet, ``solid`` is full of its ink."""

LightName = Literal["paper", "print", "css"]

DASHES: dict[Dash, tuple[float, ...]] = {
    "solid": (),
    "before": (7, 4),
    "guess": (0.5, 6),
    "limit": (14, 4, 2, 4),
    "ring": (3.2, 2),
}

TOKENS: dict[str, str] = {
    "ink": "ink",
    "pencil": "pencil",
    "chalk": "chalk",
    "water": "water",
    "evening": "eve",
    "hair": "hair",
    "sheet": "sheet",
    "wash-evening": "wash-eve",
    "wash-cannot": "wash-no",
}
"""Name of each colour in the style sheet of the screen, after ``--``."""

_PAPER = {
    "ink": "#15212B",
    "pencil": "#515D66",
    "chalk": "#A3211B",
    "water": "#14588F",
    "evening": "#44358A",
    "hair": "#6F7B83",
    "sheet": "#F8FAF7",
    "wash-evening": "#E6E4F2",
    "wash-cannot": "#F7E3DF",
}
_PRINT = {
    "ink": "#000000",
    "pencil": "#333333",
    "chalk": "#7A0D00",
    "water": "#003A75",
    "evening": "#2C1A75",
    "hair": "#555555",
    "sheet": "#FFFFFF",
    "wash-evening": "#FFFFFF",
    "wash-cannot": "#FFFFFF",
}
_WEIGHTS: dict[Weight, float] = {"night": 4.5, "cut": 3.5, "line": 2, "thin": 1.25, "hair": 0.75}

PX_PER_MM = 96 / 25.4
"""Pixels of the style sheet in a millimetre of paper."""


@dataclass(frozen=True, slots=True)
class Light:
    """Where a drawing is seen: colours, weights and the size of a paper unit, in px.

    ``follows`` is true where the colours and weights are left to the page (`TOKENS`).
    """

    name: LightName
    colours: dict[str, str]
    weights: dict[Weight, float]
    unit: float
    hatch_weight: float
    least_text: float
    follows: bool = False

    def colour(self, name: str) -> str:
        """Return the colour as an SVG attribute tells it."""
        bare = self.colours[name]
        return f"var(--{TOKENS[name]},{bare})" if self.follows else bare

    def weight(self, name: Weight) -> str:
        """Return the line weight as an SVG attribute tells it."""
        px = f"{self.weights[name]:.4g}"
        return f"var(--w-{name},{px})" if self.follows else px


LIGHTS: dict[LightName, Light] = {
    "paper": Light("paper", _PAPER, _WEIGHTS, 1, 1, 13),
    "css": Light("css", _PAPER, _WEIGHTS, 1, 1, 13, follows=True),
    "print": Light(  # weights in tenths of a millimetre, the smallest text 8 points
        "print", _PRINT, {k: w / 10 * PX_PER_MM for k, w in _WEIGHTS.items()}, 0.8, 0.5, 10.7
    ),
}


@dataclass(frozen=True, slots=True)
class Hatch:
    """A tile in paper units, y up, turned by ``angle`` (degrees, counter-clockwise) and repeated.

    ``dots`` are (x, y, radius). ``wash`` lies under the strokes.
    """

    width: float
    height: float
    angle: float
    ink: Ink
    weight: float = 1.0
    strokes: tuple[tuple[tuple[float, float], ...], ...] = ()
    dots: tuple[tuple[float, float, float], ...] = ()
    wash: str = ""


HATCHES: dict[HatchName, Hatch] = {
    "felt": Hatch(9, 9, 0, "ink", dots=((2, 2, 1), (6.5, 6.5, 1))),
    "evening": Hatch(9, 9, -45, "evening", 1.5, (((4.5, 0), (4.5, 9)),), wash="wash-evening"),
    "cannot": Hatch(6, 6, 45, "chalk", 1.5, (((3, 0), (3, 6)),), wash="wash-cannot"),
    "wall": Hatch(13, 13, -45, "ink", 1, (((4, 0), (4, 13)), ((7.5, 0), (7.5, 13)))),
    "foam": Hatch(12, 18, 0, "pencil", 1.1, (((0, 3), (6, 15)), ((6, 15), (12, 3)))),
    "wool": Hatch(16, 16, 0, "pencil", 1.1, (
        ((2, 2), (6, 6)), ((2, 6), (6, 2)), ((10, 10), (14, 14)), ((10, 14), (14, 10)),
    )),
    "wood": Hatch(40, 8, 0, "pencil", 1, (
        ((0, 2), (25, 2)), ((30, 2), (40, 2)), ((0, 6), (12, 6)), ((17, 6), (40, 6)),
    )),
    "deck": Hatch(11, 11, 0, "pencil", 1, (((0, 5.5), (11, 5.5)),)),
    "water": Hatch(24, 12, 0, "water", 1.4, (((2, 3), (11, 3)), ((13, 9), (22, 9)))),
}  # fmt: skip
"""One hatch to each kind of area; together they read with no colour at all."""

TICK, NOTE, TEXT, HEAD, FIGURE = 13.0, 15.0, 17.0, 20.0, 26.0
"""Sizes of lettering in paper units; nothing is smaller than `TICK`."""

LETTERING = (
    "Source Sans Pro",
    "Source Sans 3",
    "Bahnschrift SemiCondensed",
    "Bahnschrift",
    "DIN Alternate",
    "Avenir Next Condensed",
    "Roboto Condensed",
    "Liberation Sans Narrow",
    "Arial Narrow",
    "Liberation Sans",
    "Arial",
    "sans-serif",
)

_SLIM, _WIDE = frozenset("ijl.,:;|'!’ ()[]ftr-·"), frozenset("mwMW%@—½¼¾…")


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Estimate how wide a line of lettering runs, a little on the safe side.

    Parameters
    ----------
    text : str
        One line [-].
    size : float
        Size of the lettering, in any unit [any].
    bold : bool
        Whether it is bold [-].

    Returns
    -------
    float
        The width, in the unit of ``size`` [any].

    Examples
    --------
    >>> round(text_width("3.508", 15), 1)
    36.3
    """
    ems = sum(
        0.3 if c in _SLIM else 0.84 if c in _WIDE else 0.62 if c.isupper() else 0.53 for c in text
    )
    return ems * size * (1.05 if bold else 1.0)


@dataclass(frozen=True, slots=True)
class Paper:
    """One size of a drawing: how paper units become millimetres of the world.

    Examples
    --------
    >>> Paper(10.0).mm(7)
    70.0
    """

    mm_per_px: float
    unit: float = 1.0
    least_text: float = TICK

    def mm(self, units: float) -> float:
        """Return the millimetres of the world that some paper units cover."""
        return units * self.unit * self.mm_per_px

    def text_px(self, size: float) -> float:
        """Return the size of lettering in px, never below the least that can be read."""
        return max(self.least_text, size * self.unit)

    def text_mm(self, text: str, size: float, bold: bool = False) -> tuple[float, float]:
        """Return width and height of a block of lettering in millimetres of the world."""
        em = self.text_px(size) * self.mm_per_px
        lines = text.split("\n")
        return max(text_width(t, em, bold) for t in lines), em * LEADING * len(lines)


LEADING = 1.2
"""Distance of lines of lettering, in sizes."""


def plain(text: str) -> str:
    r"""Return text without signs that no file can carry; line ends stay.

    Parameters
    ----------
    text : str
        Any text [-].

    Returns
    -------
    str
        The text, each control sign a space [-].

    Examples
    --------
    >>> plain("north\r side")
    'north  side'
    """
    bad = ("Cc", "Cs", "Cn")
    return "".join(c if c == "\n" or category(c) not in bad else " " for c in text)


def known(word: str, kind: object, what: str) -> None:
    """Refuse a word that is not one of a list.

    Parameters
    ----------
    word : str
        The word [-].
    kind : object
        A ``Literal`` such as `Ink` [-].
    what : str
        What the word names [-].

    Raises
    ------
    InvalidInput
        Where the word is not of the list.

    Examples
    --------
    >>> known("chalk", Ink, "ink")
    """
    if word not in get_args(kind):
        raise InvalidInput(f'{what} "{word}"', f"one of {', '.join(get_args(kind))}")
