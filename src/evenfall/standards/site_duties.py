"""The other duties of a roofing job: asbestos, height, neighbours, waste, wildlife, the void.

Each duty names its document and how far that was read. HSG33 and the height rules are quoted by
others; CDM 2015 and the Party Wall etc. Act 1996 were seen in summaries.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

_SECOND: Basis = "published, second-hand"


@dataclass(frozen=True, slots=True)
class Duty:
    """A duty without a number.

    Parameters
    ----------
    source : str
        Document and clause [-].
    basis : str
        How far it was read [-].
    """

    source: str
    basis: Basis


# asbestos
ASBESTOS = Duty("HSE, notifiable non-licensed work; task sheet a14", "published")
SAMPLE_BEFORE = Cited(
    2000.0, "year", "Evenfall, questions on the telephone", "older felt is sampled", "planning seed"
)
FELT_UNTIL = Cited(1992.0, "year", "a page on asbestos felt", "felt was made with it", _SECOND)
BANNED_FROM = Cited(1999.0, "year", "total ban", "sold no more", "from memory")

# height
_HSG33 = "HSG33, Health and safety in roof work"
RAIL_MM = Cited(950.0, "mm", _HSG33, "main rail at least", _SECOND)
RAIL_GAP_MM = Cited(470.0, "mm", _HSG33, "gap between rails at most", _SECOND)
NEAR_EDGE_M = Cited(2.0, "m", _HSG33, "full protection within", _SECOND)
FRAGILE = Duty(_HSG33, "published")
FRAGILE_DECKS = ("chipboard", "strawboard", "woodwool")
CONSTRUCTION_PLAN = Duty("CDM Regulations 2015", _SECOND)

SOLVENT = Duty("roofing practice: primer and contact adhesive", "from memory")

# neighbours
PARTY_WALL = Duty("Party Wall etc. Act 1996, section 2(2)(j)", _SECOND)
PARTY_WALL_MONTHS = Cited(2.0, "months", PARTY_WALL.source, "notice before the work", "from memory")

BOUNDARY = Duty("survey practice", "common practice")

# the rest
ROT = Duty("survey practice: a screwdriver in the timber", "from memory")
CABLES = Duty("roofing practice", "from memory")
GAS_VENTS = Duty("HSE, task sheet a14", "published")
WILDLIFE = Duty("Planning Portal, guidance on roofs", "published")
_WASTE = "two trade articles on waste"
TRANSFER_NOTE_YEARS = Cited(2.0, "years", _WASTE, "transfer note kept", _SECOND)
CONSIGNMENT_NOTE_YEARS = Cited(3.0, "years", _WASTE, "hazardous consignment note kept", _SECOND)
DETACHED_GARAGE = Duty("a competent-person scheme's answers", _SECOND)
"""Detached unheated garages are not reported."""
LISTED = Duty("planning pages on flats, listed buildings and conservation areas", _SECOND)
OTHER_NATION = Duty("Building Regulations of Wales, Scotland, Northern Ireland", "common practice")
