"""The SVG writer: well-formed, steady, readable, alone and inside a page."""

import re
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import get_args

import font_source_sans_pro
import pytest
import typst
from PIL import ImageFont

from evenfall.drawing import (
    Area,
    Circle,
    Dimension,
    Drawing,
    Group,
    Key,
    Label,
    Layer,
    Line,
    Mark,
    Text,
    frame_plan,
    to_svg,
)
from evenfall.drawing.inks import HATCHES, HatchName, text_width

SVG = "{http://www.w3.org/2000/svg}"
RING = ((0, 0), (7412, 0), (7412, 5604), (3904, 5604), (3904, 2806), (0, 2806))
FONTS = Path(font_source_sans_pro.__file__).parent / "files"


def plan(*items, **more):
    layers = (
        Layer("roof outline", (Area((RING,), "felt", weight="cut"), *items)),
        Layer("dimensions", (Dimension(RING[0], RING[1], "7.412"),)),
    )
    return Drawing("Plan of the roof", "An L round two walls of the house", layers, **more)


def read(text):
    return ET.fromstring(text)


def test_a_drawing_says_in_words_what_it_shows():
    root = read(to_svg(plan(), 500))
    ids = root.get("aria-labelledby").split()
    named = {e.get("id"): e.text for e in root if e.get("id")}
    assert root.get("role") == "img"
    assert [named[i] for i in ids] == ["Plan of the roof", "An L round two walls of the house"]


def test_the_same_drawing_gives_the_same_text():
    assert to_svg(plan(), 612, "css") == to_svg(plan(), 612, "css")


def test_two_drawings_of_a_page_share_no_id():
    ids = [
        set(re.findall(r'id="([^"]+)"', to_svg(*args)))
        for args in ((plan(), 500), (plan(), 501), (plan(Circle(9, 9, 9)), 500))
    ]
    assert all(ids)
    assert len(set.union(*ids)) == sum(map(len, ids))


def test_every_hatch_that_is_used_is_defined_once():
    key = Drawing("Key", "Hatches", (Layer("key", (Key((0, 0), tuple((h, h) for h in HATCHES)),)),))
    text = to_svg(key)
    used = re.findall(r"url\(#([^)]+)\)", text)
    defined = re.findall(r'<pattern id="([^"]+)"', text)
    assert sorted(set(used)) == sorted(defined)
    assert len(defined) == len(HATCHES)


def test_a_hatch_that_is_not_used_is_not_defined():
    assert re.findall(r'<pattern id="[^-]+-(\w+)"', to_svg(plan(), 500)) == ["felt"]


def test_a_turned_hatch_has_a_pattern_of_its_own():
    areas = (
        Area((RING,), "deck"),
        Area((RING,), "deck", turn=90),
        Area((RING,), "deck", turn=-12.5),
    )
    text = to_svg(plan(*areas), 500, prefix="p")
    assert re.findall(r'id="p-deck([^"]*)"', text) == ["", "t-12_5", "t90"]
    assert 'patternTransform="rotate(-90)"' in text
    assert 'patternTransform="rotate(12.5)"' in text


def test_areas_read_in_black_and_white_each_hatch_by_its_own_strokes():
    tiles = [(h.width, h.height, h.angle, h.strokes, h.dots) for h in HATCHES.values()]
    assert len(set(tiles)) == len(tiles)
    assert set(get_args(HatchName)) - set(HATCHES) == {"none", "plain", "solid"}


def test_what_cannot_be_leans_the_other_way_from_tonight():
    assert HATCHES["cannot"].angle == -HATCHES["evening"].angle


def test_no_number_carries_noise():
    markup = re.sub(r">[^<]*<", "><", to_svg(frame_plan(plan(), (0, 0)), 733))
    decimals = re.findall(r"\d\.(\d+)", markup)
    assert {len(d) for d in decimals} == {1, 2}


def test_up_in_the_world_is_up_on_the_sheet():
    text = to_svg(Drawing("t", "t", (Layer("l", (Line(((0, 0), (0, 500), (400, 500))),)),)), 206)
    assert ' d="M3 253V3H203"' in text


def test_text_and_line_weights_stay_while_the_world_scales():
    small, large = to_svg(plan(), 500), to_svg(plan(), 1000)
    for text in (small, large):
        assert 'stroke-width="3.5"' in text
        assert 'font-size="15"' in text


@pytest.mark.parametrize("width", [90, 130, 330, 740])
def test_no_lettering_is_smaller_than_13_px(width):
    sizes = re.findall(r'font-size="([^"]+)"', to_svg(frame_plan(plan(), (0, 0)), width))
    assert min(map(float, sizes)) >= 13


