"""Tasks: what each kind of roof asks for, in which order, with whose outputs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.errors import InvalidInput
from evenfall.stages.programme import tasks as room
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.site import kind
from evenfall.working import total

ROOFLIGHT = roofs.opening("rooflight", "light", 2.3, 1.1, 1.1, 1.6)
PIPE = roofs.opening("pipe", "soil", 1.2, 5.1, 0.11, 0.11)

# items of the handbook's reference roof, 11.3: outputs, quantities of 11.2, and hours as printed
REFERENCE = (
    ((("strip-felt", "m2", 25.42),), 6.4),
    ((("strip-edges", "m", 20.6),), 2.1),
    ((("inspect-deck", "m2", 25.42),), 2.0),
    ((("patch-deck", "m2", 0.25 * 25.42),), 3.2),
    ((("close-vents", "m", 14.4),), 1.7),
    ((("vcl-adhesive", "m2", 28.9), ("vcl-edges", "m", 20.6)), 5.7),
    ((("edge-timber", "m", 20.6),), 6.2),
    ((("kerb-build", "each", 1),), 3.0),
    ((("boards-glue", "m2", 23.66), ("cut-edges", "m", 20.6 + 5.4)), 5.1),
    ((("sheet-field", "m2", 25.42),), 5.1),
    ((("upstand", "m", 6.2),), 2.2),
    ((("kerb-dress", "each", 1),), 3.0),
    ((("pipe-boot", "each", 1),), 0.5),
    ((("trim", "m", 14.4),), 3.2),
    ((("flashing", "m", 6.2),), 3.1),
    ((("fascia", "m", 14.4),), 5.8),
    ((("gutter", "m", 6.2), ("downpipe", "m", 3)), 2.5),
    ((("open-and-close", "person_day", 10),), 5.0),
    ((("night-joint", "night", 3), ("night-joint-metre", "m", 3 * 6.2)), 6.7),
    ((("set-up", "job", 1),), 3.0),
    ((("clear-up", "job", 1),), 3.0),
)


def work(of=None, outputs=roofs.OUTPUTS, **changes):
    return room.work(roofs.roof(of, **changes), roofs.when(), outputs, "planning seed")


def quantity(tasks, name):
    return sum(t.quantity.value for t in tasks.tasks if kind(t.id) == name)


def names(tasks):
    return {kind(t.id) for t in tasks.tasks}


def person_hours(counts):
    outputs = Outputs(roofs.OUTPUTS, "planning seed")
    return sum(
        outputs.hours(name, unit, total(name, "Q", unit, [("listed", q)]))[0].value
        for name, unit, q in counts
    )


@pytest.mark.parametrize(("counts", "printed"), REFERENCE, ids=lambda v: str(v)[:24])
def test_each_item_of_the_reference_roof_takes_the_hours_that_the_handbook_prints(counts, printed):
    assert person_hours(counts) == pytest.approx(printed, abs=0.05)


def test_the_items_of_the_reference_roof_add_up_to_the_handbook_s_total():
    """Trade handbook 11.3 adds up its rounded items, 78.5; unrounded they make 78.3."""
    hours = [person_hours(counts) for counts, _ in REFERENCE]
    assert sum(round(h, 1) for h in hours) == pytest.approx(78.5, abs=0.1)
    assert sum(hours) == pytest.approx(78.3, abs=0.05)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("strip-felt", 25.42),
        ("strip-edges", 20.6),
        ("inspect-deck", 25.42),
        ("patch-deck", 0.25 * 25.42),
        ("close-vents", 14.4),
        ("vcl-adhesive", 28.9),
        ("vcl-edges", 20.6),
        ("boards-glue", 23.66),
        ("cut-edges", 26.0),
        ("sheet-field", 25.42),
        ("upstand", 6.2),
        ("trim", 14.4),
        ("flashing", 6.2),
        ("fascia", 14.4),
        ("gutter", 6.2),
        ("downpipe", 3.0),
        ("kerb-build", 1),
        ("kerb-dress", 1),
        ("pipe-boot", 0),
    ],
)
def test_the_same_roof_asks_for_the_quantities_that_the_handbook_lists(name, expected):
    """Trade handbook 11.2 and 11.3; edge timber stands apart, as the take-off buys none at a wall.

    The tolerance is that of the printed digits (28.9).
    """
    tasks = work(roofs.oblong(6.2, 4.1, openings=(ROOFLIGHT,)))
    assert quantity(tasks, name) == pytest.approx(expected, abs=0.05)


def test_edge_timber_runs_where_the_take_off_buys_it():
    assert quantity(work(), "edge-timber") == pytest.approx(14.4)


def test_a_parapet_gets_a_capping_and_an_upstand_and_no_trim():
    kinds = ("parapet", "parapet", "wall", "parapet")
    drain = roofs.opening("outlet", "drain", 3.0, 0.4, 0.1, 0.1)
    tasks = work(roofs.oblong(6.2, 4.1, kinds, (drain,)), gutters=())
    assert quantity(tasks, "capping") == pytest.approx(14.4)
    assert quantity(tasks, "upstand") == pytest.approx(20.6)
    assert not names(tasks) & {"trim", "fascia", "edge-timber", "close-vents", "gutter"}
    assert quantity(tasks, "overflow") == 1
    three = work(roofs.oblong(6.2, 4.1, kinds, (drain,)), gutters=(), overflows=3)
    assert quantity(three, "overflow") == 3
    assert quantity(tasks, "outlet") == 1


def test_bays_share_out_every_quantity_of_the_roof():
    of = roofs.letter_l((ROOFLIGHT, PIPE))
    tasks = work(of)
    assert len(tasks.bays) > 2
    assert quantity(tasks, "strip-felt") == pytest.approx(of.gross.value)
    assert quantity(tasks, "strip-edges") == pytest.approx(of.perimeter.value)
    holes = sum(o.area_m2 for o in of.openings)
    turned = of.perimeter.value + sum(o.perimeter_m for o in of.openings)
    assert quantity(tasks, "vcl-adhesive") == pytest.approx(of.gross.value - holes + 0.2 * turned)


def test_chippings_and_a_second_system_of_felt_take_time_of_their_own():
    plain, heavy = work(), work(chippings=True, layers=4)
    assert not names(plain) & {"strip-chippings", "strip-second-system"}
    assert quantity(heavy, "strip-chippings") == pytest.approx(25.42)
    assert quantity(heavy, "strip-second-system") == pytest.approx(25.42)


def test_a_deck_renewed_all_over_is_lifted_and_laid_and_not_patched():
    tasks = work(renew_percent=100.0)
    assert {"lift-deck", "new-deck"} <= names(tasks)
    assert "patch-deck" not in names(tasks)


def test_a_deck_is_lifted_for_firrings_and_laid_again_but_for_what_is_new():
    tasks = work(firrings_m=50.0, relaid_percent=74.0)
    assert quantity(tasks, "lift-deck") == pytest.approx(0.74 * 25.42)
    assert quantity(tasks, "relay-deck") == pytest.approx(0.74 * 25.42)
    assert "new-deck" not in names(tasks)


def test_screwed_boards_count_their_screws_and_are_not_glued():
    tasks = work(screwed=True, screws_m2=2.3)
    assert quantity(tasks, "screw") == pytest.approx(2.3 * 25.42)
    assert "boards-glue" not in names(tasks)
    assert "boards-screw" in names(tasks)


def test_a_taped_vcl_takes_the_output_of_polythene():
    tasks = work(vcl=replace(roofs.STICKY, kind="polythene"))
    assert "vcl-polythene" in names(tasks)
    assert "vcl-adhesive" not in names(tasks)


def test_what_is_kept_takes_no_time():
    tasks = work(new_fascia=False, gutters=(), close_vents=False)
    assert not names(tasks) & {"fascia", "gutter", "downpipe", "close-vents", "remove-quilt"}


def test_every_piece_of_work_stands_after_all_that_comes_before_it():
    seen = set()
    for task in work(roofs.letter_l((ROOFLIGHT,))).tasks:
        assert set(task.after) <= seen, task.id
        seen.add(task.id)


def test_the_order_of_the_trade_holds_in_a_bay():
    of = work(wall_heads=("A-B",), quilt_mm=75.0, firrings_m=50.0, relaid_percent=70.0)
    tasks = [t.id for t in of.tasks]
    last = [kind(t) for t in tasks if t.endswith("@2")]
    assert last[: len(STRIPPED)] == STRIPPED


STRIPPED = ["strip-edges", "strip-felt", "inspect-deck", "lift-deck", "remove-quilt", "firrings",
            "relay-deck", "patch-deck"]  # fmt: skip


def test_the_fascia_comes_before_the_trim_and_the_gutter_after_it():
    order = [kind(t.id) for t in work().tasks]
    assert order.index("fascia") < order.index("trim") < order.index("gutter")


def test_each_hold_point_stands_once_and_those_of_a_bay_once_in_each_bay():
    tasks = work(roofs.letter_l((ROOFLIGHT,)))
    held = [t.hold_point for t in tasks.tasks if t.hold_point is not None]
    bays = len(tasks.bays)
    assert {n: held.count(n) for n in (0, 4, 5, 6, 7, 8, 9)} == dict.fromkeys(
        (0, 4, 5, 6, 7, 8, 9), 1
    )
    assert held.count(1) == held.count(3) == bays
    assert held.count(2) <= bays


def test_the_site_is_opened_and_closed_by_every_person_on_every_day():
    of, time = roofs.roof(), roofs.when(people=3)
    tasks, days = roofs.planned(of, time)
    assert quantity(tasks, "open-and-close") == 3 * len(days.days)


def test_a_missing_output_is_named():
    outputs = tuple(o for o in roofs.OUTPUTS if o.task != "flashing")
    with pytest.raises(InvalidInput, match='no output named "flashing"') as told:
        work(outputs=outputs)
    assert told.value.where == "the rates: outputs"


def test_an_output_that_this_roof_does_not_need_may_be_missing():
    outputs = tuple(o for o in roofs.OUTPUTS if o.task != "capping")
    assert work(outputs=outputs).hours.value > 0


def test_an_output_of_nought_is_refused():
    outputs = tuple(
        o.model_copy(update={"low": 0.0, "typical": 0.0}) if o.task == "trim" else o
        for o in roofs.OUTPUTS
    )
    with pytest.raises(InvalidInput, match="trim takes 0 hours"):
        work(outputs=outputs)


def test_an_output_in_another_unit_is_refused():
    outputs = tuple(
        o.model_copy(update={"unit": "each"}) if o.task == "trim" else o for o in roofs.OUTPUTS
    )
    with pytest.raises(InvalidInput, match="trim per each"):
        work(outputs=outputs)


def test_low_and_high_hours_go_by_the_same_quantity():
    strip = [t for t in work().tasks if kind(t.id) == "strip-felt"]
    assert sum(t.hours_low for t in strip) == pytest.approx(0.15 * 25.42)
    assert sum(t.hours_high for t in strip) == pytest.approx(0.40 * 25.42)


def test_hours_take_the_basis_of_the_outputs():
    assert work().hours.basis == "planning seed"
    assert room.work(roofs.roof(), roofs.when(), roofs.OUTPUTS, "demo").hours.basis == "demo"


def test_a_low_door_is_a_hold_point_of_its_own_after_its_upstand_and_channel():
    tasks = work(doors_m=(0.9,)).tasks
    door = next(t for t in tasks if t.id == "task:door-hold")
    assert door.hold_point == 7
    assert "task:door-channel" in door.after
    assert door.hours.value == 0
    assert "door-hold" not in names(work())
