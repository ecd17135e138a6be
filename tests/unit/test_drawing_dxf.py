"""The DXF writer: reopened and audited, layers with trade names, millimetres, steady."""

import io

import ezdxf
import pytest
from ezdxf.entitydb import EntityDB

from evenfall.drawing import (
    Area,
    Circle,
    Dimension,
    Drawing,
    Group,
    Inset,
    Key,
    Label,
    Layer,
    Line,
    Mark,
    NightLine,
    Text,
    frame_plan,
    to_dxf,
)
from evenfall.drawing.dxf import pattern_lines
from evenfall.drawing.inks import HATCHES

RING = ((0, 0), (7412, 0), (7412, 5604), (3904, 5604), (3904, 2806), (0, 2806))


def plan():
    layers = (
        Layer("old felt", (Area((RING,), "felt", weight=None),)),
        Layer("roof outline", (Area((RING,), "none", weight="cut"), Inset(RING))),
        Layer("openings", (Group("o:1", "rooflight", (Circle(900, 900, 55, fill="sheet"),)),)),
        Layer("tonight", (NightLine(((3904, 2806), (3904, 0))),
                          Label(1500, 900, "sealed\nby 15:30"))),
        Layer("dimensions", (Dimension(RING[0], RING[1], "7.412"),
                             Dimension(RING[3], RING[2], "about 3.5", surety="guess"))),
        Layer("chalk marks: heaviest/first", (Mark(3000, 1500, "stop", "1"),)),
        Layer("key", (Key((9000, 5000), tuple((h, h) for h in HATCHES)),)),
        Layer("holes", (Area((RING, ((500, 500), (900, 500), (900, 900))), "wood", turn=30),)),
    )  # fmt: skip
    return frame_plan(Drawing("Plan", "An L", layers), (0, 0), north=20)


@pytest.fixture(scope="module")
def document():
    return ezdxf.read(io.StringIO(to_dxf(plan())))


def test_the_file_opens_again_and_its_audit_finds_nothing(document):
    audit = document.audit()
    assert [str(e) for e in (*audit.errors, *audit.fixes)] == []


def test_layers_carry_the_words_of_the_trade(document):
    names = {layer.dxf.name for layer in document.layers}
    assert {"roof outline", "openings", "dimensions", "chalk marks  heaviest first"} <= names
    used = {e.dxf.layer for e in document.modelspace()}
    assert used <= names


def test_it_is_told_in_millimetres_at_true_size(document):
    outline = next(
        e for e in document.modelspace().query("LWPOLYLINE") if e.dxf.layer == "roof outline"
    )
    assert document.header["$INSUNITS"] == 4
    assert outline.closed
    assert [p[:2] for p in outline.get_points()] == list(RING)


def test_dimensions_stay_dimensions_with_their_number_and_their_measure(document):
    found = {d.dxf.text: d for d in document.modelspace().query("DIMENSION")}
    assert set(found) == {"7.412", "about 3.5"}
    assert found["7.412"].dxf.actual_measurement == 7412
    assert len(document.blocks.get(found["7.412"].dxf.geometry)) > 5


def test_every_hatch_is_a_hatch_and_holes_are_paths_of_it(document):
    hatches = document.modelspace().query("HATCH")
    assert {h.upper() for h in HATCHES} <= {h.dxf.pattern_name for h in hatches}
    assert [len(h.paths) for h in hatches if h.dxf.layer == "holes"] == [2]


def test_a_hatch_has_the_colour_of_its_ink(document):
    colours = {h.dxf.pattern_name: h.dxf.color for h in document.modelspace().query("HATCH")}
    assert colours["CANNOT"] == 1
    assert colours["FELT"] == 7


def test_lettering_lies_line_by_line(document):
    texts = {t.dxf.text: t.get_placement()[1].y for t in document.modelspace().query("TEXT")}
    assert texts["sealed"] > texts["by 15:30"]
    assert "Plan, 1 : 50 on paper, measures in metres" in texts


def test_bare_ground_hides_what_lies_below_it(document):
    assert "openings" in {w.dxf.layer for w in document.modelspace().query("WIPEOUT")}


def test_the_same_drawing_gives_the_same_text():
    assert to_dxf(plan()) == to_dxf(plan())


def test_the_text_does_not_hang_on_the_order_of_a_set(monkeypatch):
    """In another process the sets of the library come in another order."""
    known = EntityDB.dxf_types_in_use
    texts = []
    for order in (1, -1):
        monkeypatch.setattr(
            EntityDB, "dxf_types_in_use", lambda db, order=order: sorted(known(db))[::order]
        )
        texts.append(to_dxf(plan()))
    assert texts[0] == texts[1]


def test_lettering_grows_with_the_scale_and_the_roof_does_not():
    coarse = ezdxf.read(io.StringIO(to_dxf(plan(), scale=100))).modelspace()
    fine = ezdxf.read(io.StringIO(to_dxf(plan(), scale=20))).modelspace()
    heights = [next(t for t in m.query("TEXT") if t.dxf.text == "felt").dxf.height
               for m in (coarse, fine)]  # fmt: skip
    assert heights[0] == pytest.approx(5 * heights[1], abs=0.01)


def test_signs_that_would_break_the_file_are_dropped():
    text = Text(0, 0, "north\r\x00 side")
    drawing = Drawing("t", "t", (Layer("a\rb", (text, Line(((0, 0), (1, 1))))),))
    document = ezdxf.read(io.StringIO(to_dxf(drawing)))
    assert not document.audit().errors
    assert document.modelspace().query("TEXT").first.dxf.text == "north   side"


@pytest.mark.parametrize("name", [n for n, h in HATCHES.items() if h.strokes])
@pytest.mark.parametrize("turn", [0.0, 37.0])
def test_a_hatch_carries_as_much_ink_in_dxf_as_in_its_tile(name, turn):
    """Length of stroke per area, from the families of lines and from the tile."""
    from math import cos, dist, radians, sin

    hatch, families = HATCHES[name], pattern_lines(name, 1.0, turn)
    ink = 0.0
    for angle, _, (sx, sy), dashes in families:
        spacing = abs(sy * cos(radians(angle)) - sx * sin(radians(angle)))
        ink += (dashes[0] / sum(map(abs, dashes)) if dashes else 1.0) / spacing
    drawn = sum(dist(a, b) for a, b in hatch.strokes)
    assert ink == pytest.approx(drawn / (hatch.width * hatch.height), rel=1e-4)


def test_a_drawing_tells_how_far_it_reaches_and_opens_whole():
    document = ezdxf.read(io.StringIO(to_dxf(plan())))
    (x0, y0, _), (x1, y1, _) = (document.header[f"$EXT{end}"] for end in ("MIN", "MAX"))
    assert max(x0, y0) < 0  # what is written round the roof is in it
    assert 7412 < x1 < 3 * 7412
    assert 5604 < y1 < 3 * 5604
    port = document.viewports.get_config("*Active")[0]
    assert port.dxf.height == pytest.approx(y1 - y0)
    assert port.dxf.center.x == pytest.approx((x0 + x1) / 2)
