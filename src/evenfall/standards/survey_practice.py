"""How finely a roof is measured, when a reading is repeated, and when a blunder is believed.

Tape and level: what careful roofers do, no document behind it. Statistics: the risks that are
taken when a tape is called wrong, and the critical values that follow from them.
"""

from __future__ import annotations

from evenfall.working import Cited

_PRACTICE = "survey practice of careful roofers"

TAPE_RESOLUTION = Cited(0.005, "m", _PRACTICE, "sides and diagonals", "common practice")
STRING_LINE_RESOLUTION = Cited(0.010, "m", _PRACTICE, "offsets from a string", "common practice")
OPPOSITE_SIDES = Cited(0.020, "m", _PRACTICE, "repeat above this difference", "common practice")
MISCLOSURE = Cited(0.015, "m", _PRACTICE, "polygon does not close above", "planning seed")
TAPE_SIGMA = Cited(0.003, "m", _PRACTICE, "one reading, two people", "planning seed")
GROSS_MISCLOSURE = Cited(0.25, "m", _PRACTICE, "not a reading but a slip above", "planning seed")

LONG_SIDE = Cited(15.0, "m", _PRACTICE, "longer is seldom a side of a house", "planning seed")
LARGE_ROOF = Cited(80.0, "m2", _PRACTICE, "larger is seldom a roof of a house", "planning seed")

OFFSET_SIGMA = Cited(0.010, "m", _PRACTICE, "offset from a string line", "common practice")
RIGHT_ANGLE_SIGMA = Cited(0.004, "rad", _PRACTICE, "3-4-5 triangle", "planning seed")

LEVEL_RESOLUTION = Cited(0.002, "m", _PRACTICE, "spot levels", "common practice")
LEVEL_GRID = Cited(2.0, "m", _PRACTICE, "spacing of spot levels at most", "common practice")
STRAIGHT_EDGE = Cited(2.0, "m", _PRACTICE, "level or straight-edge", "common practice")
DISH = Cited(0.005, "m", _PRACTICE, "dish under a 2 m straight-edge above", "common practice")
STANDING_WATER = Cited(0.010, "m", _PRACTICE, "depth of a pond above", "common practice")

_BAARDA = "W. Baarda, A testing procedure for use in geodetic networks, 1968"

ALPHA_ALL = Cited(0.05, "-", _BAARDA, "risk of the test of all tapes together", "from memory")
ALPHA_ONE = Cited(0.001, "-", _BAARDA, "risk of the test of one tape, two-sided", "from memory")
POWER = Cited(0.80, "-", _BAARDA, "chance that a blunder is seen", "from memory")

CORRELATED = Cited(0.9, "-", _PRACTICE, "residuals alike: neither is named", "planning seed")

_NORMAL = "standard normal distribution"

W_CRITICAL = Cited(3.2905, "-", _NORMAL, "alpha 0.001 two-sided; computed", "published")
DELTA_0 = Cited(4.132, "-", _NORMAL, "alpha 0.001, power 80 %; computed", "published")
ONE_MORE = Cited(3.8415, "-", "chi-square distribution", "dof 1, 0.95; computed", "published")

_YARD = "international yard and pound agreement, 1959"

FOOT = Cited(0.3048, "m", _YARD, "one foot, exactly", "from memory")
INCH = Cited(0.0254, "m", _YARD, "one inch, exactly", "from memory")
