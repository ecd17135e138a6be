"""The roof as walked so far: its shape, what was taped and what is guessed, what does not fit.

All is worked out by the survey room from the completed job; where its tapes make no plan, the
drawing by square corners stands in, and the tapes that lie furthest off it are marked.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from evenfall.calc.geometry.lines_of_sight import on_roof
from evenfall.drafting.around import Around, entries, section, taped
from evenfall.drafting.complete import Drafted
from evenfall.drafting.outline import rank, rows
from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding
from evenfall.model.job import Job
from evenfall.model.surveyed import Plan, Point, Ring
from evenfall.stages.survey import plan as survey_plan

ALIKE = 0.9  # share of the worst misfit from which a tape is marked with it
FAR_M = 0.05  # m, off the drawing by more, a tape that cannot close is marked
_TAPE = re.compile(r"Tape ([A-Za-z][A-Za-z0-9]{0,3}-[A-Za-z][A-Za-z0-9]{0,3})")


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner where it lies; ``held`` when tapes hold it, not the eye."""

    name: str
    at: Point
    held: bool


@dataclass(frozen=True, slots=True)
class Walked:
    """One side: what it is, whether somebody said so, and its length as drawn and as taped."""

    side: str
    kind: str
    told: bool
    length_m: float
    taped_m: float | None


@dataclass(frozen=True, slots=True)
class Misfit:
    """A tape that does not fit: what was read, and the room that it has."""

    between: str
    read_m: float
    fits_m: float


@dataclass(frozen=True, slots=True)
class Ask:
    """The tape that helps most now, and why."""

    between: str
    says: str


@dataclass(frozen=True, slots=True)
class Mark:
    """What is wrong or open about the shape, the cure, and the value that cures it."""

    code: str
    subject: str
    level: str
    says: str
    do: str
    path: str = ""
    value: Any = None


@dataclass(frozen=True, slots=True)
class Placed:
    """Something placed on the plan: an opening as a ring, anything else as a line or a point."""

    table: str
    name: str
    kind: str
    ring: Ring


@dataclass(frozen=True, slots=True)
class Roof:
    """The roof as walked so far."""

    corners: tuple[Corner, ...]
    sides: tuple[Walked, ...]
    misfits: tuple[Misfit, ...]
    ask: Ask | None
    marks: tuple[Mark, ...]
    placed: tuple[Placed, ...]
    area_m2: float
    good_to_mm: float | None


def walked(drafted: Drafted, document: dict[str, Any]) -> Roof:
    """Draw the roof of a job that is only begun.

    Parameters
    ----------
    drafted : Drafted
        The job, completed [-].
    document : dict
        The job as it came in: what of it is known [-].

    Returns
    -------
    Roof
        Shape, misfits, the tape that helps most [m].
    """
    a, survey = drafted.around, section(document, "survey")
    plan, wrong = _planned(drafted.job)
    ring = plan.deck if plan else a.ring
    read = taped(survey, a.corners)
    loose = {f.path for f in drafted.filled}
    by_eye = _by_eye(drafted)
    marks = (*(_mark(f) for f in plan.findings),) if plan else (wrong,) if wrong else ()
    return Roof(
        tuple(Corner(c, p, c not in by_eye) for c, p in zip(a.corners, ring, strict=True)),
        tuple(
            Walked(s, a.kinds[s], f"survey.sides[{s}].kind" not in loose,
                   math.dist(ring[i], ring[(i + 1) % len(ring)]), _side_read(read, i, len(ring)))
            for i, s in enumerate(a.sides)
        ),
        _misfits(a, survey, ring, plan),
        _ask(a, survey, read, plan),
        marks,
        _placed(plan, drafted),
        plan.gross.value if plan else _area(ring),
        plan.good_to_mm if plan else None,
    )  # fmt: skip


def _planned(job: Job | None) -> tuple[Plan | None, Mark | None]:
    if job is None:
        return None, None
    s = job.survey
    try:
        plan = survey_plan.work(s.corners, s.tapes, s.tape_accuracy_mm, s.sides, s.openings,
                                s.points, s.offsets, s.inner_corners)  # fmt: skip
    except InvalidInput as error:
        says = f"{error.what[:1].upper()}{error.what[1:]}."
        return None, Mark("tapes-cannot-close", "plan", "stop", says, error.do)
    return plan, None


def _by_eye(drafted: Drafted) -> set[str]:
    offsets = entries(section(drafted.document, "survey"), "offsets")
    made = {f.path for f in drafted.filled}
    return {
        str(o.get("point"))
        for k, o in enumerate(offsets)
        if {f"survey.offsets[{k}].left_m", f"survey.offsets[{k}].right_m"} & made
    }


def _side_read(read: dict[tuple[int, int], float], i: int, n: int) -> float | None:
    j = (i + 1) % n
    return read.get((min(i, j), max(i, j)))


