"""What is said about the finished fall: as laid, under load, in its valleys, and where water stays.

Working at a roof that holds water is no danger to people; what stands here are the rules of the
falls. Where the joists are too soft, a structural engineer is asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, floor

from evenfall.calc.drainage.tapering import behind
from evenfall.model.finding import Change, Finding, Level, Remedy
from evenfall.model.job import Falls as Chosen
from evenfall.model.surveyed import Plan, Pond, TaperRows, Valley
from evenfall.stages.survey.deck import KERBED, anticlockwise
from evenfall.standards import falls_practice, survey_practice
from evenfall.working import Known, Working

MM = 1000
SEEN = 0.5  # mm per m; no level shows less
ALIKE = 1e-6  # mm per m; less is the rounding of a sum
STEEPEST = 20  # 1 in so many: no steeper fall can be asked for in a job


def findings(
    chosen: Chosen,
    plan: Plan,
    finished: Working,
    left: Working,
    ponds: tuple[Pond, ...],
    valleys: tuple[Valley, ...],
    rows: TaperRows | None = None,
) -> tuple[Finding, ...]:
    """Judge the finished fall.

    Parameters
    ----------
    chosen : Falls
        What the owner chose [-].
    plan : Plan
        Openings [m].
    finished, left : Working
        Fall as laid, and under load [mm/m].
    ponds : tuple of Pond
        What the finished roof keeps [mm].
    valleys : tuple of Valley
        Where it gathers water [mm/m].
    rows : TaperRows, optional
        Tapered boards that are bought [mm].

    Returns
    -------
    tuple of Finding
        One about the fall, more about what is wrong [-].
    """
    return (
        _fall(chosen, finished, left),
        *_ponds(chosen, ponds),
        *_valleys(chosen, valleys),
        *_kerbs(chosen, plan),
        *_pieces(chosen),
        *_tapered(chosen, rows),
    )


def _fall(chosen: Chosen, finished: Working, left: Working) -> Finding:
    least, design = falls_practice.FINISHED_FALL, falls_practice.DESIGN_FALL
    fall, under, subject = finished.value, left.value, f"side:{chosen.low_side}"
    remedy = Remedy(
        f"Make the fall with firrings, 1:{1 / design:.0f}.",
        (Change("design.falls.kind", "firrings"), Change("design.falls.one_in", 1 / design)),
    )
    if fall <= ALIKE:
        says = (
            f"The finished roof is level or falls away from {chosen.low_side}: water does not get "
            "to that side."
        )
        return _finding("fall-back", subject, "stop", says, fall, least, remedy)
    if fall < least * MM - ALIKE:
        says = (
            f"The finished fall to {chosen.low_side} is 1:{MM / fall:.0f}; less than "
            f"1:{1 / least:.0f} holds water."
        )
        return _finding("fall-short", subject, "stop", says, fall, least, remedy)
    if under < least * MM - ALIKE:
        says = (
            f"The finished fall of 1:{MM / fall:.0f} is {_told(under)} at the low end of the "
            f"joists when they sag under load; 1:{1 / least:.0f} is to be left."
        )
        cure = _steeper(fall - under)
        return _finding("fall-loaded", subject, "agree", says, under, least, cure)
    kept = f"1:{MM / under:.0f} is left when the joists sag under load"
    if fall < design * MM - ALIKE:
        says = (
            f"The finished fall is 1:{MM / fall:.0f}; {kept}. Without levels and joists reckoned "
            f"it would have to be 1:{1 / design:.0f}."
        )
        return _finding("fall-slight", subject, "note", says, fall, design, remedy)
    says = f"The roof falls 1:{MM / fall:.0f} to {chosen.low_side}; {kept}."
    return _finding("fall-good", subject, "fine", says, fall, least, None)


def _told(fall: float) -> str:
    return f"1:{MM / fall:.0f}" if fall > SEEN else "none"


def _steeper(lost: float) -> Remedy:
    """Ask for the fall that leaves enough, as firrings, where a job can ask for it."""
    need = falls_practice.FINISHED_FALL * MM + lost
    one_in = floor(MM / need)
    if one_in < STEEPEST:
        return Remedy("Stiffen the joists: a structural engineer says how.")
    return Remedy(
        f"Make the fall with firrings, 1:{one_in}.",
        (Change("design.falls.kind", "firrings"), Change("design.falls.one_in", one_in)),
    )


def _ponds(chosen: Chosen, ponds: tuple[Pond, ...]) -> Iterator[Finding]:
    """Say where the finished roof keeps water."""
    limit = survey_practice.STANDING_WATER
    deep = [p for p in ponds if p.depth_mm > limit * MM]
    if not deep:
        return
    worst = deep[0]
    says = (
        f"Water would stand {worst.depth_mm:.0f} mm deep on the finished roof, over "
        f"{worst.area_m2:.1f} m² ({worst.volume_l:.0f} l)."
    )
    other = "tapered" if chosen.kind == "firrings" else "firrings"
    words = {
        "firrings": "Make the fall with firrings, cut to each joist.",
        "tapered": "Cut boards to falls, from all sides to the outlets.",
    }
    cure = Remedy(words[other], (Change("design.falls.kind", other),))
    yield Finding(
        "pond-after", worst.id, "agree", says, limit.source, limit.basis, worst.depth_mm,
        limit * MM, "mm", cure,
    )  # fmt: skip


def _valleys(chosen: Chosen, valleys: tuple[Valley, ...]) -> Iterator[Finding]:
    """Check valleys along the mitre."""
    least = falls_practice.FINISHED_FALL
    flat = [v for v in valleys if v.fall_mm_m < least * MM - ALIKE]
    mitre = next((v for v in flat if v.says == "valley"), None)
    if mitre is not None and chosen.kind == "tapered":
        steeper = floor(1 / falls_practice.DESIGN_FALL)
        says = (
            f"Along the mitre the boards fall {_told(mitre.fall_mm_m)}, less than either of the "
            f"two that meet there; 1:{1 / least:.0f} is to be left along it."
        )
        cure = Remedy("Tell the maker: the mitre decides.")
        if chosen.one_in > steeper:
            cure = Remedy(f"Cut them to 1:{steeper}.", (Change("design.falls.one_in", steeper),))
        yield _finding(
            "valley-flat", "fall:valley", "agree", says, mitre.fall_mm_m, least, cure
        )  # fmt: skip


def _kerbs(chosen: Chosen, plan: Plan) -> Iterator[Finding]:
    """Name the kerb behind which water stays; tapered boards have their ridge there."""
    wide, way = falls_practice.CRICKET_FROM, plan.side(chosen.low_side).outwards
    for opening in plan.openings:
        if opening.kind not in KERBED or chosen.kind == "tapered":
            continue
        ridge = behind(anticlockwise(opening.ring), way, 1.0, wide)
        if ridge is not None:
            says = (
                f"Behind the kerb of {opening.name}, {dist(ridge.a, ridge.b):.2f} m wide, the roof "
                "is level from side to side: water stays there unless a small ridge parts it."
            )
            yield Finding(
                "kerb-level", opening.id, "note", says, wide.source, wide.basis,
                dist(ridge.a, ridge.b), float(wide), "m",
                Remedy("Set a ridge of tapered board behind it, half as long as it is wide."),
            )  # fmt: skip


def _pieces(chosen: Chosen) -> Iterator[Finding]:
    """Say what firrings or tapered boards still need."""
    thin, least = chosen.thin_end_mm, falls_practice.THIN_END_LEAST_MM
    if chosen.kind == "firrings" and thin < least:
        says = (
            f"The firrings run out to {thin:.0f} mm: under {least:.0f} they split when they are "
            "fixed."
        )
        thicker = (Change("design.falls.thin_end_mm", least.value),)
        cure = Remedy(f"Start them at {least:.0f} mm.", thicker)
        yield Finding(
            "firring-thin", "fall:field", "note", says, least.source, least.basis, thin,
            least.value, "mm", cure,
        )  # fmt: skip


def _tapered(chosen: Chosen, rows: TaperRows | None) -> Iterator[Finding]:
    """Say which tapered boards are laid, and what of them is not in order and price."""
    if chosen.kind != "tapered":
        return
    by = falls_practice.TAPERED_FALLS[0]
    firrings = (Change("design.falls.kind", "firrings"),)
    if rows is None:
        says = (
            "No tapered boards of the rates make this fall: to an open side they are laid in rows, "
            "to outlets they are cut to a scheme by whoever makes them. Their heights are on the "
            "calculation sheets, but they are neither in the order nor in the price, so this price "
            "is not ready to send."
        )
        cure = Remedy("Ask for a scheme and a price, write tapered boards that are steep enough "
                      "into the rates (tapers), or make the fall with firrings.",
                      firrings)  # fmt: skip
        yield Finding("taper-by-scheme", "fall:field", "stop", says, by.source, by.basis,
                      remedy=cure)  # fmt: skip
        return
    stock, foot = rows.stock, rows.foot_mm
    says = (
        f"Tapered boards 1:{stock.one_in:g} in rows from {chosen.low_side} upwards, {foot:.0f} mm "
        "thick there: every piece lies by its number, thin edge towards that side, none turned; "
        "even boards fill up under the rows in which the kinds begin anew. The rows cannot be "
        "moved, so joints of the even boards above may lie over theirs."
    )
    cure = Remedy("Lay the rows tight, by their drawing; foam any gap between them before the "
                  "even boards are laid over them.")  # fmt: skip
    yield Finding("taper-rows", "fall:field", "note", says, by.source, by.basis, remedy=cure)
    if rows.ridges:
        says = (
            f"The ridge behind {', '.join(rows.ridges)} is cut from tapered boards with no thin "
            "edge, which no rates hold: it is neither in the order nor in the price, so this price "
            "is not ready to send."
        )
        cure = Remedy("Ask whoever makes the boards for its pieces and a price, or make the fall "
                      "with firrings.", firrings)  # fmt: skip
        yield Finding("cricket-by-scheme", "fall:field", "stop", says, by.source, by.basis,
                      remedy=cure)  # fmt: skip


def _finding(
    code: str,
    subject: str,
    level: Level,
    says: str,
    fall: float,
    limit: Known,
    remedy: Remedy | None,
) -> Finding:
    return Finding(
        code, subject, level, says, limit.source, limit.basis, fall, limit * MM, "mm/m", remedy
    )
