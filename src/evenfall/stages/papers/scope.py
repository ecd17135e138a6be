"""What is done, in plain words: the layers, the edges, what goes through the roof, the days."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from evenfall.model.choice import build_up
from evenfall.model.programmed import Day, Programme
from evenfall.model.words import by_the_quarter
from evenfall.stages.papers.words import about, listed, metres, sides_said, spoken
from evenfall.stages.papers.worked import WorkedRoof

PERCENT = 100
MM = 1000
KINDS = {
    "eaves": "eaves", "verge": "verge", "parapet": "parapet", "wall": "wall",
    "party_line": "line to the neighbour", "step": "step",
}  # fmt: skip
TURNED = {
    "eaves": "sheet dressed over a drip trim",
    "verge": "raised edge with a trim, so that no rain runs over",
    "party_line": "raised edge with a trim, so that no rain runs over",
    "parapet": "sheet up and over the parapet, under a capping",
    "wall": "sheet turned up the wall, held by a bar, under a flashing let into the wall",
    "step": "sheet turned up the step, held by a bar, under a flashing",
}
THROUGH = {
    "rooflight": "new kerb, insulated outside, sheet dressed up to the frame",
    "pipe": "rubber boot with a clamp",
    "post": "rubber boot with a clamp",
    "flue": "collar for heat; nothing that burns near it",
    "outlet": "new outlet with a leaf guard, sheet clamped in",
    "chimney": "sheet turned up all round, under a lead flashing",
}


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the new roof, from the top down; ``id`` is where its area comes from."""

    id: str
    name: str
    says: str
    thickness: str
    area: str


@dataclass(frozen=True, slots=True)
class Part:
    """One edge, or one thing through the roof; ``ids`` are its places in the worked job."""

    ids: tuple[str, ...]
    name: str
    says: str
    size: str


@dataclass(frozen=True, slots=True)
class DayWords:
    """One day."""

    on: date
    does: str
    notice: str
    evening: str


def opening(worked: WorkedRoof) -> str:
    """Say in one paragraph what is offered.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    str
        Plain words [-].
    """
    slope = worked.falls.finished.value
    fall = f" It falls 1 in {MM / slope:.0f}, so that rain runs off." if slope > 0 else ""
    saved = worked.heat.lost_before.value - worked.heat.lost.value
    heat = f" It saves {about(saved)} kWh of heat a year." if saved > 0 else ""
    board = worked.rise.chosen_mm
    return (
        f"We take off the old felt, mend the boarding, and build a warm roof of "
        f"{worked.plan.gross.value:.0f} m² on it: a vapour control layer, {board} mm of insulation "
        f"and one rubber sheet over everything, with new edges.{fall} The timber then stays on the "
        f"warm, dry side.{heat}"
    )


def layers(worked: WorkedRoof) -> tuple[Layer, ...]:
    """List the layers from the top down, with thickness and area.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Layer
        Sheet to deck, and what comes off [-].
    """
    return tuple(_layers(worked))


def _layers(worked: WorkedRoof) -> Iterator[Layer]:
    build = build_up(worked.case.job.design, worked.case.rates)
    survey, gross, net = worked.case.job.survey, worked.plan.gross.value, worked.plan.net.value
    pieces = worked.sheet.chosen.strips
    how = "in one piece" if pieces == 1 else f"in {pieces} strips with taped seams"
    yield Layer(
        "plan.gross",
        "Rubber sheet",
        f"{build.rubber.says}. Glued over its whole area, {how}.",
        f"{build.rubber.thickness_mm:g} mm",
        f"{gross:.1f} m²",
    )
    if build.overlay_mm:
        yield Layer(
            "plan.net",
            "Overlay board",
            "A firm layer under the sheet.",
            f"{build.overlay_mm:g} mm",
            f"{net:.1f} m²",
        )
    held = {"adhesive": "glued down", "screws": "screwed down"}[build.hold_boards_by]
    made = worked.boards.layers_mm
    alike = len(made) > 1 and len(set(made)) == 1
    thick = f"{len(made)} × {made[0]} mm" if alike else " + ".join(f"{mm}" for mm in made) + " mm"
    yield Layer(
        "plan.net",
        "Insulation",
        f"{build.board.says}. {held.capitalize()}, against the wind of this place.",
        thick,
        f"{net:.1f} m²",
    )
    if worked.falls.kind == "tapered":
        yield Layer("plan.net", "Tapered boards", "They make the fall.", _taper_mm(worked),
                    f"{net:.1f} m²")  # fmt: skip
    yield Layer(
        "plan.net",
        "Vapour control layer",
        f"{build.vcl.says}. Keeps the damp of the room out of the "
        "roof, and the rain out each night while we work.",
        f"{build.vcl.thickness_mm:g} mm",
        f"{net:.1f} m²",
    )
    renew = survey.deck.renew_percent
    words = "Looked over, fixed again."
    if renew:
        words += f" {about(gross * renew / PERCENT).capitalize()} m² of new boarding is in the "\
                 "price."  # fmt: skip
    if worked.falls.lifts_deck:
        words += " Lifted, and laid again on the firrings."
    yield Layer(
        "plan.gross", "Boarding", words, f"{survey.deck.thickness_mm:g} mm", f"{gross:.1f} m²"
    )
    if worked.falls.kind in ("firrings", "shims") and worked.falls.firrings:
        low = min(f.thin_mm for f in worked.falls.firrings)
        high = max(f.thick_mm for f in worked.falls.firrings)
        yield Layer("plan.gross", "Firrings", f"Timber wedges that make the fall towards "
                    f"{worked.falls.low_side}.", f"{low} to {high} mm",
                    f"{gross:.1f} m²")  # fmt: skip
    yield Layer("plan.gross", "Old roof", _off(worked), "", f"{gross:.1f} m²")


