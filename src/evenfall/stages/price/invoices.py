"""Invoices: stages of the quotation and signed extra work, to the penny."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding, Remedy
from evenfall.model.priced import Extras, InvoiceLine, InvoiceOf, Invoices, SlipOf
from evenfall.model.rates import Stage
from evenfall.model.recorded import Invoice
from evenfall.model.words import pounds
from evenfall.stages.price import vat as tax
from evenfall.stages.price.contract import vat_as_accepted
from evenfall.stages.price.price import percent_of, split
from evenfall.working import total

WHERE = "record.invoices"
WHY_EMPTY = "No invoice has been written yet."


def work(
    invoices: tuple[Invoice, ...],
    extras: Extras,
    vat_case: str,
    stages: tuple[Stage, ...],
) -> Invoices:
    """Make the invoices from the contract and the slips.

    A signed slip is billed with the first invoice of that day or later; the last stage is final.
    Where the rate of VAT is that of the accepted sums, a stage comes to what the quotation says, to
    the penny; where it has changed by the day of the invoice, or the declared case has, VAT is
    reckoned anew on the net sum.

    Parameters
    ----------
    invoices : tuple of Invoice
        Number, stage and day of each [-].
    extras : Extras
        The contract and the slips [-].
    vat_case : str
        The declared case [-].
    stages : tuple of Stage
        Stages of payment [-].

    Returns
    -------
    Invoices
        In the order of their days [pence].

    Raises
    ------
    InvalidInput
        A stage that the rates do not have, or one that is billed twice.
    """
    _checked(invoices, stages)
    made = tuple(_made(invoices, extras, vat_case, stages))
    return Invoices(made, "" if made else WHY_EMPTY, tuple(_findings(made, extras, stages)))


def _checked(invoices: tuple[Invoice, ...], stages: tuple[Stage, ...]) -> None:
    known, numbers = {s.name for s in stages}, set[str]()
    seen: dict[str, str] = {}
    for one in invoices:
        where = f"{WHERE}[{one.number}]"
        if one.stage not in known:
            names = ", ".join(s.name for s in stages)
            raise InvalidInput(f'stage "{one.stage}"', f"one of the rates: {names}", where=where)
        if one.stage in seen:
            raise InvalidInput(
                f"the stage {one.stage} again", f"each stage once; {seen[one.stage]} has it",
                where=where,
            )  # fmt: skip
        if one.number in numbers:
            raise InvalidInput(f"the number {one.number} again", "a number of its own", where=where)
        seen[one.stage] = one.number
        numbers.add(one.number)


def _made(
    invoices: tuple[Invoice, ...],
    extras: Extras,
    case: str,
    stages: tuple[Stage, ...],
) -> Iterator[InvoiceOf]:
    last = stages[-1].name
    ordered = sorted(enumerate(invoices), key=lambda pair: (pair[1].on, pair[0]))
    billed, left, before, moved = set[str](), {s.name for s in stages}, 0, 0
    for _, one in ordered:
        due = [s for s in extras.slips
               if s.id not in billed and s.signed_on is not None and s.signed_on <= one.on
               and s.net.value]  # fmt: skip
        stage = _stage(one.stage, one.on, extras, case, stages)
        lines = (stage, *(_extra(s, one.on, case) for s in due))
        left.discard(one.stage)
        billed |= {s.id for s in due}
        moved += stage.vat_pence - _accepted_vat(one.stage, extras, stages)
        moved += sum(x.vat_pence - round(s.vat.value) for x, s in zip(lines[1:], due, strict=True))
        to_come = sum(_stage(name, one.on, extras, case, stages).vat_pence
                      - _accepted_vat(name, extras, stages) for name in left)  # fmt: skip
        known = [s for s in extras.slips if s.signed_on is not None and s.signed_on <= one.on]
        account = round(extras.contract_total.value + sum(s.total.value for s in known))
        made = _invoice(one, lines, before, account, moved + to_come, one.stage == last)
        before += round(made.total.value)
        yield made


def _stage(
    name: str, on: date, extras: Extras, case: str, stages: tuple[Stage, ...]
) -> InvoiceLine:
    """Bill a stage; its share of the net price, and its VAT."""
    place = next(i for i, s in enumerate(stages) if s.name == name)
    net = split(stages, round(extras.contract_net.value))[place].pence
    percent = float(tax.rate(case, on))
    same = vat_as_accepted(extras.contract_net.value, extras.contract_total.value, percent)
    vat = _accepted_vat(name, extras, stages) if same else round(percent_of(net, percent))
    says = f"{stages[place].says}: {stages[place].percent:g} % of the price accepted"
    return InvoiceLine(f"stage:{name}", says, net, percent, vat)


def _accepted_vat(name: str, extras: Extras, stages: tuple[Stage, ...]) -> int:
    """Give the VAT of a stage by the accepted sums."""
    place = next(i for i, s in enumerate(stages) if s.name == name)
    net = split(stages, round(extras.contract_net.value))[place].pence
    return split(stages, round(extras.contract_total.value))[place].pence - net


def _extra(slip: SlipOf, on: date, case: str) -> InvoiceLine:
    percent = float(tax.rate(case, on))
    net = round(slip.net.value)
    says = f"{slip.says}, {slip.charged.value:.2f} {slip.unit}: {slip.where}"
    return InvoiceLine(slip.id, says, net, percent, round(percent_of(net, percent)))


def _invoice(
    one: Invoice, lines: tuple[InvoiceLine, ...], before: int, account: int, moved: int, final: bool
) -> InvoiceOf:
    net = total("Without VAT", "net", "pence", [(x.id, float(x.net_pence)) for x in lines])
    vat = total("VAT", "vat", "pence", [(x.id, float(x.vat_pence)) for x in lines])
    whole = total("To pay", "total", "pence", [("net", net), ("VAT", vat)])
    return InvoiceOf(
        one.number, one.stage, final, one.on, lines, net, vat, whole, before, account, moved
    )


def _findings(
    made: tuple[InvoiceOf, ...], extras: Extras, stages: tuple[Stage, ...]
) -> Iterator[Finding]:
    """Say what the final invoice leaves out."""
    final = next((m for m in made if m.final), None)
    if final is None:
        return
    for slip in extras.slips:
        if slip.signed_on is None and slip.net.value:
            says = f"The final invoice {final.number} leaves out {slip.name}, which nobody signed."
            yield Finding("extra-not-billed", slip.id, "note", says, WHERE, "measured",
                          remedy=Remedy("Have the slip signed, or let it go."))  # fmt: skip
    yield from _left_open(final, made, extras, stages)


def _left_open(
    final: InvoiceOf, made: tuple[InvoiceOf, ...], extras: Extras, stages: tuple[Stage, ...]
) -> Iterator[Finding]:
    """Say which stages and signed slips no invoice bills, and what they come to."""
    billed = {x.id for m in made for x in m.lines}
    parts = split(stages, round(extras.contract_total.value))
    left = [(f"the stage {p.name}", p.pence) for p in parts if f"stage:{p.name}" not in billed]
    left += [(f"the slip {s.name}", round(s.total.value)) for s in extras.slips
             if s.signed_on is not None and s.total.value and s.id not in billed]  # fmt: skip
    if not left:
        return
    names, whole = ", ".join(name for name, _ in left), sum(pence for _, pence in left)
    says = f"{pounds(whole)} is on no invoice, though {final.number} is the final one: {names}."
    cure = Remedy("Bill each stage, and date the final invoice not before the last signature.")
    yield Finding("account-open", "price", "agree", says, WHERE, "measured", whole / 100, 0.0,
                  "pounds", cure)  # fmt: skip
