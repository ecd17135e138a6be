"""The room of ways: every way of making the fall compared, the better one offered."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from tests.unit import rooms

from evenfall.errors import InvalidInput
from evenfall.stages.design import ways


def worked(name: str, **changes: object) -> SimpleNamespace:
    return rooms.designed(rooms.changed(rooms.job(name), **changes))


def test_every_way_is_compared_whatever_was_chosen():
    for kind in ("keep", "shims", "firrings", "tapered"):
        rows = worked("garage", design__falls__kind=kind).ways.rows
        ids = {r.id for r in rows}
        assert ids >= {"way:keep-along", "way:shims-along", "way:firrings-along",
                       "way:firrings-across", "way:tapered-along"}  # fmt: skip
        assert [r.id for r in rows if r.chosen] == [f"way:{kind}-along"]


def test_a_way_that_fails_says_why_and_offers_one_that_does():
    w = worked("garage", design__falls__kind="keep")
    assert w.ways.taken.verdict == "falls 1:85, too little"
    found = rooms.one(w.ways.findings, "fall-other-way")
    mended = rooms.designed(rooms.cured(w.job, found))
    assert mended.ways.findings == ()
    assert mended.ways.taken.id == w.ways.best


def test_no_cost_and_no_hour_stands_on_the_sheets():
    w = worked("garage", design__falls__kind="keep")
    columns = " ".join(name for name, _ in w.ways.table.columns)
    assert "cost" not in columns
    assert "hour" not in columns
    assert not any("£" in f.says for f in w.ways.findings)
    assert "£" in w.ways.says  # for the owner


def test_the_cost_is_timber_deck_and_hours_by_the_rates():
    w = worked("garage", design__falls__kind="firrings")
    row, rates = w.ways.taken, rooms.demo_rates()
    metres = sum(f.length_mm for f in w.falls.firrings) / 1000
    deck = w.plan.gross.value * (1 - 0.14)  # 14 % is renewed anyway
    hours = metres * 0.10 + deck * (0.21 + 0.27)
    screws = deck * 16 * ways.prices_of(rates, "pir-foil", 14).screw_pence / 100
    assert row.hours == pytest.approx(hours)
    sold = {50: 1.92, 75: 2.68, 100: 3.47}  # pounds a metre by depth
    timber = sum(f.length_mm / 1000 * next(p for d, p in sold.items() if d >= f.thick_mm)
                 for f in w.falls.firrings)  # fmt: skip
    pounds = timber + screws + hours * rates.terms.labour_pence_hour / 100
    assert row.cost_pence == pytest.approx(pounds * 100, abs=1)


def test_the_margin_of_the_chosen_way_is_that_of_the_heights():
    w = worked("rear-extension")
    tightest = w.heights.items[0]
    assert w.ways.taken.governs == tightest.id
    assert w.ways.taken.margin_mm == pytest.approx(tightest.margin.value)


def test_kept_falls_use_no_height_and_the_thick_end_uses_the_most():
    rows = {r.id: r for r in worked("rear-extension").ways.rows}
    assert rows["way:keep-along"].used_mm == rows["way:keep-along"].most_mm == 0
    made = rows["way:firrings-along"], rows["way:tapered-along"]
    assert all(r.most_mm >= r.used_mm > 0 for r in made)


def test_boards_that_fall_to_an_outlet_are_checked_along_their_mitre():
    w = worked("courtyard", design__falls__kind="tapered", design__falls__one_in=70)
    assert w.ways.taken.mitre_mm_m < 12.5
    assert "valley-flat" in rooms.codes(w.falls.findings)
    found = rooms.one(w.falls.findings, "valley-flat")
    mended = rooms.designed(rooms.cured(w.job, found))
    assert "valley-flat" not in rooms.codes(mended.falls.findings)


def test_packing_is_for_small_dips_alone():
    corners = (("a", "A", 310), ("b", "B", 305), ("c", "C", 165), ("d", "D", 170))
    read = [{"name": n, "corner": c, "below_line_mm": b} for n, c, b in corners]
    dip = {"name": "dip", "side": "A-B", "along_m": 2.69, "in_m": 2.91, "below_line_mm": 270}
    w = worked("garage", design__falls__kind="shims", survey__levels=[*read, dip])
    assert "too much to pack" in w.ways.taken.verdict


def test_rates_that_lack_an_output_are_refused_by_name():
    outputs = [o.model_dump() for o in rooms.demo_rates().outputs if o.task != "firrings"]
    with pytest.raises(InvalidInput, match="firrings"):
        ways.prices_of(rooms.rates_with(outputs=outputs), "pir-foil", 14)


def test_firrings_across_the_joists_are_cut_square_to_them():
    along = worked("garage", design__falls__run="along").falls.firrings
    across = worked("garage", design__falls__run="across").falls.firrings
    (a, b), (c, d) = along[3].line, across[3].line
    turned = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1])
    assert turned == pytest.approx(0, abs=1e-9)
