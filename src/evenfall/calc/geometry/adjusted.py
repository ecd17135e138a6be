"""What goes into the plan of a roof and what comes out: readings, corners, checks, the plan."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from evenfall.calc.geometry.polygon import Polygon
from evenfall.calc.geometry.reading_slips import Slip
from evenfall.standards.survey_practice import TAPE_SIGMA

HALF_TURN_DEG = 180  # an axis looks the same from both its ends


@dataclass(frozen=True, slots=True)
class Tape:
    """One reading of the distance between two points, in m, with its standard error in m."""

    name: str
    a: str
    b: str
    length: float
    sigma: float = TAPE_SIGMA


@dataclass(frozen=True, slots=True)
class Offset:
    """A point by the string line from a to b: along it, then square to it, to the left positive.

    In m, each with its standard error in m; the point need not lie between the ends.
    """

    name: str
    point: str
    a: str
    b: str
    along: float
    left: float
    sigma_along: float
    sigma_left: float


@dataclass(frozen=True, slots=True)
class Station:
    """A point that is known: its place in m."""

    name: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Corner:
    """An adjusted corner in m, its standard errors in m and their covariance in m²."""

    name: str
    x: float
    y: float
    sigma_x: float
    sigma_y: float
    covariance: float

    @property
    def sigma(self) -> float:
        """Standard error in the worst direction: half the long axis of the error ellipse, in m."""
        return self.ellipse[0]

    @property
    def ellipse(self) -> tuple[float, float, float]:
        """The standard ellipse: its long and short half axis in m, and its turn in degrees.

        The turn is that of the long axis from x towards y, from 0 up to 180.
        """
        mean = (self.sigma_x**2 + self.sigma_y**2) / 2
        half = (self.sigma_x**2 - self.sigma_y**2) / 2
        out = math.hypot(half, self.covariance)
        turn = math.degrees(math.atan2(self.covariance, half)) / 2
        return (math.sqrt(mean + out), math.sqrt(max(mean - out, 0.0)), turn % HALF_TURN_DEG)


@dataclass(frozen=True, slots=True)
class TapeCheck:
    """What the other tapes say of one.

    ``residual`` is adjusted minus observed in m; ``redundancy`` from 0 (nobody checks it) to 1;
    ``w`` the standardised residual; ``error`` how much too long in m it reads if it alone is
    wrong; ``least_seen`` the smallest blunder in m that would show. The last two are None for an
    unchecked tape. ``twin`` is a reading whose residual goes with this one's so closely that a
    blunder of one cannot be told from one of the other.
    """

    tape: Tape
    residual: float
    redundancy: float
    w: float
    error: float | None
    least_seen: float | None
    twin: str | None = None

    @property
    def adjusted(self) -> float:
        """The adjusted length in m."""
        return float(self.tape.length) + self.residual


@dataclass(frozen=True, slots=True)
class NextTape:
    """The distance to tape next.

    ``again`` says that it was taped before; ``chance`` is that of telling then which tape is
    wrong (0 where no tape is suspected).
    """

    between: tuple[str, str]
    again: bool = False
    chance: float = 0.0


@dataclass(frozen=True, slots=True)
class Adjusted:
    """A plan with its quality.

    ``t`` is tested against ``limit`` (None with dof 0: nothing is checked). ``detected`` says that
    some tape is wrong, ``suspects`` which it may be, ``located`` that it is the one; ``several``
    that no single wrong tape explains it. ``left_out`` is the one located: the plan is made without
    it; ``slip`` is what it may have been meant to be. ``ambiguous`` names the corners that could as
    well be folded to the other side; ``further`` is the distance that would help most (None if
    nothing would), worked out when it is asked for. ``sigma_mm`` is the standard error of the
    worst corner: what the plan is good to; ``sigma_area`` that of its area in m².
    """

    corners: tuple[Corner, ...]
    points: tuple[Corner, ...]  # those that are no corners
    tapes: tuple[TapeCheck, ...]
    offsets: tuple[TapeCheck, ...]  # two readings each: along its line, and square to it
    t: float
    dof: int
    limit: float | None
    sigma_mm: float
    sigma_area: float
    detected: bool
    suspects: tuple[str, ...]
    located: bool
    several: bool
    ambiguous: tuple[str, ...]
    advise: Callable[[], NextTape | None] = field(repr=False, compare=False)
    left_out: str | None = None
    slip: Slip | None = None

    @property
    def further(self) -> NextTape | None:
        """The tape that would help most."""
        return self.advise()

    @property
    def next_tape(self) -> tuple[str, str] | None:
        """Both ends of that tape."""
        found = self.further
        return found.between if found else None

    @property
    def readings(self) -> tuple[TapeCheck, ...]:
        """Tapes and offsets."""
        return (*self.tapes, *self.offsets)

    @property
    def polygon(self) -> Polygon:
        """Corners in order as (x, y) in m."""
        return tuple((c.x, c.y) for c in self.corners)

    @property
    def s0(self) -> float:
        """Standard error of unit weight: 1 if the tapes are as good as they were said to be."""
        return math.sqrt(self.t / self.dof) if self.dof else 0.0
