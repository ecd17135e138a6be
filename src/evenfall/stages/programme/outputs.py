"""From a quantity to hours, by the firm's own outputs."""

from __future__ import annotations

from evenfall.calc.spread import triangular_quantile
from evenfall.errors import InvalidInput
from evenfall.model.rates import Output
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Working, formula, measured

WHERE = "the rates: outputs"


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


@formula("hours", "h", "quantity times output, and its share")
def shared_hours(Q: float, rate: float, share: float) -> float:
    """Person-hours for a quantity, of a piece of work that is told in several lines.

    Parameters
    ----------
    Q : float
        Quantity [unit].
    rate : float
        Output of the firm, for all lines together [h/unit].
    share : float
        Share of this line [-].

    Returns
    -------
    float
        Time of one person [h].

    Examples
    --------
    >>> round(shared_hours(25.42, 0.2, 0.3), 3)
    1.525
    """
    return Q * rate * share


def slow(low: float, typical: float, high: float) -> float:
    """Hours at which a bay must still be closed by dusk.

    Each piece of work by itself takes no longer nine times in ten; they are added up as if one bad
    day slowed all of them, which errs on the dry side.

    Parameters
    ----------
    low, typical, high : float
        Hours on a good day, as usual, and on a bad one [h].

    Returns
    -------
    float
        Hours that the plan reckons with [h].

    Examples
    --------
    >>> round(slow(4.0, 6.0, 9.5), 2)
    8.12
    """
    return triangular_quantile(low, typical, high, float(practice.PLANNED_FOR))


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

    def hours(
        self, name: str, unit: str, quantity: Working, share: float = 1.0
    ) -> tuple[Working, float, float]:
        """Turn a quantity into hours.

        Parameters
        ----------
        name, unit : str
            The task, and what it is counted in [-].
        quantity : Working
            How much of it [unit].
        share : float
            Share of the hours, where it is told in several lines [-].

        Returns
        -------
        (typical, low, high)
            Person-hours, the typical ones with their working [h].
        """
        output = self.of(name, unit)
        rate = measured(output.typical, f"h/{unit}", f"{WHERE}[{name}].typical", self._basis)
        much = share * quantity.value
        if share == 1.0:
            hours = person_hours.show(quantity, rate)
        else:
            hours = shared_hours.show(quantity, rate, share)
        return hours, output.low * much, output.high * much
