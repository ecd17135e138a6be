"""The cut lists for the saw: boards, then each section of timber and trim, bar by bar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.stages.papers.drawn_saw import left_words, saw_words
from evenfall.stages.papers.drawn_sheet import strip_name
from evenfall.stages.papers.drawn_tapers import kind_words, taper_words
from evenfall.stages.papers.words import metres, spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000


@dataclass(frozen=True, slots=True)
class Bars:
    """Stock pieces that are sawn alike."""

    count: int
    stock: str
    sawn: str
    left: str


@dataclass(frozen=True, slots=True)
class CutList:
    """All cuts of one section or board."""

    name: str
    told: str
    bars: tuple[Bars, ...]
    how: str = "sawn in order"


def cut_lists(worked: WorkedRoof) -> tuple[CutList, ...]:
    """Gather the cut lists.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of CutList
        Boards, then lengths, then what the knife cuts; bars that are sawn alike are told once
        [mm].
    """
    return (*_boards(worked), *_tapers(worked), *_lengths(worked), *_strips(worked),
            *_rolls(worked))  # fmt: skip


def _boards(worked: WorkedRoof) -> Iterator[CutList]:
    boards = worked.boards
    if not boards.sawn:
        return
    rows = tuple(
        Bars(1, f"{b.number}", saw_words(b).partition(": ")[2],
             left_words(b) or "–")
        for b in boards.sawn
    )  # fmt: skip
    told = (
        f"{len(boards.sawn)} of {boards.bought} boards are cut; cuts in the order of sawing, sizes "
        "in mm. A letter is a part that is sawn again or left over. The drawing shows them."
    )
    yield CutList(boards.order[0].says, told, rows)


def _tapers(worked: WorkedRoof) -> Iterator[CutList]:
    laid = worked.boards.tapered
    if laid is None or not laid.sawn:
        return
    rows = tuple(
        Bars(1, f"T{b.number}, {kind_words(laid, b.number)}", taper_words(b), "–")
        for b in laid.sawn
    )
    told = (
        f"{len(laid.sawn)} of {sum(k.bought for k in laid.kinds)} tapered boards are cut, sizes in "
        "mm. Lay each with its thin edge towards you; no piece is turned on the roof."
    )
    yield CutList(laid.order[0].says.partition(", ")[0], told, rows)


def _lengths(worked: WorkedRoof) -> Iterator[CutList]:
    notes = {line.id: line.note for line in worked.lengths.order}
    for run in worked.lengths.runs:
        alike: dict[tuple[int, tuple[tuple[str, int], ...], int], int] = {}
        for bar in run.bars:
            key = (bar.stock_mm, bar.cuts, bar.left_mm)
            alike[key] = alike.get(key, 0) + 1
        rows = tuple(
            Bars(count, f"{stock}", ", ".join(f"{mm} for {name}" for name, mm in cuts), f"{left}")
            for (stock, cuts, left), count in alike.items()
        )
        bought = sum(bar.stock_mm for bar in run.bars) / MM
        told = f"{metres(run.need.value)} needed, {metres(bought)} bought"
        beside = [s for s in notes[run.id].split(". ")[1:] if s]  # all but the cuts themselves
        told = ". ".join([told, *(s[0].upper() + s[1:] for s in beside)])
        yield CutList(run.says, told, rows)


def _rolls(worked: WorkedRoof) -> Iterator[CutList]:
    """List what is cut from each roll of VCL, in the order of laying."""
    rolls = worked.rolls
    cut: dict[int, list[str]] = {}
    for p in rolls.strips:
        cut.setdefault(p.roll, []).append(f"{p.number}: {p.length_mm} × {p.width_mm}")
    for k in rolls.kerb_strips:
        cut.setdefault(k.roll, []).append(
            f"{k.number}: {k.length_mm} × {k.width_mm} for {spoken(k.where)}"
        )
    rows = tuple(Bars(1, f"roll {n}", ", ".join(cuts), "–") for n, cuts in sorted(cut.items()))
    if rows:
        told = "by the numbers of the VCL plan, length × width in mm"
        yield CutList(rolls.order[0].says, told, rows, "cut in order")


def _strips(worked: WorkedRoof) -> Iterator[CutList]:
    """List the strips up the kerbs, by the place that they are cut from."""
    sheet = worked.sheet
    places = {
        "rest": "beside the sheet",
        "notch": "corner left free",
        "cut": f"cut of {sheet.further_mm[0]} × {sheet.further_mm[1]}",
    }
    cut = {source: ", ".join(
        f"{strip_name(c.number)} {c.length_mm} × {c.width_mm} for {spoken(c.where)}"
        for c in sheet.cuts if c.source == source
    ) for source in places}  # fmt: skip
    rows = tuple(Bars(1, places[source], told, "–") for source, told in cut.items() if told)
    if rows:
        told = "with the knife, where the sheet plan shows them"
        yield CutList("Strips of sheet up the kerbs", told, rows, "cut")
