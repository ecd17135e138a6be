"""Kerbs as high as they become, what round a chimney is flashed, soffits, and what holds it all."""

from math import ceil

import pytest
from tests.unit import rooms
from tests.unit.plans import codes

from evenfall.model.case import Case
from evenfall.stages import seen
from evenfall.stages.takeoff import held, items


def worked(name: str, rates=None, **changes: object):
    return rooms.taken_off(rooms.changed(rooms.job(name), **changes), rates)


def needs(w) -> dict[str, float]:
    return {r.id.removeprefix("length:"): r.need.value for r in w.lengths.runs}


def box_of(w) -> dict[int, int]:
    """Course by course, how thick the box of the rooflight is."""
    return {c.number: c.thick_mm for c in w.lengths.kerbs if c.side.startswith("rooflight")}


def light(w):
    return next(o for o in w.plan.openings if o.kind == "rooflight")


def test_a_rooflight_kerb_stands_150_above_the_finished_sheet():
    """140 of board, 1.2 of rubber, 150: 291.2 above the deck, from 100 + 100 + 100."""
    w = worked("rear-extension")
    boards = w.rise.chosen_mm + w.build.overlay_mm
    high = w.lengths.kerbs[-1].high_mm
    assert high == pytest.approx(boards + 1.2 + 150)
    assert sum(box_of(w).values()) >= high
    assert sum(box_of(w).values()) - high <= 25


def test_thicker_boards_raise_the_kerb_and_boards_under_it_lower_it():
    tops = [worked("rear-extension", **{"design.thickness_mm": mm}) for mm in (120, 150)]
    assert tops[1].lengths.kerbs[-1].high_mm - tops[0].lengths.kerbs[-1].high_mm == 30
    on = worked("rear-extension", **{"survey.openings[rooflight].stands_on": "boards"})
    assert on.lengths.kerbs[-1].high_mm == pytest.approx(151.2)
    first = next(c for c in on.lengths.kerbs if c.side.startswith("rooflight"))
    assert first.screw_mm[0] == first.thick_mm + 140 + 30  # through the boards into the deck
    assert "through the boards" in first.into


def test_an_old_kerb_that_is_higher_sets_the_height():
    tall = worked("rear-extension", **{"survey.openings[rooflight].kerb_height_mm": 420})
    lifted = min(tall.falls.added_at(p) for p in light(tall).ring)
    assert tall.lengths.kerbs[-1].high_mm == pytest.approx(12 + 420 - lifted)


def test_strips_of_sheet_are_as_wide_as_the_kerb_is_high_above_the_roof_and_a_hand_more():
    usual = worked("rear-extension")
    tall = worked("rear-extension", **{"survey.openings[rooflight].kerb_height_mm": 420})
    wide = [{s.width_mm for s in w.sheet.upstands} for w in (usual, tall)]
    boards = tall.rise.chosen_mm + tall.build.overlay_mm
    [box] = {c.high_mm for c in tall.lengths.kerbs if c.side.startswith("rooflight")}
    above = box - boards - tall.build.rubber.thickness_mm
    assert wide[0] == {250}
    assert wide[1] == {ceil(above + 100)}
    assert above > 150
    glue = [dict(items.wants(w.roof))["contact-adhesive"].value for w in (usual, tall)]
    more = light(tall).perimeter_m * (above - 150) / 1000
    assert glue[1] - glue[0] == pytest.approx(more, abs=0.01)


def test_two_sides_of_each_course_run_through_and_the_next_course_is_turned():
    w = worked("rear-extension")
    whole = {1: 1160, 2: 940, 3: 1160, 4: 940}
    for c in (c for c in w.lengths.kerbs if " side " in c.side):
        k = int(c.side.rpartition(" ")[2])
        through = k % 2 == c.number % 2
        assert c.length_mm == pytest.approx(whole[k] - (0 if through else 2 * 47), abs=1)


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_every_kerb_is_high_enough_and_every_course_has_a_screw_that_bites(name):
    w = worked(name)
    asked = w.job.design.kerb_height_mm
    for side in w.plan.of_kind("verge", "party_line"):
        mine = [c for c in w.lengths.kerbs if c.side == f"kerb of {side.name}"]
        assert sum(c.thick_mm - c.planed_mm for c in mine) == asked
    for c in w.lengths.kerbs:
        fits = [i.length_mm for i in w.rates.items
                if i.name.startswith("wood-screws-") and i.length_mm >= c.screw_mm[0]]  # fmt: skip
        assert fits
        assert c.screw_mm[0] >= c.thick_mm + 30
    bought = sum(o.bought for o in w.items.order if o.id.startswith("item:wood-screws-"))
    places = sum(ceil(c.length_mm / w.fixings.edge_timber.value) + 1
                 for c in (*w.lengths.courses, *w.lengths.kerbs))  # fmt: skip
    assert bought >= places


def test_kerb_timber_without_a_depth_is_said_to_be_unknown():
    table = rooms.demo_rates().model_dump(mode="json")["lengths"]
    plain = [x for x in table if not x["name"].startswith("kerb-timber")]
    plain.append({"name": "kerb-timber", "says": "k", "lengths_mm": [4200], "price_pence_m": 465})
    w = worked("rear-extension", rooms.rates_with(lengths=plain))
    assert "kerb-timber-unknown" in codes(w.lengths.findings)
    assert needs(w)["kerb-timber"] > 4.2


