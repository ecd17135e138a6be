"""The handover file of a roof that was built: what the log gives, what is missing, by whom."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path

import pytest
from tests.unit.entries import entry, mark

from evenfall.app.loading import load
from evenfall.drawing import to_svg
from evenfall.flow import DRAWINGS, PAPERS, WorkedJob, changed, work_out
from evenfall.stages.papers import from_the_roof as roof
from evenfall.stages.papers.handover import guarantee_ends, handover
from evenfall.weather import own_rates

PORCH = Path(__file__).parents[2] / "examples" / "built" / "porch"


@lru_cache
def built() -> WorkedJob:
    """The porch with its log."""
    return work_out(load(PORCH, date(2026, 10, 30)).case)


@lru_cache
def unbuilt() -> WorkedJob:
    """The porch without its log."""
    case = built().given
    record = case.job.record.model_copy(update={"log": ()})
    return work_out(replace(case, job=case.job.model_copy(update={"record": record})), built())


def going(worked: WorkedJob) -> WorkedJob:
    """The same roof while it is not said to be finished."""
    case = worked.given
    record = case.job.record.model_copy(update={"finished_on": None})
    return work_out(replace(case, job=case.job.model_copy(update={"record": record})), worked)


def pieces(worked: WorkedJob) -> dict[str, roof.Piece]:
    return {p.what: p for p in handover(worked).pieces}


def test_the_file_says_what_is_missing_and_by_whom():
    found = pieces(built())
    told = {what: (found[what].says, found[what].who) for what in found if not found[what].held}
    assert told["Batch numbers"] == ("Missing: Contact adhesive.", "the crew")
    assert told["Readings and hold points"] == (
        "12 of 13 hold points passed, put right or agreed. Not yet: 8 (whole roof).", "the crew"
    )  # fmt: skip
    assert told["Photographs by hold point"][0].endswith("None at 8 (whole roof).")
    assert told["Weather of the days"][0] == "4 of 5 days whole; not 30 October 2026."
    assert found["Marks that are normal"].says == (
        "Read and initialled by Ms Made-Up Ellery on 30 October 2026."
    )
    assert found["Extra work"].says == "1 slip, signed."


def test_without_a_log_nothing_of_the_roof_is_called_there():
    found = pieces(unbuilt())
    names = ("Readings and hold points", "Batch numbers", "Photographs by hold point",
             "Weather of the days", "Marks that are normal")  # fmt: skip
    assert not any(found[n].held for n in names)
    assert found["Weather of the days"].says.startswith("Nothing was recorded")
    assert all(row.state == "" for row in handover(unbuilt()).holds)
    assert not handover(unbuilt()).hours


def test_a_hold_point_shows_value_name_time_and_how_it_was_put_right():
    rows = {(r.number, r.where): r for r in roof.hold_rows(built())}
    wet = rows["1", "bay 2"]
    assert (wet.state, wet.by) == ("put right", "Sam Madeup, 27 Oct 12:10")
    assert wet.values.startswith("moisture 17.2 %")
    assert wet.photos == 2
    assert rows["4", "bays 1 to 2"].values == "step 2 mm; board gap 5 mm"  # the worse of two
    assert "Still missing: photo" in rows["8", "whole roof"].says


def test_open_hold_points_of_one_number_share_a_row():
    rows = [r for r in roof.hold_rows(unbuilt()) if r.number == "1"]
    assert [r.where for r in rows] == ["bay 1 and bay 2"]


def test_each_bay_says_when_it_was_closed_and_covered_and_from_which_packs():
    first, second = roof.bays_built(built())
    assert (first.vcl, first.boards, first.sheet) == ("26 Oct", "28 Oct", "28 Oct")
    assert second.vcl == "27 Oct"
    assert "Night tape NT 88" in first.batches
    assert "Night tape" not in second.batches


def test_readings_of_the_roof_stand_beside_those_of_the_survey():
    read = [(r.where, r.says, r.when) for r in handover(built()).readings]
    assert ("under pipe", "18.7 %", "survey, 14 September 2026") in read
    assert ("joist 5", "24.5 %", "Sam Madeup, 27 Oct 2026 09:30") in read


def test_work_that_was_signed_for_is_told_as_built_otherwise():
    told = [(d.what, d.by) for d in handover(built()).departures]
    assert any(w.startswith("Round the lamp pipe: deck") and by == "Ms Made-Up Ellery"
               for w, by in told)  # fmt: skip


def test_hours_used_stand_beside_hours_planned():
    rows = {r.says: r for r in roof.hours_rows(built())}
    strip = next(r for says, r in rows.items() if says.startswith("Strip") and r.used_h == 3.0)
    assert strip.planned_h == pytest.approx(0.26 * 8.911, abs=0.01)
    assert any(r.used_h is None for r in rows.values())


def test_photos_come_in_the_order_of_the_hold_points_each_once():
    shown = roof.photos_in_order(built())
    assert len({sha for sha, *_ in shown}) == len(shown) == 14
    heads = [head for _, head, *_ in shown]
    assert heads[0] == "Hold point 0, whole roof"
    assert heads[-1] == "Found, 27 Oct"


def test_the_plan_as_built_names_days_and_what_was_found():
    svg = to_svg(DRAWINGS["as built"](built()))
    assert "bay 1: closed 26 Oct, sheet 28 Oct" in svg
    assert "rot 2.2 m²" in svg
    assert "closed" not in to_svg(DRAWINGS["as built"](unbuilt()))


@pytest.mark.parametrize(("done", "ends"), [
    ("2026-10-30", "2036-10-29"), ("2028-02-29", "2038-02-28"),
])  # fmt: skip
def test_a_guarantee_ends_on_the_day_before_its_years_are_over(done, ends):
    case = built().case
    record = case.job.record.model_copy(update={"finished_on": date.fromisoformat(done)})
    job = case.job.model_copy(update={"record": record})
    assert guarantee_ends(replace(built(), case=replace(case, job=job))) == date.fromisoformat(ends)


def test_a_call_back_finds_its_cause_its_cost_and_what_was_read():
    found = {c.seen: c for c in PAPERS["call-backs"](built())}
    corner = next(c for seen, c in found.items() if seen.startswith("A leak at a corner"))
    assert corner.cost == "ours, within the guarantee"
    assert corner.record == "in order at hold point 7"
    bare = next(c for c in PAPERS["call-backs"](unbuilt()) if c.seen == corner.seen)
    assert bare.record == "not recorded at hold point 7"


def test_what_the_roof_changed_is_told_with_the_new_total_and_finish():
    lines = changed(unbuilt(), built())
    assert not any(line.startswith("finish: ") for line in lines)  # it is finished
    assert any("extra work signed: round the lamp pipe" in line and "new total £" in line
               for line in lines)  # fmt: skip
    assert changed(built(), built()) == ()
    running = [going(worked) for worked in (unbuilt(), built())]
    assert any(line.startswith("finish: ") for line in changed(*running))


def test_a_record_of_work_that_the_plan_no_longer_has_is_told_and_stops_no_answer():
    given = built().given
    more = (entry("gone", "done", bay=17), entry("odd", "hours", task="thatch", people=1, hours=2))
    log = (*given.job.record.log, *more)
    record = given.job.record.model_copy(update={"log": log})
    case = replace(given, job=given.job.model_copy(update={"record": record}))
    worked = work_out(case, built())
    says = [f.says for f in worked.findings if f.code == "record-of-no-work"]
    assert any("no bay 17" in s for s in says)
    assert any("no thatch" in s for s in says)
    assert own_rates((worked,)) == own_rates((built(),))


def test_notes_stand_in_the_record_and_the_handover_file_and_what_was_agreed_is_a_departure():
    given = built().given
    more = (
        entry("dmg", "note", about="damage", note="slipped tile on the main roof", bay=1),
        entry("agr", "note", about="agreed", by="Mrs Pell", note="old lamp bracket goes"),
        entry("agr2", "note", about="agreed", by="Mrs Pell", note="the lamp bracket stays",
              at="09:00", replaces=mark("agr")),
    )  # fmt: skip
    record = given.job.record.model_copy(update={"log": (*given.job.record.log, *more)})
    worked = work_out(replace(given, job=given.job.model_copy(update={"record": record})), built())
    notes = handover(worked).notes
    assert [(n.about, n.says, n.by) for n in notes] == [
        ("Damage", "Slipped tile on the main roof (bay 1).", ""),
        ("Agreed with the client", "The lamp bracket stays.", "Mrs Pell"),
    ]
    told = PAPERS["record"](worked)
    assert any("Damage: Slipped tile on the main roof (bay 1). Written by Sam." in x for x in told)
    assert [(d.what, d.by) for d in handover(worked).departures
            if "bracket" in d.what] == [("The lamp bracket stays.", "Mrs Pell")]  # fmt: skip
    assert handover(built()).notes == ()
