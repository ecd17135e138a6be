"""What a log means: hold points, corrections, stops, clocks, covers, the job on site."""

from __future__ import annotations

import pytest
from tests.unit import rooms
from tests.unit.entries import DESK, OTHER, PHONE, PICTURE, entry, good, hold, mark, moisture

from evenfall.model.job import Job
from evenfall.stages.record import on_site as sites
from evenfall.stages.record.reading import read
from evenfall.stages.record.record import work

DUE = ((1, (1,)), (1, (2,)), (4, (1, 2)), (9, ()))


def state(*log, number: int = 1, bay: int | None = 1, due=DUE):
    return next(h for h in read(log, due).holds
                if h.number == number and (bay is None or bay in h.bays))  # fmt: skip


def on_site(*log) -> Job:
    job = rooms.job("garage")
    return sites.on_site(
        job.model_copy(update={"record": job.record.model_copy(update={"log": log})})
    )


def without(values: list, what: str) -> list:
    return [v for v in values if v["what"] != what]


def test_a_hold_point_that_nobody_looked_at_is_open():
    assert state().state == "open"
    assert [(h.number, h.bays) for h in read((), DUE).holds] == list(DUE)


def test_a_hold_point_with_all_that_is_asked_is_passed_for_its_bay_alone():
    log = [hold("a", 1, bay=1)]
    assert state(*log).state == "passed"
    assert "Sam, 08 Dec 2026 08:00" in state(*log).says
    assert state(*log, bay=2).state == "open"


@pytest.mark.parametrize(("left_out", "told"), [
    ({"values": without(good(1), "moisture")}, "wettest reading of deck and joists"),
    ({"photos": []}, "photo: the bare deck"),
])  # fmt: skip
def test_a_hold_point_is_not_passed_empty(left_out, told):
    found = state(hold("a", 1, bay=1, **left_out))
    assert found.state == "incomplete"
    assert any(told in m for m in found.missing)


def test_a_photo_and_a_batch_bound_to_the_hold_point_count_for_it():
    bare = hold("a", 4, bay=1, photos=[], batches=[])
    assert state(bare, number=4).state == "incomplete"
    photo = entry("p", "photo", sha256=PICTURE, hold=4, bay=2, about="boards")
    pack = entry("b", "batch", product="insulation", batch="L 4417", bay=1)
    assert state(bare, photo, pack, number=4).state == "passed"
    assert state(bare, photo, number=4).missing == ("batch of insulation",)


@pytest.mark.parametrize("outcome", ["passed", "put_right"])
def test_a_value_outside_its_limit_never_passes(outcome):
    wet = [{"what": "moisture", "value": 20.1}, *without(good(1), "moisture")]
    found = state(hold("a", 1, outcome, bay=1, values=wet))
    assert found.state == "stopped"
    assert "20.1 %, limit 20 or less" in found.says


def test_of_several_readings_of_one_thing_the_worst_counts():
    values = [{"what": "moisture", "value": v} for v in (14, 22, 15)] + without(good(1), "moisture")
    assert state(hold("a", 1, bay=1, values=values)).state == "stopped"


def test_what_is_outside_goes_on_when_it_is_agreed_by_name():
    wet = [{"what": "moisture", "value": 23}, *without(good(1), "moisture")]
    nameless = hold("a", 1, "agreed", bay=1, values=wet)
    assert state(nameless).missing == ("name of who agreed in writing",)
    found = state(hold("b", 1, "agreed", bay=1, values=wet, by="Mr Pryce"))
    assert (found.state, found.agreed_by) == ("agreed", "Mr Pryce")


def test_a_pass_on_another_telephone_does_not_lift_a_stop():
    log = [hold("a", 1, "stopped", bay=1), hold("b", 1, "passed", "09:00", bay=1, device=OTHER,
                                                who="Jo")]  # fmt: skip
    found = state(*log)
    assert found.state == "stopped"
    assert found.differ
    assert "Jo, 08 Dec 2026 09:00" in found.says
    assert len(found.by) == 2
    mended = [*log, hold("c", 1, "put_right", "10:00", bay=1)]
    assert state(*mended).state == "put_right"
    assert state(*mended, hold("d", 1, "stopped", "11:00", bay=1)).state == "stopped"


def test_a_correction_cannot_turn_a_stop_into_a_pass():
    log = [hold("a", 1, "stopped", bay=1),
           hold("b", 1, "passed", "09:00", bay=1, replaces=mark("a"))]  # fmt: skip
    assert state(*log).state == "stopped"


