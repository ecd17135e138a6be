"""The fixing plan: screws by the worst zone that each piece touches."""

from dataclasses import replace

import pytest
import shapely
from tests.unit import rooms

from evenfall.flow import DRAWINGS, WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.choice import build_up
from evenfall.model.taken_off import BoardPiece
from evenfall.stages import seen_boards
from evenfall.stages.takeoff import fixings


def worked(name: str, **changes: object) -> WorkedJob:
    job = rooms.job(name)
    job = rooms.changed(job, **changes) if changes else job
    return work_out(Case(job=job, rates=rooms.demo_rates(), weather=None, on=rooms.ON))


GARAGE = worked("garage", design__hold_boards_by="screws")
BUILD = build_up(GARAGE.case.job.design, GARAGE.case.rates)
SCREWS = seen_boards.edge_screws(GARAGE.case)
SQUARE_M = ((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0))
WHOLE_MM = ((0, 0), (2400, 0), (2400, 1200), (0, 1200))


def test_a_piece_takes_the_worst_zone_that_it_touches():
    pull = {z.zone: z.pressure.value for z in GARAGE.wind.zones}
    rings = {p.number: p.ring for p in GARAGE.boards.pieces}
    for fixed in GARAGE.fixings.pieces:
        shape = shapely.Polygon([(x / 1000, y / 1000) for x, y in rings[fixed.piece]])
        touched = [z.zone for z in GARAGE.wind.zones
                   if shape.intersection(shapely.Polygon(z.ring)).area > 1e-4]  # fmt: skip
        assert pull[fixed.zone] == min(pull[z] for z in touched)


def test_every_piece_holds_its_share_of_the_pull():
    """Screws times their resistance are 1.5 times the suction on the piece, at least."""
    pull = {z.zone: -z.pressure.value for z in GARAGE.wind.zones}
    rings = {p.number: p.ring for p in GARAGE.boards.pieces}
    for fixed in GARAGE.fixings.pieces:
        area = shapely.Polygon(rings[fixed.piece]).area / 1e6
        holds = len(fixed.places) * GARAGE.wind.resistance.value
        assert holds >= 1.5 * pull[fixed.zone] * area


def test_the_screws_ordered_are_those_of_the_plan():
    (line,) = (o for o in GARAGE.items.order if o.id.startswith("screw:"))
    assert line.bought >= GARAGE.fixings.screws.value
    assert GARAGE.fixings.screws.value == sum(len(p.places) for p in GARAGE.fixings.pieces)


def test_glued_boards_have_no_screws_but_their_edges_are_held():
    glued = worked("courtyard")
    assert glued.case.job.design.hold_boards_by == "adhesive"
    assert glued.fixings.pieces == ()
    assert glued.fixings.screws.value == 0
    assert 0 < glued.fixings.edge_timber.value <= 300
    drawing = DRAWINGS["fixings"](glued)
    (letters,) = (layer for layer in drawing.layers if layer.name == "zone letters")
    assert {t.text for t in letters.items} <= {f"{z.zone} {z.bead_mm}" for z in glued.wind.zones}
    assert len(letters.items) > 5
    assert "F 150 mm" in drawing.alt


def test_a_gale_brings_edge_screws_closer():
    job = rooms.changed(rooms.job("garage"), site__peak_pressure_kpa=3.5)
    job = rooms.changed(job, survey__deck__pull_outs_n=[420, 400, 390, 410])
    gale = work_out(Case(job=job, rates=rooms.demo_rates(), weather=None, on=rooms.ON))
    assert gale.fixings.edge_timber.value < GARAGE.fixings.edge_timber.value


def test_every_source_stands_beside_the_number_taken():
    rows = GARAGE.fixings.least.rows
    assert {row[0] for row in rows} > {"taken"}
    taken = {row[1].removeprefix("zone "): row[2] for row in rows if row[0] == "taken"}
    assert taken == {z.zone: z.per_board for z in GARAGE.wind.zones}


