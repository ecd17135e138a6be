"""The rules room: duties appear when the job triggers them, and only then."""

import datetime

import pytest
from tests.unit import plans

from evenfall.model.designed import Rules
from evenfall.model.finding import Change
from evenfall.model.job import Job
from evenfall.stages.design import rules
from evenfall.working import Working

ALWAYS = ["planning-rise", "notice-council", "upgrade-done", "edge-protection", "waste-note"]


def worked(
    job: Job, rise_mm: float = 133.0, scheme: bool = False, thinner: rules.Thinner = (0, ())
) -> Rules:
    """Work the rules of a roof that has what its nation asks."""
    survey = job.survey
    rise = Working("Rise", "rise", "mm", "by hand", rise_mm, own_basis="measured")
    return rules.work(
        job.job.nation, job.job.building, job.job.listed_or_conservation, scheme, survey.sides,
        survey.covering, survey.deck.kind, survey.below,
        (tuple(o.name for o in survey.openings if o.kind == "flue"),
         tuple(h for h in survey.heights if h.kind == "flue")),
        job.site.roof_height_m, job.design.vat.case, job.calendar.start_on, (rise, rise),
        plans.renewed(job), thinner,
    )  # fmt: skip


def told(job: Job, **over: object) -> list[str]:
    return plans.codes(worked(job, **over).findings)  # type: ignore[arg-type]


def test_a_thinner_board_is_offered_for_the_planning_rise_only_where_one_does_all():
    job, take = plans.job(), (Change("design.thickness_mm", 90),)
    for thinner, offered in (
        ((120, ((90, take),)), take),
        ((120, ((110, take),)), ()),  # 20 mm are too much
        ((120, ()), ()),
    ):
        told = plans.one(worked(job, 170.0, thinner=thinner).findings, "planning-rise")
        assert told.remedy is not None
        assert told.remedy.changes == offered
        assert ("Take 90 mm" in told.remedy.says) is bool(offered)


def test_a_plain_house_has_only_the_duties_of_every_roof():
    assert told(plans.job()) == ALWAYS


@pytest.mark.parametrize(("rise_mm", "level"), [(150.0, "fine"), (150.1, "agree")])
def test_planning_permission_is_needed_above_150_mm_and_the_margin_is_always_there(rise_mm, level):
    found = worked(plans.job(), rise_mm)
    assert plans.one(found.findings, "planning-rise").level == level
    assert found.planning_margin.value == pytest.approx(150 - rise_mm)
    assert "150 mm" in plans.one(found.findings, "planning-rise").says


def test_a_flat_asks_the_council_whatever_it_rises():
    found = worked(plans.job(job__building="flat"), 60.0).findings
    assert plans.one(found, "planning-flat").level == "agree"
    assert "planning-rise" not in plans.codes(found)


def test_a_listed_building_asks_first():
    assert "planning-listed" in told(plans.job(job__listed_or_conservation=True))


@pytest.mark.parametrize(
    ("boundary_m", "height_m", "level"),
    [(1.9, 2.4, "fine"), (1.9, 2.5, "agree"), (2.0, 2.5, "fine"), (2.0, 2.95, "agree")],
)
def test_a_garage_by_itself_has_a_greatest_height(boundary_m, height_m, level):
    job = plans.job(
        job__building="garage", site__roof_height_m=height_m,
        **{"survey__sides[B-C]__boundary_m": boundary_m},
    )  # fmt: skip
    assert plans.one(worked(job, 90.0).findings, "planning-garage").level == level


def test_a_garage_gives_no_building_notice():
    found = told(plans.job(job__building="garage"))
    assert "notice-garage" in found
    assert "notice-council" not in found


def test_who_certifies_himself_tells_the_council_afterwards():
    own = plans.one(worked(plans.job(), scheme=True).findings, "notice-own")
    assert own.level == "note"
    assert "30 days" in own.says


@pytest.mark.parametrize("nation", ["wales", "scotland", "northern_ireland"])
def test_other_nations_are_flagged(nation):
    assert "rules-of-england" in told(plans.job(job__nation=nation))


@pytest.mark.parametrize(
    ("year", "tested", "code"),
    [
        (1999, "not_sampled", "asbestos-untested"),
        (2000, "not_sampled", None),
        (1999, "none_found", None),
        (2000, "found", "asbestos-found"),
    ],
)
def test_old_felt_is_sampled_before_it_is_stripped(year, tested, code):
    job = plans.job(survey__covering__laid_year=year, survey__covering__asbestos=tested)
    found = [f for f in worked(job).findings if f.code.startswith("asbestos")]
    assert [(f.code, f.level) for f in found] == ([(code, "stop")] if code else [])


