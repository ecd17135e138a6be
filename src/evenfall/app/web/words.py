"""How the desk prints numbers with their units."""

from __future__ import annotations

import re

from evenfall.model.words import pounds
from evenfall.working import figure

_POWER = {"2": "²", "3": "³"}
_UNITS = ("mm_m", "kg_m2", "pence_m2", "l_s", "m2", "m3", "mm", "kwh", "kg", "pa", "n", "m",
          "h", "percent", "pence")  # fmt: skip
_SAID = {
    "mm_m": "mm/m", "kg_m2": "kg/m²", "pence_m2": "£/m²", "l_s": "l/s", "m2": "m²", "m3": "m³",
    "kwh": "kWh", "pa": "Pa", "n": "N", "percent": "%", "pence": "£",
}  # fmt: skip
_WHOLE = {
    "u": ("heat lost", "W/m²K"), "resistance": ("resistance", "m²K/W"), "sd_m": ("sd", "m"),
    "give_or_take_mm": ("give or take", "mm"), "id": ("what", ""), "says": ("what", ""),
    "psi_low": ("at least", "W/(m K)"), "psi_high": ("at most", "W/(m K)"),
    "f_rsi": ("temperature factor", ""), "coldest_c": ("coldest inside", "°C"),
    "other_says": ("the other way", ""), "other_psi": ("psi then", "W/(m K)"),
    "other_coldest_c": ("coldest then", "°C"), "worth_w_k": ("more lost then", "W/K"),
    "worth_pence": ("more lost then", "£ a year"), "least_c": ("mould begins below", "°C"),
}  # fmt: skip


def unit(code: str) -> str:
    """Write a unit as the trade does.

    Parameters
    ----------
    code : str
        Unit as in the code [-].

    Returns
    -------
    str
        Unit with raised figures; nothing for none [-].

    Examples
    --------
    >>> unit("W/(m2K)"), unit("m2K/W"), unit("-"), unit("mm")
    ('W/m²K', 'm²K/W', '', 'mm')
    """
    if code == "-":
        return ""
    raised = re.sub(r"(?<=m)([23])(?![0-9])", lambda m: _POWER[m.group(1)], code)
    return re.sub(r"/\((\S+)\)$", r"/\1", raised)


def number(value: float) -> str:
    """Write a number with a true minus.

    Parameters
    ----------
    value : float
        Any number [any].

    Returns
    -------
    str
        Four significant figures [-].

    Examples
    --------
    >>> number(-0.21244)
    '−0.2124'
    """
    return figure(value).replace("-", "−")


def measure(value: float, code: str) -> str:
    """Write a number with its unit; money in pounds.

    Parameters
    ----------
    value : float
        The number [any].
    code : str
        Its unit as in the code [-].

    Returns
    -------
    str
        Number and unit [-].

    Examples
    --------
    >>> measure(13.765, "mm"), measure(969618, "pence"), measure(25729.3, "pence/m2")
    ('13.77 mm', '£9,696.18', '£257.29/m²')
    """
    if code.startswith("pence"):
        return pounds(value) + unit(code.removeprefix("pence") or "-")
    said = unit(code)
    return f"{number(value)} {said}" if said else number(value)


def heading(name: str) -> tuple[str, str]:
    """Split the name of a field into words and the unit at its end.

    Parameters
    ----------
    name : str
        Name of a field, such as ``wall_height_m`` [-].

    Returns
    -------
    tuple of str
        Words, and unit [-].

    Examples
    --------
    >>> heading("wall_height_m"), heading("per_board"), heading("price_pence_m2")
    (('wall height', 'm'), ('per board', ''), ('price', '£/m²'))
    """
    if name in _WHOLE:
        return _WHOLE[name]
    for code in _UNITS:
        if name.endswith(f"_{code}"):
            return name.removesuffix(f"_{code}").replace("_", " "), _SAID.get(code, code)
    return name.replace("_", " "), ""
