"""The items room: each need counted by hand, each pack enough, the worse label taken."""

from math import ceil, pi

import pytest
from pydantic import ValidationError
from tests.unit import rooms

from evenfall.errors import InvalidInput
from evenfall.model.case import Case
from evenfall.model.rates import Item, Pack
from evenfall.stages import seen, seen_boards
from evenfall.stages.takeoff import items, packed

NAMES = ("garage", "rear-extension", "courtyard")
KERB = 2 * (1.16 + 0.94)


def worked(name: str, rates=None, **changes: object):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes), rates)


def wants(w) -> dict[str, float]:
    return {name: need.value for name, need in items.wants(w.roof)}


def test_primer_goes_under_a_vcl_that_sticks_and_tape_on_one_that_does_not():
    sticks = worked("rear-extension", **{"design.vcl": "bitumen-plain"})
    loose = worked("garage", **{"design.vcl": "polythene"})
    walls = sum(s.length_m for s in sticks.plan.of_kind("wall"))
    up = sticks.rolls.turn_up.value / 1000 * walls
    assert up > 1
    assert wants(sticks)["primer"] == pytest.approx(sticks.plan.net.value + up)
    assert wants(sticks)["vcl-tape"] == 0
    assert wants(loose)["primer"] == 0
    assert wants(loose)["vcl-tape"] == sum(s.length_mm for s in loose.rolls.strips) / 1000


def test_bitumen_is_kept_off_the_rubber_all_round_and_at_every_opening():
    w = worked("rear-extension")
    edge = w.plan.perimeter.value + KERB + pi * 0.11
    assert wants(w)["butyl-separation-strip"] == pytest.approx(edge)
    loose = worked("garage", **{"design.vcl": "aluminium-polythene"})
    assert "butyl-separation-strip" not in wants(loose)


def test_the_sheet_is_bonded_over_the_gross_area():
    w = worked("rear-extension")
    assert wants(w)["field-adhesive"] == w.plan.gross.value


def test_adhesive_for_the_boards_goes_by_the_beads_of_each_zone_and_by_each_face():
    w = worked("courtyard")
    once = sum(z.area_m2 * 300 / z.bead_mm for z in w.wind.zones)
    assert wants(w)["board-adhesive"] == pytest.approx(3 * once)  # two layers and the overlay
    bare = worked("courtyard", **{"design.overlay_mm": 0})
    assert wants(bare)["board-adhesive"] == pytest.approx(
        2 * sum(z.area_m2 * 300 / z.bead_mm for z in bare.wind.zones)
    )


def test_boards_are_screwed_or_glued():
    screwed, glued = worked("rear-extension"), worked("courtyard")
    assert "board-adhesive" not in wants(screwed)
    assert [o.id for o in screwed.items.order if o.id.startswith("screw:")] == ["screw:120"]
    assert not [o for o in glued.items.order if o.id.startswith("screw:")]


def test_screws_go_by_the_fixing_plan_with_five_percent_more():
    w = worked("rear-extension")
    number = w.fixings.screws.value
    assert number >= sum(z.area_m2 / 2.88 * z.per_board for z in w.wind.zones)
    line = next(o for o in w.items.order if o.id == "screw:120")
    assert line.need.value == pytest.approx(1.05 * number)
    assert line.packs == ((ceil(1.05 * number / 250), 250.0, "box of 250"),)


def test_upstands_and_edges_are_bonded_by_the_height_that_is_dressed():
    w = worked("rear-extension")
    of = {k: sum(s.length_m for s in w.plan.of_kind(k)) for k in ("eaves", "verge", "wall")}
    by_hand = of["eaves"] * 0.075 + of["verge"] * 0.24 + of["wall"] * 0.25 + KERB * 0.25
    assert wants(w)["contact-adhesive"] == pytest.approx(by_hand)


def test_parapets_are_bonded_up_to_their_top():
    w = worked("courtyard")
    sides = {s.name: s.length_m for s in w.plan.sides}
    by_hand = sides["P-Q"] * 0.562 + sides["Q-R"] * 0.586 + sides["R-S"] * 0.598
    by_hand += sides["S-T"] * 0.24 + sides["T-P"] * 0.25
    assert wants(w)["contact-adhesive"] == pytest.approx(by_hand)


def test_seams_corners_and_patches_are_counted():
    found = wants(worked("rear-extension"))
    assert found["seam-tape"] == found["seam-primer"] == pytest.approx(KERB)
    assert (found["corner-patch"], found["rooflight-corner"], found["t-patch"]) == (6, 4, 4)
    narrow = rooms.demo_rates().model_dump(mode="json")["sheets"]
    strips = worked("rear-extension", rooms.rates_with(
        sheets=[s | {"widths_m": [3.05]} for s in narrow]))  # fmt: skip
    chosen = strips.sheet.chosen
    assert wants(strips)["seam-tape"] == pytest.approx(KERB + chosen.seam_mm / 1000)
    assert wants(strips)["t-patch"] == 4 + 2 * (chosen.strips - 1)


