"""The falls room: finished fall, firrings, and the limits of 1:80 and 1:40."""

import pytest
from tests.unit.plans import codes, one, plan

from evenfall.model.finding import Finding
from evenfall.model.job import Falls as Chosen
from evenfall.model.job import Joists, SpotLevel
from evenfall.model.surveyed import Falls
from evenfall.stages.survey import falls, levels

ALONG_FALL = Joists(
    width_mm=47, depth_mm=170, spacing_mm=410, span_m=3.9, along="B-C", strength_class="C16",
    sag_mm=3, ends="sound",
)  # fmt: skip
SNOW = (1, 20.0)
# 600 Pa and half of 118 Pa of snow on 410 mm bend a 47 x 170 of C16 by 5.44 mm over 3.9 m, shear
# with it; 3 mm of sag are there already, and no level shows them
BENT, THERE = 5.442, 3.0
LOST = 16 * (BENT + THERE) / (5 * 3.9)  # mm/m, at the low end
ACROSS = ALONG_FALL.model_copy(update={"along": "A-B"})


def worked(old_mm_m: float, joists: Joists = ALONG_FALL, **chosen: object) -> Falls:
    """Work a roof of 6.2 by 4.1 m that falls to A-B already by so many mm in a metre."""
    roof = plan()
    spots = tuple(
        SpotLevel(name=c, corner=c, below_line_mm=700 - old_mm_m * y)
        for c, y in (("A", 0.0), ("B", 0.0), ("C", 4.1), ("D", 4.1))
    )
    wanted = Chosen(**({"low_side": "A-B"} | chosen))  # type: ignore[arg-type]
    return falls.work(wanted, joists, roof, levels.work(spots, roof), SNOW)


def cured(found: Finding, old_mm_m: float, **chosen: object) -> list[str]:
    """Make the changes of a remedy and work the falls again."""
    assert found.remedy is not None
    assert found.remedy.changes
    new = {c.path.removeprefix("design.falls."): c.value for c in found.remedy.changes}
    return codes(worked(old_mm_m, **(chosen | new)).findings)


def test_the_wedge_of_the_handbook_4_1_m_at_1_in_40_runs_from_25_to_127():
    found = worked(0.0, kind="firrings", one_in=40, thin_end_mm=25)
    first = found.firrings[0]
    assert (first.length_mm, first.thin_mm) == (4100, 25)
    assert first.thick_mm in (127, 128)  # 127.5


def test_firrings_add_only_what_the_old_fall_lacks():
    found = worked(9.0, kind="firrings", one_in=50, thin_end_mm=30)
    assert found.finished.value == pytest.approx(20.0)
    assert found.added_at((1.0, 0.0)) == pytest.approx(30)
    assert found.added_at((5.0, 4.1)) == pytest.approx(30 + 4.1 * 11)


def test_an_old_fall_that_is_steeper_stays():
    found = worked(31.0, kind="firrings", one_in=40, thin_end_mm=20)
    assert found.finished.value == pytest.approx(31.0)
    assert {(f.thin_mm, f.thick_mm) for f in found.firrings} == {(20, 20)}


def test_there_is_a_firring_on_every_joist():
    found = worked(0.0, kind="firrings")
    assert len(found.firrings) == round(6.2 / 0.41)
    assert {f.length_mm for f in found.firrings} == {4100}


def test_joists_across_the_fall_get_level_pieces_each_of_its_own_depth():
    found = worked(0.0, joists=ACROSS, kind="firrings", thin_end_mm=25)
    assert all(f.thin_mm == f.thick_mm for f in found.firrings)
    depths = [f.thin_mm for f in found.firrings]
    assert len(set(depths)) == len(depths) == round(4.1 / 0.41)


def test_a_roof_that_keeps_its_fall_gets_nothing():
    found = worked(14.0)
    assert found.firrings == ()
    assert found.added_at((3.0, 3.0)) == 0
    assert "kept" in found.finished.of[1][2].where  # type: ignore[union-attr]


def test_the_fall_along_each_side_is_told_before_and_after():
    found = {f.id: f for f in worked(9.0, kind="firrings", one_in=50).lines}
    assert found["side:B-C"].before_mm_m == pytest.approx(-9.0)  # from B up to C
    assert found["side:B-C"].after_mm_m == pytest.approx(-20.0)
    assert found["side:A-B"].after_mm_m == pytest.approx(0.0)
    assert found["fall:field"].after_mm_m == pytest.approx(20.0)


@pytest.mark.parametrize(
    ("old_mm_m", "code", "level"),
    [
        (-0.1, "fall-back", "stop"),
        (0.0, "fall-back", "stop"),
        (0.1, "fall-short", "stop"),
        (12.4, "fall-short", "stop"),
        (12.5, "fall-loaded", "agree"),
        (12.4 + LOST, "fall-loaded", "agree"),
        (12.6 + LOST, "fall-slight", "note"),
        (24.9, "fall-slight", "note"),
        (25.0, "fall-good", "fine"),
        (25.1, "fall-good", "fine"),
    ],
)
def test_1_in_80_is_the_least_and_1_in_40_the_design(old_mm_m, code, level):
    found = worked(old_mm_m).findings
    assert [(f.code, f.level) for f in found] == [(code, level)]


@pytest.mark.parametrize("old_mm_m", [-7.3, 0.0, 4.7, 12.5, 19.1, 24.9])
def test_firrings_at_1_in_40_clear_every_shortfall(old_mm_m):
    found = worked(old_mm_m).findings[0]
    left = cured(found, old_mm_m)
    assert left == (["fall-slight"] if found.code == "fall-loaded" else ["fall-good"])


