"""Heat: what the building regulations of each nation ask of a flat roof, and the mould limit.

England: Approved Document L volume 1 (2021 edition; its section 11 was read in a public copy).
Wales: Approved Document L volume 1 (2022). Scotland: Technical Handbook, domestic, 2022, section 6.
Northern Ireland: Technical Booklet F1 (2012, amended 2022). Ireland: Technical Guidance Document L
(2019/2022). Mould: BRE Information Paper IP 1/06.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

_SECOND: Basis = "published, second-hand"
_MEMORY: Basis = "from memory"


@dataclass(frozen=True, slots=True)
class RoofLimits:
    """What one nation asks of the U-value of a flat roof.

    Parameters
    ----------
    improved : Cited
        Highest U of a roof whose covering is renewed [W/(m2K)].
    threshold : Cited, optional
        U above which an existing roof must be improved, where the nation has one [W/(m2K)].
    new : Cited
        Highest U of a new or replaced roof [W/(m2K)].
    says : str
        What the document says around the numbers [-].
    element : Cited, optional
        Share of the roof above which renewing it brings the duty; none where not known here [-].
    envelope : Cited, optional
        Share of the outside of the building above which it does [-].
    in_all_cases : bool
        The threshold is no trigger: no renovated roof may be worse [-].
    """

    improved: Cited
    threshold: Cited | None
    new: Cited
    says: str = ""
    element: Cited | None = None
    envelope: Cited | None = None
    in_all_cases: bool = False


def _u(value: float, source: str, where: str, basis: Basis) -> Cited:
    return Cited(value, "W/(m2K)", source, where, basis)


_ENGLAND = "Approved Document L volume 1 (England), 2021 edition"
_WALES = "Approved Document L volume 1 (Wales), 2022"
_SCOTLAND = "Technical Handbook, domestic (Scotland), 2022"
_NORTH = "Technical Booklet F1 (Northern Ireland), 2012, amended 2022"
_IRELAND = "Technical Guidance Document L (Ireland), dwellings, 2019/2022"

TRIGGER_ELEMENT = Cited(0.5, "-", _ENGLAND, "11.3 (a), share of the single element", "published")
TRIGGER_ENVELOPE = Cited(0.25, "-", _ENGLAND, "11.3 (b), major renovation", "published")
TRIGGER_ELEMENT_WALES = Cited(0.5, "-", _WALES, "share of the element", _SECOND)
TRIGGER_ENVELOPE_WALES = Cited(0.25, "-", _WALES, "share of the envelope", _SECOND)
MAJOR_IRELAND = Cited(0.25, "-", _IRELAND, "major renovation, share of the envelope", _MEMORY)

ROOF_LIMITS: dict[str, RoofLimits] = {
    "England": RoofLimits(
        _u(0.16, _ENGLAND, "Table 4.3 column (b)", _SECOND),
        _u(0.35, _ENGLAND, "Table 4.3 column (a)", _MEMORY),
        _u(0.15, _ENGLAND, "Table 4.2", _SECOND),
        "Replacing the waterproof membrane renovates the element; 0.18 is the limit of the "
        "edition before. If the deck is replaced, some building control bodies ask for 0.15.",
        TRIGGER_ELEMENT,
        TRIGGER_ENVELOPE,
    ),
    "Wales": RoofLimits(
        _u(0.16, _WALES, "existing element, flat roof", _SECOND),
        _u(0.35, _WALES, "limiting value", _SECOND),
        _u(0.13, _WALES, "new element: deck stripped and replaced", _SECOND),
        "",
        TRIGGER_ELEMENT_WALES,
        TRIGGER_ENVELOPE_WALES,
    ),
    "Scotland": RoofLimits(
        _u(0.12, _SCOTLAND, "section 6, renovated roofs, where practical", _SECOND),
        _u(0.35, _SCOTLAND, "section 6, renovated roofs, in all cases", _SECOND),
        _u(0.12, _SCOTLAND, "section 6, extension or conversion", _SECOND),
        "0.12 where practical, and in all cases not worse than 0.35.",
        in_all_cases=True,
    ),
    "Northern Ireland": RoofLimits(
        _u(0.18, _NORTH, "improved flat roof", _MEMORY),
        _u(0.35, _NORTH, "retained or renovated element, threshold", _MEMORY),
        _u(0.16, _NORTH, "new element", _MEMORY),
        "Check before use.",
    ),
    "Ireland": RoofLimits(
        _u(0.25, _IRELAND, "material alteration, flat roof", _MEMORY),
        None,
        _u(0.16, _IRELAND, "new roof", _SECOND),
        "Check before use; a major renovation goes to the cost-optimal level.",
        envelope=MAJOR_IRELAND,
    ),
}

ROOFLIGHT = _u(2.2, _ENGLAND, "Table 4.2, rooflight", _SECOND)

PAYBACK_YEARS = Cited(15, "a", _ENGLAND, "4.13 and Appendix C, simple payback", _SECOND)

_BRE = "BRE IP 1/06"
F_CRSI: dict[str, Cited] = {
    "dwelling": Cited(0.75, "-", _BRE, "dwellings, residential buildings, schools", _SECOND),
    "office": Cited(0.50, "-", _BRE, "offices, retail", _MEMORY),
    "storage": Cited(0.30, "-", _BRE, "storage", _MEMORY),
    "kitchen": Cited(
        0.80, "-", _BRE, "sports halls, kitchens, canteens, unflued gas heating", _MEMORY
    ),
    "pool": Cited(0.90, "-", _BRE, "swimming pools, laundries, breweries", _MEMORY),
}
"""Critical temperature factor by use of the building: the least f_Rsi that avoids mould."""
