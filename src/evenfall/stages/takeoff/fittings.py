"""Fittings of gutters, pipes, trims and fascias: counted from runs, corners and ends by rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from evenfall.model.designed import Hung
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import OpeningAt, Plan, SideAt
from evenfall.model.taken_off import Fitted, OrderLine, Run
from evenfall.stages.takeoff.sections import Section
from evenfall.standards import take_off_practice as practice
from evenfall.working import Basis, Known, total, weakest

MM = 1000
FLASHED = ("wall-bar", "cover-flashing")
"""What closes the head of an upstand, at walls and round chimneys."""
KINDS = ("gutter", "drip-trim", "kerb-trim", "parapet-capping", "fascia", "soffit",
         "cover-flashing")  # fmt: skip
"""What turns corners and ends; a downpipe has rules of its own, a bar is sawn to its mitre."""
WIDEST = ("fascia", "soffit")  # where two depths meet the corner is as deep as the deeper
ENDED = ("gutter", "kerb-trim", "parapet-capping")
STRAIGHT = 0.17  # sine of some 10 degrees: two sides that run on without a corner piece
WORDS = {
    "joint": "joint, one where two lengths meet",
    "corner-out": "outer corner",
    "corner-in": "inner corner",
    "end": "end that turns no corner",
    "outlet": "one for each pipe",
    "bend": "pair for each pipe, from the gutter back to the wall",
    "shoe": "foot of each pipe; none where it runs into a drain below ground",
}


@dataclass(frozen=True, slots=True)
class _Stretch:
    """One run along a side: how many boards one over another, in how many pieces."""

    side: SideAt
    section: Section
    pieces: int
    boards: int


def fitted(
    plan: Plan, runs: tuple[Run, ...], gutters: tuple[Hung, ...], sold: tuple[Section, ...]
) -> tuple[Fitted, ...]:
    """Count the fittings of everything that runs along the sides, and of the pipes.

    Parameters
    ----------
    plan : Plan
        Sides and corners [m].
    runs : tuple of Run
        Runs as they are cut [mm].
    gutters : tuple of Hung
        Gutters and their pipes [m].
    sold : tuple of Section
        Sections of the rates [mm].

    Returns
    -------
    tuple of Fitted
        Section by section; what is not wanted is left out [each].
    """
    by_name = {s.name: s for s in sold}
    found: dict[tuple[str, str], list[tuple[str, float]]] = {}
    for kind in KINDS:
        for section, fitting, where, number in _along(plan, runs, by_name, kind):
            found.setdefault((section, fitting), []).append((where, float(number)))
    for section, fitting, where, number in _round_chimneys(plan, runs):
        found.setdefault((section, fitting), []).append((where, float(number)))
    pipes = {g.side: g for g in gutters if g.new}
    for section, fitting, where, number in _piped(runs, pipes):
        found.setdefault((section, fitting), []).append((where, float(number)))
    return tuple(
        _fitted(by_name[section], name, [p for p in parts if p[1]])
        for (section, name), parts in sorted(found.items())
        if any(number for _, number in parts)
    )


Row = tuple[str, str, str, int]


def _along(
    plan: Plan, runs: tuple[Run, ...], by_name: dict[str, Section], kind: str
) -> Iterator[Row]:
    """Count joints along each side, and corners and ends between them."""
    laid = _laid(plan, runs, by_name, kind)
    for n, side in enumerate(plan.sides):
        after = plan.sides[(n + 1) % len(plan.sides)]
        here, there = laid.get(side.name, []), laid.get(after.name, [])
        for run in here:
            yield run.section.name, "joint", side.name, run.pieces - run.boards
        yield from _turn(here, there, side, after, kind)
        if kind == "gutter":
            yield from _brackets(here)


def _laid(
    plan: Plan, runs: tuple[Run, ...], by_name: dict[str, Section], kind: str
) -> dict[str, list[_Stretch]]:
    found: dict[str, list[_Stretch]] = {}
    for run in runs:
        name = run.id.partition(":")[2]
        if name.startswith(kind):
            for side in plan.sides:
                cuts = [mm for bar in run.bars for where, mm in bar.cuts if where == side.name]
                if cuts:
                    boards = max(1, round(sum(cuts) / (side.length_m * MM)))
                    one = _Stretch(side, by_name[name], len(cuts), boards)
                    found.setdefault(side.name, []).append(one)
    return found


def _turn(
    here: list[_Stretch], there: list[_Stretch], side: SideAt, after: SideAt, kind: str
) -> Iterator[Row]:
    """Say what is wanted where one side ends and the next begins."""
    names = {r.section.name for r in there}
    where = f"{side.name} to {after.name}"
    meet = [r for r in here if r.section.name in names or kind in WIDEST] if there else []
    if meet:
        wide = max((*meet, *there), key=lambda r: r.section.depth_mm or 0.0)
        section = wide.section.name if kind in WIDEST else meet[0].section.name
        corner = _corner(side, after, seen_from_roof=kind in FLASHED)
        boards = max(sum(r.boards for r in runs) for runs in (here, there))
        yield section, corner, where, boards
    elif kind in ENDED:
        for run in here:
            yield run.section.name, "end", f"{side.name}, at {after.name}", 1
        for run in there:
            yield run.section.name, "end", f"{after.name}, at {side.name}", 1


def _corner(side: SideAt, after: SideAt, seen_from_roof: bool) -> str:
    """Name the piece that turns a corner; an outer corner of the roof is an inner one of walls."""
    (u, v), (x, y) = side.outwards, after.along
    out = u * x + v * y
    if abs(out) < STRAIGHT:
        return "joint"
    return "corner-out" if (out < 0) != seen_from_roof else "corner-in"


def _round_chimneys(plan: Plan, runs: tuple[Run, ...]) -> Iterator[Row]:
    """Count joints and corners of the flashing round each chimney."""
    for run in runs:
        name = run.id.partition(":")[2]
        for o in plan.openings if name.startswith(KINDS) else ():
            faces = [_face(o, n) for n in range(len(o.ring))]
            cuts = [where for bar in run.bars for where, _ in bar.cuts if where in faces]
            if o.kind == "chimney" and cuts:
                yield name, "joint", o.name, len(cuts) - len(set(cuts))
                yield name, "corner-out", o.name, len(set(cuts))


def _face(opening: OpeningAt, number: int) -> str:
    """Name a face of a chimney as its lengths are cut for it."""
    return f"{opening.name} {number + 1}"


def _brackets(here: list[_Stretch]) -> Iterator[Row]:
    for run in here:
        number = ceil(run.side.length_m / practice.GUTTER_BRACKETS) + 1
        yield run.section.name, "bracket", run.side.name, number


def _piped(runs: tuple[Run, ...], pipes: dict[str, Hung]) -> Iterator[Row]:
    """Count what each pipe takes, and its outlet with a bracket on either side."""
    for run in runs:
        name = run.id.partition(":")[2]
        cuts = [where for bar in run.bars for where, _ in bar.cuts]
        for side, hung in pipes.items():
            if name.startswith("gutter") and side in cuts:
                yield name, "outlet", side, hung.pipes
                yield name, "bracket", f"{side}, beside outlets", 2 * hung.pipes
            mine = [w for w in cuts if w == side or w.startswith(f"{side} ")]
            if name.startswith("downpipe") and mine:
                clips = max(2, ceil(hung.pipe_length_m / practice.PIPE_CLIPS) + 1)
                yield name, "joint", side, len(mine) - hung.pipes
                yield name, "bend", side, 2 * hung.pipes
                yield name, "shoe", side, hung.pipes
                yield name, "bracket", side, clips * hung.pipes


def _fitted(section: Section, name: str, parts: list[tuple[str, float]]) -> Fitted:
    sold = dict(section.fittings)
    gap = practice.PIPE_CLIPS if section.name.startswith("downpipe") else practice.GUTTER_BRACKETS
    by: tuple[Known, ...] = (gap,) if name == "bracket" else (practice.FITTINGS,)
    note = f"at most {gap:g} m apart ({gap.basis})" if name == "bracket" else WORDS[name]
    if name == "bracket" and section.name.startswith("gutter"):
        note += ", one on either side of each outlet"
    need = total(f"{name} of {section.says}", "need", "each", parts)
    need = replace(need, own_basis=weakest(["measured", *(k.basis for k in by)]))
    where = ", ".join(f"{int(n)} × {w}" for w, n in parts)
    return Fitted(section.name, name, sold.get(name, ""), need, f"{note}: {where}")


def mitres(plan: Plan, run: Run) -> str:
    """Say how a bar that has no corner pieces goes round corners.

    Parameters
    ----------
    plan : Plan
        Sides and corners [m].
    run : Run
        Runs as they are cut [mm].

    Returns
    -------
    str
        Words for the order; empty where no two lengths of bar meet at a corner [-].
    """
    if run.id != f"length:{FLASHED[0]}":
        return ""
    cuts = {where for bar in run.bars for where, _ in bar.cuts}
    pairs = zip(plan.sides, (*plan.sides[1:], plan.sides[0]), strict=True)
    turns = [
        _corner(a, b, seen_from_roof=True) for a, b in pairs if {a.name, b.name} <= cuts
    ]  # fmt: skip
    faces = {_face(o, n) for o in plan.openings for n in range(len(o.ring))}
    turns += ["corner-out"] * len(faces & cuts)
    said = [
        f"{turns.count(kind)} {word}"
        for kind, word in (("corner-in", "inner"), ("corner-out", "outer")) if turns.count(kind)
    ]  # fmt: skip
    if not said:
        return ""
    return f"No corner pieces: at {' and '.join(said)} corners ends are sawn to a mitre and sealed"


def lines(fitted_: tuple[Fitted, ...], basis: Basis) -> Iterator[OrderLine]:
    """Order the fittings that the rates hold, one by one.

    Parameters
    ----------
    fitted_ : tuple of Fitted
        As counted [each].
    basis : str
        Basis of the rates [-].

    Yields
    ------
    OrderLine
        As many as are needed [each].
    """
    for f in fitted_:
        if f.says:
            number = round(f.need.value)
            yield OrderLine(
                f.id, f.says, f.need, "each", ((number, 1.0, "piece"),), float(number),
                weakest([f.need.basis, basis]), f.note,
            )  # fmt: skip


def lacking(fitted_: tuple[Fitted, ...]) -> Iterator[Finding]:
    """Say which fittings are wanted that the rates do not hold.

    Parameters
    ----------
    fitted_ : tuple of Fitted
        As counted [each].

    Yields
    ------
    Finding
        One for all of them [-].
    """
    missing = [f for f in fitted_ if not f.says]
    if not missing:
        return
    told = ", ".join(f"{round(f.need.value)} × {f.name} of {f.section}" for f in missing)
    says = f"The rates hold no fitting for {told}: neither ordered nor priced."
    rule = practice.FITTINGS
    cure = Remedy("Add them to the fittings of these lengths in the rates.")
    yield Finding("fittings-not-in-rates", "edges", "agree", says, rule.source, rule.basis,
                  remedy=cure)  # fmt: skip


def screws(fitted_: tuple[Fitted, ...]) -> float:
    """Count the screws of gutter brackets and pipe clips.

    Parameters
    ----------
    fitted_ : tuple of Fitted
        As counted [each].

    Returns
    -------
    float
        Screws [each].
    """
    brackets = sum(f.need.value for f in fitted_ if f.name == "bracket")
    return brackets * practice.BRACKET_SCREWS
