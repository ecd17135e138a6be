"""The summary: a worked job on one screen, in the words of the trade."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Console, Group
from rich.padding import Padding
from rich.table import Table as Grid
from rich.text import Text

from evenfall.app.alike import told_once
from evenfall.flow import WorkedJob
from evenfall.model.finding import Finding
from evenfall.model.standing import HeightAt, WindowAt
from evenfall.model.words import memory, near

MARKS = {"stop": "●", "agree": "○", "note": "–", "fine": "✓"}
"""Shape first, colour never alone: a full disc, a ring left open, a line, a tick."""
INKS = {"stop": "bold red", "agree": "red", "note": "", "fine": "dim"}
MM = 1000
TOLD = 4  # heights that the summary tells one by one
TO_BOOK = 3  # bookings named in the summary


def show(worked: WorkedJob, *, own_rates: bool, console: Console | None = None) -> None:
    """Print the summary.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    own_rates : bool
        Whether the firm's own rates were found [-].
    console : Console, optional
        Where to; standard output if left out [-].
    """
    out = console or Console(highlight=False)
    meta = worked.meta
    out.print(Text(f"{meta.title}", style="bold"))
    about = f"{meta.client}, {meta.address} · worked on {meta.on:%d %b %Y}"
    out.print(Text(about + (" · invented" if meta.invented else ""), style="dim"))
    if not own_rates:
        out.print(Text("Prices: invented ones; put your own in rates.yaml beside the job."))
    grid = Grid.grid(padding=(0, 2))
    grid.add_column(style="bold", no_wrap=True)
    grid.add_column()
    for head, text in rows(worked):
        grid.add_row(head, text)
    out.print(Padding(grid, (1, 0)))
    show_findings(worked, out, notes=False)


def rows(worked: WorkedJob) -> Iterator[tuple[str, str]]:
    """Give the lines of the summary, one subject each.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Yields
    ------
    tuple of str
        Head and text [-].
    """
    yield "Roof", _roof(worked)
    yield "Board", _board(worked)
    yield from _heights(worked)
    yield "Heat", _heat(worked)
    yield "Edges", worked.edges.governs
    yield "Moisture", _moisture(worked)
    yield "Fall", _fall(worked)
    yield "Water", _water(worked)
    yield "Wind", _wind(worked)
    yield "Joists", _joists(worked)
    yield "Order", _order(worked)
    yield "Off the roof", _strip(worked)
    yield "Days", _days(worked)
    yield from _to_book(worked)
    yield "Price", _price(worked)
    for option in worked.options.options:
        sign = "+" if option.more_pence >= 0 else "−"
        stops = f", {counted(option.stops, 'stop')}" if option.stops else ""
        more = f"{sign}{money(abs(option.more_pence))}"
        says = option.says.rstrip(".")
        days = counted(option.days, "day")
        yield "Option", f"{says}: {more}, {days}, {option.u:.2f} W/m²K{stops}"


def money(pence: float) -> str:
    """Print pence as pounds.

    Parameters
    ----------
    pence : float
        Money [pence].

    Returns
    -------
    str
        Pounds and pence [-].

    Examples
    --------
    >>> money(1206550)
    '£12,065.50'
    """
    return f"£{round(pence) / 100:,.2f}"


def _roof(w: WorkedJob) -> str:
    plan = w.plan
    return (
        f"{plan.gross.value:.1f} m² gross, {plan.net.value:.1f} m² under boards, "
        f"{plan.perimeter.value:.1f} m round; tapes good to {plan.good_to_mm:.0f} mm"
    )


def _board(w: WorkedJob) -> str:
    by = "proposed" if w.rise.chosen_by == "proposed" else "as chosen"
    return f"{w.rise.row.says} mm, {by}. {w.rise.governs} {w.rise.why}"


def _heights(w: WorkedJob) -> Iterator[tuple[str, str]]:
    """Tell the tightest items, the reverse, both ends against planning, and windows."""
    items, heights = w.heights.items, w.heights
    if not items:
        yield "Heights", "nothing stands beside the roof"
    for n, item in enumerate(items[:TOLD]):
        yield ("" if n else "Heights"), _height(item)
    if items[TOLD:]:
        least = items[TOLD].margin.value
        yield "", f"{counted(len(items) - TOLD, 'more item')}, {least:.0f} mm or more to spare"
    if heights.governs is not None:
        yield "", _reverse(w, heights.governs)
    yield "", _ends(w)
    for window in w.windows.windows:
        if window.held or window.treatment != "leave":
            yield "Window", _window(window)


def _height(item: HeightAt) -> str:
    word = "to spare" if item.margin.value >= 0 else "SHORT"
    stays = item.stays_mm
    where = f"{stays:.0f} mm above" if stays >= 0 else f"{-stays:.0f} mm BELOW"
    return (
        f"{item.name} ({item.kind.replace('_', ' ')}): {where} the roof, {item.required:.0f} asked "
        f"for, {abs(item.margin.value):.0f} {word}"
    )


def _reverse(w: WorkedJob, governs: HeightAt) -> str:
    room, sold = int(max(governs.room.value, 0)), governs.thickest_mm
    text = f"room for {room} mm of boards all over ({sold or 'none'} as sold), by {governs.name}"
    best = w.heights.turned[0] if w.heights.turned else None
    if best is not None and best.thickest_mm > governs.room.value + 1:
        text += f"; {int(best.thickest_mm)} if it fell to {best.side}"
    if w.rise.zone is not None and not w.case.job.design.thin_zones:
        text += f"; or {w.rise.zone.says}"
    return text


def _ends(w: WorkedJob) -> str:
    thin, thick = w.rules.rise_thin.value, w.rules.rise.value
    limit = thick + w.rules.planning_margin.value
    text = f"the edge rises {thin:.0f} mm at the thin end, {thick:.0f} at the thick end"
    if w.case.job.job.building != "house":
        return text
    return f"{text}; {limit:.0f} without planning permission"


def _window(window: WindowAt) -> str:
    if window.held:
        ways = "; ".join(w.says for w in window.ways[:2])
        return f"{window.name} HOLDS THE JOB: {ways}"
    cost = f", {money(window.cost.value)}" if window.cost is not None else ""
    return (
        f"{window.name}: {window.treatment.replace('_', ' ')}{cost}, {window.lead_days} days to get"
    )


def _heat(w: WorkedJob) -> str:
    target, before = w.rise.target_u, w.rise.before_u.value
    saved = w.heat.lost_before.value - w.heat.lost.value
    return (
        f"{near(w.heat.u.value, target)} W/m²K ({target:.2f} asked for, {before:.2f} before); "
        f"about {saved:.0f} kWh a year saved"
    )


def _moisture(w: WorkedJob) -> str:
    words = {
        "a": "no water gathers in the roof",
        "b": "water gathers in winter and dries",
        "c": "water gathers and does not dry",
    }
    return f"{words[w.moisture.verdict]}, as reckoned; the VCL is tonight's roof and the air seal"


def _fall(w: WorkedJob) -> str:
    fall = w.falls.finished.value
    ratio = f"1:{MM / fall:.0f}" if fall > 0 else "none"
    made = {
        "keep": "as it is", "shims": "packed to one plane", "firrings": "by firrings",
        "tapered": "by tapered boards",
    }  # fmt: skip
    return f"{ratio} to {w.falls.low_side}, {made[w.falls.kind]}. {w.ways.says}"


def _water(w: WorkedJob) -> str:
    if not w.water.checks:
        return "no gutter and no outlet"
    parts, new = [], {h.id: h for h in w.water.hung if h.new}
    for check in w.water.checks:
        name = check.id.replace(":", " ")
        if check.id in new:
            name += f", new, {new[check.id].width_mm:g} mm"
        spare = f"{check.spare_percent:.0f} % to spare" if check.spare_percent >= 0 else "too small"
        parts.append(f"{name}: {check.flow.value:.2f} l/s comes, {spare}")
    if w.water.blocked is not None:
        held = w.water.blocked
        parts.append(f"outlets blocked: {held.depth.value * MM:.0f} mm deep, to {held.stops_at}")
    return "; ".join(parts)


def _wind(w: WorkedJob) -> str:
    worst = min(w.wind.zones, key=lambda z: z.pressure.value)
    sunk = w.case.rates.screw.tube_mm
    tube = f" in tube washers of {sunk:.0f}" if sunk else ""
    lengths = " or ".join(str(band.length_mm) for band in w.wind.screws)
    hold = (
        f"{worst.per_board} screws a board at the corners, {lengths} mm long{tube}"
        if w.wind.screw_mm
        else f"beads {worst.bead_mm} mm apart at the corners"
    )
    kpa = -worst.pressure.value / 1000
    return f"pulls {kpa:.2f} kN/m² at the worst; {hold}"


def _joists(w: WorkedJob) -> str:
    worst = max(w.joists.cases, key=lambda c: c.worst[0])
    used, what = worst.worst
    after = w.joists.cases[-1]
    return (
        f"used to {used:.0%} in {what} at the worst ({worst.name}); "
        f"reckoned sag {after.sag.value:.0f} mm after ({after.limit_mm:.0f} allowed)"
    )


def _order(w: WorkedJob) -> str:
    rolls = sum(n for line in w.rolls.order for n, _, _ in line.packs)
    lines = (*w.boards.order, *w.sheet.order, *w.rolls.order, *w.lengths.order, *w.windows.order,
             *w.items.order)  # fmt: skip
    kinds = w.boards.tapered.kinds if w.boards.tapered else ()
    rows = f", {sum(k.bought for k in kinds)} tapered ({sum(k.bound for k in kinds)})"
    return (
        f"{w.boards.bought} boards ({w.boards.bound} at the very least){rows if kinds else ''}; "
        "sheet in "
        f"{w.sheet.chosen.says}, {w.sheet.mass.value:.0f} kg; {counted(rolls, 'roll')} of VCL; "
        f"{len(lines)} lines in all"
    )


def _strip(w: WorkedJob) -> str:
    skips = f"{w.strip.skips.value:.0f} × {w.strip.skip}"
    return f"{w.strip.mass.value:.0f} kg, {w.strip.volume.value:.1f} m³: {skips}"


def _days(w: WorkedJob) -> str:
    p = w.programme
    first, last, x = p.days[0].on, p.finish_on, p.wet_evening
    dry = all(cover != "open" for day in p.days for _, cover in day.evening.covers)
    evenings = "every evening closed" if dry else "NOT closed every evening, see below"
    wet = f" + {p.wet_reserve.value:.0f} in reserve for wet" if p.wet_reserve.value else ""
    chance = "" if x is None else f"; {about(x)} turns wet{memory(x)}"
    least = f" ({s.says})" if (s := w.tasks.search) and s.says else ""
    return (
        f"{len(p.days)}{least}{wet}, {first:%a %d %b} to {last:%a %d %b %Y}, "
        f"{counted(len(p.bays), 'bay')}; {evenings}{chance}"
    )


def _to_book(w: WorkedJob) -> Iterator[tuple[str, str]]:
    """Name the first things that must be ordered."""
    open_ = [b for b in w.programme.bookings if b.ordered_on is None and b.order_by]
    if open_:
        first = [f"{b.name.replace('-', ' ')} by {b.order_by:%a %d %b}" for b in open_[:TO_BOOK]]
        more = f" and {len(open_) - TO_BOOK} more" if len(open_) > TO_BOOK else ""
        yield "To book", ", ".join(first) + more


def counted(number: int, word: str) -> str:
    """Put a number before a word, with an s for more than one.

    Parameters
    ----------
    number : int
        How many [-].
    word : str
        Of what [-].

    Returns
    -------
    str
        Both [-].

    Examples
    --------
    >>> counted(1, "roll"), counted(3, "roll")
    ('1 roll', '3 rolls')
    """
    return f"{number} {word}{'s' * (number != 1)}"


def about(chance: float) -> str:
    """Say a chance without false precision.

    Parameters
    ----------
    chance : float
        From 0 to 1 [-].

    Returns
    -------
    str
        Such as "about 1 evening in 20" [-].

    Examples
    --------
    >>> about(0.048)
    'about 1 evening in 21'
    """
    return f"about 1 evening in {1 / chance:.0f}" if chance > 0 else "hardly an evening"


def _price(w: WorkedJob) -> str:
    p, stops = w.price, sum(f.level == "stop" for f in w.findings)
    ready = f"NOT READY TO SEND, {counted(stops, 'stop')} below: " if stops else ""
    return (
        f"{ready}{money(p.total.value)} with VAT ({money(p.net.value)} + {p.vat_percent:.0f} %), "
        f"{money(p.per_m2.value)} a m² before VAT; holds until {p.valid_until:%d %b %Y}"
    )


def show_findings(worked: WorkedJob, console: Console | None = None, notes: bool = True) -> None:
    """Print the findings, the heaviest first, each with what clears it.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    console : Console, optional
        Where to; standard output if left out [-].
    notes : bool
        Whether the notes are printed; else only what stops or must be agreed [-].
    """
    out = console or Console(highlight=False)
    told = [f for f in worked.findings if f.level != "fine"]
    fine = len(worked.findings) - len(told)
    count = {level: sum(f.level == level for f in told) for level in ("stop", "agree", "note")}
    head = f"{count['stop']} to stop for, {count['agree']} to agree, {count['note']} to note"
    out.print(Text(f"Findings: {head}; {fine} checked and fine", style="bold"))
    for finding in told_once(told):
        if notes or finding.level != "note":
            out.print(_finding(finding))
    if count["note"] and not notes:
        out.print(Text(" –  note   `evenfall check` with this job lists the notes.", style="dim"))


def _finding(finding: Finding) -> Group:
    mark = Text(f" {MARKS[finding.level]} ", style=INKS[finding.level])
    grid = Grid.grid(padding=(0, 1))
    grid.add_column(no_wrap=True)
    grid.add_column(no_wrap=True, min_width=6)
    grid.add_column()
    says = Text(finding.says)
    told = finding.says.lower()
    if finding.remedy is not None and finding.remedy.says.rstrip(".").lower() not in told:
        says.append(f" → {finding.remedy.says}", style="italic")
    grid.add_row(mark, Text(finding.level, style=INKS[finding.level]), says)
    return Group(grid)
