"""The log of the roof: entries that are never changed; a correction is a new entry.

Two logs are merged as sets, by ``id``: in any order, twice or days later gives the same. What the
entries mean (what passed, what is missing) is worked out in `evenfall.stages.record`.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, StringConstraints, TypeAdapter

from evenfall.model.kinds import Metres, Name, Record, TaskName, Words

MOST_ENTRIES = 20_000
"""Entries of one job; a roof of a month has some hundreds."""
LARGEST_ENTRY = 64_000
"""Bytes of one entry, as JSON."""


def _real(text: str) -> str:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text}: no calendar or clock has that moment") from None
    return text


_HEX = r"^[0-9a-f]{32}$"
Mark = Annotated[str, StringConstraints(pattern=_HEX)]
"""Thirty-two random hexadecimal figures: the id of an entry or of a telephone."""
PhotoMark = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
"""SHA-256 of a photo's bytes."""
_DAY_TIME = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(:[0-9]{2}(\.[0-9]{1,6})?)?"
Moment = Annotated[
    str, StringConstraints(pattern=_DAY_TIME + r"(Z|[+-][0-9]{2}:[0-9]{2})$"), AfterValidator(_real)
]
"""A moment with its zone, kept as it was written: ``2026-11-25T16:30:00Z``."""
Taken = Annotated[
    str,
    StringConstraints(pattern=_DAY_TIME + r"(Z|[+-][0-9]{2}:[0-9]{2})?$"),
    AfterValidator(_real),
]
"""A moment as a camera writes it, which knows no zone."""
Person = Annotated[str, StringConstraints(min_length=1, max_length=80)]
Label = Annotated[str, StringConstraints(min_length=1, max_length=80)]
OnPlan = Annotated[float, Field(ge=-100, le=200)]
Measure = Annotated[float, Field(ge=-100_000, le=100_000)]
Thousandth = Annotated[int, Field(ge=0, le=1000)]
Spot = tuple[Thousandth, Thousandth]
"""A place on a picture or a signature: thousandths of its width and its height."""
HoldNumber = Annotated[int, Field(ge=0, le=9)]
Bay = Annotated[int, Field(ge=1, le=200)]
Outcome = Literal["passed", "stopped", "put_right", "agreed"]
Read = Literal["moisture", "level", "pull_out", "gap", "dew_margin", "step", "seam", "run_off"]
About = Literal["weather", "visitor", "delivery", "damage", "agreed", "other"]
Danger = Literal["asbestos", "cable", "gas", "structure", "other"]

UNIT_OF: dict[str, str] = {
    "moisture": "%", "level": "mm", "pull_out": "N", "gap": "mm", "dew_margin": "K", "step": "mm",
    "seam": "places", "run_off": "mm",
}  # fmt: skip
"""The unit of each kind of reading: ``seam`` counts places where the probe went in, ``run_off`` is
the deepest water left standing, ``level`` the staff below the survey's line."""


class PlanPlace(Record):
    """A place on the plan, in its coordinates."""

    x_m: OnPlan
    y_m: OnPlan


class _Entry(Record):
    """What every entry says: which it is, of which telephone, when by its clock, by whom."""

    id: Mark
    device: Mark
    n: Annotated[int, Field(ge=1, le=10_000_000)]  # counted by that telephone
    at: Moment
    who: Person
    replaces: Mark | None = None  # the entry that this one puts right
    bay: Bay | None = None
    place: PlanPlace | None = None
    photos: Annotated[tuple[PhotoMark, ...], Field(max_length=40)] = ()
    note: Words | None = None

    @property
    def moment(self) -> datetime:
        """When it was written, by the clock of the telephone."""
        return datetime.fromisoformat(self.at)


class HoldValue(Record):
    """A value read at a hold point, in the unit that is asked there."""

    what: Name
    value: Measure


class BatchOf(Record):
    """What a pack was, and the number printed on it."""

    product: Label
    batch: Label


class HoldEntry(_Entry):
    """A hold point looked at; ``by`` agreed in writing to what does not hold."""

    kind: Literal["hold"]
    hold: HoldNumber
    outcome: Outcome
    by: Person | None = None
    values: Annotated[tuple[HoldValue, ...], Field(max_length=40)] = ()
    batches: Annotated[tuple[BatchOf, ...], Field(max_length=40)] = ()


class ReadingEntry(_Entry):
    """A reading; ``name`` is the joist, the level point, the screw or the place."""

    kind: Literal["reading"]
    what: Read
    value: Measure
    unit: Label
    name: Name | None = None