def test_asbestos_waste_keeps_its_note_longer():
    job = plans.job(survey__covering__asbestos="found")
    assert "3 years" in plans.one(worked(job).findings, "waste-note").says


def test_a_shared_wall_needs_a_party_wall_notice():
    job = plans.job(**{"survey__sides[D-A]__kind": "party_line"})
    assert plans.one(worked(job).findings, "party-wall").subject == "side:D-A"


def test_a_verge_on_the_boundary_may_not_hang_over_it():
    job = plans.job(**{"survey__sides[D-A]__boundary_m": 0})
    assert plans.one(worked(job).findings, "boundary-crossed").level == "note"


FLUE = {
    "name": "boiler", "kind": "flue", "side": "C-D", "along_m": 1.1, "in_m": 0.4,
    "diameter_mm": 100,
}  # fmt: skip
TERMINAL = {
    "name": "terminal", "kind": "flue", "side": "C-D", "along_m": 1.1, "above_covering_mm": 700,
}  # fmt: skip


def test_a_flue_that_nobody_measured_stops_the_job():
    job = plans.job(survey__openings=[FLUE])
    assert plans.one(worked(job).findings, "flue-unmeasured").level == "stop"


def test_a_measured_flue_calls_for_the_gas_engineer_and_a_guard():
    job = plans.job(survey__openings=[FLUE], survey__heights=[TERMINAL])
    found = worked(job, 133.0).findings
    assert "flue-unmeasured" not in plans.codes(found)
    says = plans.one(found, "flue-engineer").says
    assert "567 mm" in says
    assert "guard" in says


@pytest.mark.parametrize(("above", "guard"), [(2133, False), (2132, True)])
def test_a_guard_is_wanted_below_two_metres(above, guard):
    job = plans.job(survey__heights=[TERMINAL | {"above_covering_mm": above}])
    assert ("guard" in plans.one(worked(job, 133.0).findings, "flue-engineer").says) is guard


@pytest.mark.parametrize(("above", "level"), [(1132, "agree"), (1133, "note")])
def test_between_what_gas_and_what_solid_fuel_is_asked_a_registered_persons_word_counts(
    above, level
):
    job = plans.job(survey__heights=[TERMINAL | {"above_covering_mm": above}])
    found = plans.one(worked(job, 133.0).findings, "flue-engineer")
    assert found.level == level
    assert ("300 mm" in found.says and "1000 mm" in found.says) is (level == "agree")


@pytest.mark.parametrize(("wall_m", "said"), [(0.0, True), (2.6, False)])
def test_the_highest_roof_of_a_house_is_asked_about_where_the_sources_differ(wall_m, said):
    job = plans.job(**{"survey__sides[C-D]__wall_height_m": wall_m})
    assert ("planning-highest" in told(job)) is said


@pytest.mark.parametrize("kind", ["chipboard", "strawboard", "woodwool"])
def test_fragile_decks_are_named(kind):
    assert "deck-fragile" in told(plans.job(survey__deck__kind=kind))


def test_cables_and_vents_bring_their_cautions():
    job = plans.job(survey__below__cables_in_void=True, survey__below__old_vents=3)
    assert {"cables-in-void", "wildlife"} <= set(told(job))


@pytest.mark.parametrize(
    ("start", "code"),
    [
        (datetime.date(2027, 3, 3), None),
        (datetime.date(2027, 3, 4), "vat-zero-ends"),
        (datetime.date(2027, 3, 31), "vat-zero-ends"),
        (datetime.date(2027, 4, 1), "vat-zero-over"),
    ],
)
def test_the_end_of_the_zero_rate_is_watched(start, code):
    job = plans.job(
        design__vat={"case": "insulation_zero", "reason": "the accountant"},
        calendar__start_on=str(start),
    )
    assert [c for c in told(job) if c.startswith("vat")] == ([code] if code else [])


def test_the_standard_rate_clears_the_end_of_the_zero_rate():
    job = plans.job(
        design__vat={"case": "insulation_zero", "reason": "the accountant"},
        calendar__start_on="2027-05-10",
    )
    over = plans.one(worked(job).findings, "vat-zero-over")
    assert not [c for c in told(plans.cured(job, over)) if c.startswith("vat")]


def test_no_sentence_is_longer_than_two_lines():
    job = plans.job(
        job__nation="wales", job__listed_or_conservation=True, survey__openings=[FLUE],
        survey__heights=[TERMINAL], survey__deck__kind="woodwool",
        survey__covering__asbestos="found", survey__below__cables_in_void=True,
        survey__below__old_vents=2,
    )  # fmt: skip
    for found in worked(job, 171.0).findings:
        assert len(found.says) < 180, found.code
        assert found.source
