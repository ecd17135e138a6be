"""What one table of a job says about another: names that must exist, and things that must fit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from evenfall.errors import InvalidInput
from evenfall.model.change import apply
from evenfall.model.drainage_checks import misfits
from evenfall.model.finding import Change
from evenfall.model.job import Job, Survey
from evenfall.model.log_checks import log_slips
from evenfall.model.slip import Slip as Slip
from evenfall.model.wind_checks import wind_slips
from evenfall.standards import bank_holidays as law
from evenfall.standards.survey_practice import GROSS_MISCLOSURE


def slips(job: Job) -> tuple[Slip, ...]:
    """Find everything that does not fit together.

    Parameters
    ----------
    job : Job
        A job whose single values are sound [-].

    Returns
    -------
    tuple of Slip
        Empty when all fits [-].
    """
    found = _of_itself(job)
    return (*found, *_options(job, found))


def _of_itself(job: Job) -> tuple[Slip, ...]:
    survey = job.survey
    return (
        *_corners(survey),
        *_sides(survey),
        *wind_slips(job),
        *_tapes(survey),
        *_references(job),
        *_names(job),
        *_openings(survey),
        *_heights(survey),
        *_levels(survey),
        *_along(survey),
        *_windows(survey),
        *_zones(job),
        *_upper_board(job),
        *_areas(job),
        *_start(job),
        *(Slip(m.path, m.found, m.expected, do=m.do) for m in misfits(job)),
        *log_slips(job),
    )


def _areas(job: Job) -> Iterator[Slip]:
    """Refuse a building whose outside is no larger than its roof."""
    element, envelope = job.job.element_area_m2, job.job.envelope_area_m2
    if element is not None and envelope is not None and envelope <= element:
        yield Slip(
            "job.envelope_area_m2", f"{envelope:g} m2, and a roof of {element:g} m2",
            "more than the roof: walls, windows, all roofs and the lowest floor",
            do="add up the whole outside, or leave it out",
        )  # fmt: skip


def _start(job: Job) -> Iterator[Slip]:
    """Refuse a start in a year whose public holidays are not known, nor those of its neighbours."""
    on, first, last = job.calendar.start_on, law.FIRST_YEAR + 1, law.NO_LONGER - 2
    if not first <= on.year <= last:
        yield Slip(
            "calendar.start_on", f"{on}", f"a day in the years {first:.0f} to {last:.0f}",
            do="correct the year",
        )  # fmt: skip


def _upper_board(job: Job) -> Iterator[Slip]:
    """Ask for two layers, and the lower board, where the upper one is named."""
    design = job.design
    if design.upper_layer_mm is None:
        return
    if design.layers == 1:
        yield Slip(
            "design.upper_layer_mm", "an upper board, and one layer", "two layers",
            do="write layers: 2, or take upper_layer_mm out",
        )  # fmt: skip
    if design.thickness_mm is None:
        yield Slip(
            "design.upper_layer_mm", "an upper board without the lower one", "both thicknesses",
            do="write thickness_mm, the board on the VCL, as well",
        )  # fmt: skip


def side_names(corners: tuple[str, ...]) -> tuple[str, ...]:
    """Name the sides round the roof.

    Parameters
    ----------
    corners : tuple of str
        Corners, anticlockwise [-].

    Returns
    -------
    tuple of str
        ``A-B`` and so on, the last back to the first [-].

    Examples
    --------
    >>> side_names(("A", "B", "C"))
    ('A-B', 'B-C', 'C-A')
    """
    return tuple(f"{a}-{b}" for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))


def _doubled(words: Iterable[str]) -> set[str]:
    seen: set[str] = set()
    return {w for w in words if w in seen or seen.add(w)}  # type: ignore[func-returns-value]


def _corners(survey: Survey) -> Iterator[Slip]:
    for name in sorted(_doubled(survey.corners)):
        yield Slip(
            "survey.corners", f"two corners named {name}", "a name for each corner",
            do="rename one of them",
        )  # fmt: skip


def _sides(survey: Survey) -> Iterator[Slip]:
    wanted = side_names(survey.corners)
    given = [s.side for s in survey.sides]
    for index, name in enumerate(given):
        if name not in wanted:
            yield Slip(
                f"survey.sides[{index}].side", f'"{name}"',
                f"a side round the roof: {_listed(wanted)}", wanted,
            )  # fmt: skip
    for name in sorted(_doubled(given)):
        yield Slip("survey.sides", f"side {name} twice", "each side once", do="take one out")
    for name in wanted:
        if name not in given:
            yield Slip(
                "survey.sides", f"nothing about side {name}", "an entry for each side",
                do=f"add {{side: {name}, kind: ...}}",
            )  # fmt: skip
    for index, side in enumerate(survey.sides):
        if side.kind == "parapet" and side.parapet_height_mm is None:
            yield Slip(
                f"survey.sides[{index}]", f"parapet {side.side} without parapet_height_mm",
                "its height above the old covering", do="measure it",
            )  # fmt: skip
        head = side.wall_head
        if head is not None and head.slot_height_mm >= survey.joists.depth_mm:
            yield Slip(
                f"survey.sides[{index}].wall_head.slot_height_mm",
                f"{head.slot_height_mm:g} between wall top and deck",
                f"less than the joists are deep, {survey.joists.depth_mm:g}",
                do="measure from the top of the wall to the underside of the deck",
            )  # fmt: skip


def _tapes(survey: Survey) -> Iterator[Slip]:
    """Find tapes and offsets that are not between named corners or points."""
    for index, tape in enumerate(survey.tapes):
        path, ends = f"survey.tapes[{index}].between", tape.between.split("-")
        yield from _unknown(survey, path, ends)
        if ends[0] == ends[1]:
            yield Slip(path, f'"{tape.between}"', "two corners")
    for index, offset in enumerate(survey.offsets):
        path, line = f"survey.offsets[{index}]", offset.line.split("-")
        yield from _unknown(survey, f"{path}.line", line)
        yield from _unknown(survey, f"{path}.point", [offset.point])
        if offset.point in line or line[0] == line[1]:
            yield Slip(path, f"{offset.point} by {offset.line}", "a line between two others")
        if (offset.left_m is None) == (offset.right_m is None):
            yield Slip(
                path, "an offset to no side, or to both", "either left_m or right_m",
                do="stand at the first end of the line and look to the second",
            )  # fmt: skip
    yield from _unknown_corners(survey)
    for name in sorted(_doubled([*survey.corners, *survey.points]) & set(survey.points)):
        yield Slip("survey.points", f"two places named {name}", "a name for each", do="rename one")


def _unknown(survey: Survey, path: str, names: list[str]) -> Iterator[Slip]:
    known = (*survey.corners, *survey.points)
    for name in dict.fromkeys(n for n in names if n not in known):
        told = "corners" if not survey.points else "corners and points"
        yield Slip(path, f'corner "{name}"', f"one of the {told} {_listed(known)}", known)


def _unknown_corners(survey: Survey) -> Iterator[Slip]:
    for index, name in enumerate(survey.inner_corners):
        if name not in survey.corners:
            yield Slip(
                f"survey.inner_corners[{index}]", f'corner "{name}"',
                f"one of the corners {_listed(survey.corners)}", survey.corners,
            )  # fmt: skip


def _references(job: Job) -> Iterator[Slip]:
    survey, sides = job.survey, side_names(job.survey.corners)
    named = [
        *((f"survey.openings[{i}].side", o.side) for i, o in enumerate(survey.openings)),
        *((f"survey.heights[{i}].side", h.side) for i, h in enumerate(survey.heights)),
        *((f"survey.windows[{i}].side", w.side) for i, w in enumerate(survey.windows)),
        *((f"survey.gutters[{i}].side", g.side) for i, g in enumerate(survey.gutters)),
        *((f"survey.levels[{i}].side", v.side) for i, v in enumerate(survey.levels) if v.side),
        *((f"survey.readings[{i}].side", r.side) for i, r in enumerate(survey.readings) if r.side),
        *((f"design.new_gutters[{i}].side", g.side) for i, g in enumerate(job.design.new_gutters)),
        *((f"design.overflows[{i}].side", o.side) for i, o in enumerate(job.design.overflows)),
        *((f"design.thin_zones[{i}].side", z.side) for i, z in enumerate(job.design.thin_zones)),
        ("survey.joists.along", survey.joists.along),
        ("design.falls.low_side", job.design.falls.low_side),
    ]
    for path, side in named:
        if side not in sides:
            yield Slip(path, f'"{side}"', f"a side round the roof: {_listed(sides)}", sides)


def _names(job: Job) -> Iterator[Slip]:
    survey = job.survey
    tables = {
        "openings": [o.name for o in survey.openings],
        "heights": [h.name for h in survey.heights] + [w.name for w in survey.windows],
        "levels": [v.name for v in survey.levels],
        "readings": [r.name for r in survey.readings],
    }
    for table, names in tables.items():
        for name in sorted(_doubled(names)):
            yield Slip(f"survey.{table}", f"two entries named {name}", "a name for each")
    for name in sorted(_doubled(z.name for z in job.design.thin_zones)):
        yield Slip("design.thin_zones", f"two zones named {name}", "a name for each")
    for side in sorted(_doubled(g.side for g in survey.gutters)):
        yield Slip("survey.gutters", f"two gutters along {side}", "one along each side")
    for name in sorted(_doubled(o.name for o in job.design.options)):
        yield Slip("design.options", f"two options named {name}", "a name for each")


def _openings(survey: Survey) -> Iterator[Slip]:
    for index, opening in enumerate(survey.openings):
        square = opening.length_m is not None and opening.width_m is not None
        if square == (opening.diameter_mm is not None):
            yield Slip(
                f"survey.openings[{index}]", f"{opening.name} has no size, or two",
                "either length_m and width_m, or diameter_mm", do="give one of the two",
            )  # fmt: skip
        yield from _place(survey, index)


def _place(survey: Survey, index: int) -> Iterator[Slip]:
    """Find an opening without a place, and ties that lead nowhere."""
    opening, path = survey.openings[index], f"survey.openings[{index}]"
    along, inwards = opening.along_m is not None, opening.in_m is not None
    if along != inwards or along == bool(opening.ties):
        yield Slip(
            path, f"{opening.name} has no place, or two", "either along_m and in_m, or ties",
            do="say where it is",
        )  # fmt: skip
    if len(opening.ties) == 1:
        yield Slip(
            f"{path}.ties", f"one tie to {opening.name}", "two or more, from two corners or points",
            do="tape it from another corner too",
        )  # fmt: skip
    for number, tie in enumerate(opening.ties):
        yield from _unknown(survey, f"{path}.ties[{number}].point", [tie.point])
        if (tie.to_corner is None) == (opening.diameter_mm is None):
            wanted = "no to_corner: its middle" if opening.diameter_mm else "to_corner, 1 to 4"
            yield Slip(f"{path}.ties[{number}]", f"a tie to {opening.name}", wanted)


def _heights(survey: Survey) -> Iterator[Slip]:
    deck = -survey.covering.thickness_mm
    for index, height in enumerate(survey.heights):
        if height.above_covering_mm < deck:
            yield Slip(
                f"survey.heights[{index}].above_covering_mm",
                f"{height.name} at {height.above_covering_mm:g} mm lies below the deck",
                f"more than {deck:g} mm (the covering is {-deck:g} mm thick)",
                do="measure again from the top of the old felt",
            )
    for index, window in enumerate(survey.windows):
        if window.sill_above_covering_mm < deck:
            yield Slip(
                f"survey.windows[{index}].sill_above_covering_mm",
                f"{window.name} at {window.sill_above_covering_mm:g} mm lies below the deck",
                f"more than {deck:g} mm", do="measure again from the top of the old felt",
            )  # fmt: skip
        if window.sash_above_covering_mm < window.sill_above_covering_mm:
            yield Slip(
                f"survey.windows[{index}].sash_above_covering_mm",
                f"sash of {window.name} below its sill", "the sash above the sill",
            )  # fmt: skip


def _windows(survey: Survey) -> Iterator[Slip]:
    """Find a new sill without its height, and a height without a new sill."""
    for index, window in enumerate(survey.windows):
        path, new = f"survey.windows[{index}]", window.new_sill_above_covering_mm
        key = f"{path}.new_sill_above_covering_mm"
        if window.treatment == "raise_sill" and new is None:
            yield Slip(
                f"{path}.treatment", f"{window.name} gets a new sill, and nobody says how high",
                "new_sill_above_covering_mm as well", do="take the height that the finding names",
            )  # fmt: skip
        elif new is not None and window.treatment not in ("raise_sill", "fix_glass"):
            yield Slip(
                key, f"a new sill for {window.name}, whose treatment is {window.treatment}",
                "raise_sill or fix_glass", ("raise_sill", "fix_glass"),
                "choose the treatment, or take the new sill out",
            )  # fmt: skip
        elif new is not None and new < window.sill_above_covering_mm:
            yield Slip(
                key, f"a new sill of {window.name} at {new:g} mm, lower than the old one",
                f"more than {window.sill_above_covering_mm:g} mm", do="measure again",
            )  # fmt: skip


def _zones(job: Job) -> Iterator[Slip]:
    taped = {frozenset(t.between.split("-")): t.length_m for t in job.survey.tapes}
    for index, zone in enumerate(job.design.thin_zones):
        path = f"design.thin_zones[{index}]"
        if zone.from_m >= zone.to_m:
            yield Slip(
                f"{path}.to_m", f"{zone.name} runs from {zone.from_m:g} to {zone.to_m:g} m",
                f"more than {zone.from_m:g} m", do="measure both from the first corner of the side",
            )  # fmt: skip
        length_m = taped.get(frozenset(zone.side.split("-")))
        if length_m is not None and zone.to_m > length_m + GROSS_MISCLOSURE:
            yield Slip(
                f"{path}.to_m", f"{zone.to_m:g} m along {zone.side}",
                f"at most {length_m:g} m, as that side was taped",
                do="measure from the first corner of the side",
            )  # fmt: skip


def _levels(survey: Survey) -> Iterator[Slip]:
    for index, level in enumerate(survey.levels):
        at_corner = level.corner is not None
        at_side = None not in (level.side, level.along_m, level.in_m)
        if at_corner == at_side:
            yield Slip(
                f"survey.levels[{index}]", f"{level.name} has no place, or two",
                "either corner, or side with along_m and in_m", do="say where the staff stood",
            )  # fmt: skip
        elif at_corner and level.corner not in survey.corners:
            yield Slip(
                f"survey.levels[{index}].corner", f'"{level.corner}"',
                f"one of the corners {_listed(survey.corners)}", survey.corners,
            )  # fmt: skip


def _along(survey: Survey) -> Iterator[Slip]:
    """Find what lies further along a side than that side was taped long."""
    taped = {frozenset(t.between.split("-")): t.length_m for t in survey.tapes}
    placed = [
        *((f"openings[{i}]", o.side, o.along_m or 0.0) for i, o in enumerate(survey.openings)),
        *((f"heights[{i}]", h.side, h.along_m) for i, h in enumerate(survey.heights)),
        *((f"windows[{i}]", w.side, w.along_m) for i, w in enumerate(survey.windows)),
        *((f"levels[{i}]", v.side or "-", v.along_m or 0.0) for i, v in enumerate(survey.levels)),
        *(
            (f"readings[{i}]", r.side or "-", r.along_m or 0.0)
            for i, r in enumerate(survey.readings)
        ),
    ]
    for path, side, along_m in placed:
        length_m = taped.get(frozenset(side.split("-")))
        if length_m is not None and along_m > length_m + GROSS_MISCLOSURE:
            yield Slip(
                f"survey.{path}.along_m", f"{along_m:g} m along {side}",
                f"at most {length_m:g} m, as that side was taped",
                do="measure from the first corner of the side",
            )  # fmt: skip


def _options(job: Job, known: tuple[Slip, ...]) -> Iterator[Slip]:
    """Make the changes of each option and look for what does not fit together then."""
    if not job.design.options:
        return
    plain = apply(job, (Change("design.options", []),))
    for index, option in enumerate(job.design.options):
        path, name = f"design.options[{index}].changes", option.name
        try:
            changed = apply(plain, (Change(p, value) for p, value in option.changes.items()))
        except InvalidInput as wrong:
            told = f"option {name}, {wrong.where}: {wrong.what}"
            yield Slip(path, told, wrong.expected, do=wrong.do)
            continue
        for slip in _of_itself(changed):
            if slip not in known:
                told = f"option {name}, {slip.path}: {slip.found}"
                yield Slip(path, told, slip.expected, slip.words, slip.do)


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)
