"""Rolling out: the steps in which the crew lays the sheet, folds it back and bonds it."""

from __future__ import annotations

from evenfall.model.surveyed import Plan, Point
from evenfall.standards import sheet_practice as practice


def rolling_out(
    plan: Plan, along: Point, one_piece: bool, hands: int, downhill: Point, kerbs: bool
) -> tuple[str, ...]:
    """Tell how the sheet is rolled out, folded and bonded.

    Parameters
    ----------
    plan : Plan
        Sides [m].
    along : tuple of float
        Unit vector along the roll [-].
    one_piece : bool
        Whether there is no seam [-].
    hands : int
        People who lift it; 4 is four or a hoist [each].
    downhill : tuple of float
        Which way the roof falls [-].
    kerbs : bool
        Whether upstand strips are dressed up kerbs [-].

    Returns
    -------
    tuple of str
        Steps, one sentence each [-].
    """
    side = max(plan.sides, key=lambda s: (round(abs(_dot(s.along, along)), 2), s.length_m))
    who = f"{hands} people" if hands < 4 else "four people or a hoist"
    high = _end(plan, downhill, -1.0)
    rest = f"{practice.RELAXATION_MIN:.0f} minutes"
    first = [f"Lift it folded, with {who}, and set it down on spread boards along {side.name}."]
    after = "kerb strips over the field" if kerbs else "corners after the sides"
    last = [f"Upstands and edges last, with contact adhesive, {after}."]
    if one_piece:
        return (
            *first,
            f"Roll out along {side.name}, unfold across it, and let it lie {rest}.",
            "Fold one half back over the other, bond from the fold out, broom; then the other.",
            *last,
        )
    return (
        *first,
        f"Roll out by the numbers, each over the one before, towards {high}; let all lie {rest}.",
        "Fold each strip back by half, bond, broom; then the other half, up to the lap.",
        "Seams the same day: clean, prime, tape, roll; a patch on each T-joint; then sealant.",
        *last,
    )


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _end(plan: Plan, downhill: Point, sign: float) -> str:
    """Name the side at one end of the fall."""
    return max(plan.sides, key=lambda s: sign * _dot(s.outwards, downhill)).name
