"""Scripts and styles as they are served: nothing is lost that means something."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenfall.app.web import lean

STATIC = Path(lean.__file__).parent / "static"


@pytest.mark.parametrize(
    ("written", "sent"),
    [
        ("a = b + ++c - -d", "a=b+ ++c- -d"),
        ("x = a / b / c  // a third", "x=a/b/c"),
        ("y = /[/'\"]  \\/ x/g.test( s )", "y=/[/'\"]  \\/ x/g.test(s)"),
        ("if (a) return /`/.exec(b)", "if(a)return/`/.exec(b)"),
        ("`a  ${ b.map(x => { return `<  ${x}  >` }) }  //  no`",
         "`a  ${b.map(x=>{return`<  ${x}  >`})}  //  no`"),
        ("const { a } = b in c", "const{a}=b in c"),
        ("a\n\n  // why\n  ++b", "a\n++b"),
        ("'it\\'s  //' + \"/*  */\"", "'it\\'s  //'+\"/*  */\""),
        ("£ = ‘x  y’", "£=‘x y’"),
    ],
)  # fmt: skip
def test_only_what_means_nothing_is_left_out_of_a_script(written: str, sent: str) -> None:
    assert lean.script(written).strip() == sent


@pytest.mark.parametrize(
    ("written", "sent"),
    [
        (".a :is(b, c) > d { margin: -1px auto; }", ".a :is(b,c)>d{margin:-1px auto}"),
        ("@media (min-width: 9px) and (x) { a { b: calc(1px + 2px) } }",
         "@media (min-width:9px) and (x){a{b:calc(1px + 2px)}}"),
        ('a::before { content: "+ ; /* */" / "" }', 'a::before{content:"+ ; /* */" / ""}'),
    ],
)  # fmt: skip
def test_only_what_means_nothing_is_left_out_of_a_style(written: str, sent: str) -> None:
    assert lean.style(written) == sent


@pytest.mark.parametrize("file", sorted(STATIC.rglob("*.js")), ids=lambda p: p.name)
def test_a_script_sent_keeps_its_signs_in_their_order_and_cannot_be_made_leaner(file: Path) -> None:
    written = file.read_text(encoding="utf-8")
    sent = lean.script(written)
    assert lean.script(sent) == sent
    told = re.sub(r"(?m)^\s*(?://|/?\*).*$|/\*.*?\*/| // .*$", "", written)  # no text holds these
    assert re.sub(r"\s", "", told) == re.sub(r"\s", "", sent)