@pytest.mark.parametrize(
    ("one_in", "code"), [(41, "fall-slight"), (55, "fall-slight"), (80, "fall-loaded")]
)
def test_firrings_of_less_than_1_in_40_are_named_and_steeper_ones_clear_it(one_in, code):
    chosen = {"kind": "firrings", "one_in": one_in, "thin_end_mm": 25}
    found = worked(3.7, **chosen)
    assert codes(found.findings) == [code]
    if code == "fall-loaded":
        assert code not in cured(found.findings[0], 3.7, **chosen)
        return
    assert cured(found.findings[0], 3.7, **chosen) == ["fall-good"]


@pytest.mark.parametrize(("thin_mm", "told"), [(19.9, True), (20.0, False)])
def test_a_firring_starts_at_20_mm_or_more(thin_mm, told):
    chosen = {"kind": "firrings", "one_in": 40, "thin_end_mm": thin_mm}
    found = worked(2.0, **chosen).findings
    assert ("firring-thin" in codes(found)) is told
    if told:
        assert "firring-thin" not in cured(one(found, "firring-thin"), 2.0, **chosen)


def test_a_thin_end_is_no_matter_where_there_are_no_firrings():
    assert codes(worked(26.0, thin_end_mm=5).findings) == ["fall-good"]


def test_tapered_boards_are_said_to_be_outside_of_order_and_price():
    found = worked(0.0, kind="tapered", one_in=60)
    told = one(found.findings, "taper-by-scheme")
    assert told.level == "stop"
    assert "taper-by-scheme" not in cured(told, 0.0, kind="tapered", one_in=60)
    assert found.added_at((2.0, 0.0)) == pytest.approx(0, abs=0.001)  # no thin end under them


@pytest.mark.parametrize(
    ("low_side", "low", "high", "run_m"),
    [("A-B", (2.0, 0.0), (2.0, 4.1), 4.1), ("C-D", (2.0, 4.1), (2.0, 0.0), 4.1),
     ("B-C", (6.2, 1.3), (0.0, 1.3), 6.2), ("D-A", (0.0, 1.3), (6.2, 1.3), 6.2)],
)  # fmt: skip
def test_the_thin_end_lies_along_the_low_side_wherever_that_is(low_side, low, high, run_m):
    found = worked(0.0, low_side=low_side, kind="firrings", one_in=50, thin_end_mm=25)
    assert found.added_at(low) == pytest.approx(25)
    assert found.added_at(high) == pytest.approx(25 + run_m * 20)


def test_the_sag_under_load_and_the_sag_that_is_there_are_taken_off():
    found = worked(26.0)
    assert found.loaded is not None
    assert found.loaded.value == pytest.approx(26.0 - LOST, abs=0.01)
    made = worked(0.0, kind="firrings", one_in=40)  # cut to the joists as they hang
    assert made.loaded is not None
    assert made.loaded.value == pytest.approx(25.0 - 16 * BENT / (5 * 3.9), abs=0.01)


def test_joists_across_the_fall_take_nothing_off():
    found = worked(26.0, joists=ACROSS)
    assert found.loaded is not None
    assert found.loaded.value == pytest.approx(26.0)


def sagging(dip_mm: float, **chosen: object) -> Falls:
    """Work a roof that falls 15 mm in a metre to A-B and dips in its middle."""
    roof = plan()
    spots = tuple(
        SpotLevel(name=c, corner=c, below_line_mm=700 - 15 * y)
        for c, y in (("A", 0.0), ("B", 0.0), ("C", 4.1), ("D", 4.1))
    )
    middle = SpotLevel(
        name="m", side="A-B", along_m=3.1, in_m=2.05, below_line_mm=700 - 15 * 2.05 + dip_mm
    )
    wanted = Chosen(**({"low_side": "A-B"} | chosen))  # type: ignore[arg-type]
    return falls.work(wanted, ALONG_FALL, roof, levels.work((*spots, middle), roof), SNOW)


def test_every_firring_is_cut_to_its_own_joist_and_the_top_is_one_plane():
    found = sagging(24.0, kind="firrings", one_in=40, thin_end_mm=25)
    sizes = {(f.thin_mm, f.thick_mm) for f in found.firrings}
    assert len(sizes) > 3
    assert min(f.thin_mm for f in found.firrings) >= 25
    by_middle = min(found.firrings, key=lambda f: abs(f.line[0][0] - 3.1))  # type: ignore[index]
    x = by_middle.line[0][0]  # type: ignore[index]
    for along, high in by_middle.heights:
        y = along / 1000
        old = 15 * y - 24 * (1 - max(abs(x - 3.1) / 3.1, abs(y - 2.05) / 2.05))
        top = old + high
        assert top == pytest.approx(found.added_at((x, 0.0)) + 25 * y, abs=1.1)
    assert found.ponds == ()


def test_tapered_boards_keep_the_dip_of_the_deck_and_firrings_do_not():
    assert sagging(70.0).ponds[0].depth_mm > 20
    assert sagging(70.0, kind="tapered", one_in=40).ponds != ()
    assert sagging(70.0, kind="firrings", one_in=40).ponds == ()


def test_a_pond_on_the_finished_roof_is_named_and_firrings_clear_it():
    found = one(sagging(70.0).findings, "pond-after")
    assert found.level == "agree"
    made = sagging(
        70.0, **{c.path.removeprefix("design.falls."): c.value for c in found.remedy.changes}
    )  # type: ignore[union-attr]
    assert "pond-after" not in codes(made.findings)
