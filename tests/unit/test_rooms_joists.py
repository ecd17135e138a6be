"""The joists room: weights before, during and after, strength, sag, and what is said of them."""

import pytest
from tests.unit import plans

from evenfall.model.designed import Joists
from evenfall.model.job import Job
from evenfall.stages.design import joist_case, joists
from evenfall.stages.design.joist_case import Loads


def worked(job: Job, fall_kind: str = "keep", added_mm: tuple[float, ...] = ()) -> Joists:
    s = job.survey
    return joists.work(
        s.joists,
        s.deck,
        s.covering,
        s.below,
        job.site,
        plans.build(job),
        120,
        fall_kind,
        added_mm,
        plans.around(),
    )


def parts(found: Joists, name: str) -> dict[str, float]:
    case = next(c for c in found.cases if c.name == name)
    return {part: float(value) for part, _, value in case.load.of}


def test_the_sample_tells_the_weight_of_the_old_felt():
    """0.99 kg on 300 by 300 mm is 11 kg/m2."""
    assert parts(worked(plans.job()), "before")["old felt"] == pytest.approx(11 * 9.81)


def test_the_four_moments_carry_what_lies_there_then():
    found = worked(plans.job())
    assert set(parts(found, "before")) == {
        "deck", "ceiling", "joists", "quilt", "old felt", "imposed", "snow",
    }  # fmt: skip
    assert set(parts(found, "during")) == {
        "deck", "ceiling", "joists", "quilt", "VCL", "pack of boards",
        "water at the open way out",
    }  # fmt: skip
    assert set(parts(found, "night")) == {
        "deck", "ceiling", "joists", "quilt", "VCL", "left overnight",
        "water at the open way out",
    }  # fmt: skip
    assert set(parts(found, "after")) == {
        "deck", "ceiling", "joists", "new roof", "imposed", "snow",
    }  # fmt: skip


def test_a_kept_quilt_stays_on_the_joists():
    assert "quilt" in parts(worked(plans.job(design__quilt="keep")), "after")


def test_water_of_25_mm_weighs_a_quarter_of_a_kilonewton():
    assert parts(worked(plans.job()), "during")["water at the open way out"] == pytest.approx(
        245.25
    )


def test_no_creep_is_counted_for_a_few_nights():
    during = next(c for c in worked(plans.job()).cases if c.name == "during")
    (_, _, before), *_ = during.deflection.of  # the water that gathers in the sag comes on top
    (_, _, final), *_ = before.of  # type: ignore[union-attr]
    assert {name: float(v) for name, _, v in final.of}["k_def"] == 0  # type: ignore[union-attr]


@pytest.mark.parametrize(("ceiling_mm", "part"), [(12.5, 250), (0, 150)])
def test_plaster_below_has_the_stricter_limit(ceiling_mm, part):
    found = worked(plans.job(survey__below__ceiling_mm=ceiling_mm))
    assert found.cases[0].limit_mm == pytest.approx(2900 / part)


def test_utilisation_agrees_with_a_sum_by_hand():
    """C16 47 x 145 mm at 400 mm over 2.9 m: M / W over k_mod k_sys k_h f / gamma_M."""
    found = worked(plans.job())
    p = parts(found, "after")
    G = sum(v for k, v in p.items() if k not in ("imposed", "snow"))
    Q, S = p["imposed"], p["snow"]
    q_d = 1.35 * G + max(1.5 * Q + 0.75 * S, 1.05 * Q + 1.5 * S)
    strength = 0.8 * 1.1 * (150 / 145) ** 0.2 * 16e6 / 1.3
    stress = q_d * 0.4 * 2.9**2 / 8 / (0.047 * 0.145**2 / 6)
    together = found.cases[3].combinations[0]
    assert together.bending.value == pytest.approx(stress / strength)


def test_firrings_and_tapers_weigh_something():
    plain = worked(plans.job()).change_percent.value
    firrings = worked(plans.job(), "firrings", (25.0, 25.0, 127.0, 127.0)).change_percent.value
    tapers = worked(plans.job(), "tapered", (0.0, 0.0, 102.0, 102.0)).change_percent.value
    assert plain < tapers < firrings


