"""What the roof needs and the rates do not hold: said, and neither ordered nor priced."""

from __future__ import annotations

from evenfall.model.finding import Finding, Remedy
from evenfall.working import Working


def lacking(name: str, need: Working) -> Finding:
    """Say what is wanted and neither ordered nor priced, because the rates do not have it.

    Parameters
    ----------
    name : str
        Name of the item [-].
    need : Working
        How much of it [-].

    Returns
    -------
    Finding
        A note [-].
    """
    says = (
        f"{need.title}: {need.value:.1f} {need.unit}. The rates have no {name}, so it is neither "
        "ordered nor priced."
    )
    cure = Remedy(f"Add {name} to the items of the rates.")
    return Finding("item-not-in-rates", f"item:{name}", "note", says, "take-off practice",
                   need.basis, need.value, None, need.unit, cure)  # fmt: skip


def touching(need: Working, strip: str) -> Finding:
    """Stop a roof on which the edge of a bituminous VCL would lie against the rubber.

    Parameters
    ----------
    need : Working
        Length of the edge [m].
    strip : str
        Name of the item that would keep them apart [-].

    Returns
    -------
    Finding
        A stop [-].
    """
    says = (
        f"The VCL is bitumen and nothing keeps its edge off the rubber along {need.value:.1f} m: "
        "oils of the bitumen spoil the sheet."
    )
    cure = Remedy(f"Add {strip} to the items of the rates, or take a VCL without bitumen.")
    return Finding("bitumen-on-rubber", "sheet", "stop", says, "a distributor's data page",
                   "published, second-hand", need.value, None, "m", cure)  # fmt: skip
