"""Boards under the edge, and edge screws, as the rooms see them: of what, renewed, painted."""

from __future__ import annotations

from typing import Any

from evenfall.model.case import Case
from evenfall.model.choice import pick
from evenfall.model.rates import LengthStock
from evenfall.stages.takeoff.coatings import TREATED
from evenfall.stages.takeoff.edge_held import TIMBERS, TRIM, EdgeScrews, TimberScrew
from evenfall.stages.takeoff.kerb_timber import KerbsAsked, above_mm
from evenfall.standards import take_off_practice


def made_of(c: Case, length: LengthStock) -> str:
    """Say what a length is, a fascia with its material.

    Parameters
    ----------
    c : Case
        The case [-].
    length : LengthStock
        A length of the rates [-].

    Returns
    -------
    str
        Words for order and quotation [-].
    """
    chosen = c.job.design.fascia_finish
    if chosen is None or not length.name.startswith("fascia"):
        return length.says
    return f"{length.says}, {pick(c.rates.fascias, chosen, 'design.fascia_finish').says}"


def kerf_of(c: Case, length: LengthStock) -> int:
    """Give the saw cut of a length: timber by the saw for timber, all else by that for trims.

    Parameters
    ----------
    c : Case
        The case [-].
    length : LengthStock
        A length of the rates [-].

    Returns
    -------
    int
        Width of the cut [mm].
    """
    saw = c.rates.saw
    return saw.timber_mm if length.name.startswith(TREATED) else saw.trims_mm


def kerbs_asked(c: Case, w: Any) -> KerbsAsked:
    """Gather what says how high kerbs must be.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: the build-up [-].

    Returns
    -------
    KerbsAsked
        Heights [mm].
    """
    survey = c.job.survey
    return KerbsAsked(
        c.job.design.kerb_height_mm, w.build.rubber.thickness_mm, survey.covering.thickness_mm,
        survey.joists.depth_mm + survey.deck.thickness_mm,
    )  # fmt: skip


def kerbs_above(c: Case, w: Any) -> tuple[tuple[str, float], ...]:
    """Tell how far the kerb of each rooflight stands above the finished roof.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: plan, falls, thickness [-].

    Returns
    -------
    tuple of (str, float)
        Name and height [mm].
    """
    boards, asked = w.rise.chosen_mm + w.build.overlay_mm, kerbs_asked(c, w)
    return tuple(
        (o.name, above_mm(o, w.falls, boards, asked))
        for o in w.plan.openings if o.kind == "rooflight" and o.diameter_mm is None
    )  # fmt: skip


def renewed_boards(c: Case) -> tuple[str, ...]:
    """Name the boards under the edge that are renewed.

    Parameters
    ----------
    c : Case
        The case [-].

    Returns
    -------
    tuple of str
        Of ``fascia`` and ``soffit`` [-].
    """
    design = c.job.design
    chosen = (("fascia", design.fascia), ("soffit", design.soffit))
    return tuple(name for name, what in chosen if what == "renew")


def paints(c: Case) -> bool:
    """Tell whether the firm paints the new fascia: it has an output for it, and the board is wood.

    Parameters
    ----------
    c : Case
        The case [-].

    Returns
    -------
    bool
        True also where nobody chose what the board is made of [-].
    """
    chosen = c.job.design.fascia_finish
    if c.job.design.fascia != "renew" or all(o.task != "coat" for o in c.rates.outputs):
        return False
    if chosen is None:
        return True
    return pick(c.rates.fascias, chosen, "design.fascia_finish").repaint_years is not None


def paint_thick_mm(c: Case, length: LengthStock) -> float | None:
    """Give the thickness of a fascia that is painted.

    Parameters
    ----------
    c : Case
        The case [-].
    length : LengthStock
        A length of the rates [mm].

    Returns
    -------
    float or None
        Thickness, that of practice where the rates do not tell it; None: not painted [mm].
    """
    if not length.name.startswith("fascia") or not paints(c):
        return None
    return float(length.thickness_mm or take_off_practice.FASCIA_THICK_MM)


def edge_screws(c: Case) -> EdgeScrews:
    """Take the screws of trims and edge timber out of the rates; what they do not say stays open.

    Parameters
    ----------
    c : Case
        The case [-].

    Returns
    -------
    EdgeScrews
        Length, thread and withdrawal strength [mm, N/mm2].
    """
    items = {i.name: i for i in c.rates.items}

    def of(name: str) -> TimberScrew:
        item = items.get(name)
        if item is None:
            return TimberScrew(name)
        held = item.in_timber
        thread, f_ax = (held.diameter_mm, held.f_ax_n_mm2) if held else (None, None)
        return TimberScrew(name, item.length_mm, thread, f_ax, c.rates.basis)

    return EdgeScrews(of(TRIM.name), of(TIMBERS.name))