def test_what_passes_through_the_roof_gets_its_piece():
    found = wants(worked("courtyard"))
    assert (found["outlet"], found["overflow"], found["flue-collar"], found["pipe-boot"]) == (
        1, 1, 1, 0,
    )  # fmt: skip
    assert wants(worked("rear-extension"))["pipe-boot"] == 1


def test_a_channel_is_as_wide_as_its_door_or_a_metre_where_nobody_measured_it():
    assert wants(worked("courtyard"))["door-channel"] == 1.0
    wide = {"survey.heights[bin-door].width_m": 0.86}
    assert wants(worked("courtyard", **wide))["door-channel"] == 0.86
    dry = {"survey.heights[bin-door].drained_channel": False}
    assert wants(worked("courtyard", **dry))["door-channel"] == 0


def test_deck_and_overlay_go_by_their_areas():
    w = worked("courtyard")
    assert wants(w)["deck-board"] == pytest.approx(0.38 * w.plan.gross.value)
    assert wants(w)["overlay-board"] == pytest.approx(w.plan.net.value)
    assert wants(worked("courtyard", **{"design.overlay_mm": 0}))["overlay-board"] == 0


def test_wall_heads_are_packed_where_they_are_open_and_filled():
    w = worked("garage")
    assert wants(w)["wall-head-packing"] == pytest.approx(w.plan.side("A-B").length_m)
    assert wants(worked("garage", **{"design.wall_head": "leave"}))["wall-head-packing"] == 0
    closed = {"survey.sides[A-B].wall_head.state": "filled"}
    assert wants(worked("garage", **closed))["wall-head-packing"] == 0


def test_joist_ends_are_treated_only_along_the_sides_that_the_joists_run_against():
    """An L whose joists run along B-C: both ends of 6.4 m of joists, at 402 mm."""
    w = worked("rear-extension")
    ends = 2 * 6.4 / 0.402
    assert items.joist_ends(w.plan, w.job.survey.joists) == pytest.approx(ends, rel=0.01)
    brushed = {n: float(v) for n, _, v in dict(items.wants(w.roof))["joist-preservative"].of}
    assert brushed["joist ends"] == pytest.approx(0.25 * ends, rel=0.01)
    sound = dict(items.wants(worked("garage").roof))["joist-preservative"]
    assert "joist ends" not in {n for n, _, _ in sound.of}


def test_both_ends_of_every_piece_of_treated_timber_are_brushed():
    w = worked("rear-extension")
    treated = [r for r in w.lengths.runs if r.id.partition(":")[2].startswith(
        ("edge-timber", "kerb-timber", "firring-timber"))]  # fmt: skip
    pieces = sum(len(bar.cuts) for run in treated for bar in run.bars)
    brushed = {n: float(v) for n, _, v in dict(items.wants(w.roof))["joist-preservative"].of}
    assert brushed["ends of treated timber"] == pytest.approx(2 * pieces * 0.02)


def test_no_bags_are_bought_for_felt_with_asbestos_and_untested_felt_waits():
    found = worked("garage", **{"survey.covering.asbestos": "found"})
    assert "item:felt-bags" not in {o.id for o in found.items.order}
    note = {o.id: o.note for o in worked("courtyard").items.order}["item:felt-bags"]
    assert "sample" in note


def test_a_timber_fascia_gets_three_coats_on_all_faces_and_cut_ends():
    """Boards of 21 mm, by their depth; plastic ones are not painted, in the order or in hours."""
    w = worked("garage")
    area = 0.0
    for run in w.lengths.runs:
        if run.id.startswith("length:fascia"):
            deep = float(run.id.rpartition("-")[2]) / 1000
            cuts = [mm for bar in run.bars for _, mm in bar.cuts]
            area += 2 * sum(cuts) / 1000 * (deep + 0.021) + 2 * len(cuts) * deep * 0.021
    found = wants(w)
    for coat in ("primer", "undercoat", "topcoat"):
        assert found[f"fascia-{coat}"] == pytest.approx(area)
    plastic = worked("garage", **{"design.fascia_finish": "plastic"})
    coats = {f"fascia-{coat}" for coat in ("primer", "undercoat", "topcoat")}
    assert not coats & set(wants(plastic))
    hours = seen.time_roof(Case(w.job, w.rates, rooms.ON), w)
    assert hours.painted
    assert not seen_boards.paints(Case(plastic.job, plastic.rates, rooms.ON))


