"""Every remedy that carries a change clears its finding, on the examples and on spoilt ones."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evenfall.flow import WorkedJob, work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change, Finding

SLOT = {"name": "slot", "side": "P-Q", "along_m": 2.9, "width_mm": 400, "height_mm": 40,
        "sill_above_roof_mm": 30}  # fmt: skip
SPOILT = {
    "as it is": (),
    "vents left open": (Change("design.vents", "leave"),),
    "vents half closed": (Change("design.vents", "close_some"),),
    "wall heads left open": (Change("design.wall_head", "leave"),),
    "no fall made": (Change("design.falls.kind", "keep"),),
    "a slight fall": (Change("design.falls.kind", "firrings"), Change("design.falls.one_in", 90)),
    "too thick": (Change("design.thickness_mm", 75),),
    "thickest": (Change("design.thickness_mm", 160),),
    "thinnest": (Change("design.thickness_mm", 50),),
    "one person": (Change("crew.people", 1),),
    "a VCL for no night": (Change("design.vcl", "polythene"),),
    "zero rate without a reason": (Change("design.vat.case", "insulation_zero"),),
    "not registered": (Change("design.vat.case", "not_registered"),),
    "wet quilt kept": (
        Change("design.quilt", "keep"),
        Change("survey.below.quilt_mm", 90),
        Change("survey.below.quilt_wet", True),
    ),
    "quilt kept": (Change("design.quilt", "keep"), Change("survey.below.quilt_mm", 140)),
    "uneven deck": (
        Change("design.hold_boards_by", "adhesive"),
        Change("survey.deck.dish_under_2m_mm", 14),
    ),
    "a low window": (
        Change("design.thickness_mm", 150),
        Change("survey.windows[scullery-window].sill_above_covering_mm", 346),
    ),
    "a window that meets the roof": (
        Change("survey.windows[landing-window].agreed_upstand_mm", 5),
        Change("survey.windows[landing-window].sill_above_covering_mm", 310),
        Change("survey.windows[landing-window].sash_above_covering_mm", 315),
    ),
    "a window buried by the roof": (
        Change("survey.windows[scullery-window].sill_above_covering_mm", 120),
        Change("survey.windows[scullery-window].sash_above_covering_mm", 140),
    ),
    "a window fixed without a word": (
        Change("survey.windows[scullery-window].treatment", "fix_shut"),
    ),
    "a new window that comes late": (
        Change("survey.windows[landing-window].treatment", "rehang"),
        Change("calendar.start_on", "2026-11-30"),
    ),
    "a zone that holds water": (
        Change(
            "design.thin_zones",
            [
                {
                    "name": "low",
                    "side": "C-D",
                    "from_m": 0.8,
                    "to_m": 2.1,
                    "in_m": 0.5,
                    "thickness_mm": 80,
                },
            ],
        ),
    ),
    "the old gutter kept": (Change("design.gutter", "keep"),),
    "harder rain, the old gutter kept": (
        Change("design.gutter", "keep"),
        Change("site.rain_l_s_m2", 0.042),
    ),
    "a gutter chosen too small": (
        Change("design.new_gutters", [{"side": "A-B", "width_mm": 100, "outlet_mm": 40}]),
        Change("site.rain_l_s_m2", 0.035),
    ),
    "a narrow overflow": (Change("design.overflows", [SLOT | {"width_mm": 40}]),),
    "an overflow above the door": (
        Change("design.overflows", [SLOT | {"sill_above_roof_mm": 90}]),
    ),
    "a small drain": (Change("survey.openings[drain].diameter_mm", 48),),
    "plastic rooflight": (Change("survey.openings[rooflight].glazing", "plastic"),),
    "a door without its channel": (Change("survey.heights[bin-door].drained_channel", False),),
}
SELDOM = {
    "too thick", "thickest", "thinnest", "a door without its channel", "a low window",
    "a window that meets the roof", "a window buried by the roof",
    "a window fixed without a word", "a new window that comes late", "a zone that holds water",
    "a gutter chosen too small", "a narrow overflow", "an overflow above the door",
    "a small drain", "plastic rooflight",
}  # fmt: skip


@pytest.fixture(scope="module")
def bare(cases) -> dict[str, WorkedJob]:
    """The examples worked without their options, which are whole jobs of their own."""
    none = (Change("design.options", []),)
    return {
        name: work_out(replace(case, job=apply(case.job, none))) for name, case in cases.items()
    }


def spoilt(sound: WorkedJob, changes) -> WorkedJob | None:
    worked = sound
    for change in changes:
        try:
            worked = again(worked, (change,))
        except ValueError:
            return None  # this roof has no such door, or its board no such thickness
    return worked


def again(worked: WorkedJob, changes) -> WorkedJob:
    """Work on from what is worked: that this equals a fresh start is a law of its own."""
    case = worked.case
    return work_out(replace(case, job=apply(case.job, changes)), worked)


def mend(finding: Finding) -> tuple:
    """Tell one mend from another: what is wrong, where, and what is changed."""
    return finding.code, finding.subject, finding.remedy and finding.remedy.changes


@pytest.mark.parametrize("how", SPOILT)
def test_a_remedy_with_a_change_clears_its_finding(bare, how):
    new, stood = [], []
    for name, sound in bare.items():
        before = spoilt(sound, SPOILT[how])
        if before is None:
            assert how in SELDOM, f"{name} cannot be spoilt so"
            continue
        known = [mend(f) for f in sound.findings] if SPOILT[how] else []
        for finding in before.findings:
            if finding.remedy is not None and finding.remedy.changes:
                (stood if mend(finding) in known else new).append((name, before, finding))
    assert new or stood, "nothing to mend: the case tests nothing"
    for name, before, finding in new or stood:  # what stood before is mended in "as it is"
        mended = again(before, finding.remedy.changes)
        left = {(f.code, f.subject) for f in mended.findings}
        assert (finding.code, finding.subject) not in left, (name, finding)


KINDS_LEAST = 12


def test_the_spoilt_jobs_bring_out_many_kinds_of_remedy(bare):
    kinds: set[str] = set()
    for changes in SPOILT.values():
        for sound in bare.values():
            if len(kinds) < KINDS_LEAST:  # enough seen: the rest is costly
                bad = spoilt(sound, changes)
                found = bad.findings if bad else ()
                kinds |= {f.code for f in found if f.remedy and f.remedy.changes}
    assert len(kinds) >= KINDS_LEAST, sorted(kinds)
