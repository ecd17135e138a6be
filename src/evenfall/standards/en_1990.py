"""EN 1990: partial factors, combination factors, and Annex D, values from tests.

None of it was read in the document; the factors k_n agree with the t distribution.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

SOURCE = "EN 1990"
_SECOND: Basis = "published, second-hand"

GAMMA_G = Cited(1.35, "-", SOURCE, "permanent actions, unfavourable", _SECOND)
GAMMA_Q = Cited(1.5, "-", SOURCE, "variable actions", _SECOND)

_UK = "combinations of a published UK calculation sheet"
PSI_0_ROOF = Cited(0.7, "-", SOURCE, f"UK psi_0 of imposed roof load; {_UK}", _SECOND)
PSI_0_SNOW = Cited(0.5, "-", SOURCE, f"UK psi_0 of snow up to 1000 m; {_UK}", _SECOND)
PSI_2_ROOF = Cited(0.0, "-", SOURCE, "psi_2 of imposed roof load, category H", _SECOND)


def _k(column: str, basis: Basis, *pairs: tuple[int, float]) -> tuple[tuple[int, Cited], ...]:
    where = f"Annex D, Table D1, {column}, n = "
    return tuple((n, Cited(k, "-", SOURCE, f"{where}{n}", basis)) for n, k in pairs)


K_N_UNKNOWN = _k(
    "V unknown",
    "from memory",
    (3, 3.37),
    (4, 2.63),
    (5, 2.33),
    (6, 2.18),
    (8, 2.00),
    (10, 1.92),
    (20, 1.76),
    (30, 1.73),
)
"""Number of tests, then k_n for the 5 % fractile, scatter not known beforehand."""

K_N_KNOWN = _k(
    "V known",
    "from memory",
    (1, 2.31),
    (2, 2.01),
    (3, 1.89),
    (4, 1.83),
    (5, 1.80),
    (6, 1.77),
    (8, 1.74),
    (10, 1.72),
    (20, 1.68),
    (30, 1.67),
)
K_N_INFINITE = Cited(1.64, "-", SOURCE, "Annex D, Table D1, n infinite", "from memory")

K_75 = tuple(
    (
        n,
        Cited(
            k,
            "-",
            "European technical assessments",
            f"5 % fractile at 75 % confidence, n = {n}, computed from the non-central t",
            "common practice",
        ),
    )
    for n, k in (
        (3, 3.152),
        (5, 2.463),
        (6, 2.336),
        (8, 2.188),
        (10, 2.104),
        (15, 1.991),
        (20, 1.932),
        (30, 1.869),
    )
)
