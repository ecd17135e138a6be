"""The rates written out as YAML: a whole price book, kept as it was when a quotation was made."""

from __future__ import annotations

import yaml

from evenfall.model.rates import Rates

WIDE = 120


def to_yaml(rates: Rates) -> str:
    """Write rates as a file that reads back as the same rates.

    Parameters
    ----------
    rates : Rates
        The rates [-].

    Returns
    -------
    str
        YAML; the same for the same rates [-].
    """
    data = rates.model_dump(mode="json", exclude_none=True)
    head = (
        f"# Prices of {rates.rates.name}, {rates.rates.priced_on.isoformat()}, under the mark "
        f"{rates.mark}.\n"
        "# With --rates and this file a quotation comes out as it was made.\n"
    )
    body = yaml.safe_dump(data, sort_keys=False, allow_unicode=True, width=WIDE,
                          default_flow_style=None)  # fmt: skip
    return head + str(body)