def sample_for(percent: float) -> float:
    """Weight of the sample at which the change is just this much."""
    new = worked(plans.job()).change_percent
    m_new = next(float(v) for n, _, v in new.of if n == "m_new")
    return m_new / (1 + percent / 100) * 0.09


@pytest.mark.parametrize(
    ("percent", "code"),
    [
        (15.1, "weight-heavier"),
        (14.9, None),
        (-14.9, None),
        (-15.1, "weight-lighter"),
    ],
)
def test_a_change_of_weight_is_flagged_both_ways_from_fifteen_percent(percent, code):
    job = plans.job(survey__covering__sample_300_by_300_kg=sample_for(percent))
    found = worked(job)
    assert found.change_percent.value == pytest.approx(percent)
    told = [c for c in plans.codes(found.findings) if c.startswith("weight")]
    assert told == ([code] if code else [])


def test_leaving_the_overlay_board_out_clears_the_weight():
    job = plans.job(design__overlay_mm=18)
    heavier = plans.one(worked(job).findings, "weight-heavier")
    assert heavier.level == "agree"
    assert not [
        c for c in plans.codes(worked(plans.cured(job, heavier)).findings) if "heavier" in c
    ]


@pytest.mark.parametrize(("sag", "said"), [(14.5, False), (14.6, True)])
def test_a_sag_beyond_span_over_200_is_a_bad_sign(sag, said):
    found = worked(plans.job(survey__joists__sag_mm=sag)).findings
    assert [f.level for f in found if f.code == "joist-sag"] == ["stop"] * said


@pytest.mark.parametrize(("ends", "level"), [("rotten", "stop"), ("soft", "agree")])
def test_bad_joist_ends_are_said(ends, level):
    found = worked(plans.job(survey__joists__ends=ends)).findings
    assert [f.level for f in found if f.code.startswith("joist-")] == [level]


@pytest.mark.parametrize(("span", "said"), [(3.13, False), (3.14, True)])
def test_spans_are_compared_with_the_old_tables(span, said):
    """47 x 147 mm at 400 mm, dead load up to 0.50 kN/m2: about 3.3 m; 145 mm is a little less."""
    found = worked(plans.job(survey__joists__span_m=span + table_shift()))
    assert ("span-long" in plans.codes(found.findings)) is said


def table_shift() -> float:
    """Distance from 3.13 m to what the table of this joist says."""
    far = worked(plans.job(survey__joists__span_m=4.4))
    limit = plans.one(far.findings, "span-long").limit
    assert limit is not None
    assert 3.0 < limit < 3.3
    return limit - 3.13


def test_joists_too_weak_for_the_new_roof_are_stopped():
    job = plans.job(
        survey__joists__span_m=4.6, survey__joists__depth_mm=97,
        survey__covering__sample_300_by_300_kg=0.6, design__quilt="keep",
    )  # fmt: skip
    told = plans.one(worked(job).findings, "joists-weak-after")
    assert told.level == "stop"
    assert "structural engineer" in told.says


def test_joists_that_were_too_weak_and_get_no_worse_still_stop():
    """They carried less than they must before anybody came: a new roof over them hides that."""
    job = plans.job(
        survey__joists__span_m=4.6, survey__joists__depth_mm=97,
        survey__covering__sample_300_by_300_kg=2.7,
    )  # fmt: skip
    told = plans.one(worked(job).findings, "joists-weak-after")
    assert (told.level, told.by_engineer) == ("stop", True)
    assert "makes it no worse, but it was too weak before and still is" in told.says
    assert "Joists, for the engineer" in told.remedy.says


def used(depth_mm: float) -> float:
    return worked(plans.job(survey__joists__depth_mm=depth_mm)).cases[3].worst[0]


def test_joists_near_their_strength_stop_and_say_from_where():
    depth = next(d for d in range(145, 80, -1) if used(d) > 0.9)
    assert used(depth) < 1
    job = plans.job(survey__joists__depth_mm=depth)
    told = plans.one(worked(job).findings, "joists-near-after")
    assert told.level == "stop"
    assert "From 90 % of the limit on it stops" in told.says
    assert "joists-near-after" not in plans.codes(
        worked(plans.job(survey__joists__depth_mm=depth + 1)).findings
    )


