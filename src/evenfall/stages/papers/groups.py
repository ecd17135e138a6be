"""The price as the client reads it: groups of work at selling prices that add up to the penny."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfall.model.priced import PriceLine
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.working import Working, total

GROUPS: tuple[tuple[str, str], ...] = (
    ("access", "Scaffold, edge protection and delivery"),
    ("strip", "Stripping the old roof and taking it away"),
    ("deck", "Looking over the boarding, repairs allowed for, and the fall"),
    ("warm", "Vapour control layer and insulation, with the wall heads closed"),
    ("sheet", "Rubber sheet, upstands, corners and everything through the roof"),
    ("windows", "Windows beside the roof"),
    ("edges", "Edges: timber, trims, fascia, flashings and gutter"),
    ("night", "Keeping it watertight every night"),
    ("site", "Setting up, the site and clearing up"),
    ("fees", "Fees and tests"),
    ("other", "Other work"),
)

BLOCKS = {"access": "access", "strip": "strip", "prelims": "site", "fees": "fees"}
KINDS = {"board": "warm", "vcl": "warm", "screw": "warm", "sheet": "sheet", "length": "edges",
         "fitting": "edges", "window": "windows"}  # fmt: skip
NAMES: dict[str, tuple[str, ...]] = {
    "strip": ("strip-", "lift-deck", "remove-quilt", "felt-bags"),
    "deck": (
        "inspect-deck", "new-deck", "relay-deck", "patch-deck", "repair-joist", "deck-board",
        "wood-screws", "joist-preservative", "firring",
    ),
    "warm": (
        "primer", "vcl-", "board-adhesive", "foam-can", "overlay", "wall-head", "kerb-insulation",
        "close-vents", "boards-", "parapet-lining", "screw", "cut-edges", "kerb-on-boards",
    ),
    "sheet": (
        "field-adhesive", "contact-adhesive", "seam", "lap-sealant", "butyl-separation-strip",
        "corner", "t-patch", "pipe-boot", "flue-collar", "outlet", "overflow", "rooflight-",
        "sheet-", "push-air", "second-pass", "before-sheet", "upstand",
        "kerb-dress",
    ),
    "edges": (
        "edge-timber", "kerb-", "trim", "flashing", "capping", "door-", "fascia", "gutter",
        "downpipe", "coat", "soffit", "batten", "wall-plugs", "chase-sealant",
    ),
    "night": ("night-", "cover-sheet", "sandbags", "open-and-close"),
    "site": ("set-up", "clear-up", "wash-down", "protection-sheet"),
}  # fmt: skip
"""Beginnings of names in the rates; the first that fits decides."""


@dataclass(frozen=True, slots=True)
class PriceGroup:
    """One line of the price as the client reads it, without VAT."""

    key: str
    says: str
    pence: int


def group_of(id_: str, block: str) -> str:
    """Say in which group of the quotation a line of the price belongs.

    Parameters
    ----------
    id_ : str
        Such as ``task:strip-felt`` [-].
    block : str
        Block of the line [-].

    Returns
    -------
    str
        Key of `GROUPS` [-].

    Examples
    --------
    >>> group_of("task:strip-felt", "labour"), group_of("charge:van", "prelims")
    ('strip', 'site')
    >>> group_of("board:pir:90", "materials"), group_of("item:own-thing", "materials")
    ('warm', 'other')
    """
    kind, _, name = id_.partition(":")
    if kind == "charge" and name.startswith("night-"):
        return "night"
    if block in BLOCKS:
        return BLOCKS[block]
    for group, starts in NAMES.items():
        if name.startswith(starts) and kind not in ("board", "sheet", "vcl"):
            return group
    return KINDS.get(kind, "other")


def share_out(net: int, weights: Mapping[str, int]) -> dict[str, int]:
    """Share a sum by weights in whole pence, so that the parts add up to it exactly.

    Parameters
    ----------
    net : int
        The sum [pence].
    weights : mapping of str to int
        Weight of each part; none below nought [pence].

    Returns
    -------
    dict
        Part of each; pence left by rounding down go to the largest remainders [pence].

    Examples
    --------
    >>> share_out(100, {"a": 1, "b": 1, "c": 1})
    {'a': 34, 'b': 33, 'c': 33}
    """
    whole = sum(weights.values())
    if not whole:
        return {key: net if i == 0 else 0 for i, key in enumerate(weights)}
    parts = {key: divmod(net * weight, whole) for key, weight in weights.items()}
    left = net - sum(q for q, _ in parts.values())
    first = sorted(parts, key=lambda key: -parts[key][1])[:left]
    return {key: q + (key in first) for key, (q, _) in parts.items()}


def price_groups(lines: tuple[PriceLine, ...], net: int) -> tuple[PriceGroup, ...]:
    """Spread what the firm adds over the groups, each by what it costs.

    Parameters
    ----------
    lines : tuple of PriceLine
        Lines of cost [pence].
    net : int
        Price without VAT [pence].

    Returns
    -------
    tuple of PriceGroup
        Groups at selling prices; they add up to ``net`` [pence].
    """
    weights = dict.fromkeys((key for key, _ in GROUPS), 0)
    for line in lines:
        weights[group_of(line.id, line.block)] += line.pence
    parts = share_out(net, {key: pence for key, pence in weights.items() if pence})
    return tuple(PriceGroup(key, says, parts[key]) for key, says in GROUPS if parts.get(key))


def net_of_groups(worked: WorkedRoof) -> Working:
    """Show the net price as the sum of the groups, with nothing of what the firm pays or adds.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Working
        The net price [pence].
    """
    groups = price_groups(worked.price.lines, round(worked.price.net.value))
    parts = [(g.key, float(g.pence)) for g in groups]
    return total("Price without VAT: the groups of the quotation", "net", "pence", parts)
