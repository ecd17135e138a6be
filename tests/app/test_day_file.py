"""The file of a day: the same bytes for the same job, no address in it, light; modules in one."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from evenfall.app.loading import load
from evenfall.app.papers.day_file import day_files
from evenfall.app.web import sent
from evenfall.app.web.inlined import inlined
from evenfall.flow import PAPERS, WorkedJob, work_out
from evenfall.model.recorded import SiteRecord
from evenfall.stages.papers.stop_cards import stop_cards
from evenfall.standards.hold_asks import HOLD_ASKS

GARAGE = Path(__file__).parents[2] / "examples" / "garage"
ON = date(2026, 11, 25)
MOST_BYTES = 90_000
"""All that the telephone's page is sent, its styles and scripts together, without compression."""


@cache
def worked() -> WorkedJob:
    return work_out(load(GARAGE, ON).case)


@cache
def files() -> dict[str, str]:
    return {name: content.decode() for name, content in day_files(worked()).items()}


def bundle() -> dict[str, Any]:
    return dict(PAPERS["day bundle"](worked()))


def test_an_unchanged_job_gives_the_same_bytes() -> None:
    assert day_files(work_out(load(GARAGE, ON).case)) == day_files(worked())


def test_the_file_asks_for_nothing_and_may_not() -> None:
    page = files()["days/day-2.html"]
    assert set(re.findall(r"https?://[^'\"\s<]+", page)) == {"http://www.w3.org/2000/svg"}
    assert re.findall(r"(?:src|href)=[\"']?/|@import|url\((?!#)", page) == []
    assert "default-src 'none'" in page


def test_a_viewer_without_scripts_shows_the_day_in_words() -> None:
    day = bundle()["days"][1]
    told = files()["days/day-2.html"].partition("<noscript>")[2].partition("</noscript>")[0]
    assert day["night"]["dusk"] in told
    assert "open the file in the telephone's browser" in told


def test_words_of_a_job_cannot_end_the_script_that_carries_them() -> None:
    page = files()["days/day-1.html"]
    assert page.count("</script") == 2
    told = page.partition('id="bundle">')[2].partition("</script>")[0]
    assert [d["number"] for d in json.loads(told)["days"]] == [1]


def test_the_page_of_the_telephone_is_light() -> None:
    sizes = {n: len(c) for n, (_, c) in sent.files().items() if n.startswith("site/")}
    assert sum(sizes.values()) < MOST_BYTES, sizes


def test_the_bundle_is_plain_data_with_every_limit_of_the_hold_points() -> None:
    told = json.loads(json.dumps(bundle(), allow_nan=False))
    for asked, point in zip(HOLD_ASKS, told["holds"], strict=True):
        assert [a["what"] for a in point["asks"]] == [a.what for a in asked.asks]
        for ask, given in zip(asked.asks, point["asks"], strict=True):
            for name in ("least", "most"):
                limit = getattr(ask, name)
                assert given.get(name) == (None if limit is None else limit.value)


def test_every_hold_point_of_the_programme_is_due_on_one_day() -> None:
    """Of several bays that get boards and sheet together the first one stands for all."""
    due = {(t.hold_point, t.bay or min(t.bays, default=None))
           for t in worked().tasks.tasks if t.hold_point is not None}  # fmt: skip
    assert {(d["hold"], d["bay"]) for d in bundle()["dues"]} == due


def test_a_gas_stop_card_rings_the_line_of_its_nation_first_and_the_firm_too() -> None:
    for nation, line in (("scotland", "0800 111 999"), ("northern_ireland", "0800 002 001")):
        firm = worked().case.rates.firm
        card = next(c for c in stop_cards(nation, firm) if c.danger == "gas")  # type: ignore[arg-type]
        assert [r.telephone for r in card.ring] == [line, "999", firm.telephone]


def test_a_module_in_a_form_that_is_not_known_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.js").write_text("export default 3\n")
    with pytest.raises(ValueError, match="cannot be inlined"):
        inlined("a", folder=tmp_path)


def test_modules_that_import_in_a_ring_are_refused(tmp_path: Path) -> None:
    (tmp_path / "a.js").write_text("import { b } from './b.js'\nexport const a = b\n")
    (tmp_path / "b.js").write_text("import { a } from './a.js'\nexport const b = a\n")
    with pytest.raises(ValueError, match="in a ring: a > b > a"):
        inlined("a", folder=tmp_path)


def test_a_find_that_the_job_holds_already_comes_with_its_slip() -> None:
    case = worked().case
    rate = next(r for r in case.rates.provisional if r.beyond == "deck")
    entry = {"id": "a" * 32, "device": "d" * 32, "n": 1, "at": "2026-12-08T10:00:00+00:00",
             "who": "Sam", "kind": "found", "what": "rot", "rate": rate.name, "quantity": 40,
             "where": "along A-B"}  # fmt: skip
    extra = {"name": "rot", "rate": rate.name, "found": 40, "where": "along A-B",
             "found_on": "2026-12-08"}  # fmt: skip
    record = SiteRecord.model_validate({"log": [entry], "extras": [extra]})
    job = case.job.model_copy(update={"record": record})
    found = work_out(replace(case, job=job), reuse=worked())
    slip, told = found.extras.slips[0], PAPERS["day bundle"](found)["slips"]
    assert list(told) == ["a" * 32]
    assert told["a" * 32]["total"] == slip.new_total.value
    assert told["a" * 32]["charged"] == slip.charged.value
    assert not told["a" * 32]["signed"]
