"""What is sent lean says the same as what is written."""

from __future__ import annotations

import re

import pytest

from evenfall.app.web import lean
from evenfall.app.web.sent import STATIC, files

EXPORTED = re.compile(r"export\s+(?:async\s+)?(?:const|let|function\*?)\s+([\w$]+)")
SHORTENED = re.compile(r"export\s*(?:async\s+)?(?:const|let|function\*?)\s*([\w$]+)")
SCRIPTS = sorted(STATIC.rglob("*.js"))


@pytest.mark.parametrize("file", SCRIPTS, ids=lambda f: f.stem)
def test_a_script_is_known_to_others_by_the_same_names_and_less_long(file):
    written = file.read_text(encoding="utf-8")
    sent = files()[file.relative_to(STATIC).as_posix()][1].decode()
    assert set(EXPORTED.findall(written)) <= set(SHORTENED.findall(sent))
    assert len(sent) < 0.9 * len(written)


def test_texts_keep_their_spaces_and_comments_are_left_out():
    sent = lean.script(
        "const a = `x  ${b}  y` // why\nexport const c = 'two  words // no comment'\n"
    )
    assert "`x  ${b}  y`" in sent
    assert "two  words // no comment" in sent
    assert "why" not in sent


def test_a_style_keeps_its_inks():
    sent = lean.style(":root { --ink: #1b2a33; } /* why */\na:hover > b { color: var(--ink) }\n")
    assert sent == ":root{--ink:#1b2a33}a:hover>b{color:var(--ink)}"


def test_without_a_minifier_the_files_go_as_they_are_written(monkeypatch):
    monkeypatch.setattr(lean, "minify", None)
    assert lean.script("let a = 1 // one\n") == "let a = 1 // one\n"
