"""How the papers say numbers, days and money: plain, and with no more figures than are known."""

from __future__ import annotations

import re
from collections.abc import Sequence

PENCE = 100
_JOINED = re.compile(r"_|(?<![A-Z])-|-(?![A-Z])")  # the hyphen of side A-B stays
QUARTERS = 4  # of an hour
MOST_SIDES = 3  # that are named one by one; a longer run is told by its ends


def spoken(name: str) -> str:
    """Turn a name of the job file into words.

    Parameters
    ----------
    name : str
        Such as ``back-door`` [-].

    Returns
    -------
    str
        Such as "back door" [-].

    Examples
    --------
    >>> spoken("back-door"), spoken("air_brick"), spoken("A-B")
    ('back door', 'air brick', 'A-B')
    """
    return _JOINED.sub(" ", name)


def metres(length: float) -> str:
    """Say a length of the roof.

    Parameters
    ----------
    length : float
        Length [m].

    Returns
    -------
    str
        To the centimetre [-].

    Examples
    --------
    >>> metres(6.394)
    '6.39 m'
    """
    return f"{length:.2f} m"


def about(value: float) -> str:
    """Say a rough number: two figures, whole.

    Parameters
    ----------
    value : float
        Any number [any].

    Returns
    -------
    str
        "about" and the number [-].

    Examples
    --------
    >>> about(504.3), about(2762), about(0)
    ('about 500', 'about 2,800', 'about 0')
    """
    digits = 2 - len(f"{abs(value):.0f}")
    return f"about {round(value, min(digits, 0)):,.0f}"


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Join words as they are said.

    Parameters
    ----------
    parts : sequence of str
        Words [-].
    last : str
        What stands before the last of them [-].

    Returns
    -------
    str
        One phrase [-].

    Examples
    --------
    >>> listed(["eaves", "two verges", "a wall"])
    'eaves, two verges and a wall'
    """
    *first, end = parts
    return f"{', '.join(first)} {last} {end}" if first else end


def sides_said(names: Sequence[str]) -> str:
    """Join the names of sides; many that follow one another are said by their ends.

    Parameters
    ----------
    names : sequence of str
        Sides, in their order round the roof [-].

    Returns
    -------
    str
        One phrase [-].

    Examples
    --------
    >>> sides_said(["A-B", "B-C", "D-E"])
    'A-B, B-C and D-E'
    >>> sides_said(["A-B", "C-D", "D-E", "E-F", "F-G"])
    'A-B and from C round to G'
    """
    runs: list[list[str]] = []
    for name in names:
        start = name.partition("-")[0]
        if runs and runs[-1][-1].partition("-")[2] == start:
            runs[-1].append(name)
        else:
            runs.append([name])
    said: list[str] = []
    for run in runs:
        ends = f"from {run[0].partition('-')[0]} round to {run[-1].partition('-')[2]}"
        said += [ends] if len(run) > MOST_SIDES else run
    return listed(said)


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop.

    Parameters
    ----------
    text : str
        Words [-].

    Returns
    -------
    str
        A sentence [-].

    Examples
    --------
    >>> sentence("sheet down")
    'Sheet down.'
    """
    text = text.strip()
    full = text if text.endswith((".", "!", "?")) else f"{text}."
    return full[:1].upper() + full[1:]
