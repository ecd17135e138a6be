"""The order as plain text between commas, for a supplier's own program; no prices."""

from __future__ import annotations

import csv
import io

from evenfall.flow import PAPERS, WorkedJob

HEADS = ("counter", "id", "what", "need", "unit", "packs", "bought", "left over", "mass kg",
         "note", "basis")  # fmt: skip
RISKY = ("=", "+", "-", "@", "\t", "\r")
"""First letters that a spreadsheet would take for a sum."""


def order_csv(worked: WorkedJob) -> bytes:
    """Write the order, one line to an item, all counters in one file.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        UTF-8 with a byte-order mark, so that a spreadsheet reads the words [-].
    """
    target = io.StringIO()
    rows = csv.writer(target, lineterminator="\r\n")
    rows.writerow(HEADS)
    for counter in PAPERS["order"](worked).counters:
        for x in counter.lines:
            mass = "" if x.mass_kg is None else f"{x.mass_kg:.1f}"
            cells = (counter.name, x.id, x.what, f"{x.need:.3f}", x.unit, x.packs,
                     f"{x.bought:.3f}", f"{x.left:.3f}", mass, x.note, x.basis)  # fmt: skip
            rows.writerow([_safe(cell) for cell in cells])
    return target.getvalue().encode("utf-8-sig")


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(RISKY) else cell