def test_a_sag_near_its_limit_stops():
    """Long and stiff enough to be strong: the sag is what comes near first."""
    spans = (3.0 + n / 100 for n in range(100))
    found = next(
        f for f in (worked(plans.job(survey__joists__span_m=s)).findings for s in spans)
        if "joists-sag" in plans.codes(f)
    )  # fmt: skip
    told = plans.one(found, "joists-sag")
    assert told.level == "stop"
    assert 0.9 * told.limit < told.value < told.limit


def test_a_pack_and_one_person_stand_on_the_same_joist_by_hand():
    """All in full, short term: the even load over 2.9 m, and 0.9 kN at mid-span beside it."""
    found = worked(plans.job())
    during = next(c for c in found.cases if c.name == "during")
    of = parts(found, "during")
    passing = ("pack of boards", "water at the open way out")
    q_d = 1.35 * sum(v for k, v in of.items() if k not in passing)
    q_d += 1.5 * sum(of[k] for k in passing)
    M = q_d * 0.4 * 2.9**2 / 8 + 1.5 * 900 * 2.9 / 4
    V = q_d * 0.4 * 2.9 / 2 + 1.5 * 900
    f_m = 0.9 * 1.1 * (150 / 145) ** 0.2 * 16e6 / 1.3
    a = 1 / (1 - plans.ponding(0.047, 0.145, 2.9, 0.4))
    assert a > 1.04
    assert during.bending.value == pytest.approx(a * M / (0.047 * 0.145**2 / 6) / f_m)
    f_v = 0.9 * 1.1 * 3.2e6 / 1.3
    assert during.shear.value == pytest.approx(a * 1.5 * V / (0.67 * 0.047 * 0.145) / f_v)
    assert [c.says for c in during.combinations] == ["all together", "lasting load alone"]


@pytest.mark.parametrize("name", ["before", "after"])
def test_one_person_is_worked_in_bending_shear_bearing_and_sag_by_hand(name):
    """1.35 G over 2.9 m and 1.5 x 0.9 kN, at mid-span for M and u, at a bearing for V; short."""
    case = next(c for c in worked(plans.job()).cases if c.name == name)
    (one,) = (c for c in case.combinations if c.says == "one person")
    G = sum(float(v) for n, _, v in case.load.of if n not in ("imposed", "snow")) * 0.4
    M = 1.35 * G * 2.9**2 / 8 + 1.5 * 900 * 2.9 / 4
    V = 1.35 * G * 2.9 / 2 + 1.5 * 900
    k = 0.9 * 1.1 / 1.3
    assert one.k_mod == 0.9
    strength = k * (150 / 145) ** 0.2 * 16e6
    assert one.bending.value == pytest.approx(M / (0.047 * 0.145**2 / 6) / strength)
    assert one.shear.value == pytest.approx(1.5 * V / (0.67 * 0.047 * 0.145) / (k * 3.2e6))
    assert one.bearing.value == pytest.approx(V / (0.047 * 0.080) / (k * 2.2e6))
    EI, GA = 8000e6 * 0.047 * 0.145**3 / 12, 500e6 * 0.047 * 0.145
    u_P = 900 * 2.9**3 / (48 * EI) + 1.2 * 900 * 2.9 / (4 * GA)
    u_G = 5 * G * 2.9**4 / (384 * EI) + 1.2 * G * 2.9**2 / (8 * GA)
    assert case.person_at_once.value == pytest.approx(1000 * u_P)
    assert case.person_deflection.value == pytest.approx(1000 * (1.8 * u_G + u_P))


def test_the_lasting_load_alone_is_held_against_the_strength_for_good():
    """k_mod 0.6: the shortest load of a combination sets it, EN 1995-1-1 3.1.3(2)."""
    case = worked(plans.job()).cases[3]
    (alone,) = (c for c in case.combinations if c.says == "lasting load alone")
    G = sum(float(v) for n, _, v in case.load.of if n not in ("imposed", "snow")) * 0.4
    strength = 0.6 * 1.1 / 1.3 * (150 / 145) ** 0.2 * 16e6
    M = 1.35 * G * 2.9**2 / 8
    assert alone.k_mod == 0.6
    assert alone.bending.value == pytest.approx(M / (0.047 * 0.145**2 / 6) / strength)


