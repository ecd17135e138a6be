"""The rules of the nation: shares, what they bring, and the tables of limits."""

import pytest
from tests.unit import plans

from evenfall.errors import InvalidInput
from evenfall.model.finding import Change
from evenfall.model.job_checks import slips
from evenfall.stages.design import nation, nation_tables
from evenfall.stages.design.thicknesses import NATIONS
from evenfall.standards.thermal_limits import ROOF_LIMITS
from evenfall.working import weakest

ROOF_M2 = 20.7


def found(job, scheme=False, **over):
    roof = plans.renewed(job, **over)
    return tuple(nation.findings(job.job.nation, job.job.building, scheme, roof))


def part_of(element=None, envelope=None, **more):
    return plans.job(job__element_area_m2=element, job__envelope_area_m2=envelope, **more)


def codes(job, **over):
    return plans.codes(found(job, **over))


def test_shares_are_worked_from_the_job():
    of_roof, of_outside = nation.shares(plans.renewed(part_of(61.2, 243.0)))
    assert of_roof.value == pytest.approx(100 * ROOF_M2 / 61.2)
    assert of_outside.value == pytest.approx(100 * ROOF_M2 / 243.0)
    assert of_roof.of[1][2].where == "job.element_area_m2"


def test_a_roof_that_is_not_entered_is_taken_as_the_whole_and_that_is_said():
    of_roof, of_outside = nation.shares(plans.renewed(plans.job()))
    assert (of_roof.value, of_outside) == (100, None)
    assert of_roof.basis == "planning seed"
    says = plans.one(found(plans.job()), "notice-council").says
    assert "taken as all of it" in says
    assert "not entered" in says
    rows = nation_tables.asked("england", "house", plans.renewed(plans.job())).rows
    assert "assumed" in rows[0][2]
    assert rows[1][2] == "not entered"


@pytest.mark.parametrize(
    ("element", "envelope", "notice"),
    [
        (41.3, 243.0, "notice-council"),  # 50.1 %
        (41.4, 243.0, "notice-by-council"),  # 50 %, some councils go by 25 %
        (82.7, 243.0, "notice-by-council"),  # 25.03 %
        (82.8, 243.0, "notice-none"),
        (82.81, 82.82, "notice-none"),  # 24.99 % of both
        (41.4, 82.7, "notice-council"),  # more than a quarter of the outside
        (82.8, None, "notice-open"),
        (41.3, None, "notice-council"),
        (None, 900.0, "notice-council"),
    ],
)
def test_notice_goes_by_both_shares(element, envelope, notice):
    told = [c for c in codes(part_of(element, envelope)) if c.startswith("notice")]
    assert told == [notice]


def test_both_rules_on_notices_are_shown_with_the_shares():
    says = plans.one(found(part_of(35.0, 243.0)), "notice-council").says
    for words in ("59 % of the roof", "9 % of the outside", "50 %", "25 %"):
        assert words in says


@pytest.mark.parametrize("place", ["element", "envelope"])
def test_a_whole_smaller_than_the_roof_is_refused_and_a_rounded_one_is_not(place):
    with pytest.raises(InvalidInput, match=rf"job.{place}_area_m2.*20.7 m2"):
        nation.shares(plans.renewed(part_of(**{place: 19.6})))
    assert nation.shares(plans.renewed(part_of(**{place: 20.0})))[0].value == 100


def test_a_building_no_larger_than_its_roof_is_a_slip():
    assert [s.path for s in slips(part_of(61.2, 61.2))] == ["job.envelope_area_m2"]
    assert not slips(part_of(61.2, 61.3))


def test_a_roof_as_good_as_asked_says_by_which_rule():
    done = plans.one(found(plans.job()), "upgrade-done")
    assert done.level == "fine"
    assert "50 % of the roof" in done.says
    assert "0.16" in done.says
    assert (done.value, done.limit) == (0.118, 0.16)


