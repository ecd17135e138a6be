"""Every paper as data, by its name; how it looks is the business of `app.papers`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from evenfall.stages.papers import (
    call_back,
    client_programme,
    cut_lists,
    day_bundle,
    day_sheets,
    drawing_set,
    extract,
    from_the_roof,
    handover,
    order,
    phase_plan,
    quotation,
    record_told,
    sheets,
)
from evenfall.standards.programme_practice import HOLD_POINTS

PAPERS: dict[str, Callable[[Any], Any]] = {
    "quotation": quotation.quotation,
    "calculations": sheets.calculations,
    "order": order.order,
    "wanted by": order.wanted_by,
    "drawings": drawing_set.drawing_set,
    "extract": extract.extract,
    "cut lists": cut_lists.cut_lists,
    "day sheets": day_sheets.day_sheets,
    "day bundle": day_bundle.day_bundle,
    "hold points": lambda _: HOLD_POINTS,
    "construction-phase plan": phase_plan.phase_plan,
    "client's programme": client_programme.client_programme,
    "handover": handover.handover,
    "reminders": handover.reminder_days,
    "guarantee ends": handover.guarantee_ends,
    "call-backs": call_back.call_backs,
    "record": record_told.told,
    "photos": from_the_roof.photos_in_order,
}
"""What each paper says, as data."""
