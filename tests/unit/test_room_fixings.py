"""The fixing plan: screws by the worst zone that each piece touches."""

import pytest
import shapely
from tests.unit import rooms

from evenfall.flow import DRAWINGS, WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.taken_off import BoardPiece
from evenfall.stages.takeoff import fixings


def worked(name: str, **changes: object) -> WorkedJob:
    job = rooms.job(name)
    job = rooms.changed(job, **changes) if changes else job
    return work_out(Case(job=job, rates=rooms.demo_rates(), weather=None, on=rooms.ON))


GARAGE = worked("garage", design__hold_boards_by="screws")


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
    assert DRAWINGS["fixings"](glued) is None


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
    found = fixings.work((piece,), GARAGE.wind, GARAGE.seen["boards"][1], True)
    (fixed,) = found.pieces
    assert len(fixed.places) >= 2
    assert all(x <= 900 and y <= 600 for x, y in fixed.places)
