"""The words of a quotation that do not hang on numbers: what is left out, what is normal, care."""

from __future__ import annotations

from evenfall.standards import quotation_practice as practice

LEFT_OUT = (
    "Painting and plastering inside, and anything under the ceiling.",
    "Joists and walls beyond the repairs named here; a structural engineer's work.",
    "Taking off asbestos, should the felt hold any.",
    "Electrical and gas work, lights in the ceiling, aerials and satellite dishes.",
    "Moving bats or birds, and the licence for it.",
    "Drains below the ground.",
)

HOUSE = (
    "Noise on every day of stripping, and dust and crumbs through cracks in the ceiling: cover "
    "what stands below, or let us cover it.",
    "We need a socket, water, and a place on the drive for the skip and the delivery.",
    "Windows beside the roof stay shut while we glue: the adhesives smell.",
    "Show us the stopcock, the fuse board and the alarm on the first morning.",
)

WEATHER = (
    "We open only as much of the roof as we close again the same day. Each evening the whole roof "
    "keeps the rain out: under the old felt, under the vapour control layer, or under the new "
    f"sheet. Nothing is glued in the wet, or when it is colder than {practice.COLD_C:.0f} °C, so "
    "that days may move; we tell you the evening before."
)

NORMAL = (
    "Faint lines where the boards meet, and the heads of fixings just to be seen.",
    "Chalky dust from the rubber, and matt and shiny patches; rain evens them out.",
    "Fold lines and thumb marks, which go in the first warm weeks.",
    "Small ripples that lie flat and do not run into a seam.",
    f"A shallow puddle after rain, less than {practice.WATER_DEPTH_MM:.0f} mm deep and gone within "
    f"{practice.WATER_HOURS:.0f} hours.",
)

NOT_NORMAL = (
    "Ring us for a blister that stays in warm weather, a crease that runs into a seam, a lifted "
    "edge, a soft place underfoot, or water that stands."
)

CARE = (
    "Clear leaves from gutter and outlets in spring and in autumn.",
    "Clean with water and a soft broom. No oil, petrol, solvent or bitumen.",
    "Soft shoes only, and a board under the feet of a ladder.",
    "Look over seams, trims and sealant once a year and after storms.",
    "Nobody screws or cuts through the sheet; ask us for any new pipe or cable.",
)

CANCEL = (
    f"You may cancel this contract without giving a reason within {practice.CANCEL_DAYS:.0f} days. "
    "The days count from the day after you sign; where goods are delivered to you they count from "
    "the day after the last of them arrives. Tell us in writing, by letter or email; you may use "
    "the form below but need not. It is enough that you send it before the time is over. We then "
    "pay back what you have paid, at the latest as many days after we hear from you."
)

START_EARLY = (
    "If you want us to start before that time is over, ask for it here in writing. Should you "
    "cancel after that, you pay for what has been done up to then."
)

NOT_DESIGN = (
    "Measured and worked out with care by roofers. It is no structural design and no approval by "
    "building control. What the boarding is like is only known when the felt is off."
)
