"""The names of the edges on the plan stand clear of what goes through the roof."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from evenfall.app.loading import load
from evenfall.drawing import Drawing, Label
from evenfall.flow import DRAWINGS, work_out

EXAMPLES = Path(__file__).parents[2] / "examples"
CLEAR_MM = 400


@pytest.mark.parametrize("name", ["rear-extension", "garage", "courtyard"])
def test_no_name_of_an_edge_lies_on_an_opening(name: str) -> None:
    worked = work_out(load(EXAMPLES / name, date(2026, 11, 25)).case)
    drawing: Drawing = DRAWINGS["quoted"](worked)
    (layer,) = (x for x in drawing.layers if x.name == "names")
    told = [(item.x, item.y) for item in layer.items if isinstance(item, Label)]
    through = [(o.centre[0] * 1000, o.centre[1] * 1000) for o in worked.plan.openings]
    assert told
    assert all(math.dist(a, b) > CLEAR_MM for a in told for b in through)
