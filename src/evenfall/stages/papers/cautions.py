"""Cautions for the crew: only what this job triggers, on the days of the work that triggers it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.stages.papers.words import sentence, spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards import site_duties as duties
from evenfall.working import Basis, weakest

OPENING = ("strip-", "lift-deck", "inspect-deck")
SAWING = ("inspect-deck", "lift-deck", "firrings", "patch-deck", "new-deck", "boards-screw",
          "screw")  # fmt: skip
GLUING = ("vcl-", "sheet-field", "upstand", "corner", "seam", "kerb-dress", "pipe-boot", "outlet",
          "boards-glue")  # fmt: skip
EVERY_DAY = ("",)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution, and the work on whose days it is printed."""

    risk: str
    says: str
    source: str
    basis: Basis
    work: tuple[str, ...]  # beginnings of task names; an empty one is every day
    stops: bool = False  # it stands at the head of the first day already

    def of(self, tasks: tuple[str, ...]) -> bool:
        """Whether one of a day's tasks triggers it."""
        return any(task.startswith(self.work) for task in tasks)


BY_FINDING: dict[str, tuple[str, tuple[str, ...]]] = {
    "edge-protection": ("falls from the edge", EVERY_DAY),
    "deck-fragile": ("falls through the deck", (*OPENING, "vcl-", "patch-deck", "new-deck")),
    "asbestos-found": ("asbestos in the felt", ("set-up", "strip-")),
    "asbestos-untested": ("asbestos in the felt", ("set-up", "strip-")),
    "cables-in-void": ("cables", SAWING),
    "screw-near-cables": ("cables", ("boards-screw", "screw")),
    "wildlife": ("bats and birds", ("strip-", "close-vents")),
    "joist-soft": ("rot", OPENING),
    "joist-rotten": ("rot", OPENING),
    "joist-sag": ("weak joists", OPENING),
    "joists-deck-off": ("weak joists", OPENING),
    "boards-down": ("putting boards down", ("boards-", "overlay")),
    "timber-wet": ("wet timber", ("inspect-deck", "vcl-")),
    "sheet-heavy": ("lifting", ("sheet-field",)),
    "party-wall": ("the neighbour's wall", ("strip-edges", "flashing", "upstand")),
    "boundary-crossed": ("the neighbour's ground", ("gutter", "trim", "fascia")),
    "blocked-depth": ("water at night", ("strip-", "vcl-", "outlet")),
    "outlet-alone": ("water at night", ("strip-", "vcl-", "outlet")),
    "second-system": ("a second roof below", ("strip-",)),
    "waste-note": ("waste", ("strip-",)),
}
"""What a finding means to the crew, and on the days of which work it is told."""


def cautions(worked: WorkedRoof) -> tuple[Caution, ...]:
    """Gather the cautions of a job.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Caution
        Falls first, each told once [-].
    """
    return tuple(dict.fromkeys((*_found(worked), *_always(worked))))


def _found(worked: WorkedRoof) -> Iterator[Caution]:
    told = {code: [f for f in worked.findings if f.code == code and f.level != "fine"]
            for code in BY_FINDING}  # fmt: skip
    for code, (risk, work) in BY_FINDING.items():
        found = told[code]
        if found:
            says = " ".join(dict.fromkeys(_words(f) for f in found))
            stops = all(f.level == "stop" for f in found)
            basis = weakest([f.basis for f in found])
            yield Caution(risk, says, found[0].source, basis, work, stops)


def _words(finding: Finding) -> str:
    said = sentence(finding.says)
    cure = finding.remedy.says if finding.remedy and finding.level == "stop" else ""
    return said if cure.rstrip(".").lower() in said.lower() else f"{said} {cure}"


def _always(worked: WorkedRoof) -> Iterator[Caution]:
    """Tell what hangs on the work itself and on what stands in the roof."""
    lights = [spoken(o.name) for o in worked.plan.openings if o.kind == "rooflight"]
    flues = [spoken(o.name) for o in worked.plan.openings if o.kind == "flue"]
    flues += [spoken(h.name) for h in worked.heights.items if h.kind == "flue"]
    if lights:
        says = f"No rooflight bears a person: {', '.join(lights)} covered, marked and fenced off."
        yield _caution("falls through glass", says, duties.FRAGILE, EVERY_DAY)
    if flues:
        says = (
            f"{', '.join(flues)}: never covered, nor the air vents of gas appliances, by day or "
            "night. A registered engineer looks before the heating is used again."
        )
        yield _caution("fumes", sentence(says), duties.GAS_VENTS, EVERY_DAY)
    yield _caution(
        "what may lie below",
        "Stop and ring for rot, sag, a cable, a gas pipe, suspected asbestos or a live nest.",
        duties.ROT, OPENING,
    )  # fmt: skip
    yield _caution(
        "fire and fumes",
        "Primer and adhesive burn, and their vapour is heavy: no flame, no spark, no smoking; "
        "windows beside the roof shut, the house told. No flame on this roof at all.",
        duties.SOLVENT, GLUING,
    )  # fmt: skip


def _caution(risk: str, says: str, duty: duties.Duty, work: tuple[str, ...]) -> Caution:
    return Caution(risk, says, duty.source, duty.basis, work)