def test_a_pass_between_eighteen_and_twenty_is_read_again():
    damp = [{"what": "moisture", "value": 19}, *without(good(1), "moisture")]
    found = state(hold("a", 1, bay=1, values=damp))
    assert found.state == "passed"
    assert found.again == ("wettest reading of deck and joists 19 %: read again next day",)


def test_the_last_of_a_chain_of_corrections_stands():
    log = [moisture("a", 30), moisture("b", 3, replaces=mark("a")),
           moisture("c", 13, replaces=mark("b"))]  # fmt: skip
    kept = read(log).kept
    assert [e.value for _, e in kept.entries] == [13]
    assert len(kept.replaced) == 2


def test_a_correction_that_comes_before_what_it_corrects_still_holds():
    log = [moisture("b", 13, at="09:00", replaces=mark("a")), moisture("a", 30, at="10:00")]
    assert [e.value for _, e in read(log).kept.entries] == [13]


def test_of_corrections_that_chase_one_another_the_latest_stands():
    log = [moisture("a", 30, at="08:00", replaces=mark("b")),
           moisture("b", 13, at="09:00", replaces=mark("a"))]  # fmt: skip
    assert [e.value for _, e in read(log).kept.entries] == [13]


def test_a_correction_of_another_kind_is_none():
    log = [entry("a", "stop", danger="gas"), moisture("b", 13, replaces=mark("a"))]
    assert len(read(log).standing) == 1


def test_a_stop_stands_until_it_is_cleared_by_name():
    stop = entry("a", "stop", danger="gas", note="smell at the flue")
    found = work((stop,), (), (), ())
    assert [(f.code, f.level) for f in found.findings] == [("stopped-on-site", "stop")]
    assert "gas emergency service" in found.findings[0].remedy.says
    cleared = work((stop, entry("c", "clear", of=mark("a"), by="the gas engineer")), (), (), ())
    assert not cleared.standing
    assert not cleared.findings


def test_a_corrected_stop_is_cleared_by_itself():
    log = [entry("a", "stop", danger="gas"), entry("c", "clear", of=mark("a"), by="Jo"),
           entry("b", "stop", danger="cable", replaces=mark("a"))]  # fmt: skip
    assert [s.entry.danger for s in read(log).standing] == ["cable"]


def test_a_clock_that_was_wrong_is_put_right_by_the_desk():
    log = [
        moisture("a", 14, at="2026-12-09T07:30:00Z"),
        entry("k", "clock", "2026-12-08T18:00:00Z", device=DESK, of=PHONE, ahead_s=86_400),
    ]
    found = work(tuple(log), (), (), ())
    assert found.readings[0][0].says == "Sam, 08 Dec 2026 07:30"
    assert [f.code for f in found.findings] == ["clock-off"]
    assert "1440 minutes ahead" in found.findings[0].says


def test_of_two_clock_readings_the_nearest_counts():
    log = [
        moisture("a", 14, at="2026-12-08T07:30:00Z"),
        moisture("b", 15, at="2026-12-12T07:30:00Z"),
        entry("k", "clock", "2026-12-08T08:00:00Z", device=DESK, of=PHONE, ahead_s=3600),
        entry("l", "clock", "2026-12-12T08:00:00Z", device=DESK, of=PHONE, ahead_s=0),
    ]
    assert [s.at for s, _ in read(log).readings] == ["06:30", "07:30"]


def test_a_cover_is_followed_over_night():
    size = {"length_m": 6.0, "width_m": 4.0}
    log = [entry("a", "cover", "08:00", lies="ready", **size),
           entry("b", "cover", "16:00", lies="on", **size)]  # fmt: skip
    assert [c.lies for c in read(log).covers] == ["on"]
    log.append(entry("c", "cover", "17:00", lies="ready", length_m=2.0, width_m=1.5))
    assert len(read(log).covers) == 2
    log.append(entry("d", "cover", "18:00", lies="gone", **size))
    assert [c.length_m for c in read(log).covers] == [2.0]


def test_a_job_without_a_log_is_the_job_itself():
    job = rooms.job("garage")
    assert sites.on_site(job) is job