CHIMNEY = {"name": "stack", "kind": "chimney", "side": "B-C", "along_m": 1.9, "in_m": 1.7,
           "length_m": 0.9, "width_m": 0.5}  # fmt: skip


def test_a_chimney_gets_bar_and_flashing_on_four_faces_with_four_corners():
    pipe = rooms.job("garage").survey.openings[0].model_dump(mode="json")
    w = worked("garage", **{"survey.openings": [pipe, CHIMNEY]})
    assert needs(w)["wall-bar"] == needs(w)["cover-flashing"] == pytest.approx(2.8)
    fitted = {f"{f.section}:{f.name}": f.need.value for f in w.lengths.fitted}
    assert fitted["cover-flashing:corner-out"] == 4
    note = next(o.note for o in w.lengths.order if o.id == "length:wall-bar")
    assert "4 outer corners" in note
    wedges = dict(items.wants(w.roof))["flashing-wedges"].value
    assert wedges == 2 * (0.9 // 0.45 + 1) + 2 * (0.5 // 0.45 + 1)


def test_flashings_turn_the_corners_of_walls_not_of_the_roof():
    """The flank D-E stands out into the roof: its corner at D is an outer one of the walls."""
    fitted = {f"{f.section}:{f.name}": f.note for f in worked("rear-extension").lengths.fitted}
    assert "C-D to D-E" in fitted["cover-flashing:corner-out"]
    assert "D-E to E-F" in fitted["cover-flashing:corner-in"]


def test_a_soffit_is_ordered_with_battens_only_where_asked_and_where_there_is_one():
    assert not [n for n in needs(worked("rear-extension")) if n.startswith(("soffit", "batten"))]
    w = worked("rear-extension", **{"design.soffit": "renew"})
    found = needs(w)
    assert found["soffit-100"] == pytest.approx(6.374 + 0.04, abs=0.02)  # 115 less 19: 96 wide
    assert found["batten"] == pytest.approx(2 * 6.41, abs=0.03)
    assert not [r for r in w.lengths.runs if "soffit" in r.id and "F-A" in str(r.bars)]  # 4 mm
    wide = worked("rear-extension", **{"design.soffit": "renew",
                                       "survey.sides[A-B].overhang_mm": 640})  # fmt: skip
    assert "soffit-wide" in codes(wide.lengths.findings)
    assert needs(wide)["soffit-400"] > 0
    none = worked("courtyard", **{"design.soffit": "renew"})
    assert "soffit-none" in codes(none.lengths.findings)
    roof = seen.time_roof(Case(w.job, w.rates, rooms.ON), w)
    assert [side for side, _ in roof.soffits_m] == ["A-B"]


def test_what_holds_boards_bars_and_firrings_is_counted_piece_by_piece():
    w = worked("garage", **{"design.soffit": "renew"})
    found = {name: need.value for name, need in items.wants(w.roof)}
    firrings = [t.length_mm for t in w.lengths.firrings for _ in t.firrings]
    assert found["firring-screws"] == sum(2 * (ceil(mm / 600) + 1) for mm in firrings)
    boards = [mm for r in w.lengths.runs if r.id.startswith(("length:fascia", "length:soffit"))
              for b in r.bars for _, mm in b.cuts]  # fmt: skip
    assert found["fascia-fixings"] == sum(2 * (ceil(mm / 600) + 1) for mm in boards)
    battens = [(where, mm) for r in w.lengths.runs if r.id == "length:batten"
               for b in r.bars for where, mm in b.cuts]  # fmt: skip
    assert found["batten-screws"] == sum(ceil(mm / 400) + 1 for _, mm in battens)
    assert found["wall-plugs"] == sum(
        ceil(mm / 400) + 1 for where, mm in battens if where.endswith("at the wall")
    )


def test_cladding_has_neither_chase_nor_plugs():
    brick = worked("rear-extension")
    changes = {f"survey.sides[{s}].wall_of": "cladding" for s in ("C-D", "D-E", "E-F")}
    clad = worked("rear-extension", **changes)
    for w, some in ((brick, True), (clad, False)):
        found = dict(held.held(w.lengths, w.job.survey.sides, w.fixings.trims))
        for name in ("wall-plugs", "flashing-wedges", "chase-sealant"):
            assert bool(found[name].value) is some, name


def test_boards_below_the_edge_reach_round_its_corners():
    """The fascia is mitred at its outer face: the side of the deck and a board's thickness each."""
    w = worked("garage")
    by_side: dict[str, int] = {}
    for run in (r for r in w.lengths.runs if r.id.startswith("length:fascia")):
        for bar in run.bars:
            for where, mm in bar.cuts:
                by_side[where] = by_side.get(where, 0) + mm
    ring = w.plan.fascia
    for n, side in enumerate(w.plan.sides):
        (xa, ya), (xb, yb) = ring[n], ring[(n + 1) % len(ring)]
        outer = ((xa - xb) ** 2 + (ya - yb) ** 2) ** 0.5 * 1000
        assert by_side[side.name] == pytest.approx(outer, abs=12)  # less a gap at the joint
        assert by_side[side.name] > side.length_m * 1000
