"""Laws of the log: the order of entries, doubles and parts never matter; nothing passes empty."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import rooms
from tests.unit.entries import DESK, OTHER, PHONE, PICTURE, entry, hold, mark

from evenfall.model.logbook import Entry, HoldEntry, in_order
from evenfall.stages.record.on_site import on_site
from evenfall.stages.record.reading import read
from evenfall.standards.hold_asks import HOLD_ASKS

DUE = ((1, (1,)), (1, (2,)), (3, (1,)), (4, (1, 2)), (5, (1, 2)), (9, ()))
NAMES = tuple("abcdefgh")
OUTCOMES = ("passed", "stopped", "put_right", "agreed")


@st.composite
def one_hold(draw, name: str) -> dict:
    number = draw(st.sampled_from([1, 3, 4, 5, 9]))
    values = [
        {"what": a.what, "value": draw(st.sampled_from([0.0, 3.0, 19.0, 20.0, 25.0, 300.0, 999.0]))}
        for a in HOLD_ASKS[number].asks
        if draw(st.booleans())
    ]
    batches = [{"product": "x", "batch": "1"}] if draw(st.booleans()) else []
    return {"hold": number, "outcome": draw(st.sampled_from(OUTCOMES)), "values": values,
            "batches": batches, "by": draw(st.sampled_from([None, "Jo"])),
            "photos": draw(st.sampled_from([[], [PICTURE]]))}  # fmt: skip


@st.composite
def entries(draw, name: str) -> Entry:
    kind = draw(st.sampled_from(["hold", "hold", "reading", "cover", "stop", "clear", "done",
                                 "found", "signed", "hours", "clock"]))  # fmt: skip
    other = mark(draw(st.sampled_from(NAMES)))
    more: dict = {
        "hold": {}, "done": {"task": "strip-felt"},
        "reading": {"what": draw(st.sampled_from(["moisture", "gap", "pull_out"])),
                    "value": draw(st.sampled_from([-1.0, 12.0, 140.0])), "unit": "%"},
        "cover": {"lies": draw(st.sampled_from(["ready", "on", "gone"])), "length_m": 4,
                  "width_m": 3}, "stop": {"danger": "gas"}, "clear": {"of": other, "by": "Jo"},
        "found": {"what": "rot", "rate": "hidden-deck", "quantity": 2, "where": "eaves",
                  "photos": [PICTURE]},
        "signed": {"of": other, "by": "Mr Pryce", "strokes": [[[1, 2]]]},
        "hours": {"task": "strip-felt", "people": 2, "hours": 3},
        "clock": {"of": draw(st.sampled_from([PHONE, OTHER])),
                  "ahead_s": draw(st.sampled_from([-86400.0, 0.0, 3600.0]))},
    }[kind]  # fmt: skip
    if kind == "hold":
        more = draw(one_hold(name))
    device = DESK if kind == "clock" else draw(st.sampled_from([PHONE, OTHER]))
    at = f"2026-12-0{draw(st.integers(7, 9))}T{draw(st.integers(7, 12)):02}:00:00Z"
    return entry(name, kind, at, device=device, bay=draw(st.sampled_from([None, 1, 2])),
                 replaces=draw(st.sampled_from([None, other])), **more)  # fmt: skip


@st.composite
def logs(draw) -> list[Entry]:
    names = draw(st.lists(st.sampled_from(NAMES), unique=True, min_size=1))
    return [draw(entries(name)) for name in names]


def on_roof(log: list[Entry]):
    job = rooms.job("garage")
    record = job.record.model_copy(update={"log": tuple(log)})
    found = on_site(job.model_copy(update={"record": record}))
    return found.survey, found.record.model_copy(update={"log": ()})


@given(logs(), st.randoms(use_true_random=False))
def test_the_order_of_entries_and_doubles_never_matter(log, chance):
    mixed = log + [e for e in log if chance.random() < 0.5]
    chance.shuffle(mixed)
    assert read(mixed, DUE) == read(log, DUE)
    assert on_roof(in_order(mixed)) == on_roof(log)


@given(logs(), st.data())
def test_logs_merged_from_any_parts_are_the_same_log(log, data):
    """Two telephones and the desk each hold a part; merged by id they hold all of it."""
    parts = [[e for e in log if data.draw(st.booleans())] for _ in range(2)]
    rest = [e for e in log if not any(e in p for p in parts)]
    one = {e.id: e for part in (*parts, rest) for e in part}
    two = {e.id: e for part in (rest, *parts[::-1]) for e in part}
    assert in_order(one.values()) == in_order(two.values()) == in_order(log)
    assert read(one.values(), DUE) == read(two.values(), DUE)


def of(log: list[Entry], number: int, bays: tuple[int, ...]) -> list[HoldEntry]:
    stand = [e for _, e in read(log, DUE).kept.entries if isinstance(e, HoldEntry)]
    return [e for e in stand if e.hold == number and (e.bay is None or not bays or e.bay in bays)]


@given(logs())
def test_a_hold_point_is_never_passed_empty(log):
    for point in read(log, DUE).holds:
        if not point.closed:
            continue
        looked = [e for e in of(log, point.number, point.bays) if e.outcome == point.state]
        asked = HOLD_ASKS[point.number]
        needed = {a.what for a in asked.asks if a.needed}
        whole = [e for e in looked if needed <= {v.what for v in e.values} and e.photos]
        assert whole
        assert not asked.batches or any(e.batches for e in whole)
        assert point.state != "agreed" or any(e.by for e in whole)


@given(logs())
def test_a_value_outside_its_limit_is_never_passed(log):
    for point in read(log, DUE).holds:
        looked = of(log, point.number, point.bays)
        limits = {a.what: a for a in HOLD_ASKS[point.number].asks}
        out = [e for e in looked if any(v.what in limits and not limits[v.what].holds(v.value)
                                        for v in e.values)]  # fmt: skip
        if point.state == "passed":
            assert not out
            assert all(e.outcome not in ("stopped",) for e in looked)
        if point.state == "put_right":
            assert any(e not in out and e.outcome == "put_right" for e in looked)


@given(logs())
def test_every_entry_stands_or_is_replaced_by_one_that_is_there(log):
    kept = read(log, DUE).kept
    stand, gone = {e.id for _, e in kept.entries}, {old for old, _ in kept.replaced}
    assert stand | gone == {e.id for e in log}
    assert not stand & gone
    assert {new for _, new in kept.replaced} <= {e.id for e in log}


@given(logs())
def test_a_stop_for_a_danger_goes_only_by_a_clearance_or_a_stop_in_its_place(log):
    found = read(log, DUE)
    cleared = {e.of for _, e in found.kept.entries if e.kind == "clear"}
    stops = {e.id for _, e in found.kept.entries if e.kind == "stop"}
    assert {s.entry.id for s in found.standing} == stops - cleared
    replaced = dict(found.kept.replaced)
    kinds = {e.id: e.kind for e in log}
    assert all(kinds[replaced[e.id]] == "stop" for e in log
               if e.kind == "stop" and e.id in replaced)  # fmt: skip


@settings(max_examples=40)
@given(st.permutations([("a", "stopped", "08:00"), ("b", "passed", "09:00"),
                        ("c", "put_right", "10:00")]))  # fmt: skip
def test_a_stop_is_lifted_by_what_puts_it_right_in_any_order_of_arrival(three):
    log = [hold(name, 1, outcome, at, bay=1) for name, outcome, at in three]
    assert read(log, DUE).holds[0].state == "put_right"
    assert read([e for e in log if e.outcome != "put_right"], DUE).holds[0].state == "stopped"
