"""Names of a script made short as it is sent: those that only that file knows.

A name is written short in its whole file, or nowhere: where it is declared in the file, and never
stands for a key of an object, for what another file knows it by, or for what the browser has.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from string import ascii_letters

WORD = re.compile(r"[A-Za-z_$][\w$]*")
BEFORE_NAME = frozenset({"const", "let", "function"})
KEPT = frozenset({"do", "if", "in", "of", "as"})
"""Words of the language that are as short as a new name."""
LANGUAGE = frozenset({"from", "of", "as", "get", "set", "async", "await", "static", "undefined"})
"""Its words that may also be names."""
AROUND = 4
"""Signs that are looked at before a name."""
BROWSER = frozenset(
    re.findall(
        r"\w+",
        "name top status length close closed open opener stop find print event history location "
        "parent self screen origin focus blur alert confirm prompt scroll scrollBy scrollTo fetch "
        "frames document window navigator performance caches clients external menubar toolbar "
        "crypto customElements visualViewport moveBy moveTo resizeBy resizeTo",
    )
)
"""What every page has by these names."""


@dataclass
class Names:
    """What is known of the names of a file."""

    often: Counter[str] = field(default_factory=Counter)
    declared: set[str] = field(default_factory=set)
    known: set[str] = field(default_factory=set)  # elsewhere too

    def short(self) -> dict[str, str]:
        """Give the new names, the shortest to those that would take most."""
        mine = [n for n in self.declared - self.known - BROWSER - LANGUAGE if len(n) > 1]
        mine.sort(key=lambda n: (-self.often[n] * len(n), n))
        fresh = (n for n in _fresh() if n not in self.often and n not in KEPT)
        return {n: new for n, new in zip(mine, fresh, strict=False) if len(new) < len(n)}


def shortened(pieces: Sequence[str]) -> list[str]:
    """Write the names of a script short.

    Parameters
    ----------
    pieces : sequence of str
        Its words, signs and whole texts, and what lies between them [-].

    Returns
    -------
    list of str
        The same with short names [-].

    Examples
    --------
    >>> "".join(shortened(["const", " ", "wide", "=", "o", ".", "wide", ";", "let", " ", "far"]))
    'const wide=o.wide;let a'
    """
    new = _names([p for p in pieces if p.strip()]).short()
    return [new.get(p, p) for p in pieces]


def _fresh() -> Iterator[str]:
    yield from ascii_letters
    yield from map("".join, product(ascii_letters, repeat=2))


def _names(signs: list[str]) -> Names:
    """Look at every name of a file, with what stands around it."""
    names, opened = Names(), list[tuple[str, int, list[str]]]()
    padded = [*[""] * AROUND, *signs, *[""] * AROUND]
    for at, sign in enumerate(signs, AROUND):
        before, after = padded[at - 1], padded[at + 1]
        if WORD.fullmatch(sign):
            names.often[sign] += 1
            inside = opened[-1] if opened else ("", 0, [])
            if _known(padded, at, inside[0]):
                names.known.add(sign)
            if before in BEFORE_NAME or (before == "*" and padded[at - 2] == "function"):
                names.declared.add(sign)
            if padded[at + 1 : at + 3] == ["=", ">"]:
                names.declared.add(sign)
            if before in ("(", ",") and after in (",", ")", "="):
                inside[2].append(sign)
        elif sign in ("(", "[", "{") or sign.endswith("${"):
            if not sign.startswith("}"):
                opened.append((sign if len(sign) == 1 else "$", at, []))
        elif sign in (")", "]", "}") or (sign.startswith("}") and sign.endswith("`")):
            kind, start, asked = opened.pop()
            arrow = padded[at + 1 : at + 3] == ["=", ">"]
            if kind == "(" and (arrow or "function" in padded[start - 3 : start]):
                names.declared.update(asked)
    return names


def _known(padded: list[str], at: int, inside: str) -> bool:
    """Whether a name stands for what is known elsewhere: a key, a method, an import, an export."""
    before, after = padded[at - 1], padded[at + 1]
    if before == "." and padded[at - 3 : at] != [".", ".", "."]:
        return True
    if "as" in (before, after) or "class" in (before, padded[at - 2]):
        return True
    if "export" in padded[at - AROUND : at]:
        return True
    key = before in ("{", ",", "}", ";") and after in (",", "}", ":", "=", "(")
    method = before in ("get", "set", "async", "static", "*") and after == "("
    return inside == "{" and (key or method)
