"""Screw lengths over tapered boards: each bites, none comes out far below, few are bought."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from tests.unit import rooms

from evenfall.calc.loads.screw_lengths import deepest, reaches

LENGTHS = st.lists(st.integers(60, 320), min_size=1, max_size=9, unique=True)
DEEP = st.floats(33, 90)


def shortest(lengths, under):
    return min(n for n in lengths if n - 30 >= under)


@given(LENGTHS, st.floats(20, 260), st.floats(0, 130), DEEP)
def test_every_screw_bites_and_none_ends_deeper_than_it_must(lengths, thin, taper, deep):
    """Either within the depth, or where it is used nothing shorter that is sold would bite."""
    thick = thin + taper
    found = reaches(lengths, thin, thick, 30.0, deep)
    if max(lengths) - 30 < thick:
        assert found == ()
        return
    assert (found[0].from_mm, found[-1].to_mm) == (thin, thick)
    assert all(a.to_mm == b.from_mm for a, b in pairwise(found))
    for band in found:
        assert band.length_mm - band.to_mm >= 30 - 1e-9
        just_over = band.from_mm + 1e-6
        too_deep = band.length_mm - band.from_mm > deep + 1e-6
        assert not too_deep or band.length_mm == shortest(lengths, min(just_over, band.to_mm))


@given(LENGTHS, st.floats(20, 260), st.floats(0, 130), DEEP, st.floats(0, 40))
def test_more_room_below_never_asks_for_more_lengths(lengths, thin, taper, deep, more):
    near = reaches(lengths, thin, thin + taper, 30.0, deep)
    far = reaches(lengths, thin, thin + taper, 30.0, deep + more)
    assert len(far) <= len(near)


def test_even_boards_take_one_length():
    assert [r.length_mm for r in reaches((100, 130, 160), 95.0, 95.0, 30.0, 33.0)] == [130]
    assert deepest(()) == 0


def tapered(**more):
    changes = {
        "design.falls.kind": "tapered", "design.falls.one_in": 50, "design.thickness_mm": 100,
        "design.options": [],
    }  # fmt: skip
    return rooms.taken_off(rooms.changed(rooms.job("rear-extension"), **changes, **more))


def test_the_order_lists_every_length_over_tapered_boards_and_no_point_ends_far_below():
    w = tapered(**{"survey.below.cables_in_void": False})
    lines = {o.id: o for o in w.items.order if o.id.startswith("screw:")}
    assert 1 < len(lines) <= len(w.wind.screws) <= 5
    counted = [float(n) for o in lines.values() for _, _, s in o.need.of[:1] for _, _, n in s.of]
    assert sum(counted) == w.fixings.screws.value
    deck = w.job.survey.deck.thickness_mm
    assert max(band.length_mm - band.from_mm for band in w.wind.screws) <= deck + 40 + 1e-9
    codes = rooms.codes(w.wind.findings)
    assert "screws-by-length" in codes
    assert "screw-near-cables" not in codes