def test_lettering_stands_on_its_own_ground_told_as_a_text_below_it():
    root = read(to_svg(plan(Text(100, 100, "old felt")), 500))
    texts = [t for t in root.iter(f"{SVG}text") if t.text == "old felt"]
    assert [t.get("class") for t in texts] == ["halo", "ink-ink lettering"]
    assert texts[0].get("aria-hidden") == "true"
    assert [texts[0].get(k) for k in "xy"] == [texts[1].get(k) for k in "xy"]


def test_signs_of_the_markup_are_escaped_and_signs_that_no_file_can_carry_are_dropped():
    words = 'A & B <"C">\x0b\ud800\ufffe'
    root = read(to_svg(plan(Group(words, words, (Text(100, 100, words),))), 500))
    assert [t.text for t in root.iter(f"{SVG}text")][-3] == 'A & B <"C">   '


def test_lines_of_a_label_stand_one_under_another():
    root = read(to_svg(plan(Text(100, 100, "new\n0.9 m²")), 500))
    lines = [[(s.text, s.get("dy")) for s in t] for t in root.iter(f"{SVG}text") if len(t)]
    assert lines
    assert all(spans == [("new", None), ("0.9 m²", "18")] for spans in lines)


def test_holes_stay_open():
    hole = Area((RING, ((500, 500), (900, 500), (900, 900))), "felt")
    assert 'fill-rule="evenodd"' in to_svg(plan(hole), 500)


def test_lines_of_one_kind_share_a_path():
    lines = [Line(((0, y), (900, y))) for y in (100, 200, 300)]
    assert to_svg(plan(*lines), 500).count('class="ink-ink w-thin"') == 2  # these, the dimension


def test_a_group_carries_its_key_and_its_name():
    group = Group("side:A-B", "Side A to B, 7.412", (Line(RING[:2]),))
    (found,) = [g for g in read(to_svg(plan(group), 500)).iter(f"{SVG}g") if g.get("data-key")]
    assert (found.get("data-key"), found.get("aria-label")) == ("side:A-B", "Side A to B, 7.412")
    assert found.get("tabindex") is None


def test_groups_of_a_live_drawing_are_stops_of_the_keyboard():
    group = Group("side:A-B", "Side A to B", (Line(RING[:2]),))
    root = read(to_svg(plan(group), 500, live=True))
    assert root.get("role") == "group"
    assert [g.get("tabindex") for g in root.iter(f"{SVG}g") if g.get("data-key")] == ["0"]


def test_layers_carry_their_trade_name_and_their_tracing_sheets():
    drawing = Drawing("t", "t", (Layer("boards", (Line(RING[:2]),), ("boards", "sheet")),))
    (layer,) = read(to_svg(drawing, 300)).iter(f"{SVG}g")
    assert (layer.get("data-layer"), layer.get("data-leaf")) == ("boards", "boards sheet")


def test_a_page_can_say_the_inks_anew_and_paper_needs_no_page():
    assert "var(" not in to_svg(plan(), 500) + to_svg(plan(), 500, "print")
    css = to_svg(plan(), 500, "css")
    assert 'stroke="var(--ink,#15212B)"' in css
    assert 'stroke-width="var(--w-cut,3.5)"' in css


def test_print_is_told_in_tenths_of_a_millimetre():
    weights = re.findall(r'w-cut" [^>]*stroke-width="([^"]+)"', to_svg(plan(), 500, "print"))
    assert [float(w) * 25.4 / 96 for w in weights] == pytest.approx([0.35], abs=0.001)


def test_the_typesetter_draws_it_without_a_warning(tmp_path):
    marks = (Mark(900, 900, "stop", "1"), Label(2000, 1400, "old felt"))
    (tmp_path / "plan.svg").write_text(to_svg(frame_plan(plan(*marks), (0, 0)), 480, "print"))
    page = tmp_path / "page.typ"
    page.write_text('#set page(width: 140mm, height: 120mm)\n#image("plan.svg", alt: "plan")')
    png, warnings = typst.compile_with_warnings(
        page, format="png", ppi=60, font_paths=[FONTS], ignore_system_fonts=True
    )
    assert warnings == []
    assert len(png) > 5000


@pytest.mark.parametrize(("bold", "face"), [(False, "Regular"), (True, "Bold")])
def test_lettering_is_never_wider_than_was_reckoned(bold, face):
    """Against the widths of the typeface of the papers."""
    font = ImageFont.truetype(str(FONTS / f"SourceSansPro-{face}.ttf"), 100)
    words = ["3.508", "rooflight 1.20 × 0.90", "VCL, sealed by 15:30", "landing window",
             "about 1.3", "U = 0.17 W/m²K", "14 Larch Row", "mm"]  # fmt: skip
    over = [text_width(w, 100, bold) / font.getlength(w) for w in words]
    assert min(over) >= 1
    assert max(over) < 1.2
