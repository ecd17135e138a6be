"""What to load this morning: materials for the day's work, by its own quantities."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from evenfall.model.programmed import Day, Task
from evenfall.stages.programme.site import kind

MATERIALS = {
    "strip-felt": "rubble sacks and a knife for {q:.0f} m² of felt",
    "remove-quilt": "sacks for {q:.0f} m² of old quilt",
    "repair-joist": "timber and treatment for {n} joist ends",
    "firrings": "firrings, {q:.1f} m, with screws",
    "new-deck": "deck boards for {q:.1f} m²",
    "patch-deck": "deck boards for {q:.1f} m² of patches",
    "close-vents": "vent strips and sealant for {q:.1f} m",
    "wall-head": "insulation for {q:.1f} m of wall head",
    "edge-timber": "edge timber for {q:.1f} m of edge in all its courses, treated, with its screws",
    "vcl-adhesive": "VCL and primer for {q:.1f} m² with turn-ups, roller",
    "vcl-polythene": "VCL and tape for {q:.1f} m² with turn-ups",
    "night-joint": "tape, primer and sealant for {q:.1f} m of night line",
    "boards-glue": "boards for {q:.1f} m², board adhesive, weights",
    "boards-screw": "boards for {q:.1f} m²",
    "boards-second-layer": "second layer of boards for {q:.1f} m²",
    "screw": "{n} screws with plates, spare bits",
    "overlay": "overlay boards for {q:.1f} m²",
    "parapet-lining": "lining boards for {q:.1f} m² of parapet",
    "sheet-unroll": "the sheet, {q:.1f} m², and hands to lift it",
    "sheet-field": "adhesive for {q:.1f} m² of sheet, rollers",
    "push-air": "broom and roller",
    "upstand": "contact adhesive and strips for {q:.1f} m of upstand",
    "corner": "{n} corner patches",
    "pipe-boot": "{n} pipe boots",
    "kerb-dress": "strips and adhesive for {n} rooflight kerbs",
    "outlet": "{n} outlets",
    "overflow": "{n} overflow spouts",
    "seam": "seam tape, primer and sealant for {q:.1f} m",
    "flashing": "bar, plugs, flashing, wedges and sealant for {q:.1f} m",
    "trim": "trims, {q:.1f} m, with joiners, corners, screws and sealant",
    "capping": "cappings, {q:.1f} m",
    "fascia": "fascia, {q:.1f} m, with its fixings, joint covers and corners",
    "soffit": "soffit boards and battens for {q:.1f} m",
    "coat-1": "paint, brushes, trestles",
    "coat-2": "paint, brushes, trestles",
    "coat-3": "paint, brushes",
    "gutter": "gutter, {q:.1f} m, with its brackets, unions, ends and outlets",
    "downpipe": "downpipe, {q:.1f} m, with bends, shoes and clips",
}
"""What each kind of work takes up the ladder; hand tools go without saying."""


def to_load(day: Day, tasks: dict[str, Task]) -> tuple[str, ...]:
    """List what the day's work takes, in the order of the work.

    Parameters
    ----------
    day : Day
        Today, without what is done [-].
    tasks : dict
        Tasks by id [-].

    Returns
    -------
    tuple of str
        Materials with their quantities [-].
    """
    return tuple(dict.fromkeys(_loads(day, tasks)))


def _loads(day: Day, tasks: dict[str, Task]) -> Iterator[str]:
    wanted: dict[str, float] = {}
    for id_, hours in day.work:
        task = tasks[id_]
        if kind(id_) in MATERIALS and task.hours.value:
            share = min(1.0, hours / task.hours.value)
            wanted[kind(id_)] = wanted.get(kind(id_), 0.0) + share * task.quantity.value
    for name, quantity in wanted.items():
        yield MATERIALS[name].format(q=quantity, n=ceil(quantity - 1e-9))
