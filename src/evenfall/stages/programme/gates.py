"""The weather gates of each kind of work, from the limits of practice."""

from __future__ import annotations

from evenfall.model.gated import ANY, Gates
from evenfall.standards import programme_practice as practice

_STOP = float(practice.WIND_STOP) * practice.MILE_AN_HOUR
_HANDLE = float(practice.WIND_HANDLE) * practice.MILE_AN_HOUR
_COLDEST, _DEW = float(practice.BOND_COLDEST), float(practice.DEW_MARGIN)

DRY = Gates(dry=True, wind_m_s=_STOP)
"""Stripping and work on the open deck: no rain, and wind that a person stands in."""
HANDLED = Gates(dry=True, wind_m_s=_HANDLE)
"""Boards and rolls carried about: less wind."""
STUCK = Gates(dry=True, least_c=_COLDEST, dew_k=_DEW, wind_m_s=_STOP)
"""Stuck with solvent adhesive, primer or tape: dry, warm enough, clear of the dew point."""
LAID = Gates(dry=True, least_c=_COLDEST, dew_k=_DEW, wind_m_s=_HANDLE)
"""Rolls stuck down: both of the above."""
SPREAD = Gates(
    dry=True, least_c=_COLDEST, then_h=float(practice.STILL_COLD), dew_k=_DEW, wind_m_s=_HANDLE
)
"""The sheet in wet adhesive: no frost in the next night either."""
PAINTED = Gates(
    dry=True, least_c=float(practice.PAINT_COLDEST), dew_k=_DEW, wind_m_s=_STOP
)  # fmt: skip
"""Paint on fascia and soffit."""
GALE = Gates(wind_m_s=_STOP)
"""Work on ladders and scaffold in any weather but a gale."""

ALL = (DRY, HANDLED, STUCK, LAID, SPREAD, PAINTED, GALE, ANY)
"""Every gate that a piece of work may have: what a forecast is asked for."""
