"""Whose each working is: the words that stand beside it on the calculation sheets."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfall.working import Working

ADDITION = "addition"
MOST_OWNERS = 3  # named beside one working; of more only the first
TOLD_APART = re.compile(r"_([A-Za-z]{2,})$")  # q_EN and q_Sb, not u_G and u_Q
SHARES = ("even load", "point load", "permanent", "passing")  # of one load, no names for its parts
FIELDS: dict[tuple[str, str], str] = {
    ("Seldom", "before"): "as found",
    ("Seldom", "if_deep"): "if the house is deep",
    ("JoistCase", "at_once"): "at once",
    ("JoistCase", "deflection"): "in the end",
    ("JoistCase", "person_at_once"): "one person, at once",
    ("JoistCase", "person_deflection"): "one person, in the end",
    ("DeckOff", "held"): "person on a bare joist, held",
    ("DeckOff", "bending"): "person on a bare joist, free",
    ("PutDown", "by_wall"): "boards put down, by the wall",
    ("PutDown", "mid_span"): "boards put down, at mid-span",
}
"""Words for a part of a result where its own name would not do."""


@dataclass(frozen=True, slots=True)
class Whose:
    """Owners of a working, for which of their numbers, and which part of it."""

    owners: tuple[str, ...] = ()
    use: str = ""
    part: str = ""

    def says(self, all_: Sequence[str]) -> str:
        """Give the words; of many owners the first is named, and none where it serves all."""
        named = [o for o in all_ if o in self.owners]
        if len(named) == len(all_) > 1:
            named = []
        if len(named) > MOST_OWNERS:
            named = [named[0], "others"]
        told = " and ".join([", ".join(named[:-1]), named[-1]][len(named) == 1 :]) if named else ""
        return ", ".join(w for w in (told, self.use, self.part) if w)


def field_words(owner: object, name: str, alike: bool) -> str:
    """Give the words for a field of a result.

    Parameters
    ----------
    owner : object
        The result, or a part of it [-].
    name : str
        Name of the field [-].
    alike : bool
        Whether another field of it has the same title [-].

    Returns
    -------
    str
        Its words; its name where nothing else tells it apart [-].
    """
    return FIELDS.get((type(owner).__name__, name), name.replace("_", " ") if alike else "")


def whose(roots: Iterable[tuple[str, Working]]) -> dict[Working, str]:
    """Name every working that went into some results by what it is for.

    A result keeps the name of its owner. What went into it takes that name on, and that of the
    part it is where parts are added or two of a kind go in. What several owners use bears their
    names; what all use bears none.

    Parameters
    ----------
    roots : iterable of (str, Working)
        Name of the owner, and behind a comma which result of its it is; the result [-].

    Returns
    -------
    dict
        Words by working; empty where it is nobody's own [-].

    Examples
    --------
    >>> from evenfall.working import total
    >>> deck = total("Mass", "m", "kg/m2", [("boards", 11.0)])
    >>> load = total("Load", "q", "kg/m2", [("deck", deck), ("felt", 9.0)])
    >>> sorted(whose([("before", load)]).values())
    ['before', 'before, deck']
    """
    given = list(roots)
    found: dict[Working, list[Whose]] = {}
    order = dict[Working, None]()
    for about, line in given:
        _children_first(line, order)
        if about:
            owner, _, use = about.partition(", ")
            found.setdefault(line, []).append(Whose((owner,), use))
    own = {line: _merged(paths) for line, paths in found.items()}
    all_ = list(dict.fromkeys(o for about, _ in given if (o := about.partition(", ")[0])))
    said: dict[Working, str] = {}
    for line in reversed(order):
        mine = own.get(line) or _merged(found.get(line, []))
        said[line] = mine.says(all_)
        for part, child in _parts(line):
            found.setdefault(child, []).append(Whose(mine.owners, mine.use, part or mine.part))
    return said


def _children_first(line: Working, order: dict[Working, None]) -> None:
    if line in order:
        return
    for _, _, value in line.of:
        if isinstance(value, Working):
            _children_first(value, order)
    order[line] = None


def _parts(line: Working) -> Iterable[tuple[str, Working]]:
    """Give what went in, each by its own name where the names tell it apart."""
    went = [(symbol, value) for symbol, _, value in line.of if isinstance(value, Working)]
    titles = Counter(value.title for _, value in went)
    added = line.source == ADDITION and len(line.of) > 1
    for symbol, value in went:
        if added:
            yield ("" if symbol in SHARES else symbol), value
        else:
            apart = TOLD_APART.search(symbol) if titles[value.title] > 1 else None
            yield (apart[1] if apart else ""), value


def _merged(paths: list[Whose]) -> Whose:
    """Join what several uses say."""
    owners = tuple(dict.fromkeys(o for p in paths for o in p.owners))
    uses, parts = {p.use for p in paths}, {p.part for p in paths if p.part}
    free = any(not p.owners for p in paths)
    return Whose(
        () if free else owners,
        uses.pop() if len(uses) == 1 and not free else "",
        parts.pop() if len(parts) == 1 else "",
    )
