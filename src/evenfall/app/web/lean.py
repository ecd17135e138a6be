"""Scripts and styles as they are served: without comments, indents and spaces that mean nothing.

What is written stays easy to read, and what is sent stays small. A line end of a script stays where
it may end a statement; texts, templates and patterns are never touched.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from evenfall.app.web.short import shortened

SCRIPT = re.compile(
    r"""(?P<comment>//[^\n]*|/\*.*?\*/)
      | (?P<text>'(?:\\.|[^'\\\n])*'|"(?:\\.|[^"\\\n])*")
      | (?P<word>[\w$]+|[^\x00-\x7f]+)
      | (?P<space>[ \t\r]+)
      | (?P<line>\n)
      | (?P<sign>.)""",
    re.S | re.X,
)
PATTERN = re.compile(r"/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\[\n])+/[a-z]*")
"""A regular expression; it may stand where a value may, which is after one of these."""
BEFORE_PATTERN = frozenset("(,=:[!&|?{};+-*%<>~^\n") | {"return", "of", "case", "typeof"}
GOES_ON, WENT_ON = frozenset("{([,;=&|?:<>"), frozenset(")]},.?:&|=")
"""A line that ends, and one that begins, in the middle of a statement or at the edge of a block."""
STYLE = re.compile(r"""/\*.*?\*/|("(?:\\.|[^"\\])*")|\s*([{};,>])\s*|(:)\s+|\s+""", re.S)


def script(text: str) -> str:
    """Give a script as it is served.

    Parameters
    ----------
    text : str
        As it is written [-].

    Returns
    -------
    str
        The same script, in fewer bytes [-].

    Examples
    --------
    >>> script("const a = `x  ${b ? ` of  ${b}` : ''}`  // and so")
    "const a=`x  ${b?` of  ${b}`:''}`"
    """
    out: list[str] = []
    for piece in shortened(list(pieces(text))):
        if piece == " " and (not out or out[-1][-1] in "\n "):
            continue
        if piece == "\n":
            while out and out[-1] == " ":
                out.pop()
            if not out or out[-1] == "\n":
                continue
        if len(out) > 1 and not _kept(out[-1], out[-2][-1], piece[0]):
            out.pop()
        out.append(piece)
    return "".join(_joined(out)).strip()


def _joined(pieces: list[str]) -> Iterator[str]:
    """Give one list to constants that stand under one another."""
    began, left = pieces[:1] or [""], iter(zip(pieces, [*pieces[1:], "", ""], strict=False))
    for piece, after in left:
        if piece == "\n" and after == "const" == began[-1]:
            yield ","
            if next(left)[1] == " ":
                next(left)
            continue
        yield piece
        if piece in ("\n", ";"):
            began[-1] = after
        elif piece == "{":
            began.append(after)
        elif piece == "}" and len(began) > 1:
            began.pop()


def _kept(between: str, before: str, after: str) -> bool:
    """Whether what lies between two pieces means something."""
    if between == "\n":
        return before not in GOES_ON and after not in WENT_ON
    return between != " " or _parted(before, after)


def _parted(before: str, after: str) -> bool:
    """Whether two pieces would run into one without the space between them."""
    return (_letter(before) and _letter(after)) or (before == after and before in "+-/")


def _letter(sign: str) -> bool:
    return sign.isalnum() or sign in "_$" or ord(sign) > 127


def pieces(text: str) -> Iterator[str]:
    """Part a script into words, signs and whole texts, and what lies between them.

    Parameters
    ----------
    text : str
        The script [-].

    Yields
    ------
    str
        Piece by piece; a comment is none [-].
    """
    at, last, depth = 0, "\n", list[int]()  # depth: braces open in each template that is open
    while at < len(text):
        if text[at] == "`" or (depth and depth[-1] == 0 and text[at] == "}"):
            end, opens = _template(text, at + 1)
            if text[at] == "}":
                depth.pop()
            if opens:
                depth.append(0)
            piece, at, last = text[at:end], end, "x"
        elif text[at] == "/" and last in BEFORE_PATTERN and (found := PATTERN.match(text, at)):
            if text.startswith(("//", "/*"), at):
                piece, at = _next(text, at)
            else:
                piece, at, last = found[0], found.end(), "x"
        else:
            piece, at = _next(text, at)
            if depth and piece in "{}":
                depth[-1] += 1 if piece == "{" else -1
            if piece.strip() or piece == "\n":
                last = piece
        if piece:
            yield piece


def _next(text: str, at: int) -> tuple[str, int]:
    found = SCRIPT.match(text, at)
    assert found
    kind = found.lastgroup
    return ("" if kind == "comment" else " " if kind == "space" else found[0]), found.end()


def _template(text: str, at: int) -> tuple[int, bool]:
    """Find where a part of a template ends: at its end, or where a value is put in."""
    while text[at] != "`":
        if text.startswith("${", at):
            return at + 2, True
        at += 2 if text[at] == "\\" else 1
    return at + 1, False


def style(text: str) -> str:
    """Give a style sheet as it is served.

    Parameters
    ----------
    text : str
        As it is written [-].

    Returns
    -------
    str
        The same rules, in fewer bytes [-].

    Examples
    --------
    >>> style('/* why */ .a > b, .c { color: red; content: "+ ; " }')
    '.a>b,.c{color:red;content:"+ ; "}'
    """

    def less(found: re.Match[str]) -> str:
        return found[1] or found[2] or found[3] or ("" if found[0].startswith("/*") else " ")

    return STYLE.sub(less, text).replace(";}", "}").strip()