def _taper_mm(worked: WorkedRoof) -> str:
    """Tell the least and the greatest thickness of tapered boards and fill-up, where known."""
    laid = worked.boards.tapered
    edges = [p.fill_mm + mm for p in laid.pieces for mm in (p.low_mm, p.high_mm)] if laid else []
    return f"{min(edges)} to {max(edges)} mm" if edges else ""


def _off(worked: WorkedRoof) -> str:
    survey, design = worked.case.job.survey, worked.case.job.design
    felt = survey.covering.layers
    what = [f"{felt} layers of felt" if felt > 1 else "the felt"]
    what += ["the chippings"] if survey.covering.chippings else []
    what += ["the old quilt"] if survey.below.quilt_mm and design.quilt == "remove" else []
    words = f"{listed(what)} taken off and away, {about(worked.strip.mass.value)} kg."
    if survey.below.old_vents and design.vents == "close":
        words += " The old vents are closed: a warm roof needs none."
    return words[:1].upper() + words[1:]


def parts(worked: WorkedRoof) -> tuple[Part, ...]:
    """List the edges by kind, and everything through the roof.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Part
        With length or size [-].
    """
    return (*_edges(worked), *_fascia(worked), *_through(worked))


def _edges(worked: WorkedRoof) -> Iterator[Part]:
    for kind, word in KINDS.items():
        sides = worked.plan.of_kind(kind)
        if sides:
            names = sides_said([s.name for s in sides])
            length = metres(sum(s.length_m for s in sides))
            many = "" if word.endswith("s") or not sides[1:] else "s"
            yield Part(
                tuple(f"plan.sides[{s.name}].length_m" for s in sides),
                f"{word.capitalize()}{many} {names}",
                TURNED[kind].capitalize() + ".",
                length,
            )


def _fascia(worked: WorkedRoof) -> Iterator[Part]:
    for run in worked.lengths.runs:
        name = run.id.partition(":")[2]
        if name.startswith(("fascia", "soffit", "gutter", "downpipe")):
            cut = {n for b in run.bars for n, _ in b.cuts}
            round_it = [s.name for s in worked.plan.sides if s.name in cut]
            where = sides_said([*round_it, *sorted(cut - set(round_it))])
            says = f"{run.says}."
            yield Part(
                (f"lengths.runs[{run.id}].need",),
                f"{name.partition('-')[0].capitalize()} {where}",
                says,
                metres(run.need.value),
            )


def _through(worked: WorkedRoof) -> Iterator[Part]:
    for o in worked.plan.openings:
        words = spoken(o.name)
        size = f"{o.diameter_mm:.0f} mm" if o.diameter_mm else f"{o.area_m2:.2f} m²"
        key = "diameter_mm" if o.diameter_mm else "area_m2"
        yield Part(
            (f"plan.openings[{o.name}].{key}",),
            words[:1].upper() + words[1:],
            THROUGH[o.kind].capitalize() + ".",
            size,
        )


# --- the days ------------------------------------------------------------------------------------

NOTICE = (
    ("strip-", "noise and dust, the skip filling up"),
    ("vcl-", "some smell of primer"),
    ("sheet-field", "smell of glue: windows beside the roof shut"),
    ("fascia", "work on ladders at the edge"),
    ("gutter", "work on ladders at the edge"),
    ("clear-up", "the last noise; we show you the roof"),
)
COVER = {"felt": "the old felt", "vcl": "the vapour control layer", "sheet": "the new sheet"}


def days_of(programme: Programme) -> tuple[DayWords, ...]:
    """Say what the client sees of each day.

    Parameters
    ----------
    programme : Programme
        The days [-].

    Returns
    -------
    tuple of DayWords
        Work, what is noticed, what keeps the rain out that night [-].
    """
    return tuple(DayWords(d.on, _does(d), _notice(d), _evening(d)) for d in programme.days)


def _does(day: Day) -> str:
    return day.says[:1].upper() + day.says[1:]


def _notice(day: Day) -> str:
    names = [id_.removeprefix("task:") for id_, _ in day.work]
    found = dict.fromkeys(says for start, says in NOTICE if any(n.startswith(start) for n in names))
    return "; ".join(list(found)[:2])


def _evening(day: Day) -> str:
    kinds = dict.fromkeys(COVER[c] for _, c in day.evening.covers if c in COVER)
    if COVER["vcl"] not in kinds:
        return listed(list(kinds))
    return f"{listed(list(kinds))}, closed by {by_the_quarter(day.evening.sealed_by)}"
