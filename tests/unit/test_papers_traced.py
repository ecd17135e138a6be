"""Each number of the quotation is found in the worked job by its id, not by its value."""

from __future__ import annotations

import re
from typing import Any

import pytest
from tests.unit.papers import NAMES, changed, worked

from evenfall.model.words import near, pounds
from evenfall.stages.papers.quotation import Quotation, quotation
from evenfall.stages.papers.words import metres

every = pytest.mark.parametrize("name", NAMES)


def at(root: Any, path: str) -> Any:
    """Follow ``price.stages[deposit].pence``; a name in brackets picks an entry of a list."""
    for step in re.findall(r"[^.\[\]]+(?=\.|\[|$)|\[[^\]]+\]", path):
        if step.startswith("["):
            key = step[1:-1]
            root = next(e for e in root if key in (getattr(e, "name", ""), getattr(e, "id", "")))
        else:
            root = getattr(root, step)
    return root


def told(name: str) -> tuple[Any, Quotation]:
    return worked(name), quotation(worked(name))


@every
def test_the_figures_at_the_head(name: str) -> None:
    job, q = told(name)
    ways = {
        "price.total": lambda v: pounds(v.value),
        "programme.days": lambda v: str(len(v)),
        "heat.u": lambda v: near(v.value, job.rise.target_u),
        "heights.rise_at_edge": lambda v: f"{v.value:.0f}",
    }
    assert {f.id for f in q.figures} == set(ways)
    for f in q.figures:
        assert f.value == ways[f.id](at(job, f.id))


@every
def test_payments_and_rates(name: str) -> None:
    job, q = told(name)
    assert len(q.money.stages) == len(job.price.stages)
    for one in (*q.money.stages, *q.money.rates):
        assert one.pence == at(job, one.id)


@every
def test_the_price_and_its_tax(name: str) -> None:
    job, q = told(name)
    money = q.money
    found = [at(job, f"price.{key}").value for key in ("net", "vat", "total")]
    assert [money.net_pence, money.vat_pence, money.total_pence] == found
    assert (money.mark, money.prices_on) == (at(job, "price.mark"), at(job, "price.prices_on"))


def shown(key: str, value: Any) -> str:
    if key in ("total_pence", "upkeep.whole"):
        return pounds(getattr(value, "value", value))
    ways = {
        "u": lambda v: f"{v:.2f}", "boards_mm": lambda v: " + ".join(map(str, v)) + " mm",
        "kerb_mm": lambda v: f"{v:g} mm", "sheet_years": lambda v: f"{v} years",
        "work_years": lambda v: f"{v} years",
        "upkeep.repaint_years": lambda v: f"every {v} years" if v else "never",
    }  # fmt: skip
    return ways.get(key, str)(value)


@every
def test_the_options_side_by_side(name: str) -> None:
    job, q = told(name)
    for table in q.money.choices:
        columns = ["options.here", *(f"{o.id}.facts" for o in table.options)]
        for row in table.rows:
            if row.key:
                wanted = [shown(row.key, at(job, f"{c}.{row.key}")) for c in columns]
                assert list(row.cells) == wanted
            else:
                more = [at(job, f"{o.id}.more_pence") for o in table.options]
                assert [c.lstrip("+") for c in row.cells[1:]] == [pounds(m) for m in more]


@every
def test_layers_and_parts(name: str) -> None:
    job, q = told(name)
    for layer in q.layers:
        assert layer.area == f"{at(job, layer.id).value:.1f} m²"
    for part in q.parts:
        values = [at(job, id_) for id_ in part.ids]
        if part.size.endswith(" m"):
            whole = sum(getattr(v, "value", v) for v in values)
            assert part.size == metres(whole)
        else:
            assert part.size in (f"{values[0]:.0f} mm", f"{values[0]:.2f} m²")


@pytest.mark.parametrize(
    ("path", "value"),
    [("design.kerb_height_mm", 91), ("survey.deck.renew_percent", 31.0), ("crew.people", 3)],
)
def test_a_changed_input_changes_what_the_paper_says(path: str, value: Any) -> None:
    assert quotation(changed("garage", (path, value))) != quotation(worked("garage"))


def test_four_options_stand_in_one_table_and_a_fifth_in_the_next() -> None:
    options = [
        {"name": f"o{i}", "says": f"Kerb of {60 + i}", "changes": {"design.kerb_height_mm": 60 + i}}
        for i in range(5)
    ]
    tables = quotation(changed("garage", ("design.options", tuple(map(_frozen, options))))).money
    assert [len(t.options) for t in tables.choices] == [4, 1]
    assert [o.letter for t in tables.choices for o in t.options] == list("ABCDE")


class _frozen(dict):  # type: ignore[type-arg]
    """A table that may stand in the key of a cache."""

    def __hash__(self) -> int:  # type: ignore[override]
        return hash(str(self))


def test_painting_makes_a_timber_fascia_dearer_with_the_years() -> None:
    here, _, plastic = worked("garage").options.here, *worked("garage").options.options
    assert here.upkeep
    assert plastic.facts.upkeep
    now = here.total_pence - plastic.total_pence
    assert here.upkeep.whole.value - plastic.facts.upkeep.whole.value > now + 10_000
    assert here.upkeep.times == 3
