"""Changing any single input changes some output, or docs/unused_keys.md says why not."""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel
from tests.unit.entries import DESK, PHONE, PICTURE, entry, hold, mark, moisture

from evenfall.errors import InvalidInput, OutOfScope
from evenfall.flow import KEYS, WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.job import Job
from evenfall.model.job_checks import slips

UNUSED = Path(__file__).parents[2] / "docs" / "unused_keys.md"

SMALL_COVER = {"length_m": 3.1, "width_m": 2.2}
READ = {"F": -2.11, "G": -1.62, "H": -1.05, "I": -0.31}
# keys that no example fills in: something to put there (path in the garage, value)
FILLED: dict[str, tuple[str, str, Any]] = {
    "job.element_area_m2": ("rear-extension", "job.element_area_m2", 71.3),
    "job.envelope_area_m2": ("garage", "job.envelope_area_m2", 131.0),
    "site.peak_pressure_kpa": ("garage", "site.peak_pressure_kpa", 1.31),
    "site.exposure_chart": ("garage", "site.exposure_chart", 1.83),
    "site.exposure_chart_town": ("rear-extension", "site.exposure_chart_town", 0.83),
    **{f"site.roof_coefficients.{z}": ("garage", "site.roof_coefficients", READ) for z in "FGHI"},
    "site.houses_upwind_height_m": ("garage", "site.houses_upwind_height_m", 6.4),
    "site.houses_upwind_m": ("garage", "site.houses_upwind_m", 13.0),
    "site.first_side_bearing_deg": ("garage", "site.first_side_bearing_deg", 112.0),
    "survey.sides[].rounded_edge_mm": ("garage", "survey.sides[0].rounded_edge_mm", 310),
    "survey.sides[].sloped_edge_deg": ("garage", "survey.sides[0].sloped_edge_deg", 45),
    **{
        f"survey.readings[].{key}": (
            "garage",
            "survey.readings[0]",
            {"name": "front-left", "percent": 15.5, "side": "A-B"} | more,
        )
        for key, more in {"side": {}, "along_m": {"along_m": 1.2}, "in_m": {"in_m": 0.8}}.items()
    },
    "survey.inner_corners[]": ("rear-extension", "survey.inner_corners", ["C"]),
    "design.target_u": ("rear-extension", "design.target_u", 0.15),
    **{
        f"record.booked[].{key}": (
            "garage",
            "record.booked",
            [{"name": "scaffold", "ordered_on": "2026-11-19"} | more],
        )
        for key, more in {
            "name": {},
            "ordered_on": {},
            "here_on": {"here_on": "2026-12-09"},
        }.items()
    },
    **{
        f"calendar.by_hand[].{key}": (
            "garage",
            "calendar.by_hand",
            [{"on": "2026-12-08", "work": ["set-up"]}],
        )
        for key in ("on", "work[]")
    },
    **{
        f"record.covers[].{key}": ("rear-extension", "record.covers", [SMALL_COVER])
        for key in ("length_m", "width_m")
    },
    "record.agreed[].value": ("courtyard", "record.agreed[0].value", 5.0),
    "record.agreed[].reference": (
        "courtyard",
        "record.agreed",
        [
            {
                "finding": "joists-deck-off",
                "subject": "joists",
                "by": "an engineer",
                "on": "2026-10-30",
                "value": 0.97,
                "reference": "E 7",
            }
        ],
    ),
    "survey.windows[].agreed_upstand_mm": (
        "rear-extension",
        "survey.windows[scullery-window].agreed_upstand_mm",
        120,
    ),
    "design.thickness_mm": ("garage", "design.thickness_mm", 140),
    "survey.deck.material": ("garage", "survey.deck.material", "larch-boards"),
    "survey.below.quilt_material": ("courtyard", "survey.below.quilt_material", "wool-quilt"),
    "survey.below.ceiling_material": (
        "courtyard",
        "survey.below.ceiling_material",
        "wood-wool-ceiling",
    ),
    "design.overlay_material": ("courtyard", "design.overlay_material", "wood-fibre-25"),
    "survey.openings[].ties[].to_corner": (
        "rear-extension",
        "survey.openings[rooflight]",
        {
            "name": "rooflight",
            "kind": "rooflight",
            "side": "A-B",
            "length_m": 1.16,
            "width_m": 0.94,
            "kerb_height_mm": 92,
            "ties": [
                {"point": "A", "to_corner": 1, "length_m": 4.353},
                {"point": "B", "to_corner": 2, "length_m": 1.371},
            ],
        },
    ),
    "design.upper_layer_mm": ("courtyard", "design.upper_layer_mm", 100),
    "survey.openings[].glazing": (
        "rear-extension",
        "survey.openings[rooflight].glazing",
        "plastic",
    ),
    "survey.gutters[].depth_mm": ("garage", "survey.gutters[0].depth_mm", 60),
    "survey.gutters[].sole_mm": ("garage", "survey.gutters[0].sole_mm", 70),
    **{
        f"design.new_gutters[].{key}": (
            "garage",
            "design.new_gutters",
            [{"side": "A-B"} | ({key: value} if key != "side" else {"width_mm": 150})],
        )
        for key, value in {
            "side": "A-B",
            "shape": "rectangular",
            "width_mm": 150,
            "outlet_at": "both_ends",
            "outlet_mm": 89,
            "pipe_mm": 110,
        }.items()
    },
    "survey.heights[].width_m": ("courtyard", "survey.heights[bin-door].width_m", 1.45),
}


