"""Options side by side: each is the whole job worked out with its changes."""

from __future__ import annotations

from evenfall.model.priced import OptionOf, Options

WHY_EMPTY = "The job names no options."
Summary = tuple[float, int, float, int]  # total in pence, days, U in W/(m2K), stops


def work(named: tuple[tuple[str, str], ...], here: Summary, there: tuple[Summary, ...]) -> Options:
    """Set the options beside the job as it stands.

    Parameters
    ----------
    named : tuple of (name, says)
        The options of the job [-].
    here : Summary
        The job as it stands [-].
    there : tuple of Summary
        Each option worked out [-].

    Returns
    -------
    Options
        Price, difference, days and heat of each [-].

    Examples
    --------
    >>> work((("thicker", "20 mm more"),), (100.0, 5, 0.16, 0), ((130.0, 5, 0.14, 0),)).options[0]
    OptionOf(name='thicker', says='20 mm more', total_pence=130, more_pence=30, days=5, u=0.14,
    stops=0)
    """
    found = tuple(
        OptionOf(name, says, round(pence), round(pence - here[0]), days, u, stops)
        for (name, says), (pence, days, u, stops) in zip(named, there, strict=True)
    )
    return Options(found, "" if found else WHY_EMPTY)
