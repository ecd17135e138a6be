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
    ("boards", "Board lines", "Faint lines where the boards meet under the sheet."),
    ("heads", "Fixing heads", "The heads of fixings, or of their plates, just to be seen."),
    ("dents", "Thumb dents", "Shallow dents of thumbs and knees; they go in the first warm weeks."),
    ("ridges", "Pack ridges", "Ridges from lying folded in the pack; warmth shrinks them back."),
    ("ripples", "Ripples", "Small ripples that lie flat and do not run into a seam."),
    ("dust", "Dust", "Chalky dust, and matt and shiny patches; rain evens them out."),
    ("puddle", "A puddle", f"After rain, less than {practice.WATER_DEPTH_MM:.0f} mm deep and gone "
     f"within {practice.WATER_HOURS:.0f} hours."),
    ("shoes", "No sharp shoes", "Not a mark but what makes one: heels, studs and grit cut rubber."),
)  # fmt: skip
"""Key of the picture, name, and what is normal about it."""

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
    f"You may cancel this contract within {practice.CANCEL_DAYS:.0f} days without giving a reason.",
    "The days count from the day after the contract is made; where goods are delivered to you, "
    "from the day after the last of them arrives.",
    "To cancel, tell us so clearly: by letter, email or telephone. You may use the form below but "
    "need not. It is enough that you send it before the time is over.",
    "We then pay back all that you have paid, the way you paid it and without a charge, at the "
    f"latest {practice.PAY_BACK_DAYS:.0f} days after we hear from you.",
)

START_EARLY = (
    "We start only when that time is over, unless you ask for it here in writing. If you ask, and "
    "cancel after we have started, you pay the part of the price for what has been done until we "
    "hear from you. Once all of it is done the right to cancel is over."
)

NOT_DESIGN = (
    "Measured and worked out with care by roofers. It is no structural design and no approval by "
    "building control. What the boarding is like is only known when the felt is off."
)
