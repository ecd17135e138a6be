"""When the council must be told, and by whom: Building Regulations 2010 (England) and guidance.

The sources on notification do not agree, so both are held here and both are shown.
"""

from __future__ import annotations

from evenfall.working import Cited

_PORTAL = "Planning Portal, guidance on roofs"
_SCHEME = "a competent-person scheme's answers"
_COUNCIL = "a council's page on building control"

HALF_OF_ROOF = Cited(50.0, "%", _PORTAL, "share of the roof that is renewed", "published")
QUARTER_OF_ENVELOPE = Cited(25.0, "%", _PORTAL, "share of the envelope renewed", "published")
QUARTER_OF_ROOF = Cited(
    25.0, "%", "an older text and several councils", "share of the roof", "published, second-hand"
)
HALF_BY_SCHEME = Cited(50.0, "%", _SCHEME, "reportable share of a roof", "published, second-hand")
HEAVIER = Cited(15.0, "%", _PORTAL, "covering heavier by this needs approval", "published")
HEAVIER_OR_LIGHTER = Cited(15.0, "%", _SCHEME, "plus or minus", "published, second-hand")
CERTIFICATE_DAYS = Cited(
    30.0, "days", "Building Regulations 2010, regulation 20", "certificate after completion",
    "published",
)  # fmt: skip
NOTICE_HOURS = Cited(48.0, "h", _COUNCIL, "notice before work starts", "published, second-hand")
