"""The heights room: margins by hand, each limit from both sides, each remedy made."""

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.model.finding import Finding
from evenfall.model.job import Covering, Height, Window
from evenfall.model.standing import Zones
from evenfall.model.surveyed import Slope
from evenfall.stages.design import heights

COVERING = Covering(
    layers=3, chippings=False, thickness_mm=10, thickness_give_or_take_mm=12.5,
    sample_300_by_300_kg=0.9, laid_year=2001, asbestos="none_found",
)  # fmt: skip
WINDOW = Window(
    name="stair", side="C-D", along_m=1.1, width_m=0.8, sill_above_covering_mm=300,
    sash_above_covering_mm=340, hinge="left", opens="outwards", room="stair", only_escape=False,
    only_airing=False,
)  # fmt: skip
LEVEL = Slope(0.0, 0.0, 0.0)
STACK = 120 + 0.8 + 2 - 10  # board, VCL, sheet, less the old felt


def item(kind: str, above_mm: float, **more: object) -> Height:
    return Height(
        name="it",
        kind=kind,
        side="C-D",
        along_m=2.0,
        above_covering_mm=above_mm,
        **more,  # type: ignore[arg-type]
    )


def worked(*listed: Height, windows: tuple[Window, ...] = (), covering=COVERING, mm=120, layers=1):
    build = plans.build(plans.job(), mm // layers, layers)
    return heights.work(
        mm, build, covering, listed, windows, plans.plan(), plans.falls(), Zones(), LEVEL
    )


def told(*listed: Height, **more: object) -> Finding:
    listed_all = worked(*listed, **more).findings  # type: ignore[arg-type]
    found = tuple(f for f in listed_all if f.code.startswith("upstand"))
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize(
    ("kind", "required"),
    [
        ("sill", 150), ("threshold", 150), ("dpc", 150), ("flashing", 150), ("weep", 150),
        ("air_brick", 150), ("flue", 300), ("cable", 150),
    ],
)  # fmt: skip
def test_each_kind_of_item_asks_for_its_height(kind, required):
    found = worked(item(kind, 500)).items[0]
    assert found.margin.value == pytest.approx(500 - STACK - required)
    assert found.required == required


@pytest.mark.parametrize(
    ("left_mm", "code", "level"),
    [
        (-0.1, "upstand-short", "stop"),
        (0.0, "upstand-tight", "note"),
        (12.4, "upstand-tight", "note"),
        (12.5, "upstand-good", "fine"),
        (40.0, "upstand-good", "fine"),
    ],
)
def test_the_margin_is_stopped_below_0_and_doubted_within_the_felt(left_mm, code, level):
    found = told(item("dpc", STACK + 150 + left_mm))
    assert (found.code, found.level) == (code, level)


@pytest.mark.parametrize(("left_mm", "code"), [(9.9, "upstand-tight"), (10.0, "upstand-good")])
def test_under_10_mm_is_tight_even_where_the_felt_is_well_known(left_mm, code):
    sure = COVERING.model_copy(update={"thickness_give_or_take_mm": 1})
    assert told(item("dpc", STACK + 150 + left_mm), covering=sure).code == code


def test_what_is_short_is_told_in_the_roofers_words():
    found = told(item("sill", STACK + 150 - 32))
    assert found.says.startswith("32 mm short at the sill of it: it would be 118 mm above the")
    assert found.value == pytest.approx(118)


def test_the_fall_is_added_where_the_item_is():
    falls = plans.falls()
    sloped = type(falls)(
        "firrings", "A-B", falls.downhill, type(falls.rise)(20.0, 0.0, 15.0), falls.finished, (), ()
    )
    build = plans.build(plans.job())
    found = heights.work(
        120, build, COVERING, (item("dpc", 500),), (), plans.plan(), sloped, Zones(), LEVEL
    )
    assert found.items[0].margin.value == pytest.approx(500 - STACK - 150 - 20 - 15 * 4.1)
    assert found.rise_at_edge.value == pytest.approx(STACK + 20 + 15 * 4.1)


def test_the_tightest_item_comes_first():
    close, far = item("dpc", 290), item("cable", 280).model_copy(update={"name": "far"})
    assert [i.name for i in worked(close, far).items] == ["far", "it"]


def test_the_thickest_board_that_fits_is_told_for_each_item():
    at_100 = STACK - 20 + 150
    assert worked(item("dpc", at_100)).items[0].thickest_mm == 100
    assert worked(item("dpc", at_100 - 0.1)).items[0].thickest_mm == 60
    assert worked(item("dpc", 150)).items[0].thickest_mm is None


def test_a_thinner_board_clears_what_is_short():
    found = told(item("dpc", 240))
    assert found.remedy is not None
    mm = found.remedy.changes[0].value
    assert (found.remedy.changes[0].path, mm) == ("design.thickness_mm", 60)
    assert told(item("dpc", 240), mm=60).code != "upstand-short"


def test_with_two_layers_the_remedy_names_both_boards():
    found = told(item("dpc", 320), mm=200, layers=2)
    assert found.remedy is not None
    chosen = {c.path: c.value for c in found.remedy.changes}  # 177 mm are there; 100 + 60 fit
    assert chosen == {"design.thickness_mm": 100, "design.upper_layer_mm": 60}
    assert told(item("dpc", 320), mm=160, layers=2).code != "upstand-short"


@pytest.mark.parametrize("stays_mm", [149.9, 75.0])
def test_a_channel_clears_a_door_down_to_75_mm(stays_mm):
    found = told(item("threshold", STACK + stays_mm))
    assert found.remedy is not None
    assert [(c.path, c.value) for c in found.remedy.changes] == [
        ("survey.heights[it].drained_channel", True)
    ]
    drained = item("threshold", STACK + stays_mm, drained_channel=True)
    assert told(drained).code != "upstand-short"


def test_below_75_mm_a_channel_is_not_offered():
    found = told(item("threshold", STACK + 74.9))
    assert found.remedy is not None
    assert found.remedy.changes == ()
    assert told(item("threshold", STACK + 74.9, drained_channel=True)).code == "upstand-short"


def test_a_channel_is_no_help_at_a_sill():
    found = worked(item("sill", STACK + 100, drained_channel=True)).items[0]
    assert found.required == 150


def test_a_channel_is_not_offered_where_another_upstand_was_agreed():
    found = told(item("threshold", STACK + 100, agreed_upstand_mm=120))
    assert found.remedy is not None
    assert [c.path for c in found.remedy.changes] == ["design.thickness_mm"]


def test_where_nothing_fits_there_are_only_words():
    found = told(item("dpc", 150))
    assert found.remedy is not None
    assert found.remedy.changes == ()


def test_an_upstand_agreed_in_writing_holds_and_is_noted():
    low = item("weep", STACK + 130, agreed_upstand_mm=110)
    found = told(low)
    assert (found.code, found.level, found.basis) == ("upstand-agreed", "note", "declared")
    assert worked(low).items[0].agreed


def test_a_sash_must_swing_clear_and_its_sill_must_stand_over_an_upstand():
    sill, sash = sorted(worked(windows=(WINDOW,)).items, key=lambda i: i.kind != "sill")
    assert sill.margin.value == pytest.approx(300 - STACK - 150)
    assert sash.margin.value == pytest.approx(340 - STACK - 25)
    assert sill.at == sash.at == pytest.approx((6.2 - 1.5, 4.1))


@pytest.mark.parametrize(
    ("hinge", "opens"), [("fixed", "outwards"), ("sliding", "outwards"), ("left", "inwards"),
                         ("top", "no")],
)  # fmt: skip
def test_a_sash_that_does_not_swing_over_the_roof_is_left_out(hinge, opens):
    still = WINDOW.model_copy(update={"hinge": hinge, "opens": opens})
    assert [i.kind for i in worked(windows=(still,)).items] == ["sill"]


def test_the_remedies_clear_their_findings_in_a_real_job():
    low = rooms.changed(
        rooms.job("rear-extension"), **{"survey.heights[dpc-of-house].above_covering_mm": 391}
    )
    thick = rooms.changed(low, **{"design.thickness_mm": 140})
    found = one(rooms.designed(thick).heights.findings, "upstand-short")
    assert "upstand-short" not in codes(rooms.designed(rooms.cured(thick, found)).heights.findings)
    door = rooms.changed(
        rooms.job("courtyard"), **{"survey.heights[bin-door].drained_channel": False}
    )
    found = one(rooms.designed(door).heights.findings, "upstand-short")
    assert "upstand-short" not in codes(rooms.designed(rooms.cured(door, found)).heights.findings)
