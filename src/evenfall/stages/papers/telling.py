"""Findings in the words that the client needs: what he is asked to agree, and what to know."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.model.words import near
from evenfall.stages.papers.words import sentence, spoken
from evenfall.stages.papers.worked import WorkedRoof

FIRM_ONLY = frozenset({
    "sheet-heavy", "vat-reason", "vat-registration", "vat-contested", "vat-turns",
    "vat-zero-ends", "vat-zero-over", "cancellation-unchecked", "bond-chain",
    "wind-without-charts", "board-rule", "wind-by-european-table", "pull-out-more-tests",
    "second-layer", "seams", "edge-protection", "fall-slight", "one-thick-layer", "fascia-deep",
    "board-glue-weak", "sheet-bond-weak", "screw-too-short", "screw-short-of-tapers", "tape-wrong",
    "joists-deck-off", "boards-down", "screws-crowded", "fire-proof-missing", "out-of-square",
    "timber-damp",
    "weight-lighter", "fire-terrace", "accepted-moved", "extra-without-photo", "extra-not-billed",
    "accepted-other-prices", "accepted-sums", "accepted-vat-moved", "account-open",
})  # fmt: skip
"""Matters between the firm, its makers and its desk; the client need not settle them."""


def _place(f: Finding) -> str:
    return spoken(f.subject.partition(":")[2])


def _u(f: Finding) -> str:
    """Say a U-value that misses its limit, so that both do not look the same."""
    assert f.value is not None
    assert f.limit is not None
    return near(f.value, f.limit)


CLIENT: dict[str, Callable[[Finding], str]] = {
    "prices-old": lambda _: (
        "The prices that this quotation is made from no longer hold. We ask for new ones first."
    ),
    "start-past": lambda _: (
        "The days of this quotation are over already. We give you new ones first."
    ),
    "planning-rise": lambda f: (
        f"The edge of the roof will stand about {f.value:.0f} mm higher than now. Above "
        f"{f.limit:.0f} mm planning permission may be needed: please let us ask the council with "
        "you before anything is ordered."
    ),
    "planning-highest": lambda f: (
        f"The roof will stand about {f.value:.0f} mm higher than now, and nothing of the house "
        "beside it is higher. Please let us ask the council with you whether it minds, before "
        "anything is ordered."
    ),
    "planning-flat": lambda f: (
        f"The roof of a flat may not be raised without planning permission, and this one rises "
        f"about {f.value:.0f} mm. The council and the owner of the building must agree first."
    ),
    "planning-garage": lambda f: (
        f"The garage will be {f.value:.2f} m high, and {f.limit:.1f} m is what may stand there "
        "without planning permission. The council should say in writing that it may."
    ),
    "planning-listed": lambda f: (
        "The building is listed or in a conservation area. The council must agree before the roof "
        "is changed."
    ),
    "notice-council": lambda f: (
        "Building control must be told. We give the building notice and meet the inspector; the "
        "fee is in the price. The completion certificate comes from the council: keep it for a "
        "later sale."
    ),
    "notice-own": lambda f: (
        "Building control must be told. We certify the work ourselves and you receive the "
        "certificate: keep it for a later sale."
    ),
    "notice-open": lambda f: (
        "Building control may have to be told: it hangs on how large the outside of the building "
        "is. We ask them before work starts."
    ),
    "notice-by-council": lambda f: (
        "Councils differ on whether so small a part of a roof must be reported. We ask yours "
        "before work starts."
    ),
    "upgrade-missed": lambda f: (
        f"The regulations ask for {f.limit:.2f} W/m²K and this roof, built as you wish it, lets "
        f"through {_u(f)}. Building control must agree the reason in writing."
    ),
    "upgrade-rest": lambda f: (
        "The rest of the same roof, which we do not renew, is asked to be as warm. Please tell us "
        "how it is insulated; building control may want to know."
    ),
    "notice-garage": lambda f: (
        "A detached garage without heating need not be reported to building control; one that is "
        "heated, or joined to the house, must be. Please tell us how it is used."
    ),
    "party-wall": lambda f: (
        f"{_place(f)} lies on the line to the neighbour. He must agree in writing, or be given "
        "notice in good time, before a flashing is cut into his wall."
    ),
    "joist-soft": lambda f: (
        "The ends of some joists are soft. How many need new timber is only seen when the roof is "
        "open; the rate for it is agreed in this quotation."
    ),
    "joist-sag": lambda f: (
        f"The joists sag {f.value:.0f} mm, more than the {f.limit:.0f} mm that we take without "
        "question. A structural engineer should look before the roof is covered. This quotation is "
        "no structural design."
    ),
    "heat-short": lambda f: (
        f"The roof will let through {_u(f)} W/m²K; the regulations ask for "
        f"{f.limit:.2f}. Nothing thicker fits, so building control must agree in writing."
    ),
    "heat-short-screws": lambda f: (
        f"With the screws that hold the boards down the roof lets through {f.value:.3f} W/m²K; the "
        f"regulations ask for {f.limit:.2f}. Building control must agree in writing, or we glue "
        "the boards."
    ),
    "screw-near-cables": lambda f: (
        "Cables lie so near under the boarding that the screws of the boards could reach them. "
        "They are found and moved, or the boards are glued."
    ),
    "outlet-alone": lambda f: (
        "The roof has one outlet. If leaves block it there must be another way out: please agree a "
        "second outlet or an overflow."
    ),
    "overflow-missing": lambda f: (
        "The roof is shut in by walls or parapets. An overflow through the parapet is needed, so "
        "that a blocked outlet shows itself outside and not in the room."
    ),
    "asbestos-untested": lambda f: (
        "Felt of this age may hold asbestos. We have a sample tested before anything is stripped; "
        "if asbestos is found, work waits and the price of taking it off is agreed first."
    ),
    "asbestos-found": lambda f: (
        "The felt holds asbestos. A surveyor says first how it may be taken off, and by whom; that "
        "is agreed and priced before work starts."
    ),
    "timber-wet": lambda f: (
        f"The timber is wet where we read “{_place(f)}” ({f.value:.0f} %). It is dried or replaced "
        "before it is covered; time and timber for that are agreed when it is open."
    ),
    "gutter-small": lambda f: (
        "The gutter is too small for the rain that this roof sheds. A wider one must be agreed."
    ),
    "upstand-tight": lambda f: (
        f"At the {_place(f)} there are only {f.value:.0f} mm to spare under the height that must "
        "stay. We measure again when the old felt is off."
    ),
    "dish": lambda f: (
        f"The old roof dips about {f.value:.0f} mm at the level “{_place(f)}”; we make it up under "
        "the boards."
    ),
    "cables-in-void": lambda f: (
        "Cables run under the roof. Please show us where they are switched off; downlights in the "
        "ceiling need covers against heat."
    ),
    "wildlife": lambda f: (
        "Bats or birds may live behind the old vents. If we find a live nest, work stops there by "
        "law."
    ),
    "flue-engineer": lambda f: (
        f"The {_place(f)} ends lower above the new roof than above the old. A registered "
        "engineer looks at it, and may fit a guard or raise it. Its air vents stay open."
    ),
    "second-system": lambda f: (
        "There is a second roof of felt under the first. It comes off as well and is in the price."
    ),
    "weight-heavier": lambda f: (
        "The new roof weighs more than the old one. Building control looks at that."
    ),
    "rules-of-england": lambda f: (
        "The limits named here are those of England. Your nation has its own; building control "
        "says which hold."
    ),
    "extra-unsigned": lambda f: (
        f"Extra work was found ({_place(f)}). We go on there when you have signed the slip for it."
    ),
    "waste-note": lambda f: (
        "The old felt goes away with a registered carrier; the transfer note is in your handover "
        "file."
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Told:
    """One matter as the client reads it; ``number`` is that of its chalk mark."""

    number: int
    code: str
    level: str
    says: str


def for_client(worked: WorkedRoof) -> tuple[Finding, ...]:
    """Pick what the client must know, the heaviest first.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Finding
        What stops the job, what he is asked to agree, and the notes that concern him [-].
    """
    return tuple(f for f in worked.findings if _concerns(f))


def _concerns(finding: Finding) -> bool:
    if finding.level == "fine" or finding.code in FIRM_ONLY:
        return False
    return finding.level in ("stop", "agree") or finding.code in CLIENT


def told(findings: Iterable[Finding]) -> tuple[Told, ...]:
    """Say findings in the client's words; one that has none of its own keeps the roofer's.

    Parameters
    ----------
    findings : iterable of Finding
        As `for_client` picks them [-].

    Returns
    -------
    tuple of Told
        Numbered from 1 [-].
    """
    return tuple(
        Told(n, f.code, f.level, sentence(CLIENT[f.code](f) if f.code in CLIENT else f.says))
        for n, f in enumerate(findings, 1)
    )
