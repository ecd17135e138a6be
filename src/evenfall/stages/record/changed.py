"""What readings on the roof changed, in plain words."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.finding import Finding
from evenfall.model.words import day
from evenfall.stages.papers.worked import WorkedRoof

U_STEP = 0.005  # W/(m2 K): below it the printed figure stays
MM_STEP = 0.5  # mm: below it the printed figure stays
MOST_FINDINGS = 6  # findings told of each kind; the rest are counted
ZONE = {"F": "corner zone", "G": "edge zone", "H": "inner zone", "I": "middle zone"}


def changed(before: WorkedRoof, after: WorkedRoof, *, prices: bool = True) -> tuple[str, ...]:
    """Tell what is otherwise in a job that was worked again.

    Parameters
    ----------
    before, after : WorkedRoof
        The job as it was and as it is [-].
    prices : bool
        Whether the sum of the work is told; extra work at agreed rates is told in any case [-].

    Returns
    -------
    tuple of str
        Lines, the ones that stop work first; none where nothing is told otherwise [-].
    """
    return (
        *_findings(before, after, prices), *_screws(before, after),
        *_figures(before, after, prices), *_order(before, after),
    )  # fmt: skip


def _screws(before: WorkedRoof, after: WorkedRoof) -> Iterator[str]:
    was, now = _by_zone(before), _by_zone(after)
    for letter in sorted(was.keys() & now.keys()):
        name = ZONE.get(letter, f"zone {letter}")
        (screws, beads), (more, closer) = was[letter], now[letter]
        if after.fixings.pieces and more != screws:
            yield f"{name}: {_more(more - screws, 'screw')} a board"
        elif not after.fixings.pieces and closer != beads:
            yield f"{name}: beads {beads} mm apart, now {closer}"


def _by_zone(worked: WorkedRoof) -> dict[str, tuple[int, int]]:
    """Most screws a board, and closest beads, of each zone."""
    found: dict[str, tuple[int, int]] = {}
    for z in worked.wind.zones:
        screws, beads = found.get(z.zone, (z.per_board, z.bead_mm))
        found[z.zone] = (max(screws, z.per_board), min(beads, z.bead_mm))
    return found


def _more(by: float, what: str) -> str:
    number = abs(by)
    return f"{number:g} {'more' if by > 0 else 'fewer'} {what}{'s' * (number != 1)}"


def _figures(before: WorkedRoof, after: WorkedRoof, prices: bool) -> Iterator[str]:
    old, new = before.heat.u.value, after.heat.u.value
    if abs(new - old) >= U_STEP:
        yield f"heat let through: {old:.3f}, now {new:.3f} W/(m²K)"
    old, new = before.heights.rise_at_edge.value, after.heights.rise_at_edge.value
    if abs(new - old) >= MM_STEP:
        yield f"rise at the edge: {old:.0f} mm, now {new:.0f}"
    days = len(after.programme.days) - len(before.programme.days)
    if days:
        yield f"{_more(days, 'day')} of work"
    done = after.case.job.record.finished_on
    if done is None and after.extras.finish_on != before.extras.finish_on:
        yield f"finish: {day(before.extras.finish_on)}, now {day(after.extras.finish_on)}"
    if prices:
        yield from _sum(before, after)
    yield from _extras(before, after)


def _sum(before: WorkedRoof, after: WorkedRoof) -> Iterator[str]:
    pence = round(after.price.net.value) - round(before.price.net.value)
    if pence:
        way = "more" if pence > 0 else "less"
        yield f"the work as it stands: £{abs(pence) / 100:,.0f} {way} without VAT"


def _extras(before: WorkedRoof, after: WorkedRoof) -> Iterator[str]:
    known = {s.name: s for s in before.extras.slips}
    for slip in after.extras.slips:
        old = known.get(slip.name)
        total = f"£{slip.total.value / 100:,.2f} with VAT"
        if old is None and not slip.signed_on:
            yield f"extra work found: {slip.where}, {total}; in the price once it is signed"
        elif slip.signed_on and (old is None or not old.signed_on):
            new = after.extras.total.value / 100
            yield f"extra work signed: {slip.where}, {total}; new total £{new:,.2f}"


def _findings(before: WorkedRoof, after: WorkedRoof, prices: bool) -> Iterator[str]:
    was, now = ({(f.code, f.subject): f for f in w.findings
                 if f.level != "fine" and (prices or f.subject != "price")}
                for w in (before, after))  # fmt: skip
    come = [f for key, f in now.items() if key not in was or was[key].level != f.level]
    gone = [f for key, f in was.items() if key not in now]
    yield from _told("new", come)
    yield from _told("gone", gone)


def _told(word: str, findings: list[Finding]) -> Iterator[str]:
    for finding in findings[:MOST_FINDINGS]:
        stop = "stop, " if finding.level == "stop" else ""
        yield f"{stop}{word}: {finding.says}"
    more = len(findings) - MOST_FINDINGS
    if more > 0:
        yield f"{word}: {more} more findings"


def _order(before: WorkedRoof, after: WorkedRoof) -> Iterator[str]:
    """Tell what is to be bought otherwise than was ordered."""
    was = {line.id: line for line in before.items.order}
    now = {line.id: line for line in after.items.order}
    for id_, line in now.items():
        by = line.bought - (was[id_].bought if id_ in was else 0.0)
        if by:
            much = f"{abs(by):g}" if line.unit == "each" else f"{abs(by):g} {line.unit}"
            fewer = "fewer" if line.unit == "each" else "less"
            yield f"order: {line.says}, {much} {'more' if by > 0 else fewer}"
    yield from (f"order: {was[i].says}, none" for i in was if i not in now)
