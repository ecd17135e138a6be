"""First call: verdict, reasons, what to bring, a rough price, and the job that becomes of it."""

from __future__ import annotations

from datetime import date
from typing import Any, get_args

import pytest

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_file
from evenfall.drafting import asks
from evenfall.drafting.complete import complete, kind_of
from evenfall.drafting.enquiry import QUESTIONS, Answers, card, document
from evenfall.drafting.rough import band
from evenfall.model.job import Height, Job, Opening, Reading, Side, SideKind, SpotLevel, Window
from evenfall.model.rates import Rates

ON = date(2026, 11, 25)
RATES = read_file(DEMO_RATES, Rates).value


@pytest.mark.parametrize(
    ("said", "verdict", "words"),
    [
        ({}, "visit", "Nothing said"),
        ({"caller": "tenant"}, "refer", "owner decides"),
        ({"building": "flat"}, "refer", "freeholder"),
        ({"listed": True}, "refer", "conservation officer"),
        ({"under": "pool"}, "refer", "moisture specialist"),
        ({"wanted_on": date(2026, 12, 2)}, "refer", "temporary cover"),
        ({"storeys": 4}, "decline", "scaffold does not reach"),
        ({"scaffold": False}, "decline", "open edge"),
        ({"area_m2": 180}, "decline", "watertight every evening"),
        ({"scaffold": False, "caller": "tenant"}, "decline", "owner decides"),
    ],
)
def test_the_heaviest_reason_gives_the_verdict(
    said: dict[str, Any], verdict: str, words: str
) -> None:
    found = card(Answers(**said), ON)
    assert found.verdict == verdict
    assert any(words in r.says for r in found.reasons)


def test_a_wish_that_leaves_time_speaks_against_nothing() -> None:
    assert card(Answers(wanted_on=date(2027, 3, 1)), ON).verdict == "visit"


def test_old_felt_is_sampled_and_newer_is_not() -> None:
    assert any("asbestos" in b for b in card(Answers(laid_year=1999), ON).bring)
    assert not card(Answers(laid_year=2000), ON).bring


def test_six_photos_are_asked_for_and_those_that_came_are_not() -> None:
    assert len(card(Answers(), ON).photos) == 6
    left = card(Answers(photos=(0, 4)), ON).photos
    assert len(left) == 4
    assert not any("gutter" in p for p in left)


def test_what_was_said_becomes_the_job_with_nothing_typed_twice() -> None:
    said = Answers(
        name="Mrs Invented Hale", telephone="01632 960 000", address="3 Invented Row, ZZ1 1ZZ",
        building="house", caller="owner", listed=False, under="kitchen", laid_year=1994,
        covered_over=True, leaks="over the sink, in west wind", area_m2=25, storeys=1,
        rooflights=2, on_it=("flue", "door"), ceiling=("stains",), neighbour=True,
        wanted_on=date(2027, 3, 1), occupied="a dog",
    )  # fmt: skip
    data = document(said)
    assert complete(data, RATES, ON).problems == ()
    job = complete(data, RATES, ON).job
    assert job is not None
    assert (job.job.client, job.survey.covering.laid_year) == ("Mrs Invented Hale", 1994)
    assert (job.survey.below.room, job.survey.covering.layers) == ("kitchen", 6)
    assert [o.kind for o in job.survey.openings] == ["rooflight", "rooflight", "flue"]
    assert [h.kind for h in job.survey.heights] == ["threshold"]
    for word in ("01632 960 000", "owner", "25 m²", "over the sink", "stains", "2027", "a dog"):
        assert word in job.job.note


def test_a_rough_price_says_that_it_is_one_and_why_it_is_so_wide() -> None:
    found = band(Answers(area_m2=25, under="kitchen"), RATES, ON)
    assert found is not None
    assert 500_000 < found.low_pence < found.high_pence < 4_000_000
    assert found.low_pence % 50_000 == found.high_pence % 50_000 == 0
    assert "no quotation" in found.says
    assert "invented rates" in found.says
    assert any("25 m²" in w for w in found.why)
    assert any("one system of felt or two" in w for w in found.why)


def test_without_a_size_there_is_no_price() -> None:
    assert band(Answers(), RATES, ON) is None


def test_every_answer_of_the_card_is_asked_for_once() -> None:
    assert [q.key for q in QUESTIONS] == list(Answers.model_fields)
    for q in QUESTIONS:
        assert bool(q.entry) != bool(q.pick)
        for key, _ in q.pick:
            Answers(**{q.key: (key,) if q.several else key})


# --- what the walk asks --------------------------------------------------------------------------


def holds(model: Any, path: str) -> bool:
    first, _, rest = path.partition(".")
    field = model.model_fields.get(first)
    if field is None:
        return False
    inner, many = kind_of(field.annotation)
    return not rest or (inner is not None and not many and holds(inner, rest))


def test_every_question_ends_at_a_key_of_the_job() -> None:
    assert [a.path for g in asks.GROUPS for a in g.asks if not holds(Job, a.path)] == []
    assert [a.path for a in asks.SIDE if not holds(Side, a.path)] == []
    tables = {"windows": Window, "heights": Height, "openings": Opening, "levels": SpotLevel,
              "readings": Reading}  # fmt: skip
    assert [a.path for t in asks.THINGS for a in t.asks if not holds(tables[t.table], a.path)] == []


def test_every_kind_of_side_can_be_touched() -> None:
    assert {k.kind for k in asks.KINDS} == set(get_args(SideKind))


def test_no_key_is_asked_twice() -> None:
    paths = [a.path for g in asks.GROUPS for a in g.asks]
    assert len(paths) == len(set(paths))


def test_a_picture_is_one_of_the_answers() -> None:
    every = [a for g in asks.GROUPS for a in g.asks] + [a for t in asks.THINGS for a in t.asks]
    for a in every:
        assert {key for key, _ in a.draw} <= {key for key, _ in a.pick}


def test_the_shapes_close_with_their_house_at_the_foot() -> None:
    for shape in asks.SHAPES:
        tapes = {"survey": {"corners": list("ABCDEFGH"[: shape.corners]),
                            "inner_corners": ["ABCDEFGH"[i] for i in shape.inner]}}  # fmt: skip
        ring = complete(tapes, RATES, ON).around.ring
        assert ring[0] == (0.0, 0.0)
        assert min(y for _, y in ring) > -0.01
