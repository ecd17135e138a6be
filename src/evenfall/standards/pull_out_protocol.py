"""Pull-out tests on the roof: the single-ply association's protocol (read in a public copy).

It asks for tests on every refurbishment before the work starts. The number per area is in the
protocol's tables, which were not seen: fewer than three tests say nothing about the scatter.
"""

from __future__ import annotations

from evenfall.working import Cited

TESTS_LEAST = Cited(
    3.0, "tests", "single-ply association, site pull-out test protocol; EN 1990 Table D1",
    "fewest tests from which a scatter can be told", "from memory",
)  # fmt: skip
RESISTANCE_LEAST = Cited(
    400.0, "N", "the trade handbook", "least design value of a screw in a timber deck",
    "from memory",
)  # fmt: skip