def test_a_target_of_ones_own_that_is_too_low_is_to_be_agreed_and_a_thicker_board_offered():
    take = tuple((Change("design.thickness_mm", mm),) for mm in (110, 140, 160))
    better = ((110, 0.19, take[0]), (140, 0.158, take[1]), (160, 0.14, take[2]))
    job = plans.job(design__target_u=0.22)
    missed = plans.one(found(job, u=0.19, better=better), "upgrade-missed")
    assert missed.level == "agree"
    assert missed.remedy.changes == take[1]
    bare = plans.one(found(job, u=0.19, better=better[:1]), "upgrade-missed")
    assert bare.remedy.changes == ()
    assert "15 years" in bare.remedy.says


def test_a_roof_that_misses_the_nations_own_target_is_told_by_the_rise_stick_alone():
    assert "upgrade-missed" not in codes(plans.job(), u=0.19)


def test_low_shares_ask_for_no_upgrade():
    told = plans.one(found(part_of(82.8, 243.0, design__target_u=0.22), u=0.19), "upgrade-not-due")
    assert "shares are low" in told.says
    assert "upgrade-missed" in codes(part_of(41.3, 243.0, design__target_u=0.22), u=0.19)


@pytest.mark.parametrize(("before_u", "asked"), [(0.35, False), (0.351, True)])
def test_an_old_roof_no_worse_than_the_threshold_needs_no_upgrade(before_u, asked):
    told = codes(plans.job(), before_u=before_u)
    assert ("upgrade-done" in told) is asked
    assert ("upgrade-not-due" in told) is not asked


def test_the_second_number_of_scotland_is_no_threshold():
    job = plans.job(job__nation="scotland", design__target_u=0.12)
    assert "upgrade-not-due" not in codes(job, before_u=0.30)
    rows = nation_tables.asked("scotland", "house", plans.renewed(job, u=0.36, before_u=0.30)).rows
    assert rows[3][:4] == ("finished roof, in all cases", "0.35 W/(m²K)", "0.360 W/(m²K)", "worse")


def test_the_rest_of_the_roof_must_reach_it_too():
    rest = plans.one(found(part_of(33.5, 400.0)), "upgrade-rest")
    assert rest.level == "agree"
    assert "13 m²" in rest.says
    assert "upgrade-rest" not in codes(part_of(21.5, 400.0))
    assert "upgrade-rest" not in codes(part_of(82.8, 400.0))  # no duty, no rest


def test_a_garage_by_itself_is_asked_for_nothing():
    job = plans.job(job__building="garage")
    assert codes(job) == ["notice-garage"]
    assert "garage" in nation_tables.asked("england", "garage", plans.renewed(job)).title


@pytest.mark.parametrize("own", NATIONS)
def test_the_table_of_nations_has_every_limit_once_and_its_own_nation_first(own):
    table = nation_tables.nations(own)
    assert table.rows[0][0] == NATIONS[own]
    parts = ("improved", "threshold", "new", "element", "envelope")
    every = [
        (name, cited.basis)
        for name, limits in ROOF_LIMITS.items()
        for part in parts
        if (cited := getattr(limits, part)) is not None
    ]
    assert sorted((row[0], row[-1]) for row in table.rows) == sorted(every)
    assert table.basis == weakest(basis for _, basis in every)


@pytest.mark.parametrize("own", NATIONS)
def test_shares_that_are_not_known_are_not_invented(own):
    rows = nation_tables.asked(own, "house", plans.renewed(part_of(61.2, 243.0, job__nation=own)))
    known = own in ("england", "wales")
    assert (rows.rows[0][1] == "above 50 %") is known
    assert (rows.rows[0][3] == "ask building control") is not known


@pytest.mark.parametrize("own", ["wales", "scotland", "northern_ireland"])
def test_other_nations_are_told_which_limits_are_theirs(own):
    told = plans.one(found(plans.job(job__nation=own)), "rules-of-england")
    assert f"heat are {NATIONS[own]}'s" in told.says
