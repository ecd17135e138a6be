"""A supplier's list held against the price book: what changed, and what cannot be taken."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation

from evenfall.app.price_book.entries import Entry
from evenfall.app.price_book.supplier import Offer

PENCE = 100
HUNDREDFOLD = (40.0, 250.0)
"""A price that is about a hundred times ours was written in the other coin."""
_NUMBER = re.compile(r"\d+(\.\d+)?")
_PACK = re.compile(r"(\d+(?:\.\d+)?)\s*[a-zA-Z²]*\.?")


@dataclass(frozen=True, slots=True)
class Changed:
    """One price that is another now."""

    entry: Entry
    pence: int

    @property
    def percent(self) -> float:
        """By how much it rose or fell [%]."""
        return (self.pence / self.entry.pence - 1) * 100


@dataclass
class Report:
    """What a list would do to the price book; sentences are told to the owner as they stand."""

    changed: list[Changed] = field(default_factory=list)
    jumped: list[Changed] = field(default_factory=list)
    same: int = 0
    doubled: list[str] = field(default_factory=list)
    vanished: list[str] = field(default_factory=list)
    packs: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)

    @property
    def clean(self) -> bool:
        """Whether every line could be taken and no price is missing."""
        return not (self.jumped or self.doubled or self.vanished or self.packs or self.wrong)


def compare(
    ours: Iterable[Entry],
    offers: Iterable[Offer],
    *,
    pounds: bool,
    links: Mapping[str, str] | None = None,
    jump_percent: float = 15.0,
) -> Report:
    """Hold a supplier's list against our prices.

    Parameters
    ----------
    ours : iterable of Entry
        Our prices [pence].
    offers : iterable of Offer
        His lines [-].
    pounds : bool
        Whether his prices are pounds, not pence [-].
    links : mapping, optional
        Our ids by his codes; without it his key is our id [-].
    jump_percent : float
        A larger change is told apart and not taken unasked [%].

    Returns
    -------
    Report
        What changed, jumped, doubled, vanished and cannot be taken [-].
    """
    by_key: dict[str, Entry] = {e.key: e for e in ours}
    by_id: dict[str, list[Entry]] = defaultdict(list)
    for entry in by_key.values():
        by_id[entry.id].append(entry)
    report, found = Report(), dict[str, list[tuple[Offer, int]]]()
    for offer in offers:
        _sort(offer, by_key, by_id, found, report, pounds, links)
    for key, lines in found.items():
        _settle(by_key[key], lines, report, jump_percent)
    _missing(by_key, found, report, links)
    return report


def _sort(
    offer: Offer, by_key: Mapping[str, Entry], by_id: Mapping[str, list[Entry]],
    found: dict[str, list[tuple[Offer, int]]], report: Report, pounds: bool,
    links: Mapping[str, str] | None,
) -> None:  # fmt: skip
    """Find which of our prices a line is for, or say why it is for none."""
    id_ = links.get(offer.key, "") if links is not None else offer.key
    if id_ not in by_key and id_ not in by_id:
        report.unknown.append(f"row {offer.row}: {offer.key} {offer.says}".rstrip())
        return
    entry = by_key.get(id_) or _of_pack(offer, by_id[id_], report)
    if entry is None or (entry.pack is None and not _single(offer, entry, report)):
        return
    if entry.pack is not None and id_ in by_key and not _of_pack(offer, [entry], report):
        return
    pence = _pence(offer, entry, report, pounds)
    if pence is not None:
        found.setdefault(entry.key, []).append((offer, pence))


def _of_pack(offer: Offer, packs: list[Entry], report: Report) -> Entry | None:
    """Pick the pack of ours that a line is for."""
    if not offer.pack:
        if len(packs) == 1:
            return packs[0]
        sizes = _sizes(packs)
        report.packs.append(
            f"row {offer.row}: {offer.key} names no pack; ours are {sizes}. Map his column."
        )
        return None
    size = _size(offer, report)
    if size is None:
        return None
    one = next((e for e in packs if e.pack == size), None)
    if one is None:
        report.packs.append(
            f"row {offer.row}: {offer.key} comes in a pack of {size:g}; ours: {_sizes(packs)}. "
            "Write the pack into the rates if you buy it."
        )
    return one


def _sizes(packs: list[Entry]) -> str:
    return ", ".join(f"{e.pack:g} {e.unit}" for e in packs)


def _size(offer: Offer, report: Report) -> float | None:
    pack = _PACK.fullmatch(offer.pack)
    if pack is None:
        report.packs.append(
            f'row {offer.row}: {offer.key}, "{offer.pack}" is more than one pack or none; one line '
            "for each pack is needed."
        )
        return None
    return float(pack[1])


def _single(offer: Offer, entry: Entry, report: Report) -> bool:
    """Tell whether a price that should be for one is for one."""
    if not offer.pack:
        return True
    size = _size(offer, report)
    if size is None:
        return False
    if size != 1:
        report.packs.append(
            f"row {offer.row}: {offer.key} is priced by the pack of {size:g}; ours is for one "
            f"{entry.unit}. Divide it, or take the column of single prices."
        )
    return size == 1


def _pence(offer: Offer, entry: Entry, report: Report, pounds: bool) -> int | None:
    """Read a price, or say what is wrong with it."""
    told = f"row {offer.row}: {offer.key}"
    text = offer.price.replace("£", "").replace(" ", "")
    if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", text):
        text = text.replace(",", "")
    if not _NUMBER.fullmatch(text):
        report.wrong.append(f'{told}: "{offer.price}" is no price; expected a number such as 12.50')
        return None
    try:
        number = Decimal(text)
    except InvalidOperation:  # pragma: no cover
        return None
    if number == 0:
        report.wrong.append(f"{told}: a price of 0; ask the supplier.")
        return None
    exact = number * PENCE if pounds else number
    if exact != exact.to_integral_value():
        coin = "a part of a penny" if pounds else "pounds where pence are due; map price_pounds"
        report.wrong.append(f"{told}: {offer.price} is {coin}")
        return None
    return _in_the_right_coin(int(exact), entry, report, pounds, f"{told}: {offer.price}")


def _in_the_right_coin(
    pence: int, entry: Entry, report: Report, pounds: bool, told: str
) -> int | None:
    low, high = HUNDREDFOLD
    if not pounds and low < entry.pence / pence < high:
        report.wrong.append(
            f"{told} pence, and ours is {entry.pence}: pounds where pence are due? "
            "Map price_pounds."
        )
        return None
    if pounds and low < pence / entry.pence < high:
        report.wrong.append(
            f"{told} pounds, and ours is {entry.pence / PENCE:.2f}: pence, not pounds? Map "
            "price_pence."
        )
        return None
    return pence


def _settle(
    entry: Entry, lines: list[tuple[Offer, int]], report: Report, jump_percent: float
) -> None:
    """Take the one price of a line, unless it stands twice at two prices."""
    prices = {pence for _, pence in lines}
    if len(lines) > 1:
        rows = " and ".join(str(offer.row) for offer, _ in lines)
        at = " and ".join(f"{p / PENCE:.2f}" for _, p in lines)
        taken = "taken once" if len(prices) == 1 else "not taken"
        report.doubled.append(f"{entry.key} stands in rows {rows} at {at}: {taken}")
    if len(prices) > 1:
        return
    changed = Changed(entry, prices.pop())
    if changed.pence == entry.pence:
        report.same += 1
    elif abs(changed.percent) > jump_percent:
        report.jumped.append(changed)
    else:
        report.changed.append(changed)


def _missing(
    by_key: Mapping[str, Entry], found: Mapping[str, object], report: Report,
    links: Mapping[str, str] | None,
) -> None:  # fmt: skip
    """Name what this supplier sold before and does not list: what is linked, or of one make."""
    if links is not None:
        sold = set(links.values())
        gone = [k for k, e in by_key.items() if (k in sold or e.id in sold) and k not in found]
    else:
        makes = {_make(by_key[k]) for k in found}
        gone = [k for k, e in by_key.items() if _make(e) in makes and k not in found]
    report.vanished += [f"{k}, {by_key[k].says}" for k in gone]


def _make(entry: Entry) -> str:
    """Name what belongs together: the thicknesses of a board, the packs of an item."""
    return ":".join(entry.id.split(":")[:2])