def answer(worked: WorkedJob) -> tuple[Any, ...]:
    return tuple(getattr(worked, key) for key in KEYS)


def keys_of(model: type[BaseModel], prefix: str = "") -> Iterator[str]:
    """Every key of the job file, lists as ``[]``."""
    for name, field in model.model_fields.items():
        yield from _keys(field.annotation, f"{prefix}{name}")


def _keys(kind: Any, path: str) -> Iterator[str]:
    if typing.get_origin(kind) in (typing.Union, types.UnionType):
        for inner in typing.get_args(kind):
            if inner is not type(None):
                yield from _keys(inner, path)
    elif typing.get_origin(kind) is tuple:
        yield from _keys(typing.get_args(kind)[0], path + "[]")
    elif typing.get_origin(kind) is typing.Annotated:
        yield from _keys(typing.get_args(kind)[0], path)
    elif isinstance(kind, type) and issubclass(kind, BaseModel):
        yield from keys_of(kind, path + ".")
    else:
        yield path


def leaves(data: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(data, dict):
        for key, value in data.items():
            if path != "design.options":
                yield from leaves(value, f"{path}.{key}" if path else key)
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from leaves(value, f"{path}[{index}]")
    else:
        yield path, data


def generic(path: str) -> str:
    return re.sub(r"\[\d+\]", "[]", path)


def others(path: str, value: Any) -> Iterator[Any]:
    """Other values that a person could have given."""
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield from (value + 1, value - 1, value + 40)
    elif isinstance(value, float):
        yield from (round(value * 1.09 + 0.013, 4), round(value * 0.83, 4), value + 40)
    elif isinstance(value, str):
        yield from words(path, value)


def words(path: str, value: str) -> Iterator[str]:
    fields: list[Any] = [Job]
    for step in re.split(r"[.\[]", path):
        if not step.endswith("]"):
            fields = [kind for field in fields for kind in _field(field, step)]
    allowed = [w for field in fields for w in _literals(field)]
    if allowed:
        yield from (w for w in allowed if w != value)
    elif re.fullmatch(r"\d{4}-\d\d-\d\d", value):
        yield from ((date.fromisoformat(value) + timedelta(days=n)).isoformat() for n in (3, 120))
    else:
        yield value + "x"


def _field(model: Any, name: str) -> Iterator[Any]:
    """What a key of a model, or of some of them, may hold."""
    if name in getattr(model, "model_fields", {}):
        yield from _within(model.model_fields[name].annotation)


def _within(kind: Any) -> Iterator[Any]:
    args = [a for a in typing.get_args(kind) if a not in (type(None), ...)]
    if typing.get_origin(kind) is typing.Literal or not args:
        yield kind
    elif typing.get_origin(kind) in (typing.Union, types.UnionType):
        for arg in args:
            yield from _within(arg)
    else:
        yield from _within(args[0])


def _literals(kind: Any) -> tuple[Any, ...]:
    return typing.get_args(kind) if typing.get_origin(kind) is typing.Literal else ()


def moves(case: Case, base: WorkedJob, path: str, value: Any) -> bool:
    """Whether a change is noticed: another answer, or a refusal in words."""
    try:
        job = apply(case.job, (Change(path, value),))
        if slips(job):
            return True
        again = work_out(replace(case, job=job), base)
    except (InvalidInput, OutOfScope):
        return True
    return answer(again) != answer(base)


def unused() -> set[str]:
    return set(re.findall(r"^- `([^`]+)`: \S", UNUSED.read_text(encoding="utf-8"), re.M))


def dealt_with(case: Case) -> Case:
    """The rear extension with a thinner strip, and with something done about both windows."""
    strip = {"name": "strip", "side": "C-D", "from_m": 0.7, "to_m": 2.2, "in_m": 3.2,
             "thickness_mm": 120}  # fmt: skip
    low, stair = (f"survey.windows[{n}-window]" for n in ("scullery", "landing"))
    return replace(case, job=apply(case.job, (
        Change("design.options", []),
        Change("design.thin_zones", [strip]),
        Change(f"{low}.treatment", "fix_glass"),
        Change(f"{low}.new_sill_above_covering_mm", 391),
        Change(f"{low}.escape_by", "the back door"),
        Change(f"{low}.airing_by", "a fan in the wall"),
        Change(f"{stair}.agreed_sash_clear_mm", 18),
    )))  # fmt: skip


def proved(case: Case) -> Case:
    """The courtyard with an overflow, reports of fire tests and a word of building control."""
    slot = {"name": "spout", "side": "P-Q", "along_m": 3.1, "width_mm": 110.0, "height_mm": 38.0,
            "sill_above_roof_mm": 35.0}  # fmt: skip
    report = {"document": "Invented report 417", "fire_class": "BROOF(t4)", "sheet": "epdm-15",
              "board": "phenolic-foil", "deck": "plywood", "boards_held_by": "adhesive",
              "overlay_mm": 6.0}  # fmt: skip
    word = {"about": "notice", "needed": True, "by": "the council", "on": "2026-10-30",
            "reference": "BN 1417"}  # fmt: skip
    return replace(case, job=apply(case.job, (
        Change("design.options", []), Change("design.overflows", [slot]),
        Change("record.fire_tests", [report]), Change("record.answers", [word]),
    )))  # fmt: skip


def accounted(case: Case) -> Case:
    """The garage with extra work found on site, accepted and billed."""
    photo = {"file": "rot.jpg", "sha256": "0" * 64}
    return replace(case, job=apply(case.job, (
        Change("design.options", []),
        Change("record.accepted", {"on": "2026-11-30", "net_pence": 1_250_000,
                                   "total_pence": 1_500_000, "prices": "0" * 12}),
        Change("record.extras", [
            {"name": "rot", "rate": "hidden-deck", "found": 7.4, "where": "by the gutter",
             "found_on": "2026-12-09", "photo": photo,
             "signed": {"by": "Mr Pryce", "on": "2026-12-09"}},
        ]),
        Change("record.invoices", [{"number": "R-1", "stage": "deposit", "on": "2026-12-09"}]),
    )))  # fmt: skip


def logged(case: Case) -> Case:
    """A case with an entry of each kind in its log."""
    photo = {"photos": [PICTURE]}
    log = [
        hold("h", 1, bay=1, by="Jo", note="dry", place={"x_m": 1.0, "y_m": 2.0}),
        hold("h3", 3, bay=2), moisture("r", 17.5, name="joist-4", replaces=mark("old")),
        entry("w", "weather", when="morning", sky="dry", air_c=6.5, wind="breeze"),
        entry("c", "cover", lies="ready", length_m=6.0, width_m=4.0),
        entry("d", "done", task="strip-felt@1"), entry("b", "batch", product="sheet", batch="7"),
        entry("u", "hours", task="strip-felt", people=2, hours=3.5),
        entry("f", "found", what="rot", rate="hidden-deck", quantity=9.5, where="eaves", **photo),
        entry("s", "stop", danger="gas"), entry("l", "clear", of=mark("s"), by="Jo"),
        entry("g", "signed", of=mark("f"), by="Mr Pryce", strokes=[[[1, 2], [30, 40]]]),
        entry("p", "photo", sha256=PICTURE, hold=1, about="deck",
              taken={"at": "2026-12-08T08:01:00", "lat": 51.5, "lon": -0.1},
              marks=[{"kind": "ring", "points": [[10, 20]], "text": "here"}]),
        entry("n", "note", about="agreed", by="Mr Pryce", note="gate left open"),
        entry("k", "clock", device=DESK, of=PHONE, ahead_s=90.0),
    ]  # fmt: skip
    told = [e.model_dump(mode="json") for e in log]
    return replace(case, job=apply(case.job, (Change("record.log", told),)))


@pytest.fixture(scope="module")
def plain(cases) -> dict[str, tuple[Case, WorkedJob]]:
    """The examples without their options, which are whole jobs of their own."""
    found = {}
    cases = {
        **cases,
        "dealt-with": dealt_with(cases["rear-extension"]),
        "proved": proved(cases["courtyard"]),
        "accounted": logged(accounted(cases["garage"])),
    }
    for name, case in cases.items():
        bare = replace(case, job=apply(case.job, (Change("design.options", []),)))
        found[name] = (bare, work_out(bare))
    return found


@pytest.mark.parametrize("part", range(6))
def test_every_key_changes_some_output_or_is_listed_as_unused(plain, part):
    """The keys are dealt out to six tests, so that they can run side by side."""
    listed, wrong = unused(), []
    everything = sorted({k for k in keys_of(Job) if not k.startswith("design.options")})
    for key in everything[part::6]:
        noticed = any(
            moves(case, base, path, value)
            for case, base in plain.values()
            for path, old in leaves(case.job.model_dump(mode="json"))
            if generic(path) == key
            for value in others(path, old)
        )
        if not noticed and key in FILLED:
            name, path, value = FILLED[key]
            noticed = moves(*plain[name], path, value)
        if noticed == (key in listed):
            wrong.append(
                f"{key} {'is listed but changes something' if noticed else 'changes nothing'}"
            )
    assert not wrong, f"{UNUSED.name}: {'; '.join(wrong)}"


def test_the_list_of_unused_keys_names_only_keys_that_exist():
    assert unused() <= set(keys_of(Job))


def test_an_option_changes_the_options(cases):
    case = cases["rear-extension"]
    assert case.job.design.options
    fewer = replace(case, job=apply(case.job, (Change("design.options", []),)))
    assert work_out(fewer).options.why_empty
