"""Gutters and overflows of a job: what one entry says that another one does not fit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.job import Job
from evenfall.standards.survey_practice import GROSS_MISCLOSURE


@dataclass(frozen=True, slots=True)
class Misfit:
    """Something that does not fit; ``path`` as in a Change."""

    path: str
    found: str
    expected: str
    do: str


def misfits(job: Job) -> Iterator[Misfit]:
    """Find gutters without a depth, new gutters without an old one, overflows off their side.

    Parameters
    ----------
    job : Job
        A job whose single values are sound [-].

    Yields
    ------
    Misfit
        One for each [-].
    """
    yield from _depths(job)
    yield from _new(job)
    yield from _overflows(job)


def _depths(job: Job) -> Iterator[Misfit]:
    for index, gutter in enumerate(job.survey.gutters):
        path, plain = f"survey.gutters[{index}]", gutter.shape == "half_round"
        if plain and gutter.depth_mm is not None:
            yield Misfit(
                f"{path}.depth_mm", "the depth of a half-round gutter", "half its width",
                "take it out, or write its shape",
            )  # fmt: skip
        if not plain and gutter.depth_mm is None:
            yield Misfit(
                path, f"a {gutter.shape} gutter along {gutter.side} without depth_mm",
                "its depth to where it spills", "measure it",
            )  # fmt: skip
        if (gutter.shape == "trapezoidal") != (gutter.sole_mm is not None):
            yield Misfit(
                path, f"a {gutter.shape} gutter {'with' if gutter.sole_mm else 'without'} sole_mm",
                "the width of its sole, for a trapezoidal gutter alone",
                "measure it, or take it out",
            )  # fmt: skip
        elif gutter.sole_mm is not None and gutter.sole_mm > gutter.width_mm:
            yield Misfit(
                f"{path}.sole_mm", f"a sole of {gutter.sole_mm:g} mm",
                f"at most the width at the top, {gutter.width_mm:g} mm", "measure again",
            )  # fmt: skip


def _new(job: Job) -> Iterator[Misfit]:
    old = [g.side for g in job.survey.gutters]
    seen: set[str] = set()
    for index, gutter in enumerate(job.design.new_gutters):
        path = f"design.new_gutters[{index}].side"
        if gutter.side in seen:
            yield Misfit(path, f"two new gutters along {gutter.side}", "one along each side",
                         "take one out")  # fmt: skip
        elif gutter.side not in old:
            yield Misfit(
                path, f"a new gutter along {gutter.side}, where none was found",
                f"a side with a gutter: {', '.join(old) or 'there is none'}",
                "enter the gutter under survey.gutters: its fall and the length of its pipe",
            )  # fmt: skip
        seen.add(gutter.side)


def _overflows(job: Job) -> Iterator[Misfit]:
    kinds = {s.side: s.kind for s in job.survey.sides}
    taped = {frozenset(t.between.split("-")): t.length_m for t in job.survey.tapes}
    seen: set[str] = set()
    for index, slot in enumerate(job.design.overflows):
        path = f"design.overflows[{index}]"
        if slot.name in seen:
            yield Misfit(path, f"two overflows named {slot.name}", "a name for each", "rename one")
        seen.add(slot.name)
        if kinds.get(slot.side) not in ("parapet", "verge", "party_line", None):
            yield Misfit(
                f"{path}.side", f"an overflow through {slot.side}, a {kinds[slot.side]}",
                "a parapet, or a verge with its kerb", "choose another side",
            )  # fmt: skip
        length_m = taped.get(frozenset(slot.side.split("-")))
        if length_m is not None and slot.along_m > length_m + GROSS_MISCLOSURE:
            yield Misfit(
                f"{path}.along_m", f"{slot.along_m:g} m along {slot.side}",
                f"at most {length_m:g} m, as that side was taped",
                "measure from the first corner of the side",
            )  # fmt: skip
