"""The rise stick as data: every hole, and what stands beside the roof, for the page to move."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from evenfall.flow import WorkedJob
from evenfall.model.choice import build_up
from evenfall.model.finding import Change
from evenfall.model.rising import Rise, RiseRow
from evenfall.model.standing import HeightAt
from evenfall.model.words import near, pounds
from evenfall.working import Working

WET = {"a": "none", "b": "dries", "c": "stays"}
"""Winter water in the build-up, in a word."""
UPHILL = "uphill"  # how much higher the deck lies where the item governs: no layer
NAMES = {"firring": "firring", "deck": "deck", "tapered": "tapered board", "VCL": "VCL",
         "board": "board", "overlay": "overlay", "sheet": "sheet"}  # fmt: skip
WORDS = {"dpc": "damp course", "air_brick": "air brick", "weep": "weep holes",
         "cavity_tray": "cavity tray", "party_line": "neighbour"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hole:
    """One thickness that can be bought."""

    mm: int = field(metadata={"help": "All boards together, mm."})
    boards: str = field(metadata={"help": "The boards from the deck up, mm."})
    u: str = field(metadata={"help": "Heat lost, W/m²K."})
    warm: bool = field(metadata={"help": "Whether it is as warm as asked."})
    fits: bool = field(metadata={"help": "Whether it stays under everything beside the roof."})
    wet: str = field(metadata={"help": "Winter water: none, dries or stays."})
    spot: float = field(metadata={"help": "Temperature factor of the coldest spot inside."})
    pence: int = field(metadata={"help": "Boards and fixing, pence a square metre."})
    cost: str = field(metadata={"help": "Boards and fixing, £ a square metre."})
    saves: str = field(metadata={"help": "Heat saved against the old roof, kWh a year."})
    carbon: str = field(metadata={"help": "Carbon dioxide saved, kg a year."})
    pays: str = field(metadata={"help": "Years to pay back against the next thinner."})
    weight: str = field(metadata={"help": "kg a square metre more than the old felt."})
    screws: str = field(metadata={"help": "Shortest and longest screw, mm."})
    against: tuple[str, ...] = field(metadata={"help": "What speaks against it."})
    taken: bool = field(metadata={"help": "Whether the clip stands here."})
    changes: tuple[Change, ...] = field(metadata={"help": "Changes to the job that choose it."})


@dataclass(frozen=True, slots=True)
class Course:
    """One layer where something stands beside the roof."""

    name: str = field(metadata={"help": "What it is."})
    mm: float = field(metadata={"help": "How thick."})


@dataclass(frozen=True, slots=True)
class Stand:
    """Something beside the roof that does not move, and the build-up under it."""

    id: str = field(metadata={"help": "Such as height:back-door."})
    name: str = field(metadata={"help": "Its name in words."})
    kind: str = field(metadata={"help": "sill, sash, threshold, dpc and so on."})
    word: str = field(metadata={"help": "Its kind in words."})
    side: str = field(metadata={"help": "The side that it stands on."})
    available: float = field(metadata={"help": "Its height above the deck, mm."})
    required: float = field(metadata={"help": "What must stay between roof and it, mm."})
    margin: float = field(metadata={"help": "What is left, mm."})
    base: float = field(metadata={"help": "How much higher the deck lies there, mm."})
    courses: tuple[Course, ...] = field(metadata={"help": "The layers from the joists up."})
    agreed: bool = field(metadata={"help": "Whether the height was agreed in writing."})


@dataclass(frozen=True, slots=True)
class Stick:
    """The rise stick."""

    holes: tuple[Hole, ...] = field(metadata={"help": "The thinnest first."})
    others: tuple[Hole, ...] = field(metadata={"help": "In the other number of layers."})
    stands: tuple[Stand, ...] = field(metadata={"help": "Beside the roof, the tightest first."})
    taken: int = field(metadata={"help": "The thickness taken, mm."})
    felt: float = field(metadata={"help": "Thickness of the old felt, mm."})
    deck: float = field(metadata={"help": "Thickness of the deck, mm."})
    lifts: bool = field(metadata={"help": "Whether the deck lies on firrings."})
    governs: str = field(metadata={"help": "What governs, in a sentence."})
    why: str = field(metadata={"help": "Why this thickness, in a sentence."})
    asked: str = field(metadata={"help": "What is asked for, and what was before."})
    mould: float = field(metadata={"help": "Factor below which mould begins; 0 if not known."})


def stick(worked: WorkedJob) -> Stick:
    """Gather all that hangs on the thickness of the boards.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    Stick
        The rise stick [-].
    """
    rise, job = worked.rise, worked.case.job
    build = build_up(job.design, worked.case.rates)
    by = "Proposed by the tool" if rise.chosen_by == "proposed" else "Chosen by you"
    target, before = float(rise.target_u), rise.before_u.value
    holes = tuple(_hole(r, r is rise.row, target, build.take(r.boards)) for r in rise.rows)
    others = tuple(_hole(r, False, target, build.take(r.boards)) for r in rise.other_rows)
    return Stick(
        holes=holes,
        others=others,
        stands=tuple(_stand(worked, item) for item in worked.heights.items),
        taken=rise.chosen_mm,
        felt=job.survey.covering.thickness_mm,
        deck=job.survey.deck.thickness_mm,
        lifts=worked.falls.lifts_deck,
        governs=rise.governs[:1].upper() + rise.governs[1:],
        why=rise.why,
        asked=f"{by}: {rise.row.says} mm. {target:.2f} W/m²K is asked for; it was {before:.2f}.",
        mould=_mould(worked, rise),
    )


def _hole(row: RiseRow, taken: bool, target: float, changes: tuple[Change, ...]) -> Hole:
    factor = row.f_rsi if row.edge_factor is None else min(row.f_rsi, row.edge_factor)
    return Hole(
        mm=row.thickness_mm,
        boards=row.says,
        u=near(row.u, target),
        warm=row.passes_u,
        fits=row.fits,
        wet=WET[row.moisture],
        spot=round(factor, 3),
        pence=row.cost_pence_m2,
        cost=pounds(row.cost_pence_m2),
        saves=f"{row.saved_kwh:.0f}",
        carbon=f"{row.saved_co2_kg:.0f}",
        pays="never" if row.payback_years is None else f"{row.payback_years:.0f}",
        weight=f"{round(row.added_kg_m2, 1) + 0.0:+.1f}".replace("-", "−"),
        screws=row.screws,
        against=row.against,
        taken=taken,
        changes=changes,
    )


def _mould(worked: WorkedJob, rise: Rise) -> float:
    """Give the factor that the coldest spot must reach, from the edges as they were worked."""
    cold = [e for e in worked.edges.edges if e.f_rsi < 1]
    if not cold or rise.row.edge_factor is None:
        return 0.0
    worst = min(cold, key=lambda e: e.coldest_c)
    inside = worked.case.job.survey.below.indoor_c
    lost = (inside - worked.edges.least_c) / max(inside - worst.coldest_c, 1e-9)
    return round(1 - lost * (1 - worst.f_rsi), 3)


def _stand(worked: WorkedJob, item: HeightAt) -> Stand:
    base = sum(float(v) for name, _, v in item.build_up.of if name == UPHILL)
    return Stand(
        id=item.id,
        name=item.name.replace("-", " "),
        kind=item.kind,
        word=WORDS.get(item.kind, item.kind),
        side=_side(worked, item),
        available=round(item.available.value, 1),
        required=round(float(item.required), 1),
        margin=round(item.margin.value, 1),
        base=round(base, 1),
        courses=tuple(_courses(worked, item.build_up)),
        agreed=item.agreed,
    )


def _side(worked: WorkedJob, item: HeightAt) -> str:
    """Find the side that something stands on."""
    survey = worked.case.job.survey
    sides = {w.name: w.side for w in survey.windows} | {h.name: h.side for h in survey.heights}
    return sides.get(item.name, "")


def _courses(worked: WorkedJob, stack: Working) -> Iterator[Course]:
    """Give the layers in the order in which they lie: deck on firrings, tapered boards on VCL."""
    laid = [(name, float(v)) for name, _, v in stack.of if name != UPHILL]
    added = sum(thickness for name, thickness in laid if name == "firring")
    rest = [layer for layer in laid if layer[0] != "firring"]
    if worked.falls.lifts_deck:
        yield Course("firring", round(added, 1))
        yield Course("deck", worked.case.job.survey.deck.thickness_mm)
        parts = rest
    else:
        parts = [rest[0], ("tapered", added), *rest[1:]]
    yield from (Course(NAMES[name], round(mm, 2)) for name, mm in parts if mm)