def test_readings_go_into_the_survey():
    name = rooms.job("garage").survey.readings[0].name
    point = rooms.job("garage").survey.levels[0]
    before = rooms.job("garage").survey
    job = on_site(
        moisture("a", 19.5, name=name), moisture("b", 12, bay=3), moisture("c", 14, bay=3),
        moisture("d", 140, name="nowhere"),
        entry("e", "reading", what="gap", value=31, unit="mm"),
        entry("f", "reading", what="pull_out", value=812, unit="N", name="s1"),
        entry("g", "reading", what="level", value=301.5, unit="mm", name=point.name),
    )  # fmt: skip
    read_ = {r.name: r.percent for r in job.survey.readings}
    assert read_[name] == 19.5
    assert read_["bay-3"] == 14
    assert "nowhere" not in read_
    assert job.survey.deck.widest_gap_mm == 31
    assert job.survey.deck.pull_outs_n == (*before.deck.pull_outs_n, 812)
    assert job.survey.levels[0].below_line_mm == 301.5
    assert job.survey.levels[1:] == before.levels[1:]


def test_a_hold_point_read_again_takes_the_place_of_the_wet_reading():
    wet = [{"what": "moisture", "value": 27}, *without(good(1), "moisture")]
    log = [hold("a", 1, "stopped", bay=2, values=wet), hold("b", 1, "put_right", "15:00", bay=2)]
    assert {r.name: r.percent for r in on_site(*log).survey.readings}["bay-2"] == 16


def test_what_was_done_found_and_used_goes_into_the_record():
    rot = entry("rot", "found", what="rot", rate="hidden-deck", quantity=2.5, where="by the gutter",
                photos=[PICTURE])  # fmt: skip
    signed = entry("s", "signed", "09:00", of=mark("rot"), by="Mr Pryce", strokes=[[[1, 2]]])
    log = [entry("d", "done", bay=1), entry("d2", "done", "17:00", bay=1, device=OTHER),
           entry("h", "hours", task="strip-felt@1", people=2, hours=3.5), rot, signed,
           entry("c", "cover", lies="ready", length_m=6, width_m=4)]  # fmt: skip
    record = on_site(*log).record
    assert [(d.bay, str(d.on)) for d in record.done] == [(1, "2026-12-08")]
    assert [(h.task, h.people, h.hours) for h in record.hours] == [("strip-felt", 2, 3.5)]
    assert [(c.length_m, c.width_m) for c in record.covers] == [(6, 4)]
    extra = record.extras[0]
    assert (extra.rate, extra.found, extra.signed.by) == ("hidden-deck", 2.5, "Mr Pryce")
    assert extra.photo.sha256 == PICTURE


def test_a_corrected_find_is_signed_again():
    rot = {"what": "rot", "rate": "hidden-deck", "where": "by the gutter", "photos": [PICTURE]}
    log = [entry("rot", "found", quantity=2.5, **rot),
           entry("s", "signed", "09:00", of=mark("rot"), by="Mr Pryce", strokes=[[[1, 2]]]),
           entry("more", "found", "10:00", quantity=25, replaces=mark("rot"), **rot)]  # fmt: skip
    assert [e.signed for e in on_site(*log).record.extras] == [None]


def test_a_find_at_a_rate_that_was_not_agreed_stops_nothing_and_is_told():
    rot = entry("rot", "found", what="rot", rate="gold", quantity=2.5, where="by the gutter",
                photos=[PICTURE])  # fmt: skip
    assert [f.code for f in work((rot,), (), ("hidden-deck",), ()).findings] == [
        "found-without-rate"
    ]
    job = rooms.job("garage")
    job = job.model_copy(update={"record": job.record.model_copy(update={"log": (rot,)})})
    assert not sites.on_site(job, frozenset({"hidden-deck"})).record.extras


def test_readings_that_cannot_be_are_left_out_and_told():
    log = (moisture("a", 140), entry("b", "reading", what="level", value=300, unit="mm", name="x"))
    says = sorted(f.says for f in work(log, (), (), ("P1",)).findings)
    assert says[0].startswith("Left out, it cannot be: moisture 140 %")
    assert 'no level point "x"' in says[1]


@pytest.mark.parametrize(
    ("nation", "gas"), [("wales", "0800 111 999"), ("northern_ireland", "0800 002 001")]
)
def test_a_stop_names_the_line_of_its_nation_and_says_that_it_is_remembered(nation, gas):
    stop = entry("g", "stop", danger="gas")
    (finding,) = (f for f in work((stop,), (), (), (), nation).findings if f.level == "stop")
    assert gas in finding.remedy.says
    assert "from memory: try them" in finding.remedy.says
