"""The unit that a key of a file carries, and help for who wrote another one."""

from __future__ import annotations

import re
from typing import Any

UNITS: dict[str, str] = {
    "m": "metres", "mm": "millimetres", "cm": "centimetres", "km": "kilometres",
    "feet": "feet", "ft": "feet", "inches": "inches", "m2": "square metres", "m3": "cubic metres",
    "deg": "degrees", "percent": "percent", "c": "degrees Celsius", "kg": "kilograms",
    "kg_m2": "kg per square metre", "kg_m3": "kg per cubic metre", "n": "newtons",
    "pa": "pascals", "kpa": "kilopascals", "m_s": "metres a second", "l_s": "litres a second",
    "l_s_m2": "litres a second per square metre", "w_mk": "W/(m K)", "mm_per_m": "mm per metre",
    "pounds": "pounds", "pence": "pence", "pence_m": "pence per metre",
    "pence_m2": "pence per square metre", "pence_hour": "pence per hour",
    "pence_kwh": "pence per kWh", "pence_pack": "pence per pack", "kwh": "kWh", "s": "seconds",
}  # fmt: skip
"""Endings of keys and what they say."""

_LENGTHS = {
    "m": 1.0, "mm": 0.001, "cm": 0.01, "km": 1000.0,
    "ft": 0.3048, "feet": 0.3048, "in": 0.0254, "inches": 0.0254,
}  # fmt: skip
_MONEY = {"pence": 1.0, "pounds": 100.0, "£": 100.0}
_ENDINGS = sorted([*UNITS, "in"], key=len, reverse=True)


def unit_of(key: str) -> tuple[str, str]:
    """Part a key into its stem and its unit.

    Parameters
    ----------
    key : str
        A key of a file [-].

    Returns
    -------
    tuple of str
        Stem and unit, the unit empty where the key has none [-].

    Examples
    --------
    >>> unit_of("length_m"), unit_of("price_pence_m2"), unit_of("title")
    (('length', 'm'), ('price', 'pence_m2'), ('title', ''))
    """
    for unit in _ENDINGS:
        if key.endswith(f"_{unit}"):
            return key[: -len(unit) - 1], unit
    return key, ""


def same_thing(key: str, valid: list[str]) -> str:
    """Find the valid key that means the same quantity in another unit.

    Parameters
    ----------
    key : str
        A key that is not valid [-].
    valid : list of str
        Keys that are [-].

    Returns
    -------
    str
        The valid key, or nothing [-].

    Examples
    --------
    >>> same_thing("length_mm", ["between", "length_m"]), same_thing("length", ["length_m"])
    ('length_m', 'length_m')
    """
    stem = unit_of(key)[0]
    return next((v for v in valid if unit_of(v)[1] and unit_of(v)[0] in (stem, key)), "")


def converted(value: Any, unit: str, wanted: str) -> str:
    """Say a value in the unit that is wanted.

    Parameters
    ----------
    value : number
        As found; anything else gives nothing [-].
    unit : str
        Its unit [-].
    wanted : str
        The unit that is wanted [-].

    Returns
    -------
    str
        One short clause, or nothing where the units have no common measure [-].

    Examples
    --------
    >>> converted(6214, "mm", "m"), converted(12.5, "pounds", "pence"), converted(3, "kg", "m")
    ('6214 mm is 6.214 m', '12.5 pounds is 1250 pence', '')
    """
    for table, digits in ((_LENGTHS, {"mm": 0, "cm": 1}.get(wanted, 3)), (_MONEY, 0)):
        if unit in table and wanted in table and not isinstance(value, str | bool | None | list):
            number = value * table[unit] / table[wanted]
            return f"{value:g} {unit} is {number:.{digits}f} {wanted}"
    return ""


_NUMBER = r"[-+]?[0-9]+(?:[.,][0-9]+)?"
_FEET = re.compile(
    r"(?:(?P<feet>[0-9]+(?:\.[0-9]+)?)\s*(?:'|’|′|ft\.?|feet|foot))?\s*"
    r"(?:(?P<inches>[0-9]+(?:\.[0-9]+)?)\s*(?:\"|”|″|''|ins?\.?|inch|inches)?)?"
)
_WITH_UNIT = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>[^\W\d_]+|%|°C?)")


def number_help(text: str, key: str) -> str:
    r"""Help a person who wrote something else than a number, where one can be seen in it.

    Parameters
    ----------
    text : str
        What was written [-].
    key : str
        The key that it stands at [-].

    Returns
    -------
    str
        What to do, or nothing [-].

    Examples
    --------
    >>> number_help("6'2\"", "length_m")
    '6\'2" is 1.880 m: write 1.880'
    >>> number_help("6,214", "length_m")
    'write a point for the decimals, nothing between thousands: 6.214 or 6214'
    >>> number_help("6214 mm", "length_m"), number_help("1:40", "one_in")
    ('6214 mm is 6.214 m: write 6.214', 'write 40')
    """
    text, wanted = text.strip(), unit_of(key)[1]
    for look in (_feet, _unit, _marks):
        if told := look(text, wanted):
            return told
    return ""


def _feet(text: str, wanted: str) -> str:
    found = _FEET.fullmatch(text)
    if not found or not re.search(r"\D", text) or wanted not in _LENGTHS:
        return ""
    if not re.search("['’′\"”″fi]", text):
        return ""
    feet, inches = (float(found[part] or 0) for part in ("feet", "inches"))
    number = (feet * _LENGTHS["ft"] + inches * _LENGTHS["in"]) / _LENGTHS[wanted]
    said = f"{number:.{0 if wanted == 'mm' else 3}f}"
    return f"{text} is {said} {wanted}: write {said}"


def _unit(text: str, wanted: str) -> str:
    found = _WITH_UNIT.fullmatch(text)
    if not found:
        return ""
    number, unit = found["number"].replace(",", "."), found["unit"].lower()
    if told := converted(float(number), unit, wanted):
        said = told.split(" is ")[1].split()[0]
        return f"write {number}" if unit == wanted else f"{told}: write {said}"
    return (
        f"write the number alone, in {UNITS[wanted]}" if wanted in UNITS else "leave the unit out"
    )


def _marks(text: str, wanted: str) -> str:
    """Commas, gaps, quotation marks, leading noughts, slopes, pounds."""
    if re.fullmatch(r"[-+]?[0-9]+,[0-9]{3}", text):
        either = f"{text.replace(',', '.')} or {text.replace(',', '')}"
        return f"write a point for the decimals, nothing between thousands: {either}"
    if re.fullmatch(r"[-+]?[0-9]+,[0-9]+", text):
        return f"write a point for the decimals: {text.replace(',', '.')}"
    if re.fullmatch(r"[-+]?[0-9]+([\s_,’'][0-9]{3})+(\.[0-9]+)?", text):
        return f"write nothing between thousands: {re.sub('[^-+.0-9]', '', text)}"
    if found := re.fullmatch(r"1\s*(?::|in|/)\s*([0-9]+)", text):
        return f"write {found[1]}"
    if found := re.fullmatch(r"£\s*([0-9]+(?:\.[0-9]{1,2})?)", text):
        return f"write {float(found[1]) * _MONEY['£']:.0f}" if "pence" in wanted else "leave out £"
    if re.fullmatch(r"[-+]?0+[0-9]+(\.[0-9]*)?", text):
        return f"leave out the noughts in front: {re.sub('(?<![0-9])0+(?=[0-9])', '', text)}"
    if re.fullmatch(rf"{_NUMBER}", text):
        return "take the quotation marks away"
    return ""
