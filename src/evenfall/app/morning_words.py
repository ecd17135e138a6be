"""A morning's answer in plain lines, for the command line and the desk."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from evenfall.errors import InvalidInput
from evenfall.model.morning import Morning, Opening, ToldFigure
from evenfall.model.words import clock

NOTHING = "nothing"
MOST_TOLD = 6  # faults told one by one


def time_of(text: str | None, where: str = "--now") -> datetime:
    """Read a time with its zone; none is now."""
    if text is None:
        return datetime.now().astimezone()
    expected = "a time with its zone, such as 2027-04-12T07:05+01:00"
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        raise InvalidInput(f'"{text}"', expected, where=where) from None
    if at.utcoffset() is None:
        raise InvalidInput(f'"{text}", which has no zone', expected, where=where)
    return at


def cover_of(text: str, where: str = "--cover") -> tuple[float, float]:
    """Read the two sides of a cover in metres."""
    try:
        length, width = (float(part) for part in text.lower().split("x"))
    except ValueError:
        length = width = -1.0
    if not (0 < length <= 100 and 0 < width <= 100):
        raise InvalidInput(f'"{text}"', "length and width in metres: 6.5x5.6", where=where)
    return length, width


def told(answer: Morning) -> Iterator[str]:
    """Tell a morning in plain lines.

    Parameters
    ----------
    answer : Morning
        The answer [-].

    Yields
    ------
    str
        Lines [-].
    """
    yield f"This morning, {answer.on:%a %d %b %Y}"
    yield f"Forecast: {answer.source}, made {answer.issued:%d %b %H:%M}Z"
    yield f"Open no more than: {_opening(answer)}. You decide."
    yield from (f"  Why: {reason}" for reason in answer.why)
    if answer.opening and answer.opening.area_m2:
        yield f"Stop stripping: {clock(answer.opening.stop_stripping)}"
        yield f"Shut by: {clock(answer.opening.seal_by)} (dusk {clock(answer.dusk)})"
        yield f"Hands: {answer.opening.hands}{_fewer(answer.fewer)}"
    covers = "; ".join(answer.covers) or "none on the roof"
    yield f"Covers: {covers}"
    yield f"Water leaves: {'; '.join(words for words, _ in answer.water) or 'NO WAY OUT'}"
    yield f"Bonding: {_bond(answer)}"
    yield f"Load: {'; '.join(answer.load) or NOTHING}"
    yield f"Today: {'; '.join(answer.says) or NOTHING}"
    if answer.hold:
        yield answer.hold
    if answer.figures:
        yield "Least safe figures of the hours asked about:"
        yield from (f"  {_figure(f)}" for f in answer.figures)
    yield from _moves(answer)


def _opening(answer: Morning) -> str:
    if answer.opening is None:
        return "nothing; no bay was to be opened today"
    if not answer.opening.area_m2:
        return NOTHING
    bays = " and ".join(str(b) for b in answer.bays)
    if answer.opening.area_m2 >= answer.bay_m2:
        return f"bay {bays}, all of it ({answer.bay_m2:.1f} m²)"
    return f"{answer.opening.area_m2:g} m² of bay {bays} (of {answer.bay_m2:.1f} m²)"


def _fewer(fewer: Opening | None) -> str:
    if fewer is None:
        return ""
    if not fewer.area_m2:
        return f" (with {fewer.hands}: open nothing)"
    stop = clock(fewer.stop_stripping)
    return f" (with {fewer.hands}: open {round(fewer.area_m2, 1):g} m², stop at {stop})"


def _bond(answer: Morning) -> str:
    if answer.bond is None:
        return (
            answer.bond_why if answer.bond_why.startswith("nothing") else f"no: {answer.bond_why}"
        )
    start, end = answer.bond
    why = f" ({answer.bond_why})" if answer.bond_why else ""
    return f"from {clock(start)}, the last by {clock(end)}{why}"


def _figure(figure: ToldFigure) -> str:
    mark = "ok" if figure.passes else "NO"
    return (
        f"{mark}  {figure.says} {figure.value:.1f} {figure.unit} at {clock(figure.hour)}, "
        f"limit {figure.limit:.3g}"
    )


def _moves(answer: Morning) -> Iterator[str]:
    if not answer.moves:
        yield f"The plan stands: done by {answer.finish_was:%a %d %b}."
        yield from _checked(answer)
        return
    yield "What moves:"
    for move in answer.moves:
        now = f"{move.now:%a %d %b}" if move.now else "no day found"
        yield f"  {move.says}: {move.was:%a %d %b} → {now}"
    if answer.finish_on:
        yield f"Done by {answer.finish_on:%a %d %b} (was {answer.finish_was:%a %d %b})."
        fewest = (
            "no other order of these days ends sooner, nor as soon with fewer moved"
            if answer.fewest
            else "few, not proven the fewest: more days are left than are tried in every order"
        )
        yield f"Changes: {fewest}."
    else:
        yield "The rest does not fit into the next 60 working days."
    yield from _checked(answer)


def _checked(answer: Morning) -> Iterator[str]:
    """Tell what the checker, which is apart from the planner, finds in what is left."""
    if answer.faults is None:
        yield "Checked: nothing is placed that could be."
    elif not answer.faults:
        yield "Checked apart from the plan: every evening that is left is closed and drains."
    else:
        yield f"CHECKED, AND NOT SOUND ({len(answer.faults)}): plan the rest again before you open."
        yield from (f"  {says}" for says in answer.faults[:MOST_TOLD])