class WeatherEntry(_Entry):
    """The weather seen."""

    kind: Literal["weather"]
    when: Literal["morning", "noon", "evening"]
    sky: Literal["dry", "showers", "rain", "fog", "frost", "snow"]
    air_c: Annotated[float, Field(ge=-40, le=60)]
    wind: Literal["calm", "breeze", "strong", "gale"]


class CoverEntry(_Entry):
    """A cover of the night: ready on the roof, on, or gone from it."""

    kind: Literal["cover"]
    length_m: Metres
    width_m: Metres
    lies: Literal["ready", "on", "gone"]


class DoneEntry(_Entry):
    """Work that is done: a task, or without one the whole ``bay`` up to its VCL."""

    kind: Literal["done"]
    task: TaskName | None = None


class HoursEntry(_Entry):
    """Hours really used."""

    kind: Literal["hours"]
    task: TaskName
    people: Annotated[int, Field(ge=1, le=20)]
    hours: Annotated[float, Field(gt=0, le=16)]


class BatchEntry(_Entry):
    """A pack that was opened."""

    kind: Literal["batch"]
    product: Label
    batch: Label


class FoundEntry(_Entry):
    """Work found, at a rate agreed beforehand; ``photos`` were taken before anything is mended."""

    kind: Literal["found"]
    what: Literal["rot", "second_felt", "wet_quilt", "cable", "other"]
    rate: Name
    quantity: Annotated[float, Field(gt=0, le=100_000)]
    where: Words


class StopEntry(_Entry):
    """Work stops for a danger."""

    kind: Literal["stop"]
    danger: Danger


class ClearEntry(_Entry):
    """A stop is lifted, by whoever may."""

    kind: Literal["clear"]
    of: Mark
    by: Person


class SignedEntry(_Entry):
    """Somebody signed an entry with a finger."""

    kind: Literal["signed"]
    of: Mark
    by: Person
    strokes: Annotated[
        tuple[Annotated[tuple[Spot, ...], Field(min_length=1, max_length=400)], ...],
        Field(min_length=1, max_length=60),
    ]


class Exif(Record):
    """When and where a photo was taken, by its camera; kept for the firm alone."""

    at: Taken | None = None
    lat: Annotated[float, Field(ge=-90, le=90)] | None = None
    lon: Annotated[float, Field(ge=-180, le=180)] | None = None


class PhotoMarking(Record):
    """Something drawn on a photo."""

    kind: Literal["arrow", "ring", "note"]
    points: Annotated[tuple[Spot, ...], Field(min_length=1, max_length=40)]
    text: Annotated[str, Field(max_length=200)] = ""


class PhotoEntry(_Entry):
    """A photo, what it shows and what is drawn on it."""

    kind: Literal["photo"]
    sha256: PhotoMark
    hold: HoldNumber | None = None
    about: Words
    taken: Exif | None = None
    marks: Annotated[tuple[PhotoMarking, ...], Field(max_length=40)] = ()


class NoteEntry(_Entry):
    """Something worth a line; what was agreed with the client names ``by`` whom."""

    kind: Literal["note"]
    about: About
    by: Person | None = None


class ClockEntry(_Entry):
    """How far the clock of a telephone is ahead, as the desk saw it."""

    kind: Literal["clock"]
    of: Mark
    ahead_s: Annotated[float, Field(ge=-1e9, le=1e9)]


Entry = Annotated[
    HoldEntry | ReadingEntry | WeatherEntry | CoverEntry | DoneEntry | HoursEntry | BatchEntry
    | FoundEntry | StopEntry | ClearEntry | SignedEntry | PhotoEntry | NoteEntry
    | ClockEntry,
    Field(discriminator="kind"),
]  # fmt: skip
"""Any entry, told apart by its ``kind``."""
ENTRY: TypeAdapter[Entry] = TypeAdapter(Entry)
"""Reads one entry: ``ENTRY.validate_json(text, strict=True)``."""
Log = Annotated[tuple[Entry, ...], Field(max_length=MOST_ENTRIES)]


def in_order(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Sort entries as a job keeps them, so that equal logs are equal bytes.

    Parameters
    ----------
    entries : iterable of Entry
        Entries, in any order [-].

    Returns
    -------
    tuple of Entry
        By their ids [-].
    """
    return tuple(sorted(entries, key=lambda e: e.id))
