"""Expressions set as a person writes them: Greek letters, indices, powers."""

from __future__ import annotations

import re
from functools import lru_cache

GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eta": "η", "theta": "θ",
    "kappa": "κ", "lambda": "λ", "lambda_": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π",
    "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Delta": "Δ",
}  # fmt: skip
UNITS = {
    "m2K/W": "m²K/W", "W/(m2K)": "W/(m²K)", "W/m2K": "W/(m²K)", "K d": "K·d", "each": "", "-": "",
    "C": "°C", "l/(s m2)": "l/(s·m²)", "kg/(m s Pa)": "kg/(m·s·Pa)", "person_day": "person-days",
    "each/each": "",
}  # fmt: skip
"""Units that raising a power does not settle."""

Run = tuple[str, str]
"""Kind (``t`` text, ``b`` below the line, ``h`` above it) and text."""

_RAISED = re.compile(r"\b(mm|m|s)([234])(?![\w.])")
_TEN = re.compile(r"(\d)e([+-])0*(\d+)")
_LESS = re.compile(r"(^|[^\w)])-(?=\d)")
_TWICE = re.compile(r"([−+×/^] ?)−(\d[\d.]*)")
REMEMBERED = 4096  # expressions kept as set, many times those of one job
_WORD = re.compile(r"[^\W\d][\w]*|\^\([^)]*\)|\^−?[\w.]+|[^\w^]+|\d[\d.eE]*|\^|\w")


@lru_cache(maxsize=1000)
def unit(name: str) -> str:
    """Write a unit with its powers raised; none for what has none.

    Parameters
    ----------
    name : str
        Unit as the code writes it [-].

    Returns
    -------
    str
        Unit as a person writes it [-].

    Examples
    --------
    >>> unit("m2K/W"), unit("-"), unit("m2/l")
    ('m²K/W', '', 'm²/l')
    """
    return UNITS.get(name, _RAISED.sub(lambda m: m[1] + "²³⁴"[int(m[2]) - 2], name))


def minus(numbers: str) -> str:
    """Write numbers with a true minus, in brackets after a sign, and with powers of ten.

    Parameters
    ----------
    numbers : str
        Numbers, or an expression of numbers [-].

    Returns
    -------
    str
        The same as a person writes it [-].

    Examples
    --------
    >>> minus("-1557"), minus("1.5 × max(−-1557, 0)"), minus("1.81e-05 × 2")
    ('−1557', '1.5 × max(−(−1557), 0)', '1.81·10^−5 × 2')
    """
    if "-" not in numbers and "e" not in numbers:
        return numbers
    sign = {"-": "−", "+": ""}
    ten = _TEN.sub(lambda m: f"{m[1]}·10^{sign[m[2]]}{m[3]}", numbers)
    return _TWICE.sub(r"\1(−\2)", _LESS.sub(r"\1−", ten)) if "-" in ten else ten


@lru_cache(maxsize=REMEMBERED)
def runs(expression: str) -> tuple[Run, ...]:
    """Split an expression into runs of text, indices and powers.

    Parameters
    ----------
    expression : str
        As `evenfall.working` writes it [-].

    Returns
    -------
    tuple of (str, str)
        Runs in order [-].

    Examples
    --------
    >>> runs("lambda_f × R_T_h^2")
    (('t', 'λ'), ('b', 'f'), ('t', ' × R'), ('b', 'T,h'), ('h', '2'))
    """
    found: list[Run] = []
    for token in _WORD.findall(expression):
        for run in _set(token):
            if found and found[-1][0] == run[0] == "t":
                found[-1] = ("t", found[-1][1] + run[1])
            else:
                found.append(run)
    return tuple(found)


def _set(token: str) -> tuple[Run, ...]:
    if token.startswith("^") and token[1:]:
        return (("h", token[1:].strip("()")),)
    if not (token[0].isalpha() and token[0] != "_"):
        return (("t", token),)
    base, _, index = token.partition("_")
    head = ("t", GREEK.get(base, base))
    return (head, ("b", index.strip("_").replace("_", ","))) if index.strip("_") else (head,)
