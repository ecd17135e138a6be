"""EN 1991-1-3 with the UK National Annex: snow.

The sign in the ground-snow formula was read in the corrigendum of 29 June 2007; the rest is
remembered, or read in calculation sheets.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

SOURCE = "EN 1991-1-3"
NATIONAL = "UK National Annex to BS EN 1991-1-3"
_MEMORY: Basis = "from memory"
_SECOND: Basis = "published, second-hand"

_NA_1 = "NA.2.8, (NA.1) as corrected 29 June 2007"
S_K_BASE = Cited(0.15, "kN/m2", NATIONAL, f"{_NA_1}, first term", _MEMORY)
S_K_ZONE = Cited(0.1, "kN/m2", NATIONAL, f"{_NA_1}, per zone", _MEMORY)
S_K_ZONE_BASE = Cited(0.05, "kN/m2", NATIONAL, f"{_NA_1}, zone term", _MEMORY)
S_K_ALTITUDE = Cited(100.0, "m", NATIONAL, f"{_NA_1}, the sign is minus", "published")
S_K_PER_ALTITUDE = Cited(525.0, "m3/kN", NATIONAL, f"{_NA_1}, divisor", _MEMORY)

MU_1 = Cited(0.8, "-", SOURCE, "Table 5.2, mu_1, pitch 0 to 30 degrees", _MEMORY)
PITCH_LIMIT_DEGREES = Cited(30.0, "degrees", SOURCE, "Table 5.2, mu_1 constant up to", _MEMORY)
C_E = Cited(1.0, "-", NATIONAL, "exposure coefficient in the UK", _MEMORY)
C_T = Cited(1.0, "-", NATIONAL, "thermal coefficient in the UK", _MEMORY)
C_ESL = Cited(2.0, "-", SOURCE, "4.3, exceptional snow load on the ground", "published")

SNOW_WEIGHT = Cited(2000.0, "N/m3", SOURCE, "5.3.6 and 6.2, weight density of snow", "published")
DRIFT_LEAST = Cited(5.0, "m", SOURCE, "5.3.6 and 6.2, shortest drift", "published")
DRIFT_MOST = Cited(15.0, "m", SOURCE, "5.3.6 and 6.2, longest drift", "published")

MU_W_LEAST = Cited(0.8, "-", SOURCE, "5.3.6, mu_w at least", "published")
MU_W_MOST = Cited(4.0, "-", SOURCE, "5.3.6, mu_w at most", "published")
ABUTTING_PITCH_DEGREES = Cited(15.0, "degrees", SOURCE, "5.3.6, mu_s = 0 up to", "published")

MU_2_LEAST = Cited(0.8, "-", SOURCE, "6.2, mu_2 at least", _SECOND)
MU_2_MOST = Cited(2.0, "-", SOURCE, "6.2, mu_2 at most", _SECOND)

PARAPET_MU_MOST = Cited(8.0, "-", SOURCE, "Annex B, B.4, parapet, mu at most", "published")
PARAPET_DRIFT_HEIGHTS = Cited(5.0, "-", SOURCE, "Annex B, B.4, l_s in heights", "published")
PARAPET_DRIFT_MOST = Cited(15.0, "m", SOURCE, "Annex B, B.4, l_s at most", "published")

OBSTRUCTION_MU_MOST = Cited(5.0, "-", SOURCE, "Annex B, obstruction, mu at most", _SECOND)
OBSTRUCTION_DRIFT_HEIGHTS = Cited(5.0, "-", SOURCE, "Annex B, obstruction, l_s in heights", _SECOND)
OBSTRUCTION_DRIFT_MOST = Cited(5.0, "m", SOURCE, "Annex B, obstruction, l_s at most", _SECOND)
TALL = Cited(10.0, "m", "Evenfall", "chimney, not asked: as high as matters", "planning seed")

ZONE_MOST = Cited(6, "-", NATIONAL, "map, highest snow zone", _MEMORY)
ALTITUDE_MOST = Cited(1500.0, "m", SOURCE, "1.1, sites up to", _MEMORY)

ABUTTING_MU_MOST = Cited(8.0, "-", SOURCE, "Annex B, B.3, taller house, mu at most", _MEMORY)
ABUTTING_DRIFT_HEIGHTS = Cited(5.0, "-", SOURCE, "Annex B, B.3, l_s in heights", _MEMORY)
ABUTTING_DRIFT_MOST = Cited(15.0, "m", SOURCE, "Annex B, B.3, l_s at most", _MEMORY)
HOUSE_DEPTH = Cited(8.0, "m", "Evenfall", "depth of the house behind a wall", "planning seed")
"""Where the job does not say how deep the taller house is."""
