"""What the tapes say, in plain words: what is wrong, what cannot be told, what to tape next."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from evenfall.calc.geometry.polygon import corner_angles
from evenfall.calc.geometry.tapes import Adjusted, NextTape, Tape, TapeCheck
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.standards import roofing_practice, survey_practice
from evenfall.working import Cited

MM = 1000
SURE = 0.8  # chance from which a tape is said to settle it: that with which a blunder is seen
HIDDEN = 0.1  # m, a slip that the kerbs and drips of the sheet would not forgive
TOLD = 6  # tapes named in one sentence
ALIKE = 1.2  # amounts that differ by less are told as one
OBLONG = 4  # corners of a roof that is judged by its diagonals
NEARLY = 0.26  # cosine of 75 degrees: a corner nearer to square was meant to be square
LEAN = 0.6  # a difference of 50 mm between the diagonals is a lean of 30 over the side

Again = Callable[[Callable[[Tape], Tape]], Adjusted]


def about(found: Adjusted, again: Again) -> tuple[Finding, ...]:
    """Say what is wrong with the tapes.

    Parameters
    ----------
    found : Adjusted
        The plan and what its tapes say of each other [m].
    again : callable
        Adjusts the same roof with each tape changed [-].

    Returns
    -------
    tuple of Finding
        Empty if all is well and every tape is checked [-].
    """
    if found.ambiguous:
        return (_folds(found),)
    if not found.detected:
        return _unchecked(found)
    worst = max(found.readings, key=lambda c: abs(c.w))
    if found.located:
        return (_located(found, worst, again),)
    if found.several:
        return (_several(found, worst, again),)
    return (_undecided(found, worst),)


def _folds(found: Adjusted) -> Finding:
    limit = survey_practice.W_CRITICAL
    corners = " and ".join(found.ambiguous)
    ask = "Tape another diagonal." if found.further is None else _ask(found.further, True)
    says = f"The tapes fit two plans: {corners} could lie on either side. {ask}"
    return Finding(
        "plan-folds", f"corner:{found.ambiguous[0]}", "stop", says, limit.source, limit.basis,
        remedy=Remedy(ask),
    )  # fmt: skip


def _ask(tape: NextTape, settles: bool) -> str:
    again = " again" if tape.again else ""
    end = "that settles it" if settles else "it would help most"
    return f"Tape {'-'.join(tape.between)}{again}: {end}."


def _located(found: Adjusted, worst: TapeCheck, again: Again) -> Finding:
    """Name the wrong tape; where it is the same reading in other words, offer to put it right."""
    name, off = worst.tape.name, abs(worst.error or 0.0)
    offset = worst in found.offsets
    what = f"Offset {name}" if offset else f"Tape {name}"
    way = "out" if offset else "too long" if (worst.error or 0.0) > 0 else "too short"
    says = f"{what} looks {_length(off)} {way}: the others say {worst.adjusted:.3f} m. "
    says += "The plan is made without it. "
    changes: tuple[Change, ...] = ()
    cure = "Measure it again."
    if found.slip:
        says += f"{found.slip.says[0].upper()}{found.slip.says[1:]}. "
        if found.slip.sure and not offset and not _with(found, worst, again).detected:
            row = found.tapes.index(worst)
            changes = (Change(f"survey.tapes[{row}].length_m", found.slip.meant),)
            cure = f"Write {found.slip.meant:.3f}, or measure it again."
    return _wrong(f"tape:{name}", says + cure, Remedy(cure, changes), found)


def _with(found: Adjusted, worst: TapeCheck, again: Again) -> Adjusted:
    """Adjust with the reading that was meant."""
    meant, name = found.slip.meant if found.slip else 0.0, worst.tape.name
    return again(lambda t: replace(t, length=meant) if t.name == name else t)


def _several(found: Adjusted, worst: TapeCheck, again: Again) -> Finding:
    """Say that no one tape explains it: two are wrong, or all are worse than was said."""
    sigma = max(float(c.tape.sigma) for c in found.tapes) * MM
    names = ", ".join(
        c.tape.name for c in sorted(found.readings, key=lambda c: -abs(c.w))[: TOLD // 2]
    )
    if abs(worst.w) > survey_practice.W_CRITICAL:
        says = f"More than one tape is wrong. Begin with these and measure them again: {names}."
        return _wrong("plan", says, Remedy(f"Measure again: {names}."), found)
    fair = math.ceil(2 * found.s0 * sigma) / 2
    says = (
        f"All tapes together fit worse than {sigma:g} mm explains; they look good to {fair:g} mm. "
        f"The worst are {names}. Measure these again, or say that the tapes are good to {fair:g}."
    )
    alike = len({float(c.tape.sigma) for c in found.tapes}) == 1
    cured = alike and not again(lambda t: replace(t, sigma=fair / MM)).detected
    changes = (Change("survey.tape_accuracy_mm", fair),) if cured else ()
    return _wrong("plan", says, Remedy(f"Measure again: {names}.", changes), found)


def _undecided(found: Adjusted, worst: TapeCheck) -> Finding:
    off, tape = _about(found, worst), found.further
    if len(found.suspects) == 1:
        by = _length(abs(worst.error or 0.0))
        says = f"Tape {worst.tape.name} fits worst, by {by}: too little to be sure. "
        cure = "Measure it again."
        return _wrong(f"tape:{worst.tape.name}", says + cure, Remedy(cure), found)
    names = ", ".join(found.suspects[:TOLD]) + (" and others" if found.suspects[TOLD:] else "")
    says = f"One tape is wrong by {off}, but these cannot say which: {names}. "
    cure = "Measure all of them again." if tape is None else _ask(tape, tape.chance >= SURE)
    return _wrong("plan", says + cure, Remedy(cure), found)


def _about(found: Adjusted, worst: TapeCheck) -> str:
    """Say by how much: each of the suspects would be out by an amount of its own."""
    errors = [abs(c.error or 0.0) for c in found.readings if c.tape.name in found.suspects]
    least, most = min(errors, default=0.0), max(errors, default=0.0)
    if most <= ALIKE * least or not least:
        return f"about {_length(abs(worst.error or 0.0))}"
    return f"{_length(least)} to {_length(most)}"


def _length(metres: float) -> str:
    return f"{metres * MM:.0f} mm" if metres < 1 else f"{metres:.2f} m"


def _wrong(subject: str, says: str, cure: Remedy, found: Adjusted) -> Finding:
    """Name the test that failed: that of the one tape, else that of all together."""
    value, limit = max(abs(c.w) for c in found.readings), float(survey_practice.W_CRITICAL)
    by: Cited = survey_practice.W_CRITICAL
    if value <= limit and found.limit is not None:
        value, limit, by = found.t, found.limit, survey_practice.ONE_MORE
    return Finding(
        "tape-wrong", subject, "stop", says, by.source, by.basis, value, limit, "-", cure
    )


def _unchecked(found: Adjusted) -> tuple[Finding, ...]:
    """Say which tapes could be wrong without showing."""
    limit = survey_practice.DELTA_0
    loose = [c for c in found.tapes if c.least_seen is None or c.least_seen > HIDDEN]
    single = found.dof == 1
    if not (loose or single) or found.further is None:
        return ()
    tape = "-".join(found.further.between)
    if not found.dof:
        says = (
            f"The tapes are just enough for a plan: a slip in one would not show. Tape {tape} too."
        )
    elif single:
        says = f"One tape more than needed: no slip could be pinned down. Tape {tape} too."
    else:
        names = ", ".join(c.tape.name for c in loose[:TOLD]) + ("…" if loose[TOLD:] else "")
        says = f"A slip of {HIDDEN * MM:.0f} mm in {names} might not show. Tape {tape} too."
    return (
        Finding("tapes-unchecked", "plan", "note", says, limit.source, limit.basis,
                remedy=Remedy(f"Tape {tape} too.")),
    )  # fmt: skip


def large(longest_m: float, area_m2: float) -> tuple[Finding, ...]:
    """Ask about a roof larger than a house has: a whole survey in feet closes as well as any.

    Parameters
    ----------
    longest_m : float
        Its longest side [m].
    area_m2 : float
        Its area [m2].

    Returns
    -------
    tuple of Finding
        Empty where it is as large as flat roofs of houses are [-].
    """
    limit, foot = survey_practice.LARGE_ROOF, survey_practice.FOOT
    if longest_m <= survey_practice.LONG_SIDE and area_m2 <= limit:
        return ()
    says = (
        f"The longest side is {longest_m:.1f} m, the roof {area_m2:.0f} m²: much for a house. Was "
        f"the tape in feet? Then it is {longest_m * foot:.2f} m and {area_m2 * foot**2:.1f} m². "
    )
    cure = f"Look at the tape: where it shows feet, write every length times {foot:g}."
    return (
        Finding("plan-large", "plan", "agree", says + cure, limit.source, limit.basis, area_m2,
                limit.value, "m2", Remedy(cure)),
    )  # fmt: skip


def square(found: Adjusted) -> tuple[Finding, ...]:
    """Say how far a roof is out of square.

    Parameters
    ----------
    found : Adjusted
        The plan [m].

    Returns
    -------
    tuple of Finding
        Of four corners by the diagonals, of others by the corner that leans most [-].
    """
    return _diagonals(found) if len(found.corners) == OBLONG else _leaning(found)


def turned(found: Adjusted, inner: tuple[str, ...]) -> tuple[Finding, ...]:
    """Hold the plan against the corners that were seen to turn in.

    Parameters
    ----------
    found : Adjusted
        The plan [m].
    inner : tuple of str
        Corners at which the roof turns in, as seen; none where nobody said so [-].

    Returns
    -------
    tuple of Finding
        One for each corner that the tapes turn the other way [-].
    """
    if not inner:
        return ()
    limit = survey_practice.GROSS_MISCLOSURE
    return tuple(
        Finding("corner-turned", f"corner:{c.name}", "stop", _turned(c.name, c.name in inner),
                limit.source, limit.basis, remedy=Remedy("Measure the sides at it again."))
        for c, angle in zip(found.corners, corner_angles(found.polygon), strict=True)
        if (angle > math.pi) != (c.name in inner)
    )  # fmt: skip


def _turned(name: str, inner: bool) -> str:
    seen, found = ("in", "out") if inner else ("out", "in")
    return f"Corner {name} was seen to turn {seen}, and the tapes turn it {found}. Tape it again."


def _diagonals(found: Adjusted) -> tuple[Finding, ...]:
    a, b, c, d = found.polygon
    lean = abs(math.dist(a, c) - math.dist(b, d))
    limit = roofing_practice.OUT_OF_SQUARE
    if lean <= limit:
        return ()
    says = f"The diagonals differ by {lean * MM:.0f} mm: one row of boards is cut at an angle."
    return (_out_of_square(says, lean, limit, limit),)


def _leaning(found: Adjusted) -> tuple[Finding, ...]:
    """Tell of the corner that was meant to be square and leans most over its shorter side."""
    limit = roofing_practice.OUT_OF_SQUARE
    worst = max(_leans(found), default=None)
    if worst is None or worst[0] <= LEAN * limit:
        return ()
    lean, name, reach = worst
    says = (
        f"Corner {name} is {lean * MM:.0f} mm out of square over {reach:.1f} m: "
        "one row of boards is cut at an angle."
    )
    return (_out_of_square(says, lean, LEAN * limit, limit),)


def _leans(found: Adjusted) -> Iterator[tuple[float, str, float]]:
    ring = found.polygon
    lengths = [math.dist(p, q) for p, q in pairwise((*ring, ring[0]))]
    for i, angle in enumerate(corner_angles(ring)):
        if abs(math.cos(angle)) < NEARLY:
            reach = min(lengths[i - 1], lengths[i])
            yield reach * abs(math.cos(angle)), found.corners[i].name, reach


def _out_of_square(says: str, value: float, limit: float, source: Cited) -> Finding:
    return Finding(
        "out-of-square", "plan", "note", says, source.source, source.basis, value * MM,
        limit * MM, "mm",
    )  # fmt: skip
