"""Scripts and styles as they are served: nothing is lost that means something."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenfall.app.web import lean
from evenfall.app.web.short import WORD, shortened

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


SCRIPTS = pytest.mark.parametrize("file", sorted(STATIC.rglob("*.js")), ids=lambda p: p.name)


@SCRIPTS
def test_a_script_sent_keeps_its_signs_in_their_order(file: Path) -> None:
    written = file.read_text(encoding="utf-8")
    told = re.sub(r"(?m)^\s*(?://|/?\*).*$|/\*.*?\*/| // .*$", "", written)  # no text holds these
    told = "".join(shortened(list(lean.pieces(told))))
    one_list = r"\s|,|const"  # constants under one another become one list
    assert re.sub(one_list, "", told) == re.sub(one_list, "", lean.script(written))


@SCRIPTS
def test_a_name_is_short_everywhere_or_nowhere_and_no_two_become_one(file: Path) -> None:
    pieces = list(lean.pieces(file.read_text(encoding="utf-8")))
    pairs = set(zip(pieces, shortened(pieces), strict=True))
    assert len({old for old, _ in pairs}) == len({new for _, new in pairs}) == len(pairs)
    asked = set(re.findall(r"(?m)^(?:import|export) .*", file.read_text(encoding="utf-8")))
    words = {w for line in asked for w in WORD.findall(re.split(r"=|\(| from ", line)[0])}
    assert not {old for old, new in pairs if old != new} & words


@pytest.mark.parametrize(
    ("written", "sent"),
    [
        ("const far = 1\nconst { near } = far\nuse(far, near)", "const a=1,{near}=a\nuse(a,near)"),
        ("let far = 2\nf({ far, b: far }, o.far)", "let far=2\nf({far,b:far},o.far)"),
        ("const far = 2\nf({ b: far }, ...far)", "const a=2\nf({b:a},...a)"),
        ("const top = g(far => far + top)", "const top=g(a=>a+top)"),
        ("const f = (one, two = one) => `${one} one ${two}`", "const f=(a,b=a)=>`${a} one ${b}`"),
        ("export async function* lines(of) {}", "export async function*lines(of){}"),
        ("if (x) { const a1 = 1\nconst b1 = 2 }\nconst c1 = 3", "if(x){const a=1,b=2}\nconst c=3"),
    ],
)  # fmt: skip
def test_only_what_the_file_alone_knows_has_a_short_name(written: str, sent: str) -> None:
    assert lean.script(written) == sent