def _area(ring: Ring) -> float:
    turned = zip(ring, (*ring[1:], ring[0]), strict=True)
    return abs(sum(p[0] * q[1] - q[0] * p[1] for p, q in turned)) / 2


def _mark(f: Finding) -> Mark:
    change = f.remedy.changes[0] if f.remedy and f.remedy.changes else None
    do = f.remedy.says if f.remedy else ""
    return Mark(f.code, f.subject, f.level, f.says, do, change.path if change else "",
                change.value if change else None)  # fmt: skip


def _misfits(
    a: Around, survey: dict[str, Any], ring: Ring, plan: Plan | None
) -> tuple[Misfit, ...]:
    """Pick the tapes that the survey room calls wrong; else those that lie off the drawing."""
    if plan is None:
        at = dict(zip(a.corners, ring, strict=True))
        found = [Misfit(str(t["between"]), float(t["length_m"]), math.dist(at[p], at[q]))
                 for t in entries(survey, "tapes")
                 if (p := str(t.get("between")).split("-")[0]) in at
                 and (q := str(t.get("between")).split("-")[-1]) in at
                 and isinstance(t.get("length_m"), int | float)]  # fmt: skip
        worst = max((abs(m.read_m - m.fits_m) for m in found), default=0.0)
        least = max(FAR_M, worst / 2)
        return tuple(m for m in found if abs(m.read_m - m.fits_m) >= least)
    wrong = [f.subject for f in plan.findings if f.code == "tape-wrong"]
    if not wrong:
        return ()
    named = [t for t in plan.taped if t.id in wrong]
    worst = max(abs(t.w) for t in plan.taped)
    marked = named or [t for t in plan.taped if abs(t.w) >= ALIKE * worst]
    return tuple(Misfit(t.name, t.read_m, math.dist(t.a, t.b)) for t in marked)


def _ask(
    a: Around, survey: dict[str, Any], read: dict[tuple[int, int], float], plan: Plan | None
) -> Ask | None:
    """Ask for the sides first, then for the diagonal that holds most, then what checks them."""
    for i, side in enumerate(a.sides):
        if _side_read(read, i, len(a.sides)) is None:
            return Ask(side, "the next side, to the right")
    known = rows(a, survey)
    if known is not None and rank(known) < 2 * len(a.corners) - 3:
        return _diagonal(a, read, known)
    told = (f.remedy.says for f in plan.findings if f.remedy) if plan else ()
    found = next((m for says in told if (m := _TAPE.search(says))), None)
    return Ask(found[1], "it checks the others") if found else None


def _diagonal(a: Around, read: dict[tuple[int, int], float], known: Any) -> Ask | None:
    """Find the tape over the roof that holds most of what the tapes leave loose."""
    n = len(a.corners)
    pairs = [(i, j) for i in range(n) for j in range(i + 2, n) if (i, j) not in read]
    seen = on_roof(np.array(a.ring), n, pairs)
    _, sizes, ways = np.linalg.svd(known)
    held = ways[: int((sizes > FAR_M**2).sum())]
    best, most = None, 0.0
    for (i, j), clear in zip(pairs, seen, strict=True):
        p, q = np.array(a.ring[i]), np.array(a.ring[j])
        row = np.zeros(2 * n)
        row[2 * i : 2 * i + 2] = (p - q) / np.hypot(*(p - q))
        row[2 * j : 2 * j + 2] = -row[2 * i : 2 * i + 2]
        new = float(np.hypot.reduce(row - held.T @ (held @ row)))
        if clear and new > most * (1 + FAR_M):
            best, most = (i, j), new
    if best is None:
        return None
    name = f"{a.corners[best[0]]}-{a.corners[best[1]]}"
    return Ask(name, "a diagonal: the corners are only taken to be square")


def _placed(plan: Plan | None, drafted: Drafted) -> tuple[Placed, ...]:
    if plan is None or drafted.job is None:
        return ()
    s = drafted.job.survey
    found = [Placed("openings", o.name, o.kind, o.ring) for o in plan.openings]
    for w in s.windows:
        side = plan.side(w.side)
        ends = (side.place(w.along_m), side.place(w.along_m + w.width_m))
        found.append(Placed("windows", w.name, "window", ends))
    found += [Placed("heights", h.name, h.kind, (plan.side(h.side).place(h.along_m, h.in_m),))
              for h in s.heights]  # fmt: skip
    at = {c.name: (c.x_m, c.y_m) for c in plan.corners}
    for v in s.levels:
        if v.corner is None and v.side:
            spot = plan.side(v.side).place(v.along_m or 0.0, v.in_m or 0.0)
        else:
            spot = at[v.corner or plan.corners[0].name]
        found.append(Placed("levels", v.name, "level", (spot,)))
    for r in s.readings:
        if r.side:
            spot = plan.side(r.side).place(r.along_m or 0.0, r.in_m or 0.0)
            found.append(Placed("readings", r.name, f"{r.percent:g} % damp", (spot,)))
    return tuple(found)
