"""From a quantity to hours, by the firm's own outputs."""

from __future__ import annotations

from evenfall.errors import InvalidInput
from evenfall.model.rates import Output
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Working, formula, measured

WHERE = "rates: outputs"


@formula("hours", "h", "quantity times output")
def person_hours(Q: float, rate: float) -> float:
    """Person-hours for a quantity.

    Parameters
    ----------
    Q : float
        Quantity [unit].
    rate : float
        Output of the firm [h/unit].

    Returns
    -------
    float
        Time of one person [h].

    Examples
    --------
    >>> person_hours(25.42, 0.25)
    6.355
    """
    return Q * rate


def slow(typical: float, high: float) -> float:
    """Hours at which a bay must still be closed by dusk.

    Parameters
    ----------
    typical, high : float
        Hours as usual, and on a bad day [h].

    Returns
    -------
    float
        Hours that the plan reckons with [h].

    Examples
    --------
    >>> slow(6.0, 9.5)
    7.75
    """
    return typical + practice.SLOWNESS * (high - typical)


class Outputs:
    """The firm's outputs by the name of the task.

    Parameters
    ----------
    outputs : tuple of Output
        Hours for one unit, low, typical and high [-].
    basis : str
        Basis of the rates [-].
    """

    def __init__(self, outputs: tuple[Output, ...], basis: Basis) -> None:
        self._by_name = {o.task: o for o in outputs}
        self._basis = basis

    def of(self, name: str, unit: str) -> Output:
        """Find an output.

        Parameters
        ----------
        name, unit : str
            The task, and what it is counted in [-].

        Returns
        -------
        Output
            Hours for one unit [h].

        Raises
        ------
        InvalidInput
            It is missing, nought, or counted in something else.
        """
        output = self._by_name.get(name)
        if output is None:
            raise InvalidInput(
                f'no output named "{name}"', f"hours per {unit} for {name}", where=WHERE,
                do=f"add {{task: {name}, unit: {unit}, low: ..., typical: ..., high: ...}}",
            )  # fmt: skip
        if output.unit != unit:
            raise InvalidInput(f"{name} per {output.unit}", f"{name} per {unit}", where=WHERE)
        if not output.typical:
            raise InvalidInput(f"{name} takes 0 hours", "more than nought", where=WHERE)
        return output

    def hours(self, name: str, unit: str, quantity: Working) -> tuple[Working, float, float]:
        """Turn a quantity into hours.

        Parameters
        ----------
        name, unit : str
            The task, and what it is counted in [-].
        quantity : Working
            How much of it [unit].

        Returns
        -------
        (typical, low, high)
            Person-hours, the typical ones with their working [h].
        """
        output = self.of(name, unit)
        rate = measured(output.typical, f"h/{unit}", f"{WHERE}[{name}].typical", self._basis)
        hours = person_hours.show(quantity, rate)
        return hours, output.low * quantity.value, output.high * quantity.value