def test_under_a_heavy_roof_the_lasting_load_alone_governs():
    """1.35 G / 0.6 beyond (1.35 G + 1.5 Q) / 0.8: from G = 3.33 Q on."""
    job = plans.job(survey__joists__span_m=4.8, survey__joists__spacing_mm=600)
    wide = joists.joist_of(job.survey.joists)  # so that one person is little beside the rest
    said = []
    for G in (1990.0, 2010.0):
        held = Loads((("slab", G),), ("imposed", 600.0), ("snow", 0.0), "medium", True)
        case = joist_case.case("before", held, wide, True, plans.RISE)
        even, alone, _ = (c.bending.value for c in case.combinations)
        said.append(alone > even)
    assert said == [False, True]
    assert case.worst[1] == "bending under what lies there for good"


def test_the_sag_under_one_person_governs_a_short_stiff_span():
    short = worked(plans.job(survey__joists__span_m=1.2)).cases[3]
    assert short.sag is short.person_deflection
    wide = plans.job(survey__joists__span_m=5.2, survey__joists__spacing_mm=600)
    long = worked(wide).cases[3]
    assert long.sag is long.deflection


def test_the_worse_of_imposed_load_and_snow_leads_the_sag():
    """EN 1990 (6.14b): S + 0.7 Q beyond S = 0.6 Q."""
    passing = {z: worked(plans.job(site__snow_zone=z)).cases[3] for z in (2, 5)}
    for zone, leads in ((2, "imposed"), (5, "snow")):
        case = passing[zone]
        of = {n: float(v) for n, _, v in case.load.of}
        Q, S = of["imposed"], of["snow"]
        q = Q + 0.5 * S if leads == "imposed" else 0.7 * Q + S
        assert (Q + 0.5 * S > 0.7 * Q + S) == (leads == "imposed")
        EI, GA = 8000e6 * 0.047 * 0.145**3 / 12, 500e6 * 0.047 * 0.145
        u = q * 0.4 * (5 * 2.9**4 / (384 * EI) + 1.2 * 2.9**2 / (8 * GA))
        assert case.at_once.value == pytest.approx(1000 * u)


def test_sandbags_along_one_joist_and_what_is_left_overnight_are_carried_at_night():
    """15 kg to the metre over a strip of 0.4 m, and 0.2 kN/m2."""
    assert parts(worked(plans.job()), "night")["left overnight"] == pytest.approx(
        15 * 9.81 / 0.4 + 200
    )


def test_sound_joists_are_said_to_carry_the_roof_without_a_caution():
    found = worked(plans.job()).findings
    assert plans.codes(found) == ["joists-carry", "boards-down", "weight-lighter"]
    assert "structural" not in found[0].says


@pytest.mark.parametrize(
    ("spacing", "deck", "said"), [(600, 17.6, 0), (601, 18, 1), (601, 21.6, 0), (300, 11, 1)]
)
def test_a_thin_deck_on_wide_joists_is_said(spacing, deck, said):
    job = plans.job(survey__joists__spacing_mm=spacing, survey__deck__thickness_mm=deck)
    assert plans.codes(worked(job).findings).count("deck-thin") == said


def test_a_roof_that_sinks_under_its_water_is_shown_by_its_factor():
    job = plans.job(survey__joists__span_m=8.0, survey__joists__depth_mm=70)
    found = worked(job)
    assert found.ponding.symbol == "C"
    assert found.ponding.value > 1
    assert "without end" in plans.one(found.findings, "ponding-soft").says
    assert found.cases[2].worst[0] > 1


def test_water_that_gathers_in_the_sag_is_carried_where_water_stands_and_nowhere_else():
    found = worked(plans.job())
    a = 1 / (1 - plans.ponding(0.047, 0.145, 2.9, 0.4))
    assert found.ponding.value == pytest.approx(a)
    by = {c.name: c.combinations[0].bending for c in found.cases}
    assert [by[n].symbol for n in ("before", "during", "night", "after")] == [
        "eta", "eta_a", "eta_a", "eta",
    ]  # fmt: skip
    assert {s.id: s.bending.symbol for s in found.seldom} == {"night": "eta_a", "drift:C-D": "eta"}