def test_the_other_thicknesses_and_both_embedments_stand_beside_what_is_taken():
    """90 mm boards take 8; 12 and 16 are for thinner ones. 25 and 30 mm in the deck: 30."""
    told = {row[1]: row[2] for row in GARAGE.fixings.least.rows}
    assert told["board 1.22 × 2.25 m, up to 40 mm thick (not this board)"] == 16
    assert told["board 1.22 × 2.25 m, up to 50 mm thick (not this board)"] == 12
    assert [row[2] for row in GARAGE.fixings.depth.rows] == [25, 30, 30]
    assert GARAGE.fixings.depth.rows[-1][0] == "taken"


def test_the_drawing_shows_every_screw_and_says_how_many():
    drawing = DRAWINGS["fixings"](GARAGE)
    (screws,) = (layer for layer in drawing.layers if layer.name == "screws")
    heads = sum(len(group.items) for group in screws.items)
    assert heads == GARAGE.fixings.screws.value
    assert f"{heads} screws" in drawing.alt


@pytest.mark.parametrize("more", [1.0, 1.6, 2.4])
def test_more_wind_never_means_fewer_screws(more):
    base = GARAGE.wind.q_p.value / 1000
    job = rooms.changed(rooms.job("garage"), design__hold_boards_by="screws",
                        site__peak_pressure_kpa=min(base * more, 5))  # fmt: skip
    windy = work_out(Case(job=job, rates=rooms.demo_rates(), weather=None, on=rooms.ON))
    assert windy.fixings.screws.value >= GARAGE.fixings.screws.value


def test_a_piece_whose_rounded_corners_touch_is_screwed_in_its_larger_part():
    """Two squares that share a corner, as rounding to millimetres may leave them."""
    ring = (
        (0, 0),
        (900, 0),
        (900, 600),
        (1000, 600),
        (1000, 700),
        (900, 700),
        (900, 600),
        (0, 600),
    )
    piece = BoardPiece(1, ring, 1000, 700, 1, False)
    found = fixings.work((piece,), GARAGE.wind, BUILD, True)
    (fixed,) = found.pieces
    assert len(fixed.places) >= 2
    assert all(x <= 900 and y <= 600 for x, y in fixed.places)


def rows(worked_: WorkedJob) -> dict[str, tuple]:
    return {row[0]: row for row in worked_.fixings.holds.rows}


def test_every_interface_stands_beside_what_holds_it():
    """By hand from the rates and the worst zone; nothing is left out from sheet to deck."""
    glued = worked("courtyard")
    table = rows(glued)
    assert list(table) == [
        "sheet to overlay" if glued.case.job.design.overlay_mm else "sheet to board",
        "sheet to the parapets", "facing and foam of the board", "boards to VCL", "VCL to deck",
        "edge timber to deck", "edge timber to the course below", "trims to edge timber",
    ]  # fmt: skip
    pull = 1.5 * max(-z.pressure.value for z in glued.wind.zones)
    assert table["boards to VCL"][2] == pytest.approx(pull / 1000)
    assert table["boards to VCL"][3] == pytest.approx(88 * 0.018 / 0.300)
    assert table["boards to VCL"][5] == int(100 * (88_000 * 0.018 / 0.300 / pull - 1))
    assert table["edge timber to deck"][2] == pytest.approx(pull * 0.3)
    assert table["facing and foam of the board"][3] == "ask the maker"


def test_screws_take_the_place_of_the_lower_bonds():
    (row,) = (r for r in GARAGE.fixings.holds.rows if r[0] == "boards and VCL to deck")
    assert "VCL to deck" not in rows(GARAGE)
    whole = 2.4 * 1.2
    spare = min(
        z.per_board * GARAGE.wind.resistance.value / (-1.5 * z.pressure.value * whole)
        for z in GARAGE.wind.zones
    )
    assert row[3] / row[2] == pytest.approx(spare, rel=1e-3)


