"""First call: what to ask before driving, and what follows from the answers.

The questions are those of a careful roofer on the telephone. From the answers come the verdict
(visit, refer, decline) with its reasons, what to bring and whom to ask, and the job document with
everything in it that was said; a rough price is worked in `rough`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field

from evenfall.model.kinds import Record

Verdict = Literal["visit", "refer", "decline"]
PRACTICE = "triage of a careful roofer"
ASBESTOS_UNTIL = 2000
"""Felt laid before may hold asbestos; a sample is planned then."""
SOONEST_DAYS = 14
"""Scaffold, skip and boards are not there sooner; a temporary cover may be."""
LARGEST_M2 = 150.0
"""A gang of two or three does not strip and close more in dry spells as they come."""
TALLEST = 3
"""Storeys that a scaffold of a small firm reaches."""
STOREY_M = 2.8
"""From floor to floor, for the height of the roof."""
PHOTOS = (
    "the whole roof from above or from a window", "each edge", "each joint with a wall",
    "the lowest window or door beside it, with a tape in the picture", "the gutter and its pipe",
    "the ceiling below",
)  # fmt: skip
"""Six pictures to ask for."""
_YES = ((True, "yes"), (False, "no"))


@dataclass(frozen=True, slots=True)
class Question:
    """One question of the card: a kind of entry, or answers to pick from, one or several."""

    key: str
    ask: str
    entry: Literal["", "text", "tel", "number", "date"] = ""
    pick: tuple[tuple[str | int | bool, str], ...] = ()
    several: bool = False
    why: str = ""


QUESTIONS = (
    Question("name", "Whose roof is it?", "text"),
    Question("telephone", "Telephone", "tel"),
    Question("address", "Postcode, and the house", "text"),
    Question("building", "House or flat?", pick=(
        ("house", "house"), ("flat", "flat"), ("garage", "garage"))),
    Question("caller", "Who is calling?", pick=(
        ("owner", "the owner"), ("tenant", "a tenant"), ("agent", "an agent"))),
    Question("listed", "Listed, or in a conservation area?", pick=_YES),
    Question("under", "What is under the roof?", pick=(
        ("living", "living room"), ("kitchen", "kitchen"), ("bathroom", "bathroom"),
        ("garage", "garage"), ("shop", "shop, office"), ("pool", "pool, laundry"))),
    Question("laid_year", "Laid in about which year?", "number",
             why=f"Felt from before {ASBESTOS_UNTIL} is sampled for asbestos."),
    Question("covered_over", "Covered over before?", pick=_YES),
    Question("leaks", "Where does it leak, and when?", "text"),
    Question("area_m2", "About how large, in m²?", "number",
             why="Length times width in metres; paces will do."),
    Question("storeys", "How many storeys up?", pick=((1, "1"), (2, "2"), (3, "3"), (4, "more"))),
    Question("scaffold", "Can a scaffold and a skip stand there?", pick=_YES),
    Question("glass_below", "A conservatory or other glass below?", pick=_YES),
    Question("rooflights", "Rooflights in it?", pick=(
        (0, "none"), (1, "1"), (2, "2"), (3, "3"), (4, "4"))),
    Question("on_it", "What else is on it?", several=True, pick=(
        ("door", "a door onto it"), ("solar", "solar panels"), ("flue", "a boiler flue"),
        ("aerial", "aerials"))),
    Question("ceiling", "The ceiling below?", several=True, pick=(
        ("stains", "stains"), ("mould", "mould"), ("downlights", "downlights"))),
    Question("neighbour", "Is a neighbour attached?", pick=_YES),
    Question("wanted_on", "Wanted when?", "date"),
    Question("occupied", "At home meanwhile? Pets, children, alarm?", "text"),
    Question("photos", "Six photos to ask for; tick those that came", several=True,
             pick=tuple(enumerate(PHOTOS))),
)  # fmt: skip
"""What to ask, in the order of the call."""
ROOMS: dict[str, tuple[str, int, float]] = {
    "living": ("living room", 3, 20.0), "kitchen": ("kitchen", 3, 20.0),
    "bathroom": ("bathroom", 4, 22.0), "garage": ("garage", 1, 12.0),
    "shop": ("shop or office", 2, 19.0), "pool": ("pool or laundry", 5, 24.0),
}  # fmt: skip
"""Room under the roof: its name in the job, its humidity class, how warm it is kept."""


class Answers(Record):
    """What the caller said; what was not asked is left out."""

    name: Annotated[str, Field(max_length=120)] | None = None
    telephone: Annotated[str, Field(max_length=40)] | None = None
    address: Annotated[str, Field(max_length=200)] | None = None
    building: Literal["house", "flat", "garage"] | None = None
    caller: Literal["owner", "tenant", "agent"] | None = None
    listed: bool | None = None
    under: Literal["living", "kitchen", "bathroom", "garage", "shop", "pool"] | None = None
    laid_year: Annotated[int, Field(ge=1900, le=2100)] | None = None
    covered_over: bool | None = None
    leaks: Annotated[str, Field(max_length=300)] | None = None
    area_m2: Annotated[float, Field(gt=0, le=2000)] | None = None
    storeys: Annotated[int, Field(ge=1, le=30)] | None = None
    scaffold: bool | None = None
    glass_below: bool | None = None
    rooflights: Annotated[int, Field(ge=0, le=20)] | None = None
    on_it: tuple[Literal["door", "solar", "flue", "aerial"], ...] = ()
    ceiling: tuple[Literal["stains", "mould", "downlights"], ...] = ()
    neighbour: bool | None = None
    wanted_on: date | None = None
    occupied: Annotated[str, Field(max_length=200)] | None = None
    photos: tuple[Annotated[int, Field(ge=0, le=5)], ...] = ()


@dataclass(frozen=True, slots=True)
class Reason:
    """Why: one plain sentence, and what it leads to."""

    verdict: Verdict
    says: str


@dataclass(frozen=True, slots=True)
class Card:
    """What follows from a first call."""

    verdict: Verdict
    reasons: tuple[Reason, ...]
    bring: tuple[str, ...]  # what to plan and whom to ask before or at the visit
    ask: tuple[str, ...]  # what was not asked yet
    photos: tuple[str, ...]  # what is still to be sent
    document: dict[str, Any]


def card(answers: Answers, on: date) -> Card:
    """Say what follows from a first call.

    Parameters
    ----------
    answers : Answers
        What the caller said [-].
    on : date
        The day of the call [-].

    Returns
    -------
    Card
        Verdict, reasons, what to bring, what is still to ask, the job so far [-].

    Examples
    --------
    >>> card(Answers(area_m2=24, caller="tenant"), date(2026, 11, 25)).verdict
    'refer'
    """
    reasons = tuple(_reasons(answers, on))
    order: tuple[Verdict, ...] = ("visit", "refer", "decline")
    worst = max((r.verdict for r in reasons), key=order.index)
    sent = set(answers.photos)
    return Card(
        worst, reasons, tuple(_bring(answers)), tuple(_missing(answers)),
        tuple(p for i, p in enumerate(PHOTOS) if i not in sent), document(answers),
    )  # fmt: skip


def _reasons(a: Answers, on: date) -> list[Reason]:
    found = []
    if a.area_m2 is not None and a.area_m2 > LARGEST_M2:
        found.append(
            Reason(
                "decline",
                f"{a.area_m2:g} m² is more than a small gang can keep "
                f"watertight every evening; beyond {LARGEST_M2:g} m² a larger firm.",
            )
        )
    if a.storeys is not None and a.storeys > TALLEST:
        found.append(Reason("decline", f"{a.storeys} storeys: our scaffold does not reach."))
    if a.scaffold is False:
        found.append(
            Reason(
                "decline",
                "No place for a scaffold: nobody works at an open "
                "edge without. Ask whether a neighbour's ground can be used.",
            )
        )
    if a.wanted_on is not None and (a.wanted_on - on).days < SOONEST_DAYS:
        found.append(
            Reason(
                "refer",
                f"Wanted within {SOONEST_DAYS} days: boards and scaffold are not "
                "there by then. Offer a temporary cover, or another firm.",
            )
        )
    if a.caller == "tenant":
        found.append(Reason("refer", "The owner decides: ask for his word in writing first."))
    if a.building == "flat":
        found.append(
            Reason(
                "refer",
                "A flat: the freeholder decides, and the roof may not rise "
                "without planning permission. Ask for both first.",
            )
        )
    if a.listed:
        found.append(
            Reason(
                "refer",
                "Listed, or in a conservation area: the conservation "
                "officer of the council comes first.",
            )
        )
    if a.under == "pool":
        found.append(
            Reason(
                "refer",
                "A pool or laundry below: vapour is driven so hard that a "
                "moisture specialist designs the roof.",
            )
        )
    return found or [Reason("visit", "Nothing said on the telephone speaks against a visit.")]


def _bring(a: Answers) -> list[str]:
    old = a.laid_year is not None and a.laid_year < ASBESTOS_UNTIL
    told = [
        (old, f"Felt from before {ASBESTOS_UNTIL}: sample it for asbestos before cutting."),
        ("flue" in a.on_it, "A flue: a registered gas engineer says how high it must stand over "
         "the new roof, before the price."),
        ("solar" in a.on_it, "Solar panels: an electrician takes them off and puts them back; ask "
         "who guarantees them."),
        ("door" in a.on_it, "A door onto the roof: tape its threshold first."),
        ("downlights" in a.ceiling, "Downlights: bring a light and a mirror; they are warm holes "
         "in the ceiling."),
        ("mould" in a.ceiling, "Mould: bring a hygrometer, and look whether it is the roof or the "
         "airing."),
        ("stains" in a.ceiling, "Stains: take photos of the ceiling before any work."),
        (bool(a.glass_below), "Glass below: price its protection."),
        (bool(a.neighbour), "A neighbour attached: look where the roof ends, and whether the void "
         "is shared."),
        (bool(a.covered_over), "Covered over before: two systems to strip, weigh a sample."),
    ]  # fmt: skip
    return [says for so, says in told if so]


_ASKED = (
    ("name", "whose roof it is"), ("address", "the postcode"), ("building", "house or flat"),
    ("caller", "owner or tenant"), ("listed", "listed or in a conservation area"),
    ("under", "what is under the roof"), ("laid_year", "how old the roof is"),
    ("leaks", "where it leaks, and when"), ("area_m2", "how large it is, roughly"),
    ("storeys", "how many storeys"), ("scaffold", "whether a scaffold can stand"),
    ("neighbour", "whether a neighbour is attached"), ("wanted_on", "when it is wanted"),
)  # fmt: skip


def _missing(a: Answers) -> list[str]:
    return [says for key, says in _ASKED if getattr(a, key) is None]


def document(a: Answers) -> dict[str, Any]:
    """Put what the caller said where the job keeps it; what has no place stands in its note.

    Parameters
    ----------
    a : Answers
        What the caller said [-].

    Returns
    -------
    dict
        A job document, as far as it is known [-].

    Examples
    --------
    >>> document(Answers(name="Mrs Hale", laid_year=1994))["survey"]
    {'covering': {'laid_year': 1994}}
    """
    job: dict[str, Any] = {"client": a.name, "address": a.address, "building": a.building}
    if a.name or a.address:
        job["title"] = f"Flat roof, {a.address or a.name}"
    job |= {"listed_or_conservation": a.listed, "note": _note(a) or None}
    survey: dict[str, Any] = {
        "covering": _some({"laid_year": a.laid_year, "layers": 6 if a.covered_over else None})
    }
    if a.under:
        room, damp, warm = ROOMS[a.under]
        survey["below"] = {"room": room, "humidity_class": damp, "indoor_c": warm}
    survey["openings"] = [
        {"name": f"rooflight-{n + 1}", "kind": "rooflight"} for n in range(a.rooflights or 0)
    ] + ([{"name": "flue-1", "kind": "flue"}] if "flue" in a.on_it else [])
    if "door" in a.on_it:
        survey["heights"] = [{"name": "door-1", "kind": "threshold"}]
    site = {"roof_height_m": round(a.storeys * STOREY_M, 1)} if a.storeys else {}
    return _some({"job": _some(job), "site": site, "survey": _some(survey)})


def _some(table: dict[str, Any]) -> dict[str, Any]:
    return {k: v for k, v in table.items() if v not in (None, {}, [], "")}


def _note(a: Answers) -> str:
    told = (
        (a.telephone, f"Telephone {a.telephone}."), (a.caller, f"Called by the {a.caller}."),
        (a.area_m2, f"About {a.area_m2 or 0:g} m², as told by telephone."),
        (a.leaks, f"Leaks: {a.leaks}."), (a.ceiling, f"Ceiling: {', '.join(a.ceiling)}."),
        ("solar" in a.on_it, "Solar panels."), ("aerial" in a.on_it, "Aerials."),
        (a.glass_below, "Glass below."), (a.neighbour, "A neighbour is attached."),
        (a.wanted_on, f"Wanted {a.wanted_on:%d %b %Y}." if a.wanted_on else ""),
        (a.occupied, f"While we work: {a.occupied}."),
    )  # fmt: skip
    return " ".join(says for so, says in told if so)
