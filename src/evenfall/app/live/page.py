"""The whole present state of a job in one answer, for the first paint and for other programs."""

from __future__ import annotations

from typing import Any

from evenfall.app.as_json import plain
from evenfall.app.live.snapshot import Snapshot, finding_data
from evenfall.app.web.state import PAPERS
from evenfall.flow import DRAWINGS, KEYS, WorkedJob, price_groups
from evenfall.model.words import pounds


def totals(rooms: dict[str, Any], findings: tuple[Any, ...] | None = None) -> dict[str, Any]:
    """Give the few numbers at the head of the sheet, as far as their rooms are worked.

    Parameters
    ----------
    rooms : dict
        Answers by room [-].
    findings : tuple of Finding, optional
        All findings [-].

    Returns
    -------
    dict
        Price, days, heat, thickness, height left, stops [-].
    """
    found: dict[str, Any] = {}
    if price := rooms.get("price"):
        found |= {"net_pence": round(price.net.value), "total_pence": round(price.total.value),
                  "total": pounds(price.total.value)}  # fmt: skip
    if programme := rooms.get("programme"):
        found |= {"days": len(programme.days), "finish_on": programme.finish_on.isoformat()}
    if heat := rooms.get("heat"):
        found["u"] = round(heat.u.value, 4)
    if rise := rooms.get("rise"):
        found |= {"thickness_mm": rise.chosen_mm, "governs": rise.governs}
    if (heights := rooms.get("heights")) and heights.items:
        found["margin_mm"] = round(min(i.margin.value for i in heights.items), 1)
    if findings is not None:
        for level in ("stop", "agree", "note"):
            found[f"{level}s"] = sum(f.level == level for f in findings)
    return found


def page_of(now: Snapshot, worked: WorkedJob | None) -> dict[str, Any]:
    """Describe a job as last worked.

    Parameters
    ----------
    now : Snapshot
        Its rooms [-].
    worked : WorkedJob, optional
        The job, where it was worked to its end [-].

    Returns
    -------
    dict
        Numbers by id, totals, findings, drawings, days, stick, price, papers [-].
    """
    if worked is None:
        return {
            "numbers": {}, "totals": {}, "findings": [], "drawings": [], "days": [], "stick": [],
            "price": [], "papers": [],
        }  # fmt: skip
    numbers = {
        id_: {"value": v.value, "text": v.text, "unit": v.unit}
        for key in KEYS for id_, v in now.values(key).items()
    }  # fmt: skip
    return {
        "numbers": numbers,
        "totals": totals(now.rooms, worked.findings),
        "findings": [finding_data(f) for f in worked.findings],
        "drawings": list(DRAWINGS),
        "days": plain(worked.programme.days),
        "stick": plain(worked.rise.rows),
        "price": [{"says": g.says, "pence": g.pence} for g in price_groups(worked)],
        "papers": [name for name, _, _ in PAPERS],
    }
