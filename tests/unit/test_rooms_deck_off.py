"""Joists while the deck is off: what holds them sideways, and what is said where nothing does."""

import math

import pytest
from tests.unit import plans

from evenfall.calc.loads.joists import Joist, bending_use
from evenfall.calc.loads.timber import strength_class
from evenfall.model.designed import DeckOff
from evenfall.model.job import Job
from evenfall.stages.design import joists
from evenfall.standards import en_1995_1_1 as en

SLENDER = {"survey__joists__width_mm": 38, "survey__joists__depth_mm": 195,
           "survey__joists__span_m": 4.2}  # fmt: skip


def found(job: Job, relaid_percent: float = 0.0):
    s, around = job.survey, plans.around()._replace(relaid_percent=relaid_percent)
    return joists.work(
        s.joists, s.deck, s.covering, s.below, job.site, plans.build(job), 120, "keep", (), around,
    )  # fmt: skip


def bare(job: Job) -> DeckOff:
    off = found(job).deck_off
    assert off is not None
    return off


def test_a_slender_joist_agrees_with_a_sum_by_hand():
    """C16 38 x 195 over 4.2 m, EN 1995-1-1 6.3.3: slender branch, no load sharing, short term."""
    job = plans.job(**SLENDER)
    G = sum(float(v) for n, _, v in found(job).cases[0].load.of if n not in ("imposed", "snow"))
    M = 1.35 * G * 0.4 * 4.2**2 / 8 + 1.5 * 900 * 4.2 / 4
    sigma_crit = 0.78 * 0.038**2 * 5400e6 / (0.195 * (0.9 * 4.2 + 2 * 0.195))
    slender = math.sqrt(16e6 / sigma_crit)
    assert slender > 1.4
    use = M / (0.038 * 0.195**2 / 6) / (16e6 * 0.9 / 1.3 / slender**2)
    assert bare(job).bending.value == pytest.approx(use)
    assert bare(job).held.value == pytest.approx(use / slender**2)


def test_a_deck_that_stays_down_holds_the_joists():
    assert found(plans.job(survey__deck__renew_percent=0, **SLENDER)).deck_off is None


def test_a_deck_that_is_laid_again_comes_off_too():
    job = plans.job(survey__deck__renew_percent=0, **SLENDER)
    assert found(job, relaid_percent=60.0).deck_off is not None


def test_stout_joists_are_passed_over_in_silence():
    job = plans.job()
    assert bare(job).bending.value < 0.9
    assert "joists-deck-off" not in plans.codes(found(job).findings)


def test_a_joist_that_would_tip_is_left_to_an_engineer_and_held_by_noggins():
    job = plans.job(**SLENDER)
    told = plans.one(found(job).findings, "joists-deck-off")
    assert (told.level, told.by_engineer) == ("stop", True)
    assert "structural engineer" in told.says
    assert told.remedy is not None
    assert "in strips no wider than" in told.remedy.says
    assert "joists-deck-off" not in plans.codes(found(plans.cured(job, told)).findings)


def test_the_longest_free_length_uses_the_joist_as_far_as_we_go():
    """Turned round and back again: at that length, moment even, nine tenths are used."""
    off = bare(plans.job(**SLENDER))
    joist = Joist(0.038, 0.195, 4.2, 0.4, strength_class("C16"))
    M = next(v for n, _, v in next(v for n, _, v in off.held.of if n == "sigma").of if n == "M")
    used = bending_use(
        joist, M, en.K_MOD["short"], en.NO_SHARING, en.GAMMA_M, off.longest,
        en.LENGTH_SHARE_EVEN,
    )  # fmt: skip
    assert used.value == pytest.approx(0.9)


@pytest.mark.parametrize("rows", range(4))
def test_another_row_of_noggins_never_makes_it_worse(rows):
    uses = [bare(plans.job(survey__joists__noggin_rows=n, **SLENDER)) for n in (rows, rows + 1)]
    assert uses[1].bending.value <= uses[0].bending.value
    assert uses[1].free_m < uses[0].free_m


def test_where_one_person_is_too_much_for_one_joist_noggins_are_no_remedy():
    job = plans.job(
        survey__joists__width_mm=38, survey__joists__depth_mm=97, survey__joists__span_m=3.9
    )
    told = plans.one(found(job).findings, "joists-deck-off")
    assert told.remedy is not None
    assert not told.remedy.changes
    assert "three joists" in told.remedy.says


def test_the_engineer_finds_it_in_the_table():
    rows = {q: v for q, v, _ in found(plans.job(**SLENDER)).engineer.rows}
    assert rows["deck off: joist free sideways over"] == pytest.approx(4.2)
    assert rows["deck off: one person, bending used"] == pytest.approx(
        bare(plans.job(**SLENDER)).bending.value * 100
    )
