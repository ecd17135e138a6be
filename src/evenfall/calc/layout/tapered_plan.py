"""What a plan of tapered boards is: rows along the fall, each piece by its row, boards as sawn."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.layout.guillotine import SawnBoard

Ring = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class TaperedBoards:
    """Boards of one fall as they are sold, the thinnest kind first; each begins where one ends."""

    one_in: float
    width_mm: int  # across the fall
    length_mm: int  # along the fall
    kinds: tuple[tuple[int, int], ...]  # thin and thick edge

    @property
    def repeat_mm(self) -> int:
        """How thick the fill-up is under the rows in which the kinds begin anew."""
        return self.kinds[-1][1] - self.kinds[0][0]

    def kind_of(self, row: int) -> int:
        """Tell the kind of a row, both counted from 0."""
        return row % len(self.kinds)

    def fill_mm(self, row: int) -> int:
        """Tell how thick the fill-up lies under a row, counted from 0."""
        return row // len(self.kinds) * self.repeat_mm


@dataclass(frozen=True, slots=True)
class Slant:
    """How the rows lie: a point of the low edge, the way down, what the first row loses [mm]."""

    foot: tuple[float, float]
    downhill: tuple[float, float]  # unit vector
    first_cut_mm: int = 0  # off the thin end of the first row

    def up(self, point: tuple[float, float]) -> float:
        """Give how far a point lies up the fall from the low edge, mm."""
        (x, y), (a, b), (u, v) = point, self.foot, self.downhill
        return (a - x) * u + (b - y) * v


@dataclass(frozen=True, slots=True)
class TaperedPiece:
    """One piece as it lies, and the part of its stock board; y of a part is from the thin edge."""

    number: int  # from 1, in the order of laying
    row: int  # from 0, at the low edge
    kind: int  # from 0, the thinnest
    fill_mm: int  # even boards under it
    polygon: Ring
    cutouts: tuple[Ring, ...]
    size: tuple[int, int]  # across the fall and along it
    falls_to: tuple[float, float]  # unit vector in the plan towards its thin edge
    from_board: int  # index in TaperedPlan.boards
    is_perimeter: bool


@dataclass(frozen=True, slots=True)
class TaperedPlan:
    """A whole plan; ``breaches`` names every rule that it breaks."""

    boards_of: TaperedBoards
    slant: Slant
    pieces: tuple[TaperedPiece, ...]
    boards: tuple[SawnBoard, ...]  # x across the fall, y along it from the thin edge
    kinds: tuple[int, ...]  # of each board
    bounds: tuple[int, ...]  # boards of each kind that no plan in these rows can do without
    breaches: tuple[str, ...]

    def bought(self, kind: int) -> int:
        """Count the boards of a kind."""
        return self.kinds.count(kind)


def thickness_mm(boards: TaperedBoards, slant: Slant, point: tuple[float, float]) -> float:
    """Give the thickness of tapered boards and fill-up at a point.

    Parameters
    ----------
    boards : TaperedBoards
        What is laid [mm].
    slant : Slant
        How it lies [mm].
    point : (x, y)
        Place in the plan [mm].

    Returns
    -------
    float
        Thickness [mm].

    Examples
    --------
    >>> sold = TaperedBoards(60, 1200, 1200, ((30, 50), (50, 70)))
    >>> thickness_mm(sold, Slant((0, 0), (0.0, -1.0)), (500, 3000))
    80.0
    """
    return boards.kinds[0][0] + (slant.up(point) + slant.first_cut_mm) / boards.one_in


def first_cut_mm(depth_mm: float, boards: TaperedBoards, least_mm: int) -> int:
    """Tell how much the first row loses at its thin end, so that the last is no sliver.

    Parameters
    ----------
    depth_mm : float
        Roof along the fall [mm].
    boards : TaperedBoards
        What is laid [mm].
    least_mm : int
        Smallest piece at the edge [mm].

    Returns
    -------
    int
        Cut; nothing where the last row is wide enough without [mm].

    Examples
    --------
    >>> sold = TaperedBoards(60, 1200, 1200, ((30, 50), (50, 70)))
    >>> first_cut_mm(2500, sold, 300), first_cut_mm(3000, sold, 300), first_cut_mm(250, sold, 300)
    (200, 0, 0)
    """
    rest = round(depth_mm) % boards.length_mm
    if depth_mm <= boards.length_mm or not 0 < rest < least_mm:
        return 0
    return least_mm - rest
