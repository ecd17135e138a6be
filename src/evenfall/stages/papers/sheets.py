"""The calculation sheets: a page of results and weakest bases, the checks, then every working."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.model.words import pounds
from evenfall.stages.papers.calculations import Book, Head, Room, book
from evenfall.stages.papers.symbols import unit
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.working import BASES, Known, Working, figure

INVENTED = "demo"
WEAK = ("from memory", "planning seed")
"""Bases that are listed one by one for checking, the weaker first."""
MONTHS = ("no water gathers", "water gathers and dries within the year", "water does not dry")
PERCENT = 100
REFS = 3  # places told where a weak number is used
SOURCE_OF = {
    "measured": "measured on the roof",
    "published": "read in the document named",
    "declared": "said by the maker or the firm",
    "published, second-hand": "the document as others quote it",
    "common practice": "what careful roofers do",
    "planning seed": "a starting value of our own",
    "from memory": "not looked up: check before relying on it",
    "demo": "invented for the demonstration",
}


@dataclass(frozen=True, slots=True)
class Result:
    """One line of the summary page."""

    what: str
    value: str
    of: str
    basis: str
    ref: str


@dataclass(frozen=True, slots=True)
class Count:
    """How many numbers stand on one basis."""

    basis: str
    says: str
    number: int


@dataclass(frozen=True, slots=True)
class Weak:
    """All that one document or practice gave and that should be checked before it is relied on."""

    basis: str
    source: str
    says: tuple[tuple[str, str], ...]  # what, value
    ref: str


@dataclass(frozen=True, slots=True)
class Check:
    """One finding with its value and its limit."""

    level: str
    subject: str
    says: str
    value: str
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Sheets:
    """All calculation sheets."""

    head: Head
    results: tuple[Result, ...]
    counts: tuple[Count, ...]
    weak: tuple[Weak, ...]
    checks: tuple[Check, ...]
    rooms: tuple[Room, ...]
    caution: str


def calculations(worked: WorkedRoof) -> Sheets:
    """Gather the calculation sheets of a worked job.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Sheets
        Summary, weakest bases, checks and every working [-].
    """
    meta, walked = worked.meta, book(worked)
    head = Head(
        meta.firm, meta.reference, meta.title, meta.client, meta.address, meta.surveyed_on, meta.on,
        meta.invented,
    )  # fmt: skip
    return Sheets(
        head=head,
        results=tuple(_results(worked, walked)),
        counts=_counts(walked),
        weak=tuple(_weak(walked)),
        checks=tuple(_check(f) for f in worked.findings if f.subject != "price"),
        rooms=walked.rooms,
        caution=(
            "An aid to a competent roofer: no structural design and no approval by building "
            "control. Local rules, the makers' written instructions and licensed people come first."
        ),
    )


def _results(worked: WorkedRoof, walked: Book) -> Iterator[Result]:
    def line(what: str, value: str, of: str, working: Working) -> Result:
        return Result(what, value, of, working.basis, walked.numbers.get(working, ""))

    plan, heat, rise = worked.plan, worked.heat, worked.rise
    yield line("Area of the deck", f"{plan.gross.value:.2f} m²",
               f"corners good to {plan.good_to_mm:.0f} mm", plan.gross)  # fmt: skip
    yield line("Heat let through", f"{_u(heat.u.value, rise.target_u)} W/(m²K)",
               f"asked for {rise.target_u:.2f}, before {rise.before_u.value:.2f}",
               heat.u)  # fmt: skip
    whole, cold = worked.edges.whole, min(worked.edges.edges, key=lambda e: e.coldest_c)
    yield line("Roof with its edges", f"{whole.value:.2f} W/K",
               f"the edges {whole.value - float(whole.of[0][2]):.2f} of it", whole)  # fmt: skip
    yield line("Coldest spot inside", f"{cold.coldest_c:.1f} °C",
               f"at {spoken(cold.id.partition(':')[2])}; mould below "
               f"{worked.edges.least_c:.1f}", cold.psi)  # fmt: skip
    yield line("Surface temperature factor", f"{worked.moisture.f_rsi.value:.3f}",
               f"asked for {worked.moisture.f_rsi_required.value:.3f}",
               worked.moisture.f_rsi)  # fmt: skip
    verdict = MONTHS["abc".index(worked.moisture.verdict)]
    yield line("Water in the build-up", f"{worked.moisture.peak.value:.3f} kg/m²", verdict,
               worked.moisture.peak)  # fmt: skip
    yield line("Rise at the edge", f"{worked.heights.rise_at_edge.value:.0f} mm",
               "above the old covering, at most", worked.heights.rise_at_edge)  # fmt: skip
    for item in worked.heights.items[:1]:
        yield line("Least height left", f"{item.margin.value:.0f} mm",
                   f"at {spoken(item.name)}, {spoken(item.kind)}", item.margin)  # fmt: skip
    worst = min(worked.wind.zones, key=lambda z: z.pressure.value)
    yield line("Wind, worst pull", f"{-worst.pressure.value / 1000:.2f} kN/m²",
               f"zone {worst.zone}", worst.pressure)  # fmt: skip
    yield _attached(worked, walked)
    bent = max(worked.joists.cases, key=lambda c: c.bending.value)
    yield line("Joists, bending", f"{bent.bending.value * PERCENT:.0f} %",
               f"of their strength, {bent.name}", bent.bending)  # fmt: skip
    after = worked.joists.cases[-1]
    yield line("Joists, sag", f"{after.sag.value:.0f} mm",
               f"{after.limit_mm:.0f} allowed", after.sag)  # fmt: skip
    for check in worked.water.checks:
        spare = check.spare_percent
        words = f"{spare:.0f} % to spare" if spare >= 0 else f"too much by {-spare:.0f} %"
        place = spoken(check.id.partition(":")[2]) if "opening" in check.id else check.id
        name = f"Rain to {place.replace(':', ' ')}"
        yield line(name, f"{check.flow.value:.2f} l/s", words, check.flow)
    total = next(w for w in walked.numbers if w.symbol == "total" and w.unit == "pence")
    yield line("Price with VAT", pounds(total.value), "groups of the quotation", total)


def _attached(worked: WorkedRoof, walked: Book) -> Result:
    """Give the interface that has least to spare against the wind."""
    table = worked.fixings.holds
    spare, says, by = min((row[5], row[0], row[1]) for row in table.rows
                          if not isinstance(row[5], str))  # fmt: skip
    return Result(
        "Attachment, least spare",
        f"{spare:.0f} %",
        f"{says}, {by}",
        table.basis,
        walked.numbers[worked.wind.bond],
    )


def _u(value: float, limit: float) -> str:
    """Two decimals, three where two would hide on which side of the limit it lies."""
    near = round(value, 2) == round(float(limit), 2)
    return f"{value:.3f}" if near else f"{value:.2f}"


def _counts(walked: Book) -> tuple[Count, ...]:
    found = Counter(number.basis for _, number, _ in walked.leaves)
    return tuple(Count(b, SOURCE_OF[b], found[b]) for b in BASES if found[b])


def _weak(walked: Book) -> Iterator[Weak]:
    """List each weak number and formula under its source; invented rates are told in one line."""
    for basis in WEAK:
        by: dict[str, dict[str, list[tuple[str, str]]]] = {}
        for symbol, number, ref in walked.leaves:
            if number.basis == basis:
                told = by.setdefault(_source(number), {}).setdefault(_what(symbol, number), [])
                told.append((_value(number), ref))
        for working, ref in walked.formulas:
            if working.own_basis == basis:
                told = by.setdefault(working.source, {}).setdefault(working.title, [])
                told.append(("formula", ref))
        yield from (_one(basis, source, found) for source, found in by.items())
    invented = [number for _, number, _ in walked.leaves if number.basis == INVENTED]
    if invented:
        told_in = ("sizes, coverages, wastes, strengths", f"{len(invented)} numbers")
        yield Weak(INVENTED, "rates marked invented", (told_in,), "")


def _one(basis: str, source: str, found: dict[str, list[tuple[str, str]]]) -> Weak:
    """Tell all of one source in one line; several numbers of one place by their count."""
    says = []
    for what, uses in found.items():
        values = list(dict.fromkeys(v for v, _ in uses))
        says.append((what, values[0] if len(values) == 1 else f"{len(values)} numbers"))
    refs = list(dict.fromkeys(r for uses in found.values() for _, r in uses))
    told = ", ".join(refs[:REFS]) + (", …" if refs[REFS:] else "")
    return Weak(basis, source, tuple(says), told)


def _what(symbol: str, number: Known) -> str:
    return number.where if number.source != "job" else f"{symbol}: {number.where}"


def _source(number: Known) -> str:
    return number.source if number.source != "job" else "the rates or the job"


def _value(number: Known) -> str:
    return f"{figure(number.value)} {unit(number.unit)}".strip()


def _check(finding: Finding) -> Check:
    value = "" if finding.value is None else figure(float(finding.value))
    limit = "" if finding.limit is None else f" against {figure(float(finding.limit))}"
    told = f"{value}{limit} {unit(finding.unit)}".strip() if value else ""
    subject = spoken(finding.subject.replace(":", " "))
    return Check(finding.level, subject, finding.says, told, finding.source, finding.basis)
