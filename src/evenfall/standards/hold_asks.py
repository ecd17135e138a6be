"""What somebody reads at a hold point before work goes on: value, unit, limit, photo, batch.

Passing it is the tick for all that the hold point says in words. Limits are those of
`programme_practice` and `board_practice`, of the practice of roofing, or from memory: each says
which.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.standards.board_practice import LARGEST_STEP_MM
from evenfall.standards.programme_practice import (
    BOND_COLDEST,
    DEW_MARGIN,
    NIGHT_LAP,
    PRACTICE,
    RAIN_CHANCE,
    RAIN_CHANCE_MOST,
)
from evenfall.working import Basis, Cited


def _cited(value: float, unit: str, where: str, basis: Basis = "planning seed") -> Cited:
    return Cited(value, unit, PRACTICE, where, basis)


WETTEST = _cited(20, "%", "moisture of timber, above it nothing is sealed in", "from memory")
READ_AGAIN = _cited(18, "%", "moisture of timber, above it read again next day", "from memory")
ROTTEN = _cited(28, "%", "moisture of timber, from here on it is replaced", "from memory")
SCREW_SPACING = _cited(300, "mm", "screws of the deck, centre to centre, at most")
HEIGHT_OFF = _cited(3, "mm", "heights of the edge timbers, off the plan at most")
BOARD_GAP = _cited(6, "mm", "gap between two boards; a wider one is filled")
"""On the safe side of `GAP_TO_FILL_MM`: a tape on the roof reads whole millimetres."""
RELAXED = _cited(30, "min", "the sheet lies unrolled before it is bonded, at least")
LAP_OF_NIGHT = _cited(NIGHT_LAP * 1000, "mm", "night line sealed on each side of it, at least")
STANDING = _cited(10, "mm", "water left standing when it was poured out, at most")
NONE = _cited(
    0, "places", "open folds, blisters, places where the probe goes in", "common practice"
)


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing that is read at a hold point.

    Parameters
    ----------
    what, says, unit : str
        As it is recorded, what is asked, and the unit [-].
    least, most : Cited or None
        Limits, where there are any [unit].
    again_above : Cited or None
        A pass above this is read once more [unit].
    needed : bool
        Whether the hold point cannot be passed without it [-].
    """

    what: str
    says: str
    unit: str
    least: Cited | None = None
    most: Cited | None = None
    again_above: Cited | None = None
    needed: bool = True

    @property
    def limits(self) -> str:
        """Its limits in words; none where there are none."""
        parts = [f"{self.least:g} or more" if self.least is not None else "",
                 f"{self.most:g} or less" if self.most is not None else ""]  # fmt: skip
        return " and ".join(p for p in parts if p)

    def holds(self, value: float) -> bool:
        """Whether a value lies within the limits."""
        low = self.least is None or value >= self.least
        return low and (self.most is None or value <= self.most)


@dataclass(frozen=True, slots=True)
class HoldAsks:
    """All that is asked at one hold point.

    Parameters
    ----------
    hold : int
        Its number [-].
    asks : tuple of Ask
        What is read [-].
    photo : str
        What the photo shows [-].
    batches : tuple of str
        Products whose batch is written down; none where nothing is built in [-].
    source, basis : str
        Where it is from [-].
    """

    hold: int
    asks: tuple[Ask, ...]
    photo: str
    batches: tuple[str, ...] = ()
    source: str = PRACTICE
    basis: Basis = "planning seed"


HOLD_ASKS: tuple[HoldAsks, ...] = (
    HoldAsks(0, (
        Ask("rain", "chance of rain in the hours it lies open", "%", most=RAIN_CHANCE_MOST,
            again_above=RAIN_CHANCE),
    ), "the roof and the covers, from the ladder"),
    HoldAsks(1, (
        Ask("moisture", "wettest reading of deck and joists", "%", most=WETTEST,
            again_above=READ_AGAIN),
        Ask("screws", "widest spacing of the deck's screws", "mm", most=SCREW_SPACING),
        Ask("soft", "soft deck, marked and counted", "m2"),
        Ask("gap", "widest gap between boards of the deck", "mm"),
        Ask("pull_out", "pull-out of a screw tried in this deck", "N", needed=False),
    ), "the bare deck, wide; every defect with a tape in the picture"),
    HoldAsks(2, (
        Ask("height_off", "edge timbers off the plan, at the worst place", "mm", most=HEIGHT_OFF),
    ), "the closed vents; an edge timber with a rule"),
    HoldAsks(3, (
        Ask("folds", "open folds in the laps", "places", most=NONE),
        Ask("night_lap", "night line sealed on each side of it", "mm", least=LAP_OF_NIGHT,
            needed=False),
    ), "the four edges, and the night line", ("vapour control layer",)),
    HoldAsks(4, (
        Ask("step", "highest step between two boards", "mm", most=LARGEST_STEP_MM),
        Ask("board_gap", "widest gap left unfilled", "mm", most=BOARD_GAP),
    ), "the boards, wide; the label of a pack", ("insulation",)),
    HoldAsks(5, (
        Ask("surface", "temperature of the surface", "degC", least=BOND_COLDEST),
        Ask("dew_margin", "surface above the dew point", "K", least=DEW_MARGIN),
        Ask("relaxed", "the sheet has lain unrolled", "min", least=RELAXED),
    ), "the reading of the meter; the labels of sheet and adhesive", ("sheet", "adhesive")),
    HoldAsks(6, (
        Ask("blisters", "blisters", "places", most=NONE),
    ), "the whole sheet, from a corner"),
    HoldAsks(7, (
        Ask("seam", "places where the probe went in", "places", most=NONE),
    ), "each corner, each crossing, each pipe", ("lap sealant",)),
    HoldAsks(8, (
        Ask("drips", "places that drip when water is poured in", "places", most=NONE),
    ), "gutter and outlet with water in them"),
    HoldAsks(9, (
        Ask("run_off", "deepest water left standing", "mm", most=STANDING),
        Ask("snags", "snags still open", "places"),
    ), "the finished roof, wide, and each edge"),
)  # fmt: skip
"""By the number of the hold point."""