def test_the_guides_for_the_edge_of_the_roof_stand_in_the_table():
    told = [row[1] for row in GARAGE.fixings.least.rows]
    assert any("perimeter" in where for where in told)
    assert any("field" in where for where in told)


@pytest.mark.parametrize(("pull_kpa", "said"), [(2.9, False), (3.3, True)])
def test_more_screws_than_a_board_has_room_for_are_said(pull_kpa, said):
    """Garage boards hold 16 to the square metre, a plate of its own each."""
    wind = replace(GARAGE.wind, zones=tuple(
        replace(z, per_board=round(z.per_board * pull_kpa)) for z in GARAGE.wind.zones
    ))  # fmt: skip
    board = BUILD.board
    most = max(z.per_board for z in wind.zones) / (board.length_mm * board.width_mm / 1e6)
    found = fixings.work(GARAGE.boards.uppermost, wind, BUILD, screwed=True)
    assert ("screws-crowded" in [f.code for f in found.findings]) is (most > 16) is said


@pytest.mark.parametrize(("total_mm", "boards"), [(80, (80,)), (50, (50,))])
def test_a_piece_of_a_thinner_zone_has_the_least_screws_of_its_own_thickness(total_mm, boards):
    """80 mm takes 8 in a field board of 1.22 x 2.25 m; 50 mm takes 12."""
    field = next(z for z in GARAGE.wind.zones if z.zone in "HI")
    calm = replace(GARAGE.wind, zones=(replace(field, ring=SQUARE_M, per_board=8),))
    piece = BoardPiece(1, WHOLE_MM, 2400, 1200, 1, False, total_mm)
    (fixed,) = fixings.work((piece,), calm, BUILD, True).pieces
    assert len(fixed.places) == {80: 8, 50: 12}[total_mm]
    assert BUILD.boards(total_mm) == boards


def test_trims_hold_by_the_timber_they_stand_in_not_by_the_deck():
    """EN 1995-1-1 (8.40a) by hand for the invented screw, 4.2 x 35 mm under 4 mm, in C16."""
    R_d = 11.4 * 4.2 * 31 * (310 / 350) ** 0.8 * 1.1 / 1.3
    weak = replace(GARAGE.wind, resistance=replace(GARAGE.wind.resistance, value=120.0))
    for wind in (GARAGE.wind, weak):
        found = fixings.work((), wind, BUILD, True, SCREWS)
        rows_ = {row[0]: row for row in found.holds.rows}
        assert rows_["trims to edge timber"][3] == pytest.approx(R_d / 200 * 1000)
    assert found.edge_timber.value < 300


def test_a_trim_screw_whose_strength_nobody_declared_is_counted_low_and_asked_for():
    """4 mm of thread over 26 mm at 8 N/mm2, all shown as planning figures."""
    found = fixings.work((), GARAGE.wind, BUILD, True)
    told = rooms.one(found.findings, "edge-screw-undeclared")
    assert (told.level, told.basis) == ("note", "planning seed")
    rows_ = {row[0]: row for row in found.holds.rows}
    R_d = 8 * 4 * 26 * (310 / 350) ** 0.8 * 1.1 / 1.3
    assert rows_["trims to edge timber"][3] == pytest.approx(R_d / 200 * 1000)
    declared = fixings.work((), GARAGE.wind, BUILD, True, SCREWS).findings
    assert "edge-screw-undeclared" not in rooms.codes(declared)


@pytest.mark.parametrize(("length_mm", "stopped"), [(29.0, True), (29.3, False)])
def test_a_trim_screw_with_less_than_six_diameters_in_the_timber_is_stopped(length_mm, stopped):
    """6 x 4.2 = 25.2 mm of thread and 4 mm of trim and sheet make 29.2 mm."""
    short = replace(SCREWS, trim=replace(SCREWS.trim, length_mm=length_mm))
    found = fixings.work((), GARAGE.wind, BUILD, True, short)
    assert ("trim-screw-short" in rooms.codes(found.findings)) is stopped