def test_what_passes_through_the_vcl_gets_a_collar_and_floors_are_covered():
    found, w = wants(worked("courtyard")), worked("rear-extension")
    assert found["vcl-collar"] == sum(
        o.kind in ("pipe", "post", "flue") for o in worked("courtyard").plan.openings
    )
    edge = sum(s.length_m for s in w.plan.of_kind("eaves", "verge", "party_line", "step"))
    assert wants(w)["protection-sheet"] == pytest.approx(w.plan.gross.value + 1.5 * edge)


def test_small_things_that_the_rates_lack_are_said_and_not_refused():
    kept = [i for i in rooms.demo_rates().model_dump(mode="json")["items"]
            if i["name"] not in ("vcl-collar", "protection-sheet")]  # fmt: skip
    w = worked("rear-extension", rooms.rates_with(items=kept))
    told = [f for f in w.items.findings if f.code == "item-not-in-rates"]
    assert {f.subject for f in told} == {"item:vcl-collar", "item:protection-sheet"}
    assert all("neither ordered nor priced" in f.says for f in told)


@pytest.mark.parametrize(
    "wrong", [{"covers_unit": "m"}, {"covers_other_label": 2.0, "covers_other_label_unit": "each"}]
)
def test_a_coverage_in_another_unit_than_the_work_is_refused_by_name(wrong):
    listed = rooms.demo_rates().model_dump(mode="json")["items"]
    for item in listed:
        if item["name"] == "field-adhesive":
            item.update(wrong)
    with pytest.raises(InvalidInput, match=r"field-adhesive covers (m|each) a l"):
        worked("garage", rooms.rates_with(items=listed))


@pytest.mark.parametrize(
    ("key", "value"), [("covers", 0), ("covers_other_label", 0), ("covers", -2)]
)
def test_a_coverage_of_nothing_is_no_rate_at_all(key, value):
    one = rooms.demo_rates().items[0].model_dump(mode="json")
    with pytest.raises(ValidationError, match="greater than 0"):
        Item.model_validate(one | {key: value})


def test_the_night_cover_reaches_past_the_largest_bay():
    w = worked("garage")
    xs, ys = zip(*w.plan.deck, strict=True)
    a, b = max(xs) - min(xs) + 3.0, max(ys) - min(ys) + 3.0
    assert wants(w)["cover-sheet"] == pytest.approx(a * b)
    assert wants(w)["sandbags"] == pytest.approx(2 * (a + b))
    assert wants(w)["night-tape"] == pytest.approx(w.plan.side("A-B").length_m)


def test_felt_is_bagged_by_its_mass():
    w = worked("garage")
    assert wants(w)["felt-bags"] == pytest.approx(0.62 / 0.09 * w.plan.gross.value)


@pytest.mark.parametrize("name", NAMES)
def test_every_pack_of_the_order_covers_its_need(name):
    for line in worked(name).items.order:
        assert line.bought >= line.need.value - 1e-9
        assert line.bought == pytest.approx(sum(n * size for n, size, _ in line.packs))


def test_the_worse_of_two_labels_counts_and_waste_comes_on_top():
    w = worked("rear-extension")
    line = next(o for o in w.items.order if o.id == "item:primer")
    assert line.need.value == pytest.approx(wants(w)["primer"] / 4.4 * 1.10)


def test_packs_are_chosen_by_cost():
    item = Item(
        name="glue", says="glue", unit="l", covers=1, covers_unit="m2", waste_percent=0,
        packs=(Pack(size=2.5, price_pence=2900), Pack(size=10, price_pence=8600)),
    )  # fmt: skip
    assert packed.in_packs(7.6, item) == (((1, 10.0, "pack of 10 l"),), 10.0)
    assert packed.in_packs(2.5, item) == (((1, 2.5, "pack of 2.5 l"),), 2.5)
    assert packed.in_packs(2.501, item) == (((2, 2.5, "pack of 2.5 l"),), 5.0)


def test_an_item_that_the_rates_lack_is_refused_by_name():
    few = [i for i in rooms.demo_rates().model_dump(mode="json")["items"]
           if i["name"] != "field-adhesive"]  # fmt: skip
    with pytest.raises(InvalidInput, match="field-adhesive"):
        worked("garage", rooms.rates_with(items=few))


def test_what_a_practice_counts_by_carries_its_basis():
    found = dict(items.wants(worked("rear-extension").roof))
    assert found["field-adhesive"].basis == "published"  # arithmetic on the plan alone
    assert found["joist-preservative"].basis == "planning seed"
    assert found["wood-screws"].basis == "demo"  # the declared screw of invented rates


def test_a_deck_that_is_lifted_for_firrings_is_screwed_again_all_over():
    of = worked("rear-extension")
    found, edge = dict(items.wants(of.roof))["wood-screws"], of.plan.gross.value
    assert of.roof.relaid_percent == 74
    deck = next(v for n, _, v in found.of if n == "deck")
    assert float(deck) == pytest.approx(16 * edge, abs=1)
