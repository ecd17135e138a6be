"""The build-up from the deck up, as papers draw and name it."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.drawing.inks import HatchName
from evenfall.model.choice import build_up
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof


@dataclass(frozen=True, slots=True)
class Course:
    """One layer of the section, from the deck up."""

    name: str  # deck, firring, vcl, board, overlay, sheet
    says: str  # what is lettered on it
    thickness_mm: float
    hatch: HatchName


def courses(
    worked: WorkedRoof, added_mm: float, insulation_mm: float | None = None
) -> tuple[Course, ...]:
    """List what lies on the deck at one place, the lowest first; firrings lie under the deck.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    added_mm : float
        What firrings or tapers add there [mm].
    insulation_mm : float, optional
        All boards together, where they are thinner than in the field [mm].

    Returns
    -------
    tuple of Course
        Firring and the deck laid again on it, VCL, boards, overlay and sheet [mm].
    """
    build = build_up(worked.case.job.design, worked.case.rates)
    made: list[Course] = []
    if added_mm > 0 and worked.falls.kind in ("firrings", "shims"):
        deck = worked.case.job.survey.deck
        says = f"deck, {spoken(deck.kind)} {deck.thickness_mm:g}"
        made.append(Course("firring", "firring", added_mm, "wood"))
        made.append(Course("deck", says, deck.thickness_mm, "wood"))
    made.append(Course("vcl", "VCL", build.vcl.thickness_mm, "solid"))
    if added_mm > 0 and worked.falls.kind == "tapered":
        made.append(Course("taper", "tapered board", added_mm, "foam"))
    laid = worked.boards.layers_mm
    if insulation_mm is not None and round(insulation_mm) != sum(laid):
        laid = build.boards(round(insulation_mm))
    made += [Course("board", f"board {mm}", mm, "foam") for mm in laid]
    if build.overlay_mm:
        made.append(Course("overlay", f"overlay board {build.overlay_mm:g}", build.overlay_mm,
                           "wood"))  # fmt: skip
    made.append(Course("sheet", f"sheet {build.rubber.thickness_mm:g}",
                       build.rubber.thickness_mm, "solid"))  # fmt: skip
    return tuple(made)


def fascia_depth(worked: WorkedRoof, side: str) -> float | None:
    """Find the depth of the new fascia board of a side.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : str
        Name of the side [-].

    Returns
    -------
    float or None
        Depth as sold; None where the old fascia stays or there is none [mm].
    """
    return _depth(worked, side, ("fascia",))


def trim_depth(worked: WorkedRoof, side: str) -> float | None:
    """Find how far the trim or capping of a side shows from outside.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : str
        Name of the side [-].

    Returns
    -------
    float or None
        Height of its band; None where the rates do not say it [mm].
    """
    return _depth(worked, side, ("drip-trim", "kerb-trim", "parapet-capping"))


def _depth(worked: WorkedRoof, side: str, starts: tuple[str, ...]) -> float | None:
    depths = {s.name: s.depth_mm for s in worked.case.rates.lengths if s.name.startswith(starts)}
    for run in worked.lengths.runs:
        depth = depths.get(run.id.partition(":")[2])
        if depth is not None and any(n == side for bar in run.bars for n, _ in bar.cuts):
            return depth
    return None
